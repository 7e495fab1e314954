package questions

import (
	"fmt"
	"slices"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// label is how hard a structure is to name, and which other terms could be
// said of the same spot: they never stand beside it as wrong options.
type label struct {
	level int
	place int // along the skull, from the front: neighbours are taken for each other
	also  []string
}

var cheekTeeth = []string{"premolars", "molars", "carnassials", "bunodont teeth", "selenodont teeth"}

var labels = map[string]label{
	"incisors":           {1, 0, nil},
	"canines":            {1, 1, nil},
	"orbit":              {1, 5, nil},
	"mandible":           {2, 4, nil},
	"diastema":           {2, 2, []string{"palate", "rostrum"}},
	"rostrum":            {3, 2, []string{"diastema", "palate"}},
	"sagittal crest":     {3, 7, []string{"braincase"}},
	"zygomatic arch":     {3, 6, nil},
	"braincase":          {3, 7, []string{"sagittal crest", "occipital condyles", "auditory bulla"}},
	"auditory bulla":     {3, 8, []string{"braincase"}},
	"palate":             {3, 3, []string{"diastema", "rostrum"}},
	"foramen magnum":     {3, 9, []string{"occipital condyles"}},
	"occipital condyles": {4, 9, []string{"foramen magnum", "braincase"}},
	"molars":             {4, 3, cheekTeeth},
	"premolars":          {4, 3, cheekTeeth},
	"carnassials":        {4, 3, cheekTeeth},
}

// labelIt: "What does the question mark point at?" The
// wrong options are other parts of the same skull first, then other terms.
func labelIt(m *maker, key int) (Question, bool) {
	all := plate.Structures(m.species[key])
	for _, i := range m.dice.Perm(len(all)) {
		st := all[i]
		if l, known := labels[st.Term]; known && (m.wish == 0 || l.level == m.wish) {
			if q, ok := m.labelled(key, st, all); ok {
				return q, true
			}
		}
	}
	return Question{}, false
}

func (m *maker) labelled(key int, st plate.Structure, all []plate.Structure) (Question, bool) {
	term, ok := m.term(st.Term)
	if !ok {
		return Question{}, false
	}
	options := []catalogue.Lore{term}
	join := func(name string) {
		taken := slices.ContainsFunc(options, func(o catalogue.Lore) bool { return o.Name == name })
		other, known := m.term(name)
		if known && !taken && len(options) < optionCount && !slices.Contains(labels[st.Term].also, name) {
			options = append(options, other)
		}
	}
	for _, term := range m.around(st.Term, all) {
		join(term)
	}
	for _, i := range m.dice.Perm(len(m.lore)) {
		join(m.lore[i].Name)
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
	return mixed(q, m.dice), true
}

// around are the terms of a skull's other parts, those nearest to one first.
func (m *maker) around(term string, all []plate.Structure) []string {
	var out []string
	for _, i := range m.dice.Perm(len(all)) {
		out = append(out, all[i].Term)
	}
	far := func(other string) int {
		d := labels[other].place - labels[term].place
		return max(d, -d)
	}
	slices.SortStableFunc(out, func(a, b string) int { return far(a) - far(b) })
	return out
}

// term is a term of the subject's lessons.
func (m *maker) term(name string) (catalogue.Lore, bool) {
	for _, l := range m.lore {
		if l.Kind == "term" && l.Subject == m.subject && l.Name == name {
			return l, true
		}
	}
	return catalogue.Lore{}, false
}
