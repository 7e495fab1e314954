package plate

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// Prints, and scats, that are compared are drawn for frames of one size.

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

// TrackFramed is the print as drawn for a frame so many mm wide. Where it would fill less
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
	p.among(frame)
	for _, part := range fit(p, pr) {
		p.printPart(part, pr)
	}
	return Plate{SVG: p.framed(times), Alt: alt}, true
}

// ScatFramed is the dropping as drawn for a frame so many mm wide, enlarged as a print is.
func (h Hand) ScatFramed(s catalogue.Species, frame float64) (Plate, bool) {
	d, ok := h.dropping(s)
	if !ok {
		return Plate{}, false
	}
	long, thick := d.long, d.thick
	times := timesInFrame(scatSpan(d.form)*max(long, thick), frame)
	d.long, d.thick = times*long, times*thick
	d.draw(.45 * frame)
	d.p.among(frame)
	d.long, d.thick = long, thick
	return Plate{SVG: d.p.framed(times), Alt: d.describe()}, true
}

// timesInFrame is how many times a drawing is shown larger in a frame: once, or
// until it fills a good part of it.
func timesInFrame(size, frame float64) float64 {
	if size >= frame/8 {
		return 1
	}
	return math.Floor(.45 * frame / size)
}

// framed closes a drawing at a scale.
func (p *pen) framed(times float64) string {
	p.enlarged(times)
	return p.finish(times, "")
}

// InOneBox sets drawings that are compared in the middle of boxes of one size, the
// least that holds each of them: so they have one scale wherever the boxes are shown
// equally large, and no room is lost about them.
func InOneBox(plates []Plate) []Plate {
	var wide, high float64
	for _, p := range plates {
		_, w, h := boxIn(p.SVG)
		wide, high = max(wide, w), max(high, h)
	}
	out := slices.Clone(plates)
	for i, p := range plates {
		at, w, h := boxIn(p.SVG)
		at = at.sub(pt{(wide - w) / 2, (high - h) / 2})
		_, rest, _ := strings.Cut(p.SVG, ">")
		out[i].SVG = fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="%.2f %.2f %[1]g %[2]g">`, wide, high, at.x, at.y) + rest
	}
	return out
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
