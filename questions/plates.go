package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// PlateRef names the drawing that goes with a question. It tells the key, so
// it stays with whoever asks.
type PlateRef struct {
	Species string `json:"species"`
	View    string `json:"view"`           // a name of plateViews, or of a pairing
	Mark    string `json:"mark,omitempty"` // the structure that a label points at
	Test    *Test  `json:"test,omitempty"` // by which the species has that structure

	Frame float64 `json:"frame,omitempty"` // mm, common to drawings that are compared

	With     string `json:"with,omitempty"` // the species of a second print beside the first
	WithView string `json:"withView,omitempty"`
}

// plateView is a drawing of a subject and the traits that it shows.
type plateView struct {
	name    string
	subject string
	traits  []string
	small   []string // those seen even on a drawing of a thumb's width
	pose    string   // the view to take then
	size    string   // the trait of its scale; none: it has none
	has     func(catalogue.Species) bool
	draw    func(plate.Hand, catalogue.Species) (plate.Plate, bool)
}

var plateViews = append([]plateView{
	{"front print", "track", strings.Fields("front_toes toes_forward hind_toe claws_show long_front_claws front_webbing heel_pad pad_lobes_back leading_toe toe_line dewclaws"),
		strings.Fields("front_toes toes_forward hind_toe claws_show front_webbing heel_pad leading_toe dewclaws"), "front print", "front_length",
		func(s catalogue.Species) bool { return plate.HasTrack(s, "front") },
		func(h plate.Hand, s catalogue.Species) (plate.Plate, bool) { return h.Track(s, "front") }},
	{"hind print", "track", strings.Fields("hind_toes claws_show hind_webbing thumb leading_toe dewclaws outer_toe_free"),
		strings.Fields("hind_toes claws_show hind_webbing thumb leading_toe dewclaws"), "hind print", "hind_length",
		func(s catalogue.Species) bool { return plate.HasTrack(s, "hind") },
		func(h plate.Hand, s catalogue.Species) (plate.Plate, bool) { return h.Track(s, "hind") }},
	{"skull", "skull", append(strings.Fields("large_canines diastema head_gear tusks gear_shape incisor_colour tooth_tips cheek_teeth carnassials sagittal_crest temporal_ridges profile rostrum forehead orbit_ringed postorbital_size jaw_step latticed_snout bulla ear_tube antorbital_pit infraorbital_opening incisor_grooves short_nasals palate_past_molars last_upper_molar"), teethShown...),
		strings.Fields("large_canines diastema head_gear tusks gear_shape incisor_colour sagittal_crest profile rostrum forehead latticed_snout upper_incisors bulla"), "skull side", "skull_length", plate.HasSkull, plate.Hand.Skull},
	{"skull above", "skull", strings.Fields("temporal_ridges gear_shape short_nasals"), nil, "", "skull_length", plate.HasSkull, plate.Hand.SkullAbove},
	{"scat", "scat", strings.Fields("scat_form scat_ends pellet_shape"), strings.Fields("scat_form scat_ends pellet_shape"), "scat", "scat_diameter", plate.HasScat, plate.Hand.Scat},
}, slices.Concat(signViews(), specimenViews())...)

// trailView is drawn to go with an answer; none asks about it.
var trailView = plateView{"trail", "track", strings.Fields("gait stride straddle tail_drag group_pattern turned_in larger_foot"), nil, "", "front_length",
	func(s catalogue.Species) bool { _, ok := plate.Trail(s); return ok },
	func(_ plate.Hand, s catalogue.Species) (plate.Plate, bool) { return plate.Trail(s) }}

// reads reports whether the drawing is read for a trait.
func (v plateView) reads(t catalogue.Trait) bool { return slices.Contains(v.traits, t.ID) }

// frames are the sizes there are, in mm: few, so that a drawing can be used
// again in another question.
var frames = []float64{25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600}

// frame is the frame that all drawings of some species fit in a view, so that
// they have one scale.
func (m *maker) frame(view string, places []int) float64 {
	least := 0.
	for _, i := range places {
		least = max(least, m.frameOf(view, i))
	}
	at := slices.IndexFunc(frames, func(f float64) bool { return f >= least })
	return frames[max(at, 0)]
}

// drawing is a view of the species at a place of the index.
type drawing struct {
	view  string
	place int
}

// isDrawn reports whether there is a drawing.
func (ix *index) isDrawn(v plateView, place int) bool {
	return ix.found(drawing{v.name, place}, v.has)
}

