package game_test

import (
	"fmt"
	"strings"
	"testing"

	"fieldsign/game"
)

func TestOpenRound(t *testing.T) {
	for _, tc := range []struct {
		name   string
		speed  int
		steps  []step
		until  int64
		phase  game.Phase
		scores []int
	}{
		{"all answer: closed at once, no speed part", 0, []step{
			{1000, answer("t1", "q1", right), ""}, {19_999, answer("t2", "q1", right), ""}}, 19_999, game.Revealed, []int{100, 100}},
		{"the speed part falls with the time spent", 50, []step{
			{0, answer("t1", "q1", right), ""}, {10_000, answer("t2", "q1", right), ""}}, 10_000, game.Revealed, []int{150, 125}},
		{"the speed part is nearly nothing at the end", 50, []step{
			{19_999, answer("t1", "q1", right), ""}}, 20_000, game.Revealed, []int{100, 0}},
		{"wrong costs nothing", 50, []step{
			{10, answer("t1", "q1", wrong), ""}, {20, answer("t2", "q1", right), ""}}, 20, game.Revealed, []int{0, 149}},
		{"not yet out of time", 0, []step{{5, answer("t1", "q1", right), ""}}, 19_999, game.Asking, []int{0, 0}},
		{"out of time", 0, []step{{5, answer("t1", "q1", right), ""}}, 20_000, game.Revealed, []int{100, 0}},
		{"the first answer stands", 0, []step{
			{5, answer("t1", "q1", wrong), ""}, {6, answer("t1", "q1", right), "answered"}}, 20_000, game.Revealed, []int{0, 0}},
		{"late", 0, []step{{20_000, answer("t1", "q1", right), "too_late"}}, 20_000, game.Revealed, []int{0, 0}},
		{"for another question", 0, []step{{5, answer("t1", "q0", right), "too_late"}}, 5, game.Asking, []int{0, 0}},
		{"no such option", 0, []step{
			{5, answer("t1", "q1", 3), "bad_option"}, {6, answer("t1", "q1", -1), "bad_option"}}, 6, game.Asking, []int{0, 0}},
		{"no such team", 0, []step{
			{5, answer("t3", "q1", right), "unknown_team"}, {5, answer("host", "q1", right), "unknown_team"}, {5, answer("t01", "q1", right), "unknown_team"}}, 5, game.Asking, nil},
		{"no buzz in an open round", 0, []step{{5, buzz("t1", "q1"), "not_now"}}, 5, game.Asking, nil},
		{"closed by the host", 0, []step{
			{5, answer("t1", "q1", right), ""}, {6, host(game.Close), ""}, {7, answer("t2", "q1", right), "too_late"}, {8, host(game.Close), "not_now"}}, 8, game.Revealed, []int{100, 0}},
		{"the last to answer is removed: closed at once", 0, []step{
			{5, answer("t1", "q1", right), ""}, {6, removal("t2"), ""}, {7, answer("t2", "q1", right), "unknown_team"}}, 7, game.Revealed, []int{100}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r := round(game.Open, "q1")
			r.Speed = tc.speed
			g := opened(t, plan(r), 2).play(tc.steps...)
			g.wait(tc.until)
			g.stands(tc.phase, "", tc.scores...)
		})
	}
}

// An answer that the hub takes in one batch with others, before it ticks, is
// as late as one that it takes alone.
func TestLateBeforeTheTick(t *testing.T) {
	g := opened(t, plan(round(game.Open, "q1")), 2)
	if got := codeOf(g.decide(20_000, answer("t1", "q1", right))); got != "too_late" {
		t.Errorf("open round: %q", got)
	}
	g = opened(t, plan(round(game.Buzz, "q1")), 2).play(step{0, buzz("t1", "q1"), ""})
	if got := codeOf(g.decide(10_000, answer("t1", "q1", right))); got != "too_late" {
		t.Errorf("buzz round: %q", got)
	}
}

