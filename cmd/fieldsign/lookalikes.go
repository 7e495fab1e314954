package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

const lookalikesHelp = `fieldsign lookalikes lists the animals most easily taken for the one named, the
nearest first, with the traits that tell them apart, the easiest to see first.

  fieldsign lookalikes "red fox"
  fieldsign lookalikes Lynx rufus --subject track --count 3
`

func runLookalikes(_ context.Context, args []string, out io.Writer) error {
	named, rest := words(args)
	f := flags("lookalikes", lookalikesHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	rosterName := f.String("roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	subject := f.String("subject", "skull", strings.Join(catalogue.Subjects, ", "))
	count := f.Int("count", 5, "how many")
	if err := f.Parse(rest); err != nil {
		return err
	}
	typed := strings.TrimSpace(named + " " + strings.Join(f.Args(), " "))
	if typed == "" {
		return errors.New(`lookalikes of which animal? Give its name: fieldsign lookalikes "red fox"`)
	}
	cat, roster, err := openRoster(*dir, *rosterName)
	if err != nil {
		return err
	}
	name, ok := questions.NewNames(cat, roster).Match(typed)
	if !ok {
		return fmt.Errorf("no one animal of roster %s is called %q; fieldsign catalogue lists the names", roster.Name, typed)
	}
	list, err := questions.NewBank(cat, roster).Lookalikes(name, *subject, *count)
	if err != nil {
		return err
	}
	this, _ := cat.Find(name)
	writeLookalikes(out, this, *subject, list)
	return nil
}

// words splits the arguments before the first flag, joined, from the rest.
func words(args []string) (string, []string) {
	n := 0
	for n < len(args) && !strings.HasPrefix(args[n], "-") {
		n++
	}
	return strings.Join(args[:n], " "), args[n:]
}

func writeLookalikes(out io.Writer, this catalogue.Species, subject string, list []questions.Lookalike) {
	fmt.Fprintf(out, "Look-alikes of %s (%s) by %s\n", this.Vernacular, this.Name, subject)
	for i, l := range list {
		fmt.Fprintf(out, "\n%d. %s (%s), %.0f %% alike\n", i+1, l.Species.Vernacular, l.Species.Name, 100*l.Similarity)
		if len(l.Separators) == 0 {
			fmt.Fprintln(out, "   nothing in the catalogue tells the two apart")
			continue
		}
		table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
		fmt.Fprintf(table, "   trait\t%s\t%s\n", this.Vernacular, l.Species.Vernacular)
		for _, s := range l.Separators {
			fmt.Fprintf(table, "   %s\t%s\t%s\n", s.Trait.Label, measured(s.This, s.Trait), measured(s.Other, s.Trait))
		}
		table.Flush()
	}
}

// measured is a value with the unit that a range has.
func measured(v catalogue.Value, t catalogue.Trait) string {
	if t.Kind == catalogue.Range && t.Unit != "" {
		return v.Words() + " " + t.Unit
	}
	return v.Words()
}
