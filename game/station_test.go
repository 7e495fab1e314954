package game_test

import (
	"fmt"
	"reflect"
	"testing"

	"fieldsign/game"
)

// stations is a round of n stations with so many questions each, numbered q1,
// q2, ... through all stations; 20 s a rotation, 5 s to walk.
func stations(n, each int) game.Round {
	r := round(game.Rotating)
	r.Walk = 5
	for i := range n {
		r.Stations = append(r.Stations, game.Station{Species: "Castor canadensis", Subject: "skull", Replica: i == 0})
		for k := range each {
			r.Questions = append(r.Questions, question(fmt.Sprintf("q%d", i*each+k+1)))
		}
	}
	return r
}

func adjust(seconds int) game.Command {
	return game.Command{Type: game.Adjust, By: "host", Seconds: seconds}
}

func correct(question string, option int) game.Command {
	return game.Command{Type: game.Correct, By: "host", Question: question, Option: option}
}

// places checks where the teams are, counted from 1; 0 is for a removed one.
func (g *table) places(want ...int) {
	g.t.Helper()
	for i, w := range want {
		if w > 0 && g.s.Place(i)+1 != w {
			g.t.Errorf("turn %d, %s: t%d is at station %d, want %d", g.s.Turn, g.s.Phase, i+1, g.s.Place(i)+1, w)
		}
	}
}

func TestEveryTeamVisitsEveryStation(t *testing.T) {
	for _, teams := range []int{1, 2, 3, 4, 7} {
		g := opened(t, plan(stations(3, 1)), teams)
		seen := map[string]bool{}
		g.must(0, host(game.Next))
		for turn := range 3 {
			for i := range teams {
				seen[fmt.Sprint(i, g.s.Place(i))] = true
				for at := range 3 {
					if visited := g.s.Visited(i, at); visited != seen[fmt.Sprint(i, at)] {
						t.Errorf("%d teams, turn %d: team %d, station %d: visited is %v", teams, turn+1, i, at, visited)
					}
				}
			}
			g.wait(int64(turn+1) * 25_000)
		}
		if len(seen) != 3*teams || g.s.Phase != game.Marked {
			t.Errorf("%d teams made %d visits and stand in phase %s", teams, len(seen), g.s.Phase)
		}
	}
}

func TestRotationsByTheClock(t *testing.T) {
	g := opened(t, plan(stations(3, 1)), 4)
	g.stands(game.Walking, "")
	g.places(1, 2, 3, 1)
	if _, running := g.s.Wake(); running {
		t.Error("the first rotation begins without the host")
	}
	g.must(1000, host(game.Next))
	g.stands(game.Visiting, "")
	g.due(21_000)
	g.wait(21_000)
	g.stands(game.Walking, "")
	g.places(2, 3, 1, 2)
	g.due(26_000)
	g.wait(26_000)
	g.stands(game.Visiting, "")
	g.places(2, 3, 1, 2)
	g.wait(46_000 + 5_000 + 20_000)
	g.stands(game.Marked, "")
	g.must(80_000, host(game.Next))
	g.stands(game.Ended, "")
}

func TestWithoutWalkOneRotationFollowsTheOther(t *testing.T) {
	r := stations(2, 1)
	r.Walk = 0
	g := opened(t, plan(r), 1)
	g.must(0, host(game.Next))
	g.wait(20_000)
	g.stands(game.Visiting, "")
	g.places(2)
	g.due(40_000)
}

