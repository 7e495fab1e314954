package plate

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"sync"

	"fieldsign/questions/catalogue"
)

var trailTraits = append(slices.Clone(trackTraits), "gait", "stride", "straddle", "tail_drag")

// footfall is one print of a trail that runs to the right: where it falls, in
// strides along and then in print lengths, on which side (-1 left, 1 right),
// how far out of the full straddle, and how far its toes are turned out.
type footfall struct {
	foot         string
	stride, plus float64
	side, out    float64
	toesOut      float64 // degrees
}

// trailGroups are the patterns of the groups of four that were traced, by the
// form of the print. Across and along are in lengths of the hind print.
//
//go:embed prints/groups.csv
var trailGroupSheet string

var trailGroups = sync.OnceValue(func() map[string][]footfall {
	widest := map[string]float64{}
	out := map[string][]footfall{}
	for _, r := range sheetRows(trailGroupSheet) {
		across := floats(r["across"])[0]
		fall := footfall{foot: r["foot"], plus: floats(r["along"])[0], side: math.Copysign(1, across), out: math.Abs(across), toesOut: floats(r["toes_out"])[0] * math.Copysign(1, across)}
		out[r["form"]] = append(out[r["form"]], fall)
		widest[r["form"]] = max(widest[r["form"]], fall.out)
	}
	for form, falls := range out {
		for i := range falls {
			falls[i].out /= widest[form]
		}
	}
	return out
})

// toesIn is how far the toes of some animals point inward as they walk.
var toesIn = sync.OnceValue(func() map[string]float64 {
	out := map[string]float64{}
	for _, r := range sheetRows(printAnimalSheet) {
		if r["toes_in"] != "" {
			out[r["species"]] = floats(r["toes_in"])[0]
		}
	}
	return out
})

// trail is a stretch of prints being drawn, in real mm until it is placed.
type trail struct {
	s                catalogue.Species
	f                facts
	p                *pen
	scale            float64 // page mm for a real mm
	stride, straddle float64
	prints           map[string]trailPrint
}

type trailPrint struct {
	parts         []part
	length, width float64
}

// gaitWords says what a trail of each gait looks like.
var gaitWords = map[string]string{
	"walk": "single prints fall alternately left and right, hind prints partly on the front ones", "trot": "prints fall alternately left and right in a narrow line, hind prints on the front ones",
	"pace": "prints lie in pairs, a hind beside a front one, the pairs slanting to alternate sides", "bound": "prints lie in close groups with long gaps, the hind pair landing together",
	"lope": "groups of four prints lie in slanting lines", "hop": "groups of four: two front prints one behind the other, then the hind pair side by side ahead of them",
	"gallop": "groups of four prints strung out, the hind ones ahead of the front ones",
}

// naturalStride, in print lengths, spaces a trail whose stride is not known;
// the drawing then says that its spacing is not to scale.
var naturalStride = map[string]float64{"walk": 9, "trot": 10, "pace": 6, "bound": 9, "lope": 11, "hop": 9, "gallop": 15}

// Trail draws a stretch of prints in the usual gait, with stride and straddle
// marked where they are known.
func Trail(s catalogue.Species) (Plate, bool) {
	f := facts(s.Values)
	t := &trail{s: s, f: f, prints: map[string]trailPrint{}}
	gait := f.text("gait")
	falls := footfalls(s, gait)
	for _, fall := range falls {
		if _, done := t.prints[fall.foot]; !done && !t.readPrint(fall.foot) {
			return Plate{}, false
		}
	}
	if len(falls) == 0 {
		return Plate{}, false
	}
	strideKnown, straddleKnown := t.measures(gait)
	reach := 1.75 * t.stride
	den := 1.
	for _, d := range []float64{1, 2, 5, 10, 20, 50} {
		if den = d; reach/d <= 260 {
			break
		}
	}
	t.scale = 1 / den
	t.p = newPen(own.seed(f, "trail", trailTraits...), reach*t.scale)
	t.p.larger = .8 // it is wide
	for _, fall := range falls {
		t.fall(fall)
	}
	if f.yes("tail_drag") {
		t.tailDrag()
	}
	return t.finish(gait, den, strideKnown, straddleKnown), true
}

