package debrief_test

import (
	"fmt"
	"strings"
	"testing"

	"fieldsign/game"
	"fieldsign/game/debrief"
)

// marks writes the heat map: a line for each team, a letter for each question:
// r right, w wrong, n no answer, - does not count.
func marks(r debrief.Report) string {
	var b strings.Builder
	for t, team := range r.Teams {
		b.WriteString(team.Name + " ")
		for _, it := range r.Questions {
			mark := "-"
			if m := it.Answers[t].Mark; m != debrief.Apart {
				mark = string(m)[:1]
			}
			b.WriteString(mark)
		}
		b.WriteString("\n")
	}
	return b.String()
}

func TestWhatCounts(t *testing.T) {
	open, buzz := round(game.Open, "q1", "q2"), round(game.Buzz, "q1", "q2")
	for _, tc := range []struct {
		name  string
		first game.Round
		play  func(g *table)
		want  string
	}{
		{"open: no answer is not right", open, func(g *table) { g.answer(1, right); g.host(game.Close) }, "Team 1 r\nTeam 2 n\n"},
		{"open: still open", open, func(g *table) { g.answer(1, right) }, "Team 1 -\nTeam 2 -\n"},
		{"open: ended while open", open, func(g *table) { g.answer(1, right); g.host(game.End) }, "Team 1 -\nTeam 2 -\n"},
		{"open: skipped", open, func(g *table) {
			g.answer(1, right)
			g.host(game.Skip, game.Next)
			g.answer(1, wrong)
			g.answer(2, right)
		}, "Team 1 -w\nTeam 2 -r\n"},
		{"open: taken back", open, func(g *table) { g.answer(1, right); g.answer(2, wrong); g.host(game.Undo) }, "Team 1 -\nTeam 2 -\n"},
		{"open: late joiner", open, func(g *table) {
			g.answer(1, right)
			g.join("Late")
			g.join("Later")
			g.answer(3, wrong)
			g.host(game.Close, game.Next, game.Close)
		}, "Team 1 rn\nTeam 2 nn\nLate wn\nLater -n\n"},
		{"removed after answering", open, func(g *table) {
			g.answer(1, right)
			g.answer(2, wrong)
			g.do(game.Command{Type: game.Remove, By: "host", Team: "t1"})
		}, "Team 2 w\n"},
		{"renamed", open, func(g *table) {
			g.answer(1, right)
			g.answer(2, wrong)
			g.do(game.Command{Type: game.Rename, By: "host", Team: "t1", Name: "Otters"})
		}, "Otters r\nTeam 2 w\n"},
		{"buzz: who had no chance is not wrong", buzz, func(g *table) { g.press(1, right) }, "Team 1 r\nTeam 2 -\n"},
		{"buzz: rebound", buzz, func(g *table) { g.press(1, wrong); g.press(2, right) }, "Team 1 w\nTeam 2 r\n"},
		{"buzz: a verdict stands at once", buzz, func(g *table) { g.press(1, wrong) }, "Team 1 w\nTeam 2 -\n"},
		{"buzz: skipped", buzz, func(g *table) { g.press(1, wrong); g.host(game.Skip) }, "Team 1 -\nTeam 2 -\n"},
		{"buzz: taken back while open", buzz, func(g *table) { g.press(1, wrong); g.host(game.Undo); g.answer(1, right) }, "Team 1 r\nTeam 2 -\n"},
		{"buzz: taken back from under another's buzz", buzz, func(g *table) {
			g.press(1, wrong)
			g.do(game.Command{Type: game.PressBuzz, By: "t2", Question: "q1"})
			g.host(game.Undo)
			g.answer(1, wrong)
			g.press(2, wrong)
		}, "Team 1 w\nTeam 2 w\n"},
		{"buzz: only the last verdict taken back", buzz, func(g *table) { g.press(1, wrong); g.press(2, right); g.host(game.Undo) }, "Team 1 w\nTeam 2 -\n"},
		{"buzz: spoken", buzz, func(g *table) {
			g.do(game.Command{Type: game.PressBuzz, By: "t2", Question: "q1"})
			g.do(game.Command{Type: game.Rule, By: "host", Right: true})
		}, "Team 1 -\nTeam 2 r\n"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			g := opened(t, 2, tc.first)
			g.now += 100
			tc.play(g)
			if got := marks(debrief.Of(g.log, nil)); got != tc.want {
				t.Errorf("got\n%swant\n%s", got, tc.want)
			}
		})
	}
}

