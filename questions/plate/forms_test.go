package plate

import (
	"iter"
	"math"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// away is how far a point lies from an outline, in hundredths of the length.
func away(c curve, q pt) float64 {
	least := math.Inf(1)
	flat := c.flat()
	for i, a := range flat {
		if i+1 == len(flat) && !c.closed {
			break
		}
		b := flat[(i+1)%len(flat)]
		d := b.sub(a)
		t := 0.
		if n := d.norm(); n > 0 {
			t = max(0, min(1, ((q.x-a.x)*d.x+(q.y-a.y)*d.y)/(n*n)))
		}
		least = min(least, mix(a, b, t).sub(q).norm())
	}
	return least
}

func eachForm(t *testing.T, check func(t *testing.T, f *form)) {
	for name, f := range skullForms() {
		t.Run(name, func(t *testing.T) { check(t, f) })
	}
}

func mustPart(t *testing.T, f *form, key string) curve {
	t.Helper()
	c, ok := f.part(key)
	if !ok {
		t.Fatalf("no %s", key)
	}
	return c
}

// Every sheet says what it is of, where it comes from and how it was read, and
// has all views.
func TestFormsAreWhole(t *testing.T) {
	seen := map[string]bool{}
	eachForm(t, func(t *testing.T, f *form) {
		for _, key := range strings.Fields("of source read quality looks looks_es formula upper lower") {
			if f.texts[key] == "" {
				t.Errorf("no %s", key)
			}
		}
		for _, key := range []string{"side cranium", "side jaw", "side orbit", "side row", "side lower row", "above outline", "below row", "below palate"} {
			mustPart(t, f, key)
		}
		for _, j := range []jaw{upper, lower} {
			n, _ := readFormula(f.texts["formula"])
			list := f.teeth(j, facts{})
			if len(list) != n.of(2, j)+n.of(3, j) {
				t.Errorf("%d %v cheek teeth, the formula is %s", len(list), j, f.texts["formula"])
			}
			for _, tooth := range list {
				if _, known := toothShapes[tooth.shape]; !known {
					t.Errorf("no tooth of the shape %c", tooth.shape)
				}
			}
		}
		for _, s := range strings.Split(f.texts["of"], ";") {
			seen[s] = true
		}
	})
	for _, s := range catalogue.Builtin().Species {
		if HasSkull(s) && !seen[s.Name] {
			t.Errorf("%s has no form of its own", s.Name)
		}
	}
}

// Landmarks lie where the anatomy has them: teeth on the edges of the jaws, the
// joint in line with the arch's root, the arch grown out of the face under the
// orbit and into the braincase before the ear.
func TestLandmarksLieOnTheOutline(t *testing.T) {
	eachForm(t, func(t *testing.T, f *form) {
		cranium, jaw := mustPart(t, f, "side cranium"), mustPart(t, f, "side jaw")
		on := func(what string, c curve, q pt, tolerance float64) {
			t.Helper()
			if d := away(c, q); d > tolerance {
				t.Errorf("%s at %v lies %.1f away", what, q, d)
			}
		}
		row, low := mustPart(t, f, "side row").pts, mustPart(t, f, "side lower row").pts
		on("front of the upper row", cranium, row[0], 1)
		on("rear of the upper row", cranium, row[len(row)-1], 1.2)
		on("front of the lower row", jaw, low[0], 1.2)
		on("rear of the lower row", jaw, low[len(low)-1], 3) // behind the branch that rises
		for mark, c := range map[string]curve{"mark canine": cranium, "mark lower canine": jaw, "mark incisors": cranium, "mark lower incisors": jaw} {
			if m := f.marks[mark]; len(m) > 3 && m[len(m)-1] != 0 && !(mark == "mark lower canine" && f.texts["comb"] == "yes") {
				on(mark, c, pt{m[0], m[1]}, 2.4)
			}
		}
		for _, q := range mustPart(t, f, "side orbit").pts {
			if !inside(cranium.flat(), q) {
				t.Errorf("the orbit leaves the skull at %v", q)
			}
		}
		if c, ok := f.part("side crest"); ok && (box{}).with(c.pts...).hi.x > 101 {
			t.Error("the crest ends behind the skull's length, which the ruler and the other views have")
		}
		if m := f.marks["mark ear"]; len(m) > 1 && !inside(cranium.flat(), pt{m[0], m[1]}) {
			t.Errorf("the ear %v is not in the skull", m)
		}
		checkArch(t, f, cranium, jaw)
	})
}

func checkArch(t *testing.T, f *form, cranium, jaw curve) {
	top, ok := f.part("side arch top")
	if !ok {
		return
	}
	foot := mustPart(t, f, "side arch foot")
	orbit := mustPart(t, f, "side orbit").box()
	first, last, joint := top.pts[0], top.pts[len(top.pts)-1], foot.pts[len(foot.pts)-1]
	if !inside(cranium.flat(), first) || !inside(cranium.flat(), foot.pts[0]) {
		t.Errorf("the arch begins at %v, outside of the face", first)
	}
	if first.x > orbit.mid().x {
		t.Errorf("the arch begins at %.1f, behind the middle of the orbit at %.1f", first.x, orbit.mid().x)
	}
	if foot.pts[0].y < orbit.mid().y {
		t.Errorf("the arch's root at %v is not under the orbit", foot.pts[0])
	}
	if !inside(cranium.flat(), last) && away(cranium, last) > 1.5 {
		t.Errorf("the arch ends at %v, outside of the braincase", last)
	}
	if ear := f.marks["mark ear"]; len(ear) > 0 && joint.x > ear[0]+ear[2] {
		t.Errorf("the arch ends at %.1f, behind the ear at %.1f", joint.x, ear[0])
	}
	b := box{}.with(foot.pts...)
	near := slices.ContainsFunc(jaw.flat(), func(q pt) bool {
		return q.x > b.mid().x && q.x < b.hi.x+6 && math.Abs(q.y-joint.y) < 7
	})
	if !near {
		t.Errorf("the jaw does not meet the arch's root at %v", joint)
	}
}

// Proportions are those of the source, in hundredths of the length, or of the
// condylobasal length where the source has that.
func TestRatiosAsInTheSource(t *testing.T) {
	n := 0
	eachForm(t, func(t *testing.T, f *form) {
		for key, want := range f.marks {
			what, isRatio := strings.CutPrefix(key, "ratio ")
			if !isRatio || len(want) == 0 {
				continue
			}
			n++
			what, basal := strings.CutSuffix(what, "-cbl")
			got := measured(t, f, what)
			if basal {
				got *= 100 / condylobasal(f)
			}
			if !within(got, want[0], .03) {
				t.Errorf("%s is %.1f, the source has %.1f", key, got, want[0])
			}
		}
	})
	if n < 35 {
		t.Errorf("only %d ratios", n)
	}
}

func measured(t *testing.T, f *form, what string) float64 {
	outline := mustPart(t, f, "above outline")
	widest := func(from, to float64) float64 {
		most := 0.
		for _, q := range outline.flat() {
			if q.x >= from && q.x <= to {
				most = max(most, 2*q.y)
			}
		}
		return most
	}
	switch what {
	case "zygoma", "orbits": // a ruminant is widest there
		return widest(0, 80)
	case "zygoma-front": // before the bullae
		return widest(0, 55)
	case "mastoid":
		return widest(72, 100)
	case "waist": // the narrowest between the orbits or behind them, of the zygomatic breadth
		return narrowest(t, f, 0) / widest(0, 80) * 100
	case "postorbital": // the narrowest behind the processes
		return narrowest(t, f, .5) / widest(0, 80) * 100
	case "vault": // its height over the alveolar line
		b := mustPart(t, f, "side cranium").box()
		return -b.lo.y
	case "process":
		return f.marks["mark process"][0]
	case "row":
		b := box{}.with(mustPart(t, f, "side row").pts...)
		return b.w()
	case "P4", "M1-broad", "m1":
		teeth, _ := readFormula(f.texts["formula"])
		k := &skull{form: f, teeth: teeth}
		switch at := teeth.of(2, upper); what {
		case "P4":
			return k.cheekTeeth(upper)[at-1].long
		case "M1-broad":
			return k.stands(upper)[at].broad
		}
		return k.cheekTeeth(lower)[teeth.of(2, lower)].long
	}
	t.Fatalf("no measure %q", what)
	return 0
}

// narrowest is the least breadth between the openings of the arches, from a part
// of their length on.
func narrowest(t *testing.T, f *form, from float64) float64 {
	window := mustPart(t, f, "above window").flat()
	b := box{}.with(window...)
	least := math.Inf(1)
	for _, q := range window {
		if q.x > lerp(b.lo.x, b.hi.x, from)+2 && q.x < b.hi.x-2 {
			least = min(least, 2*q.y)
		}
	}
	return least
}

// condylobasal is the length from the front of the upper jaw to the condyles.
func condylobasal(f *form) float64 {
	c, _ := f.part("side cranium")
	front, rear := c.pts[0].x, 0.
	for _, q := range c.pts {
		if q.y > -12 {
			rear = max(rear, q.x)
		}
	}
	return rear - front
}

// carnivores are the skulls of that order.
func carnivores(t *testing.T) iter.Seq2[catalogue.Species, *skull] {
	return func(yield func(catalogue.Species, *skull) bool) {
		n := 0
		for _, s := range catalogue.Builtin().Species {
			k, ok := own.skull(s)
			if !ok || !k.f.is("order", "Carnivora") {
				continue
			}
			if n++; !yield(s, k) {
				return
			}
		}
		if n < 20 {
			t.Errorf("only %d carnivores", n)
		}
	}
}

// A carnassial shears: the upper blade passes the outer side of the lower one.
func TestTheUpperBladePassesTheLower(t *testing.T) {
	for s, k := range carnivores(t) {
		up, low := k.stands(upper)[k.teeth.of(2, upper)-1], k.stands(lower)[k.teeth.of(2, lower)]
		if up.outer() <= low.outer() {
			t.Errorf("%s: the last upper premolar reaches %.1f from the middle line, the first lower molar %.1f", s.Name, up.outer(), low.outer())
		}
	}
}

// What lies behind the joint of the jaw has the share of the length that the
// catalogue gives, and so tells two weasels apart.
func TestPartBehindTheJoint(t *testing.T) {
	n := 0
	for _, s := range catalogue.Builtin().Species {
		k, ok := own.skull(s)
		want := facts(s.Values).text("postglenoid_share")
		if !ok || want == "" {
			continue
		}
		n++
		x, _ := k.glenoid()
		if share := 100 - x; share < 47 != (want == "under 47 %") || math.Abs(share-47) < .3 {
			t.Errorf("%s: %.1f %% lie behind the joint, not %s", s.Name, share, want)
		}
	}
	if n < 2 {
		t.Errorf("only %d skulls", n)
	}
}

// The lower jaw can be hung: the joint stands as far back, in parts of the
// skull's length, from the side as a socket from below and as a condyle of the
// lower jaw from above; and sockets are as far apart as condyles.
func TestSocketsFitTheCondyles(t *testing.T) {
	n := 0
	for _, s := range catalogue.Builtin().Species {
		below, ok := own.SkullBelow(s)
		if !ok {
			continue
		}
		lower, _ := own.SkullJaw(s)
		side, _ := own.SkullSide(s)
		beside, _ := read(t, side.SVG)
		up, _ := read(t, below.SVG)
		down, _ := read(t, lower.SVG)
		skull, branches := boxOf(named(beside, "cranium")), named(down, "branches", "joint")
		front := boxOf(named(beside, "jaw")).lo.x - skull.lo.x
		places := []float64{headEnds(named(beside, "jaw")[0].pts[0]) - skull.lo.x, front + boxOf(branches).h()}
		if sockets := named(up, "glenoid"); len(sockets) == 1 {
			n++
			places = append(places, sockets[0].box().hi.y-boxOf(named(up, "below")).lo.y)
			if ratio := apart(sockets[0].pts, math.Inf(-1)) / apart(branches[len(branches)-1].pts, boxOf(branches).hi.y-.035*skull.w()); ratio < .94 || ratio > 1.12 {
				t.Errorf("%s: the sockets are %.2f times as far apart as the condyles", s.Name, ratio)
			}
		}
		if off := slices.Max(places) - slices.Min(places); off > .04*skull.w() {
			t.Errorf("%s: the joint from the side, the condyle and the socket end at %.1f of %.1f mm", s.Name, places, skull.w())
		}
	}
	if n < 65 {
		t.Errorf("only %d skulls", n)
	}
}

// apart is how far the middles of two outlines are from each other, across the
// page, of what lies below a height.
func apart(pair [][]pt, from float64) float64 {
	var mid [2]float64
	for i, c := range pair {
		mid[i] = box{}.with(slices.DeleteFunc(slices.Clone(c), func(q pt) bool { return q.y < from })...).mid().x
	}
	return mid[1] - mid[0]
}

// headEnds is how far back the upper half of a jaw reaches, from the side: the
// head of its joint.
func headEnds(jaw []pt) (x float64) {
	b := box{}.with(jaw...)
	for _, q := range jaw {
		if q.y < b.lo.y+.52*b.h() {
			x = max(x, q.x)
		}
	}
	return x
}

// A woodrat is no large deer mouse, nor a caribou a large deer: their outlines from
// above differ, at the mean, by 1.4 hundredths of the length to each side.
func TestKinDifferFromAbove(t *testing.T) {
	half := func(name string, x float64) float64 {
		f, known := formOf(name, facts{})
		if !known {
			t.Fatalf("no form of %s", name)
		}
		y, _ := along(mustPart(t, f, "above outline").flat(), x)
		return y
	}
	for _, pair := range [][2]string{
		{"Neotoma cinerea", "Peromyscus maniculatus"}, {"Neotoma cinerea", "Peromyscus leucopus"},
		{"Odocoileus virginianus", "Rangifer tarandus"}, {"Odocoileus virginianus", "Ovis canadensis"}, {"Odocoileus virginianus", "Alces alces"},
	} {
		sum, n := 0., 0.
		for x := 2.; x < 98; x++ {
			sum, n = sum+math.Abs(half(pair[0], x)-half(pair[1], x)), n+1
		}
		if sum/n < 1.4 {
			t.Errorf("%s and %s differ by %.2f", pair[0], pair[1], sum/n)
		}
	}
}

// Carnivores bite with upper incisors that are larger than the lower ones, in a
// row that is broader; a lower canine is the largest tooth beside these.
func TestLowerIncisorsAreTheSmaller(t *testing.T) {
	for s, k := range carnivores(t) {
		k.below(pt{})
		k.lowerJaw(pt{})
		largest := func(key string) (area float64, b box) {
			for _, c := range k.drawn[key] {
				area, b = max(area, areaOf(c.flat())), b.about(c)
			}
			return area, b
		}
		up, upRow := largest("upper row-I")
		low, lowRow := largest("lower row-I")
		canine, _ := largest("lower row-C")
		if low > .95*up || lowRow.w() > .95*upRow.w() {
			t.Errorf("%s: the lower incisors have %.2f of the upper ones' size, their row %.2f of its breadth", s.Name, low/up, lowRow.w()/upRow.w())
		}
		if canine < 2*low {
			t.Errorf("%s: the lower canine is but %.1f times as large as an incisor", s.Name, canine/low)
		}
	}
}

// areaOf a polygon.
func areaOf(poly []pt) (area float64) {
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		area += (a.x*b.y - b.x*a.y) / 2
	}
	return math.Abs(area)
}

