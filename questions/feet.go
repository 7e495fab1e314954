package questions

import (
	"fmt"
	"slices"

	"fieldsign/questions/catalogue"
)

// toesOf are the traits by which a print's toes tell the foot. A web does not: one that is not
// to be seen may have left no mark.
var toesOf = map[string]string{"front print": "front_toes", "hind print": "hind_toes"}

var otherFoot = map[string]string{"front print": "hind print", "hind print": "front print"}

// whichFoot: "This is a print of the muskrat. Do its toes alone tell which foot left it?"
// The drawing shows a number of toes that only one of its feet has; or both have it, and
// it doesn't tell.
func whichFoot(m *maker, key int) (Question, bool) {
	return m.anyView(key, func(key int, v plateView) (Question, bool) {
		return m.footOf(key, v, m.traits[toesOf[v.name]], m.traits[toesOf[otherFoot[v.name]]])
	})
}

// fewAlike is how far those whose feet are alike go before others: fewer are asked about.
const fewAlike = .35

// footOf asks by the toes of the print drawn, and those of the other foot. That both
// are alike is as often the key as that they are not. The
// options don't say what is drawn: the drawing has to be read.
func (m *maker) footOf(key int, v plateView, drawn, other catalogue.Trait) (Question, bool) {
	has, otherHas, s := m.value(key, drawn.ID), m.value(key, other.ID), m.species[key]
	alike := has.Claimed() == otherHas.Claimed()
	if m.lenient != besideStrangers && alike != (m.turns(feetAlike)-fewAlike < m.turns(feetApart)) {
		return Question{}, false
	}
	if !has.Known() || !otherHas.Known() || !alike && !apart(drawn, has, otherHas) || alike && m.plainFoot(key, drawn) || m.wish != 0 && 6-drawn.Ease != m.wish {
		return Question{}, false
	}
	shows := func(t catalogue.Trait, op string) catalogue.Claim {
		return catalogue.Claim{Trait: t.ID, Op: op, Value: has.Claimed()}
	}
	options := []Option{
		{Text: m.book.foot[v.name], Test: &Test{[]catalogue.Claim{shows(drawn, "="), shows(other, "!=")}}},
		{Text: m.book.foot[otherFoot[v.name]], Test: &Test{[]catalogue.Claim{shows(other, "="), shows(drawn, "!=")}}},
		{Text: m.book.feetAlike, Test: &Test{[]catalogue.Claim{shows(drawn, "="), shows(other, "=")}}},
	}
	if alike {
		options[0], options[2] = options[2], options[0]
	}
	q := Question{Subject: m.subject, About: &About{Is: s.Name}, Test: *options[0].Test, Options: options, Difficulty: 6 - drawn.Ease}
	q = m.seats.mixed(q, m.dice)
	q.Plate = m.drawing(key, v)
	q.Prompt = fmt.Sprintf(m.book.whichFoot, m.book.the(s))
	q.Reason = fmt.Sprintf(m.book.separatesFeet, sentence(m.shows(key, drawn)), m.book.clause(s, other, actual(s, other)))
	if alike {
		q.Reason += m.book.feetByNumber
	}
	return q, true
}

// faintToe are the families whose fifth toe, or whose smallest, often leaves no mark.
var faintToe = []string{"Leporidae", "Mustelidae", "Mephitidae", "Ursidae"}

// plainFoot reports whether nobody asks what both feet share: a hoof's toes,
// those of a digger, whose claws tell the foot, or those of which the print may lack one.
func (m *maker) plainFoot(key int, t catalogue.Trait) bool {
	v := m.value(key, t.ID)
	return m.value(key, "long_front_claws").Text == "yes" || v.Hi <= 2 || slices.Contains(faintToe, m.species[key].Values["family"].Text)
}