// canPair reports whether a print can stand in a pair.
func (ix *index) canPair(view string, place int) bool {
	return ix.found(drawing{"pair of " + view, place}, func(s catalogue.Species) bool { return plate.HasPair(s, foot(view)) })
}

// found asks once. To know whether there is a drawing, some of it has to be
// drawn, so the index keeps the answer.
func (ix *index) found(d drawing, has func(catalogue.Species) bool) bool {
	if kept, ok := ix.shown.Load(d); ok {
		return kept.(bool)
	}
	is := has(ix.species[d.place])
	ix.shown.Store(d, is)
	return is
}

// frameOf is the least frame of one drawing, kept likewise.
func (ix *index) frameOf(view string, place int) float64 {
	if kept, ok := ix.frames.Load(drawing{view, place}); ok {
		return kept.(float64)
	}
	least, s := 0., ix.species[place]
	switch view {
	case "skull side":
		least = plate.SkullFrame(s)
	case "front print", "hind print":
		least = plate.TrackFrame(s, foot(view))
	case "scat":
		least = plate.ScatFrame(s)
	}
	ix.frames.Store(drawing{view, place}, least)
	return least
}

// Draw is the drawing that a reference names; false where there is none.
func Draw(c *catalogue.Catalogue, ref PlateRef) (plate.Plate, bool) { return DrawBy(0, c, ref) }

// DrawBy is the same, drawn by another hand than the catalogue's own, which is 0.
func DrawBy(h plate.Hand, c *catalogue.Catalogue, ref PlateRef) (plate.Plate, bool) {
	s, known := c.Find(ref.Species)
	if known && ref.Mark != "" {
		return h.Labelled(s, ref.Mark)
	}
	if other, both := c.Find(ref.With); known && both {
		return h.Pair(s, foot(ref.View), other, foot(ref.WithView))
	}
	if frame := min(ref.Frame, frames[len(frames)-1]); known && frame > 0 {
		return framed(h, s, ref.View, frame)
	}
	switch {
	case known && ref.View == "skull side":
		return h.SkullSide(s)
	case known && ref.View == "skull above":
		return h.SkullAbove(s)
	case known && ref.View == "skull below":
		return h.SkullBelow(s)
	case known && ref.View == "skull jaw":
		return h.SkullJaw(s)
	case known && strings.HasPrefix(ref.View, jawView):
		return drawJaw(h, s, ref.View)
	case known && strings.Contains(ref.View, individual):
		return drawIndividual(h, s, ref.View)
	case known && ref.View == trailView.name:
		return plate.Trail(s)
	}
	for _, v := range plateViews {
		if known && v.name == ref.View {
			return v.draw(h, s)
		}
	}
	return plate.Plate{}, false
}

// DrawOptions are the drawings of options that are compared, in boxes of one size;
// false where one can't be drawn. There is none for options in words.
func DrawOptions(c *catalogue.Catalogue, options []Option) ([]plate.Plate, bool) {
	var drawn []plate.Plate
	for _, o := range options {
		if o.Plate == nil {
			continue
		}
		p, ok := Draw(c, *o.Plate)
		if !ok {
			return nil, false
		}
		drawn = append(drawn, p)
	}
	return plate.InOneBox(drawn), true
}

// framed draws for a frame of so many mm, as all drawings that are compared are.
func framed(h plate.Hand, s catalogue.Species, view string, frame float64) (plate.Plate, bool) {
	switch view {
	case "skull side":
		return h.SkullFramed(s, frame)
	case "front print", "hind print":
		return h.TrackFramed(s, foot(view), frame)
	case "scat":
		return h.ScatFramed(s, frame)
	}
	return plate.Plate{}, false
}

// whosePlate: "Whose skull is this?" over a drawing that shows traits in which
// every distractor provably differs.
func whosePlate(m *maker, key int) (Question, bool) { return m.anyView(key, m.shown) }

// anyView asks over one of the drawings that the key has in this subject.
func (m *maker) anyView(key int, ask func(key int, v plateView) (Question, bool)) (Question, bool) {
	for _, p := range m.dice.Perm(len(plateViews)) {
		if plateViews[p].subject != m.subject {
			continue
		}
		v := plateViews[p]
		if !m.isDrawn(v, key) {
			continue
		}
		m.sight = v.name
		if q, ok := ask(key, v); ok {
			return q, true
		}
	}
	return Question{}, false
}

