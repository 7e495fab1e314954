package debrief

import (
	"slices"

	"fieldsign/game"
)

// Facts is what the caller knows about questions, by their ids.
type Facts map[string]About

// About is what a question is about. Species and Stated go with the options,
// one each; at most one of the two is given.
type About struct {
	Template string   `json:"template,omitempty"`
	Species  []string `json:"species,omitempty"` // where the options are species
	Stated   []string `json:"stated,omitempty"`  // where they are statements: the trait that each is about
	Animals  []string `json:"animals,omitempty"` // whom statements are about: one, or two to be told apart
	Traits   []string `json:"traits,omitempty"`  // that decide
}

// of falls back on the options' texts for a question that the facts don't
// know, or know with other options.
func (f Facts) of(q game.Question) About {
	fits := func(list []string) bool { return len(list) == 0 || len(list) == len(q.Options) }
	a, known := f[q.ID]
	if !known || !fits(a.Species) || !fits(a.Stated) {
		return About{Species: q.Options}
	}
	return a
}

// tested is the species whose knowledge a question tests.
func (a About) tested(key int) []string {
	if len(a.Species) > 0 {
		return []string{a.Species[key]}
	}
	return distinct(a.Animals)
}

// distinct leaves out repeated and empty names.
func distinct(names []string) []string {
	var out []string
	for _, n := range names {
		if n != "" && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}
