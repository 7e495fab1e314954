package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

const keyHelp = `fieldsign key prints a dichotomous key to a roster, worked out from the
catalogue: start at 1, choose the line that fits, go on where it points. An
animal that a couplet does not decide is found down both of its lines.

  fieldsign key --roster furbearers --subject skull
`

func runKey(_ context.Context, args []string, out io.Writer) error {
	f := flags("key", keyHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	rosterName := f.String("roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	subject := f.String("subject", "skull", strings.Join(catalogue.Subjects, ", "))
	if err := parse(f, args); err != nil {
		return err
	}
	cat, roster, err := openRoster(*dir, *rosterName)
	if err != nil {
		return err
	}
	key, err := questions.NewFieldKey(cat, roster, *subject)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "Key to roster %s by %s: %d species, %d couplets\n\n%s", roster.Name, *subject, len(roster.Of(*subject)), len(key.Couplets), key)
	return nil
}

func openRoster(dir, name string) (*catalogue.Catalogue, catalogue.Roster, error) {
	cat, err := openCatalogue(dir)
	if err != nil {
		return nil, catalogue.Roster{}, err
	}
	roster, err := cat.Roster(name)
	return cat, roster, err
}
