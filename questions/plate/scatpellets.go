package plate

import (
	"math"
)

// heap places pieces of the given outlines around the main one, apart or, where
// they stick together, touching.
func (d *dropping) heap(main curve, close float64, others func() curve) {
	step := pt{1.18 * max(d.long, d.thick), .62*d.thick + .5*d.long}.times(close)
	for _, at := range []pt{{-.55, -1.0}, {.50, -1.02}, {-1.08, -.05}, {1.1, .06}, {-.6, .98}, {.45, 1.04}, {1.5, .95}} {
		where := pt{at.x * step.x, at.y * step.y}.add(pt{d.p.rng.NormFloat64(), d.p.rng.NormFloat64()}.times(.035 * d.long))
		c := others()
		b := c.box()
		c = c.mapped(func(p pt) pt { return p.sub(b.mid()) })
		turn := 60 * (d.p.rng.Float64() - .5)
		if d.p.rng.IntN(2) == 0 {
			turn += 180
		}
		d.lay(c, where, turn)
	}
	b := main.box()
	d.marks = centred(d.marks, b.mid())
	d.body(main.mapped(func(p pt) pt { return p.sub(b.mid()) }))
}

func centred(cs []curve, mid pt) []curve {
	out := make([]curve, len(cs))
	for i, c := range cs {
		out[i] = c.mapped(func(q pt) pt { return q.sub(mid) })
	}
	return out
}

// lay draws one of the other pieces with the marks of its shape.
func (d *dropping) lay(c curve, where pt, turn float64) {
	placed := c.placed(where, .97, .97, turn)
	d.piece("extra", placed)
	var marks []curve
	for _, m := range d.pelletMarks(c.box()) {
		marks = append(marks, m.placed(where, .97, .97, turn))
	}
	d.p.strokes(marks, style{name: d.markName(), weight: light, pale: .8})
	d.contents(placed, .45)
}

func (d *dropping) markName() string {
	if d.grooved {
		return "groove"
	}
	return ""
}

var (
	nippledPellet = loop(-.475, 0, -.485, -.18, -.42, -.38, -.24, -.48, 0, -.5, .22, -.43, .36, -.28, .43, -.10, .5, -.035, .5, .035,
		.43, .10, .36, .28, .22, .43, 0, .5, -.24, .48, -.42, .38, -.485, .18)
	bulletPellet = loop(-.47, 0, -.5, -.22, -.42, -.43, -.15, -.5, .15, -.46, .38, -.28, .5, 0, .38, .28, .15, .46, -.15, .5, -.42, .43, -.5, .22)
	bellPellet   = loop(-.42, 0, -.46, -.24, -.46, -.42, -.36, -.49, -.20, -.46, .02, -.42, .24, -.32, .39, -.14, .5, 0, .39, .14, .24, .32, .02, .42,
		-.20, .46, -.36, .49, -.46, .42, -.46, .24)
	barrelPellet = loop(-.5, 0, -.46, -.25, -.31, -.42, 0, -.5, .31, -.42, .46, -.25, .5, 0, .46, .25, .31, .42, 0, .5, -.31, .42, -.46, .25)
	kidneyPellet = loop(-.5, 0, -.43, -.32, -.20, -.49, .10, -.5, .38, -.38, .5, -.04, .44, .30, .24, .47, .02, .445, -.20, .47, -.41, .33)
	pelletShapes = map[string]curve{"nippled": nippledPellet, "bullet": bulletPellet, "bell": bellPellet, "barrel": barrelPellet, "marble": ovalUnit}
)

func (d *dropping) pelletOutline() curve {
	c, known := pelletShapes[d.shape]
	bend := .03
	switch {
	case d.shape == "bean":
		bend = .20
	case d.shape == "curved":
		bend = .06
	case !known && d.ends == "pointed and dimpled":
		c, known = nippledPellet, true
	}
	if !known {
		shape := endShape(d.ends)
		var centre []pt
		for _, t := range steps(11) {
			centre = append(centre, pt{t - .5, bend * math.Sin(t*math.Pi)})
		}
		stout := d.thick / d.long
		c = tube(centre, func(t float64) float64 { return .5 * stout * shape(t) })
		if d.shape == "crumbling" {
			c = c.shaken(d.p.rng, .035*stout)
		}
	}
	return d.sized(c.shaken(d.p.rng, (.007+.2*d.rough)*min(1, d.thick/d.long)))
}