func (t *trail) readPrint(foot string) bool {
	pr, ok := own.print(t.s, foot, 0)
	t.prints[foot] = trailPrint{pr.parts, pr.length, pr.width}
	return ok
}

func (t *trail) measures(gait string) (strideKnown, straddleKnown bool) {
	front := t.prints["front"]
	if front.length == 0 {
		front = t.prints["hind"]
	}
	t.stride, strideKnown = t.f.middle("stride")
	t.straddle, straddleKnown = t.f.middle("straddle")
	t.stride, t.straddle = 10*t.stride, 10*t.straddle
	if !strideKnown {
		t.stride = naturalStride[gait] * front.length
		if t.f.is("foot_type", "bird foot") {
			t.stride = 4.5 * front.length
		}
	}
	if !straddleKnown {
		t.straddle = 2.4 * front.width
	}
	return strideKnown, straddleKnown
}

// footfalls are the pattern of a gait: four steps, or two groups.
func footfalls(s catalogue.Species, gait string) []footfall {
	f := facts(s.Values)
	var out []footfall
	group := func(falls ...footfall) {
		for i := range 2 {
			for _, fall := range falls {
				fall.stride = float64(i) * .999
				out = append(out, fall)
			}
		}
	}
	traced := trailGroups()[animalForms()[s.Name]]
	switch gait {
	case "walk", "trot", "pace":
		return alternating(f, gait, toesIn()[s.Name])
	case "bound", "hop", "lope", "gallop":
		if traced != nil {
			group(traced...)
			return out
		}
	}
	switch gait {
	case "bound":
		if f.is("family", "Mustelidae") {
			group(footfall{"hind", 0, 0, -1, 1, 0}, footfall{"hind", 0, .55, 1, 1, 0})
		} else {
			group(footfall{"front", 0, 0, -1, .5, 0}, footfall{"front", 0, .1, 1, .5, 0}, footfall{"hind", 0, 1.5, -1, 1, 0}, footfall{"hind", 0, 1.6, 1, 1, 0})
		}
	case "hop":
		group(footfall{"front", 0, 0, -1, .25, 0}, footfall{"front", 0, 1.25, 1, .25, 0}, footfall{"hind", 0, 3.1, -1, 1, 0}, footfall{"hind", 0, 3.25, 1, 1, 0})
	case "lope":
		group(footfall{"front", 0, 0, 1, 1, 0}, footfall{"hind", 0, 1.3, 1, .3, 0}, footfall{"front", 0, 1.7, -1, .35, 0}, footfall{"hind", 0, 3, -1, 1, 0})
	case "gallop":
		group(footfall{"front", 0, 0, -1, .5, 0}, footfall{"front", 0, 1.6, 1, .5, 0}, footfall{"hind", 0, 3.4, -1, 1, 0}, footfall{"hind", 0, 4.8, 1, 1, 0})
	}
	return out
}

func alternating(f facts, gait string, toesIn float64) []footfall {
	var out []footfall
	for i := range 4 {
		side := float64(1 - 2*(i%2))
		at := float64(i) / 2
		switch {
		case f.is("foot_type", "bird foot"):
			out = append(out, footfall{"front", at, 0, side, 1, -toesIn})
		case gait == "pace":
			out = append(out, footfall{"hind", at, 0, side, 1, -toesIn}, footfall{"front", at, .25, -side, .8, -toesIn})
		case gait == "trot":
			out = append(out, footfall{"front", at, 0, side, 1, -toesIn}, footfall{"hind", at, .12, side, 1, -toesIn})
		default:
			out = append(out, footfall{"front", at, 0, side, 1, -toesIn}, footfall{"hind", at, -.38, side, .9, -toesIn})
		}
	}
	return out
}

