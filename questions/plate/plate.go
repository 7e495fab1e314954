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

// HasTrack, HasScat and HasSkull report whether the catalogue knows enough for
// a drawing, without drawing it.
func HasTrack(s catalogue.Species, foot string) bool {
	_, _, ok := footprint(facts(s.Values), strings.TrimPrefix(foot, "left "))
	return ok
}

func HasScat(s catalogue.Species) bool { return scatForms[facts(s.Values).text("scat_form")] != nil }

func HasSkull(s catalogue.Species) bool {
	f := facts(s.Values)
	_, known := formOf(f)
	_, told := readFormula(f["dental_formula"].Text)
	return known && told && s.Has("skull")
}

// facts reads a species' values; it can't tell its name.
type facts map[string]catalogue.Value

// text is a known state or yes/no, else empty.
func (f facts) text(trait string) string {
	if v := f[trait].Typical(); v.Known() {
		return v.Text
	}
	return ""
}

func (f facts) is(trait, text string) bool { return f.text(trait) == text }
func (f facts) yes(trait string) bool      { return f.is(trait, "yes") }

func (f facts) oneOf(trait string, texts ...string) bool {
	return slices.Contains(texts, f.text(trait))
}

func (f facts) count(trait string) (int, bool) {
	v := f[trait].Typical()
	return int(v.Lo), v.Known() && v.Number() && v.Lo == v.Hi
}

// middle of a known range, in the trait's unit.
func (f facts) middle(trait string) (float64, bool) {
	v := f[trait]
	return (v.Lo + v.Hi) / 2, v.Known() && v.Number() && v.Lo > 0
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

// sentence makes one description of what is seen.
func sentence(parts ...string) string {
	s := listed(parts...) + "."
	return strings.ToUpper(s[:1]) + s[1:]
}

// listed joins what is seen, leaving out what is not.
func listed(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), "; ")
}

func when(cond bool, s string) string {
	if cond {
		return s
	}
	return ""
}
