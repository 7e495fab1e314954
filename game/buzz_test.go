package game_test

import (
	"fmt"
	"slices"
	"testing"

	"fieldsign/game"
)

// at is a buzz that arrived at got and was pressed at pressed, in ms of the
// question; its clock may be off by bound ms and its link takes 200 ms at most.
func at(team string, got, pressed, bound int64) game.Command {
	c := buzz(team, "q1")
	c.Timing = game.Timing{Got: got * 1000, Pressed: pressed * 1000, Bound: bound * 1000, Back: 200_000, Wait: 150_000}
	return c
}

// contest opens a buzz round that waits up to 250 ms for slower links.
func contest(t *testing.T, teams int) *table {
	r := round(game.Buzz, "q1")
	r.Wait = 250
	return opened(t, plan(r), teams)
}

func TestWhoWasFirst(t *testing.T) {
	without := func(c game.Command, what func(*game.Timing)) game.Command { what(&c.Timing); return c }
	for _, tc := range []struct {
		name   string
		wait   int64 // till when the buzz is open to others
		steps  []step
		holder string
		drawn  []string
	}{
		{"a slow link's press was the first", 1155, []step{
			{1010, at("t1", 1010, 1000, 5), ""}, {1100, at("t2", 1100, 950, 10), ""}}, "t2", nil},
		{"an earlier arrival that was pressed earlier", 1155, []step{
			{1010, at("t1", 1010, 1000, 5), ""}, {1100, at("t2", 1100, 1001, 90), ""}}, "t1", nil},
		{"too close to tell: drawn", 1155, []step{
			{1010, at("t1", 1010, 1000, 5), ""}, {1100, at("t2", 1100, 960, 50), ""}}, "t1", []string{"t1", "t2"}},
		{"a third that is surely later is not in the draw", 1155, []step{
			{1010, at("t1", 1010, 1000, 5), ""}, {1020, at("t3", 1020, 1010, 5), ""}, {1100, at("t2", 1100, 960, 50), ""}}, "t1", []string{"t1", "t2"}},
		{"a claim beyond what the link was seen to take", 1055, []step{
			{1010, at("t1", 1010, 900, 5), ""}, {1050, without(at("t2", 1050, 150, 5), func(t *game.Timing) { t.Back = 50_000 }), ""}}, "t1", nil},
		{"a claim beyond what the round waits", 1070, []step{
			{1010, without(at("t1", 1010, 765, 5), func(t *game.Timing) { t.Back, t.Wait = 300_000, 300_000 }), ""},
			{1020, without(at("t2", 1020, 150, 5), func(t *game.Timing) { t.Back = 9_000_000 }), ""}}, "t1", nil},
		{"a claim to have reacted faster than anyone can", 255, []step{
			{110, at("t1", 110, 100, 5), ""}, {120, at("t2", 120, 1, 5), ""}}, "t1", nil},
		{"a press in the future counts from its arrival", 1160, []step{
			{1010, at("t1", 1010, 1400, 5), ""}, {1020, at("t2", 1020, 1001, 0), ""}}, "t2", nil},
		{"links of which nothing is known: by arrival", 1260, []step{
			{1010, without(at("t1", 1010, 0, 0), func(t *game.Timing) { *t = game.Timing{Got: 1_010_000, Wait: 250_000} }), ""},
			{1011, without(at("t2", 1011, 0, 0), func(t *game.Timing) { *t = game.Timing{Got: 1_011_000} }), ""}}, "t1", nil},
		{"pressed twice", 1155, []step{{1010, at("t1", 1010, 1000, 5), ""}, {1020, at("t1", 1020, 1015, 5), "not_now"}}, "t1", nil},
		{"pressed after the time was up, while the buzz was open", 20_145, []step{
			{19_999, at("t1", 19_999, 19_990, 5), ""}, {20_010, at("t2", 20_010, 20_001, 5), "too_late"}, {20_011, at("t3", 20_011, 19_970, 5), ""}}, "t3", nil},
		{"the first is removed meanwhile", 1155, []step{
			{1010, at("t1", 1010, 1000, 5), ""}, {1020, at("t2", 1020, 1019, 5), ""}, {1030, removal("t1"), ""}}, "t2", nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			g := contest(t, 3).play(tc.steps...)
			g.stands(game.Asking, "")
			g.due(tc.wait)
			g.wait(tc.wait)
			g.stands(game.Buzzed, tc.holder)
			if !slices.Equal(g.s.Drawn, tc.drawn) {
				t.Errorf("drawn among %v, want %v", g.s.Drawn, tc.drawn)
			}
		})
	}
}

