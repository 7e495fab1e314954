package plate

import (
	"math"

	"fieldsign/questions/catalogue"
)

// Skulls that are compared are drawn for frames of one size.

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
	return math.Ceil(max(b.w(), b.h()/frameShape))
}

// SkullFramed is the side view as drawn for a frame so many mm wide. Where it would fill
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
	k.p.among(frame)
	k.side()
	k.scale(0, k.long)
	k.p.enlarged(k.times)
	return Plate{SVG: k.finish(), Alt: k.describe("")}, true
}
