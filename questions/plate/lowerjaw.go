package plate

import (
	"cmp"
	"math"
	"slices"
)

// joints is how far from the middle line the joints of the jaw are, where there is
// bone: within the arches, unless the form says it.
func (k *skull) joints() float64 {
	jaw, _ := k.form.part("side jaw")
	rear, widest := jaw.box().hi.x, 0.
	c, _ := k.form.part("above outline")
	for _, q := range c.flat() {
		if q.x <= rear {
			widest = max(widest, q.y)
		}
	}
	return .93 * k.form.number("joints", max(widest*.8, 8))
}

// branchThick is how thick the branches of the lower jaw are, from above.
func (k *skull) branchThick() float64 {
	jaw, _ := k.form.part("side jaw")
	return max(2.2, min(4, jaw.box().h()*.09))
}

// condyle is how far from the middle line the jaw's joint has its middle, and how
// broad it is: a hinge lies across the jaw. Its socket is on the bone.
func (k *skull) condyle() (y, broad float64) {
	thick, y := k.branchThick(), k.joints()
	broad = 1.3 * thick
	if !k.gnaws() {
		y -= .15 * thick
		broad = min(2.7*thick, .5*y)
	}
	x, _ := k.joint()
	bone := min(k.edgeBelow(x), k.edgeBelow(x+.4*k.socketLong())) - .8
	if y > bone-.5*broad {
		broad = min(broad, .4*bone)
		y = bone - .5*broad
	}
	return y, broad
}

// jawHalf is half the breadth of the lower jaw, behind.
func (k *skull) jawHalf() float64 {
	y, _ := k.condyle()
	if k.gnaws() {
		return y
	}
	return y + .15*k.branchThick()
}

// gnaws reports whether an animal has the chisels and the sliding jaw of a
// rodent or a hare.
func (k *skull) gnaws() bool {
	return k.hasGreat(lower) && k.hasGreat(upper) && k.teeth.of(1, upper) == 0 && k.form.texts["tips"] != "red"
}

// findJoint is where the lower jaw meets the skull, and where the coronoid process
// before it has its peak, if it has one. Much asks for it: a skull keeps it as its joint.
func (k *skull) findJoint() (condyle, coronoid float64) {
	jaw, _ := k.form.part("side jaw")
	row := k.rowOf(lower)
	last, flat := row[len(row)-1], jaw.flat()
	var peaks []pt // above the row
	for i := 1; i+1 < len(flat); i++ {
		if q := flat[i]; q.x > last.x-1 && q.y < last.y+3 && q.y < flat[i-1].y && q.y <= flat[i+1].y {
			peaks = append(peaks, q)
		}
	}
	slices.SortFunc(peaks, func(p, q pt) int { return cmp.Compare(p.x, q.x) })
	condyle = jaw.box().hi.x - 1
	if n := len(peaks); n > 1 || n == 1 && k.gnaws() {
		condyle, peaks = peaks[n-1].x, peaks[:n-1]
	}
	if len(peaks) > 0 {
		coronoid = slices.MinFunc(peaks, func(p, q pt) int { return cmp.Compare(p.y, q.y) }).x
	}
	return condyle, coronoid
}

// branch is one of the two branches of the lower jaw from above, in hundredths of the
// skull's length: its front, its rear at the joint, how far its angle reaches, and
// how far both are joined.
type branch struct {
	row             []pt // of its teeth
	tip, rear, join float64
	angle           float64
	out             float64 // of the joint from the middle line
	thick, teeth    float64
}

func (k *skull) branch(side curve) branch {
	b, row := side.box(), k.rowWidths(lower)
	rear, _ := k.joint()
	rear += 1
	if k.gnaws() {
		rear += 1.2
	}
	return branch{row, b.lo.x, rear, row[0].x + k.form.number("symphysis", 8), b.hi.x, k.jawHalf(), k.branchThick(), k.broadest(lower)}
}

func (b branch) last() pt { return b.row[len(b.row)-1] }

// mid is how far from the middle line its middle runs.
func (b branch) mid(x float64) float64 {
	last := b.last()
	if x <= last.x {
		y, _ := along(b.row, max(x, b.row[0].x))
		return y
	}
	return lerp(last.y, b.out, math.Pow((x-last.x)/(b.rear-last.x), 1.1))
}

// slant is by how much it is broader, across, where it slants outward behind the teeth.
func (b branch) slant() float64 { return math.Hypot(1, 1.1*(b.out-b.last().y)/(b.rear-b.last().x)) }

