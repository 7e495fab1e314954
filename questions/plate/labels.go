package plate

import (
	"slices"

	"fieldsign/questions/catalogue"
)

// Structure is a part of a skull that a drawing shows and a lesson names.
type Structure struct {
	Term  string            // as lore.csv has it
	Shown []catalogue.Claim // what must hold of a species for it to be drawn

	where string // for the alternative text, without the trade's terms
	rows  bool   // pointed at in the views that show the teeth, else in the side view
	at    func(k *skull) (tip pt, ok bool)
	from  pt     // the way from the tip to the ring
	part  string // of the form, without which it is not shown
}

// structures is the table to extend. Where a term stands twice, the first that
// a species shows is drawn.
var structures = []Structure{
	{"incisors", claim("upper_incisors", ">=", "1"), "at the foremost tooth of the upper jaw", false, (*skull).upperIncisor, pt{-1, .1}, ""},
	{"incisors", append(claim("lower_incisors", ">=", "1"), claim("upper_incisors", "=", "0")...), "at the foremost tooth of the lower jaw", false, (*skull).lowerIncisor, pt{-1, .35}, ""},
	{"canines", claim("upper_canines", ">=", "1"), "at the pointed upper tooth behind the front ones", false, pointing("upper side-C", .62), pt{-1, .1}, ""},
	{"premolars", claim("upper_premolars", ">=", "2"), "in the upper row, at the foremost of the teeth along the side", true, pointing("upper row-P", .5), pt{-1, 0}, ""},
	{"carnassials", append(claim("carnassials", "=", "yes"), claim("upper_premolars", ">=", "2")...), "in the upper row, at the long bladed tooth of the side", true, (*skull).carnassial, pt{-1, 0}, ""},
	{"molars", claim("upper_molars", ">=", "1"), "in the upper row, at the hindmost tooth", true, (*skull).lastMolar, pt{-1, 0}, ""},
	{"diastema", claim("diastema", "=", "yes"), "at the gap between the front teeth and those of the side", false, (*skull).gap, pt{-.45, -1}, ""},
	{"sagittal crest", claim("sagittal_crest", "=", "yes"), "at the ridge along the top, towards the rear", false, (*skull).ridge, pt{.3, -1}, ""},
	{"zygomatic arch", claim("zygomatic_arch", "=", "yes"), "at the bar of bone below and behind the eye socket", false, (*skull).cheekbone, pt{1, .75}, ""},
	{"orbit", everyMammal, "at the large round hollow in the side", false, pointing("orbit", .5), pt{-.3, -1}, ""},
	{"rostrum", everyMammal, "at the side of the snout", false, (*skull).snout, pt{-.3, -1}, ""},
	{"braincase", everyMammal, "at the rounded rear part, above and behind the eye socket", false, (*skull).dome, pt{.5, -1}, ""},
	{"auditory bulla", everyMammal, "in the view from below, at the rounded swelling towards the rear", true, pointing("below bulla", .5), pt{-1, .3}, "below bulla"},
	{"foramen magnum", everyMammal, "in the view from below, at the large hole at the very rear", true, pointing("foramen", .5), pt{-1, -.05}, ""},
	{"occipital condyle", everyMammal, "in the view from below, at the knob beside the hole at the very rear", true, pointing("condyle", .5), pt{-1, -.05}, ""},
	{"palate", everyMammal, "in the view from below, at the bone between the teeth of both sides", true, (*skull).roof, pt{-1, -.4}, "below palate"},
	{"mandible", everyMammal, "at the bone that carries the lower teeth", false, (*skull).jawBody, pt{1, .15}, ""},
	{"antlers", claim("head_gear", "=", "antlers"), "at the branched growth on the brow", false, pointing("antler", .55), pt{1, -.2}, ""},
	{"horns", claim("head_gear", "=", "horns"), "at the ringed, curved growth on the brow", false, pointing("horn", .6), pt{-1, -.5}, ""},
}

var everyMammal = claim("class", "=", "mammal")

func claim(trait, op, value string) []catalogue.Claim {
	return []catalogue.Claim{{Trait: trait, Op: op, Value: value}}
}

// Structures are those that a species' skull provably has, and whose drawing
// shows them, each term once.
func Structures(s catalogue.Species) []Structure {
	if !HasSkull(s) {
		return nil
	}
	form, _ := formOf(s.Name, facts(s.Values))
	var out []Structure
	for _, st := range structures {
		known := slices.ContainsFunc(out, func(o Structure) bool { return o.Term == st.Term })
		if _, shown := form.part(st.part); st.part != "" && !shown {
			continue
		}
		if !known && catalogue.All(st.Shown, s.Values) == catalogue.True {
			out = append(out, st)
		}
	}
	return out
}