func TestBuzzRound(t *testing.T) {
	for _, tc := range []struct {
		name   string
		steps  []step
		until  int64
		phase  game.Phase
		holder string
		scores []int
	}{
		{"the first buzz wins", []step{
			{100, buzz("t2", "q1"), ""}, {100, buzz("t1", "q1"), "beaten"}, {101, buzz("t2", "q1"), "not_now"}}, 101, game.Buzzed, "t2", nil},
		{"only the holder answers", []step{
			{5, answer("t1", "q1", right), "not_holder"}, {6, buzz("t2", "q1"), ""}, {7, answer("t1", "q1", right), "not_holder"}}, 7, game.Buzzed, "t2", nil},
		{"right", []step{
			{100, buzz("t2", "q1"), ""}, {200, answer("t2", "q1", right), ""}, {200, buzz("t1", "q1"), "too_late"}}, 200, game.Revealed, "", []int{0, 100, 0}},
		{"wrong: locked out, the rest play on", []step{
			{100, buzz("t2", "q1"), ""}, {200, answer("t2", "q1", wrong), ""}, {300, buzz("t2", "q1"), "locked_out"}, {400, buzz("t1", "q1"), ""}}, 400, game.Buzzed, "t1", []int{0, -25, 0}},
		{"right on the rebound", []step{
			{100, buzz("t2", "q1"), ""}, {200, answer("t2", "q1", wrong), ""}, {300, buzz("t1", "q1"), ""}, {400, answer("t1", "q1", right), ""}}, 400, game.Revealed, "", []int{100, -25, 0}},
		{"all locked out", []step{
			{1, buzz("t1", "q1"), ""}, {2, answer("t1", "q1", wrong), ""}, {3, buzz("t2", "q1"), ""}, {4, answer("t2", "q1", wrong), ""},
			{5, buzz("t3", "q1"), ""}, {6, answer("t3", "q1", wrong), ""}}, 6, game.Revealed, "", []int{-25, -25, -25}},
		{"nobody buzzes", nil, 20_000, game.Revealed, "", []int{0, 0, 0}},
		{"too late to buzz", []step{{20_000, buzz("t1", "q1"), "too_late"}}, 20_000, game.Revealed, "", nil},
		{"the holder has time to answer after the question's", []step{
			{19_999, buzz("t1", "q1"), ""}, {29_998, answer("t1", "q1", right), ""}}, 29_998, game.Revealed, "", []int{100}},
		{"the holder's silence is a wrong answer", []step{{100, buzz("t1", "q1"), ""}}, 10_100, game.Asking, "", []int{-25}},
		{"a spoken answer ruled right", []step{
			{100, buzz("t1", "q1"), ""}, {200, ruling(true), ""}, {201, ruling(true), "not_now"}}, 201, game.Revealed, "", []int{100}},
		{"a spoken answer ruled wrong", []step{{100, buzz("t1", "q1"), ""}, {200, ruling(false), ""}}, 200, game.Asking, "", []int{-25}},
		{"a ruling on who holds the buzz no more", []step{{100, buzz("t1", "q1"), ""}, {200, game.Command{Type: game.Rule, By: "host", Team: "t2"}, "not_now"}, {300, game.Command{Type: game.Rule, By: "host", Team: "t1"}, ""}}, 300, game.Asking, "", []int{-25}},
		{"nothing to rule on", []step{{100, ruling(true), "not_now"}}, 100, game.Asking, "", []int{0}},
		{"the holder is removed: play goes on", []step{
			{100, buzz("t1", "q1"), ""}, {200, removal("t1"), ""}, {300, buzz("t2", "q1"), ""}}, 300, game.Buzzed, "t2", []int{0, 0, 0}},
		{"the last team not locked out is removed", []step{
			{1, removal("t3"), ""}, {2, buzz("t1", "q1"), ""}, {3, ruling(false), ""}, {4, removal("t2"), ""}}, 4, game.Revealed, "", []int{-25}},
		{"closed while a team holds the buzz", []step{{100, buzz("t1", "q1"), ""}, {200, host(game.Close), ""}}, 200, game.Revealed, "", []int{0, 0, 0}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			g := opened(t, plan(round(game.Buzz, "q1")), 3).play(tc.steps...)
			g.wait(tc.until)
			g.stands(tc.phase, tc.holder, tc.scores...)
		})
	}
}

// A right buzz's time, which breaks ties, is the question's own: it stands
// while a team holds the buzz.
func TestTimeOfARightBuzz(t *testing.T) {
	g := opened(t, plan(round(game.Buzz, "q1")), 2).play(step{1000, buzz("t2", "q1"), ""}, step{3000, ruling(false), ""},
		step{4000, buzz("t1", "q1"), ""}, step{9000, ruling(true), ""})
	if g.s.Teams[0].Time != 2000 || g.s.Teams[1].Time != 0 {
		t.Errorf("t1 took %d ms and t2 %d, want 2000 and 0", g.s.Teams[0].Time, g.s.Teams[1].Time)
	}
}

