//go:build linux

package main

import (
	"errors"
	"fmt"
	"os"
	"time"
)

// warmUp is how many rounds go before each measure, uncounted.
const warmUp = 5

// heldUp is how long the others wait for a stalled phone before it counts as that.
const heldUp = 5 * time.Second

// figures are what one server shows in one pass.
type figures struct {
	One, All, Buzz, Stalled []time.Duration // One is empty where there is one game
	HeldUp                  bool
	CPU                     time.Duration // for each message
	Before, After           float64       // bytes for each phone
	Frames, Bytes           float64       // to a phone for each question
	Console                 float64       // bytes to a console for each question
}

// trial is a stage on which the bench is played.
type trial struct {
	*stage
	config
	limit time.Duration // with phones that are to get a frame
	shown []byte        // the last frame to the first phone of those that play
	figures
}

// runTrial lets one server have its turn.
func (c config) runTrial(k kind, games int) (figures, error) {
	s, err := setStage(k, games)
	if err != nil {
		return figures{}, err
	}
	defer s.strike()
	t := &trial{stage: s, config: c, limit: patience}
	if err := t.play(); err != nil {
		return figures{}, fmt.Errorf("%s: %w", k.name, err)
	}
	return t.figures, nil
}

// questions is how many one game may have to ask.
func (t *trial) questions() int { return 3*warmUp + 3*t.rounds + t.filling }

func (t *trial) play() error {
	if err := t.open("buzz", t.questions()); err != nil {
		return err
	}
	if err := t.admit(t.config.phones); err != nil {
		return err
	}
	for _, measure := range []func() error{t.bytesTo(&t.Before), t.oneByOne, t.allAtOnce, t.buzzes, t.bytesTo(&t.After), t.withStalled} {
		if err := measure(); err != nil {
			return err
		}
	}
	return nil
}

func (t *trial) bytesTo(f *float64) func() error {
	return func() error {
		if err := t.crowd.idle(time.Now().Add(calmDown)); err != nil {
			return err
		}
		u, err := t.server.memory()
		*f = t.perPhone(u)
		return err
	}
}

// oneByOne times the fan-out of one game after the other.
func (t *trial) oneByOne() error {
	if len(t.desks) == 1 {
		return nil
	}
	return t.timed(warmUp, t.rounds, &t.One, func(i int) (time.Duration, error) { return t.round(t.one(i)) })
}

func (t *trial) allAtOnce() error {
	whole := func(int) (time.Duration, error) { return t.round(t.desks) }
	if err := t.timed(warmUp, 0, nil, whole); err != nil {
		return err
	}
	frames, bytes, console := t.crowd.frames, t.crowd.phoneBytes, t.crowd.consoleBytes
	before, err := t.server.usage()
	if err != nil {
		return err
	}
	if err := t.timed(0, t.rounds, &t.All, whole); err != nil {
		return err
	}
	after, err := t.server.usage()
	t.CPU = (after.CPU - before.CPU) / time.Duration(2*t.rounds*t.stage.phones)
	t.Frames = float64(t.crowd.frames-frames) / float64(t.rounds*t.stage.phones)
	t.Bytes = float64(t.crowd.phoneBytes-bytes) / float64(t.rounds*t.stage.phones)
	t.Console = float64(t.crowd.consoleBytes-console) / float64(t.rounds*len(t.desks))
	return err
}

// buzzes times a press in one game after the other.
func (t *trial) buzzes() error {
	return t.timed(warmUp, t.rounds, &t.Buzz, func(i int) (time.Duration, error) {
		one := t.one(i)
		d := one[0]
		if _, err := t.openQuestion(one); err != nil {
			return 0, err
		}
		phone := d.phones[d.nextPhone%len(d.phones)]
		d.nextPhone += 37 // somewhere else in the crowd
		start := time.Now()
		if err := t.say(phone, fmt.Sprintf(`{"type":"buzz","question":"%s"`, questionOf(t.shown))); err != nil {
			return 0, err
		}
		last, err := t.seen(buzzed, one)
		if err != nil {
			return 0, err
		}
		return last.Sub(start), t.reveal(one)
	})
}

// withStalled times the others while the server finds that it can't send to
// some phones any more, and then without these or in spite of them.
func (t *trial) withStalled() error {
	if t.stalled == 0 {
		return nil
	}
	if err := t.admitStalled(max(1, t.stage.phones/t.stalled)); err != nil {
		return err
	}
	t.limit = heldUp
	err := t.timed(0, t.filling, &t.Stalled, func(int) (time.Duration, error) { return t.round(t.desks) })
	var late lateError
	if errors.As(err, &late) {
		fmt.Fprintf(os.Stderr, "%s, after %d rounds with stalled phones: %v\n", t.kind.name, len(t.Stalled), err)
		t.HeldUp, t.Stalled = true, nil
		return nil
	}
	return err
}

// timed plays rounds, the first few uncounted.
func (t *trial) timed(before, rounds int, to *[]time.Duration, round func(i int) (time.Duration, error)) error {
	for i := range before + rounds {
		took, err := round(i)
		if err != nil {
			return err
		}
		if i >= before {
			*to = append(*to, took)
		}
	}
	return nil
}

// one is the game whose turn it is.
func (t *trial) one(i int) []*desk {
	n := i % len(t.desks)
	return t.desks[n : n+1]
}

// round opens a question in games, waits for all their phones, and reveals it.
func (t *trial) round(desks []*desk) (time.Duration, error) {
	took, err := t.openQuestion(desks)
	if err != nil {
		return 0, err
	}
	return took, t.reveal(desks)
}

func (t *trial) openQuestion(desks []*desk) (time.Duration, error) {
	for _, d := range desks {
		if err := t.crowd.idle(d.last.Add(t.gap)); err != nil {
			return 0, err
		}
	}
	for i, d := range desks {
		if d.perRound > 0 && d.asked > 0 && d.asked%d.perRound == 0 {
			if err := t.endRound(desks[i : i+1]); err != nil {
				return 0, err
			}
		}
		d.asked++
	}
	// A round's end is a broadcast too: let its last frames pass.
	if err := t.crowd.idle(time.Now().Add(5 * time.Millisecond)); err != nil {
		return 0, err
	}
	start := time.Now()
	if err := t.do("next", desks...); err != nil {
		return 0, err
	}
	last, err := t.seen(asking, desks)
	for _, d := range desks {
		d.last = start
	}
	return last.Sub(start), err
}

func (t *trial) endRound(desks []*desk) error {
	if err := t.do("next", desks...); err != nil {
		return err
	}
	_, err := t.seen(pause, desks)
	return err
}

func (t *trial) reveal(desks []*desk) error {
	if err := t.do("skip", desks...); err != nil {
		return err
	}
	_, err := t.seen(revealed, desks)
	return err
}

// seen waits until all phones of neighbouring games have been shown a phase.
func (t *trial) seen(phase string, desks []*desk) (time.Time, error) {
	want := 0
	for _, d := range desks {
		want += len(d.phones)
	}
	first, last := desks[0].number, desks[len(desks)-1].number
	at, err := t.crowd.wait(want, t.limit, func(k *conn, f []byte) bool {
		if k.console || k.game < first || k.game > last || string(phaseOf(f)) != phase {
			return false
		}
		if k == desks[0].phones[0] {
			t.shown = append(t.shown[:0], f...)
		}
		return true
	})
	if err != nil {
		err = fmt.Errorf("phase %q: %w", phase, err)
	}
	return at, err
}
