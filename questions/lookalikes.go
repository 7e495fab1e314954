package questions

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// Lookalike is a species easily taken for another.
type Lookalike struct {
	Species    catalogue.Species
	Similarity float64     // Gower's, 0 to 1
	Separators []Separator // the easiest to see first; none: nothing in the catalogue tells the two apart
}

// Separator is a trait known of both species and different.
type Separator struct {
	Trait       catalogue.Trait
	This, Other catalogue.Value
}

// Lookalikes lists the n species of the roster most like the one given (by its
// scientific name), nearest first. Species that share no known trait with it
// have no likeness to speak of and are left out.
func (b *Bank) Lookalikes(species, subject string, n int) ([]Lookalike, error) {
	ix := b.index(subject)
	if ix == nil {
		return nil, fmt.Errorf("no subject %q: there are %s", subject, strings.Join(catalogue.Subjects, ", "))
	}
	at := slices.IndexFunc(ix.species, func(s catalogue.Species) bool { return s.Name == species })
	if at < 0 {
		return nil, fmt.Errorf("%s is not in play with its %s: choose another roster or subject", species, subject)
	}
	var list []Lookalike
	for i, s := range ix.species {
		if alike := ix.alike.of(at, i); ix.besides(at, i) && !math.IsNaN(alike) {
			list = append(list, Lookalike{Species: s, Similarity: alike})
		}
	}
	slices.SortStableFunc(list, func(a, b Lookalike) int { return cmp.Compare(b.Similarity, a.Similarity) })
	list = list[:min(len(list), max(n, 0))]
	traits := ix.deciding()
	for i := range list {
		list[i].Separators = separators(ix.species[at], list[i].Species, traits)
	}
	return list, nil
}

// deciding lists the subject's traits that questions can rest on.
func (ix *index) deciding() []catalogue.Trait {
	var out []catalogue.Trait
	add := func(t catalogue.Trait) {
		if !slices.ContainsFunc(out, func(o catalogue.Trait) bool { return o.ID == t.ID }) {
			out = append(out, t)
		}
	}
	for _, f := range ix.facts {
		add(f.trait)
	}
	for _, sc := range ix.ranges {
		add(sc.trait)
	}
	return out
}

// separators lists the traits that tell two species apart, the easiest
// first. A trait is left out where one computed from it says the same: the
// tooth that differs is easier to look for than the whole formula.
func separators(this, other catalogue.Species, traits []catalogue.Trait) []Separator {
	var out []Separator
	finer := map[string]bool{}
	for _, t := range traits {
		if a, b := this.Values[t.ID], other.Values[t.ID]; separated(t, a, b) {
			out = append(out, Separator{t, a, b})
			finer[t.From] = true
		}
	}
	out = slices.DeleteFunc(out, func(s Separator) bool { return finer[s.Trait.ID] })
	slices.SortStableFunc(out, func(a, b Separator) int { return b.Trait.Ease - a.Trait.Ease })
	return out
}

// apart reports whether two values of a trait prove two animals different.
func apart(t catalogue.Trait, a, b catalogue.Value) bool {
	return t.Kind != catalogue.Set && catalogue.Apart(a, b) && !passBothWays(t.ID, a, b)
}

// separated reports whether a trait tells two animals apart: always, or in
// what the one usually shows and the other can't.
func separated(t catalogue.Trait, a, b catalogue.Value) bool {
	return apart(t, a, b) || usuallyApart(t, a, b) || usuallyApart(t, b, a)
}

func usuallyApart(t catalogue.Trait, a, b catalogue.Value) bool {
	claim := catalogue.Claim{Trait: t.ID, Op: "=", Value: a.Claimed()}
	return a.Usual != "" && claim.Holds(b) == catalogue.False && !passBothWays(t.ID, a, b)
}
