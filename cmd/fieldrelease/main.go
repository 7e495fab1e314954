// Command fieldrelease makes what is handed out: the programs for each system,
// their checksums, a bill of materials for each, and the list of licences. It
// is a module of its own, so that its dependencies are not the hub's.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
)

const help = `fieldrelease makes a release of Fieldsign.

  go run . -root ../.. -out ../../dist                 the programs, checksums and bills of materials
  go run . -root ../.. -licences ../../docs/licences.md  the list of all dependencies and their licences
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "fieldrelease:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) error {
	f := flag.NewFlagSet("fieldrelease", flag.ContinueOnError)
	f.Usage = func() { fmt.Fprint(f.Output(), help); f.PrintDefaults() }
	root := f.String("root", "../..", "the folder of Fieldsign's source")
	out := f.String("out", "", "the folder to put a release in")
	licences := f.String("licences", "", "the file to write the list of licences to")
	if err := f.Parse(args); err != nil {
		return err
	}
	if (*out == "") == (*licences == "") {
		return errors.New("give either -out or -licences")
	}
	source, err := filepath.Abs(*root)
	if err != nil {
		return err
	}
	found, err := dependencies(ctx, source)
	if err != nil {
		return err
	}
	if *licences != "" {
		return os.WriteFile(*licences, []byte(found.page()), 0o644)
	}
	return release(ctx, source, *out, systems, found)
}
