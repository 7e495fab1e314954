// Command fairsim plays simulated contests for the buzz (package fair) and
// prints how often the first finger got it, as the tables of docs/fairness.md.
//
//	go run ./cmd/fairsim              prints the tables
//	go run ./cmd/fairsim -write docs  puts them into docs/fairness.md, and the plot beside it
//
// The same seed gives the same tables.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"fieldsign/cmd/internal/marked"
)

const (
	pageName = "fairness.md"
	plotName = "fairness.svg"
	begin    = "<!-- fairsim: tables -->\n"
	end      = "<!-- fairsim: end -->\n"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "fairsim:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("fairsim", flag.ContinueOnError)
	folder := flags.String("write", "", "the folder of "+pageName+", to put the tables and the plot into")
	seed := flags.Uint64("seed", 1, "of the simulated world")
	if err := flags.Parse(args); err != nil {
		return err
	}
	tables := tables(*seed)
	if *folder == "" {
		_, err := out.Write(tables)
		return err
	}
	return write(*folder, tables, plot(*seed))
}

func write(folder string, tables, plot []byte) error {
	name := filepath.Join(folder, pageName)
	page, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	if page, err = marked.Fill(page, tables, begin, end); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if err := os.WriteFile(name, page, 0o644); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, plotName), plot, 0o644)
}
