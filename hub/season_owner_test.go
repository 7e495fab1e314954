//go:build unix

package hub_test

import (
	"context"
	"sync/atomic"
	"testing"

	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

// mute keeps a hub from telling a season how a game ended, as if it had died
// between the two.
type mute struct {
	store.Shared
	on    atomic.Bool
	heard chan struct{}
}

func (s *mute) AddResult(ctx context.Context, season string, r store.Result) error {
	if s.on.Load() && !r.Due {
		close(s.heard)
		<-ctx.Done()
		return ctx.Err()
	}
	return s.Shared.AddResult(ctx, season, r)
}

// A game whose hub died as it ended is counted by the next hub that is asked,
// and once, whoever tells of it then.
func TestAGameCountsOnceAfterATakeOver(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t, redistest.Durable...).URL()
	silent := &mute{heard: make(chan struct{})}
	dying := openMember(t, ctx, address, func(s store.Shared) store.Store { silent.Shared = s; return silent })
	next := openMember(t, ctx, address)
	silent.on.Store(true)
	dying.playSeason("2026", []string{"Wrens", "Otters"}, func(i int) int { return i })
	<-silent.heard
	results, err := next.store.Results(ctx, "2026")
	if err != nil || len(results) != 1 || !results[0].Due {
		t.Fatalf("the game is to be due: %+v, error %v", results, err)
	}
	code := dying.code
	dying.kill()
	next.code = code
	if got := points(next.counted("2026", 1)); got != "1 Otters 100 1/2 1; 2 Wrens 0 0/2 1" {
		t.Errorf("got %s", got)
	}
	host := next.back(asHost) // takes the ended game over, and tells of it too
	third := openMember(t, ctx, address)
	if got := points(third.counted("2026", 1)); got != "1 Otters 100 1/2 1; 2 Wrens 0 0/2 1" {
		t.Errorf("got %s", got)
	}
	host.conn.Drop()
	table, err := third.store.Leaders(ctx, "2026", 10)
	if err != nil || len(table) != 2 || table[0].Games != 1 {
		t.Errorf("the sorted sets: %+v, error %v", table, err)
	}
}
