package game_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"fieldsign/game"
	"fieldsign/refusal"
)

// How these tests play: a table stands for the hub. It wakes the game on time,
// applies what Decide says and ticks until nothing more happens.

type table struct {
	t   testing.TB
	s   game.State
	log []game.Event
}

// step is a command at a time, and the code of the refusal that it is to meet.
type step struct {
	at   int64
	cmd  game.Command
	code string
}

var tick = game.Command{Type: game.Tick, By: "hub"}

// question has three options, of which b is right.
func question(id string) game.Question {
	return game.Question{ID: id, Subject: "skull", Prompt: "Whose skull?", Options: []string{"a", "b", "c"}, Key: 1, Reason: "the gap in the tooth row"}
}

const (
	right = 1
	wrong = 0
)

func round(kind game.Kind, ids ...string) game.Round {
	r := game.Round{Name: "R", Kind: kind, Seconds: 20, Points: 100, Penalty: 25}
	for _, id := range ids {
		r.Questions = append(r.Questions, question(id))
	}
	return r
}

func plan(rounds ...game.Round) game.Plan { return game.Plan{Title: "Test", Rounds: rounds} }

// opened is a table whose teams t1, t2, ... have joined and whose first
// question was opened at time 0.
func opened(t testing.TB, p game.Plan, teams int) *table {
	g := &table{t: t}
	g.must(0, game.Command{Type: game.Create, By: "hub", Code: "otter-den-42", Plan: p})
	for i := range teams {
		g.must(0, game.Command{Type: game.Join, By: "hub", Name: fmt.Sprintf("Team %d", i+1)})
	}
	g.must(0, host(game.Next))
	return g
}

func host(kind string) game.Command { return game.Command{Type: kind, By: "host"} }

func ruling(right bool) game.Command {
	return game.Command{Type: game.Rule, By: "host", Right: right}
}

func removal(team string) game.Command {
	return game.Command{Type: game.Remove, By: "host", Team: team}
}

func answer(team, question string, option int) game.Command {
	return game.Command{Type: game.GiveAnswer, By: team, Question: question, Option: option}
}

func buzz(team, question string) game.Command {
	return game.Command{Type: game.PressBuzz, By: team, Question: question}
}

// wait lets the clock run to a time.
func (g *table) wait(now int64) {
	for {
		at, running := g.s.Wake()
		if !running || at > now {
			return
		}
		before := len(g.log)
		g.decide(max(at, g.s.At), tick)
		if len(g.log) == before {
			g.t.Fatalf("the game asked to be woken at %d and then did nothing", at)
		}
	}
}

func (g *table) do(now int64, c game.Command) error {
	g.wait(now)
	err := g.decide(now, c)
	g.wait(g.s.At)
	return err
}

func (g *table) decide(now int64, c game.Command) error {
	events, err := game.Decide(g.s, c, now)
	for _, e := range events {
		g.s = game.Apply(g.s, e)
	}
	g.log = append(g.log, events...)
	return err
}

func (g *table) must(now int64, c game.Command) {
	g.t.Helper()
	if err := g.do(now, c); err != nil {
		g.t.Fatalf("%s by %s at %d: %v", c.Type, c.By, now, err)
	}
}

// play takes the steps and checks each one's refusal.
func (g *table) play(steps ...step) *table {
	g.t.Helper()
	for i, st := range steps {
		if got := codeOf(g.do(st.at, st.cmd)); got != st.code {
			g.t.Fatalf("step %d, %s by %s at %d: refusal %q, want %q", i+1, st.cmd.Type, st.cmd.By, st.at, got, st.code)
		}
	}
	return g
}

func codeOf(err error) string {
	var r refusal.Refusal
	if errors.As(err, &r) {
		return string(r.Code)
	}
	if err != nil {
		return "not a Refusal: " + err.Error()
	}
	return ""
}

// stands checks the phase, the holder and the teams' scores.
func (g *table) stands(phase game.Phase, holder string, scores ...int) {
	g.t.Helper()
	if g.s.Phase != phase || g.s.Holder != holder {
		g.t.Errorf("the game is %q with holder %q, want %q with %q", g.s.Phase, g.s.Holder, phase, holder)
	}
	for i, want := range scores {
		if got := g.s.Teams[i].Score; got != want {
			g.t.Errorf("t%d has %d points, want %d", i+1, got, want)
		}
	}
}

// due checks when the game wants to be woken.
func (g *table) due(want int64) {
	g.t.Helper()
	if at, running := g.s.Wake(); !running || at != want {
		g.t.Errorf("the game wakes at %d (clock running: %v), want %d", at, running, want)
	}
}

func encode(t interface{ Fatal(...any) }, v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
