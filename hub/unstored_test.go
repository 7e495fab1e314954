package hub_test

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/memory"
)

// gated is a store whose writes wait to be told how they end.
type gated struct {
	store.Store
	armed   atomic.Bool
	entered chan struct{}
	ends    chan error
}

func (s *gated) Append(ctx context.Context, b store.Batch) error {
	if s.armed.Load() {
		s.entered <- struct{}{}
		if err := <-s.ends; err != nil {
			return err
		}
	}
	return s.Store.Append(ctx, b)
}

// Who comes while a reveal is being stored is not shown the key before it is.
// Here it never is.
func TestNothingUnstoredIsShown(t *testing.T) {
	t.Parallel()
	s := &gated{Store: memory.New(), entered: make(chan struct{}), ends: make(chan error)}
	p := openOn(t, s)
	t.Cleanup(p.stop)
	host, a := p.host(), p.join("Wrens")
	host.act("plan", "plan", plan(round("buzz", 1)))
	host.act("next")
	a.phase("asking")
	s.armed.Store(true)
	host.send(map[string]any{"type": "do", "id": "r", "action": "rename", "team": "t1", "name": "Robins"})
	<-s.entered // what comes now is decided together
	host.send(map[string]any{"type": "do", "id": "s", "action": "skip"})
	time.Sleep(100 * time.Millisecond)
	board := p.dial(map[string]any{"type": "board"})
	console := p.dial(map[string]any{"type": "host", "key": hostKey, "takeOver": true})
	time.Sleep(200 * time.Millisecond)
	s.ends <- nil
	<-s.entered
	s.armed.Store(false)
	s.ends <- errors.New("the disk is gone")
	for _, c := range []*client{board, console} {
		if f := c.until("a state", func(f bot.Frame) bool { return f.Type == "state" }); f.Phase != "asking" {
			t.Errorf("shown before it was stored: %s", f.Raw)
		}
	}
	if f := host.until("an answer", func(f bot.Frame) bool { return f.ID == "s" }); f.Code != "not_stored" {
		t.Errorf("the reveal got %s", f.Raw)
	}
}
