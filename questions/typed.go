package questions

import (
	"slices"

	"fieldsign/questions/catalogue"
)

const (
	mostTyped  = 200 // species in play; beyond, a description of one would be too long
	mostClaims = 5
)

// typeTheName describes the key so that every other species in play provably
// fails, for the name is typed and any of them may be.
func typeTheName(m *maker, key int) (Question, bool) {
	if len(m.species) > mostTyped {
		return Question{}, false
	}
	facts := slices.DeleteFunc(m.shuffled(m.facts, m.of[key]), func(f *fact) bool { return !positive(f) || f.value.Text == "none" })
	left := newBitset(len(m.species))
	for i := range m.species {
		if i != key {
			left.add(i)
		}
	}
	var chosen []*fact
	for left.count() > 0 && len(chosen) < mostClaims {
		f := sharpest(facts, left)
		if f == nil {
			return Question{}, false
		}
		chosen = append(chosen, f)
		left = left.without(f.no)
	}
	if left.count() > 0 {
		return Question{}, false
	}
	return m.typed(key, chosen), true
}

// sharpest is the fact that most of the species left provably fail.
func sharpest(facts []*fact, left bitset) *fact {
	var best *fact
	most := 0
	for _, f := range facts {
		if n := left.clone().with(f.no).count(); n > most {
			best, most = f, n
		}
	}
	return best
}

func (m *maker) typed(key int, facts []*fact) Question {
	var wrong []int
	for i := range m.species {
		if i != key {
			wrong = append(wrong, i)
		}
	}
	var claims []catalogue.Claim
	for _, f := range facts {
		m.used[root(f.trait)]++
		claims = append(claims, f.claim)
	}
	q := m.bySpecies(key, wrong, m.name, claims)
	q.Typed = true
	q.Difficulty = 4
	q.Prompt = "Name this animal. " + sentence(describe(m.species[key], facts)) + "."
	q.Reason = "Of all the animals in play, only " + the(m.species[key]) + " fits every clue."
	return q
}
