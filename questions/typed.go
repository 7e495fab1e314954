package questions

import (
	"fmt"
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
	facts := m.shuffled(m.facts, m.of[key], func(f *fact) bool { return positive(f) && !none(f) })
	for i, f := range facts {
		facts[i] = f.inHand()
	}
	facts = append(facts, m.sizes(key)...)
	left := newBitset(len(m.species))
	for i := range m.species {
		if i != key {
			left.add(i)
		}
	}
	var chosen []*fact
	for left.count() > 0 && len(chosen) < mostClaims {
		f := m.sharp(facts, left)
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

// sizes are facts on the key's ranges: "is 95 to 130 mm long" rules out the
// species whose ranges don't touch it. A bird's decides nothing where it is only
// recalled: few measured them.
func (ix *index) sizes(key int) []*fact {
	kept, ok := ix.sized.Load(key)
	if !ok {
		kept, _ = ix.sized.LoadOrStore(key, ix.sizesOf(key))
	}
	return kept.([]*fact)
}

func (ix *index) sizesOf(key int) []*fact {
	var out []*fact
	for _, sc := range ix.ranges {
		v := ix.value(key, sc.trait.ID)
		recalled := func(v catalogue.Value) bool { return ix.class[key] == "bird" && v.Basis == catalogue.Memory }
		if sc.trait.Kind != catalogue.Range || !v.Known() || recalled(v) {
			continue
		}
		f := newFact(sc.trait, v, catalogue.Claim{}, len(ix.species))
		for at, i := range sc.known {
			if w := sc.values[at]; clearOf(v, w) && plainlyApart(v, w) && !recalled(w) {
				f.no.add(i)
			}
		}
		out = append(out, f)
	}
	return out
}

// clearOf reports whether two sizes keep a tenth between them. Where they nearly
// touch, a large one of the one kind and a small one of the other are alike.
func clearOf(v, w catalogue.Value) bool {
	const margin = 1.1
	return v.Lo >= margin*w.Hi || w.Lo >= margin*v.Hi
}

// plainlyApart are sizes of which one sees the difference by a scale.
func plainlyApart(v, w catalogue.Value) bool {
	const least = 1.3
	ratio := (v.Lo + v.Hi) / (w.Lo + w.Hi)
	return ratio >= least || ratio <= 1/least
}

// claims is what a fact says in machine form; a size lies within two bounds.
func (f *fact) claims() []catalogue.Claim {
	if f.trait.Kind != catalogue.Range {
		return []catalogue.Claim{f.claim}
	}
	bound := func(op string, x float64) catalogue.Claim {
		return catalogue.Claim{Trait: f.trait.ID, Op: op, Value: catalogue.Value{Status: catalogue.Known, Lo: x, Hi: x}.String()}
	}
	return []catalogue.Claim{bound(">=", f.value.Lo), bound("<=", f.value.Hi)}
}

// sharp is one of the few facts that most of the species left provably fail.
func (m *maker) sharp(facts []*fact, left bitset) *fact {
	const few = 4
	fails := map[*fact]int{}
	for _, f := range facts {
		fails[f] = left.shared(f.no)
	}
	best := slices.Clone(facts)
	slices.SortStableFunc(best, func(a, b *fact) int { return fails[b] - fails[a] })
	best = slices.DeleteFunc(best[:min(few, len(best))], func(f *fact) bool { return fails[f] == 0 })
	if len(best) == 0 {
		return nil
	}
	return best[m.dice.IntN(len(best))]
}

func (m *maker) typed(key int, facts []*fact) Question {
	var wrong []int
	for i := range m.species {
		if i != key {
			wrong = append(wrong, i)
		}
	}
	q := m.decided(key, wrong, facts)
	q.Typed = true
	q.Difficulty = 4
	q.Prompt = fmt.Sprintf(m.book.name, sentence(m.book.describe(m.species[key], facts)))
	q.Reason = fmt.Sprintf(m.book.nameReason, m.book.the(m.species[key]))
	return q
}
