package plate

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// crown of a tooth seen from the chewing side: x across the row, outward, and
// y along it.
type crown struct {
	outline curve
	ridges  []curve
	broad   float64 // width in parts of its length
}

// tuskAcross points outward.
var tuskAcross = loop(-.5, -.4, .1, -.5, .5, -.1, .5, -.1, .1, .5, -.5, .4)

// condyleBelow lies beside the foramen, in parts of its half-width: narrow in
// front near the middle line, broad behind.
var condyleBelow = loop(-.84, .36, -.56, 1.12, .05, 1.56, .52, 1.34, .36, .92, -.36, .46)

var chisel = loop(-.48, -.26, 0, -.52, .48, -.26, .4, .42, -.4, .42)

// flatTo gives the page's place for a point of the form seen from above or
// below, on one side of the middle line.
func (k *skull) flatTo(m pt, side float64) func(pt) pt {
	return func(q pt) pt { return m.add(pt{side * q.y, q.x}.times(k.unit())) }
}

// both draws a part of the form on both sides of the middle line.
func (k *skull) both(m pt, c curve, draw func(curve)) {
	for _, side := range []float64{-1, 1} {
		shaken := c.shaken(k.p.rng, steady)
		for i, q := range c.pts {
			if q.y == 0 { // the halves meet
				shaken.pts[i] = q
			}
		}
		draw(shaken.mapped(k.flatTo(m, side)))
	}
}

// twin draws a part of the form on both sides as one element.
func (k *skull) twin(m pt, c curve, s style) (two []curve) {
	k.both(m, c, func(c curve) { two = append(two, c) })
	k.p.strokes(two, s)
	for _, c := range two {
		k.keep(s.name, c)
	}
	return two
}

// whole closes a half outline by its mirror image, to the skull's exact length.
func (k *skull) whole(m pt, half curve) curve {
	half = half.shaken(k.p.rng, steady)
	b := box{}.with(half.flat()...)
	half = half.mapped(func(q pt) pt { return pt{(q.x - b.lo.x) * 100 / b.w(), max(0, q.y)} })
	return k.joined(m, half)
}

// joined closes a half outline, whose ends lie on the middle line, by its mirror image.
func (k *skull) joined(m pt, half curve) curve {
	right, left := half.mapped(k.flatTo(m, 1)), half.mapped(k.flatTo(m, -1))
	out := curve{closed: true, pts: right.pts}
	for i := len(left.pts) - 1; i >= 0; i-- {
		if left.pts[i].x < m.x-.002*k.long {
			out.pts = append(out.pts, left.pts[i])
		}
	}
	return out
}

// above is the skull from above, its front towards the top, on the middle line
// that begins at m.
func (k *skull) above(m pt) {
	half, ok := k.form.part("above outline")
	if !ok {
		return
	}
	c := k.whole(m, half)
	for _, tusk := range k.form.parts["above tusk"] {
		k.twin(m, tusk, style{name: "tusk", fill: toothWhite, weight: light})
	}
	k.keep("above", c)
	k.p.stroke(c, style{name: "above", fill: bone})
	k.p.hatchFrom(c, -58, 2.4*k.p.unit, pt{-.035 * k.long, -.03 * k.long}, style{weight: faint, pale: .5})
	k.windows(m, true)
	k.pedicles(m)
	k.nostrils(m)
	var lines []curve
	for _, key := range []string{"above nasal", "above seam"} {
		for _, c := range k.form.parts[key] {
			if !k.alongRim(c) {
				k.both(m, k.onRoof(c), func(c curve) { lines = append(lines, c) })
			}
		}
	}
	k.p.strokes(lines, style{weight: faint, pale: .9})
	for _, c := range k.form.parts["above ridge"] {
		k.twin(m, k.onRoof(c), style{name: "ridges"})
	}
	for _, c := range k.form.parts["above interparietal"] {
		k.twin(m, c, style{name: "interparietal", weight: faint, pale: .9})
	}
	for _, c := range k.form.parts["above nose"] {
		k.twin(m, c, style{name: "nose", fill: deep, weight: light})
	}
	for _, c := range k.form.parts["above pit"] {
		k.twin(m, c, style{name: "pit", fill: shadow, weight: faint})
	}
	k.hornsAbove(m)
	k.p.text(pt{m.x, m.y + k.long + 6*k.p.unit}, "middle", fromAbove)
}

// onRoof is a line on the bone: where it would run over an opening, it follows
// that one's inner edge.
func (k *skull) onRoof(c curve) curve {
	for _, hole := range k.form.parts["above window"] {
		poly := hole.flat()
		c = c.mapped(func(q pt) pt {
			if inside(poly, q) {
				q.y = across(hole, q.x)[0].lo - .4
			}
			return q
		})
	}
	return c
}

