package game_test

import (
	"errors"
	"slices"
	"testing"

	"fieldsign/game"
	"fieldsign/refusal"
)

func matchPlan(m *game.Match) game.Plan {
	return game.Plan{Match: m, Rounds: []game.Round{{Kind: game.Open, Seconds: 10, Points: 100,
		Questions: []game.Question{{ID: "q", Prompt: "?", Options: []string{"a", "b"}}}}}}
}

// played applies commands, and returns the code of the first refusal.
func played(t *testing.T, s *game.State, commands ...game.Command) string {
	t.Helper()
	for _, c := range commands {
		events, err := game.Decide(*s, c, s.At)
		if r := (refusal.Refusal{}); errors.As(err, &r) {
			return string(r.Code)
		}
		for _, e := range events {
			*s = game.Apply(*s, e)
		}
	}
	return ""
}

func TestAMatchIsItsSidesAlone(t *testing.T) {
	var s game.State
	played(t, &s, game.Command{Type: game.Create, Code: "otter-den-42", Plan: matchPlan(&game.Match{Tournament: "fox-burrow-07", Number: 3, Sides: []string{"Wrens", "Otters"}})})
	join := func(name string) game.Command { return game.Command{Type: game.Join, By: "hub", Name: name} }
	if code := played(t, &s, join("Stoats")); code != "not_a_side" {
		t.Errorf("a third team's join was answered with %q", code)
	}
	if code := played(t, &s, join(" Otters "), join("Otters")); code != "name_taken" {
		t.Errorf("a side's second join was answered with %q", code)
	}
	if code := played(t, &s, game.Command{Type: game.Rename, By: "host", Team: "t1", Name: "Stoats"}); code != "not_a_side" {
		t.Errorf("a side's new name was answered with %q", code)
	}
	if _, ok := s.SideScores(); ok {
		t.Error("there are scores although a side is missing")
	}
	played(t, &s, game.Command{Type: game.SetPlan, By: "host", Plan: matchPlan(nil)}, join("Wrens"), game.Command{Type: game.Next, By: "host"})
	if _, ok := s.SideScores(); ok {
		t.Error("there are scores although nothing was asked to its end")
	}
	played(t, &s, game.Command{Type: game.GiveAnswer, By: "t1", Question: "q", Option: 0}, game.Command{Type: game.Close, By: "host"}, game.Command{Type: game.Next, By: "host"})
	if scores, ok := s.SideScores(); !ok || !slices.Equal(scores, []int{0, 100}) || s.Phase != game.Ended {
		t.Errorf("%s with scores %v, %v; want home 0, away 100", s.Phase, scores, ok)
	}
}

func TestABadMatchIsRefused(t *testing.T) {
	for what, m := range map[string]game.Match{
		"one side":       {Sides: []string{"Wrens"}},
		"twice the same": {Sides: []string{"Wrens", "wrens"}},
		"no name":        {Sides: []string{"Wrens", "<b>"}},
		"one score":      {Sides: []string{"Wrens", "Otters"}, Level: []int{3}},
		"no UTF-8":       {Sides: []string{"Wrens", "Otters"}, Tournament: "\xff"},
	} {
		var s game.State
		if code := played(t, &s, game.Command{Type: game.Create, Plan: matchPlan(&m)}); code != "bad_plan" {
			t.Errorf("%s: answered with %q", what, code)
		}
	}
}

// A name goes from the sides too, but not before the match's end: its seat
// may yet be taken by the right phone.
func TestASidesNameIsForgotten(t *testing.T) {
	var s game.State
	sides := []string{"Wrens", "Otters"}
	join := func(name string) game.Command { return game.Command{Type: game.Join, By: "hub", Name: name} }
	forget := func(team string) game.Command { return game.Command{Type: game.Forget, By: "host", Team: team} }
	played(t, &s, game.Command{Type: game.Create, Code: "otter-den-42", Plan: matchPlan(&game.Match{Tournament: "fox-burrow-07", Number: 3, Sides: sides})},
		join("Wrens"), game.Command{Type: game.Remove, By: "host", Team: "t1"})
	if code := played(t, &s, forget("t1")); code != "not_now" {
		t.Errorf("a name whose seat is free was answered with %q", code)
	}
	if code := played(t, &s, join("Wrens"), join("Otters"), game.Command{Type: game.Next, By: "host"}, game.Command{Type: game.Close, By: "host"}, game.Command{Type: game.End, By: "host"}, forget("t1")); code != "" {
		t.Fatal(code)
	}
	if _, ok := s.SideScores(); !ok || !slices.Equal(s.Plan.Match.Sides, []string{"Wrens", "Otters"}) {
		t.Errorf("the name of the team that played has gone with the removed one's: %v", s.Plan.Match.Sides)
	}
	if code := played(t, &s, forget("t2"), forget("t3")); code != "" {
		t.Fatal(code)
	}
	if _, ok := s.SideScores(); ok || !slices.Equal(s.Plan.Match.Sides, []string{game.Nameless, game.Nameless}) {
		t.Errorf("the sides are %v, or have scores that are nobody's", s.Plan.Match.Sides)
	}
	if sides[0] != "Wrens" {
		t.Error("the event that the state was made from has changed")
	}
}