func (m *maker) drawing(i int, v plateView) *PlateRef {
	return &PlateRef{Species: m.species[i].Name, View: v.name}
}

func (m *maker) shown(key int, v plateView) (Question, bool) {
	facts := m.visible(key, v, v.traits, m.drawn(key))
	wrong := m.mixedCompany(key, m.apartBy(facts), m.wrong)
	if wrong == nil {
		return Question{}, false
	}
	facts = m.marksFirst(facts, wrong)
	deciding := covering(facts, wrong)
	said := m.led(facts, deciding, wrong)
	if m.toesAlone(deciding) || m.obscure(key, said, wrong) {
		return Question{}, false
	}
	q := m.decided(key, wrong, deciding)
	q.Plate, q.Difficulty = m.drawing(key, v), m.easyAs(deciding[0].trait, q.Difficulty)
	s := m.species[key]
	q.says = saidOf(s.Name, said)
	q.Prompt = m.book.view(v.name, s).whose + m.book.scaled(deciding)
	q.reason = func() string {
		return fmt.Sprintf(m.book.itIs, m.book.the(s), m.book.describe(s, said)) + m.exclusions(wrong, said)
	}
	return q, true
}

// led are the facts that decide, after the plainest mark of the animal where none of them
// is one: it is what one sees, hardly any animal shows it, and none of the others is known
// to, or said to by whatever basis.
func (m *maker) led(facts, deciding []*fact, wrong []int) []*fact {
	const hardlyAny = 2
	plainest := slices.IndexFunc(facts, func(f *fact) bool {
		return m.isMark(f) && f.yes.count() <= hardlyAny && !slices.ContainsFunc(wrong, func(i int) bool { return f.mayBeOf(m.species[i]) })
	})
	if plainest >= 0 && !slices.ContainsFunc(deciding, m.isMark) {
		return append([]*fact{facts[plainest]}, deciding...)
	}
	return deciding
}

// saidOf is what a reason says of the key.
func saidOf(species string, facts []*fact) []told {
	var out []told
	for _, f := range facts {
		out = append(out, told{species, f.trait.ID})
	}
	return out
}

// obscure reports whether a reason would pass over what is seen: it says only what any
// animal shows, or a length that nobody looked up, or one where a mark tells more; or it
// begins with what this one lacks, or how long it is, and has to go on.
func (m *maker) obscure(key int, said []*fact, wrong []int) bool {
	first, lacks := said[0], 0
	for _, f := range said {
		if lacking(f) {
			lacks++
		}
	}
	common := !slices.ContainsFunc(said, func(f *fact) bool { return !f.plain || m.contrasts(f, wrong) })
	long := first.trait.Kind == catalogue.Range
	if long && m.lenient == strict && slices.ContainsFunc(wrong, func(i int) bool { return m.apartByMark(key, i) }) {
		return true
	}
	return common || lacks > 1 || len(said) > 1 && (lacking(first) || long) || long && m.least == catalogue.Memory
}

// apartByMark reports whether two animals are told apart by a mark that some drawing of the
// subject shows.
func (m *maker) apartByMark(a, b int) bool {
	return slices.ContainsFunc(m.facts, func(f *fact) bool {
		apart := f.yes.has(a) && f.no.has(b) || f.yes.has(b) && f.no.has(a)
		return apart && m.isMark(f) && slices.ContainsFunc(plateViews, func(v plateView) bool { return v.subject == m.subject && v.reads(f.trait) })
	})
}

// toesAlone reports whether one count of toes is all that tells a print: who counts
// needs to know no animal, and nobody takes a bobcat's foot for a skunk's.
func (m *maker) toesAlone(deciding []*fact) bool {
	return m.lenient == strict && len(deciding) == 1 && deciding[0].countsToes()
}

// unseen are facts whose words are of the living animal, or of any pellet.
func unseen(f *fact) bool {
	return f.trait.ID == "head_gear" || f.trait.ID == "scat_ends" && f.plain
}

// inSomePrints are traits that a print may show or not, of the same animal.
var inSomePrints = []string{"claws_show", "dewclaws"}

// settles reports whether one drawing proves the fact: not a tooth that is usual only,
// nor what is missing in many prints, nor a lack that nobody would look for.
func (f *fact) settles() bool {
	return (f.value.Usual == "" || f.trait.Kind != catalogue.Count) && !slices.Contains(inSomePrints, f.trait.ID) && (positive(f) || !unmistakable(f.trait))
}

