package plate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"fieldsign/questions/catalogue"
)

const (
	ink   = "#2b2b28"
	paper = "#fffdf6"
)

// pen draws on one plate. Lengths are millimetres of the plate; unit is a
// hundredth of the drawing's size, so that a mouse and a moose are drawn with
// the same hand.
type pen struct {
	rng     *rand.Rand
	unit    float64
	parts   float64 // of a millimetre that are written: 10 or 100
	grid    float64 // coordinates are multiples of it
	thrifty bool    // leaves handles to be mirrored by the reader
	larger  float64 // how many times notes are larger than usual
	body    strings.Builder
	unnamed bool // leaves out the neutral marks
	space   box  // what has been drawn
	notes   []box
	zero    pt // where the ruler starts
}

const (
	noteSize = 5.4 // of notes, in units

	// By how much notes are larger in a drawing that fills less of its place, so that
	// they can be read on a phone.
	upright  = 1.35 // higher than wide
	twoViews = 1.6
	allViews = 2.1
)

func newPen(seed uint64, size float64) *pen {
	p := &pen{rng: rand.New(rand.NewPCG(seed, 0x6669656c64)), unit: size / 100, larger: 1, parts: 10}
	if size < 40 {
		p.parts = 100
	}
	p.grid = 1 / p.parts
	return p
}

// finer keeps hundredths of a millimetre, for a long drawing of something thin.
func (p *pen) finer() { p.parts, p.grid = 100, .01 }

// weights of the line, in units: one family from firm to faint.
const (
	firm  = .58
	light = .4
	faint = .27
)

// num writes a length, in mm.
func (p *pen) num(x float64) string { return string(appendHundredths(nil, p.count(x))) }

// coarse is for a drawing of many small parts: a finer grid than a third of
// a unit would be seen by nobody, and cost a third of its bytes.
func (p *pen) coarse() {
	p.thrifty = true
	for _, grid := range []float64{.02, .05, .1, .2, .5, 1, 2} {
		if grid <= .31*p.unit {
			p.grid = max(p.grid, grid)
		}
	}
}

// rounded is q as it will be read back.
func (p *pen) rounded(q pt) pt {
	return pt{math.Round(q.x/p.grid) * p.grid, math.Round(q.y/p.grid) * p.grid}
}

// roughly is rounded for what needs no care, such as the ends of hatching.
func (p *pen) roughly(q pt) pt {
	if !p.thrifty {
		return p.rounded(q)
	}
	return pt{math.Round(q.x/p.grid/2) * p.grid * 2, math.Round(q.y/p.grid/2) * p.grid * 2}
}

// path writes curves as path data.
func (p *pen) path(cs ...curve) []byte {
	t := trace{p: p}
	for _, c := range cs {
		t.curve(c)
	}
	return t.data
}

// style of a stroke.
type style struct {
	name   string  // a neutral mark by which a reader may count parts
	weight float64 // 0: firm
	fill   string
	wash   float64 // opacity of the fill; 0: solid
	dashed bool
	pale   float64 // opacity of the line; 0: solid
	casing bool    // in the colour of the paper
	hidden bool    // not drawn, but there for a page to mark
}

func (p *pen) put(d []byte, s style) {
	p.write("<path")
	p.attributes(s)
	p.write(` d="`)
	p.body.Write(d)
	p.write(`"/>`)
}

// open begins a group whose parts share a style; close ends it.
func (p *pen) open(s style) {
	p.write("<g")
	p.attributes(s)
	p.write(">")
}

func (p *pen) close() { p.write("</g>") }

func (p *pen) write(parts ...string) {
	for _, s := range parts {
		p.body.WriteString(s)
	}
}

