package plate

// contentMark is how one thing that scat holds is hinted at, as a unit curve
// that is placed here and there.
type contentMark struct {
	n     int // how many, when it is the only thing shown
	solid bool
	lies  bool // along the piece rather than any way
	draw  func(p *pen) curve
}

func (m contentMark) turn(p *pen) float64 {
	if m.lies {
		return 22 * p.rng.NormFloat64()
	}
	return 360 * p.rng.Float64()
}

func still(c curve) func(*pen) curve { return func(*pen) curve { return c } }

var contentMarks = map[string]contentMark{
	"hair": {26, false, true, func(p *pen) curve {
		b := .5 * p.rng.NormFloat64()
		return line(-1.3, b, -.4, -b*.6, .5, b, 1.4, -b)
	}},
	"bone":           {10, false, false, still(loop(-.7, -.12, -.7, -.12, .5, -.3, .8, .05, .8, .05, .3, .22, -.5, .2))},
	"fish scales":    {16, false, false, still(line(-.45, .1, -.4, -.35, 0, -.5, .4, -.35, .45, .1, 0, .35, -.45, .1))},
	"crayfish shell": {12, false, false, still(loop(-.6, .3, -.6, .3, -.35, -.4, .1, -.55, .65, -.2, .65, -.2, .3, .1, .1, .4, .1, .4))},
	"insect parts":   {16, false, false, still(line(-.5, .45, -.3, -.1, -.3, -.1, .1, -.5, .45, -.3, .35, .1, -.3, -.1, -.3, -.1, .2, .5, .55, .45))},
	"seeds":          {20, true, false, still(loop(0, -.42, .26, -.05, .15, .36, -.15, .36, -.26, -.05))},
	"wood fibre":     {26, false, true, still(line(-.65, 0, 0, .06, .65, 0))},
	"grass":          {16, false, true, func(p *pen) curve { return line(-1.2, .1, 0, .25*p.rng.NormFloat64(), 1.2, -.1) }},
	"plant fibre":    {22, false, true, func(p *pen) curve { return line(-.5, .05, .1, .2*p.rng.NormFloat64(), .5, 0) }},
	"feathers":       {8, false, false, still(line(-.9, .2, .8, -.2, .2, -.4, .2, -.4, .45, -.12, .1, .3, .1, .3, .1, -.04, -.3, -.3, -.3, -.3, -.15, .02, -.4, .4))},
	"soil":           {26, true, false, still(loop(0, -.1, .1, 0, 0, .1, -.1, 0))},
	"acorn shell":    {7, false, false, still(line(-.6, .35, -.55, -.25, 0, -.55, .55, -.25, .6, .35, .1, .1, -.6, .35))},
}
