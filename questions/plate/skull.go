package plate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"

	"fieldsign/questions/catalogue"
)

var skullTraits = []string{"order", "family", "dental_formula", "incisor_colour", "large_canines", "diastema", "cheek_teeth", "carnassials",
	"sagittal_crest", "orbit_size", "orbit_placement", "orbit_ringed", "profile", "rostrum", "zygomatic_arch", "head_gear",
	"latticed_snout", "peg_incisors", "inflected_jaw", "skull_length"}

const (
	bone   = "#f3ecdb"
	shadow = "#d5ccb8" // a hollow in bone
	deep   = "#8b8170" // a hole through bone
)

// skull is one skull being drawn, its form turned into mm of the page.
type skull struct {
	f     facts
	p     *pen
	form  *form
	long  float64 // mm on the page
	times float64 // by which the page enlarges it; 1 is life size
	teeth formula
	at    pt                 // where the view being drawn has its zero
	drawn map[string][]curve // by name, what a label may point at
	joint func() (condyle, coronoid float64)
}

// Skull draws all views: from the left side, from above, from below with the
// upper row of teeth, and the lower jaw from above.
func (h Hand) Skull(s catalogue.Species) (Plate, bool) {
	k, ok := h.skull(s)
	if !ok {
		return Plate{}, false
	}
	k.notes(allViews)
	k.side()
	k.scale(0, k.long)
	k.otherViews()
	return Plate{SVG: k.finish(), Alt: k.describe("with views from above and below and its rows of teeth")}, true
}

// SkullSide is the view from the left side alone, which still tells something
// where there is little room.
func (h Hand) SkullSide(s catalogue.Species) (Plate, bool) {
	k, ok := h.skull(s)
	if !ok {
		return Plate{}, false
	}
	k.side()
	k.scale(0, k.long)
	return Plate{SVG: k.finish(), Alt: k.describe("")}, true
}

// SkullAbove is the view from above alone.
func (h Hand) SkullAbove(s catalogue.Species) (Plate, bool) {
	return h.alone(s, (*skull).above, (*skull).describeAbove)
}

// SkullBelow is the view from below alone, with the upper row of teeth.
func (h Hand) SkullBelow(s catalogue.Species) (Plate, bool) {
	return h.alone(s, (*skull).below, (*skull).describeBelow)
}

// SkullJaw is the lower jaw alone, from above.
func (h Hand) SkullJaw(s catalogue.Species) (Plate, bool) {
	return h.alone(s, (*skull).lowerJaw, (*skull).describeJaw)
}

// alone is one of the views that stand on a middle line.
func (h Hand) alone(s catalogue.Species, draw func(*skull, pt), describe func(*skull) string) (Plate, bool) {
	k, ok := h.skull(s)
	if !ok {
		return Plate{}, false
	}
	k.notes(upright)
	draw(k, pt{})
	k.scale(-k.long/2, k.long)
	return Plate{SVG: k.finish(), Alt: describe(k)}, true
}

func (h Hand) skull(s catalogue.Species) (*skull, bool) {
	f := facts(s.Values)
	form, ok := formOf(s.Name, f)
	if !ok || !s.Has("skull") {
		return nil, false
	}
	teeth, told := formulaOf(s.Name, f, form)
	if !told {
		return nil, false
	}
	k := &skull{f: f, form: form, teeth: teeth, times: 1, drawn: map[string][]curve{}}
	k.joint = sync.OnceValues(k.findJoint)
	k.long = form.number("length", 100)
	if long, sized := f.middle("skull_length"); sized {
		k.long = long
	}
	k.p = newPen(h.seed(f, "skull", skullTraits...), k.long*.9)
	k.p.coarse()
	k.notes(1)
	return k, true
}

// notes are so many times larger, and more where antlers or horns take room.
func (k *skull) notes(larger float64) {
	if k.has("antlers") || k.has("horns") {
		larger *= 1.3
	}
	k.p.larger = larger
}

func (k *skull) finish() string { return k.p.finish(0, "") }

// unit is a hundredth of the skull's length, in mm.
func (k *skull) unit() float64 { return k.long / 100 }

// mm is a place on the page of a point of the form.
func (k *skull) mm(q pt) pt { return q.times(k.unit()).add(k.at) }

// outline is a part of the form on the page, as a hand draws it.
func (k *skull) outline(c curve, shake float64) curve {
	return c.shaken(k.p.rng, shake).mapped(k.mm)
}