func TestAnswersAtStations(t *testing.T) {
	begin, signal := host(game.Next), host(game.Close)
	for name, c := range map[string]struct {
		steps  []step
		scores []int
	}{
		"none before the first rotation": {[]step{{0, answer("t1", "q1", right), "too_late"}}, nil},
		"the last one counts, not the first": {[]step{{0, begin, ""}, {1, answer("t1", "q1", wrong), ""}, {2, answer("t1", "q1", right), ""},
			{3, answer("t2", "q3", right), ""}, {4, answer("t2", "q3", wrong), ""}, {5, host(game.Mark), ""}}, []int{100, 0}},
		"the same again changes nothing":  {[]step{{0, begin, ""}, {1, answer("t1", "q1", right), ""}, {2, answer("t1", "q1", right), ""}, {3, host(game.Mark), ""}}, []int{100}},
		"only at the own station":         {[]step{{0, begin, ""}, {1, answer("t1", "q3", right), "not_here"}, {2, answer("t2", "q1", right), "not_here"}, {3, answer("t1", "q9", right), "not_here"}}, nil},
		"locked at the signal":            {[]step{{0, begin, ""}, {19_999, answer("t1", "q1", right), ""}, {20_000, answer("t1", "q2", right), "too_late"}}, nil},
		"locked while they walk":          {[]step{{0, begin, ""}, {1, signal, ""}, {2, answer("t1", "q1", right), "too_late"}, {3, answer("t1", "q3", right), "too_late"}}, nil},
		"the station left stays locked":   {[]step{{0, begin, ""}, {1, signal, ""}, {2, begin, ""}, {3, answer("t1", "q1", right), "not_here"}, {4, answer("t1", "q3", right), ""}}, nil},
		"not while paused":                {[]step{{0, begin, ""}, {1, host(game.Pause), ""}, {2, answer("t1", "q1", right), "paused"}}, nil},
		"an option that there is":         {[]step{{0, begin, ""}, {1, answer("t1", "q1", 3), "bad_option"}, {1, answer("t1", "q1", -1), "bad_option"}}, nil},
		"a team that there is":            {[]step{{0, begin, ""}, {1, answer("t9", "q1", right), "unknown_team"}}, nil},
		"no buzz":                         {[]step{{0, begin, ""}, {1, buzz("t1", "q1"), "too_late"}}, nil},
		"speed earns nothing":             {[]step{{0, begin, ""}, {1, answer("t1", "q1", right), ""}, {19_000, answer("t2", "q3", right), ""}, {19_001, host(game.Mark), ""}}, []int{100, 100}},
		"no points before the round ends": {[]step{{0, begin, ""}, {1, answer("t1", "q1", right), ""}, {2, signal, ""}}, []int{0}},
		"the end of the game marks":       {[]step{{0, begin, ""}, {1, answer("t1", "q1", right), ""}, {2, host(game.End), ""}}, []int{100}},
		"a removed team gets no points":   {[]step{{0, begin, ""}, {1, answer("t1", "q1", right), ""}, {2, removal("t1"), ""}, {3, host(game.Mark), ""}}, []int{0}},
	} {
		t.Run(name, func(t *testing.T) {
			g := opened(t, plan(stations(2, 2)), 2).play(c.steps...)
			for i, want := range c.scores {
				if got := g.s.Teams[i].Score; got != want {
					t.Errorf("t%d has %d points, want %d", i+1, got, want)
				}
			}
			if got := game.Replay(g.log); !reflect.DeepEqual(got, g.s) {
				t.Error("the log gives another game")
			}
		})
	}
}

