package plate

import "math"

// toe of a paw: an egg about a centre.
type toe struct{ x, y, long, wide, deg float64 }

// finger of a paw: a digit from its base to its tip.
type finger struct{ x0, y0, x1, y1, wide float64 }

// paw is the plan of one kind of print, right foot.
type paw struct {
	toes    []toe
	fingers []finger
	drop    bool // toes taper to the front
	pads    []curve
	soles   []curve // bare or furred skin behind or around the pads
	marks   []curve
	clawGap float64
	looks   string // in words
}

var (
	eggToe   = loop(0, -.5, .27, -.40, .47, -.04, .40, .33, 0, .5, -.40, .33, -.47, -.04, -.27, -.40)
	dropToe  = loop(0, -.5, .20, -.38, .45, .04, .42, .34, 0, .5, -.42, .34, -.45, .04, -.20, -.38)
	ovalUnit = loop(0, -.5, .36, -.36, .5, 0, .36, .36, 0, .5, -.36, .36, -.5, 0, -.36, -.36)
)

func oval(x, y, w, h, deg float64) curve { return ovalUnit.placed(pt{x, y}, w, h, deg) }

func pawPrint(f facts, side string, toes int) ([]part, string) {
	plan := pawPlan(f, side, toes)
	if len(plan.toes)+len(plan.fingers) != toes {
		return nil, ""
	}
	web := f.text(side + "_webbing")
	var parts []part
	if web == "full" || web == "partial" {
		parts = append(parts, plan.web(web))
	}
	for _, c := range plan.soles {
		parts = append(parts, part{name: "sole", c: c, soft: !f.yes("long_hind_heel") && !f.yes("furred_sole")})
	}
	parts = append(parts, plan.pressed(padVaries(f))...)
	claws := plan.claws(f, side)
	parts = append(parts, claws...)
	return parts, listed(plan.looks, pawWords(f, side, len(claws) > 0))
}

// padVaries says whether the pads' form is not known for certain: then they
// are only sketched. The palm that an outline implies, and the separate small
// pads that all the gnawers have, need no such doubt.
func padVaries(f facts) bool {
	return f.text("heel_pad") == "" && !f.oneOf("outline", "hand-like", "star-shaped") && !f.is("order", "Rodentia")
}

func pawWords(f facts, side string, claws bool) string {
	return listed(
		when(padVaries(f), "the heel pad is only sketched"),
		when(claws, "claw marks ahead of the toes"), when(f.is("claws_show", "no"), "no claw marks"),
		when(claws && side == "front" && f.yes("long_front_claws"), "the claw marks are long and set far ahead"),
		when(f.is(side+"_webbing", "full"), "webs join all the toes"), when(f.is(side+"_webbing", "partial"), "webs join some of the toes or part of them"),
		when(f.yes("furred_sole"), "edges blurred by fur"))
}

func (w paw) pressed(soft bool) []part {
	var parts []part
	shape := eggToe
	if w.drop {
		shape = dropToe
	}
	for _, t := range w.toes {
		parts = append(parts, part{name: "toe", c: shape.placed(pt{t.x, t.y}, t.wide, t.long, t.deg)})
	}
	for _, g := range w.fingers {
		parts = append(parts, part{name: "toe", c: g.outline()})
	}
	for _, c := range w.pads {
		parts = append(parts, part{name: "pad", c: c, soft: soft})
	}
	for _, c := range w.marks {
		parts = append(parts, part{name: "mark", c: c})
	}
	return parts
}

// outline of a finger: slim in the middle, with a pad at its end.
func (g finger) outline() curve {
	from, to := pt{g.x0, g.y0}, pt{g.x1, g.y1}
	var centre []pt
	for i := range 7 {
		centre = append(centre, mix(from, to, float64(i)/6))
	}
	radii := []float64{.38, .44, .42, .42, .48, .46, .24}
	return tube(centre, func(t float64) float64 { return g.wide * radii[int(math.Round(t*6))] })
}

func (g finger) deg() float64 {
	return math.Atan2(g.x1-g.x0, g.y0-g.y1) * 180 / math.Pi
}

// claws that usually show, except on a thumb.
func (w paw) claws(f facts, side string) []part {
	if !f.yes("claws_show") {
		return nil
	}
	long, gap := .085, w.clawGap
	if side == "front" && f.yes("long_front_claws") {
		long, gap = .19, gap+.05
	}
	var parts []part
	for _, t := range w.toes {
		tip := pt{t.x, t.y}.add(pt{0, -t.long / 2}.turn(t.deg))
		parts = append(parts, clawMark(tip, t.deg*.6, gap, long, .05))
	}
	for i, g := range w.fingers {
		if i == 0 && side == "hind" && f.yes("thumb") {
			continue
		}
		parts = append(parts, clawMark(pt{g.x1, g.y1}, g.deg(), gap*.6, long*.8, .04))
	}
	return parts
}

// web is the skin between the toes, from tip to tip with a scallop between:
// nearly all of it, or only towards the base or between the inner four.
func (w paw) web(kind string) part {
	tips, base := w.tips()
	sag, reach, half := .80, .94, .07
	if len(w.fingers) == 0 {
		sag, half = .86, .28
	}
	if kind == "partial" && len(w.fingers) == 0 {
		sag, reach = .66, .80
	} else if kind == "partial" {
		tips = tips[:len(tips)-1]
	}
	var pts []pt
	for i, tip := range tips {
		at := mix(base, tip, reach)
		pts = append(pts, at, at)
		if i+1 < len(tips) {
			pts = append(pts, mix(base, mix(tip, tips[i+1], .5), sag))
		}
	}
	first, last := tips[0], tips[len(tips)-1]
	in, out := base.sub(pt{half, 0}), base.add(pt{half, 0})
	pts = append(pts, mix(last, out, .55).add(pt{.02, .02}), out, in, mix(first, in, .55).add(pt{-.02, .02}))
	return part{name: "web", c: curve{pts, true}}
}

func (w paw) tips() (tips []pt, base pt) {
	for _, t := range w.toes {
		tips = append(tips, pt{t.x, t.y}.add(pt{0, -t.long * .3}.turn(t.deg)))
	}
	for _, g := range w.fingers {
		tips = append(tips, pt{g.x1, g.y1})
		base = base.add(pt{g.x0, g.y0}.times(1 / float64(len(w.fingers))))
	}
	if len(w.fingers) == 0 {
		base = pt{0, .72}
	}
	return tips, base.add(pt{0, .04})
}
