package game_test

import (
	"strings"
	"testing"

	"fieldsign/game"
)

// asked is a round's questions in their order.
func asked(s game.State, round int) string {
	var ids []string
	for _, q := range s.Plan.Rounds[round].Questions {
		ids = append(ids, q.ID)
	}
	return strings.Join(ids, " ")
}

func edit(kind string, round int, id string) game.Command {
	return game.Command{Type: kind, By: "host", Round: round, Question: id}
}

func moving(round int, id string, to int) game.Command {
	c := edit(game.Move, round, id)
	c.To = to
	return c
}

func replacing(round int, id, with string) game.Command {
	c := edit(game.Replace, round, id)
	c.With = question(with)
	return c
}

func TestEditingARound(t *testing.T) {
	g := &table{t: t}
	whole := plan(round(game.Open, "q1", "q2", "q3", "q4"), round(game.Buzz, "q1"))
	g.must(0, game.Command{Type: game.Create, By: "hub", Plan: whole})
	if r := g.s.Plan.Rounds[0]; r.Edited {
		t.Error("a round is edited before anyone has done so")
	}
	for _, tc := range []struct {
		cmd        game.Command
		code, want string
	}{
		{moving(0, "q4", 0), "", "q4 q1 q2 q3"},
		{moving(0, "q4", 2), "", "q1 q2 q4 q3"},
		{moving(0, "q1", 3), "", "q2 q4 q3 q1"},
		{moving(0, "q1", 4), "no_place", "q2 q4 q3 q1"},
		{moving(0, "q1", -1), "no_place", "q2 q4 q3 q1"},
		{edit(game.Strike, 0, "q4"), "", "q2 q3 q1"},
		{edit(game.Strike, 0, "q4"), "no_question", "q2 q3 q1"},
		{edit(game.Strike, 7, "q2"), "no_question", "q2 q3 q1"},
		{edit(game.Strike, -1, "q2"), "no_question", "q2 q3 q1"},
		{replacing(0, "q3", "r1"), "", "q2 r1 q1"},
		{replacing(0, "q2", "r1"), "bad_plan", "q2 r1 q1"},
		{replacing(0, "q2", ""), "bad_plan", "q2 r1 q1"},
		{edit(game.Strike, 1, "q1"), "last_question", "q2 r1 q1"},
	} {
		g.play(step{0, tc.cmd, tc.code})
		if got := asked(g.s, 0); got != tc.want {
			t.Errorf("%s %s to %d: %s, want %s", tc.cmd.Type, tc.cmd.Question, tc.cmd.To, got, tc.want)
		}
	}
	r := g.s.Plan.Rounds[0]
	if !r.Edited || len(r.Gone) != 2 || r.Gone[0].ID != "q4" || r.Gone[1].ID != "q3" {
		t.Errorf("edited %v, gone %v", r.Edited, r.Gone)
	}
	if g.s.Plan.Rounds[1].Edited {
		t.Error("another round counts as edited")
	}
	if whole.Rounds[0].Questions[0].ID != "q1" || len(whole.Rounds[0].Questions) != 4 {
		t.Error("the plan that was handed in has changed")
	}

	// A command that comes again changes nothing more.
	again := edit(game.Strike, 0, "q2")
	again.ID = "once"
	g.play(step{0, again, ""}, step{0, again, ""})
	if got := asked(g.s, 0); got != "r1 q1" {
		t.Errorf("struck twice: %s", got)
	}
	g.must(0, game.Command{Type: game.Join, By: "hub", Name: "Otters"})
	g.must(1, host(game.Next))
	if _, q, _ := g.s.Current(); q.ID != "r1" {
		t.Errorf("the game asks %s first", q.ID)
	}
	g.play(step{2, edit(game.Strike, 0, "q1"), "not_now"})
	if replayed := game.Replay(g.log); asked(replayed, 0) != "r1 q1" || !replayed.Plan.Rounds[0].Edited {
		t.Errorf("replayed: %s", asked(replayed, 0))
	}
}

