package debrief_test

import (
	"fmt"
	"testing"

	"fieldsign/game"
	"fieldsign/game/debrief"
)

// circuit is a round of three stations with a question each.
func circuit() game.Round {
	r := round(game.Rotating, "q1", "q2", "q3")
	r.Stations = make([]game.Station, 3)
	return r
}

func TestStationRounds(t *testing.T) {
	write := func(g *table, team int, question string, option int) {
		g.now += 10
		g.do(game.Command{Type: game.GiveAnswer, By: id(team), Question: question, Option: option})
	}
	g := opened(t, 2, circuit(), round(game.Open, "q4"))
	g.host(game.Next)
	write(g, 1, "q1", wrong)
	write(g, 1, "q1", right)
	write(g, 2, "q2", wrong)
	g.host(game.Close) // without a walk the next rotation follows
	g.join("late")
	write(g, 3, "q1", right)
	if r := debrief.Of(g.log, nil); r.Questions[0].Status != debrief.Unclosed || r.Share.Of != 0 {
		t.Errorf("before the marks: %+v", r.Questions[0])
	}
	g.host(game.Mark, game.Next, game.Next)
	g.answer(1, right)
	g.host(game.Close)

	type row [3]debrief.Mark
	want := []struct {
		status string
		marks  row
	}{
		{debrief.Closed, row{debrief.Right, debrief.Apart, debrief.Right}},
		{debrief.Closed, row{debrief.Silent, debrief.Wrong, debrief.Apart}},
		{debrief.Closed, row{debrief.Apart, debrief.Silent, debrief.Apart}},
		{debrief.Closed, row{debrief.Right, debrief.Silent, debrief.Silent}},
	}
	got := debrief.Of(g.log, nil).Questions
	if len(got) != len(want) {
		t.Fatalf("%d questions, want %d", len(got), len(want))
	}
	for i, w := range want {
		marks := row{got[i].Answers[0].Mark, got[i].Answers[1].Mark, got[i].Answers[2].Mark}
		if got[i].Status != w.status || marks != w.marks {
			t.Errorf("question %d: %s %q, want %s %q", i+1, got[i].Status, marks, w.status, w.marks)
		}
	}
	if a := got[0].Answers[0]; a.Option != right || a.Ms != 20 || a.Points != 100 {
		t.Errorf("the first team's first answer: %+v", a)
	}
}

func TestCorrectedStationRounds(t *testing.T) {
	for _, when := range []string{"before the marks", "after the marks"} {
		g := opened(t, 1, circuit())
		correct := func() {
			g.do(game.Command{Type: game.Correct, By: "host", Question: "q1", Option: wrong})
			g.do(game.Command{Type: game.Correct, By: "host", Question: "q2", Option: -1})
		}
		g.host(game.Next)
		g.answer(1, wrong)
		if when == "before the marks" {
			correct()
		}
		g.host(game.Mark)
		if when == "after the marks" {
			correct()
		}
		r := debrief.Of(g.log, nil)
		if q := r.Questions[0]; q.Key != wrong || q.Answers[0].Mark != debrief.Right || r.Questions[1].Status != debrief.Void || fmt.Sprint(r.Share.Right, r.Share.Of) != "1 1" {
			t.Errorf("%s: %+v, share %+v", when, r.Questions, r.Share)
		}
	}
}
