package faults

import (
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
	"time"

	"github.com/anishathalye/porcupine"

	"fieldsign/game"
)

// register is the buzz of one question as all clients together may have seen
// it: the first to buzz holds it, a wrong answer frees it and locks that team
// out, a right one closes the question. It says nothing of time.
//
// Presses that contend are acknowledged before it is settled whose the buzz is.
// So the holder is undecided (0) until someone has been told, and then it is
// one of those who pressed.
type register struct {
	pressed, locked uint64 // a bit for each team
	holder          uint64 // likewise: one bit, or 0
	closed          bool
}

// step is what an Op says, with the key of the question applied.
type step struct {
	Op
	right bool
}

// Linearizable tells whether each question's buzz had one order. The log gives
// the key, and what the hub did by itself, whose time is not known. The error
// names the question that had none, or that wasn't settled within the limit.
func Linearizable(log []game.Event, ops []Op, limit time.Duration) error {
	for at, history := range histories(log, ops) {
		switch porcupine.CheckOperationsTimeout(model, history, limit) {
		case porcupine.Illegal:
			return fmt.Errorf("question %v: what clients were told has no order:\n%s", at, describe(history))
		case porcupine.Unknown:
			return fmt.Errorf("question %v: not settled within %v", at, limit)
		}
	}
	return nil
}

// histories are those of the questions of buzz rounds.
func histories(log []game.Event, ops []Op) map[Place][]porcupine.Operation {
	found := map[Place][]porcupine.Operation{}
	add := func(s step) {
		end := int64(s.Return)
		if s.Return == 0 {
			end = math.MaxInt64
		}
		found[s.At] = append(found[s.At], porcupine.Operation{ClientId: int(max(number(s.Team), 0)), Input: s, Call: int64(s.Call), Return: end})
	}
	keys := map[Place]int{}
	var plan *game.Plan
	var at Place
	for _, e := range log {
		switch {
		case e.Plan != nil:
			plan = e.Plan
		case e.Type == game.Opened:
			at = Place{e.Round + 1, e.Number + 1}
			if plan.Rounds[e.Round].Kind == game.Buzz {
				keys[at] = plan.Rounds[e.Round].Questions[e.Number].Key
			}
		case e.Type == game.Ruled && e.By == "hub":
			add(step{Op: Op{What: Rule, At: at, Team: e.Team}})
		case e.Type == game.Scored || e.Type == game.Skipped || e.Type == game.Finished:
			add(step{Op: Op{What: Close, At: at}})
		}
	}
	for _, op := range ops {
		if op.Contest {
			add(step{op, op.Option == keys[op.At]})
		}
	}
	for at := range found {
		if _, contest := keys[at]; !contest {
			delete(found, at)
		}
	}
	return found
}

func number(team string) int {
	n, err := strconv.Atoi(strings.TrimPrefix(team, "t"))
	if err != nil {
		return -1
	}
	return n
}

// bit is a team's; no team has none.
func bit(team string) uint64 {
	if n := number(team); n >= 0 {
		return 1 << (n % 64)
	}
	return 0
}

var nondeterministic = porcupine.NondeterministicModel{
	Init: func() []any { return []any{register{}} },
	Step: func(state, input, _ any) []any {
		r, s := state.(register), input.(step)
		if s.Code != "" || s.What == Rule || s.What == Close {
			if next, ok := r.take(s); ok {
				return []any{next}
			}
			return nil
		}
		// A command without an answer may have had its effect or not.
		s.Code = Done
		if next, ok := r.take(s); ok {
			return []any{r, next}
		}
		return []any{r}
	},
}

var model = nondeterministic.ToModel()

// take is the register after a step; false where it can't have come now.
func (r register) take(s step) (register, bool) {
	team := bit(s.Team)
	switch s.What {
	case Buzz:
		return r.buzz(team, s)
	case Answer:
		return r.answer(team, s)
	case Rule:
		return r.free(team)
	case Close: // also after a right answer, when the whole game ends
		r.closed = true
		return r, true
	}
	return r.look(s)
}

func (r register) buzz(team uint64, s step) (register, bool) {
	switch s.Code {
	case Done:
		ok := !r.closed && r.holder == 0 && (r.pressed|r.locked)&team == 0
		r.pressed |= team
		return r, ok
	case "beaten":
		if s.Holder == s.Team {
			return r, false
		}
		return r.heldBy(bit(s.Holder))
	case "locked_out":
		return r, !r.closed && r.locked&team != 0
	case "not_now":
		return r, !r.closed && r.pressed&team != 0
	}
	return r, s.Code != "too_late" || r.closed
}

func (r register) answer(team uint64, s step) (register, bool) {
	switch {
	case s.Code == Done && s.right:
		r, ok := r.heldBy(team)
		r.closed = true
		return r, ok
	case s.Code == Done:
		return r.free(team)
	case s.Code == "not_holder":
		return r, r.holder != team
	}
	return r, true // too late, perhaps by the holder's own time
}

// heldBy settles whose the buzz is, unless that is settled otherwise.
func (r register) heldBy(team uint64) (register, bool) {
	ok := !r.closed && team != 0 && (r.holder == team || r.holder == 0 && r.pressed&team != 0)
	r.holder = team
	return r, ok
}

// free is after a wrong answer.
func (r register) free(team uint64) (register, bool) {
	r, ok := r.heldBy(team)
	return register{locked: r.locked | team}, ok
}

func (r register) look(s step) (register, bool) {
	switch s.Code {
	case "asking":
		return r, !r.closed && r.holder == 0 && bits.OnesCount64(r.locked) == s.Locked
	case "buzzed":
		if bits.OnesCount64(r.locked) != s.Locked {
			return r, false
		}
		return r.heldBy(bit(s.Holder))
	}
	return r, r.closed
}

func describe(history []porcupine.Operation) string {
	var b strings.Builder
	for _, op := range history {
		s := op.Input.(step)
		fmt.Fprintf(&b, "  %v–%v %s %s %s %s option %d (right %v) locked %d\n", s.Call, s.Return, s.Team, s.What, s.Code, s.Holder, s.Option, s.right, s.Locked)
	}
	return b.String()
}
