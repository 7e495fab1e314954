package plate

import (
	"cmp"
	"math"
	"regexp"
	"slices"
	"strconv"
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
		first, second := parted(named(elements, ofTheSize...))
		said := sizeSaid.FindAllStringSubmatch(p.Alt, -1)
		checkPrint(t, s, "front", first, said[0])
		checkPrint(t, s, "hind", second, said[1])
	}
	if n < 40 {
		t.Errorf("only %d species have both prints", n)
	}
}

// parted are the elements of the first print and of the second.
func parted(elements []element) (first, second []element) {
	for _, e := range elements {
		if e.group == "print 1" {
			first = append(first, e)
		} else if e.group == "print 2" {
			second = append(second, e)
		}
	}
	return first, second
}

var sizeSaid = regexp.MustCompile(`about ([\d.]+) cm long and ([\d.]+) cm wide`)

// checkPrint holds a print to the size that is said of it, and that to the
// species' range.
func checkPrint(t *testing.T, s catalogue.Species, side string, elements []element, said []string) {
	t.Helper()
	b := boxOf(elements)
	for i, got := range []float64{b.h() / 10, b.w() / 10} {
		cm, _ := strconv.ParseFloat(said[i+1], 64)
		known := s.Values[side+[]string{"_length", "_width"}[i]]
		if math.Abs(got-cm) > .05+.01*cm || got < known.Lo || got > known.Hi {
			t.Errorf("%s, %s: drawn %.2f cm, said %.1f, known %g to %g", s.Name, side, got, cm, known.Lo, known.Hi)
		}
	}
	if got, want := len(named(elements, "toe")), s.Values[side+"_toes"]; want.Known() && got != int(want.Lo) {
		t.Errorf("%s, %s: %d toes drawn, %g counted", s.Name, side, got, want.Lo)
	}
}

// Two individuals of one kind are two drawings: of other size and proportions,
// so that neither is the other's mirror image.
func TestTwoIndividuals(t *testing.T) {
	for _, s := range catalogue.Builtin().Species {
		for _, foot := range []string{"front", "hind"} {
			if !HasPair(s, foot) {
				continue
			}
			p, _ := Pair(s, "left "+foot, s, foot)
			elements, _ := read(t, p.SVG)
			left, right := parted(named(elements, ofTheSize...))
			a, b := boxOf(left), boxOf(right)
			if within(a.h(), b.h(), .03) {
				t.Errorf("%s, %s: both prints are %.1f mm long", s.Name, foot, a.h())
			}
			if alike(left, a, right, b) {
				t.Errorf("%s, %s: one print mirrored", s.Name, foot)
			}
		}
	}
}

// alike reports whether the toes of a left print lie as those of a right one
// do, mirrored, within a hundredth of its length.
func alike(left []element, a box, right []element, b box) bool {
	var ours, theirs []pt
	for _, e := range named(left, "toe") {
		at := e.box().mid().sub(a.mid())
		ours = append(ours, pt{-at.x, at.y}.times(1/a.h()))
	}
	for _, e := range named(right, "toe") {
		theirs = append(theirs, e.box().mid().sub(b.mid()).times(1/b.h()))
	}
	byPlace := func(p, q pt) int { return cmp.Compare(p.x+p.y/10, q.x+q.y/10) }
	slices.SortFunc(ours, byPlace)
	slices.SortFunc(theirs, byPlace)
	return slices.EqualFunc(ours, theirs, func(p, q pt) bool { return p.sub(q).norm() < .004 })
}

func TestNoPairOfUnknownSize(t *testing.T) {
	horse, _ := catalogue.Builtin().Find("Equus caballus")
	dog, _ := catalogue.Builtin().Find("Canis latrans")
	if _, ok := Pair(dog, "front", horse, "front"); ok {
		t.Error("a print of unknown size is drawn to a scale")
	}
}

// The captions of two prints stand free of each other, in either language.
func TestCaptionsOfAPairStandFree(t *testing.T) {
	c := catalogue.Builtin()
	for _, names := range [][2]string{{"Canis latrans", "Lynx rufus"}, {"Mus musculus", "Mus musculus"}, {"Ursus arctos", "Mephitis mephitis"}} {
		a, _ := c.Find(names[0])
		b, _ := c.Find(names[1])
		p, ok := Pair(a, "left front", b, "hind")
		if !ok {
			t.Fatalf("%v are not drawn", names)
		}
		for _, l := range []catalogue.Language{catalogue.English, catalogue.Spanish} {
			in := p.In(l)
			all := notes(t, in.SVG)
			at, w, h := boxIn(in.SVG)
			for i, n := range all {
				if !n.at.meets(box{at, at.add(pt{w, h}), true}) || n.at.lo.x < at.x || n.at.hi.x > at.x+w {
					t.Errorf("%v: %q leaves the drawing", names, n.says)
				}
				for _, o := range all[i+1:] {
					if n.at.meets(o.at) {
						t.Errorf("%v: %q runs into %q", names, n.says, o.says)
					}
				}
			}
		}
	}
}
