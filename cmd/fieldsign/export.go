package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/exchange"
)

const exportHelp = `fieldsign export writes what other programs read, by open standards only.

  fieldsign export --format qti --roster furbearers --count 20 --out set.zip
                            a question set as a QTI 3.0 package
  fieldsign export --format dwc --roster furbearers --out names.zip
                            a roster's names as a Darwin Core archive
  fieldsign export --format nexus --roster furbearers --subject skull --out skulls.nex
                            its trait matrix as NEXUS
  fieldsign export --format jsonl --game otter-burrow-42 --out game.jsonl
                            a game's events, one JSON object a line, without the
                            teams' nicknames
`

// exporting is what to write, and where.
type exporting struct {
	format                  string
	out                     output
	sheets, roster, subject string
	count                   int
	seed                    uint64
	difficulty              int
	template, language      string
	data, game              string
	names, noMemory         bool
}

// exportFlags are those that each format takes, beyond --format, --out and --force.
var exportFlags = map[string]string{
	"qti":   "catalogue roster subject count seed difficulty template no-memory language",
	"dwc":   "catalogue roster subject",
	"nexus": "catalogue roster subject",
	"jsonl": "data game names",
}

// exportKinds are what the formats write.
var exportKinds = map[string]outputKind{"qti": qtiOutput, "dwc": dwcOutput, "nexus": nexusOutput, "jsonl": jsonlOutput}

func runExport(ctx context.Context, args []string, out io.Writer) error {
	x, err := parseExporting(args, out)
	if err != nil {
		return err
	}
	var b bytes.Buffer // a failed run leaves no file
	if x.format == "jsonl" {
		err = x.events(ctx, &b)
	} else {
		err = x.catalogue(&b)
	}
	if err != nil {
		return err
	}
	if err := x.out.write(b.Bytes()); err != nil {
		return fmt.Errorf("the export can't be written: %w", err)
	}
	fmt.Fprintf(out, "%s is written\n", x.out.path)
	return nil
}

func parseExporting(args []string, out io.Writer) (exporting, error) {
	var x exporting
	f := flags("export", exportHelp, out)
	f.StringVar(&x.format, "format", "", "qti, dwc, nexus or jsonl")
	x.out.flags(f, "out", "the file to write")
	f.StringVar(&x.sheets, "catalogue", "", "a folder with sheets of your own")
	f.StringVar(&x.roster, "roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	f.StringVar(&x.subject, "subject", "", "one of "+strings.Join(catalogue.Subjects, ", ")+" (default: all but animal for qti, skull for nexus, every name for dwc)")
	f.IntVar(&x.count, "count", 10, "how many questions (qti)")
	f.Uint64Var(&x.seed, "seed", 1, "another seed, another set (qti)")
	f.IntVar(&x.difficulty, "difficulty", 0, "1 (unlike animals) to 5 (the closest look-alikes); 0: any (qti)")
	f.StringVar(&x.template, "template", "", "only these templates, separated by commas, such as type-the-name (qti)")
	f.StringVar(&x.language, "language", "en", languageHelp+" (qti)")
	codeVar(f, &x.game, "game", "the game's join code (jsonl)")
	f.BoolVar(&x.noMemory, "no-memory", false, noMemoryHelp+" (qti)")
	f.StringVar(&x.data, "data", "fieldsign.db", "the file that keeps the games (jsonl)")
	f.BoolVar(&x.names, "names", false, "leave the teams' nicknames in (jsonl)")
	if err := parse(f, args); err != nil {
		return x, err
	}
	x.out.kind = exportKinds[x.format]
	return x, x.check(f)
}

func (x exporting) check(f *flag.FlagSet) error {
	takes, known := exportFlags[x.format]
	switch {
	case !known:
		return fmt.Errorf("--format is qti, dwc, nexus or jsonl, not %q", x.format)
	case x.out.path == "":
		return errors.New("where to? Give --out FILE")
	case x.format == "jsonl" && x.game == "":
		return errors.New("which game? Give --game and its join code")
	}
	var odd error
	f.Visit(func(given *flag.Flag) {
		if !slices.Contains(strings.Fields("format out force "+takes), given.Name) {
			odd = fmt.Errorf("--%s has no part in --format %s: leave it out", given.Name, x.format)
		}
	})
	return odd
}

// catalogue writes the formats that a roster is enough for.
func (x exporting) catalogue(w io.Writer) error {
	if x.subject != "" && !slices.Contains(catalogue.Subjects, x.subject) {
		return fmt.Errorf("--subject is one of %s, not %q", strings.Join(catalogue.Subjects, ", "), x.subject)
	}
	cat, roster, err := openRoster(x.sheets, x.roster)
	if err != nil {
		return err
	}
	switch x.format {
	case "dwc":
		return exchange.DarwinCore(w, cat, roster, cmp.Or(x.subject, "animal"))
	case "nexus":
		return exchange.NEXUS(w, cat, roster, cmp.Or(x.subject, "skull"))
	}
	if cat, err = spoken(cat, x.language); err != nil {
		return err
	}
	wish := questions.Wish{Count: x.count, Seed: x.seed, Difficulty: x.difficulty, Templates: split(x.template), Drawings: drawingsWished("", x.template), NoMemory: x.noMemory}
	if x.subject != "" {
		wish.Subjects = []string{x.subject}
	}
	set, err := questions.NewBank(cat, roster).Set(wish)
	if err != nil {
		return err
	}
	return exchange.QTI(w, cat, roster, set)
}
