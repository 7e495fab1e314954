package game_test

import (
	"testing"

	"fieldsign/game"
)

func extended(team string, percent int) game.Command {
	return game.Command{Type: game.Extend, By: "host", Team: team, Extra: percent}
}

// t1 has half as much again of 20 seconds, t2 has not.
func TestExtraTime(t *testing.T) {
	for _, tc := range []struct {
		name   string
		steps  []step
		until  int64
		phase  game.Phase
		scores []int
	}{
		{"the question stays open for the team that has it", []step{
			{20_000, answer("t2", "q1", right), "too_late"}, {29_999, answer("t1", "q1", right), ""}}, 29_999, game.Revealed, []int{100, 0}},
		{"and no longer", []step{{30_000, answer("t1", "q1", right), "too_late"}}, 30_000, game.Revealed, []int{0, 0}},
		{"the reveal waits for it", nil, 29_999, game.Asking, []int{0, 0}},
		{"but not once it has answered", []step{{5, answer("t1", "q1", right), ""}}, 20_000, game.Revealed, []int{149, 0}},
		{"its answer after the others' time closes at once", []step{{25_000, answer("t1", "q1", right), ""}}, 25_000, game.Revealed, []int{108, 0}},
		{"the speed part falls as slowly as its clock", []step{
			{10_000, answer("t2", "q1", right), ""}, {15_000, answer("t1", "q1", right), ""}}, 15_000, game.Revealed, []int{125, 125}},
		{"removed, it holds up nobody", []step{{25_000, removal("t1"), ""}}, 25_000, game.Revealed, []int{0}},
		{"a pause keeps what it has left", []step{
			{26_000, host(game.Pause), ""}, {60_000, host(game.Resume), ""}, {63_999, answer("t1", "q1", right), ""}}, 63_999, game.Revealed, []int{100, 0}},
		{"nor more", []step{
			{26_000, host(game.Pause), ""}, {60_000, host(game.Resume), ""}, {64_000, answer("t1", "q1", right), "too_late"}}, 64_000, game.Revealed, []int{0, 0}},
		{"taken away, the question closes", []step{{25_000, extended("t1", 0), ""}}, 25_000, game.Revealed, []int{0, 0}},
		{"given in time, it counts for the question under way", []step{
			{19_000, extended("t2", 100), ""}, {39_999, answer("t2", "q1", right), ""}}, 39_999, game.Revealed, []int{0, 100}},
		{"closed by the host all the same", []step{{25_000, host(game.Close), ""}}, 25_000, game.Revealed, []int{0, 0}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r := round(game.Open, "q1")
			r.Speed = 50
			g := opened(t, plan(r), 2)
			g.must(0, extended("t1", 50))
			g.play(tc.steps...).wait(tc.until)
			g.stands(tc.phase, "", tc.scores...)
		})
	}
}

// Equal scores are put in order by time on each team's own clock.
func TestExtraTimeAndEqualScores(t *testing.T) {
	g := opened(t, plan(round(game.Open, "q1")), 2)
	g.must(0, extended("t1", 100))
	g.play(step{10_000, answer("t2", "q1", right), ""}, step{18_000, answer("t1", "q1", right), ""})
	if s := g.s.Standings(); s[0].Team != "t1" || s[0].Rank == s[1].Rank {
		t.Errorf("standings %v: 18 of 40 seconds are less than 10 of 20", s)
	}
}

// In a buzz round the first press decides, and nobody has more time than others.
func TestNoExtraTimeInABuzzRound(t *testing.T) {
	g := opened(t, plan(round(game.Buzz, "q1")), 2)
	g.must(0, extended("t1", 100))
	g.play(step{20_000, buzz("t1", "q1"), "too_late"})
	g.stands(game.Revealed, "", 0, 0)
}

func TestExtraTimeRefused(t *testing.T) {
	g := opened(t, plan(round(game.Open, "q1")), 1)
	g.play(step{1, extended("t1", 33), "bad_extra"}, step{1, extended("t1", -25), "bad_extra"}, step{1, extended("t2", 50), "unknown_team"},
		step{2, host(game.End), ""}, step{3, extended("t1", 50), "ended"})
}

func TestForgottenName(t *testing.T) {
	forget := func(team string) game.Command { return game.Command{Type: game.Forget, By: "host", Team: team} }
	g := opened(t, plan(round(game.Open, "q1")), 3)
	g.play(step{1, forget("t1"), "not_now"}, step{1, forget("t9"), "unknown_team"}, step{1, forget(""), "unknown_team"},
		step{2, removal("t2"), ""}, step{2, forget("t2"), ""}, // a removed team's at any time
		step{3, host(game.End), ""}, step{4, forget("t1"), ""}, step{5, forget("t3"), ""})
	for _, team := range game.Replay(g.log).Teams {
		if team.Name != game.Nameless {
			t.Errorf("%s is still %q", team.ID, team.Name)
		}
	}
}
