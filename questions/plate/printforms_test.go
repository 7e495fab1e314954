package plate

import (
	"fmt"
	"maps"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// TestFormsAsMeasured holds the parts of the forms to what was measured on the
// traced prints: each edge of each part within 3 hundredths of the print's
// length. Measures are kept apart from the forms, unthinned.
func TestFormsAsMeasured(t *testing.T) {
	sheet, err := os.ReadFile("testdata/print_measures.csv")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, r := range sheetRows(string(sheet)) {
		form := printForms()[r["form"]+" "+r["foot"]]
		want := [4]float64{}
		for i, edge := range []string{"left", "top", "right", "bottom"} {
			want[i] = floats(r[edge])[0]
		}
		least := math.Inf(1)
		for _, p := range form.parts {
			if alias(p.name) != alias(r["part"]) {
				continue
			}
			b := p.c.box()
			most := 0.
			for i, got := range []float64{b.lo.x, b.lo.y, b.hi.x, b.hi.y} {
				most = max(most, math.Abs(got-want[i]))
			}
			least = min(least, most)
		}
		if n++; least > .03 {
			t.Errorf("%s, %s: the %s measured at %v is off by %.3f of the print's length", r["form"], r["foot"], r["part"], want, least)
		}
	}
	if n < 180 {
		t.Errorf("only %d parts are held to a measure", n)
	}
}

// alias puts together the names of parts that a tracing calls alike.
func alias(name string) string {
	switch name {
	case "lead", "thumb":
		return "toe"
	case "bar":
		return "pad"
	case "fur":
		return "sole"
	}
	return name
}

// TestFormSheets holds the sheets to each other: every form has its parts, its
// source and how it was read, every animal a form, and every form an animal.
func TestFormSheets(t *testing.T) {
	named := map[string]bool{}
	for _, r := range sheetRows(printFormSheet) {
		key := r["form"] + " " + r["foot"]
		if len(printForms()[key].parts) == 0 || r["looks"] == "" || r["source"] == "" || r["how"] == "" {
			t.Errorf("%s: it lacks parts, words, a source or how it was read", key)
		}
		named[r["form"]] = true
	}
	checkSources(t)
	used := map[string]bool{}
	for species, form := range animalForms() {
		if _, known := catalogue.Builtin().Find(species); !known || !named[form] {
			t.Errorf("%s: not an animal of the catalogue, or the form %q is not drawn", species, form)
		}
		used[form] = true
	}
	for form := range named {
		if !used[form] {
			t.Errorf("the form %q is of no animal", form)
		}
	}
	for _, rule := range taughtForms {
		if !named[rule.form] {
			t.Errorf("no form %q", rule.form)
		}
	}
}

// checkSources: what is not from memory names a source that is listed.
func checkSources(t *testing.T) {
	t.Helper()
	sheet, err := os.ReadFile("prints/sources.csv")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{"memory": true}
	for _, r := range sheetRows(string(sheet)) {
		listed[r["source"]] = true
	}
	for _, r := range slices.Concat(sheetRows(printFormSheet), sheetRows(scatFormSheet), sheetRows(signKindSheet)) {
		if !listed[r["source"]] {
			t.Errorf("%s%s%s: no source %q", r["form"], r["species"], r["kind"], r["source"])
		}
	}
}

// TestEveryTrackIsDrawn by its own form: the catalogue's values speak against none.
func TestEveryTrackIsDrawn(t *testing.T) {
	for _, s := range catalogue.Builtin().Species {
		if !s.Has("track") {
			continue
		}
		for _, side := range []string{"front", "hind"} {
			own, has := printForms()[animalForms()[s.Name]+" "+side]
			if !has {
				continue
			}
			if form, ok := printFormOf(s, side); !ok || form != own {
				t.Errorf("%s, %s: not drawn by its own form", s.Name, side)
			}
		}
	}
}

// TestTrailGroups holds the groups to the animals: each of four prints, hind
// feet as far apart as the straddle.
func TestTrailGroups(t *testing.T) {
	for form, falls := range trailGroups() {
		front, hind, widest := 0, 0, 0.
		for _, fall := range falls {
			widest = max(widest, fall.out)
			if fall.foot == "front" {
				front++
			} else {
				hind++
			}
		}
		if front != 2 || hind != 2 || widest != 1 || printForms()[form+" hind"] == nil {
			t.Errorf("%s: %d front and %d hind prints, out to %g", form, front, hind, widest)
		}
	}
	if len(trailGroups()) < 10 {
		t.Errorf("only %d groups", len(trailGroups()))
	}
}

// TestHoppersLeaveTheirGroup: with its gait known, a hare's hind prints lie ahead of its front ones.
func TestHoppersLeaveTheirGroup(t *testing.T) {
	s, _ := catalogue.Builtin().Find("Sylvilagus floridanus")
	s.Values = maps.Clone(s.Values)
	s.Values["gait"] = catalogue.Value{Status: catalogue.Known, Text: "hop"}
	p, ok := Trail(s)
	elements, _ := read(t, p.SVG)
	if prints := named(elements, "print"); !ok || len(prints) != 8 {
		t.Errorf("%d prints", len(prints))
	}
}

// TestPrintsHangTogether holds the parts of each print to each other: a web joins
// toes and ends before the rear of the pad, toes of a furred foot lie on its sole,
// and the dewclaws of a front foot are nearer to the hoof than those of a hind one.
func TestPrintsHangTogether(t *testing.T) {
	for _, s := range catalogue.Builtin().Species {
		gap := map[string]float64{}
		for _, foot := range []string{"front", "hind"} {
			pr, ok := own.print(s, foot, 1)
			if !ok {
				continue
			}
			parts := fit(newPen(1, pr.length), pr)
			if f := hangs(parts); f != "" {
				t.Errorf("%s, %s: %s", s.Name, foot, f)
			}
			if has(parts, "dewclaw") {
				gap[foot] = partsBox(parts, "dewclaw").lo.y - partsBox(parts, "toe").hi.y
			}
		}
		if gap["front"] > gap["hind"] {
			t.Errorf("%s: dewclaws %.1f mm behind the hoof in front, %.1f behind", s.Name, gap["front"], gap["hind"])
		}
	}
}

// hangs says which parts of a print don't meet.
func hangs(parts []part) string {
	joined, rear := 0, partsBox(parts, "toe", "pad", "heel", "sole").hi.y
	for _, under := range parts {
		poly := under.c.flat()
		for _, toe := range parts {
			box := toe.c.box()
			switch {
			case under.name == "fur" && toe.isToe() && !inside(poly, box.mid()):
				return "a toe lies beside its sole"
			case under.name == "web" && toe.isToe() && slices.ContainsFunc(poly, func(q pt) bool { return inside(toe.c.flat(), q) }):
				joined++
			}
		}
		if under.name == "web" && (joined < 2 || (box{}).with(poly...).hi.y > rear) {
			return fmt.Sprintf("the web joins %d toes, or reaches out behind the pad", joined)
		}
	}
	return ""
}

// partsBox is round all parts of some names.
func partsBox(parts []part, names ...string) box {
	b := box{}
	for _, p := range parts {
		if slices.Contains(names, p.name) {
			b = b.about(p.c)
		}
	}
	return b
}

// Animals of like droppings have not the very same ones.
func TestNoTwoScatsAreTheSame(t *testing.T) {
	seen := map[string]string{}
	drawn(func(s catalogue.Species, view string, p Plate) {
		if other := seen[p.SVG]; view == "scat" && other != "" {
			t.Errorf("%s and %s have the same drawing", other, s.Name)
		}
		if view == "scat" {
			seen[p.SVG] = s.Name
		}
	})
}

// Without its name an animal is drawn by the taught traits it has.
func TestFormsByTraits(t *testing.T) {
	for name, form := range map[string]string{"Lynx rufus": "bobcat", "Canis latrans": "coyote", "Vulpes vulpes": "red fox", "Procyon lotor": "raccoon",
		"Castor canadensis": "beaver", "Odocoileus virginianus": "white-tailed deer", "Branta canadensis": "mallard", "Erethizon dorsatum": "porcupine"} {
		s, _ := catalogue.Builtin().Find(name)
		s.Name = "Aus bus"
		side := "front"
		if name == "Castor canadensis" {
			side = "hind"
		}
		if got, ok := printFormOf(s, side); !ok || got != printForms()[form+" "+side] {
			t.Errorf("%s without its name: not the form of the %s", name, form)
		}
	}
}

var partNames = regexp.MustCompile(`data-n="([^"]*)"`)

// A part that a trait speaks of has a name in the drawing, for a page to mark.
func TestPartsThatTraitsSpeakOf(t *testing.T) {
	for _, c := range []struct{ species, foot, part string }{
		{"Felis catus", "front", "toe lead"}, {"Felis catus", "front", "space"}, {"Canis latrans", "front", "space"}, {"Vulpes vulpes", "front", "pad bar"},
		{"Ursus arctos", "front", "claw"}, {"Castor canadensis", "hind", "web"}, {"Didelphis virginiana", "hind", "toe thumb"}, {"Sus scrofa", "front", "dewclaw"},
		{"Procyon lotor", "hind", "heel"}, {"Lepus americanus", "hind", "fur"}, {"Ondatra zibethicus", "hind", "fringe"}, {"Ardea herodias", "front", "back"},
		{"Meleagris gallopavo", "front", "touch"}, {"Erethizon dorsatum", "front", "pebble"}, {"Equus caballus", "front", "frog"},
	} {
		s, _ := catalogue.Builtin().Find(c.species)
		p, _ := Track(s, c.foot)
		var names []string
		for _, m := range partNames.FindAllStringSubmatch(p.SVG, -1) {
			names = append(names, m[1])
		}
		if !slices.Contains(names, c.part) {
			t.Errorf("%s, %s: no part is named %s, but %s", c.species, c.foot, c.part, strings.Join(slices.Compact(names), ", "))
		}
	}
}

// No print tells by what it lacks: all have a ruler and a bar, and none a note.
func TestPrintsAreFramedAlike(t *testing.T) {
	drawn(func(s catalogue.Species, view string, p Plate) {
		if view != "front" && view != "hind" && view != "scat" {
			return
		}
		elements, _ := read(t, p.SVG)
		if len(named(elements, "bar")) != 1 || strings.Contains(p.SVG, "schematic") {
			t.Errorf("%s, %s: framed otherwise than the others", s.Name, view)
		}
	})
}
