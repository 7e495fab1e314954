package questions

import (
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// What a question discloses is how an animal stands in a trait, and whose a value
// or a wrong statement is: its key, its wrong options and its reason say it. Nothing of
// this is asked again soon (tells and asks in tells.go), and a wrong option that falls
// by it is spent: who listened strikes it out.

// wider is what is as good as told with a fact: the other parts of a tight whole, and
// the same of the animal's twins, those of its genus that have the same value.
func (b *Bank) wider(f told) []told {
	var out []told
	s, animal := b.catalogue.Find(f.species)
	if w := related[f.trait].hint; animal && w != "" {
		out = append(out, told{f.species, w})
	}
	trait := gistOf(f.trait)
	if value := s.Values[trait].Claimed(); animal && value != "" {
		genus, _, _ := strings.Cut(f.species, " ")
		out = append(out, told{genus, trait + "=" + value})
	}
	return out
}

// owned is that some animal is known for a value.
func owned(c catalogue.Claim) told { return told{"", c.Trait + "=" + c.Value} }

// discloses lists what is known after a question. Of the trade's own words nothing is
// disclosed about another word, but whoever heard that three lobes suggest a cat strikes
// them out for a fox.
func (b *Bank) discloses(q Question) []told {
	var out []told
	for _, f := range q.tells() {
		if _, animal := b.catalogue.Find(f.species); animal {
			out = append(out, f.gist())
		}
	}
	for _, c := range q.Test.All {
		for _, f := range out {
			if s, _ := b.catalogue.Find(f.species); f.trait == (told{"", c.Trait}).gist().trait {
				out = append(out, owned(catalogue.Claim{Trait: c.Trait, Value: s.Values[c.Trait].Claimed()}))
			}
		}
	}
	for _, o := range q.Options {
		if lesson, is := q.suggests(o); is {
			out = append(out, owned(lesson))
			for more, said := range implies {
				if said == owned(lesson).trait {
					out = append(out, told{"", more})
				}
			}
		}
	}
	return append(out, q.disowned()...)
}

// disowned is what the wrong statements on an animal are true of: the reason says so.
func (q Question) disowned() []told {
	var out []told
	if q.About == nil || q.About.Not != "" || !slices.Contains(catalogue.Usual, q.Subject) {
		return nil
	}
	for i, o := range q.Options {
		if i == q.Key || o.Test == nil || o.Test.All[0].Op != "=" {
			continue
		}
		out = append(out, owned(o.Test.All[0]))
	}
	return out
}

// spent counts the wrong options that fall by what is known.
func (q Question) spent(known func(told) bool) int {
	n := 0
	for i, o := range q.Options {
		if i != q.Key && slices.ContainsFunc(q.fellBy(o), known) {
			n++
		}
	}
	return n
}

// fellBy is what would strike out a wrong option.
func (q Question) fellBy(o Option) []told {
	var out []told
	switch {
	case o.Test != nil && q.About.Not != "": // it is true of both
		return []told{told{q.About.Not, o.Test.All[0].Trait}.gist()}
	case o.Test != nil:
		c := o.Test.All[0]
		return append(q.strayed(c), told{q.About.Is, c.Trait}.gist(), owned(c))
	}
	for _, c := range q.Test.All {
		out = append(out, told{o.Species, c.Trait}.gist())
	}
	return out
}
