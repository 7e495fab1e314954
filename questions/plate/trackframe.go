package plate

import (
	"fmt"
	"math"
	"strings"

	"fieldsign/questions/catalogue"
)

// Prints, and scats, that are compared stand in frames of one size, so that they
// have one scale wherever frames are shown equally large.

const frameShape = .78 // the height of a frame in parts of its width

// TrackFrame is the width, in mm, of the least frame that a print fits; 0 where
// there is no print.
func TrackFrame(s catalogue.Species, foot string) float64 {
	p, _ := Track(s, foot)
	return p.frame()
}

// ScatFrame is the width, in mm, of the least frame that a dropping fits; 0
// where it is not drawn.
func ScatFrame(s catalogue.Species) float64 {
	p, _ := Scat(s)
	return p.frame()
}

func (p Plate) frame() float64 {
	if p.SVG == "" {
		return 0
	}
	_, w, h := boxIn(p.SVG)
	return math.Ceil(max(w, h/frameShape))
}

// TrackFramed is the print in a frame so many mm wide. Where it would fill less
// than an eighth of the frame it is enlarged, and says so in large type.
func (h Hand) TrackFramed(s catalogue.Species, foot string, frame float64) (Plate, bool) {
	pr, ok := h.print(s, foot, 0)
	if !ok {
		return Plate{}, false
	}
	alt := pr.describe()
	times := timesInFrame(max(pr.length, pr.width), frame)
	pr.length, pr.width = times*pr.length, times*pr.width
	p := newPen(pr.seed, max(pr.length, pr.width, .45*frame))
	for _, part := range fit(p, pr) {
		p.printPart(part, pr)
	}
	return Plate{SVG: p.framed(times, frame), Alt: alt}, true
}

// ScatFramed is the dropping in a frame so many mm wide, enlarged as a print is.
func (h Hand) ScatFramed(s catalogue.Species, frame float64) (Plate, bool) {
	d, ok := h.dropping(s)
	if !ok {
		return Plate{}, false
	}
	long, thick := d.long, d.thick
	times := timesInFrame(scatSpan(d.form)*max(long, thick), frame)
	d.long, d.thick = times*long, times*thick
	d.draw(.45 * frame)
	d.long, d.thick = long, thick
	return Plate{SVG: d.p.framed(times, frame), Alt: d.describe()}, true
}

// timesInFrame is how many times a drawing is shown larger in a frame: once, or
// until it fills a good part of it.
func timesInFrame(size, frame float64) float64 {
	if size >= frame/8 {
		return 1
	}
	return math.Floor(.45 * frame / size)
}

// framed closes a drawing at a scale and sets it in the middle of its frame.
func (p *pen) framed(times, frame float64) string {
	if times > 1 {
		p.sized(pt{p.space.lo.x, p.space.hi.y + 14*p.unit}, "start", 12, fmt.Sprintf("× %.0f", times))
	}
	svg := p.finish(times, "")
	at, w, h := boxIn(svg)
	wide, high := max(frame, w), max(frameShape*frame, h)
	at = at.sub(pt{(wide - w) / 2, (high - h) / 2})
	_, rest, _ := strings.Cut(svg, ">")
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="%s %s %[1]s %[2]s">`, p.num(wide), p.num(high), p.num(at.x), p.num(at.y)) + rest
}

// boxIn reads a drawing's box from its first element, in mm.
func boxIn(svg string) (at pt, w, h float64) {
	var wide, high float64
	head := svg[strings.Index(svg, `width="`):]
	if _, err := fmt.Sscanf(head, `width="%gmm" height="%gmm" viewBox="%g %g %g %g"`, &wide, &high, &at.x, &at.y, &w, &h); err != nil {
		panic(err) // the pen has written it
	}
	return at, w, h
}