// No line of the roof hangs over an opening, seen from above.
func TestLinesStayOnTheBone(t *testing.T) {
	n := 0
	for _, s := range catalogue.Builtin().Species {
		p, ok := SkullAbove(s)
		if !ok {
			continue
		}
		elements, _ := read(t, p.SVG)
		long := boxOf(named(elements, "above")).h()
		for _, e := range elements {
			if e.name == "horn" { // it hangs over what it will
				break
			}
			if e.name != "" && e.name != "ridges" && e.name != "interparietal" || e.fills != "" {
				continue
			}
			for _, window := range named(elements, "window") {
				for _, line := range e.pts {
					n++
					over := func(q pt) bool {
						return inside(window.pts[0], q) && !near(window.pts[0], q, .012*long) || inside(window.pts[1], q) && !near(window.pts[1], q, .012*long)
					}
					if len(line) > 2 && slices.ContainsFunc(line, over) { // hatching has two
						t.Errorf("%s: a line %q hangs over an opening", s.Name, e.name)
					}
				}
			}
		}
	}
	if n < 1000 {
		t.Errorf("only %d lines", n)
	}
}

// An animal of a catalogue of one's own has the form of its family or order.
func TestFormOfAStranger(t *testing.T) {
	dog, _ := catalogue.Builtin().Find("Vulpes vulpes")
	if f, ok := formOf("Aus bus", facts(dog.Values)); !ok || f.name != "wolf" {
		t.Errorf("a stranger of the dog family has the form %v", f)
	}
	if _, ok := formOf("Aus bus", facts{}); ok {
		t.Error("a form from nothing")
	}
}

