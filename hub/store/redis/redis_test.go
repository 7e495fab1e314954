//go:build unix

package redis

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
	"fieldsign/hub/store/storetest"
)

var opened atomic.Int64

// open opens a store that has a prefix of its own, and so is empty.
func open(t testing.TB, address string) *shared {
	t.Helper()
	s, err := Open(address, Options{Prefix: fmt.Sprint("test", opened.Add(1), ":")})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s.(*shared)
}

// beside opens another hub's store on the same games.
func beside(t testing.TB, s *shared, address string) *shared {
	t.Helper()
	other, err := Open(address, s.opts)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { other.Close() })
	return other.(*shared)
}

func TestSuite(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	storetest.Run(t, func(t *testing.T) store.Store { return open(t, server.URL()) })
}

func TestSuiteOnCluster(t *testing.T) {
	t.Parallel()
	cluster := redistest.StartCluster(t, 0)
	storetest.Run(t, func(t *testing.T) store.Store { return open(t, cluster.URL()) })
	cluster.Nodes[0].Do("config", "set", "appendonly", "yes") // one of three: the weakest counts
	d, err := open(t, cluster.URL()).Durability(t.Context())
	if err != nil || d.Servers != 3 || !d.Known || d.AppendOnly {
		t.Errorf("durability %+v, error %v", d, err)
	}
}

func TestDamage(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	s := open(t, server.URL())
	key := func(game, part string) string { return s.opts.Prefix + "{" + game + "}:" + part }
	b := numbered("fox", 1, 600)
	b.Standings = []store.Standing{{Rank: 1, Team: "t1", Name: "Otters", Score: 4}, {Rank: 2, Team: "t2", Name: "Owls", Score: 2}}
	must(t, s.Append(t.Context(), b))
	must(t, s.Append(t.Context(), numbered("hare", 1, 3)))
	must(t, s.PutPhoto(t.Context(), store.Photo{PhotoInfo: store.PhotoInfo{ID: "a"}, JPEG: []byte("jpeg")}))

	server.Do("xdel", key("fox", "log"), "300-0")
	n, err := readNumbered(t.Context(), s, "fox")
	if !errors.Is(err, store.ErrCorrupt) || n != 299 || !strings.Contains(err.Error(), "record 300") {
		t.Errorf("without record 300: %d records, error %v", n, err)
	}
	server.Do("xdel", key("hare", "log"), "3-0")
	if n, err := readNumbered(t.Context(), s, "hare"); !errors.Is(err, store.ErrCorrupt) || n != 2 {
		t.Errorf("without the last record: %d records, error %v", n, err)
	}
	server.Do("del", key("hare", "log"))
	server.Do("xadd", key("hare", "log"), "1-0", "r", "not a record")
	if n, err := readNumbered(t.Context(), s, "hare"); !errors.Is(err, store.ErrCorrupt) || n != 0 {
		t.Errorf("a foreign record: %d records, error %v", n, err)
	}
	server.Do("zadd", key("fox", "order"), "3", "t1") // as if t1 had come second
	if _, err := s.Standings(t.Context(), "fox"); !errors.Is(err, store.ErrCorrupt) {
		t.Errorf("standings in a wrong order: %v", err)
	}
	server.Do("hset", s.photoKey("a"), "jpeg", "xx")
	if _, err := s.Photo(t.Context(), "a"); !errors.Is(err, store.ErrCorrupt) {
		t.Errorf("a damaged photo: %v", err)
	}
	r := store.Result{Game: "fox", Began: "2026-05-01", Lines: []store.Line{{Team: "otters", Name: "Otters", Points: 40}}}
	must(t, s.AddResult(t.Context(), "2026", r))
	server.Do("hset", s.seasonKeys("2026")[1], "fox", "not a result")
	if _, err := s.Results(t.Context(), "2026"); !errors.Is(err, store.ErrCorrupt) {
		t.Errorf("a damaged result: %v", err)
	}
	must(t, s.SetResult(t.Context(), "2026", r)) // its sums are worked out anew
	if top, err := s.Leaders(t.Context(), "2026", 5); err != nil || len(top) != 1 || top[0].Points != 40 || top[0].Games != 1 {
		t.Errorf("counted anew: %+v, error %v", top, err)
	}
	if games, err := s.Games(t.Context()); err != nil || len(games) != 2 {
		t.Errorf("games %v, error %v: damaged ones are listed", games, err)
	}
	must(t, s.Delete(t.Context(), "fox"))
}

