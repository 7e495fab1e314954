package bolt

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store"
	"fieldsign/hub/store/storetest"
)

func TestSuite(t *testing.T) {
	storetest.Run(t, func(t *testing.T) store.Store { return open(t, tempFile(t)) })
}

func TestReopenKeepsAll(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	want := []store.Standing{{Rank: 1, Team: "t1", Name: "Otters", Score: 4}}
	b := numbered("fox", 1, 600)
	b.Standings, b.Ended = want, true
	if err := s.Append(t.Context(), b); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	s = open(t, path)
	defer closeStore(t, s)
	if n, err := readNumbered(s, "fox"); n != 600 || err != nil {
		t.Errorf("%d records, error %v; want 600", n, err)
	}
	if got, err := s.Standings(t.Context(), "fox"); err != nil || len(got) != 1 || got[0] != want[0] {
		t.Errorf("standings %v, error %v; want %v", got, err, want)
	}
	games, err := s.Games(t.Context())
	if err != nil || len(games) != 1 || games[0].Written.IsZero() || games[0].ID != "fox" || games[0].Last != 600 || !games[0].Ended {
		t.Errorf("games %v, error %v", games, err)
	}
	if err := s.Append(t.Context(), numbered("fox", 601, 1)); err != nil {
		t.Error(err)
	}
}

