package plate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// Tints of pressed ground: solid, so that a part hides what runs on under it.
const (
	ground = "#d9cdb4"
	hair   = "#efeadd"
)

// part of a print, in the coordinates of a right foot seen from above: the
// toes point up the page (towards y = 0), the inner side is on the left.
type part struct {
	name  string // toe, lead, thumb, pad, bar, heel, sole, fur, web, claw, dewclaw, back, touch, mark, fringe, pebble, space
	c     curve
	soft  bool // varies, so only sketched
	faint bool // often leaves no mark
	rigid bool // keeps its shape when a print is fitted to its size
}

// measured says which parts count for a print's length and width.
func (p part) measured() bool {
	switch p.name {
	case "toe", "lead", "thumb", "pad", "heel", "sole", "fur", "web", "back":
		return true
	}
	return false
}

func (p part) isToe() bool { return p.name == "toe" || p.name == "lead" || p.name == "thumb" }

// mark is the part's name in the drawing, the class first.
func (p part) mark() string {
	switch p.name {
	case "lead", "thumb":
		return "toe " + p.name
	case "bar":
		return "pad bar"
	}
	return p.name
}

var trackTraits = []string{"order", "family", "foot_type", "front_toes", "hind_toes", "claws_show", "long_front_claws",
	"front_webbing", "hind_webbing", "thumb", "heel_pad", "long_hind_heel", "dewclaws", "furred_sole", "outline",
	"front_length", "front_width", "hind_length", "hind_width"}

// imprint is one foot's print of one individual.
type imprint struct {
	parts         []part
	looks         string
	length, width float64 // mm
	depth         float64 // of the hollow, 1 for one of the middle
	furred        bool
	bird          bool
	seed          uint64
}

// Track draws one print. Foot is "front" or "hind", a right foot; "left front"
// and "left hind" are left ones.
func (h Hand) Track(s catalogue.Species, foot string) (Plate, bool) { return h.TrackOf(s, foot, 0) }

// TrackOf draws the print of one individual: number 0 is of middle size, others
// vary in size within the species' range, in the spread of the toes and in how
// deep they stand.
func (h Hand) TrackOf(s catalogue.Species, foot string, individual int) (Plate, bool) {
	pr, ok := h.print(s, foot, individual)
	if !ok {
		return Plate{}, false
	}
	p := newPen(pr.seed, max(pr.length, pr.width))
	p.larger = upright
	for _, part := range fit(p, pr) {
		p.printPart(part, pr)
	}
	return Plate{SVG: p.finish(1, ""), Alt: pr.describe()}, true
}

func (pr imprint) describe() string {
	return sentence("drawing of a single print, toes towards the top", pr.looks, pr.size())
}

// print is the print as it will be drawn, or none where the catalogue does
// not know enough.
func (h Hand) print(s catalogue.Species, foot string, individual int) (imprint, bool) {
	f := facts(s.Values)
	side, left := strings.CutPrefix(foot, "left ")
	parts, seen, ok := footprint(s, side)
	if !ok {
		return imprint{}, false
	}
	length, width, sized := printSize(s, side, individual)
	pr := imprint{parts: parts, looks: seen, length: length, width: width, depth: 1, furred: f.yes("furred_sole"), bird: f.is("foot_type", "bird foot"),
		seed: h.seed(f, "track "+side, trackTraits...) + uint64(individual)*0x9e3779b97f4a7c15}
	if individual != 0 {
		pr.vary()
	}
	if left {
		pr.parts = mirrored(pr.parts)
	}
	return pr, sized
}

func (pr imprint) size() string {
	return fmt.Sprintf("about %.1f cm long and %.1f cm wide", pr.length/10, pr.width/10)
}

// individuals are where in the species' ranges of length and width they lie.
var individuals = [][2]float64{{.5, .5}, {.27, .34}, {.71, .62}, {.38, .30}, {.62, .70}}

// printSize is in mm. An animal whose size the catalogue calls variable has that
// of its form.
func printSize(s catalogue.Species, side string, individual int) (length, width float64, ok bool) {
	f := facts(s.Values)
	at := individuals[individual%len(individuals)]
	l, okL := f.within(side+"_length", at[0])
	w, okW := f.within(side+"_width", at[1])
	if form, known := printFormOf(s, side); known && !(okL && okW) && form.length > 0 {
		return 10 * lerp(.85, 1.15, at[0]) * form.length, 10 * lerp(.85, 1.15, at[1]) * form.width, true
	}
	return l * 10, w * 10, okL && okW
}

// vary spreads or closes the toes about the pad and presses the print deeper or
// less deep.
func (pr *imprint) vary() {
	rng := newPen(pr.seed, 1).rng
	pr.depth = lerp(.65, 1.5, rng.Float64())
	if pr.hooved() {
		pr.spread(pt{0, .95}, lerp(2, 5, rng.Float64())*math.Copysign(1, rng.Float64()-.35), lerp(.03, .06, rng.Float64())*math.Copysign(1, rng.Float64()-.5))
		return
	}
	splay := lerp(.07, .14, rng.Float64()) * math.Copysign(1, rng.Float64()-.4)
	lean := 2.5 * rng.NormFloat64()
	still := slices.Clone(pr.parts)
	for i, p := range still {
		switch p.name {
		case "space", "fur", "sole":
			continue
		case "web": // it goes with the toes, whose middles lie half as far out as their tips
			pr.parts[i].c = p.c.mapped(func(q pt) pt { return q.sub(pt{0, .85}).turn(splay*q.x*.55*90 + lean).add(pt{0, .85}) })
			continue
		}
		if p.isToe() || p.name == "claw" || p.name == "back" {
			at := toeOf(still, p).c.box().mid()
			deg := splay*at.x*90 + lean
			pr.parts[i].c = p.c.mapped(func(q pt) pt { return q.sub(pt{0, .85}).turn(deg).add(pt{0, .85}) })
		}
	}
}

