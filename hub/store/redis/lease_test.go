//go:build unix

package redis

import (
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

func TestLease(t *testing.T) {
	t.Parallel()
	s := open(t, redistest.Start(t).URL())
	ctx := t.Context()
	_, err := s.Owner(ctx, "fox")
	wantErr(t, "owner of no game", err, store.ErrUnknownGame)
	a, err := s.Acquire(ctx, "fox", "hub-a", time.Minute)
	must(t, err)
	wantErr(t, "a batch without a token", s.Append(ctx, numbered("fox", 1, 1)), store.ErrFenced)
	must(t, s.Append(ctx, under(a, "fox", 1)))
	held, err := s.Acquire(ctx, "fox", "hub-b", time.Minute)
	wantErr(t, "acquiring an owned game", err, store.ErrOwned)
	if held.Hub != "hub-a" || held.Token != a.Token || held.Last != 1 || held.Left > time.Minute || held.Left < 50*time.Second {
		t.Errorf("it is held by %+v", held)
	}
	if o, err := s.Owner(ctx, "fox"); err != nil || o.Hub != "hub-a" || o.Last != 1 {
		t.Errorf("owner %+v, error %v", o, err)
	}
	again, err := s.Acquire(ctx, "fox", "hub-a", time.Minute) // hub-a started anew
	must(t, err)
	if again.Token <= a.Token {
		t.Errorf("token %d after %d", again.Token, a.Token)
	}
	wantErr(t, "its former self", s.Append(ctx, under(a, "fox", 2)), store.ErrFenced)
	must(t, s.Append(ctx, under(again, "fox", 2)))
	must(t, s.Release(ctx, "fox", a.Token)) // not the running one: left alone
	must(t, s.Append(ctx, under(again, "fox", 3)))
	for range 2 {
		must(t, s.Release(ctx, "fox", again.Token))
	}
	wantErr(t, "a batch after the release", s.Append(ctx, under(again, "fox", 4)), store.ErrFenced)
	wantErr(t, "renewing a released lease", s.Renew(ctx, "fox", again.Token, time.Minute), store.ErrFenced)
	b, err := s.Acquire(ctx, "fox", "hub-b", time.Minute)
	must(t, err)
	if b.Token <= again.Token || b.Last != 3 {
		t.Errorf("took over with %+v", b)
	}
	if n, err := readNumbered(ctx, s, "fox"); n != 3 || err != nil {
		t.Errorf("%d records, error %v", n, err)
	}
}

func TestLeaseExpires(t *testing.T) {
	t.Parallel()
	s := open(t, redistest.Start(t).URL())
	ctx := t.Context()
	const ttl = 3 * time.Second
	a, err := s.Acquire(ctx, "fox", "hub-a", ttl)
	must(t, err)
	for i := range 3 { // longer than the lease, but renewed
		time.Sleep(ttl / 2)
		must(t, s.Renew(ctx, "fox", a.Token, ttl))
		must(t, s.Append(ctx, under(a, "fox", i+1)))
	}
	var b store.Lease
	redistest.Eventually(t, "end of the lease", func() (err error) {
		b, err = s.Acquire(ctx, "fox", "hub-b", ttl)
		return err
	})
	if b.Token <= a.Token || b.Last != 3 {
		t.Errorf("took over with %+v after %+v", b, a)
	}
	wantErr(t, "the stale owner's batch", s.Append(ctx, under(a, "fox", 4)), store.ErrFenced)
	wantErr(t, "the stale owner's repeated batch", s.Append(ctx, under(a, "fox", 3)), store.ErrFenced)
	wantErr(t, "the stale owner's renewal", s.Renew(ctx, "fox", a.Token, ttl), store.ErrFenced)
	must(t, s.Append(ctx, under(b, "fox", 4)))
	time.Sleep(ttl)
	wantErr(t, "a batch after its lease, untaken", s.Append(ctx, under(b, "fox", 5)), store.ErrFenced)
	must(t, s.Delete(ctx, "fox"))
	c, err := s.Acquire(ctx, "fox", "hub-c", ttl)
	must(t, err)
	if c.Token <= b.Token || c.Last != 0 {
		t.Errorf("in a new game of the same id: %+v after %+v", c, b)
	}
}

// TestRepeatedAppend repeats a batch as after a lost answer.
func TestRepeatedAppend(t *testing.T) {
	t.Parallel()
	s := open(t, redistest.Start(t).URL())
	a, err := s.Acquire(t.Context(), "fox", "hub-a", time.Minute)
	must(t, err)
	b := numbered("fox", 1, 50)
	b.Token = a.Token
	for range 3 {
		must(t, s.Append(t.Context(), b))
	}
	wantErr(t, "a batch that follows nothing", s.Append(t.Context(), under(a, "fox", 60)), store.ErrLost)
	if n, err := readNumbered(t.Context(), s, "fox"); n != 50 || err != nil {
		t.Errorf("%d records, error %v", n, err)
	}
}

// TestManyHubsOneGame has hubs take a game from each other while they write:
// nothing accepted is lost, and no record is accepted of two.
func TestManyHubsOneGame(t *testing.T) {
	t.Parallel()
	s := open(t, redistest.Start(t).URL())
	const hubs, places = 3, 60
	var mu sync.Mutex
	accepted := map[int]string{}
	var wg sync.WaitGroup
	for h := range hubs {
		name := fmt.Sprint("hub-", h)
		wg.Go(func() {
			for {
				l, err := s.Acquire(t.Context(), "fox", name, 5*time.Millisecond)
				if errors.Is(err, store.ErrOwned) {
					time.Sleep(l.Left)
					continue
				}
				if err != nil {
					t.Error(err)
					return
				}
				for seq := int(l.Last) + 1; ; seq++ {
					if seq > places {
						return
					}
					err := s.Append(t.Context(), under(l, "fox", seq))
					if errors.Is(err, store.ErrFenced) {
						break
					}
					if err != nil {
						t.Errorf("%s, record %d: %v", name, seq, err)
						return
					}
					mu.Lock()
					if other := accepted[seq]; other != "" {
						t.Errorf("record %d: accepted of %s and of %s", seq, other, name)
					}
					accepted[seq] = name
					mu.Unlock()
					time.Sleep(time.Millisecond)
				}
			}
		})
	}
	wg.Wait()
	if n, err := readNumbered(t.Context(), s, "fox"); n != places || err != nil || len(accepted) != places {
		t.Errorf("%d records, %d accepted, error %v; want %d", n, len(accepted), err, places)
	}
}