const steady = .14 // of the hand, in hundredths of the length

// exactly scales an outline to the length of the skull, after the hand shook it.
func (k *skull) exactly(c curve) curve {
	c = c.shaken(k.p.rng, steady)
	b := c.box()
	return c.mapped(func(q pt) pt { return pt{(q.x - b.lo.x) * 100 / b.w(), q.y} }).mapped(k.mm)
}

// side draws the view from the left, what lies behind first.
func (k *skull) side() {
	k.antlers()
	c, _ := k.form.part("side cranium")
	cranium := k.exactly(c)
	k.keep("cranium", cranium)
	crest := k.crest(cranium)
	k.p.stroke(k.crested(cranium, crest), style{name: "cranium", fill: bone})
	k.p.stroke(crest, style{name: "crest", hidden: true})
	k.occiput(cranium)
	k.shade(cranium, .05)
	k.hollows()
	k.sockets()
	k.sideTeeth(lower)
	if k.teeth.of(1, upper) == 0 && k.hasGreat(lower) { // the jaw's branch hides the last teeth
		k.sideTeeth(upper)
		k.jaw()
	} else {
		k.jaw()
		k.sideTeeth(upper)
	}
	k.arch()
	k.ear()
	k.surface()
	k.horns()
	k.inset()
}

func (k *skull) keep(name string, c curve) { k.drawn[name] = append(k.drawn[name], c) }

// shade is hatching on a bone's under side, so deep in parts of the length.
func (k *skull) shade(c curve, depth float64) {
	k.p.hatchFrom(c, -58, 2.4*k.p.unit, pt{-depth * .4 * k.long, -depth * k.long}, style{weight: faint, pale: .55})
}

// crest is the ridge along the top, where it is known or usual.
func (k *skull) crest(cranium curve) curve {
	c, has := k.form.part("side crest")
	if k.f.is("sagittal_crest", "no") || !has && !k.f.yes("sagittal_crest") {
		return curve{}
	}
	if !has {
		c = k.usualCrest()
	}
	c.closed = true
	outline := k.rising(cranium, k.outline(c, steady))
	k.keep("crest", outline)
	return outline
}

// crested is the outline of the cranium with its crest: they are one bone, and one
// line runs from the roof onto the crest and off it.
func (k *skull) crested(cranium, crest curve) curve {
	body, near := cranium.flat(), .004*k.long
	var ridge []pt
	for i, q := range crest.pts {
		if !inside(body, q) && q.sub(nearest(body, q)).norm() > near {
			if i > 0 && len(ridge) == 0 {
				ridge = append(ridge, crest.pts[i-1]) // on the roof
			}
			ridge = append(ridge, q)
		}
	}
	if len(ridge) == 0 {
		return cranium
	}
	first, last, covers := ridge[0].x-.005*k.long, ridge[len(ridge)-1].x-.01*k.long, crest.flat()
	from := slices.IndexFunc(cranium.pts, func(q pt) bool { return q.x > first })
	out := curve{append(slices.Clone(cranium.pts[:from]), ridge...), true}
	roof := true
	for i := from; i < len(cranium.pts); i++ {
		q := cranium.pts[i]
		roof = roof && cranium.at(i+1).x >= q.x
		if !inside(covers, q) && !(roof && q.x < last) {
			out.pts = append(out.pts, q)
		}
	}
	return out
}

// rising is a crest that leaves the roof of the skull by and by: up to its peak
// nothing is hollow, and so there is no step where it begins.
func (k *skull) rising(cranium, crest curve) curve {
	peak := slices.MinFunc(crest.pts, func(p, q pt) int { return cmp.Compare(p.y, q.y) })
	front := box{}.with(crest.pts...).lo.x - .06*k.long
	const n = 6
	var ridge []pt
	for i := range n {
		q := pt{lerp(front, peak.x, float64(i)/n), math.Inf(1)}
		for _, s := range append(across(cranium, q.x), across(crest, q.x)...) {
			q.y = min(q.y, s.lo)
		}
		ridge = append(ridge, q)
	}
	return curve{append(overHollows(append(ridge, peak)), crest.pts[slices.Index(crest.pts, peak)+1:]...), true}
}

