package plate

import (
	"fmt"
	"math"
	"slices"

	"fieldsign/questions/catalogue"
)

var skullTraits = []string{"order", "family", "dental_formula", "incisor_colour", "large_canines", "diastema", "cheek_teeth", "carnassials",
	"sagittal_crest", "orbit_size", "orbit_placement", "orbit_ringed", "profile", "rostrum", "zygomatic_arch", "head_gear",
	"latticed_snout", "peg_incisors", "inflected_jaw", "skull_length"}

const bone = "#f3ecdb"

// skull is one skull being drawn; its form is in mm of the page.
type skull struct {
	f     facts
	p     *pen
	form  skullForm
	long  float64
	teeth formula
	drawn map[string][]curve // by name, what a label may point at
	below bool               // the rows of teeth are drawn, with captions of their own
}

// Skull draws the skull from the left side, and its rows of teeth: the upper
// one seen from below, the lower one from above.
func (h Hand) Skull(s catalogue.Species) (Plate, bool) {
	k, ok := h.skull(s)
	if !ok {
		return Plate{}, false
	}
	k.side()
	k.rows()
	return Plate{SVG: k.finish(), Alt: k.describe("with its rows of teeth below")}, true
}

// SkullSide is the view from the left side alone, which still tells something
// where there is little room.
func (h Hand) SkullSide(s catalogue.Species) (Plate, bool) {
	k, ok := h.skull(s)
	if !ok {
		return Plate{}, false
	}
	k.side()
	return Plate{SVG: k.finish(), Alt: k.describe("")}, true
}

func (h Hand) skull(s catalogue.Species) (*skull, bool) {
	f := facts(s.Values)
	form, ok := formOf(f)
	teeth, told := readFormula(f["dental_formula"].Text)
	if !ok || !told || !s.Has("skull") {
		return nil, false
	}
	k := &skull{f: f, long: 100, teeth: teeth, drawn: map[string][]curve{}}
	if long, sized := f.middle("skull_length"); sized {
		k.long = long
	}
	k.p = newPen(h.seed(f, "skull", skullTraits...), k.long*.9)
	k.p.coarse()
	k.form = k.inMM(k.varied(form))
	return k, true
}

// rows go below the side view.
func (k *skull) rows() {
	k.below = true
	foot := k.p.space.hi.y + .05*k.long
	k.row(upper, pt{.26 * k.long, foot})
	k.row(lower, pt{.76 * k.long, foot})
}

func (k *skull) finish() string {
	k.p.zero = pt{0, k.p.space.hi.y}
	scale := 0.
	if _, sized := k.f.middle("skull_length"); sized {
		scale = 1
	}
	label := schematic
	if !k.below && (k.teeth.varies(upper) || k.teeth.varies(lower)) {
		label += ", varying teeth left out"
	}
	return k.p.finish(scale, label)
}

// varied bends the form to what the sheet says of rostrum, profile and orbits.
func (k *skull) varied(form skullForm) skullForm {
	bend := func(q pt) pt { return k.profiled(form, k.stretched(form, q)) }
	form.incisors.lo, form.incisors.hi = bend(pt{form.incisors.lo, .4}).x, bend(pt{form.incisors.hi, .4}).x
	form.lowerFront.lo, form.lowerFront.hi = bend(pt{form.lowerFront.lo, .4}).x, bend(pt{form.lowerFront.hi, .4}).x
	form.canine = bend(pt{form.canine, .4}).x
	form.cheek.lo, form.cheek.hi = bend(pt{form.cheek.lo, .4}).x, bend(pt{form.cheek.hi, .4}).x
	out := form
	out.cranium, out.jaw, out.arch = form.cranium.mapped(bend), form.jaw.mapped(bend), form.arch.mapped(bend)
	out.orbit = bend(form.orbit)
	size := map[string]float64{"small": .78, "large": 1.22}[k.f.text("orbit_size")]
	if size > 0 {
		out.orbitR = lerp(form.orbitR, .075*size, .5) * math.Sqrt(size)
	}
	if k.f.is("orbit_placement", "high") {
		out.orbit.y -= .035
	}
	return out
}