// alongRim reports whether half of a line would run over an opening: then the
// opening's own rim is all that is seen of it.
func (k *skull) alongRim(c curve) bool {
	over := 0
	for _, hole := range k.form.parts["above window"] {
		for _, q := range c.pts {
			if inside(hole.flat(), q) {
				over++
			}
		}
	}
	return 2*over >= len(c.pts)
}

// nostrils are the opening of the nose, between the bones of the upper jaw and
// the nasals, where these do not hang over it.
func (k *skull) nostrils(m pt) {
	nasal, ok := k.form.part("above nasal")
	if _, drawn := k.form.part("above nose"); drawn || !ok || nasal.pts[0].x < 4 {
		return
	}
	rear, wide := nasal.pts[0].x, nasal.pts[1].y
	k.p.stroke(k.joined(m, line(.3*rear, 0, .36*rear, .5*wide, .7*rear, .86*wide, nasal.pts[1].x, .94*wide, rear, 0)), style{name: "nose", fill: deep, weight: light})
}

// openings are those of the form, from above or from below.
func (k *skull) openings(above bool) []curve {
	if below := k.form.parts["below window"]; !above && len(below) > 0 {
		return below
	}
	return k.form.parts["above window"]
}

// behindOpenings is where the roots of the arches join the braincase. Without
// an arch it is the joint.
func (k *skull) behindOpenings() float64 {
	list, rear := k.openings(false), 0.
	if len(list) == 0 {
		rear, _ = k.joint()
	}
	for _, c := range list {
		rear = max(rear, box{}.with(c.flat()...).hi.x)
	}
	return rear + 1
}

// windows are the openings between the arches and the braincase.
func (k *skull) windows(m pt, above bool) {
	for _, c := range k.openings(above) {
		if !above && len(k.form.parts["below window"]) == 0 {
			c = k.behindTeeth(c)
		}
		for _, c := range k.twin(m, c, style{name: "window", fill: shadow}) {
			if above {
				k.p.hatch(c, -58, 2.1*k.p.unit, 0, style{weight: faint, pale: .7})
			}
		}
	}
}

// behindTeeth is a window of the view from above as it is seen from below. Where teeth would stand in
// it far out, the root of the arch that bears them hides its front; where they
// stand near the middle line, the bone that bears them hides its inner edge.
func (k *skull) behindTeeth(c curve) curve {
	b := box{}.with(c.pts...)
	front, inner, rear := b.lo.x, 0., 0.
	for _, t := range k.cheekTeeth(upper) {
		half, _ := along(k.rowWidths(upper), t.at)
		outer := half + k.broad(upper, t, half)/2 + .8
		rear = t.at + t.long/2 + 1
		if outer <= .6*b.hi.y {
			inner = max(inner, outer)
		} else if slices.ContainsFunc(c.flat(), func(q pt) bool { return math.Abs(q.x-t.at) < t.long/2 && q.y < outer }) {
			front = max(front, rear)
		}
	}
	return c.behind(front).mapped(func(q pt) pt {
		if q.x < rear+2.5 {
			q.y = max(q.y, inner)
		}
		return q
	})
}

// behind is what of a closed outline lies behind a line across the skull. A
// point that all but touches its neighbour is left out: it would make a loop.
func (c curve) behind(x float64) curve {
	if x <= (box{}).with(c.pts...).lo.x {
		return c
	}
	out := curve{closed: true}
	add := func(q pt) {
		if n := len(out.pts); n == 0 || q.sub(out.pts[n-1]).norm() > 1.6 && q.sub(out.pts[0]).norm() > 1.6 {
			out.pts = append(out.pts, q)
		}
	}
	for i, q := range c.pts {
		if q.x >= x {
			add(q)
		}
		if next := c.at(i + 1); (q.x < x) != (next.x < x) {
			add(mix(q, next, (x-q.x)/(next.x-q.x)))
		}
	}
	return out
}

// below is the skull from below: palate, upper teeth, bullae, condyles.
func (k *skull) below(m pt) {
	half := k.halfBelow()
	if len(half.pts) == 0 {
		return
	}
	c := k.whole(m, half)
	k.keep("below", c)
	k.p.stroke(c, style{name: "below", fill: bone})
	k.overhang(m)
	k.windows(m, false)
	k.base(m)
	k.crowns(upper, m)
	k.p.text(pt{m.x, m.y + k.long + 6*k.p.unit}, "middle", fromBelow)
}

// overhang is how far the nose stands out over a great incisor: from below the
// front edge of the jaw is seen before it.
func (k *skull) overhang(m pt) {
	if !k.hasGreat(upper) {
		return
	}
	c, _ := k.form.part("side incisor")
	front := box{}.with(c.flat()...).lo.x - .7
	if front < 1.2 {
		return
	}
	side := k.edgeBelow(front + 1.8)
	to := k.flatTo(m, 1)
	k.p.stroke(curve{pts: []pt{to(pt{front + 1.8, -side}), to(pt{front + .2, -.55 * side}), to(pt{front + .2, .55 * side}), to(pt{front + 1.8, side})}}, style{weight: light})
}

