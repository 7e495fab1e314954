package plate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

var scatTraits = []string{"scat_form", "scat_ends", "scat_length", "scat_diameter", "scat_surface", "scat_contents", "scat_fresh_colour"}

// dropping is what is drawn of one species' scat, in mm: a piece of full
// size lying along the page, and others about it.
type dropping struct {
	f              facts
	p              *pen
	long, thick    float64
	ends           string
	fill           string
	flat           bool    // lies spread out, and is shaded as such
	marks          []curve // on the main piece, light
	looks          string
	rough          float64 // of the outline, in parts of its thickness
	unshadedBeyond float64 // a pale cap right of this x; 0: none
}

// Scat draws a dropping, life-size where its size is known.
func (h Hand) Scat(s catalogue.Species) (Plate, bool) {
	f := facts(s.Values)
	form := f.text("scat_form")
	draw := scatForms[form]
	if draw == nil {
		return Plate{}, false
	}
	d := newDropping(f, form)
	scale := 1.
	if d.long == 0 {
		scale, d.long, d.thick = 0, 60, 60*nominalThickness[form]
	}
	d.p = newPen(h.seed(f, "scat", scatTraits...), scatSpan(form)*max(d.long, d.thick))
	draw(d)
	d.p.zero = d.p.space.grown(0, 0, 0, 3*d.p.unit).hi
	d.p.zero.x = d.p.space.lo.x
	return Plate{SVG: d.p.finish(scale, schematic), Alt: d.describe(scale > 0)}, true
}

// scatForms says how each form is drawn.
var scatForms = map[string]func(*dropping){
	"pellet": (*dropping).pellets, "round pellet": (*dropping).roundPellets,
	"cord": (*dropping).cord, "segmented cord": (*dropping).segmentedCord, "twisted cord": (*dropping).twistedCord,
	"flat pat": (*dropping).pat, "capped tube": (*dropping).cappedTube, "loose": (*dropping).loose,
}

// nominalThickness, of the length, serves where the size is not known.
var nominalThickness = map[string]float64{"pellet": .55, "round pellet": 1, "cord": .17, "segmented cord": .17, "twisted cord": .15,
	"flat pat": 1, "capped tube": .2, "loose": .62}

// scatSpan is the drawing's width in lengths of a piece.
func scatSpan(form string) float64 {
	if form == "pellet" || form == "round pellet" {
		return 3.2
	}
	return 1.1
}

func newDropping(f facts, form string) *dropping {
	d := &dropping{f: f, ends: f.text("scat_ends"), fill: "#e3dac6", rough: .03}
	if tint, ok := scatTints[f.text("scat_fresh_colour")]; ok {
		d.fill = tint
	}
	l, okL := f.middle("scat_length")
	t, okT := f.middle("scat_diameter")
	if okL && okT {
		d.long, d.thick = l*10, t*10
		if form != "flat pat" && form != "round pellet" {
			d.thick = min(d.thick, d.long)
		}
	}
	switch f.text("scat_surface") {
	case "rough", "crumbly":
		d.rough = .07
	case "smooth":
		d.rough = .012
	}
	return d
}

// scatTints are pale washes, so that the ink stays the strongest tone.
var scatTints = map[string]string{"black": "#b9b4aa", "dark brown": "#cdbda6", "brown": "#d9c8ac", "reddish brown": "#dcbfa3",
	"green": "#cdd3ac", "olive": "#d2cfa9", "pale": "#f1ede2"}

func (d *dropping) describe(sized bool) string {
	size := ""
	if sized {
		size = fmt.Sprintf("a piece is about %.1f cm long and %.1f cm thick", d.long/10, d.thick/10)
	}
	holds := ""
	if v := d.f["scat_contents"]; v.Known() && len(v.Members) > 0 {
		holds = "traces of " + v.Words() + " show in it"
	}
	ends := map[string]string{"tapered": "tapered ends", "blunt": "blunt ends", "rounded": "rounded ends",
		"pointed and dimpled": "one end pointed, the other dimpled"}[d.ends]
	surface := ""
	if t := d.f.text("scat_surface"); t != "" {
		surface = "the surface is " + t
	}
	return sentence("drawing of a dropping", d.looks, ends, surface, holds, size)
}

// sized stretches an outline to the exact length, and to the exact thickness
// where it is thickest across.
func (d *dropping) sized(c curve) curve {
	b := box{}.with(c.flat()...)
	sx := d.long / b.w()
	sy := d.thick / thickest(c.polyline(32)) // finer than is drawn: it is measured
	return c.mapped(func(p pt) pt { return pt{(p.x - b.lo.x) * sx, (p.y - b.mid().y) * sy} })
}

