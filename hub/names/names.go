// Package names screens the names that teams choose, by a list of words that
// a school can replace. It knows words, not people: the host still sees every
// name and can remove a team.
package names

import (
	"bufio"
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"fieldsign/game/alike"
)

//go:embed refused.txt
var builtin string

// List is what is refused. It is never changed, and safe for concurrent use.
type List struct {
	words  map[string]bool // as words of their own
	within []string        // anywhere
}

// Builtin is the list that comes with the program.
func Builtin() *List {
	l, err := Parse(builtin)
	if err != nil {
		panic(err) // its test would have failed
	}
	return l
}

// Parse reads a list: a word a line, # before a remark, * after a word that is
// refused inside of others too.
func Parse(text string) (*List, error) {
	l := &List{words: map[string]bool{}}
	lines := bufio.NewScanner(strings.NewReader(text))
	for n := 1; lines.Scan(); n++ {
		line := strings.TrimSpace(strings.TrimPrefix(lines.Text(), "\ufeff"))
		if line == "" || line[0] == '#' {
			continue
		}
		word, anywhere := strings.CutSuffix(line, "*")
		folded := strings.Join(split(word), "")
		switch {
		case !utf8.ValidString(line):
			return nil, fmt.Errorf("line %d is not UTF-8: save the list as UTF-8", n)
		case len(strings.Fields(word)) != 1 || utf8.RuneCountInString(folded) < 2:
			return nil, fmt.Errorf("line %d: %q is not one word of two letters or more", n, line)
		case anywhere && utf8.RuneCountInString(folded) < 4:
			return nil, fmt.Errorf("line %d: %q is too short for a *: it would refuse harmless names", n, line)
		case anywhere:
			l.within = append(l.within, folded)
		default:
			l.words[folded] = true
		}
	}
	return l, lines.Err()
}

// Refuses tells whether a name holds a word of the list: as a word, hidden in
// one, or spelled out with spaces or signs between its letters.
func (l *List) Refuses(name string) bool {
	words := split(name)
	spelled := "" // of single letters in a row
	for _, w := range words {
		if utf8.RuneCountInString(w) == 1 {
			spelled += w
		} else {
			spelled = ""
		}
		if l.holds(w) || l.holds(spelled) {
			return true
		}
	}
	return l.words[strings.Join(words, "")]
}

func (l *List) holds(word string) bool {
	for _, w := range []string{word, squeeze(word)} {
		if l.words[w] || slices.ContainsFunc(l.within, func(bad string) bool { return strings.Contains(w, bad) }) {
			return true
		}
	}
	return false
}

// lookalike are signs and letters that stand for others.
var lookalike = map[rune]rune{'0': 'o', '1': 'i', '!': 'i', '|': 'i', '3': 'e', '€': 'e', '4': 'a', '@': 'a', '5': 's', '$': 's', '7': 't', '+': 't', '8': 'b',
	'и': 'u'} // letters of other scripts are alike's, save for this one

// split folds a name into words of small letters without accents, digits and
// look-alikes read as the letters that they stand for. Digits after a word, as
// in "Otters 5", are a number and no letters.
func split(name string) []string {
	var words []string
	for _, word := range strings.FieldsFunc(latin(norm.NFKD.String(name)), separates) {
		if strings.ContainsFunc(word, unicode.IsLetter) || strings.ContainsFunc(word, isSign) {
			words = append(words, strings.Map(fold, word))
		} else if utf8.RuneCountInString(word) == 1 {
			words = append(words, strings.Map(fold, word)) // perhaps of a word spelled out
		}
	}
	return words
}

// latin writes a name in small letters, and those of other scripts as the Latin
// ones that they look like.
func latin(name string) string {
	var b strings.Builder
	for _, r := range name {
		b.WriteString(strings.ToLower(alike.Plain(r)))
	}
	return b.String()
}

func isSign(r rune) bool { return r == '@' || r == '$' || r == '€' }

func separates(r rune) bool {
	return lookalike[r] == 0 && !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r)
}

func fold(r rune) rune {
	switch to := lookalike[r]; {
	case to != 0:
		return to
	case unicode.IsMark(r):
		return -1
	}
	return r
}

// squeeze writes a letter once that is drawn out over three or more. Two in a
// row are left, as in harmless words.
func squeeze(word string) string {
	letters := []rune(word)
	var out []rune
	for i := 0; i < len(letters); {
		end := i + 1
		for end < len(letters) && letters[end] == letters[i] {
			end++
		}
		out = append(out, letters[i])
		if end-i == 2 {
			out = append(out, letters[i])
		}
		i = end
	}
	return string(out)
}
