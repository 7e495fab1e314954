package plate

import (
	"regexp"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
)

var handViews = map[string]func(Hand, catalogue.Species) (Plate, bool){
	"front": func(h Hand, s catalogue.Species) (Plate, bool) { return h.Track(s, "front") },
	"hind":  func(h Hand, s catalogue.Species) (Plate, bool) { return h.Track(s, "hind") },
	"pair":  func(h Hand, s catalogue.Species) (Plate, bool) { return h.Pair(s, "front", s, "hind") },
	"label": func(h Hand, s catalogue.Species) (Plate, bool) { return h.Labelled(s, "orbit") },
	"scat":  Hand.Scat, "skull": Hand.Skull, "side": Hand.SkullSide,
}

var numberIn = regexp.MustCompile(`[-.\d ]+`)

// Another hand draws the same: what is seen, counted and measured. By its bytes
// a drawing is not found among those of the first hand, nor by its markup
// without the numbers.
func TestHands(t *testing.T) {
	drawn, each := 0, soak.Size(4, 1) // one of so many animals
	for view, draw := range handViews {
		bytes, markup := map[string]bool{}, map[string]bool{}
		var other []Plate
		for i, s := range catalogue.Builtin().Species {
			if i%each > 0 {
				continue
			}
			first, ok := draw(own, s)
			if !ok {
				continue
			}
			drawn++
			bytes[first.SVG], markup[numberIn.ReplaceAllString(first.SVG, "")] = true, true
			second, _ := draw(0x5eed, s)
			other = append(other, second)
			if first.Alt != second.Alt {
				t.Errorf("%s, %s: %q by another hand is %q", s.Name, view, first.Alt, second.Alt)
			}
			sameParts(t, s.Name+", "+view, first, second)
		}
		for _, p := range other {
			if bytes[p.SVG] || markup[numberIn.ReplaceAllString(p.SVG, "")] {
				t.Errorf("%s: the drawing of %q is found among those of another hand", view, p.Alt)
			}
		}
	}
	if drawn < 300/each {
		t.Errorf("only %d drawings", drawn)
	}
}

func sameParts(t *testing.T, what string, first, second Plate) {
	t.Helper()
	a, _ := read(t, first.SVG)
	b, _ := read(t, second.SVG)
	for _, part := range []string{"toe", "pad", "sole", "web", "claw", "bar", "I", "C", "P", "M", "side-I", "side-C", "side-P", "side-M", "cranium"} {
		if len(named(a, part)) != len(named(b, part)) {
			t.Errorf("%s: %d × %s by one hand, %d by another", what, len(named(a, part)), part, len(named(b, part)))
		}
	}
	if strings.HasSuffix(what, ", pair") {
		return // claws, which vary with the hand, hold the two apart
	}
	for _, measured := range [][]string{{"toe", "pad", "sole", "web", "back", "heel", "thumb", "pebble", "fur"}, {"cranium"}, {"bar"}} {
		x, y := boxOf(named(a, measured...)), boxOf(named(b, measured...))
		if len(named(a, measured...)) > 0 && (!within(x.w(), y.w(), .01) || measured[0] == "toe" && !within(x.h(), y.h(), .01)) {
			t.Errorf("%s: %.2f × %.2f mm by one hand, %.2f × %.2f by another", what, x.w(), x.h(), y.w(), y.h())
		}
	}
}
