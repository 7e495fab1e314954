package plate

import (
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// TestFramesOfOneScale: drawn for frames of one size a print is as long as life, or
// so many times as is said in large type.
func TestFramesOfOneScale(t *testing.T) {
	const frame = 200
	for _, s := range catalogue.Builtin().Species {
		p, ok := own.TrackFramed(s, "front", frame)
		if !ok {
			continue
		}
		if p.Alt != mustTrack(s).Alt {
			t.Errorf("%s: framed, other words are said of it", s.Name)
		}
		elements, root := read(t, p.SVG)
		checkMillimetres(t, s.Name, root)
		checkEnlarged(t, s.Name, p, boxOf(named(elements, ofTheSize...)).h(), boxOf(named(readAlone(t, mustTrack(s)), ofTheSize...)).h())
	}
	for _, s := range catalogue.Builtin().Species {
		p, ok := own.ScatFramed(s, frame)
		if !ok {
			continue
		}
		alone, _ := Scat(s)
		elements, _ := read(t, p.SVG)
		checkEnlarged(t, s.Name, p, boxOf(named(elements, "body")).w(), boxOf(named(readAlone(t, alone), "body")).w())
	}
}

func mustTrack(s catalogue.Species) Plate {
	p, _ := Track(s, "front")
	return p
}

func readAlone(t *testing.T, p Plate) []element {
	elements, _ := read(t, p.SVG)
	return elements
}

func checkEnlarged(t *testing.T, name string, p Plate, framed, alone float64) {
	t.Helper()
	times := 1.
	if _, after, said := strings.Cut(p.SVG, ">× "); said {
		times = floats(strings.SplitN(after, "<", 2)[0])[0]
	}
	if !within(framed, times*alone, .03) {
		t.Errorf("%s: %.1f mm in its frame, %.1f alone, enlarged %g times", name, framed, alone, times)
	}
}

// Drawings that are compared have boxes of one size, no larger than one of them needs.
func TestInOneBox(t *testing.T) {
	c := catalogue.Builtin()
	var prints []Plate
	for _, name := range []string{"Lynx rufus", "Ursus americanus", "Mus musculus"} {
		s, _ := c.Find(name)
		p, ok := own.TrackFramed(s, "front", 160)
		if !ok {
			t.Fatalf("%s is not drawn", name)
		}
		prints = append(prints, p)
	}
	var wide, high float64
	for i, p := range InOneBox(prints) {
		at, w, h := boxIn(p.SVG)
		inner, wi, hi := boxIn(prints[i].SVG)
		if i > 0 && (w != wide || h != high) {
			t.Errorf("boxes of %g × %g and %g × %g mm", wide, high, w, h)
		}
		wide, high = w, h
		if got, want := at.add(pt{w / 2, h / 2}).sub(inner.add(pt{wi / 2, hi / 2})).norm(), .02; got > want {
			t.Errorf("drawing %d stands %.2f mm beside the middle", i, got)
		}
		_, root := read(t, p.SVG)
		checkMillimetres(t, "print", root)
	}
	_, w, h := boxIn(prints[1].SVG) // the bear's
	if wide != w || high != h {
		t.Errorf("boxes of %g × %g mm, and the largest print needs %g × %g", wide, high, w, h)
	}
}