// glenoid is how far back the socket of the jaw's joint lies, so far from the
// middle line: behind the openings, and on the bone.
func (k *skull) glenoid() (x, room float64) {
	x, _ = k.joint()
	x = max(x, k.behindOpenings()+1.2)
	y, _ := k.condyle()
	front, rear := 0., 0.
	for _, c := range k.openings(false) {
		for _, s := range spans(c.flat(), y) {
			front = max(front, s.hi)
		}
	}
	for _, s := range spans(curve{k.halfBelow().pts, true}.flat(), y) {
		rear = max(rear, s.hi)
	}
	return min(x, rear-1.7), rear - front
}

// jawSockets lie on the root of the arch, as far apart as the condyles of the
// lower jaw and as broad: along the skull where the jaw slides, else across it,
// with a process behind.
func (k *skull) jawSockets(m pt) {
	if _, arch := k.form.part("side arch top"); !arch {
		return
	}
	x, room := k.glenoid()
	y, broad := k.condyle()
	long := 3.4
	if k.gnaws() {
		long = 6
	}
	long = min(long, .85*room)
	on := func(q pt) pt { return pt{q.x, min(q.y, k.edgeBelow(q.x)-.2)} }
	k.twin(m, ovalUnit.placed(pt{x, y}, long, broad, 0).mapped(on), style{name: "glenoid", fill: shadow, weight: faint})
	if !k.gnaws() {
		k.twin(m, line(x+.8, y-.5*broad, x+2.2, y-.1*broad, x+1.2, y+.4*broad).mapped(on), style{name: "postglenoid", weight: light})
	}
}

// base is the underside of the braincase and the palate.
func (k *skull) base(m pt) {
	k.palate(m)
	k.jawSockets(m)
	flat := k.form.texts["bullae"] == "flat"
	for _, c := range k.form.parts["below bulla"] {
		s := style{name: "bulla", fill: bone}
		if flat {
			s.weight, s.pale = light, .7
		}
		for _, c := range k.twin(m, c, s) {
			k.keep("below bulla", c)
			if flat {
				continue
			}
			k.p.hatchFrom(c, -58, 1.9*k.p.unit, pt{-1.2 * k.p.unit, -1.6 * k.p.unit}, style{weight: faint, pale: .7})
		}
	}
	at, wide := 96.6, 3.6
	if w := k.form.marks["mark condyles"]; len(w) == 2 {
		at, wide = w[0], w[1]
	}
	hole := ovalUnit.placed(k.flatTo(m, 1)(pt{at + .6, 0}), 1.5*wide*k.unit(), wide*k.unit(), 0)
	k.keep("foramen", hole)
	k.p.stroke(hole, style{name: "foramen", fill: deep, weight: light})
	k.twin(m, condyleBelow.mapped(func(q pt) pt {
		q = pt{at + q.x*wide, q.y * wide}
		return pt{q.x, min(q.y, k.edgeBelow(q.x)+.9)}
	}), style{name: "condyle", fill: bone, weight: light})
	if pit := k.form.marks["mark base pit"]; len(pit) == 3 {
		c := ovalUnit.placed(k.flatTo(m, 1)(pt{pit[0], 0}), pit[1]*k.unit(), pit[2]*k.unit(), 0)
		k.p.stroke(c, style{name: "base-pit", fill: shadow, weight: light})
	}
}

// palate ends in an edge; behind it the airway opens.
func (k *skull) palate(m pt) {
	edge, ok := k.form.part("below palate")
	if !ok {
		return
	}
	edge = edge.shaken(k.p.rng, steady)
	hollow := k.joined(m, curve{pts: append(edge.pts[:len(edge.pts):len(edge.pts)], edge.at(len(edge.pts)))})
	k.p.stroke(hollow, style{fill: shadow, pale: .01, weight: faint})
	end := edge.at(len(edge.pts)) // where the wall of the airway runs out in a hook
	hook := append(edge.pts[:len(edge.pts):len(edge.pts)], corners(end.add(pt{2.6, .9}))...)
	edge.pts = append(hook, end.add(pt{.2, 1.2}), end.add(pt{-3.4, .9}))
	k.twin(m, edge, style{name: "palate", weight: light})
	if c, ok := k.form.part("below presphenoid"); ok {
		k.p.stroke(k.joined(m, c), style{name: "presphenoid", fill: bone, weight: faint})
	}
	if c, ok := k.form.part("below vomer"); ok {
		k.p.stroke(k.joined(m, c), style{name: "vomer", fill: bone, weight: faint})
	}
	row := k.rowWidths(upper)
	for _, c := range k.form.parts["below hole"] {
		k.twin(m, c, style{name: "hole", fill: deep, weight: faint})
	}
	if slit := k.form.marks["mark slits"]; len(slit) == 4 {
		k.twin(m, ovalUnit.placed(pt{slit[0], slit[1]}, slit[2], slit[3], 0), style{name: "slit", fill: deep, weight: faint})
	}
	k.p.stroke(curve{pts: []pt{k.flatTo(m, 1)(pt{row[0].x, 0}), k.flatTo(m, 1)(pt{edge.pts[0].x, 0})}}, style{weight: faint, pale: .8})
}

