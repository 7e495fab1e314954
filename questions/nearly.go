package questions

import (
	"slices"
	"strings"
)

// passing is a value that an animal lacks and could be said to show, since it shows
// another.
type passing struct {
	said, shown string // trait=value, or a trait whatever its value
	how         how
}

// how a value passes for another.
type how int

const (
	byEye    how = iota // nobody is asked to deny it
	asGood              // nor is an animal told by it from one that has it
	inDegree            // likewise, unless the two are in hand, as with a key
)

// nearly are the values that pass for each other. Some pass one way: whatever is on a
// skull, two ridges that draw together pass for a V unless they make a lyre.
var nearly = slices.Concat(
	[]passing{
		{"large_canines=yes", "cheek_teeth=insect-piercing", byEye}, // a mole's tall front tooth
		{"carnassials=yes", "order=Carnivora", byEye},               // small ones are carnassials, too
		{"front_toes=5", "hind_toes=5", byEye},                      // a small fifth shows in good mud
		{"toes_forward", "front_webbing=full", byEye},               // nobody counts toes under a web
		{"scat_ends", "scat_form=loose", byEye},                     // what is loose has any ends
		{"temporal_ridges=V", "temporal_ridges=single crest", byEye},
		{"temporal_ridges=V", "temporal_ridges=parallel", byEye},
		{"temporal_ridges=V", "temporal_ridges=none", byEye},
		{"cheek_teeth=flat grinding", "cheek_teeth=crescent-ridged", asGood}, // which are flat and grind
		{"hind_toe=long", "hind_toe=two", asGood},                            // of two turned back one is long
		{"heel_pad=triangular", "heel_pad=chevron bar", asGood},
		{"pellet_shape=nippled", "pellet_shape=barrel", asGood}, // many a pellet of the moose
		{"scat_ends=pointed and dimpled", "pellet_shape=barrel", asGood},
		{"scat_ends=rounded", "scat_ends=pointed and dimpled", asGood},
		{"scat_placement_under_trees=yes", "scat_placement_scattered_where_it_feeds=yes", byEye}, // at trees, too
		{"scat_placement_scattered_where_it_feeds=yes", "scat_placement_under_trees=yes", byEye}, // in which it feeds
	},
	mutual(byEye, "last_upper_molar", "squarish", "broad and blunt", "long grinder"),
	mutual(byEye, "bulla", "round", "inflated"),
	mutual(byEye, "bulla", "small", "flattened"),
	mutual(byEye, "molar_pattern", "V folds", "flat triangles"),
	mutual(byEye, "gait", "walk", "pace"),
	mutual(byEye, "gait", "bound", "lope"),
	mutual(byEye, "group_pattern", "2x2", "twos"),
	mutual(byEye, "scat_form", "cord", "segmented cord"),
	mutual(byEye, "scat_form", "cord", "twisted cord"),
	mutual(byEye, "scat_form", "pellet", "round pellet"),
	mutual(byEye, "pellet_shape", "nippled", "barrel"),
	mutual(byEye, "scat_ends", "blunt", "rounded"),
	mutual(byEye, "cache", "nuts buried one by one", "a store in its burrow"),
	mutual(inDegree, "bulla", "moderate", "inflated"),
	mutual(asGood, "gait", "bound", "hop"),
)

// inHand is a fact for whoever has the animals at hand, or all the clues, and tells
// degrees.
func (f *fact) inHand() *fact {
	if f.degrees.count() == 0 {
		return f
	}
	out := *f
	out.no = f.no.clone().plus(f.degrees)
	return &out
}

// mutual are values of a trait of which each passes for any other.
func mutual(h how, trait string, values ...string) []passing {
	var out []passing
	for _, a := range values {
		for _, b := range values {
			if a != b {
				out = append(out, passing{trait + "=" + a, trait + "=" + b, h})
			}
		}
	}
	return out
}

// sparing notes who shows what passes for a fact, and holds it against nobody who shows
// what is alike.
func (f *fact) sparing(ix *index) *fact {
	said := f.trait.ID + "=" + f.value.Typical().String()
	f.passed, f.degrees = newBitset(len(ix.species)), newBitset(len(ix.species))
	for _, p := range nearly {
		if p.said != said && p.said != f.trait.ID {
			continue
		}
		trait, value, _ := strings.Cut(p.shown, "=")
		for _, i := range f.no.members() {
			switch {
			case !ix.value(i, trait).May(value):
			case p.how == asGood:
				f.no.drop(i)
			case p.how == inDegree:
				f.no.drop(i)
				f.degrees.add(i)
			default:
				f.passed.add(i)
			}
		}
	}
	return f
}