// toeOf is the toe that a claw stands before; of a toe, itself.
func toeOf(parts []part, p part) part {
	if p.name != "claw" {
		return p
	}
	root := p.c.box().mid()
	off := func(q part) float64 { return nearest(q.c.flat(), root).sub(root).norm() }
	toes := slices.DeleteFunc(slices.Clone(parts), func(q part) bool { return !q.isToe() && q.name != "back" })
	return slices.MinFunc(toes, func(a, b part) int { return cmp.Compare(off(a), off(b)) })
}

func (pr *imprint) hooved() bool {
	toes := 0
	for _, p := range pr.parts {
		if p.isToe() {
			toes++
		}
	}
	return toes == 2 && !pr.bird
}

// spread turns the halves of a hoof apart about a point, and sets one ahead.
func (pr *imprint) spread(about pt, deg, ahead float64) {
	for i, p := range pr.parts {
		side := math.Copysign(1, p.c.box().mid().x)
		pr.parts[i].c = p.c.mapped(func(q pt) pt { return q.sub(about).turn(side * deg / 2).add(about).add(pt{0, side * ahead / 2}) })
	}
}

func measuredBox(parts []part) box {
	b := box{}
	for _, p := range parts {
		if p.measured() {
			b = b.about(p.c)
		}
	}
	return b
}

// fit gives the print the hand's wobble, then exactly its length and width.
// Toes and claws keep their shape; their places, the pads and the soles stretch.
func fit(p *pen, pr imprint) []part {
	out := make([]part, len(pr.parts))
	most := .006
	if pr.hooved() { // horn has an even edge, and halves that mirror each other
		most = .003
	}
	for i, part := range pr.parts {
		size := box{}.with(part.c.pts...)
		part.c = part.c.shaken(p.rng, min(most, .022*max(.1, min(size.w(), size.h()))))
		out[i] = part
	}
	b := measuredBox(out)
	to := b.fitted(pr.width, pr.length)
	even := math.Sqrt(pr.width / b.w() * pr.length / b.h())
	for i, part := range out {
		if part.rigid {
			at := (box{}).with(part.c.pts...).mid()
			out[i].c = part.c.mapped(func(q pt) pt { return to(at).add(q.sub(at).times(even)) })
			continue
		}
		out[i].c = part.c.mapped(to)
	}
	b = measuredBox(out) // what kept its shape may reach out a little
	exact := b.fitted(pr.width, pr.length)
	for i := range out {
		out[i].c = out[i].c.mapped(exact)
	}
	p.zero = pt{0, pr.length}
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
func (p *pen) printPart(part part, pr imprint) {
	s := style{name: part.mark(), weight: firm, dashed: part.soft}
	size := part.c.box()
	depth := pr.depth * min(3*p.unit, .22*min(size.w(), size.h()))
	switch part.name {
	case "space": // where the open ground lies: for a page to mark, unseen in the drawing
		p.put(p.path(part.c), style{name: part.name, hidden: true})
		return
	case "mark", "fringe", "pebble":
		s.weight = light
		p.stroke(part.c, s)
		return
	case "claw":
		s.fill, s.wash, s.weight, s.dashed = ink, .62, light, false
		if part.soft { // sketched
			s.wash, s.weight, s.pale = .16, faint, .8
		}
		p.stroke(part.c, s)
		return
	case "web":
		s.weight, s.fill = light, hair
		p.stroke(part.c, s)
		p.hatch(part.c, 0, 2.6*p.unit, 0, style{weight: faint, pale: .35})
		return
	case "fur":
		p.fur(part, s)
		return
	}
	s.fill = ground
	if part.name == "bar" {
		s.fill = "#b9ad93"
	}
	if part.soft || part.faint || pr.furred {
		s.weight = light
	}
	if pr.furred {
		s.pale = .3
		p.stroke(part.c, s)
		p.fuzz(part.c, 1)
	} else {
		p.shape(part.c, s)
	}
	if part.soft || part.faint {
		p.hatch(part.c, -38, 2.4*p.unit, depth, style{weight: faint, pale: .5})
		return
	}
	p.hatch(part.c, -38, 1.25*p.unit, depth, style{weight: faint, pale: .7})
	p.hatch(part.c, -38, 3.1*p.unit, 0, style{weight: faint, pale: .35})
}

// fur is a sole of hair: no edge, only strokes that end in a blur.
func (p *pen) fur(part part, s style) {
	s.weight, s.pale, s.fill, s.dashed = faint, .25, hair, false
	p.stroke(part.c, s)
	p.fuzz(part.c, 1.8)
	p.hatch(part.c, 82, 3.4*p.unit, 0, style{weight: faint, pale: .4})
}

// fuzz blurs an outline with short hairs.
func (p *pen) fuzz(c curve, long float64) {
	flat := c.flat()
	var hairs []curve
	for i := 0; i < len(flat); i++ {
		a, b := flat[i], flat[(i+1)%len(flat)]
		d := b.sub(a)
		if d.norm() < .2*p.unit {
			continue
		}
		reach := p.unit * long * lerp(1.2, 3.4, p.rng.Float64())
		lean := pt{d.y, -d.x}.times(1 / d.norm()).turn(25 * p.rng.NormFloat64()).add(pt{0, .4}).times(reach)
		root := mix(a, b, p.rng.Float64()).sub(lean.times(.5))
		hairs = append(hairs, curve{pts: []pt{root, root.add(lean)}})
	}
	p.strokes(hairs, style{weight: faint, pale: .55})
}