// rowWidths is the line that the middles of a jaw's teeth follow from the
// canine to the rear: x from the front, y from the middle line.
func (k *skull) rowWidths(j jaw) []pt {
	c, ok := k.form.part("below row")
	if !ok {
		c = line(12, 7, 50, 12)
	}
	if j == upper {
		return c.pts
	}
	if own, ok := k.form.part("below lower row"); ok {
		return own.pts
	}
	const usual = .88
	narrow, x := k.narrower(c.pts, usual)
	return c.mapped(func(q pt) pt {
		return pt{q.x, q.y * lerp(usual, narrow, min(1, (q.x-c.pts[0].x)/(x-c.pts[0].x)))}
	}).pts
}

// narrower is how wide the lower row is in parts of the upper, and from where on.
// Where a tooth shears, its outer side passes the inner side of the upper blade.
func (k *skull) narrower(row []pt, usual float64) (part, x float64) {
	first, list := k.teeth.of(2, lower), k.cheekTeeth(lower)
	for _, blade := range k.stands(upper) {
		if toothShapes[blade.shape].shears && first < len(list) {
			t := list[first]
			half, _ := along(row, t.at)
			return min(usual, (blade.at.y+.1*blade.broad-k.broad(lower, t, half)/2)/half), t.at
		}
	}
	return usual, row[len(row)-1].x
}

// section is where a tooth stands on its jaw, seen from its chewing side, and its
// size there. Its row leans outward by so many degrees.
type section struct {
	at               pt
	broad, long, deg float64
}

// outer is how far from the middle line it reaches.
func (s section) outer() float64 { return s.at.y + s.broad/2 }

// placed brings a part of a crown to where its tooth stands.
func (s section) placed(c curve) curve {
	return c.placed(pt{s.at.y, s.at.x}, s.broad, s.long, -s.deg).mapped(func(q pt) pt { return pt{q.y, q.x} })
}

// stand is that of a cheek tooth of a shape and a kind.
type stand struct {
	section
	shape byte
	kind  int
}

// stands are the places of the cheek teeth of one side of a jaw.
func (k *skull) stands(j jaw) []stand {
	row := k.rowWidths(j)
	var out []stand
	for _, t := range k.cheekTeeth(j) {
		half, deg := along(row, t.at)
		broad := k.broad(j, t, half)
		half -= toothShapes[t.shape].inset * t.long
		out = append(out, stand{section{pt{t.at, half}, broad, t.long * .96, deg}, t.shape, t.kind})
	}
	if j == upper {
		flush(out)
		for i := range out {
			out[i] = k.onBone(out[i])
		}
	}
	return out
}

// flush brings the outer sides of an upper carnassial and the molar behind it
// into one line.
func flush(list []stand) {
	for i := 1; i < len(list); i++ {
		if blade, molar := &list[i-1], &list[i]; toothShapes[blade.shape].shears && molar.shape != 's' {
			line := (blade.outer() + molar.outer()) / 2
			blade.at.y, molar.at.y = line-blade.broad/2, line-molar.broad/2
		}
	}
}

// onBone moves a tooth inward as far as it stands over the edge of the bone, and
// keeps it off the middle line.
func (k *skull) onBone(s stand) stand {
	over := func() (most float64) {
		for _, q := range s.placed(toothShapes[s.shape].across.outline).pts {
			most = max(most, q.y+.5-k.edgeBelow(q.x))
		}
		return most
	}
	if over() > 0 {
		s.broad = min(s.broad, .7*k.edgeBelow(s.at.x))
		s.at.y -= over()
	}
	return s
}

// crowns are a jaw's teeth on both sides, from the chewing surface.
func (k *skull) crowns(j jaw, m pt) {
	k.p.open(style{name: j.String(), weight: light, fill: toothWhite})
	defer k.p.close()
	list := k.stands(j)
	for _, side := range []float64{-1, 1} {
		k.frontCrowns(j, m, side)
		for _, s := range list {
			k.crownAt(j, toothKinds[s.kind], toothShapes[s.shape].across, m, side, s.section)
		}
	}
}