func (p *pen) attributes(s style) {
	if s.name != "" && !p.unnamed {
		p.write(` data-n="`, s.name, `"`)
	}
	if s.weight != 0 && s.weight != firm {
		p.write(` stroke-width="`, twoFigures(s.weight*p.unit), `"`)
	}
	if s.fill != "" {
		p.write(` fill="`, s.fill, `"`)
	}
	if s.wash > 0 {
		p.write(` fill-opacity="`, twoFigures(s.wash), `"`)
	}
	if s.pale > 0 {
		p.write(` stroke-opacity="`, twoFigures(s.pale), `"`)
	}
	if s.casing {
		p.write(` stroke="`, paper, `"`)
	}
	if s.hidden {
		p.write(` stroke="none"`)
	}
	if s.dashed {
		p.write(` stroke-dasharray="`, twoFigures(2*p.unit), ` `, twoFigures(1.3*p.unit), `"`)
	}
}

func twoFigures(x float64) string { return strconv.FormatFloat(x, 'g', 2, 64) }

// stroke draws a curve once.
func (p *pen) stroke(c curve, s style) {
	if len(c.pts) < 2 {
		return
	}
	p.space = p.space.about(c)
	p.put(p.path(c), s)
}

// strokes draws several curves as one element.
func (p *pen) strokes(cs []curve, s style) {
	cs = slices.DeleteFunc(slices.Clone(cs), func(c curve) bool { return len(c.pts) < 2 })
	for _, c := range cs {
		p.space = p.space.about(c)
	}
	if len(cs) > 0 {
		p.put(p.path(cs...), s)
	}
}

// again goes over part of an outline a second time, as a pencil does.
func (p *pen) again(c curve) {
	n := len(c.pts)
	if n < 4 {
		return
	}
	over := curve{}
	for i, start := 0, p.rng.IntN(n); i <= n*2/3; i++ {
		over.pts = append(over.pts, c.at(start+i))
	}
	p.stroke(over.shaken(p.rng, .5*p.unit), style{weight: light, pale: .6})
}

// shape is how a solid part is drawn: outline, second line, soft hatching.
func (p *pen) shape(c curve, s style) {
	p.stroke(c, s)
	if !s.dashed {
		p.again(c)
	}
}

// hatch shades a closed curve with parallel strokes at an angle. With a
// depth, only a rim on the lower right is shaded, as a hollow or a round
// body is by light from the upper left.
func (p *pen) hatch(c curve, deg, gap, depth float64, s style) {
	p.hatchFrom(c, deg, gap, pt{-depth, -depth}, s)
}

func (p *pen) hatchFrom(c curve, deg, gap float64, lit pt, s style) {
	poly := c.mapped(func(q pt) pt { return q.turn(-deg) }).flat()
	var lifted []pt // to where light falls on it
	if lit != (pt{}) {
		lifted = curve{pts: poly}.mapped(lit.turn(-deg).add).pts
	}
	b := box{}.with(poly...)
	if p.thrifty {
		gap *= 1.45
	}
	t := trace{p: p}
	for y := b.lo.y + gap*.6; y < b.hi.y; y += gap * lerp(.7, 1.35, p.rng.Float64()) {
		bright := spans(lifted, y)
		for _, sp := range spans(poly, y) {
			for _, s := range sp.without(bright) {
				t.hatchLine(s, y, gap, deg, poly)
			}
		}
	}
	if len(t.data) > 0 {
		p.put(t.data, s)
	}
}

// hatchLine adds one stroke, from where the last one ended. A hand tilts it, but
// not out of the body.
func (t *trace) hatchLine(s span, y, gap, deg float64, body []pt) {
	p := t.p
	slack := gap*.35 + .12*(s.hi-s.lo)
	s.lo += slack * p.rng.Float64()
	s.hi -= slack * p.rng.Float64()
	if p.thrifty { // what the coarse grid may add
		s.lo, s.hi = s.lo+p.grid, s.hi-p.grid
	}
	if s.hi-s.lo < gap*.5 {
		return
	}
	a := pt{s.lo, y}
	b := pt{s.hi, y + gap*.25*p.rng.NormFloat64()}
	if !holds(body, a, b) {
		b.y = y
	}
	a, b = a.turn(deg), b.turn(deg)
	move := p.roughly(a.sub(t.at))
	a = t.at.add(move)
	line := p.roughly(b.sub(a))
	b = a.add(line)
	if p.thrifty && !holds(body, a.turn(-deg), b.turn(-deg)) {
		return // rounding took it out of the body
	}
	t.step('m', move)
	t.step('l', line)
	t.at = b
}

