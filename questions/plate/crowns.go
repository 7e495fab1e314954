package plate

import (
	"math"
	"slices"
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

var chisel = loop(-.48, -.26, 0, -.52, .48, -.26, .4, .42, -.4, .42)

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
	k.p.space = k.p.space.about(outline)
	k.noted("row", j, name, outline)
	t := trace{p: k.p}
	t.curve(outline)
	for _, r := range c.ridges {
		t.bend(to(r))
	}
	s := style{name: name}
	if fill := k.incisorFill(); name == "I" && fill != toothWhite {
		s.fill = fill
	}
	k.p.put(t.data, s)
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
	front := c.box().lo.x
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
