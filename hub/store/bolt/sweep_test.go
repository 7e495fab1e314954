package bolt

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"fieldsign/hub/lab/soak"
)

// sweepTail is how much of a file's end the sweeps go over.
const sweepTail = 64 << 10

// swept is a file of at least a sweepTail's length whose pages are in use.
func swept(t *testing.T) (whole []byte, records uint64) {
	t.Helper()
	const many = 1500
	whole = openWith(t, numbered("fox", 1, many))
	if len(whole) < sweepTail {
		t.Fatalf("the file has %d bytes only", len(whole))
	}
	return whole, many
}

// places are so many of a sweep's by chance, or all.
func places(t *testing.T, some, all int) []int {
	t.Helper()
	if some == all {
		list := make([]int, all)
		for i := range list {
			list[i] = i
		}
		return list
	}
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	dice := rand.New(rand.NewPCG(seed, 0))
	list := make([]int, some)
	for i := range list {
		list[i] = dice.IntN(all)
	}
	return list
}

// sweep damages the file at each of the places, and counts the refusals. What is
// not refused must give all records; none may give a wrong one, blame the disk,
// stay locked, or have the store ask for much memory.
func sweep(t *testing.T, places []int, records uint64, damaged func(at int) []byte) (refused int) {
	t.Helper()
	var next, bad atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		path := filepath.Join(memoryDir(t), "games.db")
		all.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(places)); i = next.Add(1) - 1 {
				n, err := uint64(0), os.WriteFile(path, damaged(places[i]), 0o600)
				if err == nil {
					n, err = readFile(path)
				}
				if err != nil {
					bad.Add(1)
				}
				if errors.Is(err, errWrong) || errors.Is(err, ErrInUse) || errors.As(err, new(*fs.PathError)) || err == nil && n != records {
					t.Errorf("at %d: %d records of %d, error %v", places[i], n, records, err)
				}
			}
		})
	}
	all.Wait()
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	t.Logf("at most %d MB of memory", memory.Sys>>20)
	if memory.Sys > 1<<30 {
		t.Error("a damaged file had the store ask for that much")
	}
	return int(bad.Load())
}

// memoryDir is a folder in memory where the system has one, since every file of a
// sweep is synced.
func memoryDir(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("/dev/shm", "fieldsign-sweep-")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// TestTornAnywhere cuts the file off at offsets of its last 64 KB, each page's
// first and last byte among them.
func TestTornAnywhere(t *testing.T) {
	whole, records := swept(t)
	offsets := places(t, soak.Size(300, sweepTail), sweepTail)
	for page := 0; page < sweepTail; page += 4096 {
		offsets = append(offsets, page, page+1, page+4095)
	}
	refused := sweep(t, offsets, records, func(at int) []byte { return whole[:len(whole)-sweepTail+at] })
	t.Logf("%d of %d cuts refused; after the others all records were there", refused, len(offsets))
}

// TestFlippedAnywhere flips one bit of the 64 KB that end with the last byte in use.
func TestFlippedAnywhere(t *testing.T) {
	whole, records := swept(t)
	used := len(whole)
	for used > sweepTail && whole[used-1] == 0 {
		used--
	}
	bits := places(t, soak.Size(300, 8*sweepTail), 8*sweepTail)
	refused := sweep(t, bits, records, func(at int) []byte {
		content := slices.Clone(whole)
		content[used-sweepTail+at/8] ^= 1 << (at % 8)
		return content
	})
	t.Logf("%d of %d flips refused; the others hit nothing in use", refused, len(bits))
	if refused == 0 {
		t.Error("the flips prove nothing")
	}
}
