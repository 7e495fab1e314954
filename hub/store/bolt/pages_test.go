package bolt

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/store"
)

// TestDamagedPages damages what bbolt would follow without a look, and which
// would have it go round for ever, ask for all memory or write over pages in use.
func TestDamagedPages(t *testing.T) {
	whole, records := swept(t)
	branch, freelist, leaf := lastPage(whole, branchPage), lastPage(whole, freelistPage), lastPage(whole, leafPage)
	const first = headLen // of a page's elements or ids
	path := tempFile(t)
	for name, damage := range map[string]struct {
		page []byte
		do   func(page []byte)
		says string
	}{
		"nothing":                          {branch, func([]byte) {}, ""},
		"a branch leads to itself":         {branch, func(p []byte) { order.PutUint64(p[first+8:], order.Uint64(p)) }, "in use twice"},
		"a branch leads out of the file":   {branch, func(p []byte) { order.PutUint64(p[first+8:], 1<<40) }, "asked for"},
		"a branch leads to the freelist":   {branch, func(p []byte) { order.PutUint64(p[first+8:], order.Uint64(freelist)) }, "in use twice"},
		"a branch has no elements":         {branch, func(p []byte) { order.PutUint16(p[10:], 0) }, "0 elements"},
		"a branch has too many":            {branch, func(p []byte) { order.PutUint16(p[10:], 1<<13) }, "elements"},
		"a leaf has one element less":      {leaf, func(p []byte) { order.PutUint16(p[10:], order.Uint16(p[10:])-1) }, "out of place"},
		"a leaf has a long key":            {leaf, func(p []byte) { order.PutUint32(p[first+8:], 1<<30) }, "out of place"},
		"a leaf has another id":            {leaf, func(p []byte) { order.PutUint64(p, 3) }, "says it is"},
		"a leaf goes on over another page": {leaf, func(p []byte) { order.PutUint32(p[12:], 1) }, "in use twice"},
		"a leaf is of no kind":             {leaf, func(p []byte) { order.PutUint16(p[8:], 3) }, "flags 3"},
		"a bucket is too short":            {leaf, func(p []byte) { order.PutUint32(p[first+12:], 1) }, "a bucket of 1"},
		"the freelist goes on":             {freelist, func(p []byte) { order.PutUint32(p[12:], 1<<10) }, "1024 more"},
		"the freelist has too many":        {freelist, func(p []byte) { order.PutUint16(p[10:], 1<<13) }, "the freelist"},
		"the freelist has one out of file": {freelist, func(p []byte) { order.PutUint64(p[first:], 1<<40) }, "as free"},
		"the freelist has one twice":       {freelist, func(p []byte) { copy(p[first+8:], p[first:first+8]) }, "in use twice"},
		"the freelist has one in use":      {freelist, func(p []byte) { order.PutUint64(p[first:], order.Uint64(leaf)) }, "free as well"},
	} {
		sound := slices.Clone(damage.page)
		damage.do(damage.page)
		err := os.WriteFile(path, whole, 0o600)
		damaged := slices.Clone(whole)
		copy(damage.page, sound)
		if err != nil {
			t.Fatal(err)
		}
		n, err := readFile(path)
		if left, err := os.ReadFile(path); damage.says != "" && (err != nil || !bytes.Equal(left, damaged)) {
			t.Errorf("%s: the refused file was changed, error %v", name, err)
		}
		switch {
		case damage.says == "" && (n != records || err != nil):
			t.Errorf("%s: %d records, error %v; want %d", name, n, err, records)
		case damage.says != "" && (!errors.Is(err, ErrNotStore) || !strings.Contains(err.Error(), damage.says)):
			t.Errorf("%s: error %v; want ErrNotStore that says %q", name, err, damage.says)
		}
	}
}

// lastPage is the last page of the kind in the file.
func lastPage(file []byte, flags uint16) []byte {
	size := int(order.Uint32(file[headLen+8:]))
	for at := len(file) - size; ; at -= size {
		if page := file[at : at+size]; order.Uint16(page[8:]) == flags {
			return page
		}
	}
}

// A freelist of 65,535 pages or more has their number in front.
func TestLongFreelist(t *testing.T) {
	const count, size = fullCount + 1, 4096
	const overflow = (headLen + idLen*(1+count)) / size
	list := func(said uint64) *pages {
		page := make([]byte, (2+1+overflow)*size)
		p := page[2*size:]
		order.PutUint64(p, 2)
		order.PutUint16(p[8:], freelistPage)
		order.PutUint16(p[10:], fullCount)
		order.PutUint32(p[12:], overflow)
		order.PutUint64(p[headLen:], said)
		for i := range uint64(count) {
			order.PutUint64(p[headLen+idLen*(1+i):], 3+overflow+i)
		}
		return &pages{file: bytes.NewReader(page), size: size, taken: make([]bool, 3+overflow+count)}
	}
	whole := list(count)
	if err := whole.checkFreelist(2); err != nil || slices.Contains(whole.taken[2:], false) {
		t.Errorf("error %v; want none, and all pages taken", err)
	}
	for _, said := range []uint64{1 << 20, 1 << 63, 1<<64 - 1} {
		if err := list(said).checkFreelist(2); err == nil || !strings.Contains(err.Error(), "entries") {
			t.Errorf("%d entries: %v; want an error", said, err)
		}
	}
}

// TestSoundPages opens a file again that has pages of all kinds.
func TestSoundPages(t *testing.T) {
	path := tempFile(t)
	s := open(t, path)
	jpeg := bytes.Repeat([]byte("jpeg"), 1<<15)
	for _, id := range []string{"a", "b", "c"} { // each over many pages
		if err := s.PutPhoto(t.Context(), store.Photo{PhotoInfo: store.PhotoInfo{ID: id}, JPEG: jpeg}); err != nil {
			t.Fatal(err)
		}
	}
	for seq := 1; seq <= 3000; seq += 30 { // a log with branches, and pages that become free
		if err := s.Append(t.Context(), numbered("fox", seq, 30)); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.AddResult(t.Context(), "2026", store.Result{Game: "fox", Began: "2026-05-01"}); err != nil { // a bucket in a page
		t.Fatal(err)
	}
	for range 2 { // the second time is after a compaction
		closeStore(t, s)
		s = open(t, path)
		if n, err := readNumbered(s, "fox"); n != 3000 || err != nil {
			t.Errorf("%d records, error %v; want 3000", n, err)
		}
		if p, err := s.Photo(t.Context(), "c"); err != nil || !bytes.Equal(p.JPEG, jpeg) {
			t.Errorf("photo: %d bytes, error %v; want %d", len(p.JPEG), err, len(jpeg))
		}
		if err := s.DeletePhoto(t.Context(), "b"); err != nil {
			t.Fatal(err)
		}
	}
	closeStore(t, s)
}
