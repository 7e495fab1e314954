package plate

import (
	"fmt"
	"strings"

	"fieldsign/questions/catalogue"
)

// Pair draws two prints side by side, numbered, at one scale. Both have to be
// of known size. The feet are as in Track. They are of two individuals, unless
// they are a front and a hind foot of one species.
func (h Hand) Pair(a catalogue.Species, footA string, b catalogue.Species, footB string) (Plate, bool) {
	if !HasPair(a, footA) || !HasPair(b, footB) {
		return Plate{}, false
	}
	one, two := PairOf(a, footA, b, footB)
	first, _ := h.print(a, footA, one)
	second, _ := h.print(b, footB, two)
	long := max(first.length, second.length)
	p := newPen(first.seed^(second.seed+1), max(long, (first.width+second.width)*.75))
	p.larger = upright
	left, other := captions(first, footA, footB)
	right := p.half("print 1", first, left, pt{0, long - first.length})
	p.half("print 2", second, other, pt{right + 8*p.unit, long - second.length})
	p.zero = pt{0, long}
	return Plate{SVG: p.finish(1, ""), Alt: sentence("drawing of two prints side by side at one scale, toes towards the top", first.captioned(left), second.captioned(other))}, true
}

// PairOf are the numbers of the individuals whose prints stand in a pair.
func PairOf(a catalogue.Species, footA string, b catalogue.Species, footB string) (one, two int) {
	if a.Name == b.Name && strings.TrimPrefix(footA, "left ") != strings.TrimPrefix(footB, "left ") {
		return 1, 1
	}
	return 1, 2
}

// captions say of each print which foot it is of. A bird has but one kind.
func captions(first imprint, footA, footB string) (one, two string) {
	if strings.HasPrefix(footA, "left ") {
		footB = "right " + footB
	}
	if first.bird {
		footA, footB = strings.TrimSuffix(footA, " front"), strings.TrimSuffix(footB, " front")
	}
	return "1, " + footA, "2, " + footB
}

// HasPair reports whether a foot can stand in a pair.
func HasPair(s catalogue.Species, foot string) bool {
	side := strings.TrimPrefix(foot, "left ")
	_, long := facts(s.Values).middle(side + "_length")
	_, wide := facts(s.Values).middle(side + "_width")
	return long && wide && HasTrack(s, foot)
}

func (pr imprint) captioned(caption string) string {
	return fmt.Sprintf("%s: %s, %s", caption, strings.ReplaceAll(pr.looks, ";", ","), pr.size())
}

// half draws one print with its caption below, its left edge at the point
// given, and returns how far it reaches to the right.
func (p *pen) half(name string, pr imprint, caption string, at pt) float64 {
	parts := fit(p, pr)
	all := box{}
	for _, part := range parts {
		all = all.about(part.c)
	}
	half := p.captionWidth(caption) / 2
	left, right := min(all.lo.x, all.mid().x-half), max(all.hi.x, all.mid().x+half)
	at.x -= left
	p.open(style{name: name})
	for _, part := range parts {
		part.c = part.c.mapped(at.add)
		p.printPart(part, pr)
	}
	p.close()
	p.sized(pt{at.x + all.mid().x, at.y + max(all.hi.y, pr.length) + 2*p.unit + p.note()}, "middle", noteSize*p.larger, caption)
	p.space = p.space.with(at.add(pt{left, 0}), at.add(pt{right, 0}))
	return at.x + right
}