func TestReboundTime(t *testing.T) {
	for _, tc := range []struct {
		name      string
		buzzed    int64
		then      step
		reboundTo int64
	}{
		{"what was left", 5000, step{8000, ruling(false), ""}, 8000 + 15_000},
		{"three seconds at least", 19_500, step{21_000, ruling(false), ""}, 21_000 + 3000},
		{"likewise when the holder is removed", 19_500, step{21_000, removal("t1"), ""}, 21_000 + 3000},
	} {
		t.Run(tc.name, func(t *testing.T) {
			opened(t, plan(round(game.Buzz, "q1")), 2).play(step{tc.buzzed, buzz("t1", "q1"), ""}, tc.then).due(tc.reboundTo)
		})
	}
}

func TestPauseKeepsTheTimeLeft(t *testing.T) {
	for _, tc := range []struct {
		name  string
		kind  game.Kind
		steps []step
		due   int64
	}{
		{"a question", game.Open, []step{
			{5000, host(game.Pause), ""}, {6000, host(game.Pause), "not_now"}, {6000, answer("t1", "q1", right), "paused"}, {90_000, host(game.Resume), ""}}, 105_000},
		{"the holder's answer", game.Buzz, []step{
			{5000, buzz("t1", "q1"), ""}, {9000, host(game.Pause), ""}, {9000, answer("t1", "q1", right), "paused"}, {9000, ruling(true), "not_now"}, {90_000, host(game.Resume), ""}}, 96_000},
		{"the holder is removed meanwhile", game.Buzz, []step{
			{5000, buzz("t1", "q1"), ""}, {9000, host(game.Pause), ""}, {10_000, removal("t1"), ""}, {90_000, host(game.Resume), ""}}, 105_000},
		{"a wrong verdict is taken back meanwhile", game.Buzz, []step{
			{5000, buzz("t1", "q1"), ""}, {6000, ruling(false), ""}, {9000, host(game.Pause), ""}, {10_000, host(game.Undo), ""}, {90_000, host(game.Resume), ""}}, 100_000},
	} {
		t.Run(tc.name, func(t *testing.T) {
			g := opened(t, plan(round(tc.kind, "q1")), 3).play(tc.steps...)
			if g.s.Paused {
				t.Error("still paused")
			}
			g.due(tc.due)
		})
	}
	g := opened(t, plan(round(game.Open, "q1")), 1).play(step{5, game.Command{Type: game.Pause, By: "host", Notice: "Lunch"}, ""})
	if _, running := g.s.Wake(); running || g.s.Notice != "Lunch" {
		t.Errorf("paused: clock running %v, notice %q", running, g.s.Notice)
	}
	left := g.s.Deadline
	g.play(
		step{6, game.Command{Type: game.Pause, By: "host", Notice: "Lunch"}, "not_now"},
		step{6, game.Command{Type: game.Pause, By: "host"}, "not_now"},
		step{7, game.Command{Type: game.Pause, By: "hub", Notice: "Check the scores"}, ""},
	)
	if g.s.Deadline != left || !g.s.Paused || g.s.Notice != "Check the scores" {
		t.Errorf("with another notice: %d ms of %d left, notice %q", g.s.Deadline, left, g.s.Notice)
	}
	g.play(step{6, host(game.Next), "paused"}, step{7, host(game.Close), ""}).stands(game.Revealed, "")
	if g.s.Paused || g.s.Notice != "" {
		t.Error("closing left the game paused")
	}
}

func TestSkipVoidsTheQuestion(t *testing.T) {
	g := opened(t, plan(round(game.Buzz, "q1", "q2")), 3).play(
		step{1, buzz("t1", "q1"), ""}, step{2, ruling(true), ""}, step{3, host(game.Next), ""},
		step{4, buzz("t1", "q2"), ""}, step{5, ruling(false), ""},
		step{6, buzz("t2", "q2"), ""}, step{7, ruling(false), ""})
	g.stands(game.Asking, "", 75, -25, 0)
	g.play(step{8, host(game.Skip), ""}, step{9, host(game.Skip), "not_now"}, step{9, host(game.Undo), "nothing_to_undo"})
	g.stands(game.Revealed, "", 100, 0, 0)
	if !g.s.Skipped || g.s.Teams[0].Verdict != "" || g.s.Teams[0].Gained != 0 || g.s.Teams[0].Right != 1 {
		t.Errorf("after the skip t1 is %+v", g.s.Teams[0])
	}
}