// stretched lengthens or shortens what lies before the orbit.
func (k *skull) stretched(form skullForm, q pt) pt {
	length := map[string]float64{"short": .80, "medium": 1, "long": 1.16}
	told, own := length[k.f.text("rostrum")], length[form.rostrum]
	if told == 0 || q.x > form.orbit.x {
		return q
	}
	return pt{form.orbit.x - (form.orbit.x-q.x)*told/own, q.y}
}

// profiled raises, flattens or hollows the upper outline; what lies low stays.
func (k *skull) profiled(form skullForm, q pt) pt {
	told := k.f.text("profile")
	if told == "" || told == form.profile {
		return q
	}
	high := math.Max(0, 1-q.y/.38)
	switch told {
	case "domed":
		q.y -= .05 * high * math.Sin(math.Pi*min(1, max(0, q.x)))
	case "flat":
		q.y = lerp(q.y, max(q.y, .085), .75*high)
	case "dished":
		q.y += .05 * high * math.Exp(-math.Pow((q.x-form.orbit.x+.06)/.14, 2))
	}
	return q
}

// inMM gives the outlines the hand's wobble, then exactly the skull's length.
func (k *skull) inMM(form skullForm) skullForm {
	form.cranium = form.cranium.shaken(k.p.rng, .0025)
	form.jaw = form.jaw.shaken(k.p.rng, .0025)
	form.arch = form.arch.shaken(k.p.rng, .002)
	b := box{}.with(form.cranium.flat()...)
	scale := k.long / b.w()
	to := func(q pt) pt { return pt{(q.x - b.lo.x) * scale, q.y * scale} }
	x := func(s span) span { return span{to(pt{s.lo, 0}).x, to(pt{s.hi, 0}).x} }
	form.cranium, form.jaw, form.arch = form.cranium.mapped(to), form.jaw.mapped(to), form.arch.mapped(to)
	form.orbit, form.orbitR = to(form.orbit), form.orbitR*scale
	form.incisors, form.lowerFront, form.cheek = x(form.incisors), x(form.lowerFront), x(form.cheek)
	form.canine = to(pt{form.canine, 0}).x
	form.halfWidth = span{form.halfWidth.lo * k.long, form.halfWidth.hi * k.long}
	return form
}

// side draws the view from the left, what lies behind first.
func (k *skull) side() {
	k.headGear()
	if k.f.yes("sagittal_crest") {
		k.crest()
	}
	k.sideTeeth()
	k.solid("cranium", k.form.cranium, .16)
	k.sutures()
	if k.f.yes("latticed_snout") {
		k.lattice()
	}
	k.orbit()
	k.solid("jaw", k.form.jaw, .10)
	if k.f.yes("inflected_jaw") {
		k.inflection()
	}
	if k.f.yes("zygomatic_arch") {
		k.solid("arch", k.form.arch, .025)
	}
	k.canines()
}

// solid draws a bone with shade on its under side.
func (k *skull) solid(name string, c curve, deep float64) {
	k.drawn[name] = []curve{c}
	k.p.shape(c, style{name: name, fill: bone})
	k.p.hatchFrom(c, -58, 1.3*k.p.unit, pt{-deep * .25 * k.long, -deep * .5 * k.long}, style{weight: faint, pale: .6})
}

// top is the height of the cranium's upper outline at x; under, of its lower one.
func (k *skull) top(x float64) float64   { return k.chord(x)[0].lo }
func (k *skull) under(x float64) float64 { s := k.chord(x); return s[len(s)-1].hi }

func (k *skull) chord(x float64) []span {
	return across(k.form.cranium, min(max(x, .005*k.long), .98*k.long))
}

func (k *skull) crest() {
	var ridge, base []pt
	for i := range 9 {
		t := float64(i) / 8
		x := lerp(.50, .965, t) * k.long
		y := k.top(x)
		ridge = append(ridge, pt{x + .012*k.long*t, y - .042*k.long*math.Pow(math.Sin(math.Pi*min(1, .12+t*.75)), .8)})
		base = append(base, pt{x, y + .01*k.long})
	}
	slices.Reverse(base)
	crest := curve{append(ridge, base...), true}
	k.drawn["crest"] = []curve{crest}
	k.p.shape(crest, style{name: "crest", fill: bone})
}

