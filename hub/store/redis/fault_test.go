//go:build unix

package redis

import (
	"context"
	"errors"
	"math/rand/v2"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"fieldsign/hub/lab/soak"
	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

// TestUnavailable has each call end in time and say what is the matter.
func TestUnavailable(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t, redistest.Durable...)
	s := open(t, server.URL())
	must(t, s.Append(t.Context(), numbered("fox", 1, 1)))
	lacks := func(t *testing.T, seq int) {
		t.Helper()
		calls := map[string]func() error{
			"Append":  func() error { return s.Append(t.Context(), numbered("fox", seq, 1)) },
			"Read":    func() error { _, err := readNumbered(t.Context(), s, "fox"); return err },
			"Games":   func() error { _, err := s.Games(t.Context()); return err },
			"Acquire": func() error { _, err := s.Acquire(t.Context(), "fox", "hub-a", time.Second); return err },
		}
		var wg sync.WaitGroup
		for name, call := range calls {
			wg.Go(func() {
				begun := time.Now()
				err := call()
				if took := time.Since(begun); !errors.Is(err, store.ErrUnavailable) || took > patience+20*time.Second {
					t.Errorf("%s: %v after %v; want ErrUnavailable soon after %v", name, err, took, patience)
				}
			})
		}
		wg.Wait()
	}
	t.Run("frozen", func(t *testing.T) {
		server.Pause()
		lacks(t, 2)
		server.Resume()
		recovers(t, s, 2)
	})
	t.Run("gone", func(t *testing.T) {
		server.Kill()
		lacks(t, 3)
		server.Restart()
		recovers(t, s, 3)
	})
	t.Run("cancelled", func(t *testing.T) {
		server.Pause()
		defer server.Resume()
		ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
		defer cancel()
		err := s.Append(ctx, numbered("fox", 4, 1))
		if wantErr(t, "Append", err, context.DeadlineExceeded); errors.Is(err, store.ErrUnavailable) {
			t.Errorf("the caller's own deadline is blamed on Redis: %v", err)
		}
	})
}

// recovers repeats a batch until it is accepted: it may have been kept before.
func recovers(t *testing.T, s *shared, seq int) {
	t.Helper()
	begun := time.Now()
	redistest.Eventually(t, "write that is accepted", func() error { return s.Append(t.Context(), numbered("fox", seq, 1)) })
	t.Logf("writes are accepted again after %v", time.Since(begun).Round(time.Millisecond))
	if n, err := readNumbered(t.Context(), s, "fox"); n != uint64(seq) || err != nil {
		t.Errorf("%d records, error %v; want %d", n, err, seq)
	}
}

// TestRefusedWhole has the server unable to write: nothing of a batch is kept.
func TestRefusedWhole(t *testing.T) {
	t.Parallel()
	primary := redistest.Start(t)
	s := open(t, primary.URL())
	must(t, s.Append(t.Context(), numbered("fox", 1, 1)))
	for name, settings := range map[string][2][]string{
		"OOM":        {{"config", "set", "maxmemory", "1"}, {"config", "set", "maxmemory", "0"}},
		"NOREPLICAS": {{"config", "set", "min-replicas-to-write", "1"}, {"config", "set", "min-replicas-to-write", "0"}},
		"READONLY":   {{"replicaof", "127.0.0.1", "1"}, {"replicaof", "no", "one"}},
	} {
		primary.Do(settings[0]...)
		err := s.Append(t.Context(), numbered("fox", 2, 5))
		if wantErr(t, name, err, store.ErrUnavailable); err != nil && !strings.Contains(err.Error(), name) {
			t.Errorf("%s: the error doesn't say so: %v", name, err)
		}
		primary.Do(settings[1]...)
		if n, err := readNumbered(t.Context(), s, "fox"); n != 1 || err != nil {
			t.Errorf("%s: %d records, error %v; want 1", name, n, err)
		}
	}
	primary.Do("hset", s.keysOf("fox").meta(), "last", "0") // damage: the stream itself refuses
	if err := s.Append(t.Context(), numbered("fox", 1, 2)); err == nil || errors.Is(err, store.ErrUnavailable) {
		t.Errorf("a record over another: %v", err)
	}
}

// writer appends to a game until it is stopped, repeating what was not answered.
type writer struct {
	accepted atomic.Uint64
	stop     context.CancelFunc
	wg       sync.WaitGroup
}

