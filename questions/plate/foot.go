package plate

import (
	"fmt"
	"math"
	"strings"

	"fieldsign/questions/catalogue"
)

// ground is the light tint of pressed ground, solid so that a part hides
// what runs on under it.
const ground = "#ebe6d8"

// part of a print, in the coordinates of a right foot seen from above: the
// toes point up the page (towards y = 0), the inner side is on the left.
type part struct {
	name string // toe, pad, sole, web, claw, dewclaw, back, touch, mark
	c    curve
	soft bool // varies, so only sketched
}

// measured says which parts count for a print's length and width.
func (p part) measured() bool {
	switch p.name {
	case "toe", "pad", "sole", "web", "back":
		return true
	}
	return false
}

var trackTraits = []string{"order", "family", "foot_type", "front_toes", "hind_toes", "claws_show", "long_front_claws",
	"front_webbing", "hind_webbing", "thumb", "heel_pad", "long_hind_heel", "dewclaws", "furred_sole", "outline",
	"front_length", "front_width", "hind_length", "hind_width"}

// Track draws one print. Foot is "front" or "hind", a right foot; "left front"
// and "left hind" are their mirror images.
func Track(s catalogue.Species, foot string) (Plate, bool) {
	f := facts(s.Values)
	side, left := strings.CutPrefix(foot, "left ")
	parts, seen, ok := footprint(f, side)
	if !ok {
		return Plate{}, false
	}
	if left {
		parts = mirrored(parts)
	}
	length, width, sized := printSize(f, side)
	scale := 1.
	if !sized {
		scale, length, width = 0, 60, 60/naturalAspect(parts)
	}
	p := newPen(f.seed("track "+side, trackTraits...), max(length, width))
	for _, part := range fit(p, parts, length, width) {
		p.printPart(part, f.yes("furred_sole"))
	}
	size := ""
	if sized {
		size = fmt.Sprintf("about %.1f cm long and %.1f cm wide", length/10, width/10)
	}
	return Plate{SVG: p.finish(scale, schematic), Alt: sentence("drawing of a single print, toes towards the top", seen, size)}, true
}

// printSize is the middle of what is known, in mm.
func printSize(f facts, side string) (length, width float64, ok bool) {
	l, okL := f.middle(side + "_length")
	w, okW := f.middle(side + "_width")
	return l * 10, w * 10, okL && okW
}

func naturalAspect(parts []part) float64 {
	b := measuredBox(parts)
	return b.h() / b.w()
}

func measuredBox(parts []part) box {
	b := box{}
	for _, p := range parts {
		if p.measured() {
			b = b.with(p.c.flat()...)
		}
	}
	return b
}

// fit gives the print the hand's wobble, then exactly its length and width.
func fit(p *pen, parts []part, length, width float64) []part {
	out := make([]part, len(parts))
	for i, part := range parts {
		size := box{}.with(part.c.pts...)
		part.c = part.c.shaken(p.rng, min(.006, .022*max(.1, min(size.w(), size.h()))))
		out[i] = part
	}
	to := measuredBox(out).fitted(width, length)
	p.zero = pt{0, length}
	for i := range out {
		out[i].c = out[i].c.mapped(to)
	}
	return out
}

func mirrored(parts []part) []part {
	out := make([]part, len(parts))
	for i, p := range parts {
		p.c = p.c.mirrored()
		out[i] = p
	}
	return out
}

// printPart draws a hollow pressed into the ground, lit from the upper left.
func (p *pen) printPart(part part, furred bool) {
	s := style{name: part.name, weight: firm, dashed: part.soft}
	size := box{}.with(part.c.flat()...)
	depth := min(3*p.unit, .22*min(size.w(), size.h()))
	shade := style{weight: faint, pale: .7}
	switch part.name {
	case "mark":
		s.weight = light
		p.stroke(part.c, s)
		return
	case "claw":
		s.fill, s.wash, s.weight = ink, .5, light
		p.stroke(part.c, s)
		return
	case "web":
		s.weight, s.fill = light, ground
		p.stroke(part.c, s)
		p.hatch(part.c, 0, 2.6*p.unit, 0, style{weight: faint, pale: .35})
		return
	default:
		s.fill = ground
	}
	if furred && part.name == "sole" {
		s.weight, s.pale = faint, .4
	}
	if part.soft || furred && part.name != "sole" {
		s.weight = light
	}
	p.shape(part.c, s)
	if furred {
		p.fuzz(part.c)
	}
	if part.name == "sole" || part.soft {
		p.hatch(part.c, -38, 2.4*p.unit, depth, style{weight: faint, pale: .5})
		return
	}
	p.hatch(part.c, -38, 1.25*p.unit, depth, shade)
	p.hatch(part.c, -38, 3.1*p.unit, 0, style{weight: faint, pale: .35})
}