// fall draws one print, small but whole, as one element.
func (t *trail) fall(fall footfall) {
	mark := t.prints[fall.foot]
	parts := mark.parts
	if fall.side < 0 {
		parts = mirrored(parts)
	}
	length := mark.length
	if trailGroups()[animalForms()[t.s.Name]] != nil && t.prints["hind"].length > 0 {
		length = t.prints["hind"].length
	}
	at := pt{fall.stride*t.stride + fall.plus*length, fall.side * fall.out * (t.straddle - mark.width) / 2}.times(t.scale)
	turn := 90 + fall.side*fall.toesOut + 4*t.p.rng.NormFloat64()
	to := measuredBox(parts).fitted(mark.width*t.scale, mark.length*t.scale)
	var d []byte
	for _, part := range parts {
		if !part.measured() && part.name != "dewclaw" || part.name == "web" {
			continue // too fine for this scale
		}
		c := part.c.mapped(func(q pt) pt {
			return to(q).sub(pt{mark.width, mark.length}.times(t.scale / 2)).turn(turn).add(at)
		})
		t.p.space = t.p.space.about(c)
		d = append(d, t.p.path(c)...)
	}
	t.p.put(d, style{name: "print", weight: faint, fill: "#8d887c"})
}

func (t *trail) tailDrag() {
	var pts []pt
	b := t.p.space
	for x := b.lo.x; x < b.hi.x; x += .06 * b.w() {
		pts = append(pts, pt{x, .06 * t.straddle * t.scale * t.p.rng.NormFloat64()})
	}
	t.p.stroke(curve{pts: pts}, style{name: "drag", weight: light, pale: .7})
	t.p.stroke(curve{pts: pts}.shaken(t.p.rng, .4*t.p.unit), style{weight: faint, pale: .5})
}

// finish marks the measures that are known and describes the trail.
func (t *trail) finish(gait string, den float64, strideKnown, straddleKnown bool) Plate {
	p, b := t.p, t.p.space
	label, scale := fmt.Sprintf("1 : %g", den), t.scale
	var seen []string
	if strideKnown {
		y := b.hi.y + 4*p.unit
		t.dimension("stride", pt{0, y}, pt{t.stride * t.scale, y}, fmt.Sprintf("stride %.0f cm", t.stride/10))
		seen = append(seen, fmt.Sprintf("the stride is about %.0f cm", t.stride/10))
	} else {
		label, scale = "spacing along the trail not to scale", 0
	}
	if straddleKnown {
		half := t.straddle * t.scale / 2
		x := b.lo.x - 4*p.unit
		t.dimension("straddle", pt{x, -half}, pt{x, half}, fmt.Sprintf("straddle %.1f cm", t.straddle/10))
		seen = append(seen, fmt.Sprintf("the trail is about %.1f cm wide", t.straddle/10))
	}
	if t.f.yes("tail_drag") {
		seen = append(seen, "a wavering line, as of something dragged, runs between the prints")
	}
	p.zero = pt{0, p.space.hi.y}
	pattern := gaitWords[gait]
	if t.f.is("foot_type", "bird foot") {
		pattern = "single prints fall alternately left and right"
	}
	alt := sentence(append([]string{"drawing of a trail running to the right", pattern}, seen...)...)
	return Plate{SVG: p.finish(scale, label), Alt: alt}
}

// dimension is a line with end ticks and its measure in words.
func (t *trail) dimension(name string, a, b pt, words string) {
	p := t.p
	tick := pt{b.y - a.y, b.x - a.x}
	tick = tick.times(1.6 * p.unit / tick.norm())
	p.strokes([]curve{{pts: []pt{a, b}}}, style{name: name, weight: light})
	p.strokes([]curve{{pts: []pt{a.sub(tick), a.add(tick)}}, {pts: []pt{b.sub(tick), b.add(tick)}}}, style{weight: light})
	if a.y == b.y {
		p.text(mix(a, b, .5).add(pt{0, 5 * p.unit}), "middle", words)
		return
	}
	p.text(pt{a.x, min(a.y, b.y) - 2.5*p.unit}, "middle", words)
}
