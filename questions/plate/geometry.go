package plate

import (
	"iter"
	"math"
	"math/rand/v2"
	"slices"
)

type pt struct{ x, y float64 }

func (p pt) add(q pt) pt        { return pt{p.x + q.x, p.y + q.y} }
func (p pt) sub(q pt) pt        { return pt{p.x - q.x, p.y - q.y} }
func (p pt) times(k float64) pt { return pt{p.x * k, p.y * k} }
func (p pt) norm() float64      { return math.Hypot(p.x, p.y) }

// turn rotates by degrees, clockwise as seen on a page whose y runs down.
func (p pt) turn(deg float64) pt {
	s, c := math.Sincos(deg * math.Pi / 180)
	return pt{p.x*c - p.y*s, p.x*s + p.y*c}
}

func mix(p, q pt, t float64) pt { return p.add(q.sub(p).times(t)) }

// curve runs smoothly through its points. A point given twice is a corner.
type curve struct {
	pts    []pt
	closed bool
}

// loop is a closed curve through x, y pairs; line an open one.
func loop(xy ...float64) curve { return curve{pairs(xy), true} }
func line(xy ...float64) curve { return curve{pairs(xy), false} }

func pairs(xy []float64) []pt {
	out := make([]pt, len(xy)/2)
	for i := range out {
		out[i] = pt{xy[2*i], xy[2*i+1]}
	}
	return out
}

// mapped is the curve with every point moved by f.
func (c curve) mapped(f func(pt) pt) curve {
	out := curve{make([]pt, len(c.pts)), c.closed}
	for i, p := range c.pts {
		out.pts[i] = f(p)
	}
	return out
}

// placed scales a unit curve, turns it, and moves it to p.
func (c curve) placed(p pt, sx, sy, deg float64) curve {
	return c.mapped(func(q pt) pt { return pt{q.x * sx, q.y * sy}.turn(deg).add(p) })
}

// mirrored swaps left and right.
func (c curve) mirrored() curve { return c.mapped(func(p pt) pt { return pt{-p.x, p.y} }) }

func (c curve) at(i int) pt {
	n := len(c.pts)
	if c.closed {
		return c.pts[(i%n+n)%n]
	}
	return c.pts[min(max(i, 0), n-1)]
}

// segments of a curve, each a start, two handles and an end (a Catmull-Rom
// spline written as Béziers).
func (c curve) segments() iter.Seq[[4]pt] {
	n := len(c.pts)
	if !c.closed {
		n--
	}
	return func(yield func([4]pt) bool) {
		for i := range n {
			a, b := c.at(i), c.at(i+1)
			if a == b {
				continue // a corner
			}
			if !yield([4]pt{a, a.add(b.sub(c.at(i - 1)).times(1. / 6)), b.sub(c.at(i + 2).sub(a).times(1. / 6)), b}) {
				return
			}
		}
	}
}

// flat is the curve as a polyline, close enough to draw by.
func (c curve) flat() []pt { return c.polyline(8) }

// box is the least that holds the curve.
func (c curve) box() box { return box{}.about(c) }

// polyline cuts each segment of the curve into steps.
func (c curve) polyline(steps int) []pt {
	out := make([]pt, 0, steps*len(c.pts)+1)
	for s := range c.segments() {
		for i := range steps {
			out = append(out, bezier(s, float64(i)/float64(steps)))
		}
	}
	if !c.closed && len(c.pts) > 0 {
		out = append(out, c.at(len(c.pts)-1))
	}
	return out
}

func bezier(s [4]pt, t float64) pt {
	u := 1 - t
	return s[0].times(u * u * u).add(s[1].times(3 * u * u * t)).add(s[2].times(3 * u * t * t)).add(s[3].times(t * t * t))
}

// shaken moves the points as an unsteady hand does, by about amount.
// Corners stay corners.
func (c curve) shaken(r *rand.Rand, amount float64) curve {
	var last, moved pt
	return c.mapped(func(p pt) pt {
		if p != last || moved == (pt{}) {
			moved = p.add(pt{r.NormFloat64(), r.NormFloat64()}.times(amount))
		}
		last = p
		return moved
	})
}

// thinned leaves out points that lie nearer than by to the line between those
// that stay (Douglas and Peucker 1973). Corners stay.
func (c curve) thinned(by float64) curve {
	if len(c.pts) < 5 {
		return c
	}
	out := make([]pt, 1, len(c.pts))
	out[0] = c.pts[0]
	return curve{thin(out, c.pts, by), c.closed}
}

// thin adds the points of a list that stay after its first.
func thin(out, pts []pt, by float64) []pt {
	last := len(pts) - 1
	far, at := by, last
	way := pts[last].sub(pts[0])
	for i := 1; i < last; i++ {
		d := pts[i].sub(pts[0])
		off := d.norm()
		if n := way.norm(); n > 0 {
			off = math.Abs(d.x*way.y-d.y*way.x) / n
		}
		if pts[i] == pts[i+1] || pts[i] == pts[i-1] {
			off = math.Inf(1)
		}
		if off > far {
			far, at = off, i
		}
	}
	if at == last {
		return append(out, pts[last])
	}
	return thin(thin(out, pts[:at+1], by), pts[at:], by)
}

