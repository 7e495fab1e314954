package debrief_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"fieldsign/game"
	"fieldsign/game/debrief"
)

// TestAnyCourse hears of games played with random commands at random times,
// sensible ones and not, and checks what must hold for any report.
func TestAnyCourse(t *testing.T) {
	seen := map[string]bool{}
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		g := opened(t, rapid.IntRange(1, 6).Draw(t, "teams"), coursePlan(rapid.SampledFrom([]game.Kind{game.Buzz, game.Open, game.Rotating}).Draw(t, "first"))...)
		for range rapid.IntRange(0, 150).Draw(t, "commands") {
			g.now += rapid.Int64Range(0, 400).Draw(t, "passed")
			_ = g.try(anyCommand(t, &g.s))
			_ = g.try(game.Command{Type: game.Tick, By: "hub"})
		}
		before := encode(t, g.log)
		for _, part := range [][]game.Event{g.log, g.log[:rapid.IntRange(0, len(g.log)).Draw(t, "part")]} {
			r := debrief.Of(part, courseFacts)
			checkScores(t, r, game.Replay(part))
			checkCounts(t, r)
			compared += compareWithGonum(t, r)
			checkJSON(t, r)
		}
		if encode(t, g.log) != before {
			t.Fatalf("the debrief changed the log")
		}
		for _, e := range g.log {
			seen[e.Type] = true
		}
	})
	for _, kind := range []string{game.Joined, game.RemovedT, game.Opened, game.Answered, game.GotBuzz, game.Ruled, game.Scored, game.Skipped, game.Undone, game.Broke, game.Finished, game.Corrected} {
		if !seen[kind] && !t.Failed() {
			t.Errorf("no course had a %q event: the commands are too tame", kind)
		}
	}
	if compared == 0 && !t.Failed() {
		t.Error("no correlation was defined: the courses are too short")
	}
}

func coursePlan(first game.Kind) []game.Round {
	open, buzz := round(game.Open, "q1", "q2", "q3"), round(game.Buzz, "q1", "q2")
	open.Speed = 50
	switch first {
	case game.Open:
		return []game.Round{open, buzz, open}
	case game.Rotating:
		return []game.Round{circuit(), open}
	}
	return []game.Round{buzz, open, buzz}
}

var courseFacts = debrief.Facts{
	"q1": {Template: "has-trait", Species: []string{"mink", "marten", "fisher"}, Traits: []string{"length"}},
	"q2": {Template: "separates", Stated: []string{"crest", "length", "crest"}, Animals: []string{"mink", "marten"}, Traits: []string{"length"}},
}

func anyCommand(t *rapid.T, s *game.State) game.Command {
	team := fmt.Sprintf("t%d", rapid.IntRange(1, 6).Draw(t, "team"))
	if s.AtStations() && rapid.IntRange(0, 3).Draw(t, "at stations") > 0 {
		return stationCommand(t, s, team)
	}
	if rapid.IntRange(0, 5).Draw(t, "host") == 3 {
		kind := rapid.SampledFrom([]string{game.Next, game.Rule, game.Undo, game.Close, game.Skip, game.Join, game.Rename, game.Pause, game.Resume, game.Remove, game.End}).Draw(t, "type")
		if kind == game.End && rapid.IntRange(0, 3).Draw(t, "go on") != 2 {
			kind = game.Next
		}
		return game.Command{Type: kind, By: "host", Team: team, Name: rapid.SampledFrom([]string{"Otters", "=Voles", "Hares, 2nd"}).Draw(t, "name"), Right: rapid.Bool().Draw(t, "right")}
	}
	if s.Phase == game.Revealed || s.Phase == game.Break {
		return game.Command{Type: game.Next, By: "host"}
	}
	_, q, _ := s.Current()
	if s.Phase == game.Buzzed {
		team = s.Holder
	}
	kind := rapid.SampledFrom([]string{game.GiveAnswer, game.PressBuzz}).Draw(t, "type")
	return game.Command{Type: kind, By: team, Question: q.ID, Option: rapid.IntRange(0, 2).Draw(t, "option")}
}

func stationCommand(t *rapid.T, s *game.State, team string) game.Command {
	r, _, _ := s.Current()
	c := game.Command{Type: game.GiveAnswer, By: team, Option: rapid.IntRange(0, 2).Draw(t, "option")}
	c.Question = rapid.SampledFrom(r.Questions).Draw(t, "question").ID
	if kind := rapid.SampledFrom([]string{"", "", game.Next, game.Close, game.Correct, game.Mark}).Draw(t, "of the host"); kind != "" {
		c.Type, c.By, c.Option = kind, "host", c.Option-1
	} else if i := s.Find(team); i >= 0 {
		c.Question = r.Questions[s.Place(i)*r.Each()].ID
	}
	return c
}

// checkScores: what counts adds up to what the game itself has booked.
func checkScores(t *rapid.T, r debrief.Report, s game.State) {
	i := -1
	for _, team := range s.Teams {
		if team.Removed {
			continue
		}
		i++
		points, right, time := 0, 0, int64(0)
		for _, it := range r.Questions {
			a := it.Answers[i]
			points += a.Points
			if a.Mark == debrief.Right {
				right++
				if it.Kind != game.Rotating { // there speed breaks no ties
					time += a.Ms
				}
			}
		}
		if r.Teams[i].ID != team.ID || r.Teams[i].Name != team.Name || r.Teams[i].Share.Right != team.Right {
			t.Fatalf("team %+v became %+v", team, r.Teams[i])
		}
		if points != team.Score || right != team.Right || time != team.Time {
			t.Fatalf("%s: %d points, %d right, %d ms; the game has %+v", team.ID, points, right, time, team)
		}
	}
	if i+1 != len(r.Teams) {
		t.Fatalf("%d teams are in the report and %d in the game", len(r.Teams), i+1)
	}
}

