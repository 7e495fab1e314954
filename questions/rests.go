package questions

import (
	"slices"

	"fieldsign/questions/catalogue"
)

// Rests is the kind of the weakest fact that decides a question: of all that
// its key needs to hold, and for each other option of the best that fails it.
func (b *Bank) Rests(q Question) catalogue.Basis {
	weakest := catalogue.Published
	for i := range q.Options {
		weakest = min(weakest, b.optionRests(q, i))
	}
	if q.Plate != nil && q.Plate.Test != nil {
		weakest = min(weakest, b.rests(q.Subject, q.Plate.Species, *q.Plate.Test, catalogue.True))
	}
	return weakest
}

func (b *Bank) optionRests(q Question, i int) catalogue.Basis {
	o, truth := q.Options[i], catalogue.False
	if i == q.Key {
		truth = catalogue.True
	}
	switch {
	case q.Plate != nil && q.Plate.With != "":
		return b.pairRests(q, o)
	case q.About == nil:
		return b.rests(q.Subject, o.Species, q.Test, truth)
	case q.About.Not == "" || i == q.Key:
		is := b.rests(q.Subject, q.About.Is, *o.Test, truth)
		if q.About.Not != "" {
			is = min(is, b.rests(q.Subject, q.About.Not, *o.Test, catalogue.False))
		}
		return is
	}
	// Of two animals: false of the one, or true of the other, will do.
	return max(b.rests(q.Subject, q.About.Is, *o.Test, catalogue.False), b.rests(q.Subject, q.About.Not, *o.Test, catalogue.True))
}

// rests is the kind of what makes a test true or false of an animal or of an
// entry of lore; memory where it is neither.
func (b *Bank) rests(subject, name string, test Test, want catalogue.Truth) catalogue.Basis {
	if v, is := b.inChain(subject, name, test); is {
		return v.Basis
	}
	if _, is := inSum(subject, test); is {
		return catalogue.Published // the methods are
	}
	s, ok := b.find(subject, name)
	if !ok {
		at := slices.IndexFunc(b.lore, func(l catalogue.Lore) bool { return l.Name == name })
		if at < 0 {
			return catalogue.Memory
		}
		return b.lore[at].Basis
	}
	weakest, best := catalogue.Published, catalogue.Memory
	for _, c := range test.All {
		v := s.Values[c.Trait]
		if c.Holds(v) == want {
			weakest, best = min(weakest, v.Basis), max(best, v.Basis)
		} else if want == catalogue.True {
			return catalogue.Memory
		}
	}
	if want == catalogue.True {
		return weakest
	}
	return best
}

// pairRests is of two prints: they are of one kind by being drawn so, or differ
// in a trait by what is known of both.
func (b *Bank) pairRests(q Question, o Option) catalogue.Basis {
	one, _ := b.find(q.Subject, q.Plate.Species)
	two, _ := b.find(q.Subject, q.Plate.With)
	if o.Differ != "" {
		return min(one.Values[o.Differ].Basis, two.Values[o.Differ].Basis)
	}
	if one.Name == two.Name {
		return catalogue.Published
	}
	best := catalogue.Memory
	for _, other := range q.Options {
		if b.pairTruth(q, other) == catalogue.True && other.Differ != "" {
			best = max(best, b.pairRests(q, other))
		}
	}
	return best
}
