package bolt

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// TestBitFlipInRecord flips each bit of one record's value in turn.
func TestBitFlipInRecord(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	s.db.NoSync = true // only to be quick: nothing crashes here
	if err := s.Append(t.Context(), numbered("fox", 1, 5)); err != nil {
		t.Fatal(err)
	}
	flip := func(bit int) {
		editLog(t, s, "fox", func(log *bbolt.Bucket) error {
			value := slices.Clone(log.Get(seqKey(3)))
			value[bit/8] ^= 1 << (bit % 8)
			return log.Put(seqKey(3), value)
		})
	}
	for bit := range 8 * (seal.Len + len(content("fox", 3))) {
		flip(bit)
		wantDamage(t, s, "fox", 3)
		flip(bit)
	}
	if n, err := readNumbered(s, "fox"); n != 5 || err != nil {
		t.Errorf("mended: %d records, error %v; want 5", n, err)
	}
}

func TestLostRecord(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	for _, lost := range []uint64{1, 300, 600} {
		id := fmt.Sprint("game-", lost)
		if err := s.Append(t.Context(), numbered(id, 1, 600)); err != nil {
			t.Fatal(err)
		}
		editLog(t, s, id, func(log *bbolt.Bucket) error { return log.Delete(seqKey(lost)) })
		if _, err := readNumbered(s, id); !errors.Is(err, store.ErrCorrupt) || !strings.Contains(err.Error(), fmt.Sprint("record ", lost)) {
			t.Errorf("Read without record %d: %v; want ErrCorrupt", lost, err)
		}
	}
	if err := s.Append(t.Context(), numbered("game-600", 600, 1)); !errors.Is(err, store.ErrCorrupt) {
		t.Errorf("Append where the tail is lost: %v; want ErrCorrupt", err)
	}
	if err := s.Append(t.Context(), numbered("fine", 1, 1)); err != nil {
		t.Errorf("Append to another game: %v", err)
	}
	if err := s.Delete(t.Context(), "game-600"); err != nil {
		t.Errorf("Delete of the damaged game: %v", err)
	}
}

func TestRecordOfAnotherGame(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	if err := s.Append(t.Context(), numbered("fox", 1, 5)); err != nil {
		t.Fatal(err)
	}
	editLog(t, s, "fox", func(log *bbolt.Bucket) error {
		return log.Put(seqKey(2), seal.Close("wolf", 2, content("fox", 2)))
	})
	wantDamage(t, s, "fox", 2)
}

func TestDamagedStandings(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	b := numbered("fox", 1, 1)
	b.Standings = []store.Standing{{Rank: 1, Team: "t1", Score: 40}}
	if err := s.Append(t.Context(), b); err != nil {
		t.Fatal(err)
	}
	err := s.db.Update(func(tx *bbolt.Tx) error {
		root := tx.Bucket(gamesKey).Bucket([]byte("fox"))
		return root.Put(standingsKey, []byte(strings.Replace(string(root.Get(standingsKey)), "40", "90", 1)))
	})
	if err != nil {
		t.Fatal(err)
	}
	if got, err := s.Standings(t.Context(), "fox"); !errors.Is(err, store.ErrCorrupt) {
		t.Errorf("Standings: %v, error %v; want ErrCorrupt", got, err)
	}
}

// TestBitFlipInFile flips bits anywhere in the file, in bbolt's own pages too:
// the store may refuse, but never passes a wrong or a missing record for good.
func TestBitFlipInFile(t *testing.T) {
	const records, flips, seed = 150, 400, 1
	whole := openWith(t, numbered("fox", 1, records))
	used := min(len(whole), 12*4096) // the rest is not in use yet
	random := rand.New(rand.NewPCG(seed, seed))
	path := tempFile(t)
	var refused int
	for range flips {
		damagedFile := slices.Clone(whole)
		bit := random.IntN(8 * used)
		damagedFile[bit/8] ^= 1 << (bit % 8)
		if err := os.WriteFile(path, damagedFile, 0o600); err != nil {
			t.Fatal(err)
		}
		n, err := readFile(path)
		if err != nil {
			refused++
		} else if n != records {
			t.Errorf("seed %d, bit %d: %d records and no error, want %d", seed, bit, n, records)
		}
		if errors.Is(err, errWrong) {
			t.Errorf("seed %d, bit %d: %v", seed, bit, err)
		}
	}
	t.Logf("%d of %d flips refused, the others hit nothing in use", refused, flips)
	if refused == 0 || refused == flips {
		t.Error("the flips prove nothing")
	}
}

// readFile opens the file and reads the log of "fox".
func readFile(path string) (count uint64, err error) {
	s, err := Open(path)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	return readNumbered(s, "fox")
}

