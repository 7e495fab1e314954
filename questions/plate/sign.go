package plate

import (
	_ "embed"
	"fmt"
	"hash/fnv"
	"math"
	"sync"

	"fieldsign/questions/catalogue"
)

// A sign is what an animal leaves beside its print and its scat, as data:
// kinds.csv names it, says what is seen, how large its main part is and where
// that was read; parts.csv has its parts in cm, in the order in which they are drawn.

//go:embed signs/kinds.csv
var signKindSheet string

//go:embed signs/parts.csv
var signPartSheet string

// sign is one kind of them.
type sign struct {
	kind             string
	names            map[catalogue.Language]string
	looks, looksES   string
	measured, across string // the part whose size is known, and whether that is its width or its height
	cm               float64
	parts            []signPart
}

// signPart is a row of parts.csv.
type signPart struct {
	name, material, shape string
	at                    []float64
	c                     curve
}

var signs = sync.OnceValue(func() []sign {
	parts := map[string][]signPart{}
	for _, r := range sheetRows(signPartSheet) {
		parts[r["kind"]] = append(parts[r["kind"]], newSignPart(r["part"], r["material"], r["shape"], floats(r["at"])))
	}
	var out []sign
	for _, r := range sheetRows(signKindSheet) {
		out = append(out, sign{kind: r["kind"], names: map[catalogue.Language]string{catalogue.English: r["name"], catalogue.Spanish: r["name_es"]}, looks: r["looks"], looksES: r["looks_es"],
			measured: r["measured"], across: r["across"], cm: floats(r["cm"])[0], parts: parts[r["kind"]]})
	}
	return out
})

// newSignPart makes a part from a row of the sheet. What is scattered has no
// outline of its own: it fills the last one before it.
func newSignPart(name, material, shape string, at []float64) signPart {
	p := signPart{name: name, material: material, shape: shape, at: at}
	switch shape {
	case "loop":
		p.c = loop(at...)
	case "line":
		p.c = line(at...)
	case "oval":
		p.c = ovalUnit.placed(pt{at[0], at[1]}, at[2], at[3], at[4])
	case "limb":
		p.c = taper(pt{at[0], at[1]}, pt{at[2], at[3]}, at[4], at[5], at[6])
	}
	return p
}

// taper is a branch or a root: from one breadth to another, bowed by a part of
// its length.
func taper(from, to pt, wide, narrow, bow float64) curve {
	d := to.sub(from)
	var centre []pt
	for i := range 7 {
		t := float64(i) / 6
		centre = append(centre, from.add(d.times(t)).add(pt{-d.y, d.x}.times(bow*math.Sin(math.Pi*t))))
	}
	return tube(centre, func(t float64) float64 { return lerp(wide, narrow, t) / 2 })
}

// SignKinds are the kinds of sign that can be drawn.
func SignKinds() []string {
	var out []string
	for _, s := range signs() {
		out = append(out, s.kind)
	}
	return out
}

// SignName is what a kind is called, or nothing if there is none.
func SignName(kind string, l catalogue.Language) string {
	s, _ := signOf(kind)
	return s.names[l]
}

func signOf(kind string) (sign, bool) {
	for _, s := range signs() {
		if s.kind == kind {
			return s, true
		}
	}
	return sign{}, false
}

// Sign draws a kind of sign by the catalogue's own hand.
func Sign(kind string) (Plate, bool) { return own.Sign(kind) }

// Sign draws a kind of sign, at a round scale.
func (h Hand) Sign(kind string) (Plate, bool) {
	s, ok := signOf(kind)
	if !ok {
		return Plate{}, false
	}
	sum := fnv.New64a()
	sum.Write([]byte("sign|" + kind))
	seed := sum.Sum64() ^ uint64(h)
	parts, size := s.fitted(newPen(seed, 1))
	den := signScale(10 * max(size.w(), size.h()))
	p := newPen(seed, 10*max(size.w(), size.h())/den)
	for i := range parts {
		parts[i].c = parts[i].c.mapped(func(q pt) pt { return q.times(10 / den) })
	}
	var field curve
	for _, part := range parts {
		if part.shape == "scatter" {
			p.scatter(field, part, 10/den)
			continue
		}
		if part.c.closed {
			field = part.c
		}
		p.signPart(part)
	}
	p.zero = pt{p.space.lo.x, p.space.hi.y}
	label := ""
	if den > 1 {
		label = fmt.Sprintf("1 : %g", den)
	}
	return Plate{SVG: p.finish(1/den, label), Alt: s.describe()}, true
}