// fuzz blurs an outline with short hairs.
func (p *pen) fuzz(c curve) {
	flat := c.flat()
	var hairs []curve
	for i := 0; i < len(flat); i++ {
		a, b := flat[i], flat[(i+1)%len(flat)]
		d := b.sub(a)
		if d.norm() < .2*p.unit {
			continue
		}
		long := p.unit * lerp(1.2, 3.4, p.rng.Float64())
		lean := pt{d.y, -d.x}.times(1 / d.norm()).turn(25 * p.rng.NormFloat64()).add(pt{0, .4}).times(long)
		root := mix(a, b, p.rng.Float64()).sub(lean.times(.5))
		hairs = append(hairs, curve{pts: []pt{root, root.add(lean)}})
	}
	p.strokes(hairs, style{weight: faint, pale: .8})
}

// footprint is the print's parts and what is seen of them.
func footprint(f facts, side string) (parts []part, seen string, ok bool) {
	counted := side + "_toes"
	if f.is("foot_type", "bird foot") && side == "front" {
		counted = "toes_forward"
	}
	toes, ok := f.count(counted)
	if !ok || side != "front" && side != "hind" {
		return nil, "", false
	}
	switch f.text("foot_type") {
	case "hoof":
		parts, seen = hoofPrint(f, toes)
	case "bird foot":
		parts, seen = birdPrint(f, toes)
	case "paw":
		parts, seen = pawPrint(f, side, toes)
	}
	return parts, seen, len(parts) > 0
}

// hoof halves, right one, by outline of the print.
var hoofHalves = map[string]curve{
	"heart-shaped": loop(.045, 0, .045, 0, .16, .09, .31, .32, .40, .60, .39, .85, .28, .99, .14, .97, .07, .80, .05, .50, .035, .22),
	"round":        loop(.13, .02, .30, .06, .46, .26, .52, .54, .46, .82, .30, .99, .15, .95, .09, .80, .13, .55, .14, .34, .09, .12),
	"squarish":     loop(.12, .01, .28, .0, .41, .12, .44, .45, .43, .85, .31, .99, .14, .97, .06, .80, .07, .50, .10, .22),
	"":             loop(.06, .02, .17, .03, .33, .18, .43, .46, .44, .78, .34, .97, .17, .99, .08, .86, .055, .5, .045, .18),
}

var hoofWalls = map[string]curve{
	"heart-shaped": line(.09, .16, .23, .36, .31, .60, .30, .80, .20, .88, .12, .78),
	"round":        line(.20, .13, .35, .28, .42, .54, .37, .78, .26, .88, .18, .80),
	"squarish":     line(.17, .09, .30, .12, .35, .45, .34, .78, .24, .88, .13, .78),
	"":             line(.13, .13, .27, .25, .35, .50, .35, .76, .25, .88, .13, .78),
}

func hoofPrint(f facts, toes int) ([]part, string) {
	switch toes {
	case 1:
		return singleHoof()
	case 2:
	default:
		return nil, ""
	}
	outline := f.text("outline")
	half, ok := hoofHalves[outline]
	if !ok {
		outline, half = "", hoofHalves[""]
	}
	wall := hoofWalls[outline]
	parts := []part{{name: "toe", c: half}, {name: "toe", c: half.mirrored()},
		{name: "mark", c: wall}, {name: "mark", c: wall.mirrored()}}
	if f.yes("dewclaws") {
		parts = append(parts, dewclaws(outline)...)
	}
	shape := map[string]string{"heart-shaped": "together heart-shaped, pointed in front", "round": "rounded like two crescents, their tips turned inward",
		"squarish": "blunt, together squarish, open in front", "": "blunt in front, together oval"}[outline]
	return parts, listed("two hoof halves side by side, "+shape, when(f.yes("dewclaws"), "two dewclaw marks behind"))
}

func dewclaws(outline string) []part {
	x, deg, w := .24, 14., .10
	if outline == "round" {
		x, deg, w = .38, 52, .15
	} else if outline == "" {
		x, deg = .31, 30
	}
	c := loop(0, -.5, .4, -.25, .5, .2, .1, .5, -.35, .4, -.45, -.1).placed(pt{x, 1.24}, w, .2, deg)
	return []part{{name: "dewclaw", c: c}, {name: "dewclaw", c: c.mirrored()}}
}

