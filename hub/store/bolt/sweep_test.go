package bolt

import (
	"errors"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
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

// places are those of a sweep: all in the long run, or else so many by chance.
func places(t *testing.T, all, some int) []int {
	t.Helper()
	if os.Getenv("FIELDSIGN_SOAK") != "" {
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

// outcome holds what a damaged file gives: all records, or a refusal, and in no
// case a wrong one.
func outcome(t *testing.T, path string, content []byte, records uint64) (refused bool) {
	t.Helper()
	// A new file each time: after a panic the old one stays locked.
	if err := errors.Join(os.RemoveAll(path), os.WriteFile(path, content, 0o600)); err != nil {
		t.Fatal(err)
	}
	n, err := readFile(path)
	if errors.Is(err, errWrong) || err == nil && n != records {
		t.Errorf("%d records of %d, error %v", n, records, err)
	}
	return err != nil
}

// TestTornAnywhere cuts the file off at offsets of its last 64 KB, each page's
// first and last byte among them.
func TestTornAnywhere(t *testing.T) {
	whole, records := swept(t)
	offsets := places(t, sweepTail, 300)
	for page := 0; page < sweepTail; page += 4096 {
		offsets = append(offsets, page, page+1, page+4095)
	}
	path, refused := tempFile(t), 0
	for _, offset := range offsets {
		if outcome(t, path, whole[:len(whole)-sweepTail+offset], records) {
			refused++
		}
	}
	t.Logf("%d of %d cuts refused; after the others all records were there", refused, len(offsets))
}

// TestFlippedAnywhere flips one bit in a byte of the 64 KB that were written
// last, which are the file's last that are in use.
func TestFlippedAnywhere(t *testing.T) {
	whole, records := swept(t)
	used := len(whole)
	for used > sweepTail && whole[used-1] == 0 {
		used--
	}
	path, refused := tempFile(t), 0
	bytes := places(t, sweepTail, 300)
	for _, at := range bytes {
		content := slices.Clone(whole)
		content[used-sweepTail+at] ^= 1 << rand.IntN(8)
		if outcome(t, path, content, records) {
			refused++
		}
	}
	t.Logf("%d of %d flips refused; the others hit nothing in use", refused, len(bytes))
	if refused == 0 {
		t.Error("the flips prove nothing")
	}
}
