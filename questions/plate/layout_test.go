package plate

import (
	"bytes"
	"compress/gzip"
	"regexp"
	"slices"
	"strconv"
	"testing"
	"unicode/utf8"

	"fieldsign/questions/catalogue"
)

var textElement = regexp.MustCompile(`<text x="([-.\d]+)" y="([-.\d]+)" font-size="([.\d]+)" text-anchor="(\w+)"[^>]*>([^<]*)</text>`)

type note struct {
	says string
	at   box
}

// notes are the texts of a drawing and the room they take, at .57 of the letter
// size for a letter: what DejaVu Serif needs, wider than Georgia.
func notes(t *testing.T, svg string) []note {
	t.Helper()
	var out []note
	for _, m := range textElement.FindAllStringSubmatch(svg, -1) {
		var n [3]float64
		for i := range n {
			var err error
			if n[i], err = strconv.ParseFloat(m[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		w := .57 * n[2] * float64(utf8.RuneCountInString(m[5]))
		left := n[0] - map[string]float64{"start": 0, "middle": .5, "end": 1}[m[4]]*w
		out = append(out, note{m[5], box{}.with(pt{left, n[1] - .75*n[2]}, pt{left + w, n[1] + .2*n[2]})})
	}
	return out
}

func (b box) meets(o box) bool {
	return b.lo.x < o.hi.x && o.lo.x < b.hi.x && b.lo.y < o.hi.y && o.lo.y < b.hi.y
}

// covers reports whether an element has ink or fill in a box.
func (e element) covers(b box) bool {
	for _, line := range e.pts {
		for i, q := range line {
			next := line[min(i+1, len(line)-1)]
			for step := range 4 { // a long stroke may cross between its ends
				if at := mix(q, next, float64(step)/4); b.meets(box{at, at, true}) {
					return true
				}
			}
		}
	}
	return e.fills != "" && e.fills != "none" && len(e.pts) > 0 && inside(e.pts[0], b.mid())
}

// No note of a skull's drawing stands on an outline, a tooth, a stroke or
// another note. A ringed question mark stands in its ring.
func TestNotesStandFree(t *testing.T) {
	check := func(name string, svg string) {
		elements, root := read(t, svg)
		checkMillimetres(t, name, root)
		all := notes(t, svg)
		if len(all) < 3 {
			t.Errorf("%s: only %d notes", name, len(all))
		}
		for i, n := range all {
			if n.says == "?" {
				continue
			}
			for _, e := range elements {
				if e.covers(n.at) {
					t.Errorf("%s: %q stands on %q", name, n.says, e.name)
				}
			}
			for _, o := range all[i+1:] {
				if n.at.meets(o.at) {
					t.Errorf("%s: %q runs into %q", name, n.says, o.says)
				}
			}
		}
	}
	drawn(func(s catalogue.Species, view string, p Plate) {
		if view == "skull" || view == "side" || view == "above" {
			check(s.Name+", "+view, p.SVG)
		}
	})
	for _, l := range labels() {
		check(l.species.Name+", "+l.st.Term, l.plate.SVG)
	}
}

// A question on a phone of 360 × 640 gives a drawing 328 × 256 px. Its notes are
// read there: nine in ten have 11 px or more. The others are high for what they show.
func TestNotesAreReadOnAPhone(t *testing.T) {
	sizes := map[string][]float64{}
	look := func(kind, svg string) {
		_, w, h := boxIn(svg)
		for _, m := range textElement.FindAllStringSubmatch(svg, -1) {
			size, err := strconv.ParseFloat(m[3], 64)
			if err != nil {
				t.Fatal(err)
			}
			sizes[kind] = append(sizes[kind], size*min(328/w, 256/h))
		}
	}
	drawn(func(_ catalogue.Species, view string, p Plate) { look(view, p.SVG) })
	for _, l := range labels() {
		look("label", l.plate.SVG)
	}
	for kind, list := range sizes {
		slices.Sort(list)
		if list[0] < 9 || list[len(list)/10] < 11 {
			t.Errorf("%s: notes of %.1f px, a tenth under %.1f px", kind, list[0], list[len(list)/10])
		}
		t.Logf("%s: %d notes from %.1f px, half over %.1f px", kind, len(list), list[0], list[len(list)/2])
	}
}

// A skull with all views takes at most 30 kB, and 8 kB compressed, whoever's
// hand draws it.
func TestSkullsAreSmall(t *testing.T) {
	most, packed := 0, 0
	for _, s := range catalogue.Builtin().Species {
		for _, hand := range []Hand{own, 1, 2} {
			p, ok := hand.Skull(s)
			if !ok {
				continue
			}
			var b bytes.Buffer
			w := gzip.NewWriter(&b)
			if _, err := w.Write([]byte(p.SVG)); err != nil {
				t.Fatal(err)
			}
			if err := w.Close(); err != nil {
				t.Fatal(err)
			}
			most, packed = max(most, len(p.SVG)), max(packed, b.Len())
			if len(p.SVG) > 30_000 || b.Len() > 8_000 {
				t.Errorf("%s, hand %d: %d bytes, %d compressed", s.Name, hand, len(p.SVG), b.Len())
			}
		}
	}
	t.Logf("at most %d bytes, %d compressed", most, packed)
}