// editLog changes a log behind the store's back.
func editLog(t *testing.T, s *Store, game string, edit func(log *bbolt.Bucket) error) {
	t.Helper()
	err := s.db.Update(func(tx *bbolt.Tx) error {
		return edit(tx.Bucket(gamesKey).Bucket([]byte(game)).Bucket(logKey))
	})
	if err != nil {
		t.Fatal(err)
	}
}

// wantDamage expects the good records before the damaged one, then an error
// that says which and what to do.
func wantDamage(t *testing.T, s *Store, game string, seq uint64) {
	t.Helper()
	var last uint64
	err := s.Read(context.Background(), game, 0, func(r store.Record) error {
		last = r.Seq
		return nil
	})
	if !errors.Is(err, store.ErrCorrupt) || last != seq-1 {
		t.Fatalf("Read: up to record %d, error %v; want %d and ErrCorrupt", last, err, seq-1)
	}
	for _, part := range []string{fmt.Sprintf("%q", game), fmt.Sprint("record ", seq), "restore"} {
		if !strings.Contains(err.Error(), part) {
			t.Fatalf("Read: %v; the error doesn't say %s", err, part)
		}
	}
}

// A damaged photo is told from the others, which are listed and shown.
func TestDamagedPhoto(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	photo := func(id string) store.Photo {
		return store.Photo{PhotoInfo: store.PhotoInfo{ID: id, Species: "Vulpes vulpes", Subject: "skull", Credit: "own photo"}, JPEG: []byte("jpeg of " + id)}
	}
	for _, id := range []string{"a", "b", "c"} {
		if err := s.PutPhoto(t.Context(), photo(id)); err != nil {
			t.Fatal(err)
		}
	}
	bend := func(id string, key []byte) {
		t.Helper()
		err := s.db.Update(func(tx *bbolt.Tx) error {
			b := tx.Bucket(photosKey).Bucket([]byte(id))
			value := slices.Clone(b.Get(key))
			value[len(value)-1] ^= 1
			return b.Put(key, value)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	bend("a", jpegKey)
	bend("b", infoKey)
	for _, id := range []string{"a", "b"} {
		if _, err := s.Photo(t.Context(), id); !errors.Is(err, store.ErrCorrupt) || !strings.Contains(err.Error(), id) {
			t.Errorf("Photo %s: %v; want ErrCorrupt", id, err)
		}
	}
	list, err := s.Photos(t.Context())
	if !errors.Is(err, store.ErrCorrupt) || len(list) != 2 || list[0] != photo("a").PhotoInfo || list[1] != photo("c").PhotoInfo {
		t.Errorf("Photos: %v, error %v; want a and c, and ErrCorrupt", list, err)
	}
	if err := s.DeletePhoto(t.Context(), "b"); err != nil {
		t.Errorf("DeletePhoto of the damaged one: %v", err)
	}
}

// A file from before there were photos is taken up as it is.
func TestFileWithoutPhotos(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	if err := s.Append(t.Context(), numbered("fox", 1, 3)); err != nil {
		t.Fatal(err)
	}
	if err := s.db.Update(func(tx *bbolt.Tx) error { return tx.DeleteBucket(photosKey) }); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	s = open(t, path)
	defer closeStore(t, s)
	if n, err := readNumbered(s, "fox"); n != 3 || err != nil {
		t.Errorf("%d records, error %v; want 3", n, err)
	}
	if list, err := s.Photos(t.Context()); len(list) != 0 || err != nil {
		t.Errorf("photos %v, error %v", list, err)
	}
	if err := s.PutPhoto(t.Context(), store.Photo{PhotoInfo: store.PhotoInfo{ID: "a"}}); err != nil {
		t.Error(err)
	}
}

func TestDamagedResult(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	r := store.Result{Game: "fox", Began: "2026-05-01", Lines: []store.Line{{Team: "otters", Points: 40}}}
	for _, game := range []string{"fox", "hare"} {
		r.Game = game
		if err := s.AddResult(t.Context(), "2026", r); err != nil {
			t.Fatal(err)
		}
	}
	err := s.db.Update(func(tx *bbolt.Tx) error {
		results := tx.Bucket(seasonsKey).Bucket([]byte("2026")).Bucket(resultsKey)
		return results.Put([]byte("fox"), []byte(strings.Replace(string(results.Get([]byte("fox"))), "40", "90", 1)))
	})
	if err != nil {
		t.Fatal(err)
	}
	if got, err := s.Results(t.Context(), "2026"); !errors.Is(err, store.ErrCorrupt) || len(got) != 1 || got[0].Game != "hare" {
		t.Errorf("Results: %v, error %v; want the other one, and ErrCorrupt", got, err)
	}
	r.Game = "fox"
	if err := s.SetResult(t.Context(), "2026", r); err != nil {
		t.Fatal(err)
	}
	if got, err := s.Results(t.Context(), "2026"); err != nil || len(got) != 2 {
		t.Errorf("counted anew: %v, error %v", got, err)
	}
}
