package plate

// specimens are the outlines, in mm, that stand for what is not drawn: the same for
// every animal, so that it tells nothing.
var specimens = map[string][]curve{
	"pelt": {
		loop(0, 8, 9, 12, 12, 24, 22, 30, 40, 18, 46, 24, 34, 42, 33, 70, 40, 96, 52, 116, 46, 122, 26, 112, 12, 118, 5, 150, 0, 156, -5, 150, -12, 118, -26, 112, -46, 122, -52, 116, -40, 96, -33, 70, -34, 42, -46, 24, -40, 18, -22, 30, -12, 24, -9, 12),
		line(0, 30, 0, 110),
	},
	"head gear": {
		loop(-34, 10, -26, 4, 0, 0, 26, 4, 34, 10, 38, 40, 30, 78, 0, 112, -30, 78, -38, 40),
		loop(-26, 18, 0, 10, 26, 18, 29, 42, 22, 72, 0, 98, -22, 72, -29, 42),
	},
}

// Specimen stands for a pelt or for head gear where no photo does: an outline, and
// a word on where to look.
func Specimen(kind string) (Plate, bool) {
	parts, ok := specimens[kind]
	if !ok {
		return Plate{}, false
	}
	p := newPen(0, 100)
	for _, c := range parts {
		p.stroke(c, style{weight: light, dashed: true})
	}
	return Plate{SVG: p.finish(0, "look at the specimen"), Alt: sentence("an outline that stands for a specimen", "look at the specimen")}, true
}
