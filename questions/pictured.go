package questions

import (
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// whichPlate: "Which of these is the skull of the bobcat?", over four drawings.
func whichPlate(m *maker, key int) (Question, bool) { return m.anyView(key, m.ownPlate) }

func (m *maker) ownPlate(key int, v plateView) (Question, bool) {
	facts := m.seen(key, v)
	wrong := m.company(key, v, m.apartBy(facts))
	if wrong == nil {
		return Question{}, false
	}
	q := m.pictured(key, wrong, v, covering(facts, wrong))
	q.Prompt = "Which of these is the " + v.called(m.species[key]) + " of " + the(m.species[key]) + "?"
	return q, true
}

// plateShows: "Which of these skulls has a wide diastema?", over four drawings.
func plateShows(m *maker, key int) (Question, bool) { return m.anyView(key, m.plateWith) }

func (m *maker) plateWith(key int, v plateView) (Question, bool) {
	for _, f := range m.seen(key, v) {
		if f.trait.ID == "head_gear" || !zero(f) && (!positive(f) || f.value.Text == "none") {
			continue // whose words are of the living animal, or say little
		}
		wrong := m.company(key, v, f.no)
		if wrong == nil {
			continue
		}
		q := m.pictured(key, wrong, v, []*fact{f})
		q.Prompt = "Which of these " + v.several(m.species[key]) + " " + f.holds() + "?"
		return q, true
	}
	return Question{}, false
}

// seen are the key's facts that even a small drawing shows. Small teeth can't be
// counted there, but one sees whether there are any.
func (m *maker) seen(key int, v plateView) []*fact {
	return slices.DeleteFunc(m.shuffled(m.facts, m.of[key]), func(f *fact) bool {
		return !slices.Contains(v.small, f.trait.ID) || f.trait.Unit == "per side" && !zero(f)
	})
}

// apartBy are the species that provably fail one of the facts.
func (m *maker) apartBy(facts []*fact) bitset {
	apart := newBitset(len(m.species))
	for _, f := range facts {
		apart.plus(f.no)
	}
	return apart
}

// company picks distractors that have the drawing, and no two of which look
// alike on it.
func (m *maker) company(key int, v plateView, candidates bitset) []int {
	left := candidates.clone()
	var wrong []int
	for len(wrong) < others {
		next := m.choose(key, left, 1)
		if next == nil {
			return nil
		}
		left.drop(next[0])
		if v.has(m.species[next[0]]) {
			wrong = append(wrong, next[0])
			left = left.with(m.apartBy(m.seen(next[0], v)))
		}
	}
	return wrong
}

// pictured lays out drawings as options and says afterwards whose each was.
func (m *maker) pictured(key int, wrong []int, v plateView, deciding []*fact) Question {
	var claims []catalogue.Claim
	for _, f := range deciding {
		m.used[root(f.trait)]++
		claims = append(claims, f.claim)
	}
	q := m.bySpecies(key, wrong, m.name, claims)
	said := map[string]string{m.species[key].Name: the(m.species[key]) + "'s: " + describe(m.species[key], deciding)}
	for _, i := range wrong {
		t := m.failed(i, deciding)
		said[m.species[i].Name] = the(m.species[i]) + "'s: " + itsOwn(m.species[i], t) + " " + actual(m.species[i], t)
	}
	var reasons []string
	for i := range q.Options {
		o := &q.Options[i]
		name := "Plate " + string(rune('A'+i))
		reason := name + " is " + said[o.Species] + "."
		o.Plate, o.Text = &PlateRef{Species: o.Species, View: v.pose}, name
		if i == q.Key {
			reasons = slices.Insert(reasons, 0, reason)
		} else {
			reasons = append(reasons, reason)
		}
	}
	q.Reason = strings.Join(reasons, " ")
	return q
}

// called is the view's name for a species: a bird has but one kind of print.
func (v plateView) called(s catalogue.Species) string {
	if s.Values["class"].Text == "bird" {
		return strings.TrimPrefix(v.name, "front ")
	}
	return v.name
}

func (v plateView) several(s catalogue.Species) string {
	if v.subject == "scat" {
		return "droppings"
	}
	return v.called(s) + "s"
}
