package plate

import (
	"slices"
	"strings"
)

// contentMark is how one thing that scat holds is drawn, as a unit curve that
// is placed here and there.
type contentMark struct {
	n    int     // how many, when it is the only thing shown
	size float64 // in parts of the piece's thickness
	fill string
	lies bool // along the piece rather than any way
	draw func(p *pen) curve
}

func (m contentMark) turn(p *pen) float64 {
	if m.lies {
		return 22 * p.rng.NormFloat64()
	}
	return 360 * p.rng.Float64()
}

// contents draws what a piece holds; part says how much of it.
func (d *dropping) contents(c curve, part float64) {
	members := slices.DeleteFunc(slices.Clone(d.shows), func(m string) bool { return contentMarks[m].draw == nil })
	thick := min(d.thick, .6*d.long)
	for _, m := range members {
		mark := contentMarks[m]
		n := max(2, int(part*float64(mark.n)*crowd(len(members))))
		size := mark.size * thick
		var cs []curve
		for _, at := range d.p.scattered(c, n, size*.6) {
			cs = append(cs, mark.draw(d.p).placed(at, size, size, mark.turn(d.p)))
		}
		d.p.strokes(cs, style{name: strings.ReplaceAll(m, " ", "-"), weight: light, fill: mark.fill})
	}
}

// crowd is what share of its marks each thing has, of several.
func crowd(things int) float64 {
	if things < 2 {
		return 1
	}
	return .65
}

func still(c curve) func(*pen) curve { return func(*pen) curve { return c } }

var contentMarks = map[string]contentMark{
	"hair": {16, .30, "", true, func(p *pen) curve {
		b := .16 * p.rng.NormFloat64()
		return line(-1.1, .3+b, -.4, .05-b, .5, b-.1, 1.1, -.35)
	}},
	"bone":           {9, .30, paper, false, still(loop(-.7, -.12, -.7, -.12, .5, -.3, .8, .05, .8, .05, .3, .22, -.5, .2))},
	"fish scales":    {64, .30, paper, false, still(line(-.45, .1, -.4, -.35, 0, -.5, .4, -.35, .45, .1, 0, .35, -.45, .1))},
	"crayfish shell": {10, .34, "#e6b9a0", false, still(loop(-.6, .3, -.6, .3, -.35, -.4, .1, -.55, .65, -.2, .65, -.2, .3, .1, .1, .4, .1, .4))},
	"insect parts":   {14, .22, "#8d8270", false, still(loop(-.5, .3, -.2, -.25, .5, -.4, .5, -.4, .35, .1, -.1, .4))},
	"seeds":          {26, .17, ink, false, still(loop(0, -.42, .26, -.05, .15, .36, -.15, .36, -.26, -.05))},
	"wood fibre":     {26, .20, "#f0e4c8", false, still(loop(-.7, -.14, -.7, -.14, .7, -.2, .7, -.2, .65, .16, .65, .16, -.6, .2, -.6, .2))},
	"grass": {15, .13, "#efe6c9", true, func(p *pen) curve {
		b := .12 * p.rng.NormFloat64()
		return loop(-1, -.06, -1, -.06, 0, b-.1, 1, -.05, 1, -.05, 1, .08, 1, .08, 0, b+.06, -1, .1, -1, .1)
	}},
	"plant fibre":      {26, .22, "", true, func(p *pen) curve { return line(-.7, .05, .1, .2*p.rng.NormFloat64(), .7, 0) }},
	"feathers":         {7, .34, "", false, still(line(-.9, .2, .8, -.2, .2, -.4, .2, -.4, .45, -.12, .1, .3, .1, .3, .1, -.04, -.3, -.3, -.3, -.3, -.15, .02, -.4, .4))},
	"soil":             {30, .09, ink, false, still(loop(0, -.2, .2, 0, 0, .2, -.2, 0))},
	"acorn shell":      {6, .34, "#b98f5e", false, still(loop(-.6, .35, -.55, -.25, 0, -.55, .55, -.25, .6, .35, .6, .35, .1, .1, -.6, .35))},
	"porcupine quills": {8, .7, paper, true, still(loop(-.8, -.04, .6, -.05, .9, 0, .9, 0, .6, .05, -.8, .04))},
}
