package plate

import "math"

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
	b := box{}.with(c.flat()...)
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

func (d *dropping) loose() {
	d.flat = true
	d.looks = "loose and shapeless, spread on the ground, with splashes beside it"
	if d.shape == "spraint" {
		d.looks = "a loose heap with hardly any form"
		d.rough = .2
		defer d.spill()
	}
	var pts []pt
	const n = 22
	for i := range n {
		a := float64(i) / n * 2 * math.Pi
		r := .5 * (1 + .09*math.Sin(4*a+.4) + .10*math.Sin(2*a+1) + .05*math.Sin(7*a) + .025*d.p.rng.NormFloat64())
		pts = append(pts, pt{r * math.Cos(a), r * math.Sin(a)})
	}
	c := d.sized(curve{pts, true})
	inner := c.mapped(func(p pt) pt { return pt{.5*d.long + (p.x-.5*d.long)*.55, p.y*.5 + .04*d.thick} })
	core := inner.mapped(func(p pt) pt { return pt{.46*d.long + (p.x-.46*d.long)*.5, p.y*.45 + .02*d.thick} })
	d.marks = append(d.marks, curve{pts: inner.pts[:n/2+2]}, curve{pts: inner.pts[n/2+4:]}, curve{pts: core.pts[3 : n-4]})
	for range 4 {
		at := pt{d.long * lerp(.08, .95, d.p.rng.Float64()), d.thick * (.72 + .12*d.p.rng.Float64())}
		size := d.thick * lerp(.05, .13, d.p.rng.Float64())
		d.piece("extra", ovalUnit.shaken(d.p.rng, .06).placed(at, size*1.5, size, 15))
	}
	d.body(c)
}

// cappedTube is a bird's: white at one end.
func (d *dropping) cappedTube() {
	d.looks = "a slim tube, and a second one"
	if d.ends == "" {
		d.ends = "blunt"
	}
	bend := .5
	if d.shape == "bent" {
		d.looks, bend = "a slim tube bent like a bow, and a second one", 1.9
	}
	c := d.roundedCord(steps(14), bend, func(t float64) float64 { return 1 + .05*math.Sin(11*t) })
	d.unshadedBeyond = .78 * d.long
	d.body(c)
	short := d.shortPiece(.7)
	d.unshadedBeyond = (box{}).with(short.flat()...).hi.x - .22*.7*d.long
	d.whiten(short)
	d.unshadedBeyond = 0
}

// hook is the gobbler's, bent like a J, and beside it the hen's spiral heap.
func (d *dropping) hook() {
	d.looks = "a tube whose end is bent back like a J, and a small spiral heap"
	shaft := d.long - 1.1*d.thick
	var centre []pt
	for _, t := range steps(9) {
		centre = append(centre, pt{t * shaft, .06 * d.thick * math.Sin(3*t)})
	}
	for i := 1; i <= 8; i++ {
		a := float64(i) / 8 * 1.12 * math.Pi
		centre = append(centre, pt{shaft + .62*d.thick*math.Sin(a), -.80 * d.thick * (1 - math.Cos(a))})
	}
	end := endShape("blunt")
	c := tube(centre, func(t float64) float64 { return d.thick / 2 * end(t) * (1 + .04*math.Sin(14*t)) })
	b := box{}.with(c.flat()...)
	chord := thickest(curve{pts: leftOf(c.polyline(32), .55*d.long), closed: true}.pts)
	c = c.mapped(func(q pt) pt { return pt{(q.x - b.lo.x) * d.long / b.w(), q.y * d.thick / chord} })
	d.piece("body", c)
	d.contents(c, 1)
	d.hookCap(c)
	d.spiral(pt{.42 * d.long, d.p.space.hi.y + 2.3*d.thick})
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

// hookCap whitens the straight end of the J.
func (d *dropping) hookCap(c curve) {
	flipped := c.mapped(func(q pt) pt { return pt{-q.x, q.y} })
	d.unshadedBeyond = -.17 * d.long
	var tube []pt
	for _, q := range flipped.polyline(4) {
		if q.x > d.unshadedBeyond && math.Abs(q.y) < d.thick {
			tube = append(tube, pt{-q.x, q.y})
		}
	}
	d.unshadedBeyond = 0
	d.p.stroke(hull(tube), style{name: "cap", fill: "#ffffff", weight: light})
}

// spiral is a coil seen from the side, each turn smaller than the one below.
func (d *dropping) spiral(at pt) {
	for i, w := range []float64{1.25, 1.0, .72, .42} {
		y := at.y - float64(i)*.42*d.thick
		ring := ovalUnit.placed(pt{at.x + .06*d.thick*float64(i%2), y}, w*1.5*d.thick, .62*d.thick, 0).shaken(d.p.rng, .02*d.thick)
		d.piece("extra", ring)
	}
	d.p.stroke(ovalUnit.placed(pt{at.x, at.y - 1.42*d.thick}, .5*d.thick, .34*d.thick, 0).shaken(d.p.rng, .015*d.thick), style{name: "cap", fill: "#ffffff", weight: light})
}

// castPellet lies beside the splash: felt of hair with bones in it.
func (d *dropping) castPellet() {
	d.looks = "a pale splash, and beside it a felted oval lump in which bones and a small jaw show"
	d.flat = true
	splash := ovalUnit.placed(pt{1.45 * d.long, .1 * d.thick}, .7*d.long, 1.1*d.thick, 20).shaken(d.p.rng, .06*d.thick)
	d.p.stroke(splash, style{name: "extra", fill: "#ffffff", weight: light})
	for _, at := range []pt{{1.25, 1.0}, {1.7, .95}, {1.95, .3}, {1.1, -.75}} {
		size := d.thick * lerp(.06, .14, d.p.rng.Float64())
		d.p.stroke(ovalUnit.placed(pt{at.x * d.long, at.y * d.thick * .8}, 1.5*size, size, 30), style{name: "extra", fill: "#ffffff", weight: light})
	}
	d.flat = false
	c := d.sized(barrelPellet.shaken(d.p.rng, .025))
	d.ends, d.rough = "", .08
	d.piece("body", c)
	d.p.fuzz(c, 1.1)
	d.contents(c, 1)
	jaw := line(-.5, -.1, -.2, .1, .15, .12, .42, -.05, .5, -.35, .4, -.42, .3, -.15, .1, -.02, -.2, -.04, -.5, -.1).placed(pt{.42 * d.long, -.08 * d.thick}, .4*d.thick, .4*d.thick, -15)
	d.p.stroke(jaw, style{name: "bone", fill: paper, weight: light})
	d.p.stroke(line(-.5, .06, -.5, -.1, -.38, -.02, .38, 0, .5, -.1, .5, .1, .38, .07, -.38, .06).placed(pt{.72 * d.long, .2 * d.thick}, .5*d.thick, .5*d.thick, 40), style{name: "bone", fill: paper, weight: light})
}

// spill are scales that have come away from a loose heap.
func (d *dropping) spill() {
	var cs []curve
	b := d.p.space
	for range 16 {
		at := pt{lerp(b.lo.x, b.hi.x, d.p.rng.Float64()), b.hi.y + d.thick*lerp(.05, .55, d.p.rng.Float64())}
		size := .30 * d.thick
		cs = append(cs, contentMarks["fish scales"].draw(d.p).placed(at, size, size, 360*d.p.rng.Float64()))
	}
	d.p.strokes(cs, style{name: "fish-scales", weight: light, fill: paper})
}
