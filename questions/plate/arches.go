package plate

import (
	"math"
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

var chisel = loop(-.48, -.26, 0, -.52, .48, -.26, .4, .42, -.4, .42)

// places are where the middle lines of the other views begin.
type places struct{ above, below, jaw pt }

// places under and beside the side view, which has been drawn.
func (k *skull) places() places {
	side, gap := k.p.space, .05*k.long
	wide, y := k.hornReach()*k.unit(), side.hi.y+.07*k.long
	return places{
		above: pt{wide, y},
		below: pt{2*wide + 1.2*gap + k.halfWidth()*k.unit(), y},
		jaw:   pt{side.hi.x + gap + k.jawHalf()*k.unit(), max(side.lo.y, side.hi.y-.86*k.long)},
	}
}

// otherViews are those from above and below and the lower jaw.
func (k *skull) otherViews() {
	at := k.places()
	k.above(at.above)
	k.below(at.below)
	k.lowerJaw(at.jaw)
}

func (k *skull) halfWidth() float64 {
	c, _ := k.form.part("above outline")
	return max(box{}.with(c.flat()...).hi.y, 10)
}

// hornReach is how far to each side the view from above goes.
func (k *skull) hornReach() float64 {
	w := k.halfWidth()
	if k.horned() {
		for _, c := range k.form.parts["above horn"] {
			w = max(w, box{}.with(c.pts...).hi.y)
		}
	}
	return w
}

func (k *skull) horned() bool { return strings.HasPrefix(k.f.text("head_gear"), "horns") }

// flatTo gives the page's place for a point of the form seen from above or
// below, on one side of the middle line.
func (k *skull) flatTo(m pt, side float64) func(pt) pt {
	return func(q pt) pt { return m.add(pt{side * q.y, q.x}.times(k.unit())) }
}

// both draws a part of the form on both sides of the middle line.
func (k *skull) both(m pt, c curve, draw func(curve)) {
	for _, side := range []float64{-1, 1} {
		draw(c.shaken(k.p.rng, steady).mapped(k.flatTo(m, side)))
	}
}

// whole closes a half outline by its mirror image, to the skull's exact length.
func (k *skull) whole(m pt, half curve) curve {
	half = half.shaken(k.p.rng, steady)
	b := box{}.with(half.flat()...)
	half = half.mapped(func(q pt) pt { return pt{(q.x - b.lo.x) * 100 / b.w(), max(0, q.y)} })
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
	k.keep("above", c)
	k.p.stroke(c, style{name: "above", fill: bone})
	k.p.hatchFrom(c, -58, 2.4*k.p.unit, pt{-.035 * k.long, -.03 * k.long}, style{weight: faint, pale: .5})
	k.windows(m, true)
	if strings.HasPrefix(k.f.text("head_gear"), "antlers") {
		for _, c := range k.form.parts["above pedicle"] {
			k.both(m, c, func(c curve) {
				k.p.stroke(c, style{name: "antler", fill: bone})
				k.p.hatch(c, -58, k.p.unit, 0, style{weight: faint, pale: .7})
			})
		}
	}
	var lines []curve
	for _, key := range []string{"above nasal", "above seam"} {
		for _, c := range k.form.parts[key] {
			k.both(m, c, func(c curve) { lines = append(lines, c) })
		}
	}
	k.p.strokes(lines, style{weight: faint, pale: .9})
	for _, c := range k.form.parts["above ridge"] {
		k.both(m, c, func(c curve) {
			k.keep("ridges", c)
			k.p.stroke(c, style{name: "ridges"})
		})
	}
	for _, c := range k.form.parts["above nose"] {
		k.both(m, c, func(c curve) { k.p.stroke(c, style{name: "nose", fill: deep, weight: light}) })
	}
	for _, c := range k.form.parts["above pit"] {
		k.both(m, c, func(c curve) { k.p.stroke(c, style{name: "pit", fill: shadow, weight: faint}) })
	}
	k.horns(m)
	k.p.text(pt{m.x, m.y + k.long + 6*k.p.unit}, "middle", "from above")
}

func (k *skull) horns(m pt) {
	if !k.horned() {
		return
	}
	for _, c := range k.form.parts["above horn"] {
		c.closed = true
		k.both(m, c, func(c curve) {
			k.p.stroke(c, style{name: "horn", fill: bone})
			k.p.hatch(c, -80, 2.4*k.p.unit, .02*k.long, style{weight: faint, pale: .6})
		})
	}
}

// windows are the openings between the arches and the braincase.
func (k *skull) windows(m pt, hatched bool) {
	for _, c := range k.form.parts["above window"] {
		k.both(m, c, func(c curve) {
			k.keep("window", c)
			k.p.stroke(c, style{name: "window", fill: shadow})
			if !hatched {
				return
			}
			k.p.hatch(c, -58, 2.1*k.p.unit, 0, style{weight: faint, pale: .7})
		})
	}
}

// below is the skull from below: palate, upper teeth, bullae, condyles.
func (k *skull) below(m pt) {
	half, ok := k.form.part("below outline")
	if !ok {
		half, ok = k.form.part("above outline")
	}
	if !ok {
		return
	}
	c := k.whole(m, half)
	k.keep("below", c)
	k.p.stroke(c, style{name: "below", fill: bone})
	k.windows(m, false)
	k.base(m)
	k.crowns(upper, m)
	k.p.text(pt{m.x, m.y + k.long + 6*k.p.unit}, "middle", "upper row, from below")
}

// base is the underside of the braincase and the palate.
func (k *skull) base(m pt) {
	k.palate(m)
	for _, c := range k.form.parts["below bulla"] {
		k.both(m, c, func(c curve) {
			k.keep("below bulla", c)
			k.p.stroke(c, style{name: "bulla", fill: bone})
			k.p.hatchFrom(c, -58, 1.9*k.p.unit, pt{-1.2 * k.p.unit, -1.6 * k.p.unit}, style{weight: faint, pale: .7})
		})
	}
	wide := 3.6
	if w, ok := k.form.marks["mark condyles"]; ok && len(w) > 1 {
		wide = w[1]
	}
	hole := ovalUnit.placed(k.flatTo(m, 1)(pt{96.6, 0}), 1.5*wide*k.unit(), wide*k.unit(), 0)
	k.keep("foramen", hole)
	k.p.stroke(hole, style{name: "foramen", fill: deep, weight: light})
	k.both(m, loop(94.6, .35*wide, 94, .9*wide, 97, 1.25*wide, 99.2, .95*wide, 98.4, .62*wide), func(c curve) {
		k.keep("condyle", c)
		k.p.stroke(c, style{name: "condyle", fill: bone, weight: light})
	})
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
	rear := box{}.with(edge.pts...).hi.x
	hollow := curve{closed: true, pts: append([]pt{{edge.pts[0].x, 0}}, edge.pts...)}
	hollow.pts = append(hollow.pts, pt{rear, 0})
	k.both(m, hollow, func(c curve) {
		k.p.stroke(c, style{fill: shadow, pale: .01, weight: faint})
	})
	k.both(m, edge, func(c curve) {
		k.p.stroke(c, style{name: "palate", weight: light})
	})
	row := k.rowWidths(upper)
	for _, c := range k.form.parts["below hole"] {
		k.both(m, c, func(c curve) { k.p.stroke(c, style{name: "hole", fill: deep, weight: faint}) })
	}
	if slit := k.form.marks["mark slits"]; len(slit) == 4 {
		k.both(m, ovalUnit.placed(pt{slit[0], slit[1]}, slit[2], slit[3], 0), func(c curve) {
			k.p.stroke(c, style{name: "slit", fill: deep, weight: faint})
		})
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
	return c.mapped(func(q pt) pt { return pt{q.x, q.y * .88} }).pts
}

// crowns are a jaw's teeth on both sides, from the chewing surface.
func (k *skull) crowns(j jaw, m pt) {
	k.p.open(style{name: j.String(), weight: light, fill: toothWhite})
	defer k.p.close()
	for _, side := range []float64{-1, 1} {
		k.frontCrowns(j, m, side)
		row := k.rowWidths(j)
		for _, t := range k.cheekTeeth(j) {
			shape := toothShapes[t.shape]
			broad := t.long * shape.across.broad
			if j == lower {
				broad *= shape.lower
			}
			half, deg := along(row, t.at)
			k.crownAt(j, toothKinds[t.kind], shape.across, m, side, pt{t.at, half}, min(broad, 1.5*half), t.long*.96, deg)
		}
	}
}

// crownAt draws a tooth as a single element: its outline and its ridges. Its
// row leans outward by so many degrees.
func (k *skull) crownAt(j jaw, name string, c crown, m pt, side float64, at pt, broad, long, deg float64) {
	to := func(c curve) curve {
		return c.placed(pt{at.y, at.x}, broad, long, -deg).mapped(func(q pt) pt { return k.flatTo(m, side)(pt{q.y, q.x}) })
	}
	outline := to(c.outline.shaken(k.p.rng, .015))
	k.p.space = k.p.space.with(outline.flat()...)
	k.noted("row", j, name, outline)
	d := k.p.path(outline)
	for _, r := range c.ridges {
		d += k.p.bend(to(r))
	}
	s := style{name: name}
	if fill := k.incisorFill(); name == "I" && fill != toothWhite {
		s.fill = fill
	}
	k.p.put(d, s)
	if k.form.texts["tips"] == "red" && (j == lower || name != "M") {
		b := box{}.with(outline.flat()...)
		k.p.stroke(outline.mapped(func(q pt) pt { return mix(b.mid(), q, .5) }), style{weight: faint, fill: toothRed, pale: .01})
	}
}

// frontCrowns are the incisors and the canine of one side.
func (k *skull) frontCrowns(j jaw, m pt, side float64) {
	incisors, canines := k.teeth.of(0, j), k.teeth.of(1, j)
	row := k.rowWidths(j)
	if _, great := k.form.part(keyOf("side ", j, "incisor")); great && incisors > 0 {
		k.greatCrowns(j, m, side, incisors)
		incisors = 0
	}
	front, rear := row[0].x-9, row[0].x-2.5
	if f := k.form.marks[keyOf("mark ", j, "front")]; len(f) == 2 {
		front, rear = f[0], f[1]
	}
	comb := k.form.texts["comb"] == "yes" && j == lower
	fan := incisors
	if comb {
		fan += canines
	}
	reach := row[0].y * .86
	for i := range fan {
		t := (float64(i) + .5) / float64(fan)
		name := "I"
		if i >= incisors {
			name = "C"
		}
		size := reach / float64(fan)
		k.crownAt(j, name, crown{outline: chisel}, m, side, pt{lerp(front, rear, t*t), reach * t}, size*.94, min(size*1.5, 4), -30*t)
	}
	if canines > 0 && !comb {
		k.canineCrown(j, m, side, row[0])
	}
}

func (k *skull) canineCrown(j jaw, m pt, side float64, at pt) {
	size := 3.
	if c := k.form.marks[keyOf("mark ", j, "canine")]; len(c) > 2 {
		size = c[2]
		at.x = c[0]
	}
	if f := k.form.marks[keyOf("mark ", j, "tusk")]; len(f) == 3 {
		at, size = pt{f[0], f[1]}, f[2]
	}
	k.crownAt(j, "C", crown{ovalUnit, []curve{line(-.1, -.2, .12, 0, .05, .25)}, 1}, m, side, at, size*.78, size, -12)
}

// greatCrowns are chisels side by side, small ones behind the first.
func (k *skull) greatCrowns(j jaw, m pt, side float64, n int) {
	c, _ := k.form.part(keyOf("side ", j, "incisor"))
	front := box{}.with(c.flat()...).lo.x
	wide := k.form.number("chisel", 4)
	long := min(wide*1.15, 4.4)
	if j == lower { // its shaft lies bare before the jaw
		jaw, _ := k.form.part("side jaw")
		long = box{}.with(jaw.pts...).lo.x + 3 - front
	}
	for i := range n {
		w, deep, at := wide, long, pt{max(front, 0) + long/2, wide * .53}
		if i > 0 {
			w, deep, at = wide*.5, wide*.5, pt{max(front, 0) + 4.4 + 2*float64(i), wide * .45}
		}
		ridges := []curve{}
		for g := range int(k.form.number("grooves", 0)) {
			ridges = append(ridges, line(-.12+.3*float64(g), -.48, -.12+.3*float64(g), 0, -.12+.3*float64(g), .3))
		}
		k.crownAt(j, "I", crown{chisel, ridges, 1}, m, side, at, w, deep, 0)
	}
}

// jawHalf is half the breadth of the lower jaw, behind.
func (k *skull) jawHalf() float64 { return max(k.halfWidth()*.8, 8) }

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
	rear, out := b.hi.x, k.jawHalf()*.93
	mid := func(x float64) float64 {
		if x <= last.x {
			y, _ := along(row, max(x, row[0].x))
			return y
		}
		return lerp(last.y, out, math.Pow((x-last.x)/(rear-last.x), 1.1))
	}
	thick := max(2.2, min(4, b.h()*.09))
	join := row[0].x + k.form.number("symphysis", 8)
	tip := b.lo.x
	half := curve{closed: true, pts: []pt{{tip, 0}, {tip + 1, row[0].y * .7}, {row[0].x, mid(row[0].x) + thick*.7}}}
	n := 6
	for i := 1; i <= n; i++ {
		x := lerp(row[0].x, rear-3, float64(i)/float64(n))
		half.pts = append(half.pts, pt{x, mid(x) + thick*.8})
	}
	half.pts = append(half.pts, pt{rear - 1, out + thick*1.2}, pt{rear, out}, pt{rear - 1.4, out - thick*1.5}, pt{rear - 4, mid(rear-4) - thick*.4})
	for i := n - 1; i >= 1; i-- {
		if x := lerp(row[0].x, rear-4, float64(i)/float64(n)); x > join+2 {
			half.pts = append(half.pts, pt{x, max(.6, mid(x)-thick*.8)})
		}
	}
	half.pts = append(half.pts, pt{join, 0})
	k.both(m, half, func(c curve) { k.p.stroke(c, style{name: "branches", fill: bone}) })
	k.p.strokes([]curve{{pts: []pt{k.flatTo(m, 1)(pt{tip, 0}), k.flatTo(m, 1)(pt{join, 0})}}}, style{weight: faint})
	k.crowns(lower, m)
	k.p.text(pt{m.x, m.y + rear*k.unit() + 6*k.p.unit}, "middle", "lower row, from above")
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
	p.scaleBar(k.times)
}
