package main

import (
	"fmt"
	"io"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

const checkHelp = `fieldsign catalogue check reads the sheets through and says all that is wrong
with them; of sound sheets it says, roster by roster, which animals no trait
tells apart, which values are not known, and which are only recalled.

  fieldsign catalogue check
  fieldsign catalogue check --roster furbearers --verbose
  fieldsign catalogue check --catalogue my-sheets
`

func runCheck(args []string, out io.Writer) error {
	f := flags("catalogue check", checkHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	rosterName := f.String("roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	verbose := f.Bool("verbose", false, "list all of them, not only how many")
	if err := parse(f, args); err != nil {
		return err
	}
	cat, roster, err := openRoster(*dir, *rosterName)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "The catalogue is sound: %d species, %d traits, %d sources.\n", len(cat.Species), len(cat.Traits), len(cat.Sources))
	for _, f := range cat.Faults(catalogue.Spanish) {
		fmt.Fprintf(out, "Not in Spanish: %v\n", f)
	}
	fmt.Fprintf(out, "Roster %s:\n", roster.Name)
	for _, k := range questions.CheckRoster(cat, roster) {
		writeCheck(out, k, *verbose)
	}
	return nil
}

// brief is how many of a list are shown without --verbose.
const brief = 5

func writeCheck(out io.Writer, k questions.Check, verbose bool) {
	fmt.Fprintf(out, "\n%s.csv: %d species, %d values\n", k.Subject, k.Species, k.Values)
	var pairs []string
	for _, p := range k.Alike {
		pairs = append(pairs, p[0].Vernacular+" and "+p[1].Vernacular)
	}
	writeList(out, fmt.Sprintf("%d of %d pairs are told apart by no trait", len(pairs), k.Pairs), pairs, verbose)
	fmt.Fprintf(out, "  %d values vary and so decide nothing\n", k.Unsettled)
	if k.Unknown() > 0 {
		writeList(out, fmt.Sprintf("%d values are not known, by trait", k.Unknown()), tallied(k.Missing), verbose)
		writeList(out, "the same by species", tallied(k.Blank), verbose)
	}
	var recalled []string
	for _, r := range k.Recalled {
		recalled = append(recalled, fmt.Sprintf("%s: %s %s", r.Species.Vernacular, r.Trait.Label, r.Value))
	}
	if !verbose {
		recalled = nil
	}
	writeList(out, fmt.Sprintf("%d values are recalled, with no source but memory", len(k.Recalled)), recalled, verbose)
}

func tallied(list []questions.Tally) []string {
	var out []string
	for _, t := range list {
		out = append(out, fmt.Sprintf("%s %d", t.Name, t.Count))
	}
	return out
}

func writeList(out io.Writer, title string, list []string, all bool) {
	more := ""
	if !all && len(list) > brief {
		more = fmt.Sprintf("; and %d more", len(list)-brief)
		list = list[:brief]
	}
	switch {
	case len(list) == 0:
		fmt.Fprintf(out, "  %s\n", title)
	case all:
		fmt.Fprintf(out, "  %s:\n    %s\n", title, strings.Join(list, "\n    "))
	default:
		fmt.Fprintf(out, "  %s: %s%s\n", title, strings.Join(list, "; "), more)
	}
}
