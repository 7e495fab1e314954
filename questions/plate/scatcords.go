package plate

import (
	"math"
	"slices"
)

// endShape is how a piece narrows to its ends: half-width at t of its length.
func endShape(ends string) func(t float64) float64 {
	power, at := 4., .5
	switch ends {
	case "tapered":
		power, at = 2.1, .75
	case "blunt":
		power = 9
	case "rounded":
		power = 2.6
	}
	return func(t float64) float64 {
		return math.Pow(max(0, 1-math.Pow(math.Abs(2*t-1), power)), at)
	}
}

// centreLine of a cord: gently bent, from 0 to its length.
func (d *dropping) centreLine(at []float64, bend float64) []pt {
	phase := d.p.rng.Float64()
	out := make([]pt, len(at))
	for i, t := range at {
		out[i] = pt{t * d.long, d.thick * bend * math.Sin((t*1.15+.2*phase)*math.Pi)}
	}
	return out
}

func (d *dropping) roundedCord(at []float64, bend float64, swell func(t float64) float64) curve {
	shape := endShape(d.ends)
	c := tube(d.centreLine(at, bend), func(t float64) float64 { return d.thick / 2 * shape(t) * swell(t) })
	return d.sized(c.shaken(d.p.rng, d.rough*d.thick*.5))
}

func (d *dropping) cord() {
	d.looks = "a plain cord, slightly bent, and a shorter piece beside it"
	bend, cuts := .55, []float64{.24, .52, .77}
	switch d.shape {
	case "broken":
		d.looks = "a cord of even thickness broken off bluntly, and two short pieces of it"
		bend = .25
	case "bent":
		d.looks, bend = "a plain cord, strongly bent, and a shorter piece beside it", 1.1
	}
	c := d.roundedCord(steps(13), bend, func(t float64) float64 { return 1 + .07*math.Sin(9*t) })
	d.creases(c, cuts, .35)
	d.body(c)
	d.shortPiece(.42)
	if d.shape == "broken" {
		d.shortPiece(.24)
	}
}

func (d *dropping) segmentedCord() {
	d.looks = "a cord drawn in at intervals into blunt segments, one segment lying apart"
	cuts, waist := []float64{.21, .43, .64, .83}, .34
	if d.shape == "pressed" {
		d.looks = "a thick cord of lumps pressed together, a lump lying apart"
		cuts, waist = []float64{.13, .27, .40, .54, .67, .80, .91}, .22
	}
	at := steps(12)
	for _, cut := range cuts {
		at = append(at, cut-.035, cut-.012, cut+.012, cut+.035)
	}
	slices.Sort(at)
	c := d.roundedCord(at, .45, func(t float64) float64 {
		w := 1.
		for _, cut := range cuts {
			w -= waist * math.Exp(-math.Pow((t-cut)/.02, 2))
		}
		return w
	})
	d.creases(c, cuts, .95)
	d.body(c)
	d.shortPiece(.2)
	if d.shape == "scraped" {
		d.scrape()
	}
}

// scrape is the loose ground that was scratched over it: a bared patch, grooves of
// the claws side by side, and crumbs at their end.
func (d *dropping) scrape() {
	d.looks += "; the ground beside it is scratched"
	b := d.p.space
	at := pt{b.lo.x + .42*b.w(), b.hi.y + .95*d.thick}
	patch := ovalUnit.shaken(d.p.rng, .05).placed(at, .66*b.w(), 1.7*d.thick, 3)
	d.p.stroke(patch, style{name: "scrape", weight: faint, fill: hair, pale: .6})
	var grooves, crumbs []curve
	for i := range 5 {
		from := at.add(pt{-.25 * b.w(), (.24*float64(i) - .48) * d.thick})
		far := b.w() * lerp(.26, .38, d.p.rng.Float64())
		grooves = append(grooves, curve{pts: []pt{from, from.add(pt{.5 * far, .10 * d.thick}), from.add(pt{far, 0})}})
	}
	for range 11 {
		crumb := at.add(pt{b.w() * lerp(.14, .30, d.p.rng.Float64()), d.thick * lerp(-.15, .40, d.p.rng.Float64())})
		crumbs = append(crumbs, ovalUnit.placed(crumb, .16*d.thick, .12*d.thick, 90*d.p.rng.Float64()))
	}
	d.p.strokes(grooves, style{name: "scrape", weight: firm, pale: .7})
	d.p.strokes(crumbs, style{name: "scrape", weight: light, fill: dung})
}