// The test statistics leave out buzz rounds, void questions and late joiners.
func TestWhoIsExamined(t *testing.T) {
	g := opened(t, 3, round(game.Open, "q1", "q2", "q3"), round(game.Buzz, "q1"))
	g.answer(1, right)
	g.answer(2, wrong)
	g.answer(3, right)
	g.host(game.Next)
	g.join("Late")
	g.answer(1, right)
	g.answer(2, wrong)
	g.answer(4, right)
	g.host(game.Close, game.Next, game.Skip, game.Next, game.Next)
	g.press(4, right)
	r := debrief.Of(g.log, nil)
	if r.Test.Teams != 3 || r.Test.Items != 2 {
		t.Errorf("three teams were there for two questions that count: %+v", r.Test)
	}
	near(t, "mean", r.Test.Mean, 1, 9)
	if q2 := r.Questions[1].Share; q2.Right != 2 || q2.Of != 4 {
		t.Errorf("q2 was put to four teams and two were right: %+v", q2)
	}
	if r.Questions[2].Status != debrief.Void || r.Questions[3].PointBiserial.Defined() {
		t.Errorf("q3 was skipped, and a buzz question has no correlation: %+v", r.Questions[2:])
	}
}

func TestTimes(t *testing.T) {
	g := opened(t, 4, round(game.Open, "q1"), round(game.Buzz, "q1"))
	for team, passed := range []int64{1000, 1000, 2000} {
		g.now += passed
		g.answer(team+1, right)
	}
	g.host(game.Close)
	g.now += 5000
	g.host(game.Next, game.Next)
	g.now += 1500
	g.press(2, wrong)
	r := debrief.Of(g.log, nil)
	if got := encode(t, r.Questions[0].Time); got != `{"q1":1500,"median":2000,"q3":3000}` {
		t.Errorf("1, 2 and 4 seconds have the quartiles %s", got)
	}
	g.now += 18_000
	g.press(3, wrong)
	if got := debrief.Of(g.log, nil).Questions[1].Answers[2].Ms; got != 19_500 {
		t.Errorf("a wrong answer to a press at 19.5 s, for which the others get more time, is timed %d ms", got)
	}
	if q := r.Questions[1]; q.At != 9000 || q.Time.Median != 1500 || q.Answers[1].Points != -25 {
		t.Errorf("the buzz after 1.5 s, on a question opened at 9 s: %+v", q)
	}
}

// One right answer is no strength.
func TestLevels(t *testing.T) {
	for _, tc := range []struct{ marks, want string }{
		{"1", ""}, {"11", ""}, {"111", debrief.Strong}, {"0", ""}, {"00", ""}, {"000", debrief.Weak}, {"111110", debrief.Strong},
		{"111100", ""}, {"000001", debrief.Weak}, {"1111111100", debrief.Strong}, {"0000000011", debrief.Weak},
	} {
		r := sat(t, []string{tc.marks})
		if got := r.Teams[0].Topics.Subjects[0].Level; got != tc.want {
			t.Errorf("%s is %q, want %q", tc.marks, got, tc.want)
		}
	}
}

// told is a game of three teams and facts for each of three questions: one
// with species, one with statements, one not known.
func told(t *testing.T) debrief.Report {
	g := opened(t, 3, round(game.Open, "q1", "q2", "q3"))
	for range 3 {
		g.answer(1, wrong)
		g.answer(2, right)
		g.answer(3, wrong)
		g.host(game.Next)
	}
	return debrief.Of(g.log, debrief.Facts{
		"q1": {Template: "has-trait", Species: []string{"N. vison", "M. americana", "P. pennanti"}, Traits: []string{"length", "length"}},
		"q2": {Template: "separates", Stated: []string{"crest", "length", "length"}, Animals: []string{"P. pennanti", "M. americana"}, Traits: []string{"length"}},
		"q3": {Species: []string{"of another question"}},
	})
}