// sutures are the seams that every skull shows, lightly.
func (k *skull) sutures() {
	at := func(x, part float64) pt {
		return pt{x * k.long, lerp(k.top(x*k.long), k.under(x*k.long), part)}
	}
	seam := func(pts ...pt) curve { return curve{pts: pts}.shaken(k.p.rng, .004*k.long) }
	ox := k.form.orbit.x / k.long
	nose := seam(at(.05, .22), at(ox*.5, .14), at(ox*.85, .16), at(ox*.95, .10))
	face := seam(at(ox*.42, .14), at(ox*.46, .45), at(ox*.40, .72), at(ox*.30, .93))
	brow := seam(at(ox+.17, .03), at(ox+.19, .20), at(ox+.16, .36))
	rear := seam(at(.90, .03), at(.885, .28), at(.84, .50), at(.80, .62))
	temple := seam(at(.62, .40), at(.72, .36), at(.82, .42), at(.86, .58))
	k.p.strokes([]curve{nose, face, brow, rear, temple}, style{weight: faint, pale: .9})
	k.p.hatch(loop(.60, 0, .74, -.01, .80, .10, .70, .15, .60, .10).mapped(func(q pt) pt {
		return pt{q.x * k.long, k.top(.68*k.long) + (.13+q.y)*k.long}
	}), -58, 1.6*k.p.unit, 0, style{weight: faint, pale: .4})
}

// orbit is a dark hollow with a firm rim: closed where a bony ring is known,
// else open behind.
func (k *skull) orbit() {
	r := k.form.orbitR
	wide := r
	if k.f.is("orbit_placement", "forward") {
		wide *= .80
	}
	c := loop(-1, 0, -.80, -.66, -.20, -1, .45, -.86, .92, -.30, .95, .30, .45, .85, -.25, .96, -.82, .62).placed(k.form.orbit, wide, r, -12)
	c = c.shaken(k.p.rng, .012*r)
	k.p.stroke(c, style{name: "orbit", fill: "#d5ccb8", pale: .01, weight: faint})
	k.p.hatch(c, -58, .85*k.p.unit, 0, style{weight: light, pale: .65})
	k.p.hatchFrom(c, 28, 1.0*k.p.unit, pt{.5 * r, .6 * r}, style{weight: light, pale: .7})
	if k.f.yes("orbit_ringed") {
		k.p.shape(c, style{name: "rim"})
		k.p.stroke(c.mapped(func(q pt) pt { return mix(k.form.orbit, q, 1.2) }), style{weight: faint})
		return
	}
	rim := curve{pts: []pt{c.at(4), c.at(3), c.at(2), c.at(1), c.at(0), c.at(8), c.at(7), c.at(6)}}
	k.p.stroke(rim, style{name: "rim"})
}

func (k *skull) lattice() {
	ox := k.form.orbit.x
	patch := loop(.42, .26, .70, .20, .78, .42, .70, .62, .50, .62, .38, .46).mapped(func(q pt) pt {
		return pt{q.x * ox, lerp(k.top(q.x*ox), k.under(q.x*ox), q.y)}
	})
	var holes []curve
	for _, q := range k.p.scattered(patch, 34, .016*k.long) {
		holes = append(holes, loop(0, -.5, .4, .1, -.3, .5).placed(q, .011*k.long, .014*k.long, 30*k.p.rng.NormFloat64()))
	}
	k.p.strokes(holes, style{name: "lattice", weight: faint, fill: ink, wash: .55})
}

// inflection shows the shelf of a jaw angle that turns inward.
func (k *skull) inflection() {
	x := box{}.with(k.form.jaw.flat()...).hi.x - .075*k.long
	chord := across(k.form.jaw, x)
	at := pt{x, chord[len(chord)-1].hi - .022*k.long}
	shelf := loop(-.5, .35, -.1, -.2, .5, -.3, .62, -.05, .25, .3, -.2, .5).placed(at, .11*k.long, .03*k.long, 0)
	k.p.stroke(shelf, style{name: "shelf", weight: light, fill: "#d5ccb8"})
	k.p.hatch(shelf, -58, .9*k.p.unit, 0, style{weight: faint, pale: .8})
}

