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
// LevelIn and IfGone is a word, then " in ", then the chain; whom it is of is the
// species of the claim.
const (
	ChainIs = "food_chain"
	LevelIn = "level_in_chain"
	IfGone  = "if_gone"
)

// Levels of a chain, from the bottom.
var Levels = []string{"producer", "primary consumer", "secondary consumer", "tertiary consumer"}

// Outcomes are what can follow in the short run in a chain of which one animal
// is gone: for what it ate, then for what ate it. The first is what does.
var Outcomes = []string{"more, fewer", "fewer, more", "more, more", "fewer, fewer"}

// AboutChain reports whether a claim is of a chain.
func AboutChain(c catalogue.Claim) bool {
	return slices.Contains([]string{ChainIs, LevelIn, IfGone}, c.Trait)
}

// Judge says whether a claim of a chain holds of a species.
func (w *Web) Judge(find Find, species string, c catalogue.Claim) Verdict {
	if c.Trait == ChainIs {
		return w.Possible(find, ReadChain(c.Value))
	}
	word, text, _ := strings.Cut(c.Value, " in ")
	chain := ReadChain(text)
	v, at := w.Possible(find, chain), slices.Index(chain, species)
	right := c.Trait == LevelIn && at >= 0 && at < len(Levels) && word == Levels[at] ||
		c.Trait == IfGone && word == Outcomes[0]
	known := c.Trait == LevelIn && slices.Contains(Levels, word) || c.Trait == IfGone && slices.Contains(Outcomes, word) && at+1 < len(chain)
	switch {
	case v.Truth != catalogue.True || at < 1 || !known:
		return open
	case !right:
		v.Truth = catalogue.False
	}
	return v
}
