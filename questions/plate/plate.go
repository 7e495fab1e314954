// Package plate draws what a species leaves behind – its print, its trail,
// its scat, its skull – from the catalogue's trait values and nothing else.
// A plate says in no way which species it shows: the hand's wobble is seeded
// from the trait values, and the markup carries only neutral marks. What the
// catalogue does not know is not drawn; what it calls variable is at most
// sketched with a broken line.
package plate

import (
	"hash/fnv"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// Plate is a finished drawing.
type Plate struct {
	SVG string
	Alt string // what is seen, not what it is
}

const schematic = "schematic"

// facts reads a species' values; it can't tell its name.
type facts map[string]catalogue.Value

// text is a known state or yes/no, else empty.
func (f facts) text(trait string) string {
	if v := f[trait]; v.Known() {
		return v.Text
	}
	return ""
}

func (f facts) is(trait, text string) bool { return f.text(trait) == text }
func (f facts) yes(trait string) bool      { return f.is(trait, "yes") }
func (f facts) varies(trait string) bool   { return f[trait].Status == catalogue.Variable }

func (f facts) oneOf(trait string, texts ...string) bool {
	return slices.Contains(texts, f.text(trait))
}

func (f facts) count(trait string) (int, bool) {
	v := f[trait]
	return int(v.Lo), v.Known() && v.Number() && v.Lo == v.Hi
}

// middle of a known range, in the trait's unit.
func (f facts) middle(trait string) (float64, bool) {
	v := f[trait]
	return (v.Lo + v.Hi) / 2, v.Known() && v.Number() && v.Lo > 0
}

func (f facts) has(trait, member string) bool {
	return f[trait].Known() && slices.Contains(f[trait].Members, member)
}

// seed of the hand that draws: the same values give the same plate.
func (f facts) seed(subject string, traits ...string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(subject))
	for _, t := range traits {
		h.Write([]byte("|" + f[t].String()))
	}
	return h.Sum64()
}

// sentence joins what is seen into one description.
func sentence(parts ...string) string {
	parts = slices.DeleteFunc(parts, func(s string) bool { return s == "" })
	s := strings.Join(parts, "; ") + "."
	return strings.ToUpper(s[:1]) + s[1:]
}

func when(cond bool, s string) string {
	if cond {
		return s
	}
	return ""
}
