package plate

import "math"

// crowns of cheek teeth seen from the chewing side: x across the row, y along it.
type crown struct {
	outline curve
	ridges  []curve
	broad   float64 // width in parts of its length
}

var crowns = map[string]crown{
	"shearing":        {loop(-.3, -.5, .28, -.46, .5, -.2, .34, .1, .3, .42, -.05, .5, -.38, .38, -.42, 0), []curve{line(-.02, -.42, .08, -.05, -.06, .42)}, .55},
	"crushing":        {loop(-.42, -.44, 0, -.5, .42, -.44, .5, 0, .42, .44, 0, .5, -.42, .44, -.5, 0), []curve{line(-.4, .02, -.1, -.06, .4, .02), line(.0, -.36, .05, 0, 0, .36)}, .98},
	"flat grinding":   {loop(-.42, -.46, 0, -.5, .42, -.46, .5, 0, .42, .46, 0, .5, -.42, .46, -.5, 0), []curve{line(-.42, -.22, 0, -.12, .3, -.22), line(-.3, .02, 0, .1, .44, 0), line(-.42, .28, 0, .34, .3, .26)}, 1.25},
	"crescent-ridged": {loop(-.44, -.46, 0, -.46, .44, -.46, .5, -.2, .40, 0, .5, .22, .42, .47, 0, .48, -.44, .46, -.5, .2, -.42, 0, -.5, -.2), []curve{line(-.3, -.4, -.02, -.24, -.3, -.05), line(-.3, .06, -.02, .22, -.3, .4), line(.1, -.4, .36, -.24, .1, -.06), line(.1, .06, .36, .22, .1, .4)}, 1.2},
	"insect-piercing": {loop(-.5, -.1, -.1, -.45, .44, -.5, .5, -.2, .42, 0, .5, .25, .44, .5, -.1, .42, -.45, .2), []curve{line(.42, -.44, -.02, -.26, -.02, -.26, .34, 0, .34, 0, -.02, .24, -.02, .24, .42, .44)}, 1.1},
	"peg-like":        {ovalUnit, nil, .9},
	"":                {loop(-.38, -.44, .05, -.5, .42, -.4, .48, 0, .38, .42, 0, .5, -.4, .42, -.46, 0), []curve{line(-.02, -.3, .06, 0, 0, .3)}, .8},
}

var (
	premolarCrown = crown{loop(0, -.5, .34, -.3, .46, .05, .3, .4, 0, .5, -.3, .4, -.42, .05, -.3, -.32), []curve{line(0, -.38, .05, 0, 0, .38)}, .55}
	chisel        = loop(-.5, -.2, -.3, -.48, .3, -.48, .5, -.2, .42, .4, 0, .5, -.42, .4)
)

// row draws one jaw's teeth, both sides, front towards the top, its middle at m.
func (k *skull) row(j jaw, m pt) {
	front := k.form.incisors.lo
	if j == lower {
		front = k.form.lowerFront.lo
	}
	if front == 0 {
		front = k.form.cheek.lo - .08*k.long
	}
	caption := pt{m.x, m.y + k.form.cheek.hi + .11*k.long}
	m.y -= front - .03*k.long
	k.boneOf(j, m, front)
	k.p.open(style{name: j.String(), weight: light, fill: toothWhite})
	for _, side := range []float64{-1, 1} {
		k.frontCrowns(j, m, side)
		for _, c := range k.cheekPlaces(j) {
			k.cheekCrown(j, m, side, c)
		}
	}
	k.p.close()
	k.p.text(caption, "middle", j.String()+" row")
	if k.teeth.varies(j) {
		k.p.text(caption.add(pt{0, 5 * k.p.unit}), "middle", "varying teeth left out")
	}
}

// half is the distance of a row from the middle line, at y from the front.
func (k *skull) half(j jaw, y float64) float64 {
	start := k.form.canine
	if start == 0 {
		start = k.form.incisors.hi
	}
	t := min(1.1, max(0, (y-start)/(k.form.cheek.hi-start)))
	w := lerp(k.form.halfWidth.lo, k.form.halfWidth.hi, math.Pow(t, .85))
	if j == lower {
		w *= .86
	}
	return w
}

func (k *skull) cheekCrown(j jaw, m pt, side float64, c place) {
	kind := crowns[k.f.text("cheek_teeth")]
	if c.kind == 2 && (k.f.is("order", "Carnivora") || k.f.is("cheek_teeth", "insect-piercing")) {
		kind = premolarCrown
	}
	if c.carnassial {
		kind = crowns["shearing"]
	}
	w := k.half(j, c.at)
	broad := min(c.long*kind.broad, w*1.1)
	if j == lower {
		broad *= .72
	}
	lean := math.Atan2(k.half(j, c.at+.02*k.long)-k.half(j, c.at-.02*k.long), .04*k.long) * 180 / math.Pi
	k.crownAt(j, toothKinds[c.kind], kind, m.add(pt{side * w, c.at}), side*broad*.96, c.long*.95, -side*lean)
}

