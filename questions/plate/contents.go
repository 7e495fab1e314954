package plate

import (
	"slices"
	"strings"
)

// contentMark is how one thing that scat holds is drawn: a unit figure that is
// placed here and there, its outline first and then the lines on it.
type contentMark struct {
	n    int     // how many, when it is the only thing shown
	size float64 // in parts of the piece's thickness
	fill string
	lies bool    // along the piece rather than any way
	pale float64 // of its lines, where it is part of the texture; 0: solid
	draw func(p *pen) []curve
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
	poly := c.flat()
	for _, m := range members {
		mark := d.contentMark(m)
		n := max(2, int(part*float64(mark.n)*crowd(len(members))))
		size := mark.size * thick
		var cs []curve
		room := slices.DeleteFunc(d.p.scattered(c, 3*n, size*.7), func(at pt) bool { return !roomy(poly, at, .45*size) })
		for _, at := range room[:min(n, len(room))] {
			turn := mark.turn(d.p)
			for _, part := range mark.draw(d.p) {
				cs = append(cs, part.placed(at, size, size, turn))
			}
		}
		d.p.strokes(cs, style{name: strings.ReplaceAll(m, " ", "-"), weight: light, fill: mark.fill, pale: mark.pale})
	}
}

// contentMark of a thing that shows; bones beside scales are a fish's. Blades of
// grass run along a bird's tube, hardly chewed.
func (d *dropping) contentMark(m string) contentMark {
	if m == "grass" && d.form == "capped tube" {
		blade := contentMarks[m]
		blade.n, blade.size = 14, .34
		return blade
	}
	if m == "bone" && slices.Contains(d.shows, "fish scales") {
		m = "fish bone"
	}
	return contentMarks[m]
}

// splinter of a bone that was chewed: long and pointed, or a chip.
func splinter(p *pen) []curve {
	long, wide := lerp(.35, .85, p.rng.Float64()), lerp(.14, .24, p.rng.Float64())
	notch := lerp(.1, .5, p.rng.Float64()) * long
	return []curve{loop(-long, .3*wide, -long, .3*wide, -.55*long, -.8*wide, -.55*long, -.8*wide, .1*long, -wide, long, .1*wide, long, .1*wide, notch, wide, notch, wide, .7*notch, .6*wide, .7*notch, .6*wide, -.5*long, .8*wide)}
}

// fishBone is a rib, thin as a thread, or a vertebra, drawn in between its two faces.
func fishBone(p *pen) []curve {
	if p.rng.IntN(3) > 0 {
		bow := lerp(.05, .22, p.rng.Float64())
		return []curve{loop(-.9, .06, -.9, .06, 0, -bow, .95, .04, .95, .04, 0, .16-bow, -.9, .22, -.9, .22)}
	}
	return []curve{loop(-.40, -.38, -.40, -.38, 0, -.14, .40, -.38, .40, -.38, .40, .38, .40, .38, 0, .14, -.40, .38, -.40, .38), line(-.26, -.28, -.18, 0, -.26, .28), line(.26, -.28, .18, 0, .26, .28)}
}

// insectPart is a wing case, whole or broken across, or a jointed leg.
func insectPart(p *pen) []curve {
	broken := lerp(.05, .35, p.rng.Float64())
	switch p.rng.IntN(3) {
	case 0:
		return []curve{loop(-.62, .16, -.62, .16, -.45, -.16, 0, -.27, .45, -.16, .70, .16, .70, .16), line(-.46, .06, 0, -.10, .48, .06)}
	case 1:
		return []curve{loop(-.62, .16, -.62, .16, -.45, -.16, broken, -.27, broken, -.27, broken-.14, -.10, broken-.14, -.10, broken+.08, .02, broken+.08, .02, broken-.06, .16, broken-.06, .16), line(-.46, .06, -.30, -.03, broken-.18, -.08)}
	}
	return []curve{loop(-.62, .20, -.62, .20, -.08, -.20, -.08, -.20, .36, .10, .36, .10, .66, .06, .66, .06, .36, .17, .36, .17, -.08, -.06, -.08, -.06, -.56, .28, -.56, .28)}
}

