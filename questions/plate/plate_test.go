package plate

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
)

type sample struct {
	species catalogue.Species
	view    string
	plate   Plate
}

// samples are all the plates there are.
var samples = sync.OnceValue(func() []sample {
	var out []sample
	for _, s := range catalogue.Builtin().Species {
		for _, v := range views {
			if p, ok := v.draw(s); ok {
				out = append(out, sample{s, v.name, p})
			}
		}
	}
	return out
})

func drawn(each func(s catalogue.Species, view string, p Plate)) {
	for _, s := range samples() {
		each(s.species, s.view, s.plate)
	}
}

func TestToesAsCounted(t *testing.T) {
	n := 0
	drawn(func(s catalogue.Species, view string, p Plate) {
		if view != "front" && view != "hind" {
			return
		}
		n++
		elements, _ := read(t, p.SVG)
		want := facts(s.Values)[facts(s.Values).toesTrait(view)].Typical()
		if got := len(named(elements, "toe")); want.Known() && got != int(want.Lo) {
			t.Errorf("%s, %s: %d toes drawn, %g counted", s.Name, view, got, want.Lo)
		}
		claws, clawed := len(named(elements, "claw")), s.Values["claws_show"]
		if claws > 0 && clawed.Text != "yes" && clawed.Status != catalogue.Variable || claws == 0 && clawed.Text == "yes" {
			t.Errorf("%s, %s: %d claws drawn; the catalogue: %v", s.Name, view, claws, clawed)
		}
		web := s.Values[view+"_webbing"].Typical()
		webbed := web.Text == "partial" || web.Text == "full"
		if drawn := len(named(elements, "web")) > 0; webbed && !drawn || drawn && (web.Text == "none" || web.Status == catalogue.NotApplicable) {
			t.Errorf("%s, %s: webs drawn: %v; the catalogue: %v", s.Name, view, drawn, web)
		}
	})
	if n < 100 {
		t.Errorf("only %d prints are drawn", n)
	}
}

func TestPrintsLifeSize(t *testing.T) {
	drawn(func(s catalogue.Species, view string, p Plate) {
		if view != "front" && view != "hind" {
			return
		}
		l, w := s.Values[view+"_length"], s.Values[view+"_width"]
		elements, root := read(t, p.SVG)
		checkMillimetres(t, s.Name, root)
		checkBar(t, s.Name, elements, p.SVG)
		b := boxOf(named(elements, ofTheSize...))
		if l.Known() && !within(b.h(), 5*(l.Lo+l.Hi), .01) || w.Known() && !within(b.w(), 5*(w.Lo+w.Hi), .01) {
			t.Errorf("%s, %s: drawn %.2f × %.2f mm, should be %.2f × %.2f", s.Name, view, b.h(), b.w(), 5*(l.Lo+l.Hi), 5*(w.Lo+w.Hi))
		}
	})
}

// ofTheSize are the parts that a print's length and width take in.
var ofTheSize = []string{"toe", "pad", "heel", "sole", "fur", "web", "back"}

// checkMillimetres holds the drawing to one user unit a millimetre on paper.
func checkMillimetres(t *testing.T, name string, root map[string]string) {
	t.Helper()
	v := strings.Fields(root["viewBox"])
	if len(v) != 4 || root["width"] != v[2]+"mm" || root["height"] != v[3]+"mm" {
		t.Errorf("%s: %s × %s with viewBox %v", name, root["width"], root["height"], v)
	}
}

var centimetres = regexp.MustCompile(`>([\d.]+) cm</text>`)

// checkBar holds the scale bar to its label, on a life-size drawing.
func checkBar(t *testing.T, name string, elements []element, svg string) {
	t.Helper()
	bar, label := named(elements, "bar"), centimetres.FindStringSubmatch(svg)
	if len(bar) != 1 || label == nil {
		t.Errorf("%s: %d scale bars, label %v", name, len(bar), label)
		return
	}
	cm, _ := strconv.ParseFloat(label[1], 64)
	if got := bar[0].box().w(); !within(got, 10*cm, .01) {
		t.Errorf("%s: a bar of %.2f mm is labelled %v cm", name, got, cm)
	}
}