func TestHostOfAStationRound(t *testing.T) {
	begin, signal := host(game.Next), host(game.Close)
	for name, c := range map[string]struct {
		steps []step
		phase game.Phase
		due   int64 // 0: no clock runs
	}{
		"signal now":                   {[]step{{0, begin, ""}, {3000, signal, ""}}, game.Walking, 8000},
		"begin now":                    {[]step{{0, begin, ""}, {3000, signal, ""}, {4000, begin, ""}}, game.Visiting, 24_000},
		"longer":                       {[]step{{0, begin, ""}, {1000, adjust(30), ""}}, game.Visiting, 50_000},
		"shorter":                      {[]step{{0, begin, ""}, {1000, adjust(-10), ""}}, game.Visiting, 10_000},
		"a longer walk":                {[]step{{0, begin, ""}, {1000, signal, ""}, {2000, adjust(10), ""}}, game.Walking, 16_000},
		"this rotation only":           {[]step{{0, begin, ""}, {1000, adjust(30), ""}, {2000, signal, ""}, {3000, begin, ""}}, game.Visiting, 23_000},
		"down to nothing":              {[]step{{0, begin, ""}, {1000, adjust(-60), ""}}, game.Walking, 6000},
		"not beyond the bound":         {[]step{{0, begin, ""}, {1000, adjust(600), ""}, {1000, adjust(1), "bad_time"}}, game.Visiting, 601_000},
		"while paused":                 {[]step{{0, begin, ""}, {5000, host(game.Pause), ""}, {9000, adjust(5), ""}, {10_000, host(game.Resume), ""}}, game.Visiting, 30_000},
		"a pause stops the clock":      {[]step{{0, begin, ""}, {5000, host(game.Pause), ""}, {60_000, host(game.Resume), ""}}, game.Visiting, 75_000},
		"no time before the start":     {[]step{{0, adjust(5), "not_now"}}, game.Walking, 0},
		"not twice":                    {[]step{{0, begin, ""}, {1000, begin, "not_now"}}, game.Visiting, 20_000},
		"not out of a pause":           {[]step{{0, host(game.Pause), ""}, {1, begin, "paused"}}, game.Walking, 0},
		"marked early":                 {[]step{{0, begin, ""}, {1000, host(game.Mark), ""}, {1001, host(game.Mark), "not_now"}}, game.Marked, 0},
		"nothing to skip or take back": {[]step{{0, begin, ""}, {1, host(game.Skip), "not_now"}, {1, host(game.Undo), "nothing_to_undo"}, {1, ruling(true), "not_now"}}, game.Visiting, 20_000},
		"no key for what is not there": {[]step{{0, correct("q9", 0), "unknown_question"}, {0, correct("q1", 3), "bad_option"}, {0, correct("q1", -2), "bad_option"}}, game.Walking, 0},
	} {
		t.Run(name, func(t *testing.T) {
			g := opened(t, plan(stations(2, 2)), 2).play(c.steps...)
			g.stands(c.phase, "")
			if at, running := g.s.Wake(); running != (c.due > 0) || running && at != c.due {
				t.Errorf("the game wakes at %d (clock running: %v), want %d", at, running, c.due)
			}
		})
	}
}

func TestCorrectedKeys(t *testing.T) {
	before := []step{{0, host(game.Next), ""}, {1, answer("t1", "q1", right), ""}, {1, answer("t1", "q2", wrong), ""}, {2, answer("t2", "q3", right), ""}}
	mark := step{3, host(game.Mark), ""}
	for name, c := range map[string]struct {
		steps  []step
		scores []int
	}{
		"as planned":                 {[]step{mark}, []int{100, 100}},
		"another key, before":        {[]step{{2, correct("q1", wrong), ""}, mark}, []int{0, 100}},
		"another key, after":         {[]step{mark, {4, correct("q2", wrong), ""}}, []int{200, 100}},
		"points go again":            {[]step{mark, {4, correct("q1", wrong), ""}}, []int{0, 100}},
		"and come back":              {[]step{mark, {4, correct("q1", wrong), ""}, {5, correct("q1", right), ""}}, []int{100, 100}},
		"counts for nothing, before": {[]step{{2, correct("q3", -1), ""}, mark}, []int{100, 0}},
		"counts for nothing, after":  {[]step{mark, {4, correct("q3", -1), ""}}, []int{100, 0}},
		"not once the round is left": {[]step{mark, {4, host(game.Next), ""}, {5, correct("q3", -1), "not_now"}}, []int{100, 100}},
	} {
		t.Run(name, func(t *testing.T) {
			g := opened(t, plan(stations(2, 2), round(game.Open, "q1")), 2).play(append(before[:len(before):len(before)], c.steps...)...)
			g.stands(g.s.Phase, "", c.scores...)
			for i, team := range g.s.Teams {
				if want := c.scores[i] / 100; team.Right != want || team.Time != 0 {
					t.Errorf("t%d has %d right answers in %d ms, want %d in 0", i+1, team.Right, team.Time, want)
				}
			}
		})
	}
}