// roomy reports whether a figure of a radius lies inside a polygon.
func roomy(poly []pt, at pt, r float64) bool {
	for i := range 4 {
		if !inside(poly, at.add(pt{r, 0}.turn(float64(i)*90))) {
			return false
		}
	}
	return true
}

// crowd is what share of its marks each thing has, of several.
func crowd(things int) float64 {
	if things < 2 {
		return 1
	}
	return .65
}

func still(cs ...curve) func(*pen) []curve { return func(*pen) []curve { return cs } }

var contentMarks = map[string]contentMark{
	"hair": {13, .30, "", true, 0, func(p *pen) []curve {
		b := .16 * p.rng.NormFloat64()
		return []curve{line(-1.1, .3+b, -.4, .05-b, .5, b-.1, 1.1, -.35)}
	}},
	"bone":      {11, .36, paper, true, 0, splinter},
	"fish bone": {9, .34, paper, false, 0, fishBone},
	"fish scales": {15, .34, "#e3e6e2", false, 0, still(loop(-.40, .34, -.40, .34, -.48, -.02, -.34, -.36, 0, -.48, .34, -.36, .48, -.02, .40, .34, .40, .34, .14, .40, -.14, .40),
		line(-.30, .10, -.26, -.20, 0, -.32, .26, -.20, .30, .10), line(-.14, .10, -.12, -.06, 0, -.14, .12, -.06, .14, .10))},
	"crayfish shell": {7, .46, "#d99a80", false, 0, still(loop(-.62, .12, -.5, -.18, -.1, -.34, .3, -.30, .66, -.10, .66, -.10, .3, -.08, .12, .02, .12, .02, .4, .10, .56, .26, .56, .26, .2, .32, -.2, .28, -.5, .26))},
	"insect parts":   {12, .30, "#8d8270", false, 0, insectPart},
	"seeds":          {22, .17, ink, false, 0, still(loop(0, -.42, .26, -.05, .15, .36, -.15, .36, -.26, -.05))},
	"wood fibre": {46, .24, "#e9dcbd", false, .55, func(p *pen) []curve {
		long, bow := lerp(.35, .95, p.rng.Float64()), .1*p.rng.NormFloat64()
		return []curve{loop(-long, -.06, -long, -.06, -.4*long, -.17+bow, long, -.10, long, -.10, .75*long, .12, .75*long, .12, -.5*long, .15+bow)}
	}},
	"grass": {15, .13, "#efe6c9", true, .8, func(p *pen) []curve {
		b := .12 * p.rng.NormFloat64()
		return []curve{loop(-1, -.06, -1, -.06, 0, b-.1, 1, -.05, 1, -.05, 1, .08, 1, .08, 0, b+.06, -1, .1, -1, .1)}
	}},
	"plant fibre":      {26, .22, "", true, 0, func(p *pen) []curve { return []curve{line(-.7, .05, .1, .2*p.rng.NormFloat64(), .7, 0)} }},
	"feathers":         {7, .34, "", false, 0, still(line(-.9, .2, .8, -.2, .2, -.4, .2, -.4, .45, -.12, .1, .3, .1, .3, .1, -.04, -.3, -.3, -.3, -.3, -.15, .02, -.4, .4))},
	"soil":             {34, .05, ink, false, .6, still(loop(0, -.2, .2, 0, 0, .2, -.2, 0))},
	"acorn shell":      {6, .34, "#b98f5e", false, 0, still(loop(-.6, .35, -.55, -.25, 0, -.55, .55, -.25, .6, .35, .6, .35, .1, .1, -.6, .35))},
	"porcupine quills": {8, .7, paper, true, 0, still(loop(-.8, -.04, .6, -.05, .9, 0, .9, 0, .6, .05, -.8, .04))},
}
