package debrief_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"fieldsign/game"
	"fieldsign/game/debrief"
)

// A table plays a game for a debrief to hear of. It ticks after each command
// and never lets the clock run by itself.
type table struct {
	t   fataler
	s   game.State
	log []game.Event
	now int64
}

type fataler interface {
	Helper()
	Fatalf(string, ...any)
}

func (g *table) try(c game.Command) error {
	events, err := game.Decide(g.s, c, g.now)
	for _, e := range events {
		g.s = game.Apply(g.s, e)
	}
	g.log = append(g.log, events...)
	return err
}

func (g *table) do(c game.Command) {
	g.t.Helper()
	if err := g.try(c); err != nil {
		g.t.Fatalf("%s by %s at %d: %v", c.Type, c.By, g.now, err)
	}
	if err := g.try(game.Command{Type: game.Tick, By: "hub"}); err != nil {
		g.t.Fatalf("tick at %d: %v", g.now, err)
	}
}

func (g *table) host(kinds ...string) {
	g.t.Helper()
	for _, kind := range kinds {
		g.do(game.Command{Type: kind, By: "host"})
	}
}

func (g *table) join(name string) {
	g.t.Helper()
	g.do(game.Command{Type: game.Join, By: "hub", Name: name})
}

// asked is the question under way.
func (g *table) asked() *game.Question { _, q, _ := g.s.Current(); return q }

func (g *table) answer(team, option int) {
	g.t.Helper()
	g.do(game.Command{Type: game.GiveAnswer, By: id(team), Question: g.asked().ID, Option: option})
}

// press buzzes and answers.
func (g *table) press(team, option int) {
	g.t.Helper()
	g.do(game.Command{Type: game.PressBuzz, By: id(team), Question: g.asked().ID})
	g.answer(team, option)
}

func id(team int) string { return fmt.Sprintf("t%d", team) }

const (
	right = 1
	wrong = 0
)

func question(id string) game.Question {
	return game.Question{ID: id, Subject: "skull", Prompt: "Whose skull?", Options: []string{"mink", "marten", "fisher"}, Key: right, Reason: "the size"}
}

func round(kind game.Kind, ids ...string) game.Round {
	r := game.Round{Name: "R", Kind: kind, Seconds: 20, Points: 100, Penalty: 25}
	for _, id := range ids {
		r.Questions = append(r.Questions, question(id))
	}
	return r
}

// opened is a table at its first question, with teams t1, t2, ...
func opened(t fataler, teams int, rounds ...game.Round) *table {
	g := &table{t: t}
	plan := game.Plan{Title: "Test", Rounds: rounds}
	g.do(game.Command{Type: game.Create, By: "hub", Code: "otter-den-42", Began: "2026-03-14T15:09:26Z", Plan: plan})
	for i := range teams {
		g.join(fmt.Sprintf("Team %d", i+1))
	}
	g.host(game.Next)
	return g
}

// sat is the report of one open round in which team t got question q right
// where marks[t][q] is '1'.
func sat(t *testing.T, marks []string) debrief.Report {
	t.Helper()
	var ids []string
	for q := range marks[0] {
		ids = append(ids, fmt.Sprintf("q%d", q+1))
	}
	g := opened(t, len(marks), round(game.Open, ids...))
	for q := range ids {
		for team := range marks {
			g.now += 10
			g.answer(team+1, map[byte]int{'0': wrong, '1': right}[marks[team][q]])
		}
		g.host(game.Next)
	}
	return debrief.Of(g.log, nil)
}

func encode(t fataler, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return string(b)
}