// TestGroupCommit counts transactions: callers at the same time share them.
func TestGroupCommit(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	before := transactions(t, s)
	const callers, rounds = 64, 5
	var wg sync.WaitGroup
	for c := range callers {
		wg.Go(func() {
			for i := range rounds {
				if err := s.Append(t.Context(), numbered(fmt.Sprint("game-", c), i+1, 1)); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	used := transactions(t, s) - before
	t.Logf("%d appends in %d transactions", callers*rounds, used)
	if used > callers*rounds/4 {
		t.Errorf("%d transactions for %d appends: the callers don't share them", used, callers*rounds)
	}
}

// TestDeleteAndBeginAgain has both meet in the same transactions.
func TestDeleteAndBeginAgain(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	if err := s.Append(t.Context(), numbered("fox", 1, 900)); err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 200 { // whichever comes first, the log stays whole
		wg.Go(func() {
			if err := s.Delete(t.Context(), "fox"); err != nil {
				t.Error(err)
			}
		})
		wg.Go(func() {
			err := s.Append(t.Context(), numbered("fox", 1, 3))
			if err != nil && !errors.Is(err, store.ErrConflict) {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	if n, err := readNumbered(s, "fox"); !(err == nil && n == 3 || errors.Is(err, store.ErrUnknownGame)) {
		t.Errorf("%d records, error %v; want 3, or no game", n, err)
	}
}

// TestCancelledInQueue holds up the committer, so that a second write waits.
func TestCancelledInQueue(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	if err := s.Append(t.Context(), numbered("wolf", 1, 1)); err != nil {
		t.Fatal(err)
	}
	other, err := s.db.Begin(true) // the committer can't have its own
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	var wg sync.WaitGroup
	wg.Go(func() {
		if err := s.Append(t.Context(), numbered("fox", 1, 1)); err != nil {
			t.Error(err)
		}
	})
	wg.Go(func() {
		if err := s.Append(ctx, numbered("wolf", 2, 1)); !errors.Is(err, context.Canceled) {
			t.Errorf("Append: %v, want Canceled", err)
		}
	})
	cancel()
	if err := other.Rollback(); err != nil {
		t.Fatal(err)
	}
	wg.Wait()
	if n, err := readNumbered(s, "wolf"); n != 1 || err != nil {
		t.Errorf("%d records, error %v; want the first only", n, err)
	}
}

// TestCloseUnderLoad closes while writers write: each is told the truth.
func TestCloseUnderLoad(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	const writers, soon = 16, 20
	var accepted [writers]uint64
	var wg, warm sync.WaitGroup
	warm.Add(writers)
	for w := range writers {
		wg.Go(func() {
			for {
				err := s.Append(t.Context(), numbered(fmt.Sprint("game-", w), int(accepted[w])+1, 1))
				if err != nil {
					if !errors.Is(err, ErrClosed) {
						t.Errorf("Append: %v, want ErrClosed", err)
					}
					return
				}
				if accepted[w]++; accepted[w] == soon {
					warm.Done()
				}
			}
		})
	}
	warm.Wait()
	closeStore(t, s)
	wg.Wait()
	if _, err := s.Games(t.Context()); !errors.Is(err, ErrClosed) {
		t.Errorf("Games: %v, want ErrClosed", err)
	}
	s = open(t, path)
	defer closeStore(t, s)
	for w := range writers {
		if n, err := readNumbered(s, fmt.Sprint("game-", w)); n != accepted[w] || err != nil {
			t.Errorf("writer %d: %d records, error %v; want %d", w, n, err, accepted[w])
		}
	}
}

// TestFailedCommit takes the file away from under bbolt, as a dying disk does.
func TestFailedCommit(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	if err := s.Append(t.Context(), numbered("fox", 1, 3)); err != nil {
		t.Fatal(err)
	}
	s.file.Close()
	for _, b := range []store.Batch{numbered("fox", 4, 1), numbered("wolf", 1, 1)} {
		err := s.Append(t.Context(), b)
		if !errors.Is(err, ErrReadOnly) || !errors.Is(err, os.ErrClosed) || !strings.Contains(err.Error(), path) {
			t.Errorf("Append to %s: %v; want ErrReadOnly, the reason and the file", b.Game, err)
		}
	}
	if err := s.Delete(t.Context(), "fox"); !errors.Is(err, ErrReadOnly) {
		t.Errorf("Delete: %v, want ErrReadOnly", err)
	}
	if n, err := readNumbered(s, "fox"); n != 3 || err != nil {
		t.Errorf("%d records, error %v; want the 3 accepted", n, err)
	}
	if err := s.Close(); err == nil {
		t.Error("Close: no word of the lost file")
	}
	s = open(t, path)
	defer closeStore(t, s)
	if n, err := readNumbered(s, "fox"); n != 3 || err != nil {
		t.Errorf("reopened: %d records, error %v; want the 3 accepted", n, err)
	}
}

func TestOpenRefuses(t *testing.T) {
	foreign := tempFile(t)
	db, err := bbolt.Open(foreign, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		_, err := tx.CreateBucket([]byte("recipes"))
		return err
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	good := openWith(t, numbered("fox", 1, 2000))
	tests := []struct {
		name string
		path string
		want error
	}{
		{"text", fileOf(t, []byte("Dear diary, ")), ErrNotStore},
		{"a page of text", fileOf(t, []byte(strings.Repeat("Dear diary ", 4096)[:4096])), ErrNotStore},
		{"much text", fileOf(t, []byte(strings.Repeat("Dear diary, ", 40_000))), ErrNotStore},
		{"zeros", fileOf(t, make([]byte, 1<<16)), ErrNotStore},
		{"another program's", foreign, ErrNotStore},
		{"cut to one page", fileOf(t, good[:4096]), ErrNotStore},
		{"cut to two pages", fileOf(t, good[:8192]), ErrNotStore},
		{"cut to an eighth", fileOf(t, good[:len(good)/8]), ErrNotStore},
		{"cut in half", fileOf(t, good[:len(good)/2]), ErrNotStore},
		{"no such folder", filepath.Join(t.TempDir(), "none", "games.db"), os.ErrNotExist},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s, err := Open(test.path)
			if !errors.Is(err, test.want) || !strings.Contains(err.Error(), test.path) {
				t.Fatalf("Open: %v; want %q and the path", err, test.want)
			}
			if s != nil {
				t.Error("a store besides the error")
			}
			t.Log(err)
		})
	}
}

// transactions returns the number of the last transaction.
func transactions(t *testing.T, s *Store) (id int) {
	err := s.db.View(func(tx *bbolt.Tx) error {
		id = tx.ID()
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func tempFile(t testing.TB) string { return filepath.Join(t.TempDir(), "games.db") }

func fileOf(t testing.TB, content []byte) string {
	path := tempFile(t)
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// openWith returns the content of a store's file that holds one batch.
func openWith(t testing.TB, b store.Batch) []byte {
	path := tempFile(t)
	s := open(t, path)
	if err := s.Append(t.Context(), b); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

func open(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func closeStore(t testing.TB, s *Store) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Error(err)
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

func content(game string, seq uint64) []byte { return fmt.Appendf(nil, "%s, event %d", game, seq) }

// errWrong: the store gave a record that was never written.
var errWrong = errors.New("a wrong record")

// readNumbered counts the records and compares their content.
func readNumbered(s store.Store, game string) (count uint64, err error) {
	err = s.Read(context.Background(), game, 0, func(r store.Record) error {
		count++
		if r.Seq != count || string(r.Data) != string(content(game, r.Seq)) {
			return fmt.Errorf("%w: %d of %s reads %d %q", errWrong, count, game, r.Seq, r.Data)
		}
		return nil
	})
	return count, err
}