// signScale is how many times smaller something of so many mm is drawn.
func signScale(mm float64) float64 {
	for _, den := range []float64{1, 2, 5, 10, 20, 50} {
		if mm/den <= 200 {
			return den
		}
	}
	return 100
}

// fitted gives the parts the hand's wobble, then the size that is known of one.
func (s sign) fitted(p *pen) ([]signPart, box) {
	parts := make([]signPart, len(s.parts))
	times := 1.
	for i, part := range s.parts {
		b := box{}.with(part.c.pts...)
		part.c = part.c.shaken(p.rng, .02*min(max(.2*b.w(), b.h()), max(b.w(), .2*b.h())))
		parts[i] = part
		if part.name == s.measured && part.shape != "scatter" {
			times = s.cm / s.side(part.c.box())
		}
	}
	space := box{}
	for i, part := range parts {
		if len(part.c.pts) > 0 {
			parts[i].c = part.c.mapped(func(q pt) pt { return q.times(times) })
			space = space.about(parts[i].c)
		}
	}
	return parts, space
}

// side is the measured one of a box.
func (s sign) side(b box) float64 {
	if s.across == "high" {
		return b.h()
	}
	return b.w()
}

// describe says what is seen and how large its measured part is.
func (s sign) describe() string {
	size := "its main part is about %.3g cm across"
	if s.across == "high" {
		size = "its main part is about %.3g cm high"
	}
	return sentence("drawing of what an animal left", s.looks, fmt.Sprintf(size, s.cm))
}

// material is how a part is drawn.
type material struct {
	fill      string
	weight    float64
	deg, gap  float64 // of its hatching, the gap in units; 0: none
	depth     float64 // of a rim of shade, in parts of its smaller side; 0: all over
	pale      float64 // of its outline; 0: solid
	fuzz      float64
	unhatched bool
}

var materials = map[string]material{
	"bark": {fill: "#a8917a", weight: firm, deg: 84, gap: 2}, "wood": {fill: "#efe3c6", weight: light, deg: 86, gap: 3}, "cut": {fill: "#f6edd6", weight: firm, unhatched: true},
	"earth": {fill: "#c9b48f", weight: firm, deg: -38, gap: 1.4, depth: .22}, "bare": {fill: "#bfa884", weight: light, deg: -38, gap: 1.6, depth: .18}, "hole": {fill: "#8d8070", weight: firm, deg: 62, gap: .75},
	"mud": {fill: "#8f7b62", weight: light, deg: 4, gap: 2.2}, "water": {fill: "#dde6e6", weight: light, deg: 0, gap: 2.6, pale: .6}, "snow": {fill: "#ffffff", weight: light, deg: -30, gap: 2.4, depth: .12},
	"turf": {fill: "#d9d5b4", weight: light, unhatched: true, pale: .5}, "pressed": {fill: "#e6dfbd", weight: light, deg: 20, gap: 2.2}, "trough": {fill: "#e2e7e8", weight: light, deg: 88, gap: 3.4}, "reed": {fill: "#c4b98a", weight: firm, deg: -40, gap: 1.5, depth: .2},
	"ground": {fill: "#e4dcc6", weight: faint, unhatched: true, pale: .4}, "stone": {fill: "#d6d3ca", weight: firm, deg: -40, gap: 1.4, depth: .25}, "shell": {fill: "#b08a5c", weight: firm, deg: -45, gap: 1.3, depth: .2},
	"cone": {fill: "#a98a66", weight: light, deg: -45, gap: 1.4, depth: .2}, "felt": {fill: dung, weight: firm, deg: -50, gap: 1.3, depth: .25, fuzz: 1.2}, "bone": {fill: paper, weight: light, unhatched: true},
	"vane": {fill: "#d8ccb4", weight: light, deg: -62, gap: 1.1}, "band": {fill: "#8c7861", weight: faint, unhatched: true, pale: .5}, "down": {fill: hair, weight: faint, unhatched: true, pale: .4, fuzz: 1.6},
	"line": {weight: light, unhatched: true}, "score": {weight: faint, unhatched: true, pale: .8}, "branch": {fill: "#9c8468", weight: light, unhatched: true},
}