// headGear stands behind the brow: the base of an antler with its burr, broken
// off on the drawing, or a ringed horn.
func (k *skull) headGear() {
	root := pt{.70 * k.long, k.top(.70*k.long) + .03*k.long}
	up := func(xy ...float64) []pt {
		c := line(xy...).placed(root, k.long, k.long, 0)
		return c.pts
	}
	switch k.f.text("head_gear") {
	case "antlers":
		beam := tube(up(0, 0, .015, -.05, .05, -.12, .10, -.19, .14, -.26, .15, -.33), func(t float64) float64 { return .026 * k.long * (1 - .15*t) })
		tine := tube(up(.02, -.075, -.02, -.11, -.045, -.16, -.05, -.22), func(t float64) float64 { return .019 * k.long * (1 - .93*t) })
		k.drawn["antler"] = []curve{beam}
		k.p.shape(beam, style{name: "antler", fill: bone})
		k.p.shape(tine, style{fill: bone})
		k.p.hatch(beam, -80, 1.3*k.p.unit, .022*k.long, style{weight: faint, pale: .7})
		burr := tube(up(-.04, -.052, .0, -.06, .06, -.066), func(float64) float64 { return .012 * k.long })
		k.p.shape(burr.shaken(k.p.rng, .003*k.long), style{fill: bone})
	case "horns":
		centre := up(0, .01, .005, -.07, .03, -.15, .08, -.22, .15, -.265, .22, -.27)
		horn := tube(centre, func(t float64) float64 { return .052 * k.long * math.Pow(1-t*.97, .7) })
		k.drawn["horn"] = []curve{horn}
		k.p.shape(horn, style{name: "horn", fill: bone})
		var rings []curve
		for i := 1; i < 5; i++ {
			a, b := horn.at(i), horn.at(len(horn.pts)-1-i)
			for _, shift := range []float64{0, .5} {
				a2, b2 := mix(a, horn.at(i+1), shift), mix(b, horn.at(len(horn.pts)-2-i), shift)
				rings = append(rings, curve{pts: []pt{a2, mix(a2, b2, .5).add(pt{.006 * k.long, .012 * k.long}), b2}})
			}
		}
		k.p.strokes(rings, style{weight: light, pale: .8})
		k.p.hatch(horn, -80, 1.3*k.p.unit, .03*k.long, style{weight: faint, pale: .7})
	}
}

func (k *skull) describe(below string) string {
	f := k.f
	size := ""
	if _, sized := f.middle("skull_length"); sized {
		size = fmt.Sprintf("about %.0f mm long", k.long)
	}
	state := func(trait, pattern string) string {
		if t := f.text(trait); t != "" {
			return fmt.Sprintf(pattern, t)
		}
		return ""
	}
	return sentence("drawing of a skull from the left side"+when(below != "", ", "+below), k.form.looks,
		state("profile", "the upper outline is %s"), state("rostrum", "the snout is %s"),
		state("orbit_size", "the orbits are %s"), when(f.yes("orbit_ringed"), "a complete ring of bone around the orbit"),
		when(f.yes("sagittal_crest"), "a crest along the top"), when(f.is("head_gear", "antlers"), "an antler base, drawn broken off"),
		when(f.is("head_gear", "horns"), "a ringed, curved horn"), when(f.yes("latticed_snout"), "many fine holes in the side of the snout"),
		when(f.yes("peg_incisors"), "a second pair of small incisors behind the upper pair"),
		when(f.yes("inflected_jaw"), "the rear angle of the lower jaw turns inward"),
		state("incisor_colour", "the incisors are %s"), when(f.yes("large_canines"), "large, pointed canines"),
		when(f.yes("diastema"), "a wide gap before the cheek teeth"), state("cheek_teeth", "%s cheek teeth"),
		k.teeth.describe(upper), k.teeth.describe(lower), size)
}