// edgeBelow is how far from the middle line the bone reaches, from below.
func (k *skull) edgeBelow(x float64) float64 {
	y, _ := along(k.halfBelow().pts, x)
	return y
}

// halfBelow is one half of the skull's outline, from below.
func (k *skull) halfBelow() curve {
	half, ok := k.form.part("below outline")
	if !ok {
		half, _ = k.form.part("above outline")
	}
	return half
}

// broad is how broad a cheek tooth is that stands so far from the middle line.
func (k *skull) broad(j jaw, t tooth, half float64) float64 {
	shape := toothShapes[t.shape]
	broad := t.long * shape.across.broad
	if j == lower {
		broad *= shape.lower
	}
	return min(broad, 1.5*half)
}

// broadest is the breadth of the broadest cheek tooth of a jaw.
func (k *skull) broadest(j jaw) float64 {
	most := 0.
	for _, s := range k.stands(j) {
		most = max(most, s.broad)
	}
	return most
}

// crownAt draws a tooth as a single element: its outline and its ridges.
func (k *skull) crownAt(j jaw, name string, c crown, m pt, side float64, at section) {
	to := func(c curve) curve { return at.placed(c).mapped(k.flatTo(m, side)) }
	outline := to(c.outline.shaken(k.p.rng, .015))
	k.p.space = k.p.space.with(outline.flat()...)
	k.noted("row", j, name, outline)
	var d strings.Builder
	end := k.p.write(&d, pt{}, outline)
	for _, r := range c.ridges {
		end = k.p.bend(&d, end, to(r))
	}
	s := style{name: name}
	if fill := k.incisorFill(); name == "I" && fill != toothWhite {
		s.fill = fill
	}
	k.p.put(d.String(), s)
	if k.form.texts["tips"] == "red" {
		var tips []curve
		for _, tip := range c.tips(name) {
			tips = append(tips, to(tip))
		}
		k.p.strokes(tips, style{weight: faint, fill: toothRed, pale: .01})
	}
}

// tips are small marks on a crown's cusps: at the corners of its ridges, or at
// the front of an incisor, or in the middle.
func (c crown) tips(name string) (marks []curve) {
	at := []pt{{}}
	if name == "I" {
		at[0].y = -.3
	}
	for _, r := range c.ridges {
		at = slices.Compact(slices.Clone(r.pts))
	}
	for _, q := range at {
		size := .2 + .3/float64(len(at))
		marks = append(marks, loop(0, -.5, .5, .4, -.5, .4).placed(q, size, size, 0))
	}
	return marks
}

// frontCrowns are the incisors and the canine of one side.
func (k *skull) frontCrowns(j jaw, m pt, side float64) {
	incisors, canines := k.teeth.of(0, j), k.teeth.of(1, j)
	row := k.rowWidths(j)
	if k.hasGreat(j) {
		incisors -= k.greatCrowns(j, m, side, incisors)
	}
	if f := k.form.marks[keyOf("mark ", j, "front")]; len(f) == 4 {
		k.filedCrowns(j, m, side, incisors, pt{f[0], f[1]}, pt{f[2], f[3]})
		incisors = 0
	}
	if k.comb(j) {
		k.combCrowns(m, side, incisors, canines)
		return
	}
	canine := k.canineAcross(j, row, incisors > 0)
	if incisors > 0 {
		k.incisorCrowns(j, m, side, incisors, row, canine)
	}
	if canines > 0 {
		k.canineCrown(j, m, side, canine)
	}
}

// incisorRow is the row across in which one side's incisors stand: where it begins
// and ends along the skull, and how far from the middle line it reaches. Where
// there is a canine it ends at that.
func (k *skull) incisorRow(j jaw, row []pt, canine section) (front, rear, reach float64) {
	front, rear, reach = row[0].x-9, row[0].x-2.5, row[0].y*.86
	if side, ok := k.form.part("side jaw"); ok && j == lower { // they stand on the jaw's edge
		front = max(front, box{}.with(side.pts...).lo.x+1.4)
	}
	bitten := k.bitten(j)
	if bitten {
		rear = min(rear, canine.at.x-canine.long*.3)
	}
	f := k.form.marks[keyOf("mark ", j, "front")]
	if len(f) > 1 {
		front, rear = f[0], f[1]
	}
	switch free := canine.at.x - canine.long/2 - rear; {
	case len(f) > 2:
		reach = f[2]
	case bitten && j == lower:
		reach = canine.at.y - canine.broad/2 - .2
	case bitten && free > 1.5: // they stand in an arc before it, on the bone
		reach = min(canine.at.y-.3*canine.broad, .88*k.edgeBelow(rear-1))
	case bitten: // room for the lower canine
		reach = canine.at.y - .8*canine.broad - .2
	}
	return front, rear, reach
}

