// Package alike tells names apart as eyes do: letters of other scripts, wide
// ones and capitals that look like others count as those. It goes by Unicode's
// list of confusable characters (UTS #39, section 4).
package alike

import (
	"strings"

	"github.com/mtibben/confusables"
	"golang.org/x/text/unicode/norm"
)

// Look is what a name looks like. A letter may look like another in small
// alone, or as a capital alone, so a name has two.
type Look struct{ written, small string }

// Of is the look of a name. It takes some microseconds, so whoever compares
// with many names keeps theirs.
func Of(name string) Look {
	plain := norm.NFKC.String(name)
	return Look{strings.ToLower(confusables.Skeleton(plain)), confusables.Skeleton(strings.ToLower(plain))}
}

// Like reports whether eyes take one for the other.
func (l Look) Like(o Look) bool { return l.written == o.written || l.small == o.small }

// Names reports whether two names are the same to the eye, or but for capitals.
func Names(a, b string) bool { return strings.EqualFold(a, b) || Of(a).Like(Of(b)) }

// Plain is the small letters from a to z that a letter looks like, or the
// letter itself.
func Plain(r rune) string {
	if r < 0x80 {
		return string(r)
	}
	for _, s := range []string{strings.ToLower(string(r)), string(r)} {
		if looks := strings.ToLower(confusables.Skeleton(s)); !strings.ContainsFunc(looks, beyond) {
			return looks
		}
	}
	return string(r)
}

func beyond(r rune) bool { return r < 'a' || r > 'z' }
