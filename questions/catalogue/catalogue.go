// Package catalogue holds the data that every question is computed from:
// species × traits, each value with its source. It reads the CSV sheets, refuses
// broken ones with all their faults at once, and says what a trait's value
// means in words. It knows nothing of questions or games.
package catalogue

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// Kind is how a trait's values are written and compared.
type Kind string

const (
	State   Kind = "state"   // one word of a list
	Set     Kind = "set"     // some words of a list
	YesNo   Kind = "yes/no"  //
	Count   Kind = "count"   // a whole number
	Range   Kind = "range"   // from..to, in the trait's unit
	Formula Kind = "formula" // a dental formula
)

// Status says whether a value may decide a question: only a known one may.
type Status string

const (
	Unknown       Status = "unknown"
	Known         Status = "known"
	Variable      Status = "variable"
	NotApplicable Status = "not applicable"
)

// Value is what the catalogue knows of one trait of one species.
// Which fields are set follows from the trait's kind; the zero Value is unknown.
// A variable value may have bounds: what it usually is, and what else it may be.
type Value struct {
	Status  Status
	Text    string   // state, yes/no, formula
	Members []string // set, in the order of the trait's allowed words
	Usual   string   // what a variable value is most often
	Maybe   []string // of a set, words that may or may not belong; of another kind, what it may be beside the usual
	Lo, Hi  float64  // range; a count has Lo == Hi, or varies between them
	Source  string   // ids of the sources sheet, separated by ;
	Basis   Basis    // the kind of what it rests on
}

// Known reports whether the value may decide a question.
func (v Value) Known() bool { return v.Status == Known }

// String writes the value as the CSV export does.
func (v Value) String() string {
	switch {
	case v.Status == "":
		return string(Unknown)
	case v.bounded():
		return v.hedged()
	case v.Status != Known:
		return string(v.Status)
	case v.Members != nil:
		return cmp.Or(strings.Join(v.Members, ";"), nothing)
	case v.Text != "":
		return v.Text
	}
	return span(v.Lo, v.Hi)
}

// Number reports whether the value is a count or a range.
func (v Value) Number() bool { return v.Text == "" && v.Members == nil && (v.Maybe == nil || v.Hi > 0) }

func span(lo, hi float64) string {
	if lo == hi {
		return number(lo)
	}
	return number(lo) + ".." + number(hi)
}

func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// Trait describes a column of a subject's sheet, or one computed from such a column.
type Trait struct {
	ID      string
	Subject string // one of Asked
	Label   string
	Kind    Kind
	Unit    string   // of a range; "per side" for a count of teeth
	Allowed []string // states or members; empty: any text
	Part    string   // what is looked at: "skull", "hind print"; empty: the animal itself
	Wording Wording
	Weight  float64 // how much the trade teaches it: how often it is asked, and counts in the similarity of two species
	Ease    int     // how easily it is seen, 1 (hard) to 5
	Note    string
	From    string // the trait it is computed from, if any
}

// Species is a row of the catalogue.
type Species struct {
	Name       string // scientific
	Vernacular string
	OtherNames []string
	Spanish    string
	Values     map[string]Value
	Subjects   []string // the sheets that have a row for it

	OtherSpanish []string // names that may be typed, beside the one shown

	Article string // of the Vernacular, in a language that needs it
}

// Has reports whether the species is in the subject's sheet.
func (s Species) Has(subject string) bool { return slices.Contains(s.Subjects, subject) }

// Source says where values come from, and where it was opened to be read.
type Source struct{ ID, Kind, Citation, Opened string }

// Catalogue is read-only once loaded and so safe for concurrent use.
type Catalogue struct {
	Traits  []Trait
	Species []Species // by scientific name
	Sources []Source
	Lore    []Lore

	Cautions []Caution
	Prey     []Prey

	Language Language // of the Vernaculars, the wording, the lore and the cautions

	traits       map[string]int
	species      map[string]int
	translations map[Language]translation
	evidence     map[cell][]Reading
}

// Trait finds a trait by its id.
func (c *Catalogue) Trait(id string) (Trait, bool) {
	i, ok := c.traits[id]
	if !ok {
		return Trait{}, false
	}
	return c.Traits[i], true
}

// Find finds a species by its scientific name.
func (c *Catalogue) Find(name string) (Species, bool) {
	i, ok := c.species[name]
	if !ok {
		return Species{}, false
	}
	return c.Species[i], true
}

// New builds a catalogue from its parts, computing the derived traits and their values.
func New(traits []Trait, species []Species, sources []Source) *Catalogue {
	c := &Catalogue{Species: species, Sources: sources, traits: map[string]int{}, species: map[string]int{}}
	for _, t := range traits {
		c.Traits = append(c.Traits, expanded(t)...)
	}
	for i, t := range c.Traits {
		c.traits[t.ID] = i
	}
	slices.SortFunc(c.Species, func(a, b Species) int { return strings.Compare(a.Name, b.Name) })
	for i, s := range c.Species {
		c.species[s.Name] = i
		for _, t := range traits {
			derive(s.Values, t)
		}
	}
	return c
}

// expanded is a sheet's trait with those computed from it.
func expanded(t Trait) []Trait {
	out := []Trait{t}
	if t.Kind == Set {
		out = append(out, memberTraits(t)...)
	}
	return out
}
