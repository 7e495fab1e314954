// Command fieldsign hosts review rounds on skulls, tracks and scat.
// It parses, wires, and nothing else.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"fieldsign/hub/codes"
)

const help = `Fieldsign hosts review rounds on skulls, tracks and scat for teams with phones.

  fieldsign                 host a game: the host's page opens, and the terminal
                            shows where the projector and the phones go
  fieldsign --rehearse 6    the same with six bot teams that play, to see a round
  fieldsign questions       print a set of questions with their keys and reasons
  fieldsign lookalikes NAME  what is easily taken for an animal, and what tells them apart
  fieldsign foodweb         who eats whom in a roster, as CSV or a picture
  fieldsign key             print a dichotomous key to a roster by skull, track, scat or sign
  fieldsign plates          write the drawings to SVG files, or to a PDF that prints at life size
  fieldsign paper           print a set: quiz sheets, station cards, score sheet and key, as a PDF
  fieldsign guide           write a study guide to a roster, as a PDF or a web page
  fieldsign export          write questions, names, traits or a game's events for other programs
  fieldsign photos FOLDER   add photos of your own to a running hub, named by their files
  fieldsign backup FILE     copy the games and photos, of a hub that runs or is stopped
  fieldsign restore FILE    make a file of games of a backup
  fieldsign erase           forget a game, a team's nickname, or everything
  fieldsign host-key        have a running hub take a new host key
  fieldsign version         which source made this program
  fieldsign catalogue       print the catalogue, or check it: fieldsign catalogue check

Each takes --help. First time: run "fieldsign --rehearse 6". The host's page opens
in a browser; open the board's in a second window, and press Start.
"fieldsign help" lists what hosting can be told, by flags or by the environment
(in brackets). A flag wins. FIELDSIGN_HOST_KEY, the key that a console has to
show, has no flag: other users of the machine can read those.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	err := run(ctx, os.Args[1:], os.Stdout)
	switch {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "fieldsign:", err)
		holdWindow()
		os.Exit(1)
	}
}

// commands are the words that may follow "fieldsign".
var commands = map[string]func(context.Context, []string, io.Writer) error{
	"questions":  runQuestions,
	"catalogue":  runCatalogue,
	"lookalikes": runLookalikes,
	"foodweb":    runFoodweb,
	"key":        runKey,
	"plates":     runPlates,
	"paper":      runPaper,
	"guide":      runGuide,
	"export":     runExport,
	"photos":     runPhotos,
	"backup":     runBackup,
	"restore":    runRestore,
	"erase":      runErase,
	"host-key":   runHostKey,
	"version":    runVersion,
	"help":       runHelp,
}

// runHelp is --help as a word.
func runHelp(_ context.Context, _ []string, out io.Writer) error {
	_, err := parseHosting([]string{"--help"}, out)
	return err
}

func run(ctx context.Context, args []string, out io.Writer) error {
	if len(args) > 0 && len(args[0]) > 0 && args[0][0] != '-' {
		command, known := commands[args[0]]
		if !known {
			return fmt.Errorf("there is no command %q; run fieldsign --help", args[0])
		}
		return command(ctx, args[1:], out)
	}
	h, err := parseHosting(args, out)
	if err != nil {
		return err
	}
	return h.run(ctx)
}

// codeVar takes a code as people type it, such as "Otter Burrow 42".
func codeVar(f *flag.FlagSet, code *string, name, usage string) {
	f.Func(name, usage, func(typed string) error { *code = codes.Clean(typed); return nil })
}

// flags is a flag set that explains itself on out.
func flags(name, about string, out io.Writer) *flag.FlagSet {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(out)
	f.Usage = func() {
		fmt.Fprintln(out, about)
		fmt.Fprintln(out, "Flags:")
		f.PrintDefaults()
	}
	return f
}

// parse is for a command that takes flags and no other word.
func parse(f *flag.FlagSet, args []string) error {
	if err := f.Parse(args); err != nil {
		return err
	}
	return noWords(f)
}

func noWords(f *flag.FlagSet) error {
	if f.NArg() == 0 {
		return nil
	}
	command := strings.TrimSpace("fieldsign " + f.Name())
	return fmt.Errorf("%q is no flag of %s; a value of two words needs quotes. The flags: %[2]s --help", f.Arg(0), command)
}