func TestUndo(t *testing.T) {
	undo := func(at int64) step { return step{at, host(game.Undo), ""} }
	no := func(at int64) step { return step{at, host(game.Undo), "nothing_to_undo"} }
	lost := []step{{1000, buzz("t1", "q1"), ""}, {2000, ruling(false), ""}}
	for _, tc := range []struct {
		name   string
		kind   game.Kind
		before []step
		after  []step
		phase  game.Phase
		holder string
		scores []int
		undone bool
	}{
		{"an open round's points go", game.Open, []step{{1, answer("t1", "q1", right), ""}, {2, answer("t2", "q1", wrong), ""}, {3, host(game.Close), ""}},
			[]step{undo(4), no(5)}, game.Revealed, "", []int{0, 0}, true},
		{"also in the break", game.Open, []step{{1, answer("t1", "q1", right), ""}, {3, host(game.Close), ""}, {4, host(game.Next), ""}},
			[]step{undo(5), no(6)}, game.Break, "", []int{0, 0}, true},
		{"nobody was right", game.Open, []step{{1, answer("t1", "q1", wrong), ""}, {3, host(game.Close), ""}}, []step{no(4)}, game.Revealed, "", []int{0}, false},
		{"nothing yet", game.Open, []step{{1, answer("t1", "q1", right), ""}}, []step{no(2)}, game.Asking, "", []int{0}, false},
		{"a wrong buzz gets the buzz back", game.Buzz, lost, []step{undo(3000), no(3000)}, game.Buzzed, "t1", []int{0, 0}, false},
		{"and may then be right", game.Buzz, lost, []step{undo(3000), {4000, ruling(true), ""}}, game.Revealed, "", []int{100, 0}, false},
		{"or wrong again", game.Buzz, lost, []step{undo(3000), {4000, answer("t1", "q1", wrong), ""}}, game.Asking, "", []int{-25, 0}, false},
		{"even from one who has buzzed since", game.Buzz, append(lost[:2:2], step{2500, buzz("t2", "q1"), ""}),
			[]step{undo(3000), {4000, ruling(false), ""}, {5000, buzz("t2", "q1"), ""}, {6000, ruling(true), ""}, undo(7000)}, game.Revealed, "", []int{-25, 0}, true},
		{"not a removed team", game.Buzz, append(lost[:2:2], step{2500, removal("t1"), ""}),
			[]step{undo(3000), {4000, buzz("t2", "q1"), ""}, {4000, buzz("t3", "q1"), "beaten"}}, game.Buzzed, "t2", []int{0, 0}, false},
		{"a right buzz's points go, the penalty before it stays", game.Buzz, append(lost[:2:2], step{3000, buzz("t2", "q1"), ""}, step{4000, ruling(true), ""}),
			[]step{undo(5000), no(6000)}, game.Revealed, "", []int{-25, 0}, true},
		{"not after the end", game.Buzz, append(lost[:2:2], step{3000, host(game.End), ""}), []step{no(4000)}, game.Ended, "", []int{-25}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			g := opened(t, plan(round(tc.kind, "q1"), round(game.Open, "q2")), 3).play(tc.before...).play(tc.after...)
			g.stands(tc.phase, tc.holder, tc.scores...)
			if g.s.Undone != tc.undone {
				t.Errorf("undone is %v", g.s.Undone)
			}
		})
	}
}