// bitten reports whether a jaw's canine closes its row of incisors.
func (k *skull) bitten(j jaw) bool {
	return k.teeth.of(0, j) > 0 && k.teeth.of(1, j) > 0 && len(k.form.marks[keyOf("mark ", j, "tusk")]) == 0
}

// incisorCrowns are the broader the farther out they stand.
func (k *skull) incisorCrowns(j jaw, m pt, side float64, n int, row []pt, canine section) {
	front, rear, reach := k.incisorRow(j, row, canine)
	gap := k.form.number("gap", 0)
	if j == lower {
		gap = 0
	}
	growth := (k.form.number("outer", 1.3) - 1) / float64(max(n-1, 1)) // from each to the next
	size := (reach - gap) / (float64(n) + growth*float64(n*(n-1))/2)
	from := gap
	for i := range n {
		broad := size * (1 + growth*float64(i))
		t := (from + broad/2 - gap) / (reach - gap)
		lean := math.Atan2(2*t*(rear-front), reach-gap) * 180 / math.Pi
		k.crownAt(j, "I", crown{outline: chisel}, m, side, section{pt{lerp(front, rear, t*t), from + broad/2}, broad * .96, min(broad*1.25, 4), -.7 * lean})
		from += broad
	}
}

// combCrowns are broad blades that lie forward in one fan, canines outermost.
func (k *skull) combCrowns(m pt, side float64, incisors, canines int) {
	f, longest := k.form.marks["mark lower front"], .85*k.form.marks["mark lower incisors"][4]
	n := incisors + canines
	size := f[2] * 1.2 / float64(n)
	for i := range n {
		t := (float64(i) + .5) / float64(n)
		name := "I"
		if i >= incisors {
			name = "C"
		}
		k.crownAt(lower, name, crown{outline: chisel}, m, side, section{pt{lerp(f[0]-.6, f[1], t*t), size * (float64(i) + .5)}, size * .94, longest * (1 - .3*t), -30 * t})
	}
}

// comb reports whether a jaw has its incisors and canines in one fan.
func (k *skull) comb(j jaw) bool {
	return k.form.texts["comb"] == "yes" && j == lower && len(k.form.marks["mark lower front"]) == 3 && len(k.form.marks["mark lower incisors"]) > 4
}

// filedCrowns are incisors one behind another along the jaw's edge.
func (k *skull) filedCrowns(j jaw, m pt, side float64, n int, first, last pt) {
	long := (last.x - first.x) / float64(max(n-1, 1))
	if n < 2 {
		long = k.form.number("chisel", 3)
	}
	for i := range n {
		at := mix(first, last, float64(i)/float64(max(n-1, 1)))
		k.crownAt(j, "I", crown{outline: ovalUnit}, m, side, section{at, min(long, 2.6) * .9, long * .94, -12})
	}
}

// canineAcross is a canine from the chewing side. Beside incisors it is the
// thickest front tooth by far, and stays on the bone.
func (k *skull) canineAcross(j jaw, row []pt, beside bool) section {
	size, at := 3., row[0]
	if c := k.form.marks[keyOf("mark ", j, "canine")]; len(c) > 2 {
		size = c[2]
		at.x = c[0]
		at.y, _ = along(row, max(at.x, row[0].x))
	}
	if !beside {
		return section{at, size * .78, size, -12}
	}
	out := section{at, size, size * 1.38, -12}
	if j == upper {
		out.at.y = min(at.y, k.edgeBelow(at.x)-out.broad/2+.3)
	} else if k.bitten(upper) { // the lower incisors between them are smaller than the upper ones
		row := k.rowWidths(upper)
		_, _, reach := k.incisorRow(upper, row, k.canineAcross(upper, row, true))
		out.at.y = min(at.y, .82*reach+out.broad/2+.2)
	}
	return out
}

func (k *skull) canineCrown(j jaw, m pt, side float64, c section) {
	if f := k.form.marks[keyOf("mark ", j, "tusk")]; len(f) == 3 {
		k.crownAt(j, "C", crown{tuskAcross, nil, 1}, m, side, section{pt{f[0], f[1]}, f[2], f[2] * .7, 0})
		return
	}
	k.crownAt(j, "C", crown{ovalUnit, []curve{line(-.1, -.2, .12, 0, .05, .25)}, 1}, m, side, c)
}