func TestEditsAreBounded(t *testing.T) {
	g := &table{t: t}
	g.must(0, game.Command{Type: game.Create, By: "hub", Plan: plan(round(game.Open, "q0"))})
	id := "q0"
	for range 400 {
		next := id + "x"
		if len(next) > 30 {
			next = "y" + id[:1]
		}
		g.must(0, replacing(0, id, next))
		id = next
	}
	g.play(step{0, replacing(0, id, "z"), "too_many_edits"}, step{0, moving(0, id, 0), ""})
}

// A station keeps its place in the round, and one question at least.
func TestEditingStations(t *testing.T) {
	g := &table{t: t}
	whole := plan(stations(3, 2))
	g.must(0, game.Command{Type: game.Create, By: "hub", Plan: whole})
	for _, tc := range []struct {
		cmd        game.Command
		code, want string
	}{
		{edit(game.Strike, 0, "q3"), "", "q1 q2 q4 q5 q6"},
		{edit(game.Strike, 0, "q4"), "last_at_station", "q1 q2 q4 q5 q6"},
		{replacing(0, "q4", "r1"), "", "q1 q2 r1 q5 q6"},
		{moving(0, "q1", 1), "at_station", "q1 q2 r1 q5 q6"},
		{replacing(0, "q6", "q1"), "bad_plan", "q1 q2 r1 q5 q6"},
		{edit(game.Strike, 0, "q5"), "", "q1 q2 r1 q6"},
	} {
		g.play(step{0, tc.cmd, tc.code})
		if got := asked(g.s, 0); got != tc.want {
			t.Errorf("%s %s: %s, want %s", tc.cmd.Type, tc.cmd.Question, got, tc.want)
		}
	}
	r := g.s.Plan.Rounds[0]
	if from, to := r.At(2); from != 3 || to != 4 || r.StationOf(2) != 1 || r.StationOf(3) != 2 || r.Each() != 2 || len(r.Gone) != 3 {
		t.Errorf("the third station has the questions from %d to %d: %+v", from, to, r)
	}
	if whole.Rounds[0].Stations[1].Count != 0 {
		t.Error("the plan that was handed in has changed")
	}

	g.must(0, game.Command{Type: game.Join, By: "hub", Name: "Otters"})
	g.must(0, host(game.Next))
	g.must(0, host(game.Next))
	for turn, at := range []struct{ here, elsewhere string }{{"q2", "r1"}, {"r1", "q6"}, {"q6", "q1"}} {
		wrong := game.Command{Type: game.GiveAnswer, By: "t1", Question: at.elsewhere}
		right := game.Command{Type: game.GiveAnswer, By: "t1", Question: at.here, Option: question(at.here).Key}
		g.play(step{g.s.At, wrong, "not_here"}, step{g.s.At, right, ""})
		if n := g.s.Filled(0); n != 1 {
			t.Errorf("rotation %d: %d answers are counted", turn+1, n)
		}
		g.must(g.s.At, host(game.Close))
		if turn < 2 {
			g.must(g.s.At, host(game.Next))
		}
	}
	if g.s.Phase != game.Marked || g.s.Teams[0].Right != 3 {
		t.Errorf("phase %s, right %d", g.s.Phase, g.s.Teams[0].Right)
	}
	if replayed := game.Replay(g.log); asked(replayed, 0) != "q1 q2 r1 q6" || replayed.Teams[0].Right != 3 {
		t.Errorf("replayed: %s, right %d", asked(replayed, 0), replayed.Teams[0].Right)
	}
}

func TestStationsDontAddUp(t *testing.T) {
	for name, counts := range map[string][]int{"too few": {1, 2, 2}, "too many": {2, 2, 3}, "negative": {-1, 4, 3}, "crowded": {0, 0, 6}} {
		r := stations(3, 2)
		for i, n := range counts {
			r.Stations[i].Count = n
		}
		g := &table{t: t}
		g.play(step{0, game.Command{Type: game.Create, By: "hub", Plan: plan(r)}, "bad_plan"})
		if g.s.Seq != 0 {
			t.Errorf("%s is taken", name)
		}
	}
}
