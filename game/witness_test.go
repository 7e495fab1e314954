package game_test

import (
	"encoding/json"
	"fmt"
	"slices"

	"fieldsign/game"
)

// witness plays commands and checks after each what must hold for any. It
// keeps books of its own: it hears only the events, as a debrief does.
type witness struct {
	t      fataler
	s      game.State
	stored []game.Event // as read back from JSON
	at     int64

	booked []game.Award // what counts
	before int          // how many of booked are of earlier questions
	rights int          // right verdicts of the question under way
}

type fataler interface {
	Fatal(...any)
	Fatalf(string, ...any)
}

// take plays a command, after some time has passed, and checks everything.
func (w *witness) take(c game.Command, passed int64) {
	w.at += passed
	before := encode(w.t, w.s)
	events, err := game.Decide(w.s, c, w.at)
	if got := encode(w.t, w.s); got != before {
		w.t.Fatalf("Decide changed the state that it was given:\n%s\n%s", before, got)
	}
	if err != nil && (len(events) > 0 || codeOf(err) == "" || err.Error() == "") {
		w.t.Fatalf("%s was refused with %v, and made %d events", c.Type, err, len(events))
	}
	for _, e := range events {
		w.apply(e)
	}
	if len(events) == 0 {
		return
	}
	if again, err := game.Decide(w.s, c, w.at); c.ID != "" && (err != nil || len(again) > 0) {
		w.t.Fatalf("%s took effect twice: %v, %v", c.Type, again, err)
	}
}

func (w *witness) apply(e game.Event) {
	if e.Seq != w.s.Seq+1 || e.At < w.s.At {
		w.t.Fatalf("event %d at %d came after event %d at %d", e.Seq, e.At, w.s.Seq, w.s.At)
	}
	kept, clone := encode(w.t, w.s), w.s.Clone()
	w.s = game.Apply(w.s, e)
	if got := encode(w.t, clone); got != kept {
		w.t.Fatalf("%s changed a clone:\n%s\n%s", e.Type, kept, got)
	}
	var read game.Event
	if err := json.Unmarshal([]byte(encode(w.t, e)), &read); err != nil {
		w.t.Fatal(err)
	}
	w.stored = append(w.stored, read)
	if e.Type == game.GotBuzz {
		w.fair(e, clone.Presses)
	}
	w.book(e)
	w.check()
}

func (w *witness) book(e game.Event) {
	switch e.Type {
	case game.Pressed:
		w.credited(*e.Press, e.At)
	case game.Opened:
		w.before, w.rights = len(w.booked), 0
	case game.Ruled, game.Scored:
		w.booked = append(w.booked, e.Awards...)
		if e.Type == game.Ruled && e.Awards[0].Right {
			w.rights++
		}
	case game.Corrected:
		for _, a := range e.Taken {
			w.unbook(a)
		}
		w.booked = append(w.booked, e.Awards...)
	case game.Skipped:
		w.booked = w.booked[:w.before]
	case game.Undone:
		for _, a := range e.Awards {
			w.unbook(a)
		}
	}
}

// credited checks that no press gains more than the round allows.
func (w *witness) credited(p game.Press, now int64) {
	r, _, _ := w.s.Current()
	if p.At > p.Got || p.At < p.Got-int64(r.Wait)*1000 || p.Bound < 0 || p.Bound > int64(r.Wait)*1000 || p.Got/1000 > now {
		w.t.Fatalf("credited beyond the rules at %d: %+v", now, p)
	}
	if w.s.Closes > now+int64(r.Wait) {
		w.t.Fatalf("the buzz waits till %d, which is more than %d ms from %d", w.s.Closes, r.Wait, now)
	}
}

// fair checks that who got the buzz contended for it and was not surely behind
// anyone.
func (w *witness) fair(e game.Event, presses []game.Press) {
	var got *game.Press
	for i := range presses {
		if presses[i].Team == e.Team {
			got = &presses[i]
		}
	}
	if got == nil {
		w.t.Fatalf("%s got a buzz without a press: %+v", e.Team, presses)
	}
	for _, p := range presses {
		if p.At+p.Bound < got.At-got.Bound || p.At < got.At && p.Got < got.Got {
			w.t.Fatalf("%+v got the buzz though %+v was first", *got, p)
		}
	}
	if len(e.Drawn) == 1 || len(e.Drawn) > 1 && !slices.Contains(e.Drawn, e.Team) {
		w.t.Fatalf("%s was drawn among %v", e.Team, e.Drawn)
	}
}

func (w *witness) unbook(a game.Award) {
	for i := len(w.booked) - 1; i >= w.before; i-- {
		if w.booked[i] == a {
			w.booked = append(w.booked[:i], w.booked[i+1:]...)
			return
		}
	}
	w.t.Fatalf("an award was taken back that the question had not given: %+v", a)
}

func (w *witness) check() {
	live := encode(w.t, w.s)
	if err := game.Check(w.stored); err != nil {
		w.t.Fatalf("what Decide made does not fit: %v", err)
	}
	if replayed := encode(w.t, game.Replay(w.stored)); replayed != live {
		w.t.Fatalf("the log gives another game:\nlive     %s\nreplayed %s", live, replayed)
	}
	if w.rights > 1 {
		w.t.Fatalf("two right verdicts in one question")
	}
	if holds := w.s.Find(w.s.Holder) >= 0; holds != (w.s.Phase == game.Buzzed) {
		w.t.Fatalf("phase %s, holder %q", w.s.Phase, w.s.Holder)
	}
	if at, running := w.s.Wake(); running && at < 0 || w.s.Paused && w.s.Deadline < -w.s.Span() {
		w.t.Fatalf("a time before the game: wakes at %d, deadline %d", at, w.s.Deadline)
	}
	if w.s.AtStations() {
		w.checkStations()
	}
	w.checkScores()
}

func (w *witness) checkScores() {
	type sum struct {
		score, right int
		time         int64
	}
	sums := map[string]sum{}
	for _, a := range w.booked {
		s := sums[a.Team]
		s.score += a.Points
		if a.Right {
			s.right++
			s.time += a.Took
			if a.Took < 0 {
				w.t.Fatalf("a right answer took %d ms", a.Took)
			}
		}
		sums[a.Team] = s
	}
	for _, t := range w.s.Teams {
		if got := (sum{t.Score, t.Right, t.Time}); got != sums[t.ID] {
			w.t.Fatalf("%s stands at %+v, its awards give %+v", t.ID, got, sums[t.ID])
		}
	}
}

// samplePlan has rounds of both kinds, with the same question ids in each.
func samplePlan(openFirst bool) game.Plan {
	open, buzzing := round(game.Open, "q1", "q2"), round(game.Buzz, "q1", "q2")
	open.Speed, open.Seconds, buzzing.Wait = 50, 30, 250
	if openFirst {
		return plan(open, buzzing, open)
	}
	return plan(buzzing, open, buzzing)
}

// stationPlan begins with a station round of three stations.
func stationPlan() game.Plan { return plan(stations(3, 2), round(game.Open, "q1"), stations(2, 1)) }

// start brings a witness to the first question.
func (w *witness) start(teams int, p game.Plan) {
	w.take(game.Command{Type: game.Create, By: "hub", Code: "otter-den-42"}, 0)
	w.take(game.Command{Type: game.SetPlan, By: "host", Plan: p}, 0)
	for i := range teams {
		w.take(game.Command{Type: game.Join, By: "hub", Name: fmt.Sprintf("Team %d", i+1)}, 1)
	}
	w.take(host(game.Next), 1)
}