// holds reports whether a stroke runs inside a polygon, as far as six places tell.
func holds(poly []pt, a, b pt) bool {
	var places [6]pt
	for i := range places {
		places[i] = mix(a, b, float64(i)/5)
	}
	low, high := min(a.y, b.y), max(a.y, b.y)
	var in [len(places)]bool
	for c, d := range edges(poly) {
		if c.y > high && d.y > high || c.y <= low && d.y <= low {
			continue // most of them
		}
		for i, q := range places {
			in[i] = in[i] != crosses(c, d, q)
		}
	}
	return !slices.Contains(in[:], false)
}

// scattered picks n points inside a closed curve, at least apart from each other.
func (p *pen) scattered(c curve, n int, apart float64) []pt {
	poly := c.flat()
	b := box{}.with(poly...)
	var out []pt
	for range n * 12 {
		q := pt{lerp(b.lo.x, b.hi.x, p.rng.Float64()), lerp(b.lo.y, b.hi.y, p.rng.Float64())}
		if len(out) < n && inside(poly, q) && !near(out, q, apart) {
			out = append(out, q)
		}
	}
	return out
}

func near(pts []pt, q pt, d float64) bool {
	for _, p := range pts {
		if p.sub(q).norm() < d {
			return true
		}
	}
	return false
}

// text writes a small note. Anchor is start, middle or end.
func (p *pen) text(at pt, anchor, s string) { p.sized(at, anchor, noteSize*p.larger, s) }

func (p *pen) sized(at pt, anchor string, size float64, s string) {
	fmt.Fprintf(&p.body, `<text x="%s" y="%s" font-size="%s" text-anchor="%s" stroke="none" fill="%s">%s</text>`,
		p.num(at.x), p.num(at.y), p.num(size*p.unit), anchor, ink, s)
	w := p.textWidth(size, s)
	left := map[string]float64{"start": 0, "middle": .5, "end": 1}[anchor] * w
	room := box{}.with(at.sub(pt{left, size * p.unit}), at.add(pt{w - left, .3 * size * p.unit}))
	p.notes = append(p.notes, room)
	p.space = p.space.with(room.lo, room.hi)
}

// among has the drawing's notes large enough for a frame so many mm wide, which is
// shown among others.
func (p *pen) among(frame float64) { p.larger = .013 * frame / p.unit }

// enlarged says by how much what has been drawn is larger than life, in large type.
func (p *pen) enlarged(times float64) {
	if times > 1 {
		p.sized(pt{p.space.lo.x, p.space.hi.y + 2*p.unit + 1.5*p.note()}, "start", 1.5*noteSize*p.larger, fmt.Sprintf("× %.0f", times))
	}
}

// note is the size of a note's letters, in mm.
func (p *pen) note() float64 { return noteSize * p.larger * p.unit }

// textWidth is about how wide a note is, in mm, in letters of so many units.
func (p *pen) textWidth(size float64, s string) float64 {
	return .52 * size * p.unit * float64(utf8.RuneCountInString(s))
}

// captionWidth is that of a caption in the language in which it is the longest.
func (p *pen) captionWidth(s string) float64 {
	size := noteSize * p.larger
	return max(p.textWidth(size, s), p.textWidth(size, Said(s, catalogue.Spanish)))
}

