package plate

import (
	"math"
	"strconv"
)

// trace is path data as a pen writes it: each curve begins from where the last
// one ended, and each segment so too, as it will be read, so that rounding does
// not add up.
type trace struct {
	p    *pen
	data []byte
	at   pt // where it ended
}

// curve adds a curve. From corner to corner runs a straight line. Between two
// segments that meet smoothly, a handle is left for the reader to mirror.
func (t *trace) curve(c curve) {
	p := t.p
	if p.thrifty {
		c = c.thinned(p.grid * .7)
	}
	t.move(c.pts[0])
	mirrored := pt{math.NaN(), 0}
	for s := range c.segments() {
		handle, end := p.rounded(s[2].sub(t.at)), p.rounded(s[3].sub(t.at))
		straight := p.thrifty && isStraight(s)
		switch {
		case straight:
			t.step('l', end)
		case p.thrifty && s[1].sub(s[0]).sub(mirrored).norm() < 1e-9:
			t.step('s', handle, end)
		default:
			t.step('c', p.rounded(s[1].sub(t.at)), handle, end)
		}
		t.at, mirrored = p.rounded(t.at.add(end)), s[3].sub(s[2])
		if straight { // no handle to mirror
			mirrored.x = math.NaN()
		}
	}
	if c.closed {
		t.data = append(t.data, 'z')
	}
}

// bend adds a line of three points as one segment, whose first handle is left
// to the reader to take from its start; others as curve does.
func (t *trace) bend(c curve) {
	if len(c.pts) != 3 || c.closed {
		t.curve(c)
		return
	}
	t.move(c.pts[0])
	from, to := t.at, c.pts[2]
	handle := c.pts[1].times(8).sub(from.times(4)).sub(to).times(1. / 3) // through the middle point
	end := t.p.rounded(to.sub(from))
	t.step('s', t.p.rounded(handle.sub(from)), end)
	t.at = t.p.rounded(from.add(end))
}

// move begins a curve at a point.
func (t *trace) move(to pt) {
	kind := byte('m')
	if len(t.data) == 0 {
		kind = 'M'
	}
	by := t.p.rounded(to.sub(t.at))
	t.step(kind, by)
	t.at = t.p.rounded(t.at.add(by))
}

// isStraight reports whether both handles of a segment lie on the line to its end.
func isStraight(s [4]pt) bool {
	way := s[3].sub(s[0])
	for _, h := range [...]pt{s[1].sub(s[0]), s[2].sub(s[0])} {
		if math.Abs(way.x*h.y-way.y*h.x) > 1e-9*way.norm() {
			return false
		}
	}
	return true
}

// step writes one step: its letter and its points, with a space only where a
// reader needs one.
func (t *trace) step(kind byte, pts ...pt) {
	t.data = append(t.data, kind)
	first, fraction := true, false
	for _, q := range pts {
		for _, n := range [...]int64{t.p.count(q.x), t.p.count(q.y)} {
			bare := 0 < n && n < 100 // it begins with a point, which ends a fraction
			if !first && n >= 0 && !(fraction && bare) {
				t.data = append(t.data, ' ')
			}
			t.data = appendHundredths(t.data, n)
			first, fraction = false, n%100 != 0
		}
	}
}

// straight adds steps along or across the page.
func (t *trace) straight(steps ...pt) {
	for _, q := range steps {
		if q.y == 0 {
			t.data = appendHundredths(append(t.data, 'h'), t.p.count(q.x))
		} else {
			t.data = appendHundredths(append(t.data, 'v'), t.p.count(q.y))
		}
	}
}

// count is a length in hundredths of a millimetre, as many as the pen writes. The
// product is rounded before it can be: where that hid on which side of a half it
// lay, what is left over tells.
func (p *pen) count(x float64) int64 {
	n := math.RoundToEven(x * p.parts)
	switch left := math.FMA(x, p.parts, -n); {
	case left > .5:
		n++
	case left < -.5:
		n--
	}
	return int64(n * 100 / p.parts)
}

// appendHundredths writes a number of hundredths, with no figure that a reader can
// do without.
func appendHundredths(b []byte, n int64) []byte {
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	if n == 0 || n >= 100 {
		b = strconv.AppendInt(b, n/100, 10)
	}
	if rest := n % 100; rest > 0 {
		b = append(b, '.', '0'+byte(rest/10))
		if rest%10 > 0 {
			b = append(b, '0'+byte(rest%10))
		}
	}
	return b
}
