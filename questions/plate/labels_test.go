package plate

import (
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"fieldsign/questions/catalogue"
)

// pointedAt are, for each term, the names of the elements that the tip may lie
// in, as an independent reader finds them in the unlabelled drawing.
var pointedAt = map[string][]string{
	"incisors": {"side-I"}, "canines": {"side-C"}, "premolars": {"P"}, "carnassials": {"P"}, "molars": {"M"},
	"sagittal crest": {"crest"}, "zygomatic arch": {"arch"}, "orbit": {"orbit"}, "rostrum": {"cranium"}, "braincase": {"cranium"},
	"auditory bulla": {"bulla"}, "foramen magnum": {"foramen"}, "occipital condyle": {"condyle"}, "palate": {"below"},
	"mandible": {"jaw"}, "antlers": {"antler"}, "horns": {"horn"},
}

type labelledSkull struct {
	species catalogue.Species
	st      Structure
	plate   Plate
	ok      bool
	plain   Plate
}

var labels = sync.OnceValue(func() []labelledSkull {
	var out []labelledSkull
	for _, s := range catalogue.Builtin().Species {
		plain, _ := Skull(s)
		for _, st := range Structures(s) {
			p, ok := Labelled(s, st.Term)
			out = append(out, labelledSkull{s, st, p, ok, plain})
		}
	}
	return out
})

// TestTheTipLiesInTheStructure reads the label's tip from the labelled drawing
// and the structure's outline from the plain one, where parts bear names.
func TestTheTipLiesInTheStructure(t *testing.T) {
	seen := map[string]int{}
	for _, l := range labels() {
		s, st := l.species, l.st
		if !l.ok {
			t.Errorf("%s: the %s is shown, but not pointed at", s.Name, st.Term)
			continue
		}
		seen[st.Term]++
		elements, root := read(t, l.plate.SVG)
		checkMillimetres(t, s.Name, root)
		leader := named(elements, "leader")
		if len(leader) != 1 {
			t.Fatalf("%s, %s: %d leaders", s.Name, st.Term, len(leader))
		}
		whole, _ := read(t, l.plain.SVG)
		tip := leader[0].pts[0][len(leader[0].pts[0])-1]
		if st.Term == "diastema" {
			checkGap(t, s.Name, whole, tip)
			continue
		}
		at := slices.IndexFunc(named(whole, pointedAt[st.Term]...), func(e element) bool { return inside(e.pts[0], tip) })
		if at < 0 {
			t.Errorf("%s: the tip %v is not in the %s", s.Name, tip, st.Term)
		}
		checkRow(t, s, st.Term, whole, tip)
	}
	for term := range pointedAt {
		if seen[term] < 3 {
			t.Errorf("only %d drawings point at the %s", seen[term], term)
		}
	}
	t.Logf("labels: %v", seen)
}

// checkGap: right of the front teeth, left of the cheek teeth, in neither jaw.
func checkGap(t *testing.T, name string, whole []element, tip pt) {
	t.Helper()
	front, cheek := boxOf(named(whole, "side-I", "side-C")), boxOf(named(whole, "side-P", "side-M"))
	if tip.x <= front.hi.x || tip.x >= cheek.lo.x {
		t.Errorf("%s: the tip %v is not in the gap from %.1f to %.1f", name, tip, front.hi.x, cheek.lo.x)
	}
	for _, e := range named(whole, "cranium", "jaw") {
		if inside(e.pts[0], tip) {
			t.Errorf("%s: the tip %v is on the %s, not in the gap", name, tip, e.name)
		}
	}
}

// checkRow holds the cheek teeth to their places: the first premolar, the last
// one, the last molar, of the upper row.
func checkRow(t *testing.T, s catalogue.Species, term string, whole []element, tip pt) {
	t.Helper()
	kind := map[string]string{"premolars": "P", "carnassials": "P", "molars": "M"}[term]
	if kind == "" {
		return
	}
	first, last := math.Inf(1), math.Inf(-1)
	for _, e := range named(whole, kind) {
		if e.group == "upper" {
			first, last = min(first, e.box().lo.y), max(last, e.box().hi.y)
		}
	}
	if at := (last + first) / 2; term == "premolars" && tip.y > at || term != "premolars" && tip.y < at && s.Values["upper_"+map[string]string{"P": "premolars", "M": "molars"}[kind]].Lo > 1 {
		t.Errorf("%s: the %s pointed at stand at %.1f, within %.1f to %.1f", s.Name, term, tip.y, first, last)
	}
}

// TestALabelTellsNothing: no term of any structure stands in the markup or the
// description, no part bears a name, and only what the catalogue knows is
// pointed at.
func TestALabelTellsNothing(t *testing.T) {
	var terms []string
	for _, st := range structures {
		terms = append(terms, st.Term, strings.TrimSuffix(st.Term, "s"))
	}
	terms = append(terms, "crest", "cheekbone", "arch", "jaw=")
	for _, l := range labels() {
		s, st, p := l.species, l.st, l.plate
		told := strings.ToLower(p.SVG + p.Alt)
		for _, term := range terms {
			if strings.Contains(told, term) {
				t.Errorf("%s, %s: %q is there to read", s.Name, st.Term, term)
			}
		}
		if n := strings.Count(p.SVG, "data-n"); n != 2 { // the leader's, and the scale bar's or none
			if _, sized := facts(s.Values).middle("skull_length"); sized || n != 1 {
				t.Errorf("%s, %s: %d marks", s.Name, st.Term, n)
			}
		}
		if catalogue.All(st.Shown, s.Values) != catalogue.True {
			t.Errorf("%s: the %s is not proved", s.Name, st.Term)
		}
	}
}