func TestScatLifeSize(t *testing.T) {
	drawn(func(s catalogue.Species, view string, p Plate) {
		l, d := s.Values["scat_length"], s.Values["scat_diameter"]
		if view != "scat" || !l.Known() || !d.Known() {
			return
		}
		elements, root := read(t, p.SVG)
		checkMillimetres(t, s.Name, root)
		checkBar(t, s.Name, elements, p.SVG)
		body := named(elements, "body")
		if len(body) != 1 || len(body[0].pts) != 1 {
			t.Fatalf("%s: %d main pieces", s.Name, len(body))
		}
		if got := body[0].box().w(); !within(got, 5*(l.Lo+l.Hi), .01) {
			t.Errorf("%s: %.2f mm long, should be %.2f", s.Name, got, 5*(l.Lo+l.Hi))
		}
		want := min(5*(d.Lo+d.Hi), 5*(l.Lo+l.Hi))
		if s.Values["scat_form"].Text == "flat pat" || s.Values["scat_form"].Text == "round pellet" {
			want = 5 * (d.Lo + d.Hi)
		}
		outline := body[0].pts[0]
		if (box{}).with(outline...).h() > 1.5*want && s.Name == "Meleagris gallopavo" { // its end is bent back: the straight part counts
			x := box{}.with(outline...).lo.x + .5*5*(l.Lo+l.Hi)
			outline = slices.DeleteFunc(slices.Clone(outline), func(q pt) bool { return q.x > x })
		}
		if got := longestUpright(outline); !within(got, want, .01) {
			t.Errorf("%s: %.2f mm thick, should be %.2f", s.Name, got, want)
		}
	})
}

// longestUpright measures the longest upright chord of a polygon that lies
// within it, by walking across it in small steps.
func longestUpright(poly []pt) float64 {
	b := box{}.with(poly...)
	most := 0.
	for i := range 2000 {
		x := b.lo.x + b.w()*(float64(i)+.5)/2000
		var ys []float64
		for j, a := range poly {
			c := poly[(j+1)%len(poly)]
			if (a.x > x) != (c.x > x) {
				ys = append(ys, a.y+(x-a.x)*(c.y-a.y)/(c.x-a.x))
			}
		}
		slices.Sort(ys)
		for j := 0; j+1 < len(ys); j += 2 {
			most = max(most, ys[j+1]-ys[j])
		}
	}
	return most
}

func TestTeethAsInTheFormula(t *testing.T) {
	n := 0
	drawn(func(s catalogue.Species, view string, p Plate) {
		if view != "skull" {
			return
		}
		n++
		elements, root := read(t, p.SVG)
		checkMillimetres(t, s.Name, root)
		fields := strings.Fields(s.Values["dental_formula"].Text)
		side := 0
		for i := 0; i < 8; i += 2 {
			up, down, _ := strings.Cut(fields[i+1], "/")
			for group, count := range map[string]string{"upper": up, "lower": down} {
				usually, _, _ := strings.Cut(count, "(") // 2 of 2(1)
				want, err := strconv.Atoi(usually)
				if err != nil { // it is open: the form's usual number is drawn
					form, _ := formOf(s.Name, facts(s.Values))
					usual, _ := readFormula(form.texts["formula"])
					want = usual[i/2][map[string]jaw{"upper": upper, "lower": lower}[group]]
				}
				side += want
				got := 0
				for _, e := range named(elements, fields[i]) {
					if e.group == group {
						got++
					}
				}
				if got != 2*want {
					t.Errorf("%s: %d teeth %s drawn in the %s jaw, should be %d", s.Name, got, fields[i], group, 2*want)
				}
			}
		}
		if got := len(named(elements, "side-I", "side-C", "side-P", "side-M")); got != side {
			t.Errorf("%s: %d teeth in the side view, should be %d", s.Name, got, side)
		}
		if total := s.Values["total_teeth"]; total.Known() && total.Lo == total.Hi && float64(2*side) != total.Lo {
			t.Errorf("%s: %d teeth drawn, the catalogue has %.0f", s.Name, 2*side, total.Lo)
		}
		l := s.Values["skull_length"]
		if got := withoutCrest(s).w(); l.Known() && !within(got, (l.Lo+l.Hi)/2, .01) {
			t.Errorf("%s: skull of %.1f mm, should be %.1f", s.Name, got, (l.Lo+l.Hi)/2)
		}
	})
	if n < 50 {
		t.Errorf("only %d skulls are drawn", n)
	}
}