func TestConfusions(t *testing.T) {
	want := `[{"subject":"skull","of":"species","names":["M. americana","N. vison","marten","mink"],"counts":[[1,2,0,0],[0,0,0,0],[0,0,1,2],[0,0,0,0]]},` +
		`{"subject":"skull","of":"traits","names":["crest","length"],"counts":[[0,0],[2,1]]}]`
	if got := encode(t, told(t).Confusions); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestTopics(t *testing.T) {
	var lines []string
	r := told(t)
	for _, list := range [][]debrief.Topic{r.Topics.Subjects, r.Topics.Traits, r.Topics.Species, r.Topics.Templates} {
		for _, topic := range list {
			lines = append(lines, encode(t, []any{topic.Name, topic.Questions, topic.Share.Right, topic.Share.Of}))
		}
	}
	want := `["skull",3,3,9]["length",2,2,6]["M. americana",2,2,6]["P. pennanti",1,1,3]["marten",1,1,3]["has-trait",1,1,3]["separates",1,1,3]`
	if got := strings.Join(lines, ""); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Two of three mistook the same pair in each question: 2/3 against the 1/3 that
// an even spread gives. The lower bound, 0.2077, stays below that: three
// answers prove nothing. Ten teams do.
func TestPairs(t *testing.T) {
	if p := told(t).Advice.Pairs; len(p) != 0 {
		t.Errorf("three answers prove nothing: %+v", p)
	}
	g := opened(t, 10, round(game.Open, "q1"))
	for team := range 10 {
		g.answer(team+1, []int{wrong, right, wrong, wrong, wrong, wrong, wrong, wrong, wrong, right}[team])
	}
	p := debrief.Of(g.log, nil).Advice.Pairs
	if len(p) != 1 || p[0].A != "marten" || p[0].B != "mink" || p[0].Share.Right != 8 || p[0].Share.Of != 10 {
		t.Fatalf("eight of ten took the marten for a mink: %+v", p)
	}
	near(t, "low", p[0].Share.Low, 0.4902, 4)
	near(t, "expected", p[0].Expected, 0.4, 9)
}

// One mistake is no confusion, though its lower bound, 0.2065, is far above the
// 1 in 40 that a game with one mistake in 20 lets expect.
func TestOneMistake(t *testing.T) {
	facts := debrief.Facts{"q1": {Species: []string{"otter", "beaver", "muskrat"}}}
	ids := []string{}
	for i := range 20 {
		ids = append(ids, fmt.Sprintf("q%d", i+1))
	}
	g := opened(t, 1, round(game.Open, ids...))
	for i := range ids {
		g.answer(1, []int{wrong, right}[min(i, 1)])
		g.host(game.Next)
	}
	r := debrief.Of(g.log, facts)
	if len(r.Advice.Pairs) != 0 || !r.Ended {
		t.Errorf("%+v", r.Advice.Pairs)
	}
}

// With two options there is no other wrong one to compare with: half of the
// answers of the game are mistakes, and a pair has to come above that.
func TestPairsOfTwoOptions(t *testing.T) {
	one, two := question("q1"), question("q2")
	one.Options, two.Options = []string{"mink", "marten"}, []string{"otter", "beaver"}
	g := opened(t, 10, game.Round{Kind: game.Open, Seconds: 20, Points: 100, Questions: []game.Question{one, two}})
	for _, option := range []int{wrong, right} {
		for team := range 10 {
			g.answer(team+1, option)
		}
		if option == wrong {
			g.host(game.Next)
		}
	}
	r := debrief.Of(g.log, nil)
	if p := r.Advice.Pairs; len(p) != 1 || p[0].A != "marten" || p[0].Expected != 0.5 || r.Ended {
		t.Errorf("%+v", p)
	}
}

func TestTrend(t *testing.T) {
	first, second, third := sat(t, []string{"1100"}), sat(t, []string{"1"}), sat(t, []string{"0", "1"})
	first.Date, second.Date, third.Date = "2026-02-01", "2026-01-01", "2026-02-01"
	tr := debrief.Trend([]debrief.Report{first, second, third, debrief.Of(nil, nil)})
	if len(tr.All) != 2 || tr.All[0].Date != "2026-01-01" || tr.All[1].Share != debrief.ShareOf(3, 6) {
		t.Errorf("two dates, of which the second has two games: %+v", tr.All)
	}
	if len(tr.Species) != 1 || tr.Species[0].Name != "marten" || len(tr.Species[0].Moments) != 2 {
		t.Errorf("species: %+v", tr.Species)
	}
	if again := debrief.Trend([]debrief.Report{second, third, first}); encode(t, again) != encode(t, tr) {
		t.Error("the order of the reports matters")
	}
}
