package paper

import "fmt"

// draw puts a drawing at x, y, a den-th of its size.
func (d *document) draw(art *drawing, x, y, den float64) {
	d.pdf.SetLineCapStyle("round")
	d.pdf.SetLineJoinStyle("round")
	ink := inker{d, art, x, y, den}
	for _, p := range art.parts {
		if p.path == nil {
			ink.words(p)
			continue
		}
		if art.marked(p) {
			p.look = p.look.marked(art.lineMarks)
		}
		ink.path(p)
	}
}

// The colours of what is marked: dark enough, and light enough, to differ in grey.
var (
	markLine   = colour{true, 0x8a, 0x3a, 0x10}
	markGround = colour{true, 0xd9, 0xa4, 0x41}
)

// marked is a look that stands out: a line is drawn in any case, a ground only
// where there is one and its own colour does not matter.
func (l look) marked(lineAlone bool) look {
	l.stroke, l.lineAlpha, l.width = markLine, 1, max(1.8*l.width, .3)
	if l.fill.painted && !lineAlone {
		l.fill, l.fillAlpha = markGround, 1
	}
	return l
}

type inker struct {
	*document
	art       *drawing
	x, y, den float64
}

// at is where a point of the drawing comes to lie on the page.
func (k inker) at(p point) (x, y float64) {
	return k.x + (p.x-k.art.left)/k.den, k.y + (p.y-k.art.top)/k.den
}

// path fills and then strokes, each with its own opacity.
func (k inker) path(p part) {
	if c := p.look.fill; c.painted {
		k.pdf.SetFillColor(c.r, c.g, c.b)
		k.pdf.SetAlpha(p.look.fillAlpha, "Normal")
		k.trace(p.path)
		k.pdf.DrawPath("F")
	}
	if c := p.look.stroke; c.painted {
		k.pdf.SetDrawColor(c.r, c.g, c.b)
		k.pdf.SetAlpha(p.look.lineAlpha, "Normal")
		k.pdf.SetLineWidth(p.look.width / k.den)
		k.pdf.SetDashPattern(shrunk(p.look.dash, k.den), 0)
		k.trace(p.path)
		k.pdf.DrawPath("D")
	}
}

func (k inker) trace(path []step) {
	for _, s := range path {
		x, y := k.at(s.end())
		switch s.op {
		case 'M':
			k.pdf.MoveTo(x, y)
		case 'L':
			k.pdf.LineTo(x, y)
		case 'C':
			ax, ay := k.at(s.pts[0])
			bx, by := k.at(s.pts[1])
			k.pdf.CurveBezierCubicTo(ax, ay, bx, by, x, y)
		case 'Z':
			k.pdf.ClosePath()
		}
	}
}

func shrunk(dash []float64, den float64) []float64 {
	out := make([]float64, len(dash))
	for i, x := range dash {
		out[i] = x / den
	}
	return out
}

// words keep saying the true scale when the drawing is made smaller.
func (k inker) words(p part) {
	words := p.words
	if k.den > 1 {
		words = scaleWords.ReplaceAllString(words, fmt.Sprintf("1 : %g", k.art.den*k.den))
	}
	x, y := k.at(point{p.x, p.y})
	before := map[string]float64{"start": 0, "middle": .5, "end": 1}[p.anchor]
	k.text(face{"I", p.size / k.den / pointMM}, x, y, before, words)
}
