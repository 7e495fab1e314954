package questions

import (
	"cmp"
	"maps"
	"slices"

	"fieldsign/questions/catalogue"
)

// Check says what a roster lacks, subject by subject: look-alikes that nothing
// tells apart, values not known, values that are only recalled.
type Check struct {
	Subject   string
	Species   int
	Pairs     int
	Alike     [][2]catalogue.Species // pairs that no trait separates
	Values    int                    // cells of the sheet, for these species
	Missing   []Tally                // unknown values by trait, the most first
	Blank     []Tally                // unknown values by species, the most first
	Unsettled int                    // values that vary, and so decide nothing
	Recalled  []Recall
}

// Tally counts something under a name.
type Tally struct {
	Name  string
	Count int
}

// Recall is a known value that rests on memory.
type Recall struct {
	Species catalogue.Species
	Trait   catalogue.Trait
	Value   catalogue.Value
}

// CheckRoster goes through a roster in every subject.
func CheckRoster(c *catalogue.Catalogue, roster catalogue.Roster) []Check {
	var out []Check
	for _, subject := range catalogue.Subjects {
		species := c.InPlay(roster, subject)
		traits := slices.DeleteFunc(slices.Clone(c.Traits), func(t catalogue.Trait) bool { return t.Subject != subject })
		k := Check{Subject: subject, Species: len(species)}
		k.pairs(species, traits)
		k.values(species, traits)
		out = append(out, k)
	}
	return out
}

func (k *Check) pairs(species []catalogue.Species, traits []catalogue.Trait) {
	for i, b := range species {
		for _, a := range species[:i] {
			k.Pairs++
			if !slices.ContainsFunc(traits, func(t catalogue.Trait) bool { return separated(t, a.Values[t.ID], b.Values[t.ID]) }) {
				k.Alike = append(k.Alike, [2]catalogue.Species{a, b})
			}
		}
	}
}

// values looks at the sheet's own columns; what is computed from them follows.
func (k *Check) values(species []catalogue.Species, traits []catalogue.Trait) {
	byTrait, bySpecies := map[string]int{}, map[string]int{}
	for _, s := range species {
		for _, t := range traits {
			if !t.Column() {
				continue
			}
			k.Values++
			switch v := s.Values[t.ID]; {
			case v.Status == catalogue.Unknown || v.Status == "":
				byTrait[t.Label]++
				bySpecies[s.Vernacular]++
			case v.Status == catalogue.Variable && !v.Says():
				k.Unsettled++
			case v.Says() && v.Basis == catalogue.Memory:
				k.Recalled = append(k.Recalled, Recall{s, t, v})
			}
		}
	}
	k.Missing, k.Blank = tallies(byTrait), tallies(bySpecies)
}

func tallies(count map[string]int) []Tally {
	var out []Tally
	for _, name := range slices.Sorted(maps.Keys(count)) {
		out = append(out, Tally{name, count[name]})
	}
	slices.SortStableFunc(out, func(a, b Tally) int { return cmp.Compare(b.Count, a.Count) })
	return out
}

// Unknown is how many values are not known.
func (k *Check) Unknown() int {
	sum := 0
	for _, t := range k.Missing {
		sum += t.Count
	}
	return sum
}
