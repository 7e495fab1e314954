package codes

import (
	"regexp"
	"slices"
	"testing"
)

func TestJoinCodes(t *testing.T) {
	t.Parallel()
	if n := len(codeWords); n < 512 {
		t.Errorf("%d words: a code has to be one of 26 million at least", n)
	}
	if !slices.IsSorted(codeWords) || len(slices.Compact(slices.Clone(codeWords))) != len(codeWords) {
		t.Error("codewords.txt is not sorted, or has a word twice")
	}
	shape := regexp.MustCompile(`^[a-z]{2,9}-[a-z]{2,9}-[0-9]{2}$`)
	seen := map[string]bool{}
	for range 2000 {
		code := New()
		if !shape.MatchString(code) || Clean(code) != code {
			t.Fatalf("a join code is %q", code)
		}
		seen[code] = true
	}
	if len(seen) < 1998 {
		t.Errorf("2000 draws gave only %d codes", len(seen))
	}
	for _, typed := range []string{"Otter Burrow 42", " otter-burrow  42", "OTTER-BURROW-42"} {
		if Clean(typed) != "otter-burrow-42" {
			t.Errorf("%q is read as %q", typed, Clean(typed))
		}
	}
}