// Labelled is the skull with a ringed question mark whose line ends at one
// structure. The markup names no part: all that is drawn is unmarked.
func (h Hand) Labelled(s catalogue.Species, term string) (Plate, bool) {
	for _, st := range Structures(s) {
		if st.Term != term {
			continue
		}
		k, ok := h.skull(s)
		if !ok {
			return Plate{}, false
		}
		k.p.unnamed = true
		if st.rows {
			k.notes(allViews)
		}
		view := "from the left side"
		k.side()
		k.scale(0, k.long)
		if st.rows {
			view = "seen from the tooth rows"
			k.rowsAlone()
		}
		tip, ok := st.at(k)
		if !ok {
			return Plate{}, false
		}
		k.p.unnamed = false
		k.p.leader(tip, k.ring(tip, st.from))
		return Plate{SVG: k.finish(), Alt: sentence("drawing of a skull "+view, "the line from a ringed question mark ends "+st.where)}, true
	}
	return Plate{}, false
}

// rowsAlone draws the upper row where it always stands and the lower one beside
// it, without the other views.
func (k *skull) rowsAlone() {
	places := k.places()
	k.above(places.above) // for the hand to come out the same
	k.p.body.Reset()
	k.notes(twoViews)
	k.p.space, k.p.notes, k.drawn = box{}, nil, map[string][]curve{}
	k.below(places.below)
	k.lowerJaw(places.below.add(pt{k.column(k.halfWidth(), fromBelow) + k.column(k.jawHalf(), jawAbove) + 8*k.unit(), 0}))
	k.scale(places.below.x-k.long/2, k.long)
}

const (
	ringSize = 5.5 // units, across half
	ringRoom = ringSize + 1.5
)

// ring is a place for the question mark that is clear of all that is drawn and
// written: along the way given from the tip, or turned from it by as little as
// keeps the line off every note.
func (k *skull) ring(tip, way pt) pt {
	for _, deg := range []float64{0, 12, -12, 24, -24, 36, -36, 48, -48} {
		if at := k.ringAlong(tip, way.turn(deg)); !k.crossesNote(tip, at) {
			return at
		}
	}
	return k.ringAlong(tip, way)
}

func (k *skull) ringAlong(tip, way pt) pt {
	room := ringRoom * k.p.unit
	var taken [][]pt
	for _, list := range k.drawn {
		for _, c := range list {
			taken = append(taken, c.flat())
		}
	}
	for _, b := range k.p.notes {
		b = b.grown(room, room, room, room)
		taken = append(taken, []pt{b.lo, {b.hi.x, b.lo.y}, b.hi, {b.lo.x, b.hi.y}})
	}
	step := way.times(k.p.unit / way.norm())
	at := tip.add(step.times(2.4 * ringSize))
	for slices.ContainsFunc(taken, func(poly []pt) bool { return inside(poly, at) || near(poly, at, room) }) {
		at = at.add(step)
	}
	return at
}

// crossesNote reports whether a line would run through what is written.
func (k *skull) crossesNote(a, b pt) bool {
	const room = 1.5
	return slices.ContainsFunc(k.p.notes, func(n box) bool {
		n = n.grown(room*k.p.unit, room*k.p.unit, room*k.p.unit, room*k.p.unit)
		for i := range 64 {
			if q := mix(a, b, float64(i)/63); q.x > n.lo.x && q.x < n.hi.x && q.y > n.lo.y && q.y < n.hi.y {
				return true
			}
		}
		return false
	})
}

// Pointer is the name, in a drawing, of the line that points at a structure.
const Pointer = "leader"

// leader draws a line that ends in a dot at the tip, and the ring it comes
// from. It is cased in paper, so that it stands out from the drawing.
func (p *pen) leader(tip, ring pt) {
	r := ringSize * p.unit
	way := tip.sub(ring)
	line := curve{pts: []pt{ring.add(way.times(r / way.norm())), tip}}
	p.stroke(line, style{weight: 3 * firm, casing: true})
	p.stroke(line, style{name: Pointer, weight: 1.3 * firm})
	p.stroke(ovalUnit.placed(tip, 1.8*p.unit, 1.8*p.unit, 0), style{fill: ink, weight: faint})
	p.stroke(ovalUnit.placed(ring, 2*r, 2*r, 0), style{fill: paper, weight: 1.3 * firm})
	p.sized(ring.add(pt{-.3 * p.unit, 3 * p.unit}), "middle", 8.5, "?")
}

// pointing goes into the first outline drawn under a name, at a part of its height.
func pointing(name string, part float64) func(*skull) (pt, bool) {
	return func(k *skull) (pt, bool) { return k.into(name, 0, part) }
}

func (k *skull) into(name string, which int, part float64) (pt, bool) {
	list := k.drawn[name]
	if which < 0 || which >= len(list) {
		return pt{}, false
	}
	return inner(list[which], part)
}

