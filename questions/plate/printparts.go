package plate

import (
	"math"

	"fieldsign/questions/catalogue"
)

// footprint is the print's parts, as the catalogue's values allow them, and
// what is seen of them.
func footprint(s catalogue.Species, side string) (parts []part, seen string, ok bool) {
	form, ok := printFormOf(s, side)
	if !ok || side != "front" && side != "hind" {
		return nil, "", false
	}
	f := facts(s.Values)
	var under []part // what the other parts lie on
	for _, p := range form.parts {
		p, drawn := p.allowed(f, side, form.kind)
		switch {
		case !drawn:
		case p.name == "web" || p.name == "fur":
			under = append(under, p)
		default:
			parts = append(parts, p)
		}
	}
	if !has(form.parts, "claw") && f.yes("claws_show") {
		parts = append(parts, addedClaws(parts)...)
	}
	if web := f.text(side + "_webbing"); (web == "full" || web == "partial") && !has(under, "web") {
		under = append(under, addedWeb(parts, web))
	}
	parts = append(under, parts...)
	return parts, listed(form.looks, printWords(f, side, parts)), true
}

// allowed is a part as the values let it show: sketched where they vary, or
// not drawn.
func (p part) allowed(f facts, side, kind string) (part, bool) {
	_, sure := f.count(f.toesTrait(side))
	p.faint = p.faint && !sure
	p.soft = p.faint
	switch p.name {
	case "claw":
		p.soft = f.varies("claws_show")
		return p, p.soft || f.yes("claws_show") || kind == "hoof"
	case "web":
		web := f[side+"_webbing"]
		p.soft = !f.oneOf(side+"_webbing", "full", "partial")
		return p, web.Text != "none" && web.Status != catalogue.NotApplicable
	case "dewclaw":
		return p, f.yes("dewclaws")
	case "fur":
		return p, !f.is("furred_sole", "no")
	case "bar":
		return p, !f.is("pad_bar", "no")
	case "fringe":
		return p, !f.is("hind_fringe", "no")
	}
	return p, true
}

// varies: called variable, or known to be now one, now the other.
func (f facts) varies(trait string) bool {
	v := f[trait]
	return v.Status == catalogue.Variable || v.Known() && v.Text == "" && v.Members == nil && v.Hi == 0
}

func has(parts []part, name string) bool {
	for _, p := range parts {
		if p.name == name {
			return true
		}
	}
	return false
}

// printWords are what the values add to a form's own words.
func printWords(f facts, side string, parts []part) string {
	if f.is("foot_type", "hoof") {
		return when(has(parts, "dewclaw"), "two dewclaw marks behind")
	}
	return listed(
		when(f.is("claws_show", "no"), "no claw marks"), when(f.yes("claws_show"), "claw marks ahead of the toes"),
		when(f.yes("long_front_claws") && side == "front", "the claw marks are long and set far ahead"),
		when(f.is(side+"_webbing", "full"), "webs join all the toes"), when(f.is(side+"_webbing", "partial"), "webs join some of the toes or part of them"),
		when(f.yes("furred_sole"), "edges blurred by fur"))
}

// tip of a toe: its point farthest from the middle of the print's rear.
func tip(p part) (at pt, deg float64) {
	rear := pt{0, .9}
	for _, q := range p.c.flat() {
		if q.sub(rear).norm() > at.sub(rear).norm() || at == (pt{}) {
			at = q
		}
	}
	return at, math.Atan2(at.x, rear.y-at.y) * 180 / math.Pi
}

// addedClaws stand before the toes of a form that was seen without.
func addedClaws(parts []part) []part {
	var out []part
	for _, p := range parts {
		if p.isToe() && p.name != "thumb" {
			at, deg := tip(p)
			out = append(out, part{name: "claw", rigid: true, c: clawUnit.placed(at.add(pt{0, -.07}.turn(deg)), .04, .08, deg)})
		}
	}
	return out
}

// addedWeb is the skin between the toes, from toe to toe with a scallop between:
// to their tips, or to the middle of short toes or, where they are long, between all but the outer.
func addedWeb(parts []part, kind string) part {
	var tips []pt
	base, reach, sag := pt{0, .72}, .95, .86
	short := kind == "partial" && parts[0].rigid
	for _, p := range parts {
		at, _ := tip(p)
		if short {
			at = p.c.box().mid()
		}
		if p.isToe() {
			tips = append(tips, at)
		}
	}
	if short {
		reach, sag = 1, .82
	} else if kind == "partial" {
		tips = tips[:len(tips)-1]
	}
	var pts []pt
	for i, t := range tips {
		at := mix(base, t, reach)
		pts = append(pts, at, at)
		if i+1 < len(tips) {
			pts = append(pts, mix(base, mix(t, tips[i+1], .5), sag))
		}
	}
	pts = append(pts, base.add(pt{.1, .06}), base.add(pt{-.1, .06}))
	return part{name: "web", c: curve{pts, true}}
}
