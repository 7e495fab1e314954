package questions

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// Lesson is what a reveal teaches beside the key: its animal next to one that
// it is taken for, by what tells the two apart.
type Lesson struct {
	Trait    string   // that is compared, if one is
	Parts    []string // of the drawings, that show the trait, as plate.PartsOf has them
	Lines    bool     // the trait is a colour: a part is marked by its line alone
	Recalled bool     // one of the two values rests on memory alone
	Sides    []Side   // the key's first; one or two
}

// Side is one animal of a lesson.
type Side struct {
	Option  int // that names the animal, or -1
	Species catalogue.Species
	Plate   *PlateRef // nil where there is no drawing
	Says    string    // of the trait, in few words; empty where nothing is compared
}

// A line of a lesson goes without a term in brackets, and then by the words of
// shorter, where it has more than longLine, and without its verb where it has more
// than longestLine.
const longLine, longestLine = 8, 12

// Teach makes the lesson of a question, to whose key the option taken was
// preferred; with -1 the nearest of the others that has a drawing. It is false
// of a question that is about no animal, or about what is not drawn.
func Teach(c *catalogue.Catalogue, q Question, taken int) (Lesson, bool) {
	book := phrasebooks[c.Language]
	switch {
	case q.ofSpecimen():
		return Lesson{}, false // no drawing compares them
	case q.Plate != nil && q.Plate.Mark != "":
		return labelLesson(c, q)
	case q.Plate != nil && q.Plate.With != "":
		return pairLesson(c, book, q)
	case q.Plate == nil && len(jawsOf[q.Options[q.Key].Species]) > 0:
		return jawLesson(c, q)
	}
	sides, ok := sidesOf(c, q, taken)
	if !ok {
		return Lesson{}, false
	}
	t, compared := decidingTrait(c, q, sides)
	l := Lesson{Sides: sides}
	if compared {
		l.compare(c, book, t)
	}
	if row, differs := rowOf(c, t, sides); differs {
		of := Lesson{Sides: slices.Clone(sides)}
		of.compare(c, book, row)
		for i := range l.Sides {
			l.Sides[i].Says = teethBy[c.Language].Replace(l.Sides[i].Says + "; " + of.Sides[i].Says)
		}
		l.Parts, t = of.Parts, row
	}
	l.draw(q, t)
	return l, true
}

// rowOf is the row of teeth by which two animals have not as many in all.
func rowOf(c *catalogue.Catalogue, t catalogue.Trait, sides []Side) (catalogue.Trait, bool) {
	formula, ok := c.Trait("dental_formula")
	if t.ID != "total_teeth" || len(sides) < 2 || !ok {
		return t, false
	}
	rows := slices.DeleteFunc(finer(c, formula, sides), func(row catalogue.Trait) bool { return row.ID == t.ID || row.Kind == catalogue.Formula })
	if len(rows) == 0 {
		return t, false
	}
	return rows[0], true
}

// sidesOf are the key's animal and the one to set beside it.
func sidesOf(c *catalogue.Catalogue, q Question, taken int) ([]Side, bool) {
	if q.About != nil {
		return found(c, []int{-1, -1}, q.About.Is, q.About.Not)
	}
	key := q.Options[q.Key].Species
	if taken < 0 {
		taken = nearest(c, q)
	}
	if taken < 0 {
		return found(c, []int{q.Key}, key)
	}
	return found(c, []int{q.Key, taken}, key, q.Options[taken].Species)
}

func found(c *catalogue.Catalogue, options []int, names ...string) ([]Side, bool) {
	var sides []Side
	for i, name := range names {
		if s, ok := c.Find(name); ok {
			sides = append(sides, Side{Option: options[i], Species: s})
		}
	}
	return sides, len(sides) > 0 && sides[0].Species.Name == names[0]
}

// nearest is the first wrong option whose animal has the key's drawing, or any
// wrong one of an animal. Of a typed question, whose options are all in play,
// there is none.
func nearest(c *catalogue.Catalogue, q Question) int {
	if q.Typed {
		return -1
	}
	wrong := -1
	for i, o := range q.Options {
		s, ok := c.Find(o.Species)
		if i == q.Key || !ok {
			continue
		}
		if slices.ContainsFunc(plateViews, func(v plateView) bool { return v.subject == q.Subject && v.has(s) }) {
			return i
		}
		wrong = i
	}
	return wrong
}