// inner is the middle of a curve's widest stretch at a part of its height.
func inner(c curve, part float64) (pt, bool) {
	poly := c.flat()
	b := box{}.with(poly...)
	y := lerp(b.lo.y, b.hi.y, part)
	widest := span{}
	for _, s := range spans(poly, y) {
		if s.hi-s.lo > widest.hi-widest.lo {
			widest = s
		}
	}
	return pt{(widest.lo + widest.hi) / 2, y}, widest.hi > widest.lo
}

// the foremost incisor is drawn last.
func (k *skull) upperIncisor() (pt, bool) {
	return k.into("upper side-I", len(k.drawn["upper side-I"])-1, .75)
}

func (k *skull) lowerIncisor() (pt, bool) {
	return k.into("lower side-I", len(k.drawn["lower side-I"])-1, .4)
}

// the teeth of the left side are noted first, from front to rear.
func (k *skull) carnassial() (pt, bool) {
	return k.into("upper row-P", k.teeth.of(2, upper)-1, .5)
}

func (k *skull) lastMolar() (pt, bool) {
	return k.into("upper row-M", k.teeth.of(3, upper)-1, .5)
}

// gap is the middle of the diastema, between the upper jaw and the lower.
func (k *skull) gap() (pt, bool) {
	front, cheek := box{}, box{}
	for _, name := range []string{"upper side-I", "upper side-C", "lower side-I", "lower side-C"} {
		for _, c := range k.drawn[name] {
			front = front.about(c)
		}
	}
	for _, name := range []string{"upper side-P", "upper side-M"} {
		for _, c := range k.drawn[name] {
			cheek = cheek.about(c)
		}
	}
	x := (front.hi.x + cheek.lo.x) / 2
	if !front.any || !cheek.any || front.hi.x >= cheek.lo.x {
		return pt{}, false
	}
	above := across(k.drawn["cranium"][0], x)
	below := across(k.drawn["jaw"][0], x)
	if len(above) == 0 || len(below) == 0 {
		return pt{}, false
	}
	return pt{x, lerp(above[len(above)-1].hi, below[0].lo, .45)}, true
}

// roof is the palate, between the rows and before its rear edge.
func (k *skull) roof() (pt, bool) {
	edge, ok := k.form.part("below palate")
	if !ok || len(k.drawn["below"]) == 0 {
		return pt{}, false
	}
	b := k.drawn["below"][0].box()
	row := k.rowWidths(upper)
	x := lerp(row[0].x, edge.pts[0].x, .62)
	half, _ := along(row, x)
	return k.flatTo(pt{b.mid().x, b.lo.y}, -1)(pt{x, half * .3}), true
}

// ridge is the middle of the crest's length, where it stands above the bone.
func (k *skull) ridge() (pt, bool) {
	if len(k.drawn["crest"]) == 0 {
		return pt{}, false
	}
	b := k.drawn["crest"][0].box()
	x := lerp(b.lo.x, b.hi.x, .6)
	at := across(k.drawn["crest"][0], x)[0]
	return pt{x, lerp(at.lo, min(at.hi, k.top(x)), .5)}, true
}

// top is the height of the cranium's upper outline at x.
func (k *skull) top(x float64) float64 { return across(k.drawn["cranium"][0], x)[0].lo }

// cheekbone is on the arch, where the jaw does not cross it if there is such a
// place.
func (k *skull) cheekbone() (pt, bool) {
	if len(k.drawn["arch"]) == 0 {
		return pt{}, false
	}
	c := k.drawn["arch"][0]
	b := c.box()
	var first pt
	for i, part := range []float64{.6, .5, .4, .7} {
		x := lerp(b.lo.x, b.hi.x, part)
		at := across(c, x)[0]
		tip := pt{x, (at.lo + at.hi) / 2}
		if i == 0 {
			first = tip
		}
		if !near(k.drawn["jaw"][0].flat(), tip, k.p.unit) && !inside(k.drawn["jaw"][0].flat(), tip) {
			return tip, true
		}
	}
	return first, true
}

// snout is the side of the face, half-way to the orbit.
func (k *skull) snout() (pt, bool) {
	x := lerp(k.at.x, k.drawn["orbit"][0].box().lo.x, .55)
	at := across(k.drawn["cranium"][0], x)
	return pt{x, lerp(at[0].lo, at[0].hi, .45)}, true
}

// dome is the braincase, above the arch's root and behind the orbit.
func (k *skull) dome() (pt, bool) {
	x := lerp(k.drawn["orbit"][0].box().hi.x, k.at.x+k.long, .55)
	at := across(k.drawn["cranium"][0], x)[0]
	return pt{x, lerp(at.lo, at.hi, .22)}, true
}

// jawBody is the middle of the jaw's body, under the cheek teeth.
func (k *skull) jawBody() (pt, bool) {
	row := k.rowOf(lower)
	x := k.mm(mix(row[0], row[len(row)-1], .7)).x
	at := across(k.drawn["jaw"][0], x)
	if len(at) == 0 {
		return pt{}, false
	}
	last := at[len(at)-1]
	return pt{x, lerp(last.lo, last.hi, .65)}, true
}
