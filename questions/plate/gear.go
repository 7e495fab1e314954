package plate

import "strings"

const insets = 5 // how many times smaller the whole head is drawn

// has reports whether an animal bears antlers or horns. Where that varies, the
// form's own usual gear is drawn.
func (k *skull) has(kind string) bool {
	known := k.f.text("head_gear")
	return strings.HasPrefix(known, kind) || known == "" && k.form.texts["gear"] == kind
}

// gear is the outlines of antlers or horns, in the form's own shape where the
// sheet has it.
func (k *skull) gear(kind string) []curve {
	part := "side " + strings.TrimSuffix(kind, "s")
	if list := k.form.parts[part]; len(list) > 0 || !k.has(kind) {
		return list
	}
	return usualGear(part)
}

// usualGear is for an animal of a catalogue of one's own whose form has none.
func usualGear(part string) []curve {
	if part == "side horn" {
		return []curve{tube(pairs([]float64{70, -34, 73, -42, 78, -49, 85, -53}), func(t float64) float64 { return 4 - 3.6*t })}
	}
	return []curve{tube(pairs([]float64{68, -34, 71, -46, 78, -58, 82, -68}), func(t float64) float64 { return 2.6 - 1.6*t })}
}

// antlers are broken off above their foot, at the form's height of a cut or a
// usual one, so that the skull has the room. The whole head stands beside, small.
func (k *skull) antlers() {
	if !k.has("antlers") {
		return
	}
	cut := k.form.number("cut", -54)
	for _, c := range k.gear("antlers") {
		stump, left := brokenOff(c, cut)
		if !left {
			continue
		}
		stump = k.outline(stump, steady)
		k.keep("antler", stump)
		k.p.stroke(stump, style{name: "antler", fill: bone})
		k.p.hatch(stump, -80, 2.1*k.p.unit, .02*k.long, style{weight: faint, pale: .6})
		if ring, has := burr(c); has {
			k.p.stroke(k.outline(ring, steady), style{fill: bone, weight: light})
		}
	}
}

// burr is the ring round the foot of a beam, where its outline swells.
func burr(beam curve) (curve, bool) {
	n := len(beam.pts) / 2
	wide := func(i int) float64 { return beam.at(i).sub(beam.at(2*n - 1 - i)).norm() }
	for i := 1; i < min(4, n-1); i++ {
		if wide(i) > wide(i-1) && wide(i) > wide(i+1) {
			a, b := beam.at(i), beam.at(2*n-1-i)
			bow := beam.at(i - 1).sub(beam.at(i + 1)).times(.1)
			return tube([]pt{a, mix(a, b, .25).add(bow), mix(a, b, .75).add(bow), b}, func(float64) float64 { return .11 * wide(i) }), true
		}
	}
	return curve{}, false
}

// brokenOff is what of an outline lies under a height, its upper edge jagged.
func brokenOff(c curve, y float64) (stump curve, left bool) {
	stump.closed = true
	for i, q := range c.pts {
		next := c.at(i + 1)
		if q.y >= y {
			stump.pts = append(stump.pts, q)
		}
		if (q.y >= y) != (next.y >= y) {
			edge := pt{crossing(q, next, y), y}
			stump.pts = append(stump.pts, edge, edge)
		}
		if n := len(stump.pts); q.y < y && next.y >= y && n > 3 {
			a, b := stump.pts[n-4], stump.pts[n-1]
			jag := max(.5, .09*b.sub(a).norm())
			stump.pts = append(stump.pts[:n-2], corners(mix(a, b, .3).add(pt{0, jag}), mix(a, b, .6).sub(pt{0, jag}), mix(a, b, .8).add(pt{0, jag}), b)...)
		}
	}
	return stump, len(stump.pts) > 4 && box{}.with(stump.pts...).h() > 3 // less is a splinter
}

func corners(pts ...pt) []pt {
	var out []pt
	for _, q := range pts {
		out = append(out, q, q)
	}
	return out
}

// inset is the whole head of an antlered animal in the corner over its snout.
func (k *skull) inset() {
	if !k.has("antlers") {
		return
	}
	const left = -5.
	space, least := box{}, 0.
	small := func(c curve) curve { return c.mapped(func(q pt) pt { return q.times(1. / insets) }).thinned(.4) }
	for _, c := range k.gear("antlers") {
		space = space.about(small(c))
	}
	for _, list := range k.drawn {
		for _, c := range list {
			for _, q := range c.flat() {
				if q = q.sub(k.at).times(1 / k.unit()); q.x < left+space.hi.x+1 {
					least = min(least, q.y)
				}
			}
		}
	}
	jaw, _ := k.form.part("side jaw")
	at := pt{left, least - 2 - small(jaw).box().hi.y}
	draw := func(c curve, s style) {
		k.p.stroke(small(c).mapped(func(q pt) pt { return k.mm(q.add(at)) }), s)
	}
	for _, c := range k.gear("antlers") {
		draw(c, style{name: "antler", fill: bone, weight: light})
	}
	for _, part := range []string{"side jaw", "side cranium"} {
		c, _ := k.form.part(part)
		draw(c, style{fill: bone, weight: light})
	}
	orbit, _ := k.form.part("side orbit")
	draw(orbit, style{fill: deep, weight: faint})
	k.p.text(k.mm(at.add(pt{0, space.lo.y - 1})).sub(pt{0, .25 * k.p.note()}), "start", "whole, × 1/5")
}

// horns stand before the skull, with rings where the form's have them.
func (k *skull) horns() {
	if !k.has("horns") {
		return
	}
	for _, c := range k.gear("horns") {
		k.horn(k.outline(c, steady))
	}
}

// hornsAbove are those of the view from above.
func (k *skull) hornsAbove(m pt) {
	if !k.has("horns") {
		return
	}
	for _, c := range k.form.parts["above horn"] {
		k.both(m, c, k.horn)
	}
}

// horn draws one, in the colour of its sheath.
func (k *skull) horn(c curve) {
	c.closed = true
	k.keep("horn", c)
	fill := bone
	if own := k.form.texts["sheath"]; own != "" {
		fill = own
	}
	k.p.stroke(c, style{name: "horn", fill: fill})
	if k.form.texts["horn"] != "smooth" && len(c.pts) > 12 {
		k.p.strokes(rings(c), style{weight: light, pale: .7})
	}
	k.p.hatch(c, -80, 2.1*k.p.unit, .02*k.long, style{weight: faint, pale: .6})
}

// rings go round a horn, from the root nearly to the tip.
func rings(horn curve) []curve {
	n := len(horn.pts) / 2
	var out []curve
	for i := 1; i < n-2; i++ {
		a, b := horn.at(i), horn.at(2*n-1-i)
		bow := horn.at(i - 1).sub(horn.at(i + 1)).times(.12)
		out = append(out, curve{pts: []pt{a, mix(a, b, .5).add(bow), b}})
	}
	return out
}

// pedicles bear the antlers, whose burr is seen cut across from above.
func (k *skull) pedicles(m pt) {
	if !k.has("antlers") {
		return
	}
	for _, c := range k.form.parts["above pedicle"] {
		mid := box{}.with(c.pts...).mid()
		k.twin(m, c, style{name: "antler", fill: bone})
		k.twin(m, c.mapped(func(q pt) pt { return mix(mid, q, .66) }), style{fill: "#e2d6bd", weight: faint})
	}
}

func (k *skull) describeGear() string {
	switch {
	case k.has("antlers"):
		return "antlers, broken off above their foot, and the whole head beside, small"
	case k.has("horns"):
		return "horns"
	}
	return ""
}
