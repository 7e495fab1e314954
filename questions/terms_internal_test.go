package questions

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// Of a set of the size that WithTerms says, as many as asked for are not on terms.
func TestWithTerms(t *testing.T) {
	for count := range 60 {
		size, terms := WithTerms(count), 0
		for i := range size {
			if p := (planner{set: make([]Question, i)}); p.loreDue() {
				terms++
			}
		}
		if size-terms != count {
			t.Errorf("%d questions: a set of %d with %d on terms", count, size, terms)
		}
	}
}

// No stem of a question on terms has a word of its key that half of the wrong options or
// more lack: whoever knows nothing would match the two. Some words tell nothing.
func TestNoStemEchoesItsKey(t *testing.T) {
	const shortest = 4 // letters
	plain := strings.Fields("teeth that with from which than more only what where when most each animal animals")
	words := func(s string) []string {
		return slices.DeleteFunc(wordsOf(s), func(w string) bool { return len(w) < shortest || slices.Contains(plain, w) })
	}
	same := func(a, b string) bool { return strings.TrimSuffix(a, "s") == strings.TrimSuffix(b, "s") }
	c, dice := catalogue.Builtin(), rand.New(rand.NewPCG(1, 2))
	for _, lt := range loreTemplates {
		for _, l := range c.Lore {
			if l.Kind != lt.kind || lt.jaw {
				continue
			}
			q, ok := lt.about(l, c.Lore, dice, &english)
			if !ok {
				continue
			}
			stem := l.Told
			if lt.byName {
				stem = l.Said
			}
			for _, w := range words(q.Options[0].Text) {
				in := func(text string) bool {
					return slices.ContainsFunc(words(text), func(o string) bool { return same(o, w) })
				}
				without := slices.DeleteFunc(slices.Clone(q.Options[1:]), func(o Option) bool { return in(o.Text) })
				if in(stem) && 2*len(without) >= len(q.Options)-1 {
					t.Errorf("%s: %q has %q of its key %q", lt.name, stem, w, q.Options[0].Text)
				}
			}
		}
	}
}
