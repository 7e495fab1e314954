package plate

import (
	"fmt"
	"math"
	"strings"

	"fieldsign/questions/catalogue"
)

// Skulls that are compared stand in frames of one size, so that they have one
// scale wherever frames are shown equally large.

const frameHigh = .78 // the height of a frame in parts of its width

// SkullFrame is the width, in mm, of the least frame that a skull's side view
// fits; 0 where there is no such view.
func SkullFrame(s catalogue.Species) float64 {
	k, ok := own.skull(s)
	if !ok {
		return 0
	}
	k.side()
	k.scale(0, k.long)
	b := k.p.space.grown(5*k.p.unit, 5*k.p.unit, 5*k.p.unit, 5*k.p.unit)
	return math.Ceil(max(b.w(), b.h()/frameHigh))
}

// SkullFramed is the side view in a frame so many mm wide. Where it would fill
// less than an eighth of the frame it is enlarged, and says so in large type.
func (h Hand) SkullFramed(s catalogue.Species, frame float64) (Plate, bool) {
	k, ok := h.skull(s)
	if !ok {
		return Plate{}, false
	}
	if k.long < frame/8 {
		k.times = math.Floor(.45 * frame / k.long)
		k.long *= k.times
	}
	k.p = newPen(h.seed(k.f, "skull", skullTraits...), max(k.long*.9, .45*frame))
	k.p.coarse()
	k.side()
	k.scale(0, k.long)
	if k.times > 1 {
		k.p.sized(pt{k.p.space.lo.x, k.p.space.hi.y + 14*k.p.unit}, "start", 12, fmt.Sprintf("× %.0f", k.times))
	}
	p := Plate{SVG: k.finish(), Alt: k.describe("")}
	p.SVG = k.inFrame(p.SVG, frame)
	return p, true
}

// inFrame widens the drawing's box to the frame, the drawing in its middle.
func (k *skull) inFrame(svg string, frame float64) string {
	head, rest, _ := strings.Cut(svg, ">")
	var w, h float64
	var x, y, w2, h2 float64
	box := head[strings.Index(head, `width="`):]
	if _, err := fmt.Sscanf(box, `width="%gmm" height="%gmm" viewBox="%g %g %g %g"`, &w, &h, &x, &y, &w2, &h2); err != nil {
		panic(err) // the pen has written it
	}
	wide, high := max(frame, w), max(frameHigh*frame, h)
	x, y = x-(wide-w)/2, y-(high-h)/2
	n := k.p.num
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="%s %s %[1]s %[2]s">`, n(wide), n(high), n(x), n(y)) + rest
}
