//go:build linux

package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"time"
)

// settleIn is how long hostile clients have to come before the honest are timed.
const settleIn = time.Second

// flooded are the fan-outs of one pass without and with hostile clients.
type flooded struct{ Quiet, Flood []time.Duration }

// runFlood times the honest phones of a game, first by themselves, then beside
// hostile clients, and says how the two compare.
func (c config) runFlood(out io.Writer) error {
	var passes []flooded
	for range c.passes {
		f, err := c.floodPass()
		if err != nil {
			return err
		}
		passes = append(passes, f)
	}
	c.writeFlood(out, passes)
	return nil
}

func (c config) floodPass() (f flooded, err error) {
	k, _ := kindNamed("fieldsign-bolt")
	s, err := setStage(k, c.games[0])
	if err != nil {
		return f, err
	}
	defer s.strike()
	t := &trial{stage: s, config: c, limit: patience}
	if err := t.open("buzz", 2*(warmUp+c.rounds)); err != nil {
		return f, err
	}
	if err := t.admit(c.phones); err != nil {
		return f, err
	}
	whole := func(int) (time.Duration, error) { return t.round(t.desks) }
	if err := t.timed(warmUp, c.rounds, &f.Quiet, whole); err != nil {
		return f, err
	}
	stop, err := startHostile(s.server.Address, s.server.Games[0])
	if err != nil {
		return f, err
	}
	defer stop()
	if err := t.crowd.idle(time.Now().Add(settleIn)); err != nil {
		return f, err
	}
	// A round fails if the hub ends an honest phone's connection.
	return f, t.timed(warmUp, c.rounds, &f.Flood, whole)
}

// startHostile starts this program again, as the hostile clients of one game.
func startHostile(address, code string) (stop func(), err error) {
	program, err := os.Executable()
	if err != nil {
		return nil, err
	}
	command := exec.Command(program)
	command.Env = append(os.Environ(), hostileVariable+"="+address+" "+code)
	command.Stderr = os.Stderr
	in, err := command.StdinPipe()
	if err != nil {
		return nil, err
	}
	return func() { in.Close(); command.Process.Kill(); command.Wait() }, command.Start()
}

func (c config) writeFlood(out io.Writer, passes []flooded) {
	fmt.Fprintf(out, "# A flood: %d honest phones, %d hostile clients in one of their games\n\n%s, %d rounds for each measure, %d passes; the log is synced to the disk.\n\n",
		c.phones, hostileClients, time.Now().UTC().Format("2 January 2006"), c.rounds, c.passes)
	var t table
	t.head("fan-out to the honest", "quiet", "flooded", "ratio")
	for _, q := range []struct {
		name string
		at   float64
	}{{"median", .5}, {"p99", .99}} {
		var quiet, flood, ratio []float64
		for _, f := range passes {
			a, b := quantile(f.Quiet, q.at).Seconds()*1000, quantile(f.Flood, q.at).Seconds()*1000
			quiet, flood, ratio = append(quiet, a), append(flood, b), append(ratio, b/a)
		}
		t.row(q.name, spread(quiet, "%.2f", "ms"), spread(flood, "%.2f", "ms"), spread(ratio, "%.2f", ""))
	}
	fmt.Fprint(out, t.String())
}
