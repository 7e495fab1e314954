package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// Pelts and head gear are asked by name alone: no sheet has their traits. What is
// shown is a photo of the host's, or the specimen itself that the host lays out.
// Species of one genus may have pelts that nobody tells apart, so only those of
// another stand beside the key; that is the claim which is proved.

// genus is the trait of that claim: the first word of the scientific name.
const genus = "genus"

// Specimens are the drawings that only stand for what is shown.
func Specimens() []string { return []string{"pelt", "head gear"} }

// hasSpecimen reports whether an animal has one of a kind.
func hasSpecimen(kind string, s catalogue.Species) bool {
	if kind == "pelt" {
		return s.Values["class"].Text == "mammal"
	}
	return slices.Contains([]string{"antlers", "horns"}, s.Values["head_gear"].Typical().Text)
}

func specimenViews() []plateView {
	var out []plateView
	for _, kind := range Specimens() {
		has := func(s catalogue.Species) bool { return hasSpecimen(kind, s) }
		out = append(out, plateView{name: kind, subject: catalogue.Specimen, size: sizes[catalogue.Specimen], has: has, draw: func(_ plate.Hand, s catalogue.Species) (plate.Plate, bool) {
			if !has(s) {
				return plate.Plate{}, false
			}
			return plate.Specimen(kind)
		}})
	}
	return out
}

// withGenus is the catalogue with the genus as a trait that nothing but specimens
// are asked by.
func withGenus(c *catalogue.Catalogue) *catalogue.Catalogue {
	t := catalogue.Trait{ID: genus, Subject: catalogue.Specimen, Label: Called(c, genus), Kind: catalogue.State}
	return c.With(catalogue.Specimen, []catalogue.Trait{t}, func(s catalogue.Species, _ catalogue.Trait) catalogue.Value {
		return catalogue.Value{Status: catalogue.Known, Text: genusOf(s), Basis: catalogue.Published}
	})
}

func genusOf(s catalogue.Species) string {
	word, _, _ := strings.Cut(s.Name, " ")
	return word
}

// samePelt reports whether two may have pelts that nobody tells apart. Long-tailed
// weasel and mink were of one genus with the ermine until 2021.
func samePelt(a, b catalogue.Species) bool {
	before := map[string]string{"Neogale": "Mustela"}
	return cmp.Or(before[genusOf(a)], genusOf(a)) == cmp.Or(before[genusOf(b)], genusOf(b))
}

// ofSpecimen reports whether the question is on a pelt or on head gear.
func (q Question) ofSpecimen() bool { return q.Subject == catalogue.Specimen }

// whoseSpecimen: "Whose pelt is this?"
func whoseSpecimen(m *maker, key int) (Question, bool) { return m.anyView(key, m.specimen) }

func (m *maker) specimen(key int, v plateView) (Question, bool) {
	ref := m.drawing(key, v)
	if m.photos != nil && !slices.Contains(m.photos, *ref) {
		return Question{}, false
	}
	others := newBitset(len(m.species))
	for i, s := range m.species {
		if v.has(s) && !samePelt(s, m.species[key]) {
			others.add(i)
		}
	}
	wrong := m.choose(key, others, m.wrong)
	if wrong == nil {
		return Question{}, false
	}
	s := m.species[key]
	q := m.bySpecies(key, wrong, m.name, []catalogue.Claim{shows(genus, genusOf(s))})
	q.Plate, q.Prompt = ref, m.book.view(v.name, s).whose
	q.Reason = fmt.Sprintf(m.book.specimenReason, m.book.the(s), s.Name)
	return q, true
}
