//go:build linux

package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// config is what the command line asks for.
type config struct {
	phones  int
	games   []int
	rounds  int
	passes  int
	servers []string
	base    string // the server whose times the others' are divided by
	stalled int    // one phone more for so many that never reads; 0 for none
	soak    time.Duration
	flood   bool
	out     string

	filling int           // rounds with stalled phones: twice what their buffers take
	gap     time.Duration // the least between two rounds of a game
}

func main() {
	if kind := os.Getenv(kindVariable); kind != "" {
		serveAsChild(kind)
		return
	}
	if target := os.Getenv(hostileVariable); target != "" {
		serveAsHostile(target)
		return
	}
	if err := run(os.Args[1:], os.Stdout); err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "fieldbench:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	c, err := parse(args)
	if err != nil {
		return err
	}
	var report bytes.Buffer
	out = io.MultiWriter(out, &report)
	switch {
	case c.soak > 0:
		err = c.runSoak(out)
	case c.flood:
		err = c.runFlood(out)
	default:
		err = c.runBench(out)
	}
	if err != nil || c.out == "" {
		return err
	}
	// Only now, so that a run cut short leaves the last report as it was.
	return os.WriteFile(c.out, report.Bytes(), 0o644)
}

func parse(args []string) (config, error) {
	// The hub takes 20 frames a second from a console, and a round is two.
	c := config{filling: 80, gap: 100 * time.Millisecond}
	f := flag.NewFlagSet("fieldbench", flag.ContinueOnError)
	f.IntVar(&c.phones, "phones", 2000, "how many phones")
	games := f.String("games", "1,40", "in how many games they are; each number is a table of its own")
	f.IntVar(&c.rounds, "rounds", 50, "how many questions for each measure")
	f.IntVar(&c.passes, "passes", 5, "how often each server's turn comes")
	servers := f.String("servers", strings.Join(usualNames(), ","), "which servers, of "+strings.Join(kindNames(), ", "))
	f.StringVar(&c.base, "against", floor, "the server whose times all others are divided by; it is always among them")
	f.IntVar(&c.stalled, "stalled", 50, "one phone in so many never reads (0: none)")
	f.DurationVar(&c.soak, "soak", 0, "in place of the bench: let the phones play on Fieldsign for so long")
	f.BoolVar(&c.flood, "flood", false, "in place of the bench: time Fieldsign's honest phones beside hostile clients (takes one number of -games)")
	f.StringVar(&c.out, "out", "", "a file to write the report to as well")
	if err := f.Parse(args); err != nil {
		return c, err
	}
	for _, word := range strings.Split(*games, ",") {
		n, err := strconv.Atoi(word)
		if err != nil || n < 1 || c.phones%n != 0 {
			return c, fmt.Errorf("-games %s: %q has to be a number that divides the %d phones", *games, word, c.phones)
		}
		c.games = append(c.games, n)
	}
	if c.rounds < 1 || c.passes < 1 || c.phones < 1 || c.stalled < 0 {
		return c, errors.New("-phones, -rounds and -passes are at least 1, and -stalled is not negative")
	}
	if c.flood && len(c.games) != 1 {
		return c, errors.New("-flood takes one number of -games, such as -games 10")
	}
	c.servers = strings.Split(*servers, ",")
	return c, c.check()
}

// check completes the list of servers and holds the files that may be open
// against the sockets that this takes.
func (c *config) check() error {
	if !slices.Contains(c.servers, c.base) {
		c.servers = append([]string{c.base}, c.servers...)
	}
	for _, name := range c.servers {
		if _, known := kindNamed(name); !known {
			return fmt.Errorf("-servers: there is no %q; there are %s", name, strings.Join(kindNames(), ", "))
		}
	}
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_NOFILE, &limit); err != nil {
		return err
	}
	need := uint64(c.phones + slices.Max(c.games) + 100)
	if c.stalled > 0 {
		need += uint64(c.phones / c.stalled)
	}
	if limit.Cur < need {
		return fmt.Errorf("%d files may be open, and %d are needed: run ulimit -n %d first", limit.Cur, need, need)
	}
	return nil
}
