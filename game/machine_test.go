package game_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/game"
)

// TestAnyCourse plays random commands at random times, sensible ones and not.
// Draws favour low numbers and the ends of lists, so what is common stands
// first and what is rare is a number from the middle.
func TestAnyCourse(t *testing.T) {
	seen := map[string]bool{}
	unseen := func() []string {
		return slices.DeleteFunc([]string{game.Created, game.Planned, game.Joined, game.Renamed, game.RemovedT, game.Extended, game.Forgotten, game.Opened, game.Answered, game.Pressed, game.GotBuzz,
			game.Ruled, game.Scored, game.Skipped, game.Undone, game.Paused, game.Resumed, game.Broke, game.Finished, game.Followed,
			game.Started, game.Signalled, game.Adjusted, game.Corrected}, func(kind string) bool { return seen[kind] })
	}
	// Some events are rare: a hundred courses more may have them.
	for range 5 {
		rapid.Check(t, func(t *rapid.T) { anyCourse(t, seen) })
		if len(unseen()) == 0 || t.Failed() {
			return
		}
	}
	t.Errorf("no course had these events: %v: the commands are too tame", unseen())
}

func anyCourse(t *rapid.T, seen map[string]bool) {
	w := &witness{t: t}
	if rapid.IntRange(0, 9).Draw(t, "from nothing") != 7 {
		w.start(rapid.IntRange(1, 4).Draw(t, "teams"), plans.Draw(t, "plan"))
	}
	play := func(c func(*rapid.T, *game.State) game.Command) func(*rapid.T) {
		return func(t *rapid.T) {
			for range 6 {
				w.take(c(t, &w.s), passing.Draw(t, "passed"))
			}
		}
	}
	t.Repeat(map[string]func(*rapid.T){"a team": play(teamCommand), "b team": play(teamCommand), "host": play(hostCommand), "hub": play(hubCommand)})
	for _, e := range w.stored {
		seen[e.Type] = true
	}
}

var (
	// passing is short mostly; seldom it uses up a time, or goes backwards.
	passing = rapid.Custom(func(t *rapid.T) int64 {
		if rapid.IntRange(0, 19).Draw(t, "long") == 13 {
			return rapid.SampledFrom([]int64{-5000, 9999, 10_000, 20_000, 40_000}).Draw(t, "time")
		}
		return rapid.Int64Range(0, 500).Draw(t, "time")
	})
	timings = rapid.Custom(func(t *rapid.T) game.Timing {
		if rapid.Bool().Draw(t, "unknown link") {
			return game.Timing{}
		}
		us := rapid.Int64Range(-100_000, 600_000)
		return game.Timing{Got: us.Draw(t, "got"), Pressed: us.Draw(t, "pressed"), Bound: us.Draw(t, "bound"), Back: us.Draw(t, "back"), Wait: us.Draw(t, "wait")}
	})
	plans = rapid.Custom(func(t *rapid.T) game.Plan {
		return []game.Plan{samplePlan(false), stationPlan(), samplePlan(true)}[rapid.IntRange(0, 2).Draw(t, "of the plans")]
	})
	ids   = rapid.SampledFrom([]string{"", "", "", "1", "2", "3"})
	names = rapid.OneOf(rapid.SampledFrom([]string{"Team 1", "OTTERS", "", "<b>", "\u202e", "\xff"}), rapid.StringN(1, 6, -1))
)

// teamCommand favours the holder, so that buzzes get their answers.
func teamCommand(t *rapid.T, s *game.State) game.Command {
	by := rapid.SampledFrom([]string{"t1", "t2", "t3", "t4"}).Draw(t, "by")
	if s.Phase == game.Buzzed && rapid.Bool().Draw(t, "holder") {
		by = s.Holder
	}
	asked := "q1"
	if _, q, ok := s.Current(); ok && rapid.IntRange(0, 9).Draw(t, "stale") != 7 {
		asked = q.ID
	}
	if s.AtStations() { // of any station, mostly its own
		r, _, _ := s.Current()
		at := rapid.IntRange(0, len(r.Questions)-1).Draw(t, "question")
		if i := s.Find(by); i >= 0 && rapid.IntRange(0, 9).Draw(t, "elsewhere") != 7 {
			at = s.Place(i)*r.Each() + at%r.Each()
		}
		asked = r.Questions[at].ID
	}
	kind := rapid.SampledFrom([]string{game.PressBuzz, game.GiveAnswer}).Draw(t, "type")
	return game.Command{Type: kind, By: by, ID: ids.Draw(t, "id"), Question: asked, Option: rapid.SampledFrom([]int{wrong, right, wrong, right, 2, 3, -1}).Draw(t, "option"), Timing: timings.Draw(t, "timing")}
}

