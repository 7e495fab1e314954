package plate

import (
	"cmp"
	"slices"
	"testing"

	"fieldsign/questions/catalogue"
)

// TestPairsAtOneScale reads both prints out of a pair: their toes, and their
// length and width in millimetres.
func TestPairsAtOneScale(t *testing.T) {
	n := 0
	for _, s := range catalogue.Builtin().Species {
		if !HasPair(s, "front") || !HasPair(s, "hind") {
			continue
		}
		n++
		p, ok := Pair(s, "left front", s, "hind")
		if !ok {
			t.Fatalf("%s has no pair", s.Name)
		}
		elements, root := read(t, p.SVG)
		checkMillimetres(t, s.Name, root)
		checkBar(t, s.Name, elements, p.SVG)
		first, second := parted(named(elements, "toe", "pad", "sole", "web", "back"))
		checkPrint(t, s, "front", first)
		checkPrint(t, s, "hind", second)
	}
	if n < 40 {
		t.Errorf("only %d species have both prints", n)
	}
}

// parted cuts what is drawn at the widest upright strip that is left blank.
func parted(elements []element) (left, right []element) {
	slices.SortFunc(elements, func(a, b element) int { return cmp.Compare(a.box().lo.x, b.box().lo.x) })
	cut, widest := 0, 0.
	for i := 1; i < len(elements); i++ {
		if gap := elements[i].box().lo.x - boxOf(elements[:i]).hi.x; gap > widest {
			cut, widest = i, gap
		}
	}
	return elements[:cut], elements[cut:]
}

func checkPrint(t *testing.T, s catalogue.Species, side string, elements []element) {
	t.Helper()
	b := boxOf(elements)
	l, w := s.Values[side+"_length"], s.Values[side+"_width"]
	if !within(b.h(), 5*(l.Lo+l.Hi), .01) || !within(b.w(), 5*(w.Lo+w.Hi), .01) {
		t.Errorf("%s, %s: drawn %.2f × %.2f mm, should be %.2f × %.2f", s.Name, side, b.h(), b.w(), 5*(l.Lo+l.Hi), 5*(w.Lo+w.Hi))
	}
	if got, want := len(named(elements, "toe")), int(s.Values[side+"_toes"].Lo); got != want {
		t.Errorf("%s, %s: %d toes drawn, %d counted", s.Name, side, got, want)
	}
}

func TestNoPairOfUnknownSize(t *testing.T) {
	horse, _ := catalogue.Builtin().Find("Equus caballus")
	dog, _ := catalogue.Builtin().Find("Canis latrans")
	if _, ok := Pair(dog, "front", horse, "front"); ok {
		t.Error("a print of unknown size is drawn to a scale")
	}
}