// decidingTrait is the first of the question's that tells the two sides apart,
// one that a drawing shows before others. Of a formula it is a row of teeth.
func decidingTrait(c *catalogue.Catalogue, q Question, sides []Side) (catalogue.Trait, bool) {
	var fit []catalogue.Trait
	for _, claim := range q.Test.All {
		t, ok := c.Trait(claim.Trait)
		if ok && (len(sides) == 1 || claim.Holds(sides[1].Species.Values[t.ID]) == catalogue.False) {
			fit = append(fit, finer(c, t, sides)...)
		}
	}
	if len(fit) == 0 {
		return catalogue.Trait{}, false
	}
	if i := slices.IndexFunc(fit, func(t catalogue.Trait) bool { return len(plate.PartsOf(t)) > 0 }); i >= 0 {
		return fit[i], true
	}
	return fit[0], true
}

// finer are the traits computed from one that tell the sides apart, else itself.
func finer(c *catalogue.Catalogue, t catalogue.Trait, sides []Side) []catalogue.Trait {
	if t.Kind != catalogue.Formula || len(sides) < 2 {
		return []catalogue.Trait{t}
	}
	var out []catalogue.Trait
	for _, row := range c.Traits {
		if row.From == t.ID && apart(row, sides[0].Species.Values[row.ID], sides[1].Species.Values[row.ID]) {
			out = append(out, row)
		}
	}
	if len(out) == 0 {
		return []catalogue.Trait{t}
	}
	return out
}

// Compare sets two animals beside each other by a trait, in the drawing of the
// subject that shows it best.
func Compare(c *catalogue.Catalogue, subject string, t catalogue.Trait, this, other catalogue.Species) Lesson {
	l := Lesson{Sides: []Side{{Option: -1, Species: this}, {Option: -1, Species: other}}}
	l.compare(c, phrasebooks[c.Language], t)
	l.draw(Question{Subject: subject}, t)
	return l
}

// compare says of each side how it stands in a trait.
func (l *Lesson) compare(c *catalogue.Catalogue, book *phrasebook, t catalogue.Trait) {
	l.Trait, l.Parts, l.Lines = t.ID, plate.PartsOf(t), coloured(t)
	for i := range l.Sides {
		s := &l.Sides[i]
		s.Says = book.brief(s.Species, t)
		l.Recalled = l.Recalled || s.Species.Values[t.ID].Says() && s.Species.Values[t.ID].Basis == catalogue.Memory
	}
}

// brief is what a species shows for a trait in a line that is read at a glance.
func (b *phrasebook) brief(s catalogue.Species, t catalogue.Trait) string {
	v := s.Values[t.ID]
	if !v.Says() {
		return ""
	}
	if t.Kind == catalogue.Formula {
		return v.String() // with what varies in it, and no room for more
	}
	text := b.finish(actual(s, t))
	if len(strings.Fields(text)) > longLine {
		text = inBrackets.ReplaceAllString(text, "")
	}
	if len(strings.Fields(text)) > longLine {
		text = shortened[b.language].Replace(text)
	}
	if len(strings.Fields(text)) <= longestLine || t.Kind == catalogue.YesNo {
		return text
	}
	plain := t
	plain.Wording.Says, plain.Wording.Denies = "{}", ""
	return plain.Say(v)
}

// inBrackets is a term, which a long line can do without.
var inBrackets = regexp.MustCompile(` \([^)]*\)`)

// asked is the view in which a question shows its key; empty where it shows none.
func (q Question) asked() string {
	shown := q.Plate
	if shown == nil && q.Key < len(q.Options) {
		shown = q.Options[q.Key].Plate
	}
	if shown == nil {
		return ""
	}
	return shown.View
}

