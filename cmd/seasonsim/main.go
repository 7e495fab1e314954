// Command seasonsim plays synthetic clubs through a season by the plan of
// package season and by three other ways, and prints what they know on the day
// of the contest, as the tables of docs/season-plan.md.
//
//	go run ./cmd/seasonsim                            prints the tables
//	go run ./cmd/seasonsim -write docs/season-plan.md puts them into the page
//
// The same seed gives the same tables.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"fieldsign/cmd/internal/marked"
)

const (
	begin = "<!-- seasonsim: tables -->\n"
	end   = "<!-- seasonsim: end -->\n"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "seasonsim:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("seasonsim", flag.ContinueOnError)
	page := flags.String("write", "", "the page to put the tables into")
	seed := flags.Uint64("seed", 1, "of the simulated clubs")
	if err := flags.Parse(args); err != nil {
		return err
	}
	tables := tables(*seed)
	if *page == "" {
		_, err := out.Write(tables)
		return err
	}
	text, err := os.ReadFile(*page)
	if err != nil {
		return err
	}
	if text, err = marked.Fill(text, tables, begin, end); err != nil {
		return fmt.Errorf("%s: %w", *page, err)
	}
	return os.WriteFile(*page, text, 0o644)
}
