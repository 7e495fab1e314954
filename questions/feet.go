package questions

import (
	"fmt"

	"fieldsign/questions/catalogue"
)

// feet are the traits in which an animal's front and hind prints can differ.
var feet = map[string][2]string{"front print": {"front_toes", "front_webbing"}, "hind print": {"hind_toes", "hind_webbing"}}

var otherFoot = map[string]string{"front print": "hind print", "hind print": "front print"}

// whichFoot: "This is a print of the muskrat. Which foot left it?" The drawing
// shows a number of toes, or a web, that only one of its feet has.
func whichFoot(m *maker, key int) (Question, bool) {
	return m.anyView(key, func(key int, v plateView) (Question, bool) {
		for _, i := range m.dice.Perm(len(feet[v.name])) {
			if q, ok := m.footOf(key, v, m.traits[feet[v.name][i]], m.traits[feet[otherFoot[v.name]][i]]); ok {
				return q, true
			}
		}
		return Question{}, false
	})
}

// footOf asks by a trait of the print drawn, and the same one of the other foot.
// What is drawn holds of the key's foot alone. The options don't say it: the
// drawing has to be read.
func (m *maker) footOf(key int, v plateView, drawn, other catalogue.Trait) (Question, bool) {
	has, hasNot, s := m.value(key, drawn.ID), m.value(key, other.ID), m.species[key]
	if !has.Known() || !hasNot.Known() || !apart(drawn, has, hasNot) || m.wish != 0 && 6-drawn.Ease != m.wish {
		return Question{}, false
	}
	of := func(view string, t catalogue.Trait, value catalogue.Value) statement {
		return statement{m.book.foot[view], catalogue.Claim{Trait: t.ID, Op: "=", Value: value.Claimed()}, t}
	}
	q := m.byStatement(About{Is: s.Name}, []statement{of(v.name, drawn, has), of(otherFoot[v.name], other, has)})
	q.Plate = m.drawing(key, v)
	q.Prompt = fmt.Sprintf(m.book.whichFoot, m.book.the(s))
	q.Reason = fmt.Sprintf(m.book.separatesFeet, sentence(m.shows(key, drawn)), m.book.clause(s, other, actual(s, other)))
	return q, true
}