// withoutCrest is the cranium as drawn, but for what a crest stands over behind.
func withoutCrest(s catalogue.Species) box {
	k, _ := own.skull(s)
	k.side()
	return k.drawn["cranium"][0].box()
}

// TestTrailToScale holds the marked stride and straddle to the catalogue, at
// the scale that the label gives.
func TestTrailToScale(t *testing.T) {
	scaled := regexp.MustCompile(`1 : (\d+)<`)
	n := 0
	drawn(func(s catalogue.Species, view string, p Plate) {
		if view != "trail" {
			return
		}
		elements, _ := read(t, p.SVG)
		m := scaled.FindStringSubmatch(p.SVG)
		stride, straddle := s.Values["stride"], s.Values["straddle"]
		if (m != nil) != stride.Known() || len(named(elements, "straddle")) > 0 != straddle.Known() {
			t.Errorf("%s: measures are marked that aren't known, or left out", s.Name)
		}
		if m == nil {
			return
		}
		n++
		den, _ := strconv.ParseFloat(m[1], 64)
		if got, want := boxOf(named(elements, "stride")).w()*den, 5*(stride.Lo+stride.Hi); !within(got, want, .01) {
			t.Errorf("%s: stride of %.0f mm, should be %.0f", s.Name, got, want)
		}
	})
	if n < 5 {
		t.Errorf("only %d trails are to scale", n)
	}
}

// TestSameValuesSameDrawing: neither the vernacular names nor the hour matter.
func TestSameValuesSameDrawing(t *testing.T) {
	for _, v := range views {
		drawn(func(s catalogue.Species, view string, p Plate) {
			renamed := catalogue.Species{Name: s.Name, Values: s.Values, Subjects: s.Subjects}
			if view != v.name {
				return
			}
			if again, _ := v.draw(renamed); again != p {
				t.Errorf("%s, %s: another drawing from the same values", s.Name, view)
			}
		})
	}
}

var words = regexp.MustCompile(`[a-z-]+`)

// TestNothingTellsTheSpecies looks for every name of every species, and for
// sources, in markup and description; and for marks that could carry them.
func TestNothingTellsTheSpecies(t *testing.T) {
	c := catalogue.Builtin()
	names := map[string]bool{}
	for _, s := range c.Species {
		for _, n := range append([]string{s.Name, s.Vernacular, s.Spanish}, s.OtherNames...) {
			n = strings.ToLower(n)
			names[n] = true
			all := strings.Fields(n)
			names[all[len(all)-1]] = true // bear, of black bear
			names[all[0]] = names[all[0]] || n == strings.ToLower(s.Name)
		}
		for _, trait := range []string{"order", "family"} {
			names[strings.ToLower(s.Values[trait].Text)] = true
		}
	}
	for _, s := range c.Sources {
		names[s.ID] = true
	}
	delete(names, "")
	forbidden := regexp.MustCompile(`<title|<desc|<!--|\bid=|class=|href|<script|<style`)
	drawn(func(s catalogue.Species, view string, p Plate) {
		if found := forbidden.FindString(p.SVG); found != "" {
			t.Errorf("%s, %s: the markup has %q", s.Name, view, found)
		}
		for _, text := range []string{p.SVG, p.Alt} {
			text = strings.ToLower(text)
			for _, w := range words.FindAllString(text, -1) {
				if names[w] {
					t.Errorf("%s, %s: the word %q gives something away", s.Name, view, w)
				}
			}
			for n := range names {
				if strings.Contains(n, " ") && strings.Contains(text, n) {
					t.Errorf("%s, %s: %q is named", s.Name, view, n)
				}
			}
		}
	})
}

func TestPlatesAreSmall(t *testing.T) {
	sizes := map[string][]int{}
	drawn(func(s catalogue.Species, view string, p Plate) {
		sizes[view] = append(sizes[view], len(p.SVG))
		sizes["all"] = append(sizes["all"], len(p.SVG))
	})
	for view, list := range sizes {
		slices.Sort(list)
		t.Logf("%s: %d plates, median %d bytes, largest %d", view, len(list), list[len(list)/2], list[len(list)-1])
	}
	for view, most := range map[string]int{"skull": 26_000, "side": 11_000} {
		if m := sizes[view][len(sizes[view])/2]; m > most {
			t.Errorf("the median of %s has %d bytes, the bound is %d", view, m, most)
		}
	}
	if m := sizes["all"][len(sizes["all"])/2]; m > 12_000 {
		t.Errorf("the median plate has %d bytes", m)
	}
}