func write(t *testing.T, s *shared, game string) *writer {
	ctx, stop := context.WithCancel(context.Background())
	w := &writer{stop: stop}
	last, err := readNumbered(ctx, s, game)
	if err != nil && !errors.Is(err, store.ErrUnknownGame) {
		t.Fatal(err)
	}
	w.accepted.Store(last)
	w.wg.Go(func() {
		for ctx.Err() == nil {
			count := 1 + rand.IntN(3)
			b := numbered(game, int(w.accepted.Load())+1, count)
			err := s.Append(ctx, b)
			for errors.Is(err, store.ErrUnavailable) {
				err = s.Append(ctx, b)
			}
			if err == nil {
				w.accepted.Add(uint64(count))
			} else if ctx.Err() == nil {
				t.Errorf("Append after %d: %v", w.accepted.Load(), err)
				return
			}
		}
	})
	return w
}

func (w *writer) end() uint64 {
	w.stop()
	w.wg.Wait()
	return w.accepted.Load()
}

// TestKill kills the server under load. With an append-only file that is synced
// always, nothing that was accepted is lost.
func TestKill(t *testing.T) {
	t.Parallel()
	runs, seed := soak.Size(3, 20), rand.Uint64()
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	server := redistest.Start(t, redistest.Durable...)
	s := open(t, server.URL())
	var accepted uint64
	for run := range runs {
		w := write(t, s, "fox")
		before := w.accepted.Load()
		redistest.Eventually(t, "batch after the restart", func() error {
			if w.accepted.Load() == before {
				return errors.New("none accepted")
			}
			return nil
		})
		time.Sleep(time.Duration(random.IntN(50)) * time.Millisecond)
		server.Kill()
		server.Restart()
		accepted = w.end()
		n, err := readNumbered(t.Context(), s, "fox")
		if err != nil || n < accepted {
			t.Fatalf("run %d: %d records, error %v; %d were accepted", run, n, err, accepted)
		}
	}
	t.Logf("%d kills, %d records accepted, none lost", runs, accepted)
}

// TestLossIsNoticed restarts a server that keeps nothing on disk.
func TestLossIsNoticed(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t, "--appendonly", "no")
	s := open(t, server.URL())
	l, err := s.Acquire(t.Context(), "fox", "hub-a", time.Minute)
	must(t, err)
	must(t, s.Append(t.Context(), under(l, "fox", 1)))
	server.Kill()
	server.Restart()
	redistest.Eventually(t, "a refusal", func() error {
		if err := s.Append(t.Context(), under(l, "fox", 2)); !errors.Is(err, store.ErrFenced) {
			return err
		}
		return nil
	})
	again, err := s.Acquire(t.Context(), "fox", "hub-a", time.Minute)
	if err != nil || again.Token <= l.Token || again.Last != 0 {
		t.Errorf("lease %+v, error %v; want a higher token and no record", again, err)
	}
	wantErr(t, "going on as if nothing had happened", s.Append(t.Context(), under(again, "fox", 2)), store.ErrLost)
}

func TestDurability(t *testing.T) {
	t.Parallel()
	d := func(t *testing.T, address string) store.Durability {
		d, err := open(t, address).Durability(t.Context())
		must(t, err)
		t.Logf("%+v", d)
		return d
	}
	always := redistest.Start(t, redistest.Durable...)
	if got := d(t, always.URL()); !got.Known || !got.AppendOnly || got.Fsync != "always" || got.Servers != 1 || !strings.Contains(got.Promise, "loses nothing") {
		t.Errorf("always: %+v", got)
	}
	always.Do("config", "set", "appendfsync", "everysec")
	if got := d(t, always.URL()); got.Fsync != "everysec" || !strings.Contains(got.Promise, "last second") {
		t.Errorf("everysec: %+v", got)
	}
	always.Do("config", "set", "maxmemory", "100mb", "maxmemory-policy", "volatile-lru")
	if got := d(t, always.URL()); !got.Evicts || !strings.Contains(got.Promise, "noeviction") {
		t.Errorf("evicting: %+v", got)
	}
	if got := d(t, redistest.Start(t).URL()); !got.Known || got.AppendOnly || !strings.Contains(got.Promise, "every game") {
		t.Errorf("nothing kept: %+v", got)
	}
	always.Do("acl", "setuser", "hosted", "on", ">secret", "~*", "&*", "+@all", "-config")
	if got := d(t, "redis://hosted:secret@"+always.Addr()); got.Known || !strings.Contains(got.Promise, "not known") {
		t.Errorf("CONFIG forbidden: %+v", got)
	}
}

// TestNoRights: what an operator has to mend is not taken for a passing fault.
func TestNoRights(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	server.Do("acl", "setuser", "reader", "on", ">secret", "~*", "&*", "+@all", "-eval", "-evalsha")
	for _, user := range []string{"reader:secret", "reader:wrong", "stranger:secret"} {
		err := open(t, "redis://"+user+"@"+server.Addr()).Append(t.Context(), numbered("fox", 1, 1))
		if err == nil || errors.Is(err, store.ErrUnavailable) || !strings.Contains(err.Error(), "its rights") || strings.Contains(err.Error(), "secret") {
			t.Errorf("%s: %v", user, err)
		}
	}
}