// Where there is nobody to wait for, or the host wants no waiting, the buzz is
// given at once and by arrival.
func TestNoWaiting(t *testing.T) {
	alone := at("t1", 1010, 1000, 5)
	alone.Timing.Wait = 0
	contest(t, 2).play(step{1010, alone, ""}).stands(game.Buzzed, "t1")
	opened(t, plan(round(game.Buzz, "q1")), 2).play(step{1010, at("t1", 1010, 1000, 5), ""}, step{1010, at("t2", 1010, 900, 5), "beaten"}).stands(game.Buzzed, "t1")
}

func TestContestIsCutShort(t *testing.T) {
	for _, tc := range []struct {
		name  string
		cut   game.Command
		phase game.Phase
	}{
		{"closed", host(game.Close), game.Revealed},
		{"skipped", host(game.Skip), game.Revealed},
		{"ended", host(game.End), game.Ended},
		{"the only press goes", removal("t1"), game.Asking},
	} {
		t.Run(tc.name, func(t *testing.T) {
			g := contest(t, 2).play(step{1010, at("t1", 1010, 1000, 5), ""}, step{1020, tc.cut, ""})
			g.wait(2000)
			g.stands(tc.phase, "")
			if len(g.s.Presses) > 0 {
				t.Errorf("presses are left: %+v", g.s.Presses)
			}
		})
	}
	g := contest(t, 2).play(step{1010, at("t1", 1010, 1000, 5), ""}, step{1020, host(game.Pause), ""}, step{1030, at("t2", 1030, 990, 5), "paused"}, step{9000, host(game.Resume), ""})
	g.stands(game.Buzzed, "t1")
}

// The time of the question stands from the first press on.
func TestTheContestCostsNoTime(t *testing.T) {
	g := contest(t, 2).play(step{5000, at("t1", 5000, 5000, 5), ""})
	g.wait(5155)
	g.play(step{6000, ruling(false), ""}).due(6000 + 15_000)
}

// The draw falls on each of two and of three teams about equally often.
func TestTheDrawIsFair(t *testing.T) {
	for _, teams := range []int{2, 3, 4} {
		counts := map[string]int{}
		for seed := range 3000 {
			r := round(game.Buzz, "q1")
			r.Wait = 250
			p := plan(r)
			p.Seed = uint64(seed)
			g := opened(t, p, teams)
			for i := range int64(teams) {
				// later in arrival, earlier as credited: none beats another
				g.must(1000+i, at(fmt.Sprintf("t%d", i+1), 1000+i, 900-i, 50))
			}
			g.wait(2000)
			counts[g.s.Holder]++
		}
		mean, chi := 3000/float64(teams), 0.0
		for _, n := range counts {
			chi += (float64(n) - mean) * (float64(n) - mean) / mean
		}
		// Critical values at 0.001 (NIST/SEMATECH e-Handbook 1.3.6.7.4, recalled from memory).
		if limit := map[int]float64{2: 10.828, 3: 13.816, 4: 16.266}[teams]; chi > limit || len(counts) != teams {
			t.Errorf("%d teams: chi-square %.2f over %.2f, %v", teams, chi, limit, counts)
		}
	}
}
