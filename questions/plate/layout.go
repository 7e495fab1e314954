package plate

// What the other views are called, under each of them.
const (
	fromAbove = "from above"
	fromBelow = "from below"
	jawAbove  = "lower teeth"
)

// places are where the middle lines of the other views begin, at their front.
type places struct{ above, below, jaw pt }

// places gives each view a column as wide as its outline and its caption, so
// that neither runs into a neighbour. The views from above and below stand
// under the side view, which has been drawn. The lower jaw stands in their row
// or beside the side view, whichever needs the smaller square.
func (k *skull) places() places {
	side, gap := k.p.space, .05*k.long
	a, b, j := k.column(k.hornReach(), fromAbove), k.column(k.halfWidth(), fromBelow), k.column(k.jawHalf()*1.24, jawAbove)
	views := 2*(a+b) + gap
	jawHigh := k.jawLength()*k.unit() + k.beneath() + .5*k.p.note()
	inRow := max(max(side.w(), views+gap+2*j), side.h()+1.15*k.long)
	beside := max(max(side.w()+gap+2*j, views), max(side.h(), jawHigh)+1.15*k.long)
	y := side.hi.y + .07*k.long
	at := places{jaw: pt{side.lo.x + views + gap + j, y}}
	if beside < inRow {
		top := max(side.lo.y, side.hi.y-jawHigh)
		y = max(y, top+jawHigh+.05*k.long)
		at.jaw = pt{side.hi.x + gap + j, top}
	}
	at.above = pt{side.lo.x + a, y}
	at.below = pt{side.lo.x + 2*a + gap + b, y}
	return at
}

// column is half the width that a view needs: of its outline, in hundredths of
// the length, or of its caption.
func (k *skull) column(half float64, caption string) float64 {
	return max(half*k.unit(), k.p.captionWidth(caption)/2)
}

// beneath is how far under a view its caption's line is.
func (k *skull) beneath() float64 { return 3*k.p.unit + .75*k.p.note() }

// otherViews are those from above and below and the lower jaw.
func (k *skull) otherViews() {
	at := k.places()
	k.above(at.above)
	k.below(at.below)
	k.lowerJaw(at.jaw)
}

func (k *skull) halfWidth() float64 {
	c, _ := k.form.part("above outline")
	return max(c.box().hi.y, 10)
}

// hornReach is how far to each side the view from above goes.
func (k *skull) hornReach() float64 {
	w := k.halfWidth()
	if k.has("horns") {
		for _, c := range k.form.parts["above horn"] {
			w = max(w, c.box().hi.y)
		}
	}
	return w
}

func (k *skull) jawLength() float64 {
	c, _ := k.form.part("side jaw")
	return c.box().w()
}
