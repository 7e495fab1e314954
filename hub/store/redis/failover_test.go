//go:build unix

package redis

import (
	"errors"
	"testing"
	"time"

	"fieldsign/hub/lab/soak"
	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

// TestFailover kills the primary under its owner's hands.
func TestFailover(t *testing.T) {
	soak.Only(t)
	for name, lagging := range map[string]bool{"replicas follow": false, "replicas lag": true} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			set := redistest.StartWatched(t, redistest.Durable...)
			s := open(t, set.URL())
			l, err := s.Acquire(t.Context(), "fox", "hub-a", time.Minute)
			must(t, err)
			appendMany(t, s, l, 1, 100)
			if lagging {
				freezeReplicas(t, set)
			}
			appendMany(t, s, l, 101, 200)
			set.Primary().Kill()
			for _, replica := range set.Servers[1:] {
				replica.Resume()
			}
			last := goOn(t, s, l, 200)
			if lagging && last == 200 {
				t.Error("nothing is lost: the test doesn't show how that is noticed")
			}
			if n, err := readNumbered(t.Context(), s, "fox"); err != nil || int(n) != last+1 {
				t.Errorf("%d records, error %v; %d were accepted", n, err, last+1)
			}
		})
	}
}

func appendMany(t *testing.T, s *shared, l store.Lease, first, last int) {
	t.Helper()
	for seq := first; seq <= last; seq++ {
		must(t, s.Append(t.Context(), under(l, "fox", seq)))
	}
}

// freezeReplicas freezes them, and fills what lies between the primary and
// them, so that nothing written from now on reaches them.
func freezeReplicas(t *testing.T, set *redistest.Watched) {
	t.Helper()
	for _, replica := range set.Servers[1:] {
		replica.Pause()
	}
	s := open(t, set.URL())
	for range 40 {
		must(t, s.client.Set(t.Context(), "filler", make([]byte, 1<<20), 0).Err())
	}
}

// goOn appends what follows the last record as soon as that is accepted, and
// returns how many were left of those before.
func goOn(t *testing.T, s *shared, l store.Lease, last int) int {
	t.Helper()
	begun := time.Now()
	redistest.Eventually(t, "a new primary", func() error {
		err := s.Append(t.Context(), under(l, "fox", last+1))
		if !errors.Is(err, store.ErrFenced) && !errors.Is(err, store.ErrLost) {
			return err
		}
		// Told that something is wrong, the owner asks what is left.
		l, err = s.Acquire(t.Context(), "fox", "hub-a", time.Minute)
		if err != nil {
			return err
		}
		t.Logf("%d of %d records lost, and noticed", last-int(l.Last), last)
		last = int(l.Last)
		return s.Append(t.Context(), under(l, "fox", last+1))
	})
	t.Logf("writable after %v", time.Since(begun).Round(10*time.Millisecond))
	return last
}

// TestStalePrimary freezes the primary until it was replaced. For some ten
// seconds after it wakes, nobody tells it so.
func TestStalePrimary(t *testing.T) {
	soak.Only(t)
	t.Run("lease", func(t *testing.T) {
		t.Parallel()
		_, stale, a := stalePrimary(t)
		for range 20 {
			wantRefused(t, "a batch under the lease it remembers", stale.Append(t.Context(), under(a, "fox", 2)))
		}
	})
	t.Run("min-replicas", func(t *testing.T) {
		t.Parallel()
		set, stale, _ := stalePrimary(t, "--min-replicas-to-write", "1", "--min-replicas-max-lag", "2")
		s := open(t, set.URL())
		d, err := s.Durability(t.Context())
		if err != nil || d.MinReplicas != 1 || d.Replicas < 1 {
			t.Errorf("durability %+v, error %v", d, err)
		}
		for range 20 {
			_, err := stale.Acquire(t.Context(), "fox", "hub-a", time.Second)
			wantErr(t, "a new lease", err, store.ErrUnavailable)
			time.Sleep(10 * time.Millisecond)
		}
	})
}

// stalePrimary returns a set whose first primary has just woken, that one's
// store, and the lease that was taken before it froze.
func stalePrimary(t *testing.T, settings ...string) (set *redistest.Watched, stale *shared, a store.Lease) {
	t.Helper()
	set = redistest.StartWatched(t, settings...)
	s := open(t, set.URL())
	ctx := t.Context()
	a, err := s.Acquire(ctx, "fox", "hub-a", time.Second)
	must(t, err)
	must(t, s.Append(ctx, under(a, "fox", 1)))
	old := set.Primary()
	old.AwaitFollowers(2)
	stale = beside(t, s, old.URL()) // hub-a knows no other server
	old.Pause()
	var b store.Lease
	redistest.Eventually(t, "take-over", func() (err error) {
		b, err = s.Acquire(ctx, "fox", "hub-b", time.Minute)
		return err
	})
	if b.Token <= a.Token || b.Last != 1 {
		t.Errorf("took over with %+v after %+v", b, a)
	}
	must(t, s.Append(ctx, under(b, "fox", 2)))
	old.Resume()
	return set, stale, a
}

func wantRefused(t *testing.T, what string, err error) {
	t.Helper()
	if !errors.Is(err, store.ErrFenced) && !errors.Is(err, store.ErrUnavailable) {
		t.Errorf("%s: %v, want a refusal", what, err)
	}
}

// TestClusterFailover kills the server of a game in a cluster with replicas.
func TestClusterFailover(t *testing.T) {
	t.Parallel()
	cluster := redistest.StartCluster(t, 1)
	s := open(t, cluster.URL())
	must(t, s.Append(t.Context(), numbered("fox", 1, 100)))
	owner := cluster.Owner(s.keysOf("fox").log())
	owner.AwaitFollowers(1)
	owner.Kill()
	begun := time.Now()
	redistest.Eventually(t, "write that is accepted", func() error { return s.Append(t.Context(), numbered("fox", 101, 1)) })
	t.Logf("writable after %v", time.Since(begun).Round(10*time.Millisecond))
	if n, err := readNumbered(t.Context(), s, "fox"); n != 101 || err != nil {
		t.Errorf("%d records, error %v", n, err)
	}
}