func (p *pen) signPart(part signPart) {
	m := materials[part.material]
	s := style{name: part.name, weight: m.weight, fill: m.fill, pale: m.pale}
	if !part.c.closed {
		s.fill = ""
		p.stroke(part.c, s)
		return
	}
	if m.weight == firm {
		p.shape(part.c, s)
	} else {
		p.stroke(part.c, s)
	}
	if m.fuzz > 0 {
		p.fuzz(part.c, m.fuzz)
	}
	if !m.unhatched {
		b := part.c.box()
		p.hatch(part.c, m.deg, m.gap*p.unit, m.depth*min(b.w(), b.h()), style{weight: faint, pale: .6})
	}
}

// signMark is a small thing that lies about, as a unit figure.
type signMark struct {
	fill   string
	weight float64
	draw   func(p *pen) []curve
}

var signMarks = map[string]signMark{
	"stick": {"#c4ad8b", faint, func(p *pen) []curve {
		return []curve{taper(pt{-lerp(.6, 1, p.rng.Float64()), 0}, pt{lerp(.6, 1, p.rng.Float64()), 0}, .13, .08, .06*p.rng.NormFloat64())}
	}},
	"blade": {"", light, func(p *pen) []curve {
		b := .25 * p.rng.NormFloat64()
		return []curve{line(0, .5, .3*b, 0, b, -.5)}
	}},
	"stem":  {"#c9bd8c", faint, func(p *pen) []curve { return []curve{taper(pt{-.9, 0}, pt{.9, 0}, .10, .05, .15*p.rng.NormFloat64())} }},
	"chip":  {"#f3e8cb", light, still(loop(-.7, -.12, -.7, -.12, -.1, -.26, .7, -.06, .7, -.06, .2, .24, -.5, .2))},
	"crumb": {"#bfa884", light, func(p *pen) []curve { return []curve{ovalUnit.shaken(p.rng, .12)} }},
	"scale": {"#b7966e", light, still(loop(-.45, .3, -.35, -.25, 0, -.45, .35, -.25, .45, .3, .45, .3, 0, .12), line(0, .1, 0, -.3))},
	"leaf":  {"#c7ae7c", faint, still(loop(-.6, .02, -.2, -.28, .35, -.18, .62, 0, .62, 0, .3, .2, -.25, .26), line(-.75, .05, 0, 0, .6, 0))},
	"hair": {"", faint, func(p *pen) []curve {
		return []curve{line(-.8, 0, 0, .25*p.rng.NormFloat64(), .8, .2*p.rng.NormFloat64())}
	}},
	"needle": {"", faint, still(line(-.6, 0, .6, .05))},
	"tooth":  {"", light, still(line(-.5, -.1, 0, .12, .5, -.05))},
	"bone":   {paper, light, still(longBone)},
}

// scatter lays n marks in a field, of a size, turned by some degrees and up to
// some more.
func (p *pen) scatter(field curve, part signPart, scale float64) {
	n, size, lean, sway := int(part.at[0]), part.at[1]*scale, part.at[2], part.at[3]
	mark := signMarks[part.material]
	var cs []curve
	for _, at := range p.scattered(field, n, .35*size) {
		big, turn := size*lerp(.75, 1.25, p.rng.Float64()), lean+sway*(2*p.rng.Float64()-1)
		for _, c := range mark.draw(p) {
			cs = append(cs, c.placed(at, big, big, turn))
		}
	}
	p.strokes(cs, style{name: part.name, weight: mark.weight, fill: mark.fill})
}
