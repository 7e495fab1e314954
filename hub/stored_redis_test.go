//go:build unix

package hub_test

import (
	"context"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

// On Redis, too, a game that doesn't fit is answered for as often as it is
// asked for, and the others play.
func TestGamesThatDoNotFitAreSetAsideOnRedis(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	m := openMember(t, t.Context(), server.URL())
	storeUnfit(t, m.held)
	code, err := m.hub.CreateGame(m.ctx)
	if err != nil {
		t.Fatal(err)
	}
	m.code = code
	m.join("Wrens")
	m.expectAside(t)
	m.join("Otters")
}

// tripped is a store in which the first look for an owner breaks off.
type tripped struct {
	store.Shared
	reached, goOn chan struct{}
	once          atomic.Bool
}

func (s *tripped) Owner(ctx context.Context, game string) (store.Lease, error) {
	if s.once.CompareAndSwap(false, true) {
		close(s.reached)
		<-s.goOn
		panic("the store's adapter has a fault")
	}
	return s.Shared.Owner(ctx, game)
}

// Who waits for an attempt to take a game over is never left waiting.
func TestNobodyIsLeftWaitingForAGame(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	trip := &tripped{reached: make(chan struct{}), goOn: make(chan struct{})}
	m := openMember(t, t.Context(), server.URL(), func(s store.Shared) store.Store { trip.Shared = s; return trip })
	ended := make(chan int)
	ask := func() {
		status, _ := m.asked("/find?code=some-game-11")
		ended <- status
	}
	go ask() // its connection is cut: the handler breaks off
	<-trip.reached
	for range 5 {
		go ask()
	}
	close(trip.goOn)
	for range 6 {
		select {
		case <-ended:
		case <-time.After(time.Minute):
			t.Fatal("a request hangs")
		}
	}
}

// asked is the status of a request, or 0 where there is no answer.
func (p *place) asked(path string) (status int, err error) {
	r, err := http.Get(p.url + path)
	if err != nil {
		return 0, err
	}
	return r.StatusCode, r.Body.Close()
}

// A hub whose Redis answers and takes no write is not ready, and says why.
func TestReadinessSaysWhyNothingIsStored(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	m := openMember(t, t.Context(), server.URL())
	for _, c := range []struct{ setting, bad, good, want string }{
		{"maxmemory", "1", "0", "memory is full"},
		{"min-replicas-to-write", "1", "0", "replicas"},
	} {
		server.Do("CONFIG", "SET", c.setting, c.bad)
		if status, said := m.get("/readyz"); status != http.StatusServiceUnavailable || !strings.Contains(said, c.want) {
			t.Errorf("%s: %d %s", c.setting, status, said)
		}
		server.Do("CONFIG", "SET", c.setting, c.good)
		if status, said := m.get("/readyz"); status != http.StatusOK {
			t.Errorf("%s set right: %d %s", c.setting, status, said)
		}
	}
}

// Who plays while the store is emptied is not told that all is well, and then
// that the game is gone.
func TestAStoreThatIsEmptiedUnderWay(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	m := openMember(t, t.Context(), server.URL())
	code, err := m.hub.CreateGame(m.ctx)
	if err != nil {
		t.Fatal(err)
	}
	m.code = code
	phone, host := m.join("Wrens"), m.host()
	host.do(map[string]any{"type": "do", "action": "next"})
	phone.phase("asking")
	server.Do("FLUSHALL")
	host.send(map[string]any{"type": "do", "action": "pause", "id": "x"})
	odd := false
	for {
		f, err := phone.conn.Receive(m.ctx)
		if err != nil {
			if bot.CloseCode(err) != 4100 || !odd {
				t.Errorf("the phone is sent away with %v; told of the store is %v", err, odd)
			}
			return
		}
		if f.Notice != "" {
			odd = strings.Contains(f.Notice, "no longer has this game")
			if !odd {
				t.Errorf("the phone is told %q", f.Notice)
			}
		}
	}
}