// overHollows lifts points that lie, from left to right, lower than a slight bow
// between others.
func overHollows(pts []pt) []pt {
	out := slices.Clone(pts)
	for i, a := range pts {
		for j := i + 1; j < len(pts); j++ {
			for k := i + 1; k < j; k++ {
				long := pts[j].x - a.x
				t := (pts[k].x - a.x) / long
				out[k].y = min(out[k].y, lerp(a.y, pts[j].y, t)-.1*long*t*(1-t))
			}
		}
	}
	return out
}

// occiput is the condyle, where the outline has one: the knob below a notch in
// the rear edge is parted from the bone before it.
func (k *skull) occiput(cranium curve) {
	pts := cranium.pts
	knob := slices.IndexFunc(pts, func(q pt) bool { return q.x > k.mm(pt{90, 0}).x })
	for i := max(knob, 1); knob >= 0 && i+1 < len(pts); i++ {
		notch := pts[i]
		if notch.x >= pts[i-1].x || notch.x >= pts[i+1].x || notch.x < k.mm(pt{88, 0}).x {
			continue
		}
		for j := i + 1; j+1 < len(pts); j++ {
			if low := pts[j]; low.x < notch.x && low.y > notch.y {
				bow := pt{-.012 * k.long, 0}
				k.p.stroke(curve{pts: []pt{notch, mix(notch, low, .5).add(bow), low}}, style{name: "condyle", weight: light})
				return
			}
		}
	}
}

// usualCrest follows the top of the braincase.
func (k *skull) usualCrest() curve {
	cranium, _ := k.form.part("side cranium")
	var ridge []pt
	for i := range 7 {
		x := lerp(58, 97, float64(i)/6)
		ridge = append(ridge, pt{x, across(cranium, x)[0].lo - 3.2*math.Sin(math.Pi*min(1, .15+float64(i)/7))})
	}
	return curve{pts: append(ridge, pt{96, ridge[6].y + 6}, pt{60, ridge[0].y + 4})}
}

// hollows are the temporal fossa, in which the jaw's muscle lay, and what else
// lies deep.
func (k *skull) hollows() {
	for _, c := range k.form.parts["side fossa"] {
		c := k.outline(c, steady)
		k.p.stroke(c, style{name: "fossa", fill: shadow, wash: .45, weight: faint, pale: .01})
		k.p.hatch(c, -58, 2*k.p.unit, 0, style{weight: faint, pale: .5})
	}
	for _, c := range k.form.parts["side opening"] {
		k.hollow("infraorbital", c)
	}
	for _, c := range k.form.parts["side pit"] {
		k.hollow("pit", c)
	}
	for _, c := range k.form.parts["side nose"] {
		k.p.stroke(k.outline(c, steady), style{name: "nose", fill: deep, weight: light})
	}
}

// hollow is a wide opening or a pit in the side of the face.
func (k *skull) hollow(name string, c curve) {
	c = k.outline(c, steady)
	k.keep(name, c)
	k.p.stroke(c, style{name: name, fill: shadow, weight: light})
	k.p.hatchFrom(c, -58, 1.1*k.p.unit, pt{.6 * k.p.unit, .8 * k.p.unit}, style{weight: faint})
}

// sockets are the orbit and the opening before it. The orbit's rim is closed
// where a ring of bone is known or usual, else open behind.
func (k *skull) sockets() {
	c, _ := k.form.part("side orbit")
	orbit := k.outline(c, steady)
	k.keep("orbit", orbit)
	b := orbit.box()
	k.p.stroke(orbit, style{name: "orbit", fill: shadow, pale: .01, weight: faint})
	k.p.hatch(orbit, -58, 1.25*k.p.unit, 0, style{weight: light, pale: .65})
	k.p.hatchFrom(orbit, 28, 1.5*k.p.unit, pt{.22 * b.w(), .28 * b.h()}, style{weight: light, pale: .7})
	if ringed := k.f.text("orbit_ringed"); ringed == "yes" || ringed == "" && k.form.texts["orbit"] == "ringed" {
		k.p.shape(orbit, style{name: "rim"})
		k.p.stroke(orbit.mapped(func(q pt) pt { return mix(b.mid(), q, 1.16) }), style{weight: faint})
	} else {
		k.p.stroke(rim(orbit, b), style{name: "rim"})
	}
	if c, ok := k.ellipse("mark infra"); ok {
		k.keep("infraorbital", c)
		k.p.stroke(c, style{name: "infraorbital", fill: deep, weight: light})
	}
	for _, c := range k.form.parts["side process"] {
		c := k.outline(c, steady)
		k.keep("postorbital", c)
		k.p.stroke(c, style{name: "postorbital", fill: bone, pale: .01, weight: faint})
		k.p.stroke(curve{pts: append(c.pts[1:len(c.pts):len(c.pts)], c.pts[0])}, style{}) // open at the brow, one with the rim
	}
}