// draw gives the sides the drawing that was asked about, else the one that shows a
// trait best, the same for both if both have it.
func (l *Lesson) draw(q Question, t catalogue.Trait) {
	views, asked := viewsOf(q, t), q.asked()
	at := slices.IndexFunc(views, func(v plateView) bool {
		return asked != "" && (v.name == asked || v.pose == asked) && v.has(l.Sides[0].Species)
	})
	if at < 0 {
		at = slices.IndexFunc(views, func(v plateView) bool {
			return !slices.ContainsFunc(l.Sides, func(s Side) bool { return !v.has(s.Species) })
		})
	}
	if at < 0 {
		at = slices.IndexFunc(views, func(v plateView) bool { return v.has(l.Sides[0].Species) })
	}
	if at < 0 {
		return
	}
	v := views[at]
	name := v.name
	if v.name == "skull" {
		name = cmp.Or(plate.SkullView(t.ID), "skull side") // large, where all views would be small
	}
	if v.pose == asked && v.pose != "" {
		name = asked
	}
	for i, s := range l.Sides {
		if v.has(s.Species) {
			l.Sides[i].Plate = &PlateRef{Species: s.Species.Name, View: name}
		}
	}
}

// viewsOf are the drawings to take for a trait, the best first: those that show
// it, then that of the part it looks at, then any of its subject, then any.
func viewsOf(q Question, t catalogue.Trait) []plateView {
	views := append(slices.Clone(plateViews), trailView)
	of := q.Subject
	if of == catalogue.FoodWeb {
		of = "skull" // teeth show what an animal eats
	}
	rank := func(v plateView) int {
		switch {
		case slices.Contains(v.traits, t.ID) || slices.Contains(v.traits, t.From):
			return 0
		case v.name == t.Part:
			return 1
		case v.subject == of && v.name != trailView.name:
			return 2
		case v.subject == of:
			return 3
		}
		return 4
	}
	far := map[string]int{"animal": 5, catalogue.FoodWeb: 5, "sign": 1}[q.Subject] // a drawing of another sign teaches nothing
	views = slices.DeleteFunc(views, func(v plateView) bool { return rank(v) >= cmp.Or(far, 4) })
	slices.SortStableFunc(views, func(a, b plateView) int { return rank(a) - rank(b) })
	return views
}

// pairLesson sets the two prints of a question beside each other.
func pairLesson(c *catalogue.Catalogue, book *phrasebook, q Question) (Lesson, bool) {
	sides, ok := found(c, []int{-1, -1}, q.Plate.Species, q.Plate.With)
	if !ok || len(sides) < 2 {
		return Lesson{}, false
	}
	first, second := plate.PairOf(sides[0].Species, foot(q.Plate.View), sides[1].Species, foot(q.Plate.WithView))
	sides[0].Plate = &PlateRef{Species: q.Plate.Species, View: q.Plate.View + individualOf(first)}
	sides[1].Plate = &PlateRef{Species: q.Plate.With, View: q.Plate.WithView + individualOf(second)}
	l := Lesson{Sides: sides}
	if t, known := c.Trait(q.Test.All[0].Trait); known && q.Plate.Species != q.Plate.With {
		l.compare(c, book, t)
	}
	return l, true
}

// labelLesson is the drawing as it was asked about: its pointer is what to look at.
func labelLesson(c *catalogue.Catalogue, q Question) (Lesson, bool) {
	sides, ok := found(c, []int{-1}, q.Plate.Species)
	if !ok {
		return Lesson{}, false
	}
	sides[0].Says = q.Options[q.Key].Text
	sides[0].Plate = &PlateRef{Species: q.Plate.Species, View: q.Plate.View, Mark: q.Plate.Mark}
	return Lesson{Parts: []string{plate.Pointer}, Sides: sides}, true
}

// jawLesson is a jaw of the age that was asked for in words; the age is its title.
func jawLesson(c *catalogue.Catalogue, q Question) (Lesson, bool) {
	sides, ok := found(c, []int{-1}, whiteTail)
	if !ok {
		return Lesson{}, false
	}
	key := q.Options[q.Key]
	sides[0].Says, sides[0].Plate = key.Text, &PlateRef{Species: whiteTail, View: jawView + jawsOf[key.Species][0]}
	return Lesson{Parts: []string{plate.Pointer}, Sides: sides}, true
}
