package main

import (
	"fmt"
	"io"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

const sourcesHelp = `fieldsign catalogue sources says what the values rest on: for each trait how many
rest on a source that was read and said so of the species (published, or
secondary where a page relays another), of its group, or named who has it and
was silent on the rest (absence); how many on common practice; and which are
only recalled. With the name of an animal it says what was read of that animal.

  fieldsign catalogue sources
  fieldsign catalogue sources --roster furbearers --verbose
  fieldsign catalogue sources bobcat
  fieldsign catalogue sources bobcat --trait skull_length
`

// columnsOf are the kinds as they stand in the table, the best first.
var columnsOf = []catalogue.Basis{catalogue.Published, catalogue.Secondary, catalogue.Group, catalogue.Absence, catalogue.Practice, catalogue.Memory}

func runSources(args []string, out io.Writer) error {
	animal, rest := words(args)
	f := flags("catalogue sources", sourcesHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	rosterName := f.String("roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	verbose := f.Bool("verbose", false, "list all that is still memory, not only how much")
	trait := f.String("trait", "", "of an animal: only this trait")
	if err := f.Parse(rest); err != nil {
		return err
	}
	cat, roster, err := openRoster(*dir, *rosterName)
	if err != nil {
		return err
	}
	if animal = strings.TrimSpace(animal + " " + strings.Join(f.Args(), " ")); animal != "" {
		return writeEvidence(out, cat, roster, animal, *trait)
	}
	writeSources(out, questions.RestCount(cat, roster), roster.Name, *verbose)
	bank := questions.NewBank(cat, roster)
	for _, subject := range catalogue.Subjects[1:] {
		var names []string
		for _, s := range bank.OnlyRecalled(subject) {
			names = append(names, s.Vernacular)
		}
		if len(names) > 0 {
			writeList(out, fmt.Sprintf("Without memory nothing can be asked about the %s of %d", subject, len(names)), names, *verbose)
		}
	}
	return nil
}

func writeSources(out io.Writer, list []questions.Resting, roster string, verbose bool) {
	fmt.Fprintf(out, "What the known values of the roster %s rest on:\n\n%-32s", roster, "")
	for _, b := range columnsOf {
		fmt.Fprintf(out, " %*s", width(b), b)
	}
	fmt.Fprintf(out, "    read\n")
	sum := questions.Resting{By: map[catalogue.Basis]int{}}
	for _, r := range list {
		sum.Trait.Label = "all"
		for b, n := range r.By {
			sum.By[b] += n
		}
		writeResting(out, r)
	}
	writeResting(out, sum)
	fmt.Fprintln(out)
	for _, r := range list {
		var names []string
		for _, s := range r.Recalled {
			names = append(names, s.Vernacular)
		}
		if len(names) > 0 {
			writeList(out, fmt.Sprintf("Still memory, %s: %d", r.Trait.Label, len(names)), names, verbose)
		}
	}
}

func width(b catalogue.Basis) int { return max(len(b.String()), 6) }

func writeResting(out io.Writer, r questions.Resting) {
	known, read := r.Known()
	if known == 0 {
		return
	}
	fmt.Fprintf(out, "%-32s", r.Trait.Label)
	for _, b := range columnsOf {
		fmt.Fprintf(out, " %*d", width(b), r.By[b])
	}
	fmt.Fprintf(out, " %5.0f %%\n", 100*float64(read)/float64(known))
}

// writeEvidence prints what was read of an animal, so that anyone can look.
func writeEvidence(out io.Writer, cat *catalogue.Catalogue, roster catalogue.Roster, animal, trait string) error {
	name, ok := questions.NewNames(cat, roster).Match(animal)
	if !ok {
		return fmt.Errorf("no one animal of roster %s is called %q; fieldsign catalogue lists the names", roster.Name, animal)
	}
	if _, known := cat.Trait(trait); trait != "" && !known {
		return fmt.Errorf("no trait %q: the column trait of traits.csv has their names", trait)
	}
	s, _ := cat.Find(name)
	for _, t := range cat.Traits {
		list := cat.Evidence(s.Name, t.ID)
		if len(list) == 0 || trait != "" && trait != t.ID {
			continue
		}
		v := s.Values[t.ID]
		fmt.Fprintf(out, "%s: %s %s (%s)\n", t.Label, v, t.Unit, v.Basis)
		for _, e := range list {
			fmt.Fprintf(out, "  %s\n", evidence(e, t))
		}
	}
	return nil
}

func evidence(e catalogue.Reading, t catalogue.Trait) string {
	said := e.Value.String()
	if t.Unit != "" {
		said += " " + t.Unit
	}
	parts := []string{fmt.Sprintf("%s of %s: %s", e.Source, e.Of, said)}
	for _, p := range [][2]string{{"printed", e.Printed}, {"measured", e.Measure}, {"not taken", e.NotTaken}, {"note", e.Note}, {"in", e.Where}} {
		if p[1] != "" {
			parts = append(parts, p[0]+": "+p[1])
		}
	}
	return strings.Join(parts, "; ")
}
