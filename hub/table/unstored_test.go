package table

import (
	"context"
	"errors"
	"slices"
	"testing"
	"testing/synctest"
	"time"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/hub/store/memory"
	"fieldsign/hub/wire"
)

// gated is a store whose writes, once armed, wait to be told how they end.
type gated struct {
	store.Store
	armed bool
	ends  chan error
}

func (s *gated) Append(ctx context.Context, b store.Batch) error {
	if s.armed {
		if err := <-s.ends; err != nil {
			return err
		}
	}
	return s.Store.Append(ctx, b)
}

// Who comes while a reveal is being stored is not shown the key before it is.
// Here it never is.
func TestNothingUnstoredIsShown(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := &gated{Store: memory.New(), ends: make(chan error)}
		table := house(t, s).open(t)
		host, a := sit(t, table, `{"type":"host","key":"`+hostKey+`"}`), sit(t, table, `{"type":"join","name":"Wrens"}`)
		host.do("done", `"type":"do","action":"next"`)
		a.is(game.Asking, false)
		s.armed = true
		host.say(`{"type":"do","id":"r","action":"rename","team":"t1","name":"Robins"}`)
		host.say(`{"type":"do","id":"s","action":"skip"}`) // what comes while that is stored is decided together
		board := sit(t, table, `{"type":"board"}`)
		console := sit(t, table, `{"type":"host","key":"`+hostKey+`","takeOver":true}`)
		s.ends <- nil
		synctest.Wait() // the reveal is at the store
		s.ends <- errors.New("the disk is gone")
		for _, c := range []*seat{board, console} {
			c.is(game.Asking, false)
		}
		if !slices.ContainsFunc(host.frames(), func(f frame) bool { return f.ID == "s" && f.Code == "not_stored" }) {
			t.Errorf("the reveal is not refused as not stored: %+v", host.frames())
		}
		s.armed = false
	})
}

// Of commands that belong together none has effect where one is refused.
func TestAListIsStoredWholeOrNotAtAll(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		table := house(t, memory.New()).open(t)
		before, _ := table.Stored()
		join := game.Command{Type: game.Join, By: "hub", Name: "Wrens"}
		if err := table.Do(join, join); err == nil {
			t.Error("two teams have one name")
		}
		if after, ok := table.Stored(); !ok || after.Seq != before.Seq {
			t.Errorf("%d events are stored, want %d", after.Seq, before.Seq)
		}
	})
}

// Who could not be heard while the table stood still has not been silent; who
// says nothing after that either is sent away.
func TestNobodyIsSilentWhileTheTableStands(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := &gated{Store: memory.New(), ends: make(chan error)}
		table := house(t, s).open(t)
		host := sit(t, table, `{"type":"host","key":"`+hostKey+`"}`)
		sit(t, table, `{"type":"join","name":"Otters"}`)
		late, mute := come(t, table), come(t, table)
		s.armed = true
		host.say(`{"type":"do","id":"n","action":"next"}`)
		time.Sleep(time.Minute)
		s.armed = false
		s.ends <- nil
		synctest.Wait()
		late.say(`{"type":"join","name":"Wrens"}`)
		late.is(game.Revealed, false) // its time is over meanwhile
		time.Sleep(3 * time.Second)
		if bye := late.goodbye(); bye.Code != 0 {
			t.Errorf("who was not heard was sent away: %+v", bye)
		}
		if got := mute.goodbye().Code; got != wire.CloseNameless {
			t.Errorf("who said nothing is told %d, want %d", got, wire.CloseNameless)
		}
	})
}
