package plate

import (
	"math"
	"slices"
	"strings"
)

func (d *dropping) pat() {
	d.flat = true
	d.looks = "a broad flat pat with rings of folds"
	var pts []pt
	for i := range 18 {
		a := float64(i) / 18 * 2 * math.Pi
		r := .5 * (1 + .05*math.Sin(3*a+1) + .03*math.Sin(7*a))
		pts = append(pts, pt{r * math.Cos(a), r * math.Sin(a)})
	}
	c := d.sized(curve{pts, true}.shaken(d.p.rng, .008))
	b := c.box()
	for i, k := range []float64{.84, .66, .47, .28, .12} {
		ring := c.mapped(func(p pt) pt {
			return p.sub(b.mid()).times(k).add(b.mid()).add(pt{-.02, .01}.times(float64(i) * d.long))
		})
		ring = ring.shaken(d.p.rng, .012*d.long)
		from := d.p.rng.IntN(18)
		arc := curve{}
		for j := range 13 + i%2 {
			arc.pts = append(arc.pts, ring.at(from+j))
		}
		d.marks = append(d.marks, arc)
	}
	d.body(c)
}

// loose is what hardly holds together: a ragged mass, crumbs of it and what fell out.
func (d *dropping) loose() {
	d.looks = "a loose heap with hardly any form"
	d.rough, d.ends = .16, "blunt"
	c := d.roundedCord(steps(18), .35, func(t float64) float64 { return 1 + .10*math.Sin(23*t) + .08*math.Sin(41*t+1) })
	d.body(c)
	under := d.p.space.hi.y
	for _, crumb := range []struct{ x, long, thick float64 }{{.20, .9, .6}, {.45, .6, .45}, {.66, 1.1, .6}} {
		lump := ovalUnit.shaken(d.p.rng, .07).placed(pt{crumb.x * d.long, under + .45*d.thick}, crumb.long*d.thick, crumb.thick*d.thick, 14*d.p.rng.NormFloat64())
		d.piece("extra", lump)
	}
	d.spill(under)
}

// cappedTube is a bird's: white at one end.
func (d *dropping) cappedTube() {
	d.looks = "a slim tube, and a second one"
	if d.ends == "" {
		d.ends = "blunt"
	}
	bend := .5
	if d.shape == "bent" {
		d.looks, bend = "a slim tube bent like a bow, and a second one", 1.3
	}
	c := d.roundedCord(steps(14), bend, func(t float64) float64 { return 1 + .05*math.Sin(11*t) })
	d.unshadedBeyond = .78 * d.long
	d.body(c)
	short := d.shortPiece(.7)
	d.unshadedBeyond = short.box().hi.x - .22*.7*d.long
	d.whiten(short)
	d.unshadedBeyond = 0
}

// hook is the gobbler's, bent like a J, and beside it the hen's spiral heap.
func (d *dropping) hook() {
	d.looks = "a tube whose end is bent back like a J, and a small spiral heap"
	r := .92 * d.thick
	shaft := d.long - r - .5*d.thick
	var centre []pt
	for _, t := range steps(15) {
		centre = append(centre, pt{t * shaft, .07 * d.thick * math.Sin(4*t)})
	}
	for i := 1; i <= 12; i++ {
		a := float64(i) / 12 * 1.15 * math.Pi
		centre = append(centre, pt{shaft + r*math.Sin(a), -r * (1 - math.Cos(a))})
	}
	end := endShape("rounded")
	radius := func(t float64) float64 {
		return d.thick / 2 * min(end(min(.5, 4*t)), end(max(.5, 3*t-2))) * (1 - .12*t + .03*math.Sin(16*t))
	}
	c := tube(centre, radius)
	b := c.box()
	chord := thickest(curve{pts: leftOf(c.polyline(32), .55*d.long), closed: true}.pts)
	to := func(q pt) pt { return pt{(q.x - b.lo.x) * d.long / b.w(), q.y * d.thick / chord} }
	c = c.mapped(to)
	d.piece("body", c)
	d.contents(c, 1)
	const part = 7 // of its points: the end that is white
	whole := wayAlong(centre)
	cap := tube(centre[:part], func(t float64) float64 { return radius(t * wayAlong(centre[:part]) / whole) })
	d.p.stroke(cap.mapped(to), style{name: "cap", fill: "#ffffff", weight: light})
	d.coil(pt{.46 * d.long, d.p.space.hi.y + 1.9*d.thick})
}

// wayAlong is the length of a line of points.
func wayAlong(pts []pt) float64 {
	way := 0.
	for i := 1; i < len(pts); i++ {
		way += pts[i].sub(pts[i-1]).norm()
	}
	return way
}

// leftOf are the points left of x.
func leftOf(pts []pt, x float64) []pt {
	var out []pt
	for _, q := range pts {
		if q.x <= x {
			out = append(out, q)
		}
	}
	return out
}

