package plate

import (
	_ "embed"
	"encoding/csv"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"fieldsign/questions/catalogue"
)

// What is seen on a drawing is said in English as it is drawn, in phrases that
// are put one after the other. In another language each phrase has its own
// words, and those of a number its place.

//go:embed seen_es.csv
var seenInSpanish string

// phrase is one of them; # stands for a number.
type phrase struct{ english, spanish string }

// phrases are sorted so that the longest that fits comes first. What is seen of
// a skull's form or of a sign stands in its own sheet.
var phrases = sync.OnceValue(func() []phrase {
	out := readPhrases(seenInSpanish)
	for _, f := range skullForms() {
		out = append(out, phrase{f.texts["looks"], f.texts["looks_es"]})
	}
	for _, s := range signs() {
		out = append(out, phrase{s.looks, s.looksES})
	}
	slices.SortStableFunc(out, func(a, b phrase) int { return len(b.english) - len(a.english) })
	return out
})

func readPhrases(sheet string) []phrase {
	rows, err := csv.NewReader(strings.NewReader(sheet)).ReadAll()
	if err != nil {
		panic(err) // the sheet is embedded, and tested
	}
	var out []phrase
	for _, r := range rows[1:] {
		out = append(out, phrase{r[0], r[1]})
	}
	return out
}

// AltIn is what is seen, in a language.
func (p Plate) AltIn(l catalogue.Language) string { return Said(p.Alt, l) }

// noted are the words that a drawing has on it.
var noted = regexp.MustCompile(`>[^<>]+</text>`)

// In is the drawing with its words in a language, and what is seen.
func (p Plate) In(l catalogue.Language) Plate {
	if l == catalogue.English {
		return p
	}
	p.SVG = noted.ReplaceAllStringFunc(p.SVG, func(note string) string {
		words := strings.TrimSuffix(note[1:], "</text>")
		return ">" + withFirst(Said(words, l), unicode.ToLower) + "</text>"
	})
	p.Alt = p.AltIn(l)
	return p
}

// Said is a description in a language. A phrase without words there, such as a
// word of a catalogue of one's own, stays English.
func Said(alt string, l catalogue.Language) string {
	if l == catalogue.English {
		return alt
	}
	text, _ := translated(alt)
	return text
}

var numbers = regexp.MustCompile(`\d+(\.\d+)?`)

// translated goes through a description from phrase to phrase; whole says
// whether all of them were known.
func translated(alt string) (text string, whole bool) {
	found := numbers.FindAllString(alt, -1)
	rest := withFirst(numbers.ReplaceAllString(alt, "#"), unicode.ToLower)
	whole = true
	var b strings.Builder
	for {
		gap := len(rest) - len(strings.TrimLeft(rest, ";,:. "))
		b.WriteString(rest[:gap])
		if rest = rest[gap:]; rest == "" {
			break
		}
		p, known := leading(rest)
		if !known {
			whole = false
			word, _, _ := strings.Cut(rest, " ")
			word = strings.TrimRight(word, ";,:.")
			p = phrase{word, word}
		}
		b.WriteString(p.spanish)
		rest = rest[len(p.english):]
	}
	text = b.String()
	for _, n := range found {
		text = strings.Replace(text, "#", n, 1)
	}
	return withFirst(text, unicode.ToUpper), whole
}

// leading is the longest phrase that a text begins with.
func leading(text string) (phrase, bool) {
	for _, p := range phrases() {
		if after, ok := strings.CutPrefix(text, p.english); ok && (after == "" || strings.ContainsRune(";,:. ", rune(after[0]))) {
			return p, true
		}
	}
	return phrase{}, false
}

func withFirst(s string, change func(rune) rune) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(change(first)) + s[n:]
}
