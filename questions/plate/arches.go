package plate

import (
	"math"
	"slices"
	"strconv"
)

// condyleBelow lies beside the foramen, in parts of its half-width: narrow in
// front near the middle line, broad behind.
var condyleBelow = loop(-.84, .36, -.56, 1.12, .05, 1.56, .52, 1.34, .36, .92, -.36, .46)

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
	b := half.box()
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
	k.pedicles(m)
	k.hornsAbove(m)
	k.p.text(pt{m.x, m.y + k.long + k.beneath()}, "middle", fromAbove)
}

// onRoof is a line on the bone: where it would run over an opening or along its
// rim, it keeps a little off that one's inner edge.
func (k *skull) onRoof(c curve) curve {
	for _, hole := range k.openings(true) {
		rim := onItsSide(hole)
		c = c.mapped(func(q pt) pt {
			if at := spans(rim, q.x); len(at) > 0 && q.y < at[0].hi {
				q.y = min(q.y, at[0].lo-.9)
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
	for _, hole := range k.openings(true) {
		rim := hole.flat()
		for _, q := range c.pts {
			if inside(rim, q) {
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

// openings are those of the form, from above or from below. They end before the
// socket of the jaw's joint, which lies where the view from the side has it.
func (k *skull) openings(above bool) []curve {
	list := k.form.parts["above window"]
	if below := k.form.parts["below window"]; !above && len(below) > 0 {
		list = below
	}
	x, _ := k.joint()
	end, out := x+1.5-.5*k.socketLong(), slices.Clone(list)
	for i, c := range list {
		b := c.box()
		if mid := b.mid().x; b.hi.x > end && mid < end {
			out[i] = c.mapped(func(q pt) pt { return pt{min(q.x, mid) + max(0, q.x-mid)*(end-mid)/(b.hi.x-mid), q.y} })
		}
	}
	return out
}

// socketLong is how long the socket of the jaw's joint is, along the skull: it is
// the longer where the jaw slides.
func (k *skull) socketLong() float64 {
	if k.gnaws() {
		return 6
	}
	return 3.4
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
		q.y = max(q.y, inner-.7*max(0, q.x-rear))
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
	k.p.text(pt{m.x, m.y + k.long + k.beneath()}, "middle", fromBelow)
}

// overhang is how far the nose stands out over a great incisor: from below the
// front edge of the jaw is seen before it.
func (k *skull) overhang(m pt) {
	if !k.hasGreat(upper) {
		return
	}
	c, _ := k.form.part("side incisor")
	front := c.box().lo.x - .7
	if front < 1.2 {
		return
	}
	side := k.edgeBelow(front + 1.8)
	to := k.flatTo(m, 1)
	k.p.stroke(curve{pts: []pt{to(pt{front + 1.8, -side}), to(pt{front + .2, -.55 * side}), to(pt{front + .2, .55 * side}), to(pt{front + 1.8, side})}}, style{weight: light})
}

// glenoid is where the socket of the jaw's joint has its middle, and its length:
// at the joint, behind the openings, and on the bone.
func (k *skull) glenoid() (x, long float64) {
	x, _ = k.joint()
	y, broad := k.condyle()
	front, rear := 0., 0.
	for _, c := range k.openings(false) {
		for _, s := range append(spans(c.flat(), y), spans(c.flat(), y+.3*broad)...) {
			front = max(front, s.hi)
		}
	}
	for _, s := range spans(curve{k.halfBelow().pts, true}.flat(), y) {
		rear = max(rear, s.hi)
	}
	long = min(k.socketLong(), .85*(rear-front))
	return min(max(x, front+.5*long), rear-.5*long), long
}

// jawSockets lie on the root of the arch, as far apart as the condyles of the
// lower jaw and as broad: along the skull where the jaw slides, else across it,
// with a process behind.
func (k *skull) jawSockets(m pt) {
	if _, arch := k.form.part("side arch top"); !arch {
		return
	}
	x, long := k.glenoid()
	y, broad := k.condyle()
	on := func(q pt) pt { return pt{q.x, min(q.y, k.edgeBelow(q.x)-.5)} }
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

// scale draws a ruler and a bar under what has been drawn, along the length
// that they measure: from zero for so many mm of the page.
func (k *skull) scale(zero, long float64) {
	p, hidden := k.p, k.p.unnamed
	p.unnamed = false
	defer func() { p.unnamed = hidden }()
	cm := 10 * k.times
	start := pt{zero, p.space.hi.y + 5*p.unit}
	step, number := rulerSteps(long / cm)
	number = p.apart(number, cm, long/cm)
	for _, finer := range []float64{.1, .5, 1, 5, 10} { // as fine as stands apart
		if finer >= step && finer*cm >= 1.2*p.unit {
			step = finer
			break
		}
	}
	n := math.Ceil(long/cm/step-1e-6) * step
	t := trace{p: p}
	t.step('M', start)
	for i := 0; float64(i)*step <= n+1e-9; i++ {
		tick := 1.4
		if at := float64(i) * step; isMultiple(at, number) {
			tick = 3.4
		} else if isMultiple(at, number/2) {
			tick = 2.4
		}
		if i > 0 {
			t.straight(pt{step * cm, 0})
		}
		t.straight(pt{0, -tick * p.unit}, pt{0, tick * p.unit})
	}
	p.put(t.data, style{weight: light})
	for at := 0.; at <= n+1e-9; at += number {
		p.text(start.add(pt{at * cm, 1.1 * p.note()}), "middle", strconv.FormatFloat(at, 'f', -1, 64))
	}
	p.space = p.space.with(start, start.add(pt{n * cm, 0}))
	k.keep("ruler", curve{pts: []pt{start, start.add(pt{n * cm / 2, 0}), start.add(pt{n * cm, 0})}})
	p.scaleBar(k.times)
}
