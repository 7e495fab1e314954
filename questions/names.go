package questions

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"fieldsign/questions/catalogue"
)

// Names finds the species meant by a typed name: vernacular, other, Spanish or
// scientific, whatever its case, accents, hyphens, spaces and article, and with
// a slip or two in a longer name. It is read-only once built and safe for
// concurrent use.
type Names struct {
	entries []nameEntry
}

type nameEntry struct {
	letters []rune
	species string
}

// NewNames takes the names of a roster's species. Those in the catalogue's
// language come first: "nutria" is a coypu in English, an otter in Spanish.
func NewNames(c *catalogue.Catalogue, roster catalogue.Roster) *Names {
	n := &Names{}
	taken := map[string]string{} // by letters
	for _, own := range []bool{true, false} {
		for _, e := range roster.Entries {
			s, _ := c.Find(e.Species)
			for _, name := range namesOf(s, c.Language, own) {
				letters := fold(name)
				if len(letters) == 0 || !own && taken[string(letters)] != "" {
					continue
				}
				n.entries = append(n.entries, nameEntry{letters, s.Name})
				if own {
					taken[string(letters)] = s.Name
				}
			}
		}
	}
	return n
}

// namesOf are a species' names in a language, or all others.
func namesOf(s catalogue.Species, l catalogue.Language, own bool) []string {
	english, spanish := append([]string{s.Vernacular}, s.OtherNames...), append([]string{s.Spanish}, s.OtherSpanish...)
	switch {
	case own && l == catalogue.Spanish:
		return append(spanish, s.Name)
	case own:
		return append(english, s.Name)
	case l == catalogue.Spanish:
		return english
	}
	return spanish
}

const (
	longestTyped = 200 // bytes; the longest names have some 40
	mostSlips    = 3
)

// slips is how many slips a name of so many letters may be typed with.
func slips(letters int) int {
	switch {
	case letters <= 3:
		return 0
	case letters <= 5:
		return 1
	case letters <= 12:
		return 2
	}
	return mostSlips
}

// Match returns the scientific name of the species meant. It reports false
// where no name is near enough, and where another species has a name as near
// or nearer: a guess is never made between two.
func (n *Names) Match(typed string) (species string, ok bool) {
	if len(typed) > longestTyped {
		return "", false
	}
	letters := fold(typed)
	best, nearest := mostSlips+1, map[string]bool{}
	for _, e := range n.entries {
		if gap := len(e.letters) - len(letters); gap > mostSlips || gap < -mostSlips {
			continue // at least that many slips
		}
		d := editDistance(letters, e.letters)
		if d < best {
			best, species, ok = d, e.species, false
			clear(nearest)
		}
		if d == best {
			nearest[e.species] = true
			ok = ok || d <= slips(len(e.letters))
		}
	}
	if !ok || len(nearest) != 1 {
		return "", false
	}
	return species, true
}

// articles may lead a name.
var articles = []string{"the", "a", "an", "el", "la", "los", "las", "un", "una"}

// fold reduces a name to its letters and digits: lower case, without accents,
// without a leading article.
func fold(name string) []rune {
	words := strings.FieldsFunc(strings.ToLower(norm.NFD.String(strings.ToValidUTF8(name, ""))), func(r rune) bool {
		return unicode.IsSpace(r) || unicode.Is(unicode.Pd, r)
	})
	if len(words) > 1 && slices.Contains(articles, words[0]) {
		words = words[1:]
	}
	plain := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, strings.Join(words, ""))
	return []rune(norm.NFC.String(plain))
}

// editDistance is the full Damerau-Levenshtein distance: the fewest insertions,
// deletions, replacements and swaps of neighbours, where letters once swapped
// may still be edited. Unlike optimal string alignment it is a metric.
func editDistance(a, b []rune) int {
	far := len(a) + len(b)
	d := make([][]int, len(a)+2) // one row and column more, for swaps with nothing before them
	for i := range d {
		d[i] = make([]int, len(b)+2)
		d[i][0], d[i][1] = far, max(i-1, 0)
	}
	for j := range d[0] {
		d[0][j] = far
		d[1][j] = max(j-1, 0)
	}
	lastRow := map[rune]int{} // where in a each letter was last seen
	for i := 1; i <= len(a); i++ {
		lastCol := 0 // where in b this letter of a was last seen
		for j := 1; j <= len(b); j++ {
			row, col := lastRow[b[j-1]], lastCol
			change := 1
			if a[i-1] == b[j-1] {
				change, lastCol = 0, j
			}
			swap := d[row][col] + (i - row - 1) + 1 + (j - col - 1)
			d[i+1][j+1] = min(d[i][j]+change, d[i+1][j]+1, d[i][j+1]+1, swap)
		}
		lastRow[a[i-1]] = i
	}
	return d[len(a)+1][len(b)+1]
}
