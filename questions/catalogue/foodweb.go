package catalogue

import (
	"io/fs"
	"maps"
	"slices"
	"strings"
)

// Subjects without a sheet of what is seen: who eats whom, the words and sums of
// those who manage wildlife, and pelts and head gear, which no drawing carries.
const (
	FoodWeb    = "foodweb"
	Management = "management"
	Specimen   = "specimen"
)

// ofAll are the subjects in which every species of a roster is in play.
var ofAll = []string{FoodWeb, Management, Specimen}

// Asked are all that questions can be asked in: the sheets, and what has none.
func Asked() []string { return slices.Concat(Subjects, ofAll) }

// Prey is one thing that a source was found to say of who eats whom: a row of
// prey.csv. What is eaten is a species, or a kind of food.
type Prey struct {
	Predator, Prey string
	Source, Where  string
	Printed        string // where that isn't the name itself
	Basis          Basis  // Group where the source names a group of either
	NotTaken       string // why
}

// PreyKinds are what prey.csv may name beside species.
var PreyKinds = []string{"invertebrates", "warm prey", "cold prey", "fish", "carrion", "plants"}

// readFoodWeb reads the sheets of who eats what, where there are any.
func readFoodWeb(dir fs.FS, traits []Trait, sources map[string]Basis, species map[string]*Species, f *faults) []Prey {
	if !missing(dir, FoodWeb+".csv") {
		readSubject(dir, FoodWeb, traits, sources, species, f)
	}
	if missing(dir, "prey.csv") {
		return nil
	}
	var out []Prey
	for _, r := range readSheet(dir, "prey.csv", strings.Fields("predator prey source where printed kind not_taken note"), nil, f) {
		out = append(out, readPrey(r, sources, species, f))
	}
	return out
}

func readPrey(r row, sources map[string]Basis, species map[string]*Species, f *faults) Prey {
	c := r.cells
	p := Prey{c["predator"], c["prey"], c["source"], c["where"], c["printed"], sources[c["source"]], c["not_taken"]}
	if species[p.Predator] == nil {
		f.add(r.fault("predator", "a species of animal.csv"))
	}
	if species[p.Prey] == nil && !slices.Contains(PreyKinds, p.Prey) || p.Prey == p.Predator {
		f.add(r.fault("prey", "another species of animal.csv, or one of "+strings.Join(PreyKinds, ", ")))
	}
	if !p.Basis.Read() {
		f.add(r.fault("source", "a source of sources.csv that was read"))
	}
	if p.Where == "" {
		f.add(r.fault("where", "where in the source it stands"))
	}
	switch c["kind"] {
	case "":
	case Group.String():
		p.Basis = min(p.Basis, Group)
	default:
		f.add(r.fault("kind", "group, or nothing"))
	}
	return p
}

// With is the catalogue with further traits of a subject in place of the
// sheet's own, and the values that species have of them. What they rest on, each
// value says itself.
func (c *Catalogue) With(subject string, traits []Trait, value func(Species, Trait) Value) *Catalogue {
	out := *c
	out.Traits = slices.DeleteFunc(slices.Clone(c.Traits), func(t Trait) bool { return t.Subject == subject })
	out.Traits = append(out.Traits, traits...)
	out.traits = map[string]int{}
	for i, t := range out.Traits {
		out.traits[t.ID] = i
	}
	out.Species = slices.Clone(c.Species)
	for i := range out.Species {
		s := &out.Species[i]
		s.Values = maps.Clone(s.Values)
		for _, t := range traits {
			s.Values[t.ID] = value(*s, t)
		}
	}
	return &out
}