func checkCounts(t *rapid.T, r debrief.Report) {
	within := func(s debrief.Share) {
		if s.Of > 0 && !(0 <= s.Low && s.Low <= s.P && s.P <= s.High && s.High <= 1) {
			t.Fatalf("a share is not within its interval: %+v", s)
		}
	}
	within(r.Share)
	of, picked, named := 0, 0, 0
	for _, it := range r.Questions {
		within(it.Share)
		of += it.Share.Of
		for o, n := range it.Picks {
			picked += n
			if o == it.Key && n > it.Share.Right {
				t.Fatalf("%d took the key and %d were right: %+v", n, it.Share.Right, it)
			}
		}
		if it.Answered > it.Share.Of || it.Kind == game.Buzz && it.Answered != it.Share.Of {
			t.Fatalf("%d answered of %d: %+v", it.Answered, it.Share.Of, it)
		}
		if it.D.Defined() && math.Abs(float64(it.D)) > 1 {
			t.Fatalf("D is %v", it.D)
		}
	}
	for _, m := range r.Confusions {
		for _, row := range m.Counts {
			for _, n := range row {
				named += n
			}
		}
	}
	if r.Share.Of != of || named > picked {
		t.Fatalf("%d answers count, %d by question; %d picks, %d by name", r.Share.Of, of, picked, named)
	}
	for _, list := range [][]debrief.Topic{r.Topics.Subjects, r.Topics.Traits, r.Topics.Species, r.Topics.Templates} {
		for _, topic := range list {
			within(topic.Share)
		}
	}
}

// compareWithGonum builds the table anew from the answers and asks gonum.
func compareWithGonum(t *rapid.T, r debrief.Report) (compared int) {
	columns, items := table01(r)
	totals := make([]float64, len(columns[0]))
	sum := 0.0
	for _, c := range columns[1:] {
		for team, x := range c {
			totals[team] += x
		}
		sum += stat.PopVariance(c, nil)
	}
	same := func(what string, got debrief.Figure, want float64) {
		if !got.Defined() {
			return
		}
		if compared++; !(math.Abs(float64(got)-want) <= 1e-9) {
			t.Fatalf("%s is %v, gonum has %v", what, got, want)
		}
	}
	for i, it := range items {
		rest := make([]float64, len(totals))
		for team := range rest {
			rest[team] = totals[team] - columns[i+1][team]
		}
		same("item-total", it.PointBiserial, stat.Correlation(columns[i+1], totals, nil))
		same("item-rest", it.Corrected, stat.Correlation(columns[i+1], rest, nil))
	}
	for _, it := range r.Questions {
		compareTimes(it, same)
	}
	variance, k := stat.PopVariance(totals, nil), float64(len(items))
	same("mean", r.Test.Mean, stat.Mean(totals, nil))
	same("SD", r.Test.SD*r.Test.SD, variance)
	same("KR-20", r.Test.KR20, k/(k-1)*(1-sum/variance))
	return compared
}

// compareTimes: gonum interpolates by type 4 of Hyndman and Fan, in which our
// type 7 is found at ((n-1)p+1)/n.
func compareTimes(it debrief.Item, same func(string, debrief.Figure, float64)) {
	var times []float64
	for _, a := range it.Answers {
		if a.Ms >= 0 {
			times = append(times, float64(a.Ms))
		}
	}
	if len(times) == 0 {
		return
	}
	slices.Sort(times)
	n := float64(len(times))
	at := func(p float64) float64 { return stat.Quantile(((n-1)*p+1)/n, stat.LinInterp, times, nil) }
	same("first quartile", it.Time.Q1, at(0.25))
	same("median", it.Time.Median, at(0.5))
	same("third quartile", it.Time.Q3, at(0.75))
}

// table01 has a column for each examined item; column 0 is empty and has the length.
func table01(r debrief.Report) (columns [][]float64, items []debrief.Item) {
	for _, it := range r.Questions {
		if it.Kind != game.Buzz && slices.ContainsFunc(it.Answers, func(a debrief.Answer) bool { return a.Mark != debrief.Apart }) {
			items = append(items, it)
		}
	}
	columns = make([][]float64, len(items)+1)
	for team := range r.Teams {
		if slices.ContainsFunc(items, func(it debrief.Item) bool { return it.Answers[team].Mark == debrief.Apart }) || len(items) == 0 {
			continue
		}
		columns[0] = append(columns[0], 0)
		for i, it := range items {
			x := 0.0
			if it.Answers[team].Mark == debrief.Right {
				x = 1
			}
			columns[i+1] = append(columns[i+1], x)
		}
	}
	return columns, items
}

// checkJSON: a report comes back from JSON as it was, undefined figures too.
func checkJSON(t *rapid.T, r debrief.Report) {
	written := encode(t, r)
	var read debrief.Report
	if err := json.Unmarshal([]byte(written), &read); err != nil {
		t.Fatalf("%v", err)
	}
	if again := encode(t, read); again != written {
		t.Fatalf("written %s\nread    %s", written, again)
	}
}