var pelletLooks = map[string]string{
	"nippled": "a group of longish pellets, each with a dimple at one end and a nipple at the other",
	"bullet":  "a group of longish pellets, flat at one end and rounded to a point at the other", "bell": "a group of short pellets shaped like bells, some stuck together",
	"barrel": "a group of barrel-shaped pellets", "bean": "a group of curved pellets like beans", "curved": "a group of slim, slightly curved pellets", "stuck": "a pile of oval pellets stuck together",
	"crumbling": "a group of thin pellets that crumble", "": "a group of longish pellets", "capsule": "a group of longish pellets",
}

func (d *dropping) pellets() {
	d.looks = or(pelletLooks[d.shape], pelletLooks[""])
	main := d.pelletOutline()
	close := 1.
	if d.shape == "stuck" || d.shape == "bell" {
		close = .78
	}
	d.marks = d.pelletMarks(main.box())
	d.heap(main, close, d.pelletOutline)
}

// pelletMarks are what the shape shows on its face, for a pellet in a box.
func (d *dropping) pelletMarks(b box) []curve {
	at := func(x, y float64) pt { return pt{lerp(b.lo.x, b.hi.x, x), lerp(b.lo.y, b.hi.y, y)} }
	switch {
	case d.grooved:
		var out []curve
		for _, y := range []float64{.22, .36, .50, .64, .78} {
			bow := .16 * (y - .5)
			out = append(out, curve{pts: []pt{at(.10, .5+(y-.5)*.6), at(.35, y+bow), at(.65, y+bow), at(.90, .5+(y-.5)*.6)}})
		}
		return out
	case d.shape == "nippled" || d.shape == "bell" || d.shape == "bullet":
		dimple := curve{closed: true}
		for _, q := range ovalUnit.pts {
			dimple.pts = append(dimple.pts, at(.085+q.x*.09, .5+q.y*.34))
		}
		return []curve{dimple}
	case d.shape == "marble": // dried clay
		return []curve{{pts: []pt{at(.22, .30), at(.34, .36), at(.40, .48)}}, {pts: []pt{at(.34, .36), at(.46, .31)}}, {pts: []pt{at(.58, .66), at(.70, .62), at(.80, .67)}}}
	case d.shape == "disc":
		return []curve{{pts: []pt{at(.24, .38), at(.34, .31), at(.46, .29)}}, {pts: []pt{at(.50, .52), at(.62, .50), at(.72, .55)}}, {pts: []pt{at(.30, .68), at(.42, .71), at(.52, .69)}}}
	}
	return nil
}

func (d *dropping) roundPellets() {
	d.looks = "a group of round pellets"
	round := func() curve { return d.sized(ovalUnit.shaken(d.p.rng, .018)) }
	others := round
	switch d.shape {
	case "disc":
		d.looks = "a group of round pellets like balls that are pressed a little flat, some lying on edge"
		others = func() curve {
			if d.p.rng.IntN(2) > 0 {
				return round()
			}
			return round().mapped(func(q pt) pt { return pt{q.x, q.y * .76} })
		}
	case "marble":
		d.looks = "a group of balls like marbles"
	}
	main := round()
	d.marks = d.pelletMarks(main.box())
	d.heap(main, .95, others)
}

func (d *dropping) sawdustBalls() {
	d.looks = "a group of oval balls of coarse chips, like pressed sawdust"
	d.rough, d.shape = .1, ""
	ball := func() curve { return d.sized(barrelPellet.shaken(d.p.rng, .03)) }
	d.heap(ball(), .92, ball)
}

func (d *dropping) kidneyBalls() {
	d.looks = "a heap of balls shaped like kidneys"
	d.shape = ""
	ball := func() curve { return d.sized(kidneyPellet.shaken(d.p.rng, .014)) }
	d.heap(ball(), .82, ball)
}