// box is an upright rectangle; the zero box is empty.
type box struct {
	lo, hi pt
	any    bool
}

func (b box) with(pts ...pt) box {
	for _, p := range pts {
		if !b.any {
			b = box{p, p, true}
		}
		b.lo = pt{min(b.lo.x, p.x), min(b.lo.y, p.y)}
		b.hi = pt{max(b.hi.x, p.x), max(b.hi.y, p.y)}
	}
	return b
}

// about is the box grown to hold a curve.
func (b box) about(c curve) box {
	for s := range c.segments() {
		if b.holds(s[0]) && b.holds(s[1]) && b.holds(s[2]) && b.holds(s[3]) {
			continue // and so all that lies between them
		}
		for i := range 8 {
			b = b.with(bezier(s, float64(i)/8))
		}
	}
	if !c.closed && len(c.pts) > 0 {
		b = b.with(c.at(len(c.pts) - 1))
	}
	return b
}

func (b box) holds(p pt) bool {
	return b.any && p.x >= b.lo.x && p.x <= b.hi.x && p.y >= b.lo.y && p.y <= b.hi.y
}

func (b box) w() float64 { return b.hi.x - b.lo.x }
func (b box) h() float64 { return b.hi.y - b.lo.y }
func (b box) mid() pt    { return mix(b.lo, b.hi, .5) }

func (b box) grown(left, top, right, bottom float64) box {
	return box{b.lo.sub(pt{left, top}), b.hi.add(pt{right, bottom}), true}
}

// fitted maps the box to one with its lower corner at 0,0 and the size w × h.
func (b box) fitted(w, h float64) func(pt) pt {
	return func(p pt) pt { return pt{(p.x - b.lo.x) * w / b.w(), (p.y - b.lo.y) * h / b.h()} }
}

// edges of a polygon, each from a corner to the next.
func edges(poly []pt) iter.Seq2[pt, pt] {
	return func(yield func(a, b pt) bool) {
		if len(poly) == 0 {
			return
		}
		a := poly[len(poly)-1]
		for _, b := range poly {
			if !yield(a, b) {
				return
			}
			a = b
		}
	}
}

// inside reports whether p lies in the polygon.
func inside(poly []pt, p pt) bool {
	in := false
	for a, b := range edges(poly) {
		in = in != crosses(a, b, p)
	}
	return in
}

// crosses reports whether a line from p to the right would cross the edge from a to b.
func crosses(a, b, p pt) bool {
	return (a.y > p.y) != (b.y > p.y) && p.x < crossing(a, b, p.y)
}

// nearest is the point of a polygon's edge that lies nearest to q.
func nearest(poly []pt, q pt) pt {
	best := poly[0]
	for a, b := range edges(poly) {
		way := b.sub(a)
		t := 0.
		if n := way.norm(); n > 0 {
			t = max(0, min(1, ((q.x-a.x)*way.x+(q.y-a.y)*way.y)/(n*n)))
		}
		if on := a.add(way.times(t)); q.sub(on).norm() < q.sub(best).norm() {
			best = on
		}
	}
	return best
}

// span is a stretch from lo to hi.
type span struct{ lo, hi float64 }

// spans are the stretches of the horizontal line at y that lie in the polygon.
func spans(poly []pt, y float64) []span {
	xs := make([]float64, 0, 8) // seldom more
	for a, b := range edges(poly) {
		if (a.y > y) != (b.y > y) {
			xs = append(xs, crossing(a, b, y))
		}
	}
	slices.Sort(xs)
	out := make([]span, 0, len(xs)/2)
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, span{xs[i], xs[i+1]})
	}
	return out
}

// crossing is where the line from a to b is at the height y.
func crossing(a, b pt, y float64) float64 { return a.x + (y-a.y)*(b.x-a.x)/(b.y-a.y) }

// without cuts the holes out of a span.
func (s span) without(holes []span) []span {
	var out []span
	for _, h := range holes {
		if h.hi <= s.lo || h.lo >= s.hi {
			continue
		}
		if h.lo > s.lo {
			out = append(out, span{s.lo, h.lo})
		}
		s.lo = h.hi
	}
	if s.hi > s.lo {
		out = append(out, s)
	}
	return out
}

// tube is the outline of a body along a centre line, its half-width at each
// point given by radius (of the way along, 0 to 1).
func tube(centre []pt, radius func(t float64) float64) curve {
	n := len(centre)
	way := make([]float64, n)
	for i := 1; i < n; i++ {
		way[i] = way[i-1] + centre[i].sub(centre[i-1]).norm()
	}
	var up, down []pt
	for i, p := range centre {
		d := centre[min(i+1, n-1)].sub(centre[max(i-1, 0)])
		side := pt{-d.y, d.x}.times(radius(way[i]/way[n-1]) / max(d.norm(), 1e-9))
		up, down = append(up, p.sub(side)), append(down, p.add(side))
	}
	slices.Reverse(down)
	return curve{append(up, down...), true}
}

// steps are n places from 0 to 1 that crowd towards both ends, where a body
// rounds off.
func steps(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		u := float64(i) / float64(n-1)
		out[i] = u - .92*math.Sin(2*math.Pi*u)/(2*math.Pi)
	}
	return out
}

func lerp(a, b, t float64) float64 { return a + (b-a)*t }