// The whole way through a plan, and what is refused on it.
func TestCourse(t *testing.T) {
	g := &table{t: t}
	for _, kind := range []string{game.Tick, game.Next, game.Join, game.PressBuzz, game.Undo, "dance"} {
		g.play(step{0, game.Command{Type: kind, By: "t1", Name: "A"}, "no_game"})
	}
	bad := plan(round(game.Open))
	whole := plan(round(game.Open, "q1", "q2"), round(game.Buzz, "q1"))
	g.play(
		step{0, game.Command{Type: game.Create, By: "hub", Plan: bad}, "bad_plan"},
		step{0, game.Command{Type: game.Create, By: "hub"}, ""},
		step{0, game.Command{Type: game.Create, By: "hub", Plan: whole}, "not_now"},
		step{0, host(game.Next), "no_plan"},
		step{0, game.Command{Type: game.SetPlan, By: "host", Plan: bad}, "bad_plan"},
		step{0, game.Command{Type: game.SetPlan, By: "host", Plan: whole}, ""},
		step{0, host(game.Next), "no_teams"},
		step{0, host(game.Pause), "not_now"},
		step{0, host(game.Resume), "not_now"},
		step{0, host("dance"), "unknown_command"},
		step{0, game.Command{Type: game.Join, By: "hub", Name: "Otters"}, ""},
		step{1, host(game.Next), ""},
		step{2, host(game.Next), "not_now"},
		step{2, game.Command{Type: game.SetPlan, By: "host", Plan: whole}, "not_now"},
		step{2, game.Command{Type: game.Pause, By: "host", Notice: "\u202eboo"}, "bad_notice"},
		step{3, answer("t1", "q1", right), ""},
		step{4, host(game.Next), ""},
		step{5, host(game.Close), ""},
		step{6, host(game.Next), ""},
	)
	g.stands(game.Break, "", 100)
	g.play(step{7, host(game.Next), ""}, step{8, buzz("t1", "q1"), ""}, step{9, ruling(true), ""}, step{10, host(game.Next), ""},
		step{11, host(game.Next), "ended"}, step{11, host(game.End), "ended"}, step{11, game.Command{Type: game.Join, By: "hub", Name: "Late"}, "too_late"})
	g.stands(game.Ended, "", 200)
}

func TestRepeatedCommandDoesNothing(t *testing.T) {
	withID := func(c game.Command, id string) game.Command { c.ID = id; return c }
	g := opened(t, plan(round(game.Buzz, "q1", "q2")), 2)
	for i, c := range []game.Command{
		withID(buzz("t1", "q1"), "1"), withID(ruling(false), "2"), withID(host(game.Undo), "3"), withID(answer("t1", "q1", right), "4"),
		withID(host(game.Next), "5"), withID(host(game.Skip), "6"), withID(buzz("t1", "q2"), "1"),
		{Type: game.Join, By: "hub", ID: "7", Name: "Late"}, {Type: game.Rename, By: "host", ID: "8", Team: "t1", Name: "New"}, withID(removal("t2"), "9"),
	} {
		g.must(int64(i), c)
		before := encode(t, g.s)
		g.must(int64(i), c)
		if after := encode(t, g.s); after != before {
			t.Errorf("%s took effect twice:\n%s\n%s", c.Type, before, after)
		}
	}
	g = opened(t, plan(round(game.Open, "q1")), 2).play(
		step{1, withID(answer("t1", "q1", 7), "1"), "bad_option"}, step{2, withID(answer("t1", "q1", right), "1"), ""},
		step{3, withID(answer("t2", "q1", right), "1"), ""})
	g.stands(game.Revealed, "", 100, 100)
}

func TestBounds(t *testing.T) {
	g := opened(t, plan(round(game.Open, "q1")), 1)
	g.play(step{1, game.Command{Type: game.Close, By: "host", ID: "\xff"}, "bad_command"},
		step{1, game.Command{Type: game.Close, By: "host", ID: strings.Repeat("x", 65)}, "bad_command"},
		step{1, game.Command{Type: game.Join, By: "hub", Name: "A", Secret: "\xff"}, "bad_command"})
	g.s.Teams = make([]game.Team, game.MaxTeams)
	g.play(step{2, game.Command{Type: game.Join, By: "hub", Name: "A"}, "game_full"})
}

// A team whose time to answer a buzz runs out is told that, and not that it was wrong.
func TestLate(t *testing.T) {
	for _, tc := range []struct {
		rest    []step
		verdict string
	}{
		{nil, "late"},
		{[]step{{2000, answer("t1", "q1", wrong), ""}}, "wrong"},
		{[]step{{2000, ruling(false), ""}}, "wrong"},
		{[]step{{30_000, host(game.Undo), ""}, {31_000, ruling(true), ""}}, "right"},
	} {
		r := round(game.Buzz, "q1")
		r.Seconds = 60
		g := opened(t, plan(r), 2).play(step{1000, buzz("t1", "q1"), ""}).play(tc.rest...)
		g.wait(32_000)
		if got := g.s.Teams[0].Verdict; got != tc.verdict {
			t.Errorf("%v: %q, want %q", tc.rest, got, tc.verdict)
		}
		if err := game.Check(g.log); err != nil {
			t.Error(err)
		}
	}
}

