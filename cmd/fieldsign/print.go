package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

func openCatalogue(dir string) (*catalogue.Catalogue, error) {
	if dir == "" {
		return catalogue.Builtin(), nil
	}
	c, err := catalogue.Load(os.DirFS(dir))
	if err != nil {
		return nil, fmt.Errorf("the catalogue in %s can't be used: %w", dir, err)
	}
	return c, nil
}

// languageHelp is that of the flag --language.
var languageHelp = "of the questions: " + strings.Join(catalogue.Tags(), " or ")

// spoken is a catalogue in the language of a --language.
func spoken(cat *catalogue.Catalogue, tag string) (*catalogue.Catalogue, error) {
	l, err := catalogue.ParseLanguage(tag)
	if err != nil {
		return nil, fmt.Errorf("--language: %w", err)
	}
	return cat.In(l)
}

// noMemoryHelp is that of the flag --no-memory.
const noMemoryHelp = "no question that rests on what is only recalled; fieldsign catalogue sources says what is"

const questionsHelp = `fieldsign questions prints a question set. The same roster, wishes and seed
always give the same set.

  fieldsign questions --roster furbearers --count 10
  fieldsign questions --count 100 --seed 7 --format jsonl > set.jsonl
  fieldsign questions --count 10 --no-memory             # nothing recalled decides
  fieldsign questions --count 10 --language es           # in Spanish
  fieldsign questions --set evening.jsonl                # as the host's console saved it
`

func runQuestions(_ context.Context, args []string, out io.Writer) error {
	f := flags("questions", questionsHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	rosterName := f.String("roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	count := f.Int("count", 10, "how many")
	seed := f.Uint64("seed", 1, "another seed, another set")
	subjects := f.String("subjects", strings.Join(catalogue.Usual, ","), "which of "+strings.Join(catalogue.Asked(), ", "))
	difficulty := f.Int("difficulty", 0, "1 (unlike animals) to 5 (the closest look-alikes); 0: any")
	shares := f.String("shares", "", "of the subjects in their order, such as 3,2,1 (default: equal)")
	rising := f.Bool("rising", false, "from difficulty 1 at the start to 5 at the end")
	drawings := f.String("drawings", "", drawingsHelp)
	template := f.String("template", "", "only these templates, separated by commas: "+strings.Join(questions.Templates(), ", "))
	format := f.String("format", "text", "text or jsonl (one JSON object a line)")
	file := f.String("set", "", "print the questions of a set file, each proved anew")
	round := f.Int("round", 0, "only this round of the --set FILE, counted from 1")
	noMemory := f.Bool("no-memory", false, noMemoryHelp)
	language := f.String("language", "en", languageHelp)
	if err := parse(f, args); err != nil {
		return err
	}
	if err := onlySet(f, *file, *round); err != nil {
		return err
	}
	cat, err := openCatalogue(*dir)
	if err != nil {
		return err
	}
	if *file != "" {
		return printSet(out, cat, *file, *rosterName, *format, *round)
	}
	if cat, err = spoken(cat, *language); err != nil {
		return err
	}
	roster, err := cat.Roster(*rosterName)
	if err != nil {
		return err
	}
	parts, err := numbers(*shares)
	if err != nil {
		return err
	}
	set, err := questions.NewBank(cat, roster).Set(questions.Wish{Subjects: split(*subjects), Shares: parts, Count: *count, Seed: *seed,
		Difficulty: *difficulty, Rising: *rising, Templates: split(*template), Drawings: drawingsWished(*drawings, *template), NoMemory: *noMemory})
	if err != nil {
		return err
	}
	return printQuestions(out, set, *format)
}

func split(list string) []string {
	return strings.FieldsFunc(list, func(r rune) bool { return r == ',' || r == ' ' })
}

func numbers(list string) ([]int, error) {
	var out []int
	for _, word := range split(list) {
		n, err := strconv.Atoi(word)
		if err != nil {
			return nil, fmt.Errorf("--shares takes whole numbers such as 3,2,1, not %q", word)
		}
		out = append(out, n)
	}
	return out, nil
}

func writeLines(out io.Writer, set []questions.Question) error {
	encoder := json.NewEncoder(out)
	encoder.SetEscapeHTML(false)
	for _, q := range set {
		if err := encoder.Encode(q); err != nil {
			return err
		}
	}
	return nil
}

const catalogueHelp = `fieldsign catalogue prints the catalogue; with "check" it reads it through and
says what is wrong, all of it at once; with "sources" it says what the values
rest on.

  fieldsign catalogue                      a table of the species
  fieldsign catalogue --format csv         species,trait,value,unit,source,basis
  fieldsign catalogue check --catalogue my-sheets
  fieldsign catalogue sources bobcat       what was read of it, and where
`

func runCatalogue(_ context.Context, args []string, out io.Writer) error {
	if len(args) > 0 && args[0] == "check" {
		return runCheck(args[1:], out)
	}
	if len(args) > 0 && args[0] == "sources" {
		return runSources(args[1:], out)
	}
	f := flags("catalogue", catalogueHelp, out)
	dir := f.String("catalogue", "", "a folder with sheets of your own")
	format := f.String("format", "table", "table or csv")
	if err := parse(f, args); err != nil {
		return err
	}
	cat, err := openCatalogue(*dir)
	if err != nil {
		return err
	}
	switch {
	case *format == "csv":
		return cat.WriteCSV(out)
	case *format == "table":
		for _, s := range cat.Species {
			fmt.Fprintf(out, "%-28s %-32s %s\n", s.Name, s.Vernacular, strings.Join(s.Subjects[1:], ", "))
		}
		return nil
	}
	return fmt.Errorf("--format is table or csv, not %q", *format)
}