// bears is half as broad as the bone is at x.
func (b branch) bears(x float64) float64 {
	if x > b.last().x+2 {
		return b.thick * .8 * b.slant()
	}
	return max(b.thick*.8, b.teeth/2+.3)
}

// lowerJaw is seen from above: two branches, the teeth on them, the condyles.
func (k *skull) lowerJaw(m pt) {
	side, ok := k.form.part("side jaw")
	if !ok {
		return
	}
	b := k.branch(side)
	m.y -= b.tip * k.unit()
	if angle, ok := k.form.part("below angle"); ok && !k.f.is("inflected_jaw", "no") { // it turns inward
		k.twin(m, angle, style{name: "shelf", fill: bone})
	} else if k.gnaws() && b.angle > b.rear+2.5 {
		k.twin(m, b.behind(), style{name: "angle", fill: bone, weight: light})
	}
	k.twin(m, k.branchOutline(b), style{name: "branches", fill: bone})
	if k.gnaws() { // it slides, so its joint lies along the jaw
		k.twin(m, ovalUnit.placed(pt{b.rear - 2.2, b.out}, 4.4, b.thick*1.3, 0), style{name: "joint", fill: bone})
	}
	k.coronoids(m, b.last().x, func(x, out float64) pt { return pt{x, b.mid(x) + b.thick*out} })
	k.p.strokes([]curve{{pts: []pt{k.flatTo(m, 1)(pt{b.tip, 0}), k.flatTo(m, 1)(pt{b.join, 0})}}}, style{weight: faint})
	k.crowns(lower, m)
	k.p.text(pt{m.x, m.y + max(b.rear, b.angle)*k.unit() + k.beneath()}, "middle", jawAbove)
}

// behind is what is seen of the jaw's angle behind the joint, in a rodent or a hare.
func (b branch) behind() curve {
	front, thick, bulk := lerp(b.last().x, b.rear, .5), b.thick, min(1, (b.angle-b.rear)/14)
	on := func(part, out float64) pt { return pt{lerp(b.rear, b.angle, part), b.out + out*thick} }
	return curve{[]pt{{front, b.mid(front) + .8*thick*bulk}, {b.rear - 3, b.out + (.2+.9*bulk)*thick}, on(.2, .3+.9*bulk), on(.8, .2+.6*bulk), on(1, .3*bulk), on(.7, -.1), on(.1, -.4), {front, b.mid(front)}}, true}
}

// branchOutline runs from the tip along the outer side to the joint, and back.
func (k *skull) branchOutline(b branch) curve {
	tip, rear := b.tip, b.rear
	front := max(b.row[0].x, tip+6) // where the branches begin
	half := curve{closed: true, pts: []pt{{tip, 0}, {tip, 0}, {tip + 1, b.row[0].y * .7}, {front, b.mid(front) + b.bears(front)*.9}}}
	if f := k.form.marks["mark lower front"]; len(f) == 3 { // it is as broad as the row of incisors
		half.pts[2] = pt{tip + 1, f[2]}
		if w := k.form.marks["mark lower waist"]; len(w) == 2 {
			half.pts = slices.Insert(half.pts, 3, pt{f[1] + 1, f[2] + .2}, pt{w[0], w[1]})
		}
	}
	const n = 6
	for i := 1; i <= n; i++ {
		x := lerp(front, rear-3, float64(i)/n)
		half.pts = append(half.pts, pt{x, b.mid(x) + b.bears(x)})
	}
	if k.gnaws() {
		half.pts = append(half.pts, pt{rear - 2.8, b.out + b.thick*.4}, pt{rear - 2, b.out}, pt{rear - 3, b.out - b.thick*.5*b.slant()})
	} else { // a hinge, across the jaw
		y, broad := k.condyle()
		half.pts = append(half.pts, pt{rear - 1, y + .5*broad}, pt{rear, b.out}, pt{rear - 1.4, y - .5*broad}, pt{rear - 4, b.mid(rear-4) - b.thick*.4})
	}
	for i := n - 1; i >= 1; i-- {
		if x := lerp(front, rear-4, float64(i)/n); x > b.join+2 {
			half.pts = append(half.pts, pt{x, max(.6, b.mid(x)-b.bears(x))})
		}
	}
	half.pts = append(half.pts, pt{b.join, 0}, pt{b.join, 0})
	return half
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
