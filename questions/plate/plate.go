// Package plate draws what a species leaves behind – its print, its trail,
// its scat, its skull – from the catalogue's trait values and sheets of forms.
// A plate says in no way which species it shows: the hand's wobble is seeded
// from the trait values, and the markup carries only neutral marks. What the
// catalogue does not know is not drawn; what it calls variable is at most
// sketched with a broken or a faint line.
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

// Hand is whose hand draws. Another hand makes strokes of its own of the same
// shapes and measures, so that who has the drawings of one can't look up those
// of another. Without a name of a hand, the catalogue's own draws.
type Hand uint64

const own Hand = 0

// Track, Scat, Skull, SkullSide, SkullAbove, Labelled and Pair draw by the catalogue's own hand.
func Track(s catalogue.Species, foot string) (Plate, bool)    { return own.Track(s, foot) }
func Scat(s catalogue.Species) (Plate, bool)                  { return own.Scat(s) }
func Skull(s catalogue.Species) (Plate, bool)                 { return own.Skull(s) }
func SkullSide(s catalogue.Species) (Plate, bool)             { return own.SkullSide(s) }
func SkullAbove(s catalogue.Species) (Plate, bool)            { return own.SkullAbove(s) }
func Labelled(s catalogue.Species, term string) (Plate, bool) { return own.Labelled(s, term) }
func Pair(a catalogue.Species, footA string, b catalogue.Species, footB string) (Plate, bool) {
	return own.Pair(a, footA, b, footB)
}

// HasTrack, HasScat and HasSkull report whether the catalogue knows enough for
// a drawing, without drawing it.
func HasTrack(s catalogue.Species, foot string) bool {
	_, ok := own.print(s, foot, 0)
	return ok
}

func HasScat(s catalogue.Species) bool {
	_, ok := own.dropping(s)
	return ok
}

func HasSkull(s catalogue.Species) bool {
	f := facts(s.Values)
	form, known := formOf(s.Name, f)
	if !known || !s.Has("skull") {
		return false
	}
	_, told := formulaOf(s.Name, f, form)
	return told
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
func (f facts) middle(trait string) (float64, bool) { return f.within(trait, .5) }

// within a known range, at a part of the way from its low end to its high one.
func (f facts) within(trait string, at float64) (float64, bool) {
	v := f[trait]
	return lerp(v.Lo, v.Hi, at), v.Known() && v.Number() && v.Lo > 0
}

// seed of what is drawn: the same hand draws the same values alike.
func (h Hand) seed(f facts, subject string, traits ...string) uint64 {
	sum := fnv.New64a()
	sum.Write([]byte(subject))
	for _, t := range traits {
		sum.Write([]byte("|" + f[t].String()))
	}
	return sum.Sum64() ^ uint64(h)
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
