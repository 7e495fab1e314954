package table

import (
	"context"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/game"
	"fieldsign/hub/audience"
	"fieldsign/hub/journal"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/store/memory"
	"fieldsign/hub/wire"
)

// alone is a store that hubs could share, and that one hub has to itself. While it
// is broken, it can't be reached.
type alone struct {
	*memory.Store
	token  uint64
	broken atomic.Bool
}

func (s *alone) Acquire(_ context.Context, _, hub string, ttl time.Duration) (store.Lease, error) {
	if s.broken.Load() {
		return store.Lease{}, store.ErrUnavailable
	}
	s.token++
	return store.Lease{Hub: hub, Token: s.token, Left: ttl}, nil
}

func (s *alone) Renew(context.Context, string, uint64, time.Duration) error {
	if s.broken.Load() {
		return store.ErrUnavailable
	}
	return nil
}

func (s *alone) Release(context.Context, string, uint64) error              { return nil }
func (s *alone) Owner(context.Context, string) (store.Lease, error)         { return store.Lease{}, nil }
func (s *alone) PhotoChanges(context.Context) <-chan struct{}               { return nil }
func (s *alone) Durability(context.Context) (d store.Durability, err error) { return d, nil }

func (s *alone) Append(ctx context.Context, b store.Batch) error {
	if s.broken.Load() {
		return store.ErrUnavailable
	}
	return s.Store.Append(ctx, b)
}

// loseTheEnd is a server that comes back without a game's last event.
func (s *alone) loseTheEnd(t *testing.T) {
	var log []store.Record
	if err := s.Read(t.Context(), code, 0, func(r store.Record) error { log = append(log, r); return nil }); err != nil {
		t.Fatal(err)
	}
	s.Store = memory.New()
	if err := s.Append(t.Context(), store.Batch{Game: code, Records: log[:len(log)-1]}); err != nil {
		t.Fatal(err)
	}
}

// shared is a game under way at a table whose store hubs could share.
func shared(t *testing.T) (*alone, *Table, *seat) {
	s := &alone{Store: memory.New()}
	h := house(t, s)
	h.Leases = &Leases{Store: s, Hub: "http://hub.example", Length: 6 * time.Second}
	table := h.open(t)
	host := sit(t, table, `{"type":"host","key":"`+hostKey+`"}`)
	sit(t, table, `{"type":"join","name":"Wrens"}`)
	host.do("done", `"type":"do","action":"next"`)
	return s, table, host
}

// While the store is gone, the game stands still and says why; then it goes on.
func TestAStoreThatIsGoneForAWhile(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, _, host := shared(t)
		time.Sleep(10 * time.Second)
		before := host.is(game.Asking, false)
		s.broken.Store(true)
		host.do("not_stored", `"type":"do","action":"close"`)
		if f := host.is(game.Asking, true); f.Notice != storeGone || f.Left > before.Left {
			t.Errorf("while the store is gone: %+v", f)
		}
		left := host.last("state").Left
		time.Sleep(20 * time.Second)
		s.broken.Store(false)
		time.Sleep(time.Second)
		if f := host.is(game.Asking, false); f.Left < left-1000 {
			t.Errorf("%d ms were left, then %d: the clock did not stand still", left, f.Left)
		}
		host.do("done", `"type":"do","action":"close"`)
	})
}

// A store that stays away has the table end, so that phones look for another hub.
func TestAStoreThatStaysAway(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, table, host := shared(t)
		s.broken.Store(true)
		time.Sleep(longestSuspension + 10*time.Second)
		<-table.audience.Ended
		if host.goodbye() != wire.Stopping {
			t.Errorf("the host was told %+v", host.goodbye())
		}
	})
}

// A host who resumes just before a loss is noticed has not seen the notice: it
// stays until they have.
func TestALossIsSeenFirst(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, table, host := shared(t)
		host.do("done", `"type":"do","action":"pause"`)
		s.loseTheEnd(t)
		table.audience.Turn(func() {
			waiting := &socket.Frame{Kind: websocket.TextMessage, Data: []byte(`{"type":"do","id":"x","action":"resume"}`)}
			table.audience.Inbox <- audience.Message{Client: table.audience.Console, Heard: socket.Heard{Frame: waiting, Frames: 1, At: table.house.Clock()}}
			fresh := journal.New(code, s, table.house.Clock)
			if err := fresh.Load(t.Context()); err != nil {
				t.Error(err)
			}
			table.resume(table.journal.Token, table.house.Clock(), fresh)
		})
		<-table.audience.Ended
		if host.goodbye() != wire.Stopping {
			t.Errorf("the host was told %+v", host.goodbye())
		}
		again := New(table.house, code)
		if err := again.Load(); err != nil || !again.state.Paused || again.state.Notice != storeLost {
			t.Errorf("what is stored is paused: %v, with the notice %q (%v)", again.state.Paused, again.state.Notice, err)
		}
	})
}

// A loss shows with the next write, and has everyone come back.
func TestALossShowsWithAWrite(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, table, host := shared(t)
		host.do("done", `"type":"do","action":"pause"`)
		s.loseTheEnd(t)
		host.do("not_stored", `"type":"do","action":"resume"`)
		<-table.audience.Ended
		if host.goodbye() != wire.Stopping {
			t.Errorf("the host was told %+v", host.goodbye())
		}
	})
}