// TestUnknownIsNotDrawn: without its leading traits there is no plate.
func TestUnknownIsNotDrawn(t *testing.T) {
	bare := catalogue.Species{Name: "Aus bus", Values: map[string]catalogue.Value{}, Subjects: catalogue.Subjects}
	for _, v := range views {
		if p, ok := v.draw(bare); ok || p != (Plate{}) {
			t.Errorf("%s: drawn from nothing", v.name)
		}
	}
	dog, _ := catalogue.Builtin().Find("Canis latrans")
	if _, ok := Track(dog, "middle"); ok {
		t.Error("a middle foot is drawn")
	}
}

// TestAnyMixtureOfValues draws chimeras, each trait from another species: a
// catalogue of one's own may hold any of them, and none may break a drawing.
func TestAnyMixtureOfValues(t *testing.T) {
	c := catalogue.Builtin()
	r := rand.New(rand.NewPCG(1, 2))
	count := 0
	for range soak.Size(20, 120) {
		s := catalogue.Species{Name: "Aus bus", Values: map[string]catalogue.Value{}, Subjects: catalogue.Subjects}
		for _, trait := range c.Traits {
			s.Values[trait.ID] = c.Species[r.IntN(len(c.Species))].Values[trait.ID]
		}
		for _, v := range views {
			p, ok := v.draw(s)
			if !ok {
				continue
			}
			count++
			read(t, p.SVG)
			if strings.Contains(p.SVG, "NaN") || strings.Contains(p.SVG, "Inf") {
				t.Fatalf("%s: not a number, from %v", v.name, s.Values)
			}
		}
	}
	t.Logf("%d chimeras drawn", count)
}

func TestLeftMirrorsRight(t *testing.T) {
	s, _ := catalogue.Builtin().Find("Felis catus")
	right, _ := Track(s, "front")
	left, ok := Track(s, "left front")
	if !ok {
		t.Fatal("no left print")
	}
	leads := func(p Plate) float64 {
		elements, _ := read(t, p.SVG)
		toes := named(elements, "toe")
		slices.SortFunc(toes, func(a, b element) int { return int(1000 * (a.box().lo.y - b.box().lo.y)) })
		if toes[0].name != "toe lead" {
			t.Errorf("the foremost toe is called %q", toes[0].name)
		}
		return toes[0].box().mid().x - boxOf(toes).mid().x
	}
	// the leading toe is the third, next to the inner one: on a right foot left of the middle
	if r, l := leads(right), leads(left); r >= 0 || l <= 0 {
		t.Errorf("the leading toe is at %.1f on the right print and %.1f on the left one", r, l)
	}
}

func BenchmarkPlates(b *testing.B) {
	all := catalogue.Builtin().Species
	n := 0
	for b.Loop() {
		for _, s := range all {
			for _, v := range views {
				if _, ok := v.draw(s); ok {
					n++
				}
			}
		}
	}
	b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "plates/s")
}

// The same on all cores: what a hub with many games can draw.
func BenchmarkPlatesParallel(b *testing.B) {
	all := catalogue.Builtin().Species
	var next, n atomic.Int64
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			s := all[int(next.Add(1))%len(all)]
			for _, v := range views {
				if _, ok := v.draw(s); ok {
					n.Add(1)
				}
			}
		}
	})
	b.ReportMetric(float64(n.Load())/b.Elapsed().Seconds(), "plates/s")
}

// What is said to have a drawing has one.
func TestHas(t *testing.T) {
	for _, s := range catalogue.Builtin().Species {
		_, front := Track(s, "front")
		_, hind := Track(s, "hind")
		_, scat := Scat(s)
		_, skull := Skull(s)
		if front != HasTrack(s, "front") || hind != HasTrack(s, "hind") || scat != HasScat(s) || skull != HasSkull(s) {
			t.Errorf("%s: what is said to be drawn is not what is", s.Name)
		}
	}
}
