package foodweb

import (
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// Chain is a food chain from the bottom up: a kind of food or a species by its
// scientific name, then whoever eats it, and so on.
type Chain []string

const arrow = " > "

// String writes a chain as claims have it.
func (c Chain) String() string { return strings.Join(c, arrow) }

// ReadChain reads what String wrote.
func ReadChain(text string) Chain { return strings.Split(text, arrow) }

// Find finds a species by its scientific name.
type Find func(name string) (catalogue.Species, bool)

// Link says whether the one eats the other. A plant eats nothing.
func (w *Web) Link(find Find, eater, food string) Verdict {
	if k := Kind(eater); slices.Contains(Kinds, k) {
		if k.Plant() {
			return Verdict{catalogue.False, Diet, catalogue.Published}
		}
		return open
	}
	e, ok := find(eater)
	switch {
	case !ok:
		return open
	case slices.Contains(Kinds, Kind(food)):
		return w.Eats(e, Kind(food))
	}
	f, ok := find(food)
	if !ok {
		return open
	}
	return w.Preys(e, f)
}

// Possible says whether a chain can be one: every link has to hold, and one that
// fails is enough against it.
func (w *Web) Possible(find Find, c Chain) Verdict {
	all := Verdict{catalogue.True, Diet, catalogue.Published}
	against := open
	for i := 1; i < len(c); i++ {
		switch v := w.Link(find, c[i], c[i-1]); {
		case v.Truth == catalogue.False && (against.Truth == catalogue.Undecided || v.Basis > against.Basis):
			against = v
		case v.Truth == catalogue.Undecided:
			all = open
		default:
			all.Basis = min(all.Basis, v.Basis)
		}
	}
	if against.Truth == catalogue.False || len(c) < 2 {
		return against
	}
	return all
}

// Claims about chains, by their trait. The value of ChainIs is the chain. That of
// LevelIn is a word, then " in ", then the chain; it is of the species of the claim.
// That of IfGone and IfMore is two words, then " after ", then what goes or comes
// to be more, then " in " and the chain.
const (
	ChainIs = "food_chain"
	LevelIn = "level_in_chain"
	IfGone  = "if_gone"
	IfMore  = "if_more"
)

// Levels of a chain, from the bottom.
var Levels = []string{"producer", "primary consumer", "secondary consumer", "tertiary consumer"}

// Outcomes are what can follow in the short run for the two that Watched names.
var Outcomes = []string{"more, fewer", "fewer, more", "more, more", "fewer, fewer"}

// Watched are the places of the two that are asked about when the one at a place
// changes: its neighbours, or at an end of the chain the next two.
func (c Chain) Watched(at int) (lower, upper int) {
	switch at {
	case 0:
		return 1, 2
	case len(c) - 1:
		return at - 2, at - 1
	}
	return at - 1, at + 1
}

// shortest is a chain in which something can follow for two others.
const shortest = 3

// Outcome is what follows. Whoever loses its food becomes fewer; what is eaten less
// becomes more, and so does whoever eats that. If there is more of one, all turns round.
func (c Chain) Outcome(trait string, at int) string {
	gone, more := "more, fewer", "fewer, more"
	switch at {
	case 0:
		gone, more = "fewer, fewer", "more, more"
	case len(c) - 1:
		gone, more = more, gone
	}
	if trait == IfMore {
		return more
	}
	return gone
}

// AboutChain reports whether a claim is of a chain.
func AboutChain(c catalogue.Claim) bool {
	return slices.Contains([]string{ChainIs, LevelIn, IfGone, IfMore}, c.Trait)
}

// ChainOf is the chain that a claim is of.
func ChainOf(c catalogue.Claim) (Chain, bool) {
	if !AboutChain(c) {
		return nil, false
	}
	_, text, in := strings.Cut(c.Value, " in ")
	if !in {
		text = c.Value
	}
	return ReadChain(text), true
}

// Judge says whether a claim of a chain holds of a species.
func (w *Web) Judge(find Find, species string, c catalogue.Claim) Verdict {
	if c.Trait == ChainIs {
		return w.Possible(find, ReadChain(c.Value))
	}
	said, _, _ := strings.Cut(c.Value, " in ")
	chain, _ := ChainOf(c)
	v, at := w.Possible(find, chain), slices.Index(chain, species)
	if v.Truth != catalogue.True || at < 1 {
		return open
	}
	words, right := Levels, Levels[min(at, len(Levels)-1)]
	if c.Trait != LevelIn {
		word, changed, _ := strings.Cut(said, " after ")
		place := slices.Index(chain, changed)
		if place < 0 || len(chain) < shortest {
			return open
		}
		said, words, right = word, Outcomes, chain.Outcome(c.Trait, place)
	}
	switch {
	case !slices.Contains(words, said):
		return open
	case said != right:
		v.Truth = catalogue.False
	}
	return v
}