// greatCrowns are chisels side by side, small ones behind the first unless
// those stand along the jaw's edge. It returns how many it drew on one side.
func (k *skull) greatCrowns(j jaw, m pt, side float64, n int) int {
	if len(k.form.marks[keyOf("mark ", j, "front")]) == 4 {
		n = 1
	}
	c, _ := k.form.part(keyOf("side ", j, "incisor"))
	front := box{}.with(c.flat()...).lo.x
	wide := k.form.number("chisel", 4)
	long := k.form.number("chisel_long", max(.8*wide, lowest(c, upper).x-front))
	if j == lower { // its shaft lies bare before the jaw
		jaw, _ := k.form.part("side jaw")
		long = box{}.with(jaw.pts...).lo.x + 3 - front
	}
	for i := range n {
		w, deep, at := wide, long, pt{max(front, 0) + long/2, wide * .53}
		if i > 0 {
			w, deep, at = wide*.5, wide*.5, pt{max(front, 0) + long + 1.4*float64(i), wide * .45}
		}
		ridges := []curve{}
		for g := range k.grooves(j) {
			ridges = append(ridges, line(-.12+.3*float64(g), -.48, -.12+.3*float64(g), 0, -.12+.3*float64(g), .3))
		}
		k.crownAt(j, "I", crown{chisel, ridges, 1}, m, side, section{at, w, deep, 0})
	}
	return n
}

// jawHalf is half the breadth of the lower jaw, behind, where the form does not
// say it: the joints lie within the arches.
func (k *skull) jawHalf() float64 {
	jaw, _ := k.form.part("side jaw")
	rear, widest := box{}.with(jaw.flat()...).hi.x, 0.
	c, _ := k.form.part("above outline")
	for _, q := range c.flat() {
		if q.x <= rear {
			widest = max(widest, q.y)
		}
	}
	half := .93 * k.form.number("joints", max(widest*.8, 8))
	return min(half, k.edgeBelow(k.behindOpenings())-1.2*k.branchThick()) // on the arch's root
}

// branchThick is how thick the branches of the lower jaw are, from above.
func (k *skull) branchThick() float64 {
	jaw, _ := k.form.part("side jaw")
	return max(2.2, min(4, box{}.with(jaw.flat()...).h()*.09))
}

// condyle is how far from the middle line the jaw's joint has its middle, and how
// broad it is: a hinge lies across the jaw.
func (k *skull) condyle() (y, broad float64) {
	thick := k.branchThick()
	if k.gnaws() {
		return k.jawHalf(), 1.3 * thick
	}
	y = k.jawHalf() - .15*thick
	return y, min(2.7*thick, .5*y)
}

// gnaws reports whether an animal has the chisels and the sliding jaw of a
// rodent or a hare.
func (k *skull) gnaws() bool {
	return k.hasGreat(lower) && k.hasGreat(upper) && k.teeth.of(1, upper) == 0 && k.form.texts["tips"] != "red"
}

// joint is where the lower jaw meets the skull, and where the coronoid process
// before it has its peak, if it has one.
func (k *skull) joint() (condyle, coronoid float64) {
	jaw, _ := k.form.part("side jaw")
	row := k.rowOf(lower)
	last, b := row[len(row)-1], box{}.with(jaw.flat()...)
	var peaks []pt // above the row
	for flat, i := jaw.flat(), 1; i+1 < len(flat); i++ {
		if q := flat[i]; q.x > last.x-1 && q.y < last.y+3 && q.y < flat[i-1].y && q.y <= flat[i+1].y {
			peaks = append(peaks, q)
		}
	}
	slices.SortFunc(peaks, func(p, q pt) int { return cmp.Compare(p.x, q.x) })
	condyle = b.hi.x - 1
	if n := len(peaks); n > 1 || n == 1 && k.gnaws() {
		condyle, peaks = peaks[n-1].x, peaks[:n-1]
	}
	if len(peaks) > 0 {
		coronoid = slices.MinFunc(peaks, func(p, q pt) int { return cmp.Compare(p.y, q.y) }).x
	}
	return condyle, coronoid
}

