package faults_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"fieldsign/game"
	"fieldsign/hub/lab/faults"
	"fieldsign/hub/store"
)

// A game of two questions: in the first Wrens are wrong and Otters right, in
// the second nobody presses.
func sample() (log []game.Event, ops []faults.Op) {
	plan := &game.Plan{Rounds: []game.Round{{Kind: game.Buzz, Points: 100, Penalty: 30, Seconds: 20, Questions: []game.Question{
		{ID: "q1", Key: 2, Options: []string{"a", "b", "c"}}, {ID: "q2", Key: 0, Options: []string{"a", "b"}}}}}}
	log = []game.Event{
		{Type: game.Created, Plan: plan},
		{Type: game.Joined, Team: "t1", Name: "Wrens"}, {Type: game.Joined, Team: "t2", Name: "Otters"},
		{Type: game.Opened},
		{Type: game.Pressed, By: "t1", Cmd: "a", Team: "t1", Press: &game.Press{Team: "t1"}},
		{Type: game.GotBuzz, By: "hub", Team: "t1"},
		{Type: game.Ruled, By: "t1", Cmd: "b", Team: "t1", Option: 0, Awards: []game.Award{{Team: "t1", Points: -30}}},
		{Type: game.Pressed, By: "t2", Cmd: "d", Team: "t2", Press: &game.Press{Team: "t2"}},
		{Type: game.GotBuzz, By: "hub", Team: "t2"},
		{Type: game.Ruled, By: "t2", Cmd: "e", Team: "t2", Option: 2, Awards: []game.Award{{Team: "t2", Right: true, Points: 100}}},
		{Type: game.Opened, Number: 1},
		{Type: game.Skipped, By: "host", Cmd: "s"},
		{Type: game.Finished, By: "host", Cmd: "f"},
	}
	for i := range log {
		log[i].Seq = uint64(i) + 1
	}
	at := faults.Place{Round: 1, Question: 1}
	contest := func(op faults.Op) faults.Op { op.At, op.Contest = at, true; return op }
	ops = []faults.Op{
		contest(faults.Op{What: faults.Look, Code: "asking", Call: 5, Return: 8}),
		contest(faults.Op{What: faults.Buzz, Team: "t1", ID: "a", Code: faults.Done, Call: 10, Return: 20}),
		contest(faults.Op{What: faults.Buzz, Team: "t2", ID: "c", Code: "beaten", Holder: "t1", Call: 15, Return: 30}),
		contest(faults.Op{What: faults.Look, Code: "buzzed", Holder: "t1", Call: 22, Return: 32}),
		contest(faults.Op{What: faults.Answer, Team: "t1", ID: "b", Code: faults.Done, Option: 0, Call: 40, Return: 50}),
		contest(faults.Op{What: faults.Buzz, Team: "t2", ID: "d", Code: faults.Done, Call: 60, Return: 70}),
		contest(faults.Op{What: faults.Look, Code: "buzzed", Holder: "t2", Locked: 1, Call: 75, Return: 80}),
		contest(faults.Op{What: faults.Answer, Team: "t2", ID: "e", Code: faults.Done, Option: 2, Call: 90, Return: 95}),
	}
	return log, ops
}

var sampleScores = []store.Standing{{Rank: 1, Team: "t2", Score: 100}, {Rank: 2, Team: "t1", Score: -30}}

func TestTheSampleIsSound(t *testing.T) {
	log, ops := sample()
	if err := faults.Linearizable(log, ops, time.Minute); err != nil {
		t.Error(err)
	}
	if _, err := faults.NewJournal().Audit(log, sampleScores, ops); err == nil || !strings.Contains(err.Error(), "the last screen has 0 teams") || strings.Count(err.Error(), "\n") > 0 {
		t.Errorf("with no last screen: %v", err)
	}
}

// The checker finds no order for what could not have been told.
func TestDoctoredHistories(t *testing.T) {
	for name, doctor := range map[string]func([]faults.Op) []faults.Op{
		"two winners at once": func(ops []faults.Op) []faults.Op {
			ops[6].Holder, ops[6].Locked = "t2", 0
			ops[6].Call, ops[6].Return = 22, 33
			return ops
		},
		"a buzz granted after another was seen to hold it": func(ops []faults.Op) []faults.Op {
			ops[5].Call, ops[5].Return = 33, 38
			return ops
		},
		"open again after it was held": func(ops []faults.Op) []faults.Op {
			ops[0].Call, ops[0].Return = 33, 39
			return ops
		},
		"beaten before anyone pressed": func(ops []faults.Op) []faults.Op {
			ops[2].Call, ops[2].Return = 1, 4
			return ops
		},
		"a winner who never pressed": func(ops []faults.Op) []faults.Op { return slices.Delete(ops, 1, 2) },
		"an answer by one who was locked out": func(ops []faults.Op) []faults.Op {
			ops[7].Team = "t1"
			return ops
		},
		"open after the right answer": func(ops []faults.Op) []faults.Op {
			again := ops[0]
			again.Call, again.Return, again.Locked = 96, 99, 1
			return append(ops, again)
		},
	} {
		log, ops := sample()
		if err := faults.Linearizable(log, doctor(ops), time.Minute); err == nil || !strings.Contains(err.Error(), "no order") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A press whose answer never came may have counted or not.
func TestAnUnansweredPress(t *testing.T) {
	for _, seen := range []bool{true, false} {
		log, ops := sample()
		ops[1].Code, ops[1].Return = "", 0
		if !seen {
			ops = ops[:2]
		}
		if err := faults.Linearizable(log, ops, time.Minute); err != nil {
			t.Errorf("seen %v: %v", seen, err)
		}
	}
}

// The auditor finds what is lost, doubled, or not what was told.
func TestDoctoredLogs(t *testing.T) {
	for want, doctor := range map[string]func(log []game.Event) []game.Event{
		"acknowledged buzz of t1": func(log []game.Event) []game.Event { log[4].Cmd = "other"; return log },
		"in the log 2 times": func(log []game.Event) []game.Event {
			log[7].By, log[7].Cmd = "t1", "a"
			return log
		},
		"refused with beaten is in the log": func(log []game.Event) []game.Event { log[7].Cmd = "c"; return log },
		"that \"t1\" holds": func(log []game.Event) []game.Event {
			log[6] = game.Event{Seq: 7, Type: game.GotBuzz, Team: "t2"}
			return log
		},
		"a ruling for t2": func(log []game.Event) []game.Event { log[9].Option = 1; return log },
		"the store has -30 for t1, the log 70": func(log []game.Event) []game.Event {
			log[6].Awards[0].Points = 70
			return log
		},
	} {
		log, ops := sample()
		var copied []game.Event // the plan and the awards are shared by none
		b, _ := json.Marshal(log)
		if err := json.Unmarshal(b, &copied); err != nil {
			t.Fatal(err)
		}
		if _, err := faults.NewJournal().Audit(doctor(copied), sampleScores, ops); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got: %v", want, err)
		}
	}
}
