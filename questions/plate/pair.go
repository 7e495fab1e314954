package plate

import (
	"fmt"
	"strings"

	"fieldsign/questions/catalogue"
)

// half is one print of a pair.
type half struct {
	f             facts
	foot, seen    string
	caption       string
	parts         []part
	length, width float64 // mm
}

// Pair draws two prints side by side, numbered, at one scale. Both have to be
// of known size. The feet are as in Track.
func (h Hand) Pair(a catalogue.Species, footA string, b catalogue.Species, footB string) (Plate, bool) {
	first, ok := halfOf(a, footA)
	second, too := halfOf(b, footB)
	if !ok || !too {
		return Plate{}, false
	}
	long := max(first.length, second.length)
	p := newPen(h.seed(first.f, "track "+first.foot, trackTraits...)^(own.seed(second.f, "track "+second.foot, trackTraits...)+1), max(long, (first.width+second.width)*.75))
	p.zero = pt{0, long}
	first.caption, second.caption = captions(first, footA, footB)
	right := p.half(first, pt{0, long - first.length})
	p.half(second, pt{right + 14*p.unit, long - second.length})
	return Plate{SVG: p.finish(1, schematic), Alt: sentence("drawing of two prints side by side at one scale, toes towards the top", first.describe(), second.describe())}, true
}

// captions say of each print which foot it is of. A bird has but one kind.
func captions(first half, footA, footB string) (one, two string) {
	if strings.HasPrefix(footA, "left ") {
		footB = "right " + footB
	}
	if first.f.is("foot_type", "bird foot") {
		footA, footB = strings.TrimSuffix(footA, " front"), strings.TrimSuffix(footB, " front")
	}
	return "1, " + footA, "2, " + footB
}

// HasPair reports whether a foot can stand in a pair.
func HasPair(s catalogue.Species, foot string) bool {
	_, ok := halfOf(s, foot)
	return ok
}

func halfOf(s catalogue.Species, foot string) (half, bool) {
	f := facts(s.Values)
	side, left := strings.CutPrefix(foot, "left ")
	parts, seen, drawn := footprint(f, side)
	length, width, sized := printSize(f, side)
	if left {
		parts = mirrored(parts)
	}
	return half{f: f, foot: side, seen: seen, parts: parts, length: length, width: width}, drawn && sized
}

func (h half) describe() string {
	return fmt.Sprintf("%s: %s, about %.1f cm long and %.1f cm wide", h.caption, strings.ReplaceAll(h.seen, ";", ","), h.length/10, h.width/10)
}

// half draws one print with its caption below, its left edge at the point
// given, and returns how far it reaches to the right.
func (p *pen) half(h half, at pt) float64 {
	zero := p.zero
	parts := fit(p, h.parts, h.length, h.width)
	p.zero = zero
	all := box{}
	for _, part := range parts {
		all = all.with(part.c.flat()...)
	}
	at.x -= all.lo.x
	for _, part := range parts {
		part.c = part.c.mapped(at.add)
		p.printPart(part, h.f.yes("furred_sole"))
	}
	p.sized(pt{at.x + all.mid().x, at.y + max(all.hi.y, h.length) + 8*p.unit}, "middle", 5.5, h.caption)
	return at.x + all.hi.x
}