func (d *dropping) twistedCord() {
	d.looks = "a cord twisted like a rope, drawn out to a thin tail"
	turns, tail, bend := min(9, .75*d.long/d.thick), .22, .8
	switch d.shape {
	case "stout":
		d.looks, tail, turns = "a stout cord twisted like a rope, drawn out to a short tail", .45, min(6, .6*d.long/d.thick)
	case "folded":
		d.looks, bend = "a thin cord twisted like a rope, pointed at its ends, and another that is folded back on itself", 1.1
	}
	reach := map[bool]float64{false: 2.6, true: 6}[d.shape == "stout"]
	c := d.roundedCord(steps(36), bend, func(t float64) float64 {
		return (1 + .10*math.Sin(2*math.Pi*turns*t)) * min(1, tail+(1-t)*reach)
	})
	d.twists(c)
	d.body(c)
	d.tuft(c)
	if d.shape == "folded" {
		d.fold()
		return
	}
	d.shortPiece(.36)
}

// fold is a second cord that is bent double, one half lying across the other.
func (d *dropping) fold() {
	long, r := .50*d.long, .80*d.thick
	at := pt{.14 * d.long, d.p.space.hi.y + .95*d.thick}
	var under, over []pt
	for i := range 12 {
		t := float64(i) / 11
		under = append(under, at.add(pt{t * long, .35 * d.thick * math.Sin(5*t)}))
	}
	end := under[len(under)-1]
	for i := 1; i <= 5; i++ {
		under = append(under, end.add(pt{0, r}).add(pt{0, -r}.turn(float64(i)*30)))
	}
	from := under[len(under)-1]
	for i := range 12 {
		t := float64(i) / 11
		over = append(over, from.add(pt{-.82 * long * t, .22*d.thick*math.Sin(6*t) - 1.25*r*t*t + .5*r*t}))
	}
	d.limb(under, func(t float64) float64 { return min(1, .15+4*t) })
	d.limb(over, func(t float64) float64 { return min(1, .15+3*(1-t), .80+2*t) })
}

// limb is a part of a folded cord, with the turns that wind round it.
func (d *dropping) limb(centre []pt, swell func(t float64) float64) {
	radius := func(t float64) float64 { return .46 * d.thick * (1 + .08*math.Sin(40*t)) * swell(t) }
	d.piece("extra", tube(centre, radius).shaken(d.p.rng, d.rough*d.thick*.4))
	var turns []curve
	for i := 1; i+1 < len(centre); i++ {
		way := centre[i+1].sub(centre[i-1])
		way = way.times(radius(float64(i)/float64(len(centre)-1)) / way.norm())
		side := pt{-way.y, way.x}
		turns = append(turns, curve{pts: []pt{centre[i].sub(side.times(.9)).sub(way.times(.5)), centre[i], centre[i].add(side.times(.9)).add(way.times(.5))}})
	}
	d.p.strokes(turns, style{weight: light, pale: .85})
}

// tuft is hair that stands out of the tail.
func (d *dropping) tuft(c curve) {
	if !slices.Contains(d.shows, "hair") {
		return
	}
	var hairs []curve
	b := c.box()
	for range 7 {
		x := lerp(.9, .99, d.p.rng.Float64()) * b.w()
		s := across(c, x)
		if len(s) == 0 {
			continue
		}
		y := lerp(s[0].lo, s[0].hi, d.p.rng.Float64())
		reach := d.thick * lerp(.35, .8, d.p.rng.Float64())
		hairs = append(hairs, curve{pts: []pt{{x, y}, {x + .6*reach, y + .15*reach*d.p.rng.NormFloat64()}, {x + reach, y + .35*reach*d.p.rng.NormFloat64()}}})
	}
	d.p.strokes(hairs, style{name: "hair", weight: light})
}