// singleHoof is one round hoof, open behind, with the wedge of the frog.
func singleHoof() ([]part, string) {
	wall := loop(0, 0, .24, .05, .41, .22, .47, .48, .44, .74, .35, .93, .22, 1, .15, .94, 0, .88, -.15, .94, -.22, 1, -.35, .93, -.44, .74, -.47, .48, -.41, .22, -.24, .05)
	sole := line(.20, .90, .32, .78, .37, .50, .31, .27, .17, .14, 0, .10, -.17, .14, -.31, .27, -.37, .50, -.32, .78, -.20, .90)
	frog := line(-.17, .93, -.17, .93, -.07, .62, 0, .45, 0, .45, .07, .62, .17, .93, .17, .93)
	cleft := line(0, .62, .01, .75, 0, .9)
	return []part{{name: "toe", c: wall}, {name: "mark", c: sole}, {name: "mark", c: frog}, {name: "mark", c: cleft}},
		"one round, undivided hoof, open behind, with a wedge running in from the rear"
}

// birdPrint has the toes that point forward, and the hind toe.
func birdPrint(f facts, toes int) ([]part, string) {
	if toes != 3 {
		return nil, ""
	}
	web := f.text("front_webbing")
	spread := 47.
	if web == "full" {
		spread = 37
	} else if f.is("order", "Passeriformes") {
		spread = 27
	}
	thick := .05
	if f.oneOf("order", "Accipitriformes", "Galliformes") {
		thick = .062
	}
	centre := pt{0, .66}
	var parts, claws []part
	tips := make([]pt, 3)
	for i, deg := range []float64{-spread, 2, spread + 3} {
		long := .66
		if i != 1 {
			long = .58
		}
		tips[i] = centre.add(pt{0, -long}.turn(deg))
		parts = append(parts, part{name: "toe", c: birdToe(centre.add(pt{0, -.05}.turn(deg)), tips[i], thick, -.025*math.Copysign(1, deg))})
		if f.yes("claws_show") {
			claws = append(claws, clawMark(tips[i], deg, .02, .085, .045))
		}
	}
	back := backToe(f, centre, thick)
	parts = append(append(parts, back...), claws...)
	parts = append(parts, part{name: "pad", c: oval(centre.x, centre.y-.01, thick*2.9, thick*2.6, 0)})
	if web != "" && web != "none" {
		parts = append([]part{birdWeb(tips, centre, web)}, parts...)
	}
	return parts, listed("three toes forward, spread from one point", when(web == "full", "webs run from tip to tip"),
		when(web == "partial", "a small web at the base of the toes"), when(web == "none", "no webs"),
		when(len(back) > 0, "a toe or its mark pointing back"), when(len(claws) > 0, "claw tips show"))
}

// birdToe is a jointed toe: three swellings and a rounded tip.
func birdToe(from, to pt, r, bow float64) curve {
	d := to.sub(from)
	side := pt{-d.y, d.x}
	var centre []pt
	for i := range 8 {
		t := float64(i) / 7
		centre = append(centre, from.add(d.times(t)).add(side.times(bow*math.Sin(math.Pi*t)*2)))
	}
	return tube(centre, func(t float64) float64 {
		if t > .99 {
			return r * .4
		}
		return r * (.85 + .3*math.Cos(6*math.Pi*t)*(1-.3*t) - .25*t)
	})
}

// backToe is a toe, or only a touch where it is short.
func backToe(f facts, centre pt, thick float64) []part {
	switch f.text("hind_toe") {
	case "long":
		c := birdToe(centre.add(pt{0, .05}), centre.add(pt{.05, .34}), thick*.9, .02)
		parts := []part{{name: "back", c: c}}
		if f.yes("claws_show") {
			parts = append(parts, clawMark(centre.add(pt{.05, .34}), 172, .02, .08, .045))
		}
		return parts
	case "short":
		return []part{{name: "touch", c: loop(0, -.5, .5, 0, 0, .5, -.5, 0).placed(centre.add(pt{-.05, .15}), .05, .08, 20)}}
	}
	return nil
}

func birdWeb(tips []pt, centre pt, web string) part {
	reach, sag := .93, .84
	if web == "partial" {
		reach, sag = .32, .24
	}
	at := func(i int) pt { return mix(centre, tips[i], reach) }
	between := func(i int) pt { return mix(centre, mix(tips[i], tips[i+1], .5), sag) }
	left, right := at(0), at(2)
	return part{name: "web", c: curve{[]pt{left, left, between(0), at(1), at(1), between(1), right, right,
		mix(right, centre, .5).add(pt{.02, .03}), centre.add(pt{0, .03}), mix(left, centre, .5).add(pt{-.02, .03})}, true}}
}

// clawMark is a small pointed mark a gap ahead of a toe's tip.
func clawMark(tip pt, deg, gap, long, wide float64) part {
	at := tip.add(pt{0, -gap - long/2}.turn(deg))
	return part{name: "claw", c: loop(0, -.5, 0, -.5, .4, .2, .2, .5, -.2, .5, -.4, .2).placed(at, wide, long, deg)}
}