// Who comes late begins where there is most room, and has no turn at the
// stations behind.
func TestLateTeams(t *testing.T) {
	late := func(name string) game.Command { return game.Command{Type: game.Join, By: "hub", Name: name} }
	g := opened(t, plan(stations(4, 1)), 2)
	g.must(0, late("before the start"))
	g.places(1, 2, 3)
	g.must(1000, host(game.Next))
	g.must(2000, late("in the first rotation"))
	g.places(1, 2, 3, 4)
	g.must(21_500, late("on the walk"))
	g.places(2, 3, 4, 1, 1)
	g.must(22_000, removal("t2"))
	g.must(27_000, late("in the second"))
	g.places(2, 0, 4, 1, 1, 3)
	if g.s.Visited(5, 1) || !g.s.Visited(5, 2) || g.s.Teams[5].From != 2 {
		t.Errorf("the sixth team: %+v", g.s.Teams[5])
	}
	g.must(28_000, answer("t6", "q3", right))
	g.must(29_000, host(game.Mark))
	g.must(30_000, late("after the marks"))
	if g.s.Teams[5].Score != 100 || g.s.Visited(6, 0) || g.s.Visited(6, 3) {
		t.Errorf("teams %+v", g.s.Teams[5:])
	}
	g.must(31_000, correct("q1", 0)) // a team with an empty sheet is no hindrance
}

func TestPlansOfStations(t *testing.T) {
	for name, spoil := range map[string]func(*game.Round){
		"one station":          func(r *game.Round) { *r = stations(1, 2) },
		"too many":             func(r *game.Round) { *r = stations(21, 1) },
		"too many questions":   func(r *game.Round) { *r = stations(2, 6) },
		"uneven":               func(r *game.Round) { r.Questions = r.Questions[1:] },
		"a walk without end":   func(r *game.Round) { r.Walk = 601 },
		"no station":           func(r *game.Round) { r.Stations = nil },
		"stations in another":  func(r *game.Round) { r.Kind = game.Open },
		"a name of other code": func(r *game.Round) { r.Stations[1].Species = "\xff" },
	} {
		r := stations(2, 2)
		spoil(&r)
		g := &table{t: t}
		if got := codeOf(g.do(0, game.Command{Type: game.Create, By: "hub", Plan: plan(r)})); got != "bad_plan" {
			t.Errorf("%s: refusal %q", name, got)
		}
	}
}

// checkStations holds what is true of any station round: the answers are as the
// events have them, no key has moved by itself, and all who came in time are
// spread evenly.
func (w *witness) checkStations() {
	r, _, _ := w.s.Current()
	sheets := map[string]map[int]int{}
	keys := map[int]int{}
	for _, e := range w.stored {
		switch e.Type {
		case game.Opened:
			clear(sheets)
			clear(keys)
		case game.Answered:
			if sheets[e.Team] == nil {
				sheets[e.Team] = map[int]int{}
			}
			sheets[e.Team][e.Number] = e.Option
		case game.Corrected:
			keys[e.Number] = e.Option
		}
	}
	for i, team := range w.s.Teams {
		for n, entry := range team.Sheet {
			if option, ok := sheets[team.ID][n]; ok != (entry.Option >= 0) || ok && option != entry.Option {
				w.t.Fatalf("%s answered %v (%v) to question %d; its sheet says %d", team.ID, option, ok, n+1, entry.Option)
			}
			if entry.Option >= 0 && !w.s.Visited(i, n/r.Each()) {
				w.t.Fatalf("%s answered question %d without a turn there", team.ID, n+1)
			}
		}
		if place := w.s.Place(i); place < 0 || place >= len(r.Stations) || len(team.Sheet) != len(r.Questions) {
			w.t.Fatalf("%s is at station %d, its sheet has %d places", team.ID, place, len(team.Sheet))
		}
	}
	for n, q := range r.Questions {
		if want, ok := keys[n]; w.s.Keys[n] != q.Key && (!ok || want != w.s.Keys[n]) {
			w.t.Fatalf("the key of question %d is %d", n+1, w.s.Keys[n])
		}
	}
	if w.s.Phase == game.Visiting && (w.s.Turn < 1 || w.s.Turn > len(r.Stations)) {
		w.t.Fatalf("rotation %d of %d", w.s.Turn, len(r.Stations))
	}
}