// piledCord is a heap of thick cords.
func (d *dropping) piledCord() {
	d.looks = "a great heap of thick blunt cords"
	shape := endShape("blunt")
	lay := func(at pt, long, deg float64) {
		var centre []pt
		for _, t := range steps(9) {
			centre = append(centre, pt{(t - .5) * long, .12 * d.thick * math.Sin(t*math.Pi)})
		}
		c := tube(centre, func(t float64) float64 { return .47 * d.thick * shape(t) }).shaken(d.p.rng, .03*d.thick)
		c = c.placed(at, 1, 1, deg)
		d.piece("extra", c)
		d.contents(c, .6)
	}
	lay(pt{.30 * d.long, -.85 * d.thick}, .5*d.long, -14)
	lay(pt{.70 * d.long, -.80 * d.thick}, .46*d.long, 12)
	c := d.roundedCord(steps(13), .25, func(t float64) float64 { return 1 + .06*math.Sin(8*t) })
	d.creases(c, []float64{.22, .45, .71}, .5)
	d.body(c)
	lay(pt{.5 * d.long, .85 * d.thick}, .62*d.long, 4)
}

// creases cross the cord, bowed to show its roundness; part says how much of
// the width they run.
func (d *dropping) creases(c curve, at []float64, part float64) {
	for _, t := range at {
		x := t * d.long
		for _, s := range across(c, x) {
			bow := .18 * (s.hi - s.lo)
			lo := lerp(s.hi, s.lo, part)
			d.marks = append(d.marks, line(x, lo, x+bow, lerp(lo, s.hi, .5), x+bow*.1, s.hi))
		}
	}
}

// twists wind round the cord.
func (d *dropping) twists(c curve) {
	step := max(1.33*d.thick/d.long, 1./9)
	for t := .07; t < .95; t += step {
		a, b := across(c, t*d.long), across(c, min(.985, t+step*.9)*d.long)
		if len(a) == 0 || len(b) == 0 {
			continue
		}
		from, to := pt{t * d.long, a[0].lo}, pt{min(.985, t+step*.9) * d.long, b[0].hi}
		m := mix(from, to, .5)
		d.marks = append(d.marks, curve{pts: []pt{from, mix(from, m, .6).add(pt{.1 * d.thick, 0}), mix(to, m, .6).sub(pt{.1 * d.thick, 0}), to}})
	}
}

// across gives the upright chords of a shape at x.
func across(c curve, x float64) []span { return spans(onItsSide(c), x) }

// onItsSide is a shape whose upright chords lie flat.
func onItsSide(c curve) []pt {
	flat := c.flat()
	for i, p := range flat {
		flat[i] = pt{p.y, p.x}
	}
	return flat
}

// shortPiece lies below the main one, a part of its length.
func (d *dropping) shortPiece(part float64) curve {
	shape := endShape(d.ends)
	long := max(d.long*part, d.thick*1.15)
	if long < 1.6*d.thick { // a squat lump has no flat ends
		shape = endShape("rounded")
	}
	centre := make([]pt, 9)
	for i, t := range steps(len(centre)) {
		centre[i] = pt{t * long, .18 * d.thick * math.Sin(t*math.Pi)}
	}
	c := tube(centre, func(t float64) float64 { return .47 * d.thick * shape(t) }).shaken(d.p.rng, d.rough*d.thick*.5)
	at := pt{d.long * lerp(.1, .9-part, d.p.rng.Float64()), d.p.space.hi.y + .75*d.thick}
	c = c.placed(at, 1, 1, 9*d.p.rng.NormFloat64())
	d.piece("extra", c)
	d.contents(c, part)
	return c
}
