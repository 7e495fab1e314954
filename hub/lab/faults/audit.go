package faults

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"fieldsign/game"
	"fieldsign/hub/store"
)

// Audit holds what the clients of a game were told against its log and the
// standings that the store has. While the game goes on it looks only at what
// was acknowledged before the log was read, which is what ops are for.
// A game that said that its store had lost something is held only to what is
// in the log; lost then counts the acknowledged commands that are not.
func (j *Journal) Audit(log []game.Event, standings []store.Standing, ops []Op) (lost int, err error) {
	told := j.Lost()
	var errs []error
	wrong := func(format string, args ...any) { errs = append(errs, fmt.Errorf(format, args...)) }
	b := read(log, wrong)
	for _, op := range ops {
		kept := b.commands[op.Team+" "+op.ID]
		switch {
		case op.What == Look:
			if told || !op.Contest || op.Holder == "" {
				continue
			}
			if got := b.holders[op.At]; op.Locked >= len(got) || got[op.Locked] != op.Holder {
				wrong("%v: a client was shown that %s holds buzz %d, the log has %v", op.At, op.Holder, op.Locked+1, got)
			}
		case op.Code == Done && len(kept) == 0 && told:
			lost++
		case op.Code == Done && (len(kept) != 1 || !op.is(kept[0], b)):
			wrong("an acknowledged %s of %s at %v is in the log as %+v", op.What, op.Team, op.At, kept)
		case op.Code != Done && op.Code != "" && len(kept) > 0 && !told:
			wrong("a %s of %s at %v that was refused with %s is in the log: %+v", op.What, op.Team, op.At, op.Code, kept)
		}
	}
	for command, events := range b.commands {
		if len(events) > 1 {
			wrong("command %s is in the log %d times", command, len(events))
		}
	}
	b.sums(game.Replay(log), standings, j.shownLast(), wrong)
	return lost, errors.Join(errs...)
}

// book is a log as an auditor reads it, who shares nothing with the rules' own code.
type book struct {
	commands map[string][]game.Event // by team and command id
	places   map[uint64]Place        // of an event's question, by Seq
	holders  map[Place][]string      // of the buzz, one after the other
	scores   map[string]int
	ended    bool
}

func read(log []game.Event, wrong func(string, ...any)) *book {
	b := &book{commands: map[string][]game.Event{}, places: map[uint64]Place{}, holders: map[Place][]string{}, scores: map[string]int{}}
	var plan *game.Plan
	var at Place
	holder, pressed := "", map[string]bool{}
	for i, e := range log {
		if e.Seq != uint64(i)+1 {
			wrong("event %d has number %d", i+1, e.Seq)
		}
		b.places[e.Seq] = at
		if e.Cmd != "" {
			b.commands[e.By+" "+e.Cmd] = append(b.commands[e.By+" "+e.Cmd], e)
		}
		switch e.Type {
		case game.Created, game.Planned:
			plan = e.Plan
		case game.Joined:
			b.scores[e.Team] = 0
		case game.Opened:
			at = Place{e.Round + 1, e.Number + 1}
			holder = ""
			clear(pressed)
		case game.Pressed:
			if holder != "" || pressed[e.Team] {
				wrong("event %d: %s presses while %q holds the buzz, or again", e.Seq, e.Team, holder)
			}
			pressed[e.Team] = true
		case game.GotBuzz:
			if holder != "" || !pressed[e.Team] {
				wrong("event %d: %s is given a buzz that %q holds, or did not press", e.Seq, e.Team, holder)
			}
			holder = e.Team
			b.holders[at] = append(b.holders[at], e.Team)
		case game.Ruled:
			q := plan.Rounds[at.Round-1].Questions[at.Question-1]
			if holder != e.Team || e.Awards[0].Right != (e.Option == q.Key) {
				wrong("event %d: a ruling for %s, who does not hold the buzz, or a wrong one", e.Seq, e.Team)
			}
			holder = ""
			clear(pressed)
		case game.Finished:
			b.ended = true
		}
		for _, a := range e.Awards {
			b.scores[a.Team] += a.Points
		}
	}
	return b
}

// is tells whether an event is what the command was acknowledged for.
func (op Op) is(e game.Event, b *book) bool {
	if e.Team != op.Team || b.places[e.Seq] != op.At {
		return false
	}
	if op.What == Buzz {
		return e.Type == game.Pressed
	}
	return (e.Type == game.Answered || e.Type == game.Ruled) && e.Option == op.Option
}

// sums holds the scores against each other: the auditor's own, the rules', the
// store's and those that were shown at the end.
func (b *book) sums(s game.State, standings []store.Standing, final []Line, wrong func(string, ...any)) {
	for _, t := range s.Teams {
		if t.Score != b.scores[t.ID] {
			wrong("%s has %d by its awards, and %d by the rules", t.ID, b.scores[t.ID], t.Score)
		}
	}
	if !b.ended {
		return
	}
	var kept []Line
	for _, line := range standings {
		kept = append(kept, Line{line.Team, line.Score})
	}
	for what, lines := range map[string][]Line{"the store": kept, "the last screen": final} {
		lines = slices.SortedFunc(slices.Values(lines), func(a, b Line) int { return cmp.Compare(a.Team, b.Team) })
		if len(lines) != len(b.scores) {
			wrong("%s has %d teams of %d", what, len(lines), len(b.scores))
		}
		for _, line := range lines {
			if line.Score != b.scores[line.Team] {
				wrong("%s has %d for %s, the log %d", what, line.Score, line.Team, b.scores[line.Team])
			}
		}
	}
}