func TestBadSheets(t *testing.T) {
	for _, sheet := range []string{"key,value\nside cranium,1 2 3\n", "key,value\nside cranium,1 a\n", "key,value\nmark ear,x\n", "key,value\ntube horn,1 2 3 4\n", "key\n"} {
		if _, err := readForm("bad", sheet); err == nil {
			t.Errorf("let pass: %q", sheet)
		}
	}
	f, _ := readForm("bad", "key,value\nbase,none\n")
	if _, err := f.resolved(map[string]*form{}, 0); err == nil {
		t.Error("a form without its base")
	}
}

// What a trait says an animal has, its drawing shows under a name that PartsOf
// gives.
func TestPartsOfTraits(t *testing.T) {
	c := catalogue.Builtin()
	for _, trait := range c.Traits {
		names := PartsOf(trait)
		if trait.Subject == "skull" && len(names) == 0 && !slices.Contains([]string{"dental_formula", "total_teeth", "gear_bearers", "gear_renewal"}, trait.ID) {
			t.Errorf("no part of a skull is named for %s", trait.ID)
		}
	}
	for _, s := range c.Species {
		p, ok := Skull(s)
		if !ok {
			continue
		}
		for id, names := range parts {
			v := s.Values[id]
			if !v.Known() || slices.Contains([]string{"no", "none", "n/a"}, v.Text) || v.Number() && v.Lo == 0 {
				continue
			}
			if !slices.ContainsFunc(names, func(n string) bool { return strings.Contains(p.SVG, `data-n="`+n[strings.LastIndex(n, " ")+1:]+`"`) }) {
				t.Errorf("%s: %s is %v, and none of %v is drawn", s.Name, id, v, names)
			}
		}
	}
}

