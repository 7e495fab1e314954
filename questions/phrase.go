package questions

import (
	"strings"

	"fieldsign/questions/catalogue"
)

// the names a species in a sentence: "the red fox", "Ord's kangaroo rat".
func the(s catalogue.Species) string {
	if first, _, _ := strings.Cut(s.Vernacular, " "); strings.HasSuffix(first, "'s") {
		return s.Vernacular
	}
	return "the " + s.Vernacular
}

// part is what of the species a trait looks at; a bird has but one kind of print.
func part(s catalogue.Species, t catalogue.Trait) string {
	if s.Values["class"].Text == "bird" {
		return strings.TrimPrefix(t.Part, "front ")
	}
	return t.Part
}

// its is the part as owned: "the red fox's skull", or the animal itself.
func its(s catalogue.Species, t catalogue.Trait) string {
	if t.Part == "" {
		return the(s)
	}
	return the(s) + "'s " + part(s, t)
}

// actual puts in words what the species shows for the trait.
func actual(s catalogue.Species, t catalogue.Trait) string {
	v := s.Values[t.ID]
	if t.Kind == catalogue.YesNo && v.Text == "no" {
		return t.Wording.Denies
	}
	return t.Say(v)
}

// holds puts a fact's claim in words.
func (f fact) holds() string {
	if f.trait.Kind == catalogue.YesNo && f.value.Text == "no" {
		return f.trait.Wording.Denies
	}
	return f.trait.Say(f.value)
}

// which asks for the animal, like the key species s, whose part does as the
// verb phrase says.
func which(s catalogue.Species, t catalogue.Trait, adjective, phrase string) string {
	animal := "Which " + adjective + "animal"
	if t.Part != "" {
		animal += "'s " + part(s, t)
	}
	return animal + " " + phrase + "?"
}

// describe says facts of a species, those of one part together: "its skull has
// … and has …, and its front print shows …".
func describe(s catalogue.Species, facts []*fact) string {
	var parts []string
	phrases := map[string][]string{}
	for _, f := range facts {
		p := itsOwn(s, f.trait)
		if phrases[p] == nil {
			parts = append(parts, p)
		}
		phrases[p] = append(phrases[p], f.holds())
	}
	var clauses []string
	for _, p := range parts {
		clauses = append(clauses, p+" "+series(phrases[p]))
	}
	if len(clauses) == 2 {
		return clauses[0] + ", and " + clauses[1]
	}
	return series(clauses)
}

func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// series joins clauses: "a, b, and c".
func series(clauses []string) string {
	switch n := len(clauses); n {
	case 0:
		return ""
	case 1:
		return clauses[0]
	case 2:
		return clauses[0] + " and " + clauses[1]
	default:
		return strings.Join(clauses[:n-1], ", ") + ", and " + clauses[n-1]
	}
}