// hostCommand goes on often and ends seldom, so that courses get somewhere.
func hostCommand(t *rapid.T, s *game.State) game.Command {
	kind := rapid.SampledFrom([]string{game.Rule, game.Undo, game.Resume, game.Next, game.Forget, game.Rule, game.Pause, game.Close,
		game.Skip, game.Rename, game.SetPlan, game.Remove, game.Extend, game.Undo, game.End, game.Strike, game.Replace, game.Move}).Draw(t, "type")
	if s.AtStations() {
		return stationCommand(t, s, kind)
	}
	waits := s.Phase != game.Asking && s.Phase != game.Buzzed && !s.Paused
	if (waits || kind == game.End) && rapid.IntRange(0, 9).Draw(t, "go on") != 7 {
		kind = game.Next
		if s.Phase == game.Lobby || s.Phase == game.Break {
			kind = rapid.SampledFrom([]string{game.Next, game.Start}).Draw(t, "start")
		}
	}
	c := game.Command{Type: kind, By: "host", ID: ids.Draw(t, "id"), Right: rapid.Bool().Draw(t, "right")}
	switch kind {
	case game.Rename, game.Remove, game.Extend, game.Forget:
		c.Extra = rapid.SampledFrom([]int{50, 0, 100, 25, 33}).Draw(t, "extra")
		c.Team, c.Name = fmt.Sprintf("t%d", rapid.IntRange(0, 5).Draw(t, "team")), names.Draw(t, "name")
	case game.Pause:
		c.Notice = names.Draw(t, "notice")
	case game.Strike, game.Replace, game.Move:
		c.Question, c.Round, c.To = rapid.SampledFrom([]string{"q1", "q2", "q3", "r1"}).Draw(t, "question"), rapid.IntRange(-1, 2).Draw(t, "round"), rapid.IntRange(-1, 3).Draw(t, "to")
		c.With = question(rapid.SampledFrom([]string{"r1", "r2", "q1", ""}).Draw(t, "with"))
	case game.SetPlan:
		c.Plan = plans.Draw(t, "plan")
	}
	return c
}

// stationCommand is for a host whose teams are at stations.
func stationCommand(t *rapid.T, s *game.State, otherwise string) game.Command {
	kind := rapid.SampledFrom([]string{game.Next, game.Close, game.Correct, game.Adjust, game.Close, game.Correct, game.Pause, game.Resume, game.Mark, otherwise}).Draw(t, "at stations")
	r, _, _ := s.Current()
	q := rapid.SampledFrom(r.Questions).Draw(t, "corrected").ID
	return game.Command{Type: kind, By: "host", ID: ids.Draw(t, "id"), Question: q, Option: rapid.IntRange(-2, 3).Draw(t, "key"),
		Seconds: rapid.SampledFrom([]int{30, -5, 5, -700, 700, 0}).Draw(t, "seconds"), Team: rapid.SampledFrom([]string{"t1", "t2", "t9"}).Draw(t, "team"), Name: names.Draw(t, "name")}
}

func hubCommand(t *rapid.T, _ *game.State) game.Command {
	kind := rapid.SampledFrom([]string{game.Tick, game.Tick, game.Tick, game.Join, game.Create, game.Follow, "dance", ""}).Draw(t, "type")
	c := game.Command{Type: kind, By: "hub", ID: ids.Draw(t, "id")}
	switch kind {
	case game.Join:
		c.Name, c.Secret = names.Draw(t, "name"), "s"
	case game.Follow:
		c.Code = "alder-run-27"
	case game.Create:
		c.Code, c.Plan = "otter-den-42", plans.Draw(t, "plan")
	}
	return c
}
