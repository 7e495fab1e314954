package questions

import (
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// label is how hard a structure is to name, and which other terms could be
// said of the same spot: they never stand beside it as wrong options.
type label struct {
	level int
	place int // along the skull, from the front: neighbours are taken for each other
	seen  shownIn
	also  []string
}

// shownIn is which drawing of a label shows a structure.
type shownIn int

const (
	eitherView shownIn = iota
	fromSide
	fromBelow // the rows of teeth
)

var labels = map[string]label{
	"incisors":          {1, 0, eitherView, nil},
	"canines":           {1, 1, eitherView, nil},
	"orbit":             {1, 5, fromSide, nil},
	"mandible":          {2, 4, eitherView, nil},
	"diastema":          {2, 2, eitherView, []string{"palate", "rostrum"}},
	"rostrum":           {3, 2, fromSide, []string{"diastema", "palate"}},
	"sagittal crest":    {3, 7, fromSide, []string{"braincase"}},
	"zygomatic arch":    {3, 6, eitherView, nil},
	"braincase":         {3, 7, fromSide, []string{"sagittal crest", "occipital condyle", "auditory bulla"}},
	"auditory bulla":    {3, 8, fromBelow, []string{"braincase"}},
	"palate":            {3, 3, fromBelow, []string{"diastema", "rostrum"}},
	"foramen magnum":    {3, 9, fromBelow, []string{"occipital condyle"}},
	"occipital condyle": {4, 9, fromBelow, []string{"foramen magnum", "braincase"}},
	"molars":            {4, 3, eitherView, []string{"carnassials"}},
	"premolars":         {4, 3, eitherView, []string{"carnassials"}},
	"carnassials":       {4, 3, eitherView, []string{"premolars", "molars"}},
}

// labelIt: "What does the question mark point at?" The
// wrong options are other parts that the same drawing shows, the nearest ones.
func labelIt(m *maker, key int) (Question, bool) {
	all := m.structures(key)
	for _, i := range m.dice.Perm(len(all)) {
		st := all[i]
		if l, known := labels[st.Term]; known && (m.wish == 0 || l.level == m.wish) && !m.hardlySeen(key, st.Term) {
			if q, ok := m.labelled(key, st, all); ok {
				return q, true
			}
		}
	}
	return Question{}, false
}

// labels reports whether the question is on a part that its drawing points at.
func (q Question) labels() bool { return q.Plate != nil && q.Plate.Mark != "" }

// hardlySeen reports whether nobody would point to a part: a bulla that is not known to
// swell, a crest that hardly does, the kinds of a small skull's cheek teeth.
func (m *maker) hardlySeen(key int, term string) bool {
	if t, known := m.traits["upper_"+term]; known && m.overlooked(key, t.ID) && m.smallSkull(key) {
		return true
	}
	if t, known := m.traits[strings.ReplaceAll(term, " ", "_")]; known && m.overlooked(key, t.ID) {
		return true
	}
	return term == "auditory bulla" && slices.Contains([]string{"", "flattened", "small"}, m.value(key, "bulla").Typical().Text)
}

// structures are the parts of a skull that its drawing shows.
func (ix *index) structures(i int) []plate.Structure {
	kept, ok := ix.parts.Load(i)
	if !ok {
		kept, _ = ix.parts.LoadOrStore(i, plate.Structures(ix.species[i]))
	}
	return kept.([]plate.Structure)
}

func (m *maker) labelled(key int, st plate.Structure, all []plate.Structure) (Question, bool) {
	term, ok := m.terms[st.Term]
	if !ok {
		return Question{}, false
	}
	options := []catalogue.Lore{term}
	join := func(name string) {
		taken := slices.ContainsFunc(options, func(o catalogue.Lore) bool { return o.Name == name })
		other, known := m.terms[name]
		if known && !taken && len(options) < optionCount && !slices.Contains(labels[st.Term].also, name) && !m.oneRow(key, st.Term, name) {
			options = append(options, other)
		}
	}
	for _, term := range m.around(st.Term, all) {
		join(term)
	}
	if len(options) < optionCount {
		return Question{}, false
	}
	q := Question{Subject: m.subject, Difficulty: labels[st.Term].level, Prompt: m.book.label,
		Test:  Test{[]catalogue.Claim{{Trait: term.Kind, Op: "=", Value: term.Meaning}}},
		Plate: &PlateRef{Species: m.species[key].Name, View: "skull", Mark: st.Term, Test: &Test{st.Shown}}}
	for _, o := range options {
		q.Options = append(q.Options, Option{Species: o.Name, Text: sentence(o.Said)})
	}
	q.Reason = fmt.Sprintf(m.book.termReason, sentence(term.Said), term.Told)
	return m.seats.mixed(q, m.dice), true
}

// oneRow reports whether two terms are of teeth that are alike: a horse's cheek teeth.
func (m *maker) oneRow(key int, term, other string) bool {
	row := []string{"premolars", "molars"}
	return slices.Contains(row, term) && slices.Contains(row, other) && m.value(key, "cheek_teeth").Typical().Text == "flat grinding"
}

// around are the terms of the other parts that a label's drawing shows: teeth for a
// tooth and bones for a bone or a gap, those nearest to the one pointed at first.
func (m *maker) around(term string, all []plate.Structure) []string {
	view := fromSide
	if labels[term].seen == fromBelow || slices.Contains(inRows, term) {
		view = fromBelow
	}
	var out []string
	for _, i := range m.dice.Perm(len(all)) {
		if l, known := labels[all[i].Term]; known && (l.seen == eitherView || l.seen == view) {
			out = append(out, all[i].Term)
		}
	}
	far := func(other string) int {
		d := labels[other].place - labels[term].place
		if m.ofTeeth(other) != (m.ofTeeth(term) && term != gap) {
			return len(labels)
		}
		return max(d, -d)
	}
	slices.SortStableFunc(out, func(a, b string) int { return far(a) - far(b) })
	return out
}

// gap is known by the teeth beside it: beside a gap nobody takes a tooth for it, but a bone.
const gap = "diastema"

// ofTeeth reports whether a term is of teeth, or of the gap between them.
func (m *maker) ofTeeth(name string) bool {
	group := m.terms[name].Group
	return group == "tooth" || group == "crown" || name == gap
}