// rim is the upper and front part of an orbit that opens behind: from its rear
// top corner, over the top, down the front.
func rim(orbit curve, b box) curve {
	n := len(orbit.pts)
	start := 0
	for i, q := range orbit.pts {
		if q.x-1.15*q.y > orbit.pts[start].x-1.15*orbit.pts[start].y {
			start = i
		}
	}
	step := 1
	if orbit.at(start+2).x > orbit.at(start-2).x {
		step = -1
	}
	out := curve{}
	for i := range n {
		q := orbit.at(start + step*i)
		if i > n/3 && q.x > b.mid().x {
			break
		}
		out.pts = append(out.pts, q)
	}
	return out
}

// ellipse of a mark: x, y, width, height, turn.
func (k *skull) ellipse(mark string) (curve, bool) {
	m := k.form.marks[mark]
	if len(m) < 4 {
		return curve{}, false
	}
	turn := 0.
	if len(m) > 4 {
		turn = m[4]
	}
	return k.outline(ovalUnit.placed(pt{m[0], m[1]}, m[2], m[3], turn), .05), true
}

// jaw is the lower jaw, closed.
func (k *skull) jaw() {
	c, _ := k.form.part("side jaw")
	jaw := k.outline(c, steady)
	k.keep("jaw", jaw)
	k.p.stroke(jaw, style{name: "jaw", fill: bone})
	k.shade(jaw, .035)
	if c, ok := k.ellipse("mark lower mental"); ok {
		k.p.stroke(c, style{name: "mental", fill: deep, weight: faint})
	}
	for _, c := range k.form.parts["side jaw line"] {
		c.closed = false
		k.p.stroke(k.outline(c, steady), style{weight: light, pale: .7})
	}
	if shelf, ok := k.form.part("side shelf"); ok && !k.f.is("inflected_jaw", "no") {
		s := k.outline(shelf, steady)
		k.p.stroke(s, style{name: "shelf", weight: light, fill: shadow})
		k.p.hatch(s, -58, .9*k.p.unit, 0, style{weight: faint, pale: .8})
	}
	if c, ok := k.form.part("side step"); ok {
		k.p.stroke(k.outline(c, 0), style{name: "step"})
	}
}

// arch grows out of the face under the orbit and joins the skull before the
// ear: its ends have no line.
func (k *skull) arch() {
	top, ok := k.form.part("side arch top")
	foot, too := k.form.part("side arch foot")
	if !ok || !too || k.f.is("zygomatic_arch", "no") {
		return
	}
	top, foot = k.outline(top, steady*.7), k.outline(foot, steady*.7)
	whole := curve{closed: true, pts: append([]pt{}, top.pts...)}
	whole.pts = append(whole.pts, top.at(len(top.pts)))
	for i := len(foot.pts) - 1; i >= 0; i-- {
		whole.pts = append(whole.pts, foot.pts[i])
		if i == len(foot.pts)-1 || i == 0 {
			whole.pts = append(whole.pts, foot.pts[i])
		}
	}
	whole.pts = append(whole.pts, top.pts[0])
	k.keep("arch", whole)
	k.p.stroke(whole, style{name: "arch", fill: bone, pale: .01, weight: faint})
	k.p.strokes([]curve{top, foot}, style{})
	k.p.hatchFrom(whole, -58, 1.7*k.p.unit, pt{-.4 * k.p.unit, -2.2 * k.p.unit}, style{weight: faint, pale: .6})
}