// TestBoundedPages counts what one round trip brings.
func TestBoundedPages(t *testing.T) {
	t.Parallel()
	s := open(t, redistest.Start(t).URL())
	must(t, s.Append(t.Context(), numbered("fox", 1, 1000)))
	page, last, err := s.page(t.Context(), "fox", 100)
	if err != nil || len(page) != pageLen || page[0].Seq != 101 || last != 1000 {
		t.Errorf("a page of %d records, last %d, error %v", len(page), last, err)
	}
	if n, err := readNumbered(t.Context(), s, "fox"); n != 1000 || err != nil {
		t.Errorf("%d records, error %v", n, err)
	}
	large := store.Batch{Game: "fox", Records: []store.Record{{Seq: 1001, Data: make([]byte, maxRecord+1)}}}
	if err := s.Append(t.Context(), large); err == nil {
		t.Error("a record beyond the bound: accepted")
	}
}

func TestRetention(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	s, err := Open(server.URL(), Options{KeepIdle: 400 * time.Millisecond, KeepEnded: 100 * time.Millisecond})
	must(t, err)
	defer s.Close()
	b := numbered("ended", 1, 2)
	b.Ended, b.Standings = true, []store.Standing{{Rank: 1, Team: "t1", Name: "Otters"}}
	must(t, s.Append(t.Context(), b))
	must(t, s.Append(t.Context(), numbered("idle", 1, 2)))
	redistest.Eventually(t, "end of the ended game", gone(t, s, "ended"))
	if _, err := readNumbered(t.Context(), s, "idle"); err != nil {
		t.Errorf("the idle game: %v, want it to live longer", err)
	}
	redistest.Eventually(t, "end of the idle game", gone(t, s, "idle"))
	if games, err := s.Games(t.Context()); err != nil || len(games) != 0 {
		t.Errorf("games %v, error %v", games, err)
	}
	if left := strings.Fields(server.Do("keys", "*")); len(left) != 1 { // the index goes later
		t.Errorf("keys left: %q", left)
	}
}

// TestSweep ages the line of a game whose keys are gone.
func TestSweep(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t)
	s := open(t, server.URL())
	must(t, s.Append(t.Context(), numbered("fox", 1, 1)))
	server.Do("zadd", s.games.key, "1000", "old", "1000", "fox")
	server.Do("zadd", s.games.key, fmt.Sprint(time.Now().Unix()), "new")
	if games, err := s.Games(t.Context()); err != nil || len(games) != 1 {
		t.Errorf("games %v, error %v", games, err)
	}
	if left := server.Do("zrange", s.games.key, "0", "-1"); left != "fox\nnew" {
		t.Errorf("the index holds %q", left)
	}
}

func gone(t *testing.T, s store.Store, game string) func() error {
	return func() error {
		n, err := readNumbered(t.Context(), s, game)
		if errors.Is(err, store.ErrUnknownGame) {
			return nil
		}
		return fmt.Errorf("%d records, error %v", n, err)
	}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func wantErr(t testing.TB, what string, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// numbered makes records whose content follows from their game and number.
func numbered(game string, first, count int) store.Batch {
	b := store.Batch{Game: game}
	for seq := first; seq < first+count; seq++ {
		b.Records = append(b.Records, store.Record{Seq: uint64(seq), Data: content(game, uint64(seq))})
	}
	return b
}

// under makes a batch of one under a lease.
func under(l store.Lease, game string, seq int) store.Batch {
	b := numbered(game, seq, 1)
	b.Token = l.Token
	return b
}

func content(game string, seq uint64) []byte { return fmt.Appendf(nil, "%s, event %d", game, seq) }

// readNumbered counts the records and compares their content.
func readNumbered(ctx context.Context, s store.Store, game string) (count uint64, err error) {
	err = s.Read(ctx, game, 0, func(r store.Record) error {
		count++
		if r.Seq != count || string(r.Data) != string(content(game, r.Seq)) {
			return fmt.Errorf("a wrong record: %d of %s reads %d %q", count, game, r.Seq, r.Data)
		}
		return nil
	})
	return count, err
}
