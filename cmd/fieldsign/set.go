package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"slices"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/setfile"
)

// A set from a file, as the host's console saves it, in the place of one that
// is computed.

// wishFlags say what to compute; beside --set they would be passed over.
var wishFlags = []string{"count", "seed", "subjects", "difficulty", "shares", "rising", "template", "drawings", "language", "no-memory"}

const drawingsHelp = "how many questions show a drawing: none, some (a quarter), half or all (default: half, as in a game; with --template as they come)"

func drawingsWished(said, template string) questions.Drawings {
	if said == "" && template == "" {
		return questions.HalfDrawings
	}
	return questions.Drawings(said)
}

// onlySet refuses flags that have no part beside --set, and --round without it.
func onlySet(f *flag.FlagSet, set string, round int) error {
	var odd error
	f.Visit(func(given *flag.Flag) {
		switch {
		case set == "" && given.Name == "round":
			odd = fmt.Errorf("--round is a round of the --set FILE: give both")
		case set != "" && slices.Contains(wishFlags, given.Name):
			odd = fmt.Errorf("--%s has no part beside --set, whose questions stand: leave it out", given.Name)
		}
	})
	if round < 0 {
		return fmt.Errorf("--round counts from 1, so it can't be %d", round)
	}
	return odd
}

// openSet reads and proves a set; of its rounds only one, if round is not 0.
func openSet(cat *catalogue.Catalogue, file, roster string, round int) (setfile.Set, error) {
	in, err := os.Open(file)
	if err != nil {
		return setfile.Set{}, fmt.Errorf("the set can't be read: %w", err)
	}
	defer in.Close()
	set, err := setfile.Read(in, roster, setfile.Bank(cat))
	if err != nil {
		return set, fmt.Errorf("the set %s can't be used: %w", file, err)
	}
	if round > len(set.Rounds) {
		return set, fmt.Errorf("the set %s has %d rounds, so there is no --round %d", file, len(set.Rounds), round)
	}
	if round > 0 {
		set.Questions, set.Rounds = set.Of(round-1), set.Rounds[round-1:round]
		set.Name = fmt.Sprintf("%s, round %d", set.Name, round)
	}
	return set, nil
}

// printSet prints the questions of a file.
func printSet(out io.Writer, cat *catalogue.Catalogue, file, roster, format string, round int) error {
	set, err := openSet(cat, file, roster, round)
	if err != nil {
		return err
	}
	return printQuestions(out, set.Questions, format)
}

func printQuestions(out io.Writer, set []questions.Question, format string) error {
	switch format {
	case "jsonl":
		return writeLines(out, set)
	case "text":
		questions.WriteText(out, set)
		return nil
	}
	return fmt.Errorf("--format is text or jsonl, not %q", format)
}