// Skulls in one frame have one scale, read off their bars; the smallest is
// enlarged where it would be lost, and says so in large type.
func TestSkullsInOneFrame(t *testing.T) {
	c := catalogue.Builtin()
	moose, _ := c.Find("Alces alces")
	frame := SkullFrame(moose)
	for name, enlarged := range map[string]bool{"Alces alces": false, "Canis lupus": false, "Mus musculus": true, "Myotis lucifugus": true} {
		s, _ := c.Find(name)
		p, ok := own.SkullFramed(s, frame)
		if !ok {
			t.Fatalf("%s is not drawn", name)
		}
		elements, root := read(t, p.SVG)
		checkMillimetres(t, name, root)
		cranium := boxOf(named(elements, "cranium")).w()
		long := (s.Values["skull_length"].Lo + s.Values["skull_length"].Hi) / 2
		if enlarged != strings.Contains(p.SVG, ">× ") || !enlarged && !within(cranium, long, .01) || cranium < frame/8 {
			t.Errorf("%s: %.0f mm wide in a frame of %.0f, life size is %.0f", name, cranium, frame, long)
		}
	}
}

// A point marked on both its numbers is one corner: no point of another two
// numbers comes with it.
func TestCorners(t *testing.T) {
	got, err := numbersIn("1 2 3! 4! 5 6!")
	if want := []float64{1, 2, 3, 4, 3, 4, 5, 6, 5, 6}; err != nil || !slices.Equal(got, want) {
		t.Errorf("read as %v, should be %v (%v)", got, want, err)
	}
}

// Hatching stays on the bone that it shades, from above.
func TestHatchingStaysOnTheBone(t *testing.T) {
	n := 0
	for _, s := range catalogue.Builtin().Species {
		p, ok := SkullAbove(s)
		if !ok {
			continue
		}
		elements, _ := read(t, p.SVG)
		at := slices.IndexFunc(elements, func(e element) bool { return e.name == "above" })
		bone := elements[at].pts[0]
		for _, line := range elements[at+1].pts {
			if n++; len(line) != 2 {
				t.Fatalf("%s: no hatching after the outline", s.Name)
			}
			for i := range 9 {
				q := mix(line[0], line[1], float64(i)/8)
				if off := nearest(bone, q).sub(q).norm(); !inside(bone, q) && off > .0015*boxOf(elements[at:at+1]).h() {
					t.Errorf("%s: hatching stands %.2f mm over the edge", s.Name, off)
					break
				}
			}
		}
	}
	if n < 500 {
		t.Errorf("only %d strokes", n)
	}
}