// lowerJaw is seen from above: two branches, the teeth on them, the condyles.
func (k *skull) lowerJaw(m pt) {
	side, ok := k.form.part("side jaw")
	if !ok {
		return
	}
	b := box{}.with(side.flat()...)
	m.y -= b.lo.x * k.unit()
	row := k.rowWidths(lower)
	last := row[len(row)-1]
	rear, out := b.hi.x, k.jawHalf()
	mid := func(x float64) float64 {
		if x <= last.x {
			y, _ := along(row, max(x, row[0].x))
			return y
		}
		return lerp(last.y, out, math.Pow((x-last.x)/(rear-last.x), 1.1))
	}
	thick, teeth := k.branchThick(), k.broadest(lower)
	slant := math.Hypot(1, 1.1*(out-last.y)/(rear-last.x)) // of the branches behind the teeth
	bears := func(x float64) float64 {                     // half as broad as the bone is there
		if x > last.x+2 {
			return thick * .8 * slant
		}
		return max(thick*.8, teeth/2+.3)
	}
	tip := b.lo.x
	front := max(row[0].x, tip+6) // where the branches begin
	join := row[0].x + k.form.number("symphysis", 8)
	half := curve{closed: true, pts: []pt{{tip, 0}, {tip, 0}, {tip + 1, row[0].y * .7}, {front, mid(front) + bears(front)*.9}}}
	if f := k.form.marks["mark lower front"]; len(f) == 3 { // it is as broad as the row of incisors
		half.pts[2] = pt{tip + 1, f[2]}
		if w := k.form.marks["mark lower waist"]; len(w) == 2 {
			half.pts = slices.Insert(half.pts, 3, pt{f[1] + 1, f[2] + .2}, pt{w[0], w[1]})
		}
	}
	n := 6
	for i := 1; i <= n; i++ {
		x := lerp(front, rear-3, float64(i)/float64(n))
		half.pts = append(half.pts, pt{x, mid(x) + bears(x)})
	}
	if k.gnaws() {
		half.pts = append(half.pts, pt{rear - 2.8, out + thick*.4}, pt{rear - 2, out}, pt{rear - 3, out - thick*.5*slant})
	} else { // a hinge, across the jaw
		y, broad := k.condyle()
		half.pts = append(half.pts, pt{rear - 1, y + .5*broad}, pt{rear, out}, pt{rear - 1.4, y - .5*broad}, pt{rear - 4, mid(rear-4) - thick*.4})
	}
	for i := n - 1; i >= 1; i-- {
		if x := lerp(front, rear-4, float64(i)/float64(n)); x > join+2 {
			half.pts = append(half.pts, pt{x, max(.6, mid(x)-bears(x))})
		}
	}
	half.pts = append(half.pts, pt{join, 0}, pt{join, 0})
	if angle, ok := k.form.part("below angle"); ok && !k.f.is("inflected_jaw", "no") { // it turns inward
		k.twin(m, angle, style{name: "shelf", fill: bone})
	}
	k.twin(m, half, style{name: "branches", fill: bone})
	if k.gnaws() { // it slides, so its joint lies along the jaw
		k.twin(m, ovalUnit.placed(pt{rear - 2.2, out}, 4.4, thick*1.3, 0), style{fill: bone})
	}
	k.coronoids(m, last.x, func(x, out float64) pt { return pt{x, mid(x) + thick*out} })
	k.p.strokes([]curve{{pts: []pt{k.flatTo(m, 1)(pt{tip, 0}), k.flatTo(m, 1)(pt{join, 0})}}}, style{weight: faint})
	k.crowns(lower, m)
	k.p.text(pt{m.x, m.y + rear*k.unit() + 6*k.p.unit}, "middle", jawAbove)
}

// coronoids are blades on edge that rise from the branches behind the teeth and
// lean outward. On is a place so far out on a branch, in parts of its thickness.
func (k *skull) coronoids(m pt, teeth float64, on func(x, out float64) pt) {
	_, peak := k.joint()
	if peak == 0 {
		return
	}
	peak = max(peak, teeth+4)
	from := min(lerp(teeth, peak, .45), peak-3.4)
	mid := lerp(from, peak, .6)
	c := curve{closed: true, pts: []pt{on(from, .15), on(mid, .53), on(peak, .38), on(peak, .38), on(mid, 0)}}
	k.twin(m, c, style{name: "coronoid", fill: bone, weight: light})
}

// scale draws a ruler and a bar under what has been drawn, along the length
// that they measure: from zero for so many mm of the page.
func (k *skull) scale(zero, long float64) {
	p, hidden := k.p, k.p.unnamed
	p.unnamed = false
	defer func() { p.unnamed = hidden }()
	cm := 10 * k.times
	start := pt{zero, p.space.hi.y + 5*p.unit}
	step, number := rulerSteps(long / cm)
	if number*cm < 7*p.unit {
		number *= 5
	}
	if step*cm < 1.2*p.unit {
		step = number / 2
	}
	n := math.Ceil(long/cm/step-1e-6) * step
	d := "M" + p.xy(start)
	for i := 0; float64(i)*step <= n+1e-9; i++ {
		tick := 1.4
		if at := float64(i) * step; isMultiple(at, number) {
			tick = 3.4
		} else if isMultiple(at, number/2) {
			tick = 2.4
		}
		if i > 0 {
			d += p.straight(pt{step * cm, 0})
		}
		d += p.straight(pt{0, -tick * p.unit}) + p.straight(pt{0, tick * p.unit})
	}
	p.put(d, style{weight: light})
	for at := 0.; at <= n+1e-9; at += number {
		p.text(start.add(pt{at * cm, 4.6 * p.unit}), "middle", strconv.FormatFloat(at, 'f', -1, 64))
	}
	p.space = p.space.with(start, start.add(pt{n * cm, 0}))
	k.keep("ruler", curve{pts: []pt{start, start.add(pt{n * cm / 2, 0}), start.add(pt{n * cm, 0})}})
	p.scaleBar(k.times)
}
