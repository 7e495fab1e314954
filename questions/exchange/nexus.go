package exchange

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// symbols are what states are written with; NEXUS does not tell small letters
// from capitals.
const symbols = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

const nexusRules = `Unordered states, one symbol each, as labelled.
 ? not known, or variable among states that are not on record
 - not applicable
 (01) yes and no both occur
 Measurements are left out: their ranges overlap, and any bins would be invented here.
 A dental formula stands as its tooth counts; a list, such as what a scat holds, as a yes/no character for each member.`

// character is a trait as a column of the matrix.
type character struct {
	trait  catalogue.Trait
	states []string
}

// NEXUS writes the trait matrix of a roster's species in a subject.
func NEXUS(w io.Writer, c *catalogue.Catalogue, roster catalogue.Roster, subject string) error {
	species, err := speciesOf(c, roster, subject)
	if err != nil {
		return err
	}
	var characters []character
	most := 2 // states, so that there is always a yes and a no
	for _, t := range c.Traits {
		if t.Subject != subject || !slices.Contains([]catalogue.Kind{catalogue.State, catalogue.YesNo, catalogue.Count}, t.Kind) {
			continue
		}
		states := statesOf(t, species)
		if len(states) > len(symbols) {
			return fmt.Errorf("%s has %d states in roster %s, and NEXUS takes %d: choose a smaller roster", t.Label, len(states), roster.Name, len(symbols))
		}
		if len(states) > 0 {
			most = max(most, len(states))
			characters = append(characters, character{t, states})
		}
	}
	if len(characters) == 0 {
		return fmt.Errorf("nothing is known of the %s of roster %s that a matrix could hold", subject, roster.Name)
	}
	_, err = io.WriteString(w, matrix(roster.Name, subject, species, characters, most))
	return err
}

// statesOf are the states that a trait may have, or where the sheet does not
// limit them those that occur, numbers by size.
func statesOf(t catalogue.Trait, species []catalogue.Species) []string {
	switch {
	case t.Kind == catalogue.YesNo:
		return []string{"no", "yes"}
	case len(t.Allowed) > 0:
		return t.Allowed
	}
	var known []catalogue.Value
	for _, s := range species {
		if v := s.Values[t.ID]; v.Known() {
			known = append(known, v)
		}
	}
	slices.SortFunc(known, func(a, b catalogue.Value) int {
		if a.Lo != b.Lo {
			return int(a.Lo - b.Lo) // counts are whole
		}
		return strings.Compare(a.Text, b.Text)
	})
	var states []string
	for _, v := range known {
		states = append(states, v.String())
	}
	return slices.Compact(states)
}

// cell is a species' entry in the character's column.
func (ch character) cell(s catalogue.Species) string {
	v := s.Values[ch.trait.ID]
	switch v.Status {
	case catalogue.Known:
		return symbols[slices.Index(ch.states, v.String()):][:1]
	case catalogue.NotApplicable:
		return "-"
	case catalogue.Variable:
		// Of a list that is variable as a whole no single member is said to be.
		if ch.trait.Kind == catalogue.YesNo && (ch.trait.From == "" || s.Values[ch.trait.From].Known()) {
			return "(01)"
		}
	}
	return "?"
}

func matrix(roster, subject string, species []catalogue.Species, characters []character, most int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "#NEXUS\n[Fieldsign catalogue: roster %s by %s.\n%s]\n\n", strings.NewReplacer("[", "(", "]", ")").Replace(roster), subject, nexusRules)
	fmt.Fprintf(&b, "BEGIN TAXA;\n\tDIMENSIONS NTAX=%d;\n\tTAXLABELS", len(species))
	for _, s := range species {
		b.WriteString(" " + token(s.Name))
	}
	fmt.Fprintf(&b, ";\nEND;\n\nBEGIN CHARACTERS;\n\tDIMENSIONS NCHAR=%d;\n\tFORMAT DATATYPE=STANDARD SYMBOLS=\"%s\" MISSING=? GAP=-;\n\tCHARSTATELABELS", len(characters), symbols[:most])
	for i, ch := range characters {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "\n\t\t%d %s /", i+1, token(ch.trait.Label))
		for _, state := range ch.states {
			b.WriteString(" " + token(state))
		}
	}
	b.WriteString(";\n\tMATRIX\n")
	for _, s := range species {
		b.WriteString("\t\t" + token(s.Name) + " ")
		for _, ch := range characters {
			b.WriteString(ch.cell(s))
		}
		b.WriteByte('\n')
	}
	b.WriteString("\t;\nEND;\n")
	return b.String()
}

var plain = regexp.MustCompile(`^[A-Za-z0-9. ]+$`)

// token is a NEXUS word: blanks are written as underscores, and a word with
// other marks goes in quotes.
func token(text string) string {
	if plain.MatchString(text) {
		return strings.ReplaceAll(text, " ", "_")
	}
	return "'" + strings.ReplaceAll(text, "'", "''") + "'"
}