// crownAt draws a tooth as a single element: its outline and its ridges.
func (k *skull) crownAt(j jaw, name string, c crown, at pt, broad, long, deg float64) {
	outline := c.outline.shaken(k.p.rng, .02).placed(at, broad, long, deg)
	k.p.space = k.p.space.with(outline.flat()...)
	k.noted("row", j, name, outline)
	d := k.p.path(outline)
	for _, r := range c.ridges {
		d += k.p.bend(r.placed(at, broad, long, deg))
	}
	s := style{name: name}
	if fill := k.incisorFill(); name == "I" && fill != toothWhite {
		s.fill = fill
	}
	k.p.put(d, s)
}

// frontCrowns are the incisors and the canine of one side.
func (k *skull) frontCrowns(j jaw, m pt, side float64) {
	incisors, canines := k.teeth.of(0, j), k.teeth.of(1, j)
	if k.form.gnawing {
		k.gnawingCrowns(j, m, side, incisors)
		return
	}
	row := k.form.incisors
	if j == lower {
		row = k.form.lowerFront
	}
	fan := incisors
	if k.form.comb && j == lower {
		fan += canines
	}
	reach := k.half(j, 0) * .92
	for i := range fan {
		t := (float64(i) + .5) / float64(fan)
		at := m.add(pt{side * reach * t, lerp(row.lo, row.hi, t*t)})
		name := "I"
		if i >= incisors {
			name = "C"
		}
		k.crownAt(j, name, crown{outline: chisel}, at, reach/float64(fan)*.92, min(.045*k.long, 1.4*reach/float64(fan)), side*38*t)
	}
	if canines > 0 && !(k.form.comb && j == lower) {
		size := .026 * k.long
		if k.f.yes("large_canines") {
			size = .05 * k.long
		}
		y := k.form.canine
		if j == lower {
			y -= .03 * k.long
		}
		k.crownAt(j, "C", crown{outline: ovalUnit, ridges: []curve{line(-.1, -.2, .12, .0, .05, .25)}}, m.add(pt{side * (k.half(j, y) + .005*k.long), y}), size*.8, size, side*20)
	}
}

func (k *skull) gnawingCrowns(j jaw, m pt, side float64, n int) {
	row := k.form.incisors
	if j == lower {
		row = k.form.lowerFront
	}
	for i := range n {
		size := .042 * k.long
		if i > 0 {
			size = .016 * k.long
		}
		k.crownAt(j, "I", crown{outline: chisel}, m.add(pt{side * .52 * max(size, .03*k.long), row.lo + .01*k.long + float64(i)*.038*k.long}), size, size, 0)
	}
}

// boneOf is the palate, or the two branches of the lower jaw, under the teeth.
func (k *skull) boneOf(j jaw, m pt, front float64) {
	at := func(side, y, out float64) pt { return m.add(pt{side * (k.half(j, y) + out*k.long), y}) }
	margin, rear := .035, k.form.cheek.hi+.035*k.long
	var outer, inner []pt
	for i := range 7 {
		y := lerp(front+.012*k.long, rear, float64(i)/6)
		narrow := 1.
		if i == 0 {
			narrow = .1
		}
		outer = append(outer, at(1, y, margin*narrow))
		inner = append(inner, at(1, max(y, front+.09*k.long), -margin*1.1))
	}
	tip := m.add(pt{0, front - .02*k.long})
	if j == upper {
		c := curve{append(append([]pt{tip}, outer...), m.add(pt{.03 * k.long, rear - .005*k.long}), m.add(pt{0, rear - .03*k.long})), false}
		c = curve{append(c.pts, mirrorAbout(m.x, c.pts[1:len(c.pts)-1])...), true}
		c = c.shaken(k.p.rng, .002*k.long)
		k.drawn["palate"] = []curve{c}
		k.p.shape(c, style{name: "palate", fill: bone})
		slit := func(side float64) curve {
			y := front + .10*k.long
			return loop(0, -.5, .5, 0, 0, .5, -.5, 0).placed(m.add(pt{side * .018 * k.long, y}), .012*k.long, .05*k.long, side*-6)
		}
		k.p.strokes([]curve{slit(-1), slit(1), {pts: []pt{m.add(pt{0, front + .15*k.long}), m.add(pt{.003 * k.long, rear - .10*k.long}), m.add(pt{0, rear - .035*k.long})}}}, style{weight: faint})
		return
	}
	c := append([]pt{tip}, outer...)
	for i := len(inner) - 1; i > 1; i-- {
		c = append(c, inner[i])
	}
	c = append(c, m.add(pt{0, front + .13*k.long}))
	c = append(c, mirrorAbout(m.x, c[1:len(c)-1])...)
	k.p.shape(curve{c, true}.shaken(k.p.rng, .002*k.long), style{name: "branches", fill: bone})
}

// mirrorAbout gives the points on the other side of a middle line, last first,
// to close an outline.
func mirrorAbout(x float64, pts []pt) []pt {
	out := make([]pt, len(pts))
	for i, p := range pts {
		out[len(pts)-1-i] = pt{2*x - p.x, p.y}
	}
	return out
}