// What the hub reads off a state to show it.
func TestViews(t *testing.T) {
	g := opened(t, plan(round(game.Open, "q1"), round(game.Buzz, "q2")), 4).play(
		step{1, answer("t1", "q1", wrong), ""}, step{2, answer("t2", "q1", right), ""}, step{3, answer("t3", "q1", right), ""}, step{4, removal("t3"), ""})
	if got := fmt.Sprint(g.s.Picks()); got != "[1 1 0]" {
		t.Errorf("picks %s", got)
	}
	if teams, answered, locked := g.s.Playing(); teams != 3 || answered != 2 || locked != 0 {
		t.Errorf("%d teams, %d answered, %d locked out", teams, answered, locked)
	}
	if g.s.Span() != 20_000 {
		t.Errorf("span %d", g.s.Span())
	}
	g.play(step{5, host(game.Close), ""}, step{6, host(game.Next), ""}, step{7, host(game.Next), ""},
		step{8, buzz("t1", "q2"), ""}, step{9, ruling(false), ""}, step{10, buzz("t2", "q2"), ""})
	if _, _, locked := g.s.Playing(); locked != 1 || g.s.Span() != 10_000 {
		t.Errorf("%d locked out, span %d", locked, g.s.Span())
	}
	if r, q, ok := g.s.Current(); !ok || r.Kind != game.Buzz || q.ID != "q2" {
		t.Errorf("current: %v, %v, %v", r, q, ok)
	}
	if _, _, ok := new(game.State).Current(); ok {
		t.Error("no game has a current question")
	}
}

// A start names the round to come and runs no clock; a station round waits by itself.
func TestStart(t *testing.T) {
	g := &table{t: t}
	g.must(0, game.Command{Type: game.Create, By: "hub", Code: "otter-den-42", Plan: plan(round(game.Open, "q1"), round(game.Buzz, "q2"))})
	g.play(step{0, host(game.Start), "no_teams"})
	g.must(0, game.Command{Type: game.Join, By: "hub", Name: "Wrens"})
	g.play(step{1, host(game.Start), ""}, step{2, host(game.Start), "not_now"}, step{3, answer("t1", "q1", right), "too_late"}).stands(game.Ready, "")
	if at, running := g.s.Wake(); running {
		t.Errorf("a clock runs before the round begins, until %d", at)
	}
	g.must(4, game.Command{Type: game.Join, By: "hub", Name: "Voles"})
	g.play(step{90_000, host(game.Next), ""}, step{95_000, answer("t2", "q1", right), ""}).stands(game.Asking, "")
	if err := game.Check(g.log); err != nil {
		t.Error(err)
	}

	// So does a later one, and nothing is left of the question before it.
	g.play(step{96_000, host(game.Start), "not_now"}, step{97_000, answer("t1", "q1", wrong), ""}, step{99_000, host(game.Next), ""}, step{99_000, host(game.Start), ""}).stands(game.Ready, "", 0, 100)
	if r, q, ok := g.s.Current(); !ok || r.Kind != game.Buzz || q.ID != "q2" || len(g.s.Last) > 0 {
		t.Errorf("what comes is %v %v, to be taken back %v", r, q, g.s.Last)
	}
	for _, team := range g.s.Teams {
		if team.Choice >= 0 || team.Verdict != "" || team.Gained != 0 {
			t.Errorf("%s still has %d, %q, %d of the last question", team.Name, team.Choice, team.Verdict, team.Gained)
		}
	}
	g.play(step{99_000, host(game.Undo), "nothing_to_undo"}, step{99_000, host(game.Start), "not_now"}, step{200_000, host(game.Next), ""}, step{201_000, buzz("t1", "q2"), ""}).stands(game.Buzzed, "t1")
	if err := game.Check(g.log); err != nil {
		t.Error(err)
	}

	s := &table{t: t}
	s.must(0, game.Command{Type: game.Create, By: "hub", Code: "otter-den-43", Plan: stationPlan()})
	s.must(0, game.Command{Type: game.Join, By: "hub", Name: "Wrens"})
	s.play(step{1, host(game.Start), ""}).stands(game.Walking, "")
}