// coil is a cord wound to a heap, seen obliquely: its end runs out on the ground,
// each turn lies aslant on the one before and hides its rear.
func (d *dropping) coil(at pt) {
	end := endShape("rounded")
	var tail []pt
	for _, t := range steps(9) {
		tail = append(tail, at.add(pt{-1.95 * t, .20 + .12*t}.times(d.thick)))
	}
	d.piece("extra", tube(tail, func(t float64) float64 { return .36 * d.thick * end(.5+.5*t) }).shaken(d.p.rng, .012*d.thick))
	for turn, wide := range []float64{2.7, 2.0, 1.3} {
		slant := map[bool]float64{true: 7, false: -9}[turn == 1]
		d.piece("extra", ovalUnit.shaken(d.p.rng, .012).placed(at.add(pt{.04 * float64(turn), -.42 * float64(turn)}.times(d.thick)), wide*d.thick, (.62+.22*wide)*d.thick, slant))
	}
	d.p.stroke(ovalUnit.placed(at.add(pt{.12, -1.02}.times(d.thick)), .72*d.thick, .44*d.thick, -9).shaken(d.p.rng, .015*d.thick), style{name: "cap", fill: "#ffffff", weight: light})
}

// castPellet lies beside the splash: felt of hair with bones in it.
func (d *dropping) castPellet() {
	d.looks = "a pale splash, and beside it a felted oval lump in which bones and a small skull show"
	d.splash(pt{1.62 * d.long, .1 * d.thick})
	c := d.sized(barrelPellet.shaken(d.p.rng, .025))
	d.ends, d.rough = "", .08
	d.piece("body", c)
	d.p.fuzz(c, 1.1)
	felt := *d // its bones are whole, and drawn one by one
	felt.shows = slices.DeleteFunc(slices.Clone(d.shows), func(m string) bool { return m == "bone" })
	felt.contents(c, 1)
	for _, bone := range []struct {
		parts []curve
		at    pt
		size  float64
		deg   float64
	}{{mouseSkull, pt{.33, -.06}, .56, -12}, {mouseJaw, pt{.62, .20}, .40, 16}, {[]curve{longBone}, pt{.74, -.16}, .44, 52}, {[]curve{longBone}, pt{.20, .27}, .30, -24}} {
		var cs []curve
		for _, part := range bone.parts {
			cs = append(cs, part.placed(pt{bone.at.x * d.long, bone.at.y * d.thick}, bone.size*d.thick, bone.size*d.thick, bone.deg))
		}
		d.p.strokes(cs, style{name: "bone", fill: paper, weight: light})
	}
}

var (
	mouseSkull = []curve{loop(-.62, .06, -.58, -.14, -.36, -.25, -.10, -.24, .16, -.20, .42, -.13, .64, -.05, .64, .04, .42, .08, .26, .09, .06, .10, -.10, .16, -.30, .22, -.52, .18),
		loop(-.02, -.10, .10, -.12, .18, -.03, .08, .03, -.02, -.01), line(.62, .02, .68, .14, .58, .24), line(-.30, .08, -.12, .06, .08, .08)}
	mouseJaw = []curve{loop(-.55, -.30, -.42, -.10, -.55, .16, -.30, .14, .05, .22, .35, .10, .58, -.16, .58, -.16, .34, -.04, .05, -.02, -.16, -.08, -.36, -.32), line(-.06, -.03, .18, -.06)}
	longBone = loop(-.46, -.06, -.54, -.14, -.60, -.04, -.56, .02, -.60, .10, -.50, .13, -.44, .05, .44, .04, .50, .12, .58, .08, .56, 0, .60, -.08, .50, -.13, .44, -.04)
)

// splash is liquid that dried white, run out to one side, with drops about it.
func (d *dropping) splash(at pt) {
	white := style{name: "extra", fill: "#ffffff", weight: light}
	var pts []pt
	for i := range 20 {
		a := float64(i) / 20 * 2 * math.Pi
		r := .5 + .07*math.Sin(3*a+1) + float64(i%2)*lerp(.0, .10, d.p.rng.Float64())
		pts = append(pts, at.add(pt{.62 * d.long * r * math.Cos(a), .95 * d.thick * r * math.Sin(a)}))
	}
	d.p.stroke(curve{pts, true}, white)
	for i := range 9 {
		a := float64(i)*.7 + .2*d.p.rng.NormFloat64()
		size := d.thick * lerp(.05, .13, d.p.rng.Float64())
		out := at.add(pt{.46 * d.long * math.Cos(a), .72 * d.thick * math.Sin(a)})
		d.p.stroke(ovalUnit.placed(out, 1.7*size, size, a*180/math.Pi), white)
	}
}

// spill are scales and bones that have come away from a loose heap.
func (d *dropping) spill(under float64) {
	for _, what := range []string{"fish scales", "bone"} {
		if !slices.Contains(d.shows, what) {
			continue
		}
		mark := d.contentMark(what)
		size := mark.size * d.thick
		var cs []curve
		for i := range 5 {
			at := pt{d.long * (.06 + .2*float64(i) + .05*d.p.rng.Float64()), under + d.thick*lerp(.15, .9, d.p.rng.Float64())}
			turn := 360 * d.p.rng.Float64()
			for _, part := range mark.draw(d.p) {
				cs = append(cs, part.placed(at, size, size, turn))
			}
		}
		d.p.strokes(cs, style{name: strings.ReplaceAll(what, " ", "-"), weight: light, fill: mark.fill})
	}
}