// thickest is the longest upright chord of a polygon. A line sweeps over it, and
// looks only at the edges that it crosses.
func thickest(poly []pt) float64 {
	type edge struct{ a, b pt } // turned, so that the line lies flat
	var edges, crossed []edge
	var stops, xs []float64
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		edges = append(edges, edge{pt{p.y, p.x}, pt{q.y, q.x}})
		stops = append(stops, p.x-1e-9, p.x+1e-9) // where the outline folds, the chords on the two sides of a corner differ
	}
	slices.Sort(stops)
	slices.SortFunc(edges, func(e, f edge) int { return cmp.Compare(min(e.a.y, e.b.y), min(f.a.y, f.b.y)) })
	most := 0.
	for _, y := range stops {
		for len(edges) > 0 && min(edges[0].a.y, edges[0].b.y) <= y {
			crossed, edges = append(crossed, edges[0]), edges[1:]
		}
		crossed = slices.DeleteFunc(crossed, func(e edge) bool { return max(e.a.y, e.b.y) <= y })
		xs = xs[:0]
		for _, e := range crossed {
			xs = append(xs, crossing(e.a, e.b, y))
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			most = max(most, xs[i+1]-xs[i])
		}
	}
	return most
}

// body draws the main piece with its shadow, its marks and its contents.
func (d *dropping) body(c curve) {
	d.piece("body", c)
	d.p.strokes(d.marks, style{weight: light, pale: .85})
	d.contents(c)
}

func (d *dropping) piece(name string, c curve) {
	b := box{}.with(c.flat()...)
	deep := .3 * min(b.w(), b.h())
	if d.flat {
		deep *= .3
	}
	gap := max(1.1*d.p.unit, .05*min(b.w(), b.h()))
	drop := pt{.06 * b.h(), .13 * b.h()}
	d.p.hatchFrom(c.mapped(drop.add), -8, gap*1.1, drop.times(-1), style{weight: light, pale: .5})
	d.p.shape(c, style{name: name, fill: d.fill})
	shaded := c
	if d.unshadedBeyond > 0 {
		shaded = c.mapped(func(q pt) pt { return pt{min(q.x, d.unshadedBeyond), q.y} })
	}
	d.p.hatch(shaded, -50, gap, deep, style{weight: faint, pale: .75})
	d.p.hatch(shaded, -50, 2.6*gap, deep*.45, style{weight: faint, pale: .7})
}

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

// centre line of a cord: gently bent, from 0 to its length.
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
	c := d.roundedCord(steps(13), .55, func(t float64) float64 { return 1 + .07*math.Sin(9*t) })
	d.creases(c, []float64{.24, .52, .77}, .35)
	d.body(c)
	d.shortPiece(.42)
}

func (d *dropping) segmentedCord() {
	d.looks = "a cord drawn in at intervals into blunt segments, one segment lying apart"
	cuts := []float64{.21, .43, .64, .83}
	at := steps(12)
	for _, cut := range cuts {
		at = append(at, cut-.045, cut-.012, cut+.012, cut+.045)
	}
	slices.Sort(at)
	c := d.roundedCord(at, .45, func(t float64) float64 {
		w := 1.
		for _, cut := range cuts {
			w -= .30 * math.Exp(-math.Pow((t-cut)/.02, 2))
		}
		return w
	})
	d.creases(c, cuts, .95)
	d.body(c)
	d.shortPiece(.2)
}

