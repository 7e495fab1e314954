package bolt

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"fieldsign/hub/store"
)

func backedUp(t *testing.T, s *Store) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := s.Backup(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestBackupAndRestore(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	photo := store.Photo{PhotoInfo: store.PhotoInfo{ID: "p", Species: "Lontra canadensis"}, JPEG: []byte("jpeg")}
	if err := errors.Join(s.Append(t.Context(), numbered("fox", 1, 600)), s.PutPhoto(t.Context(), photo)); err != nil {
		t.Fatal(err)
	}
	copied := backedUp(t, s)
	if err := s.Append(t.Context(), numbered("fox", 601, 1)); err != nil { // after it was taken
		t.Fatal(err)
	}
	path := tempFile(t)
	found, err := Restore(t.Context(), bytes.NewReader(copied), path)
	if err != nil || found != (Contents{1, 600, 1, 0}) {
		t.Fatalf("Restore: %+v, %v", found, err)
	}
	if _, err := Restore(t.Context(), bytes.NewReader(copied), path); !errors.Is(err, ErrThere) {
		t.Errorf("over a file: %v, want ErrThere", err)
	}
	again := open(t, path)
	defer closeStore(t, again)
	if n, err := readNumbered(again, "fox"); n != 600 || err != nil {
		t.Errorf("%d records, error %v", n, err)
	}
	if p, err := again.Photo(t.Context(), "p"); err != nil || string(p.JPEG) != "jpeg" {
		t.Errorf("the photo: %v, %v", p, err)
	}
}

// A backup is one moment of the store, whatever is written meanwhile.
func TestBackupWhileWriting(t *testing.T) {
	s := open(t, tempFile(t))
	defer closeStore(t, s)
	ctx, stop := context.WithCancel(t.Context())
	var wg sync.WaitGroup
	wg.Go(func() {
		for i := 1; ctx.Err() == nil; i++ {
			for _, game := range []string{"fox", "wolf"} { // fox is never behind
				if err := s.Append(t.Context(), numbered(game, i, 1)); err != nil {
					t.Error(err)
				}
			}
		}
	})
	for range 10 {
		path := tempFile(t)
		if _, err := Restore(t.Context(), bytes.NewReader(backedUp(t, s)), path); err != nil {
			t.Fatal(err)
		}
		again := open(t, path)
		fox, _ := readNumbered(again, "fox")
		wolf, _ := readNumbered(again, "wolf")
		if fox < wolf || fox > wolf+1 {
			t.Errorf("fox %d, wolf %d: not one moment", fox, wolf)
		}
		closeStore(t, again)
	}
	stop()
	wg.Wait()
}

// Cut at any length or with any byte changed, it is refused and leaves nothing.
func TestTornBackup(t *testing.T) {
	s := open(t, tempFile(t))
	if err := s.Append(t.Context(), numbered("fox", 1, 50)); err != nil {
		t.Fatal(err)
	}
	whole := backedUp(t, s)
	closeStore(t, s)
	refused := func(what string, at int, data []byte) {
		t.Helper()
		path := tempFile(t)
		if _, err := Restore(t.Context(), bytes.NewReader(data), path); !errors.Is(err, ErrTorn) {
			t.Errorf("%s at %d: %v, want ErrTorn", what, at, err)
		}
		if left, err := os.ReadDir(filepath.Dir(path)); err != nil || len(left) > 0 {
			t.Errorf("%s at %d leaves %v, %v", what, at, left, err)
		}
	}
	step := len(whole)/60 + 1
	for at := 0; at < len(whole); at += step {
		refused("cut", at, whole[:at])
		spoilt := bytes.Clone(whole)
		spoilt[at] ^= 1
		refused("changed", at, spoilt)
	}
	refused("cut", len(whole)-1, whole[:len(whole)-1])
	refused("longer", len(whole), append(bytes.Clone(whole), 0))
}

// A backup whose checksum is right but whose pages are not is refused, or
// whole: it never takes the program down.
func TestRestoreOfFalsePages(t *testing.T) {
	small := tempFile(t)
	s := open(t, small)
	if err := errors.Join(s.Append(t.Context(), numbered("fox", 1, 3)), s.Close()); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(small)
	if err != nil {
		t.Fatal(err)
	}
	whole = whole[:8*os.Getpagesize()]
	seed := rand.Uint64()
	dice := rand.New(rand.NewPCG(seed, 0))
	folder := t.TempDir()
	for i := range 200 {
		backup := append(bytes.Clone(backupHead), whole...)
		at := len(backupHead) + dice.IntN(len(whole)-8)
		binary.LittleEndian.PutUint64(backup[at:], binary.LittleEndian.Uint64(backup[at:])^dice.Uint64())
		sum := sha256.Sum256(backup)
		path := filepath.Join(folder, fmt.Sprint(i))
		if _, err := Restore(t.Context(), bytes.NewReader(append(backup, sum[:]...)), path); err != nil {
			if _, err := os.Stat(path); err == nil {
				t.Fatalf("seed %d, backup %d: refused, but it has left a file", seed, i)
			}
		}
	}
}
