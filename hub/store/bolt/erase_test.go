package bolt

import (
	"bytes"
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
)

const canary = "Zanzibar Quokkas"

// told is a game's batch whose records and standings all bear the canary.
func told(game string, records int) store.Batch {
	b := store.Batch{Game: game, Standings: []store.Standing{{Rank: 1, Team: "t1", Name: canary, Score: 7}}}
	for i := range records {
		b.Records = append(b.Records, store.Record{Seq: uint64(i + 1), Data: fmt.Appendf(nil, "%s, event %d", canary, i)})
	}
	return b
}

// hits counts the canary in all files of a store's folder.
func hits(t *testing.T, path string) (n int) {
	t.Helper()
	files, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		data, err := os.ReadFile(filepath.Join(filepath.Dir(path), f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		n += bytes.Count(data, []byte(canary))
	}
	return n
}

// What is deleted is in no byte of the file, while the store is still open.
func TestDeletedIsGone(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	defer closeStore(t, s)
	for _, b := range []store.Batch{told("fox", 700), numbered("wolf", 1, 700)} {
		if err := s.Append(t.Context(), b); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.PutPhoto(t.Context(), store.Photo{PhotoInfo: store.PhotoInfo{ID: "p", Credit: canary}, JPEG: []byte(canary)}); err != nil {
		t.Fatal(err)
	}
	if hits(t, path) < 700 {
		t.Fatal("the canary is not in the file to begin with")
	}
	if err := errors.Join(s.Delete(t.Context(), "fox"), s.DeletePhoto(t.Context(), "p")); err != nil {
		t.Fatal(err)
	}
	if n := hits(t, path); n != 0 {
		t.Errorf("%d hits after the game and the photo are deleted", n)
	}
	if n, err := readNumbered(s, "wolf"); n != 700 || err != nil {
		t.Errorf("the other game: %d records, error %v", n, err)
	}
	if err := s.Append(t.Context(), numbered("wolf", 701, 1)); err != nil {
		t.Error(err)
	}
	if other, err := Open(path); !errors.Is(err, ErrInUse) {
		t.Errorf("a second Open of the new file: %v, %v", other, err)
	}
}

// Readers and writers go on while games are deleted.
func TestDeleteWhileInUse(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	if err := s.Append(t.Context(), numbered("wolf", 1, 600)); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	var wg sync.WaitGroup
	for range 3 {
		wg.Go(func() {
			for ctx.Err() == nil {
				if n, err := readNumbered(s, "wolf"); n < 600 || err != nil {
					t.Errorf("%d records, error %v", n, err)
				}
			}
		})
	}
	for i := range 20 {
		if err := s.Append(t.Context(), numbered("wolf", 601+i, 1)); err != nil {
			t.Error(err)
		}
		if err := errors.Join(s.Append(t.Context(), told("fox", 20)), s.Delete(t.Context(), "fox")); err != nil {
			t.Error(err)
		}
	}
	stop()
	wg.Wait()
	if n, err := readNumbered(s, "wolf"); n != 620 || err != nil {
		t.Errorf("%d records, error %v; want 620", n, err)
	}
}

// A compaction that can't be made says so; once it can, the same call clears.
func TestNotCleared(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	defer closeStore(t, s)
	if err := s.Append(t.Context(), told("fox", 10)); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(s.fresh(), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := s.Delete(t.Context(), "fox"); !errors.Is(err, ErrNotCleared) {
		t.Errorf("Delete: %v, want ErrNotCleared", err)
	}
	os.Remove(s.fresh())
	if err := s.Append(t.Context(), numbered("wolf", 1, 1)); err != nil {
		t.Error(err)
	}
	if err := s.Delete(t.Context(), "fox"); err != nil || hits(t, path) != 0 {
		t.Errorf("Delete once more: %v, %d hits", err, hits(t, path))
	}
}

func TestLeftCopiesGo(t *testing.T) {
	path := tempFile(t)
	for _, name := range []string{path + ".fresh", path + ".spool-1"} {
		if err := os.WriteFile(name, []byte(canary), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	closeStore(t, open(t, path))
	if n := hits(t, path); n != 0 {
		t.Errorf("%d hits: a copy of an earlier start is still there", n)
	}
}

func TestRewrite(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	defer closeStore(t, s)
	if err := s.Append(t.Context(), told("fox", 600)); err != nil {
		t.Fatal(err)
	}
	forget := func(text string) string { return strings.ReplaceAll(text, canary, "removed team") }
	rewrite := func(game string) error {
		return s.Rewrite(t.Context(), game,
			func(r store.Record) ([]byte, error) { return []byte(forget(string(r.Data))), nil },
			func(l store.Standing) store.Standing { l.Name = forget(l.Name); return l })
	}
	if err := rewrite("fox"); err != nil {
		t.Fatal(err)
	}
	if n := hits(t, path); n != 0 {
		t.Errorf("%d hits", n)
	}
	n := 0
	err := s.Read(t.Context(), "fox", 0, func(r store.Record) error {
		if want := fmt.Sprintf("removed team, event %d", n); string(r.Data) != want {
			t.Errorf("record %d is %q, want %q", r.Seq, r.Data, want)
		}
		n++
		return nil
	})
	standings, serr := s.Standings(t.Context(), "fox")
	if n != 600 || errors.Join(err, serr) != nil || len(standings) != 1 || standings[0].Name != "removed team" {
		t.Errorf("%d records, standings %v, errors %v, %v", n, standings, err, serr)
	}
	if err := rewrite("none"); !errors.Is(err, store.ErrUnknownGame) {
		t.Errorf("an unknown game: %v", err)
	}
}

// Games of a version that kept no time count from the first start of this one.
func TestOldGamesAreStamped(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	if err := s.Append(t.Context(), numbered("fox", 1, 1)); err != nil {
		t.Fatal(err)
	}
	err := s.db.Update(func(tx *bbolt.Tx) error {
		return tx.Bucket(gamesKey).Bucket([]byte("fox")).Delete(writtenKey)
	})
	if err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	s = open(t, path)
	defer closeStore(t, s)
	if games, err := s.Games(t.Context()); err != nil || games[0].Written.IsZero() {
		t.Errorf("%v, %v", games, err)
	}
}