func (d *dropping) twistedCord() {
	d.looks = "a cord twisted like a rope, drawn out to a thin tail"
	turns := min(9, .75*d.long/d.thick)
	tail := func(t float64) float64 {
		return (1 + .10*math.Sin(2*math.Pi*turns*t)) * min(1, .22+(1-t)*2.6)
	}
	c := d.roundedCord(steps(36), .8, tail)
	d.twists(c)
	d.body(c)
	d.shortPiece(.36)
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
func across(c curve, x float64) []span {
	flat := c.flat()
	for i, p := range flat {
		flat[i] = pt{p.y, p.x}
	}
	return spans(flat, x)
}

// shortPiece lies below the main one, a part of its length.
func (d *dropping) shortPiece(part float64) {
	shape := endShape(d.ends)
	long := max(d.long*part, d.thick*1.15)
	centre := make([]pt, 9)
	for i, t := range steps(len(centre)) {
		centre[i] = pt{t * long, .18 * d.thick * math.Sin(t*math.Pi)}
	}
	c := tube(centre, func(t float64) float64 { return .47 * d.thick * shape(t) }).shaken(d.p.rng, d.rough*d.thick*.5)
	at := pt{d.long * lerp(.2, .95-part, d.p.rng.Float64()), d.p.space.hi.y + .75*d.thick}
	d.piece("extra", c.placed(at, 1, 1, 9*d.p.rng.NormFloat64()))
}

// heap places pieces of the given outlines around the main one, apart.
func (d *dropping) heap(main curve, others func() curve) {
	step := pt{1.18 * max(d.long, d.thick), .62*d.thick + .5*d.long}
	for _, at := range []pt{{-.55, -1.0}, {.50, -1.02}, {-1.08, -.05}, {1.1, .06}, {-.6, .98}, {.45, 1.04}, {1.5, .95}} {
		where := pt{at.x * step.x, at.y * step.y}.add(pt{d.p.rng.NormFloat64(), d.p.rng.NormFloat64()}.times(.035 * d.long))
		c := others()
		b := box{}.with(c.flat()...)
		c = c.mapped(func(p pt) pt { return p.sub(b.mid()) })
		turn := 60 * (d.p.rng.Float64() - .5)
		if d.p.rng.IntN(2) == 0 {
			turn += 180
		}
		d.piece("extra", c.placed(where, .97, .97, turn))
	}
	b := box{}.with(main.flat()...)
	d.body(main.mapped(func(p pt) pt { return p.sub(b.mid()) }))
}

var dimpledPellet = loop(-.455, 0, -.49, -.20, -.36, -.43, -.08, -.5, .20, -.42, .36, -.20, .44, -.07, .5, 0, .5, 0, .44, .07, .36, .20, .20, .42,
	-.08, .5, -.36, .43, -.49, .20)

func (d *dropping) pelletOutline() curve {
	c := dimpledPellet
	if d.ends != "pointed and dimpled" {
		shape := endShape(d.ends)
		centre := make([]pt, 9)
		for i, t := range steps(len(centre)) {
			centre[i] = pt{t - .5, .03 * math.Sin(t*math.Pi)}
		}
		c = tube(centre, func(t float64) float64 { return .5 * shape(t) })
	}
	return d.sized(c.shaken(d.p.rng, .012+d.rough*.3))
}

func (d *dropping) pellets() {
	d.looks = "a group of longish pellets"
	main := d.pelletOutline()
	d.heap(main, d.pelletOutline)
}

func (d *dropping) roundPellets() {
	d.looks = "a group of round pellets, slightly flattened"
	round := func() curve { return d.sized(ovalUnit.shaken(d.p.rng, .018)) }
	d.heap(round(), round)
}

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

func (d *dropping) cappedTube() {
	d.looks = "a slim tube with a pale cap at one end, and a second one"
	if d.ends == "" {
		d.ends = "blunt"
	}
	c := d.roundedCord(steps(14), .5, func(t float64) float64 { return 1 + .05*math.Sin(11*t) })
	d.unshadedBeyond = .80 * d.long
	for _, s := range across(c, d.unshadedBeyond) {
		x := d.unshadedBeyond
		d.marks = append(d.marks, line(x, s.lo, x-.12*d.thick, lerp(s.lo, s.hi, .3), x+.16*d.thick, lerp(s.lo, s.hi, .55), x-.02*d.thick, s.hi))
	}
	d.body(c)
	d.unshadedBeyond = 0
	d.shortPiece(.7)
}

func (d *dropping) loose() {
	d.flat = true
	d.looks = "loose and shapeless, spread on the ground, with splashes beside it"
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

// contents hints at what the dropping holds, on the main piece.
func (d *dropping) contents(c curve) {
	v := d.f["scat_contents"]
	if !v.Known() {
		return
	}
	members := slices.DeleteFunc(slices.Clone(v.Members), func(m string) bool { return contentMarks[m].draw == nil })
	size := .16 * min(d.thick, .35*d.long)
	for _, m := range members {
		mark := contentMarks[m]
		n := max(3, mark.n/max(1, len(members)))
		var cs []curve
		for _, at := range d.p.scattered(c, n, size*.9) {
			cs = append(cs, mark.draw(d.p).placed(at, size, size, mark.turn(d.p)))
		}
		s := style{name: strings.ReplaceAll(m, " ", "-"), weight: light}
		if mark.solid {
			s.fill = ink
		}
		d.p.strokes(cs, s)
	}
}