// ear is the bulla, the opening of the ear, and the tube some animals have.
func (k *skull) ear() {
	for _, c := range k.form.parts["side bulla"] {
		c := k.outline(c, steady)
		k.keep("bulla", c)
		k.p.stroke(c, style{name: "bulla", fill: bone, pale: .01, weight: faint})
		k.p.stroke(underSide(c), style{})
		k.p.hatchFrom(c, -58, 1.6*k.p.unit, pt{-1.3 * k.p.unit, -2.4 * k.p.unit}, style{weight: faint, pale: .7})
	}
	for _, c := range k.form.parts["side paroccipital"] {
		k.p.stroke(k.outline(c, steady), style{name: "paroccipital", fill: bone, weight: light})
	}
	for _, c := range k.form.parts["side tube"] {
		c := k.outline(c, steady)
		k.keep("ear tube", c)
		k.p.stroke(c, style{name: "ear-tube", fill: bone})
	}
	if c, ok := k.ellipse("mark ear"); ok {
		k.p.stroke(c, style{name: "ear", fill: deep, weight: light})
	}
}

// underSide of a rounded body: of the two ways from its left end to its right
// one, the one that lies lower.
func underSide(c curve) curve {
	left, right := 0, 0
	for i, q := range c.pts {
		if q.x < c.pts[left].x {
			left = i
		}
		if q.x > c.pts[right].x {
			right = i
		}
	}
	one, other := c.way(left, right), c.way(right, left)
	if (box{}).with(other...).hi.y > (box{}).with(one...).hi.y {
		one = other
	}
	return curve{pts: one}
}

// way is a stretch of a closed curve's points.
func (c curve) way(from, to int) []pt {
	if to < from {
		to += len(c.pts)
	}
	var out []pt
	for i := from; i <= to; i++ {
		out = append(out, c.at(i))
	}
	return out
}

// surface is what lies on the bone: seams, ridges, fine holes.
func (k *skull) surface() {
	var seams []curve
	for _, c := range k.form.parts["side seam"] {
		seams = append(seams, k.outline(c, steady*2))
	}
	k.p.strokes(seams, style{weight: faint, pale: .9})
	for _, c := range k.form.parts["side ridge"] {
		k.p.stroke(k.outline(c, steady), style{name: "ridge", weight: light})
	}
	if patch, ok := k.form.part("side lattice"); ok && !k.f.is("latticed_snout", "no") {
		k.lattice(patch.mapped(k.mm))
	}
}

func (k *skull) lattice(patch curve) {
	var holes []curve
	for _, q := range k.p.scattered(patch, 34, .016*k.long) {
		holes = append(holes, loop(0, -.5, .4, .1, -.3, .5).placed(q, .011*k.long, .014*k.long, 30*k.p.rng.NormFloat64()))
	}
	k.p.strokes(holes, style{name: "lattice", weight: faint, fill: ink, wash: .55})
}

// number is a text of the form as a number.
func (f *form) number(key string, otherwise float64) float64 {
	var x float64
	if _, err := fmt.Sscan(f.texts[key], &x); err != nil {
		return otherwise
	}
	return x
}

func (k *skull) describe(below string) string {
	f := k.f
	state := func(trait, pattern string) string {
		if t := f.text(trait); t != "" {
			return fmt.Sprintf(pattern, t)
		}
		return ""
	}
	return sentence("drawing of a skull from the left side"+when(below != "", ", "+below), k.form.texts["looks"],
		state("profile", "the upper outline is %s"), state("rostrum", "the snout is %s"),
		state("orbit_size", "the orbits are %s"), when(f.yes("orbit_ringed"), "a complete ring of bone around the orbit"),
		when(f.yes("sagittal_crest"), "a crest along the top"), k.describeGear(), when(f.yes("latticed_snout"), "many fine holes in the side of the snout"),
		when(f.yes("peg_incisors"), "a second pair of small incisors behind the upper pair"),
		when(f.yes("inflected_jaw"), "the rear angle of the lower jaw turns inward"),
		state("incisor_colour", "the incisors are %s"), when(f.yes("large_canines"), "large, pointed canines"),
		when(f.yes("diastema"), "a wide gap before the cheek teeth"), state("cheek_teeth", "%s cheek teeth"),
		k.teeth.describe(upper), k.teeth.describe(lower), fmt.Sprintf("about %.0f mm long", k.long/k.times))
}

func (k *skull) describeAbove() string {
	return sentence("drawing of a skull from above", k.form.texts["looks"], fmt.Sprintf("about %.0f mm long", k.long/k.times))
}

func (k *skull) describeBelow() string {
	return sentence("drawing of a skull from below", k.form.texts["looks"], k.teeth.describe(upper), fmt.Sprintf("about %.0f mm long", k.long/k.times))
}

func (k *skull) describeJaw() string {
	return sentence("drawing of a lower jaw from above", k.teeth.describe(lower))
}