// provedBy reports whether a drawing that shows some traits proves the fact.
func (f *fact) provedBy(traits []string) bool {
	return slices.Contains(traits, f.trait.ID) && !unseen(f) && f.settles()
}

// lacking facts are of what an animal has not.
func lacking(f *fact) bool { return zero(f) || !positive(f) || none(f) }

// isMark reports whether a fact is something to be seen that the trade teaches well.
func (m *maker) isMark(f *fact) bool {
	return f.trait.Kind != catalogue.Range && f.trait.Unit != "per side" && !lacking(f) && !f.plain && m.weight(&f.trait) >= taughtWell
}

// contrasts reports whether those that fail a fact show something to be seen in its
// place: a small opening before the eye is nothing, but beside a slit or a huge one.
func (m *maker) contrasts(f *fact, wrong []int) bool {
	fail := slices.DeleteFunc(slices.Clone(wrong), func(i int) bool { return !f.no.has(i) })
	return len(fail) > 0 && !lacking(f) && !slices.ContainsFunc(fail, func(i int) bool {
		return unremarkable(f.trait.ID, m.value(i, f.trait.ID))
	})
}

// marksFirst puts what is taught most, or asked for, first, and of that what the fewest
// show; after it what an animal lacks or shares with most, and how many teeth it has;
// and last its size.
func (m *maker) marksFirst(facts []*fact, wrong []int) []*fact {
	plain := map[*fact]int{}
	for _, f := range facts {
		switch {
		case f.trait.Kind == catalogue.Range:
			plain[f] = 2
		case m.weights[f.trait.ID] <= 1 && (lacking(f) || f.trait.Unit == "per side" || f.plain && !m.contrasts(f, wrong)):
			plain[f] = 1
		}
	}
	slices.SortStableFunc(facts, func(a, b *fact) int {
		if plain[a] == 2 && plain[b] == 2 {
			return 0
		}
		return cmp.Or(plain[a]-plain[b], cmp.Compare(m.weight(&b.trait), m.weight(&a.trait)), a.yes.count()-b.yes.count())
	})
	return facts
}

// visible are the key's facts on traits that a drawing shows, its marks first, and
// last its size by the scale.
func (m *maker) visible(key int, v plateView, traits []string, places []int) []*fact {
	facts := m.shuffled(m.facts, places, func(f *fact) bool { return f.provedBy(traits) })
	byMolar := func(f *fact) bool { return f.trait.ID == "last_upper_molar" && f.value.Text != "dumb-bell" }
	if slices.ContainsFunc(facts, byMolar) { // nobody counts its premolars
		facts = slices.DeleteFunc(facts, func(f *fact) bool { return slices.Contains(cheekTeeth, f.trait.ID) })
	}
	for _, f := range m.sizes(key) {
		if f.trait.ID == v.size {
			facts = append(facts, f)
		}
	}
	return m.marksFirst(facts, nil)
}

// covering is a few of the facts that together rule out all the wrong ones, none of
// them idle beside the others.
func covering(facts []*fact, wrong []int) []*fact {
	left := slices.Clone(wrong)
	var out []*fact
	for _, f := range facts {
		before := len(left)
		left = slices.DeleteFunc(left, func(i int) bool { return f.no.has(i) })
		if len(left) < before {
			out = append(out, f)
		}
	}
	for i := len(out) - 1; i >= 0; i-- {
		if rest := slices.Delete(slices.Clone(out), i, i+1); ruleOut(rest, wrong) {
			out = rest
		}
	}
	return out
}

func ruleOut(facts []*fact, all []int) bool {
	return !slices.ContainsFunc(all, func(i int) bool {
		return !slices.ContainsFunc(facts, func(f *fact) bool { return f.no.has(i) })
	})
}

// readThePlate: "Which of these fits this picture?" The statements are of
// traits that the drawing shows.
func readThePlate(m *maker, key int) (Question, bool) { return m.anyView(key, m.read) }

func (m *maker) read(key int, v plateView) (Question, bool) {
	among := func(key int, f *fact) bool {
		return m.among(key, f.no) && !(zero(f) && slices.Contains(cheekTeeth, f.trait.ID)) // what is not there can't be seen
	}
	q, ok := m.statements(key, m.legible[v.name], among, m.plausible, m.book.fitsPlate, "")
	q.Plate = m.drawing(key, v)
	return q, ok
}