// ruler draws a ruler along the longer of two edges: up the left one, or
// along the foot of what has been drawn. scale is plate mm for a real mm.
func (p *pen) ruler(scale float64) {
	cm := 10 * scale
	b := p.space
	// along the ruler, and from its line into the drawing
	along, in, long := pt{0, -1}, pt{1, 0}, p.zero.y-b.lo.y
	start := pt{b.lo.x - 9*p.unit, p.zero.y}
	note, anchor := pt{-1.5 * p.unit, .36 * p.note()}, "end"
	if b.w() > 1.3*b.h() {
		along, in, long = pt{1, 0}, pt{0, -1}, b.hi.x-p.zero.x
		start = pt{p.zero.x, b.hi.y + 7*p.unit}
		note, anchor = pt{0, 1.1 * p.note()}, "middle"
	}
	step, number := rulerSteps(long / cm)
	number = p.apart(number, cm, long/cm)
	n := math.Ceil(long/cm/step) * step
	t := trace{p: p}
	t.step('M', start)
	for i := 0; float64(i)*step <= n+1e-9; i++ {
		tick := 1.5
		if at := float64(i) * step; isMultiple(at, number) {
			tick = 4
		} else if isMultiple(at, number/2) {
			tick = 2.7
		}
		if i > 0 {
			t.straight(along.times(step * cm))
		}
		t.straight(in.times(tick*p.unit), in.times(-tick*p.unit))
	}
	p.put(t.data, style{weight: light})
	for at := 0.; at <= n+1e-9; at += number {
		p.text(start.add(along.times(at*cm)).add(note), anchor, strconv.FormatFloat(at, 'f', -1, 64))
	}
	p.space = p.space.with(start, start.add(along.times(n*cm)))
}

// apart are the cm from one number of a ruler to the next, at so many mm to a cm:
// more where they would touch, on a ruler up to the most.
func (p *pen) apart(number, cm, most float64) float64 {
	for _, more := range []float64{2, 2.5} {
		if widest := strconv.Itoa(int(most)); number*cm < .8*p.note()+p.textWidth(noteSize*p.larger, widest) {
			number *= more
		}
	}
	return number
}

// rulerSteps chooses ticks and numbers, in cm, for a ruler of so many cm.
func rulerSteps(cm float64) (tick, number float64) {
	switch {
	case cm <= 12:
		return .1, 1
	case cm <= 30:
		return .5, 5
	case cm <= 75:
		return 1, 10
	case cm <= 150:
		return 2, 20
	case cm <= 400:
		return 10, 50
	}
	return 50, 200
}

func isMultiple(x, of float64) bool { return math.Abs(x/of-math.Round(x/of)) < 1e-6 }

// scaleBar draws a bar of a round number of cm under what has been drawn.
func (p *pen) scaleBar(scale float64) {
	size := 100 * p.unit
	cm := .1
	for _, c := range []float64{.2, .5, 1, 2, 5, 10, 20, 50, 100} {
		if c*10*scale <= size*.42 {
			cm = c
		}
	}
	long := cm * 10 * scale
	at := pt{p.space.lo.x + 12*p.unit, p.space.hi.y + 9*p.unit}
	h := 1.3 * p.unit
	bar := func(long float64) []byte {
		t := trace{p: p}
		t.step('M', at)
		t.straight(pt{long, 0}, pt{0, h}, pt{-long, 0})
		return append(t.data, 'z')
	}
	p.put(bar(long), style{name: "bar", weight: light})
	p.put(bar(long/2), style{weight: light, fill: ink})
	p.text(pt{at.x + long + 2*p.unit, at.y + .7*p.unit + .36*p.note()}, "start", strconv.FormatFloat(cm, 'f', -1, 64)+" cm")
	p.space = p.space.with(at.add(pt{long, h}))
}

// finish adds the ruler and the scale bar where the scale is known (plate mm
// for a real mm, else 0) and the label, and closes the drawing.
func (p *pen) finish(scale float64, label string) string {
	if scale > 0 {
		p.ruler(scale)
		p.scaleBar(scale)
	} else if label != "" {
		p.space = p.space.grown(0, 0, 0, 8*p.unit)
	}
	if label != "" {
		p.text(pt{p.space.hi.x, p.space.hi.y + 6*p.unit}, "end", label)
	}
	b := p.space.grown(4*p.unit, 4*p.unit, 4*p.unit, 3*p.unit)
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="%s %s %[1]s %[2]s">`+
		`<g fill="none" stroke="%[5]s" stroke-width="%[6]s" stroke-linecap="round" stroke-linejoin="round" font-family="Georgia,serif" font-style="italic">`,
		p.num(b.w()), p.num(b.h()), p.num(b.lo.x), p.num(b.lo.y), ink, twoFigures(firm*p.unit)) +
		p.body.String() + "</g></svg>"
}
