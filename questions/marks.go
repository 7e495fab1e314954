package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// Marks are the fewest traits of a subject by which a species is told from all
// others in play, as far as the catalogue can tell them apart at all.
type Marks struct {
	Subject string
	Traits  []Mark              // the one that tells most first
	Others  int                 // in play
	Alike   []catalogue.Species // that no trait of the subject tells from it
}

// Mark is one of those traits.
type Mark struct {
	Trait catalogue.Trait
	Apart []catalogue.Species // that it tells from the species
	Left  []catalogue.Species // whom neither it nor those before it tell apart
}

// Marks finds them. No smaller set does: this is minimum set cover, solved
// exactly. Of the sets of that size it is the one most easily seen. A dental
// formula counts for nothing, since it is eight traits in one.
func (b *Bank) Marks(species, subject string) (Marks, error) {
	ix := b.index(subject)
	if ix == nil {
		return Marks{}, fmt.Errorf("no subject %q: there are %s", subject, strings.Join(catalogue.Subjects, ", "))
	}
	at := slices.IndexFunc(ix.species, func(s catalogue.Species) bool { return s.Name == species })
	if at < 0 {
		return Marks{}, fmt.Errorf("%s is not in play with its %s: choose another roster or subject", species, subject)
	}
	c := cover{left: newBitset(len(ix.species))}
	for _, t := range b.catalogue.Traits {
		if told := ix.toldBy(at, t); told.count() > 0 {
			c.sets = append(c.sets, told)
			c.traits = append(c.traits, t)
			c.left.plus(told)
		}
	}
	return ix.marks(at, c), nil
}

// toldBy are the species that a trait tells for certain from the one at a place.
// By its signs an animal is told by what it leaves, and not by what it doesn't.
func (ix *index) toldBy(at int, t catalogue.Trait) bitset {
	told := newBitset(len(ix.species))
	if t.Subject != ix.subject || t.Kind == catalogue.Formula || ix.subject == "sign" && ix.species[at].Values[t.ID].Text == "no" {
		return told
	}
	for i := range ix.species {
		if ix.besides(at, i) && apart(t, ix.species[at].Values[t.ID], ix.species[i].Values[t.ID]) {
			told.add(i)
		}
	}
	return told
}

// marks puts the fewest sets in words, the one that tells most of those left first.
func (ix *index) marks(at int, c cover) Marks {
	m := Marks{Subject: ix.subject}
	left := newBitset(len(ix.species))
	for i, s := range ix.species {
		if !ix.besides(at, i) {
			continue
		}
		m.Others++
		left.add(i)
		if !c.left.has(i) {
			m.Alike = append(m.Alike, s)
		}
	}
	chosen := c.fewest()
	for len(chosen) > 0 {
		most := slices.MaxFunc(chosen, func(a, b int) int {
			return cmp.Compare(left.shared(c.sets[a]), left.shared(c.sets[b]))
		})
		chosen = slices.DeleteFunc(chosen, func(i int) bool { return i == most })
		left = left.without(c.sets[most])
		m.Traits = append(m.Traits, Mark{Trait: c.traits[most], Apart: ix.named(c.sets[most]), Left: ix.named(left)})
	}
	return m
}

func (ix *index) named(group bitset) []catalogue.Species {
	var out []catalogue.Species
	for _, i := range group.members() {
		out = append(out, ix.species[i])
	}
	return out
}

// cover is the search for the fewest sets that hold all that is left.
type cover struct {
	left   bitset
	sets   []bitset
	traits []catalogue.Trait

	best  []int
	value float64
}

// fewest tries one set, then any two, and so on.
func (c *cover) fewest() []int {
	for size := 1; size <= len(c.sets) && c.best == nil; size++ {
		c.search(c.left, nil, size, 0)
	}
	return c.best
}

// search takes one of the sets that hold the member which fewest sets hold: one
// of these any cover must have.
func (c *cover) search(left bitset, chosen []int, more int, value float64) {
	switch n := left.count(); {
	case n == 0:
		if c.best == nil || value > c.value {
			c.best, c.value = slices.Clone(chosen), value
		}
		return
	case more == 0 || n > more*c.largest(left):
		return
	}
	for _, i := range c.holding(c.rarest(left)) {
		c.search(left.clone().without(c.sets[i]), append(chosen, i), more-1, value+c.seen(i))
	}
}

// seen is how easily a trait is seen; of equal ones the weightier counts.
func (c *cover) seen(i int) float64 { return float64(c.traits[i].Ease) + c.traits[i].Weight/1000 }

func (c *cover) largest(left bitset) int {
	most := 0
	for _, s := range c.sets {
		most = max(most, left.shared(s))
	}
	return most
}

func (c *cover) rarest(left bitset) int {
	return slices.MinFunc(left.members(), func(a, b int) int { return len(c.holding(a)) - len(c.holding(b)) })
}

func (c *cover) holding(member int) []int {
	var out []int
	for i, s := range c.sets {
		if s.has(member) {
			out = append(out, i)
		}
	}
	return out
}
