package game

import (
	"fmt"
	"slices"

	"fieldsign/refusal"
)

// The rules of the buzz: when a press counts from, who of several was first,
// lockout and rebound. docs/fairness.md says them in plain words.
//
// Presses are timed in µs of the game's clock; all else is in ms.

const (
	answerTime = 10_000  // ms that the holder of a buzz has to answer
	leastLeft  = 3_000   // ms that a rebound leaves the others at least
	reaction   = 100_000 // µs from the opening within which no press is credited before its arrival: nobody reads and reacts so fast
	maxWait    = 1_000   // ms, of a round's Wait
)

// clock is who gives the verdict on a team whose time to answer has run out.
const clock = "hub"

// Timing is what the hub knows of a press, in µs. The zero Timing is one of
// which it knows nothing: the press counts from its arrival.
type Timing struct {
	Got     int64 // when it arrived, by the game's clock
	Pressed int64 // when the phone says that it was, put on the game's clock
	Bound   int64 // that Pressed may be off by
	Back    int64 // the longest that the phone's link was seen to take
	Wait    int64 // the longest that a press of any other team may take to arrive
}

// Press is a press that contends for the buzz, in µs of the game's clock.
type Press struct {
	Team  string `json:"team"`
	At    int64  `json:"at"`    // as credited
	Bound int64  `json:"bound"` // that At may be off by
	Got   int64  `json:"got"`   // when it arrived
}

// buzz takes a press. The first one opens a short time in which presses that
// are still under way are waited for; give ends it.
func (s *State) buzz(c Command, now int64) ([]Event, error) {
	i, err := s.seat(c)
	if err != nil {
		return nil, err
	}
	press := s.credit(c.By, c.Timing, now)
	switch {
	case s.round().Kind != Buzz:
		return refuse(refusal.NotNow, "This is an open round: choose an answer.")
	case s.Teams[i].Locked:
		return refuse(refusal.LockedOut, "Your team is locked out for this question.")
	case s.Phase == Buzzed && s.Holder == c.By:
		return refuse(refusal.NotNow, "Your team holds the buzz already.")
	case s.Phase == Buzzed:
		return refuse(refusal.Beaten, fmt.Sprintf("%s buzzed first.", s.Teams[s.Find(s.Holder)].Name))
	case press.At >= s.Deadline*1000 || len(s.Presses) == 0 && now >= s.Deadline:
		return refuse(refusal.TooLate, "The time is up.")
	case slices.ContainsFunc(s.Presses, func(p Press) bool { return p.Team == c.By }):
		return refuse(refusal.NotNow, "Your team has buzzed already.")
	}
	return []Event{{Type: Pressed, Team: c.By, Press: &press, Took: s.Deadline - now, Closes: s.closing(press, c.Timing.Wait, now)}}, nil
}

// credit puts a press on the game's clock. Two things are known of it: it came
// after what the link was seen to take before its arrival, and near to what the
// phone says. Where both hold together it is credited in the middle; where they
// contradict each other the phone's word counts for nothing. Nor does a press
// count from a time at which nobody could have reacted to the question.
func (s *State) credit(team string, t Timing, now int64) Press {
	got := now * 1000
	if t.Got > 0 {
		got = min(max(t.Got, s.Since*1000), got+999)
	}
	back := min(max(t.Back, 0), int64(s.round().Wait)*1000)
	least := min(max(got-back, s.Since*1000+reaction), got)
	pressed := min(t.Pressed, got)
	from, to := max(least, pressed-t.Bound), min(got, pressed+t.Bound)
	if from > to {
		from, to = least, got
	}
	return Press{Team: team, At: (from + to) / 2, Bound: (to - from + 1) / 2, Got: got}
}

// closing is when the buzz is given at the latest: once no earlier press can
// be under way any more, but no later than the round waits.
func (s *State) closing(first Press, wait, now int64) int64 {
	switch {
	case len(s.Presses) > 0:
		return s.Closes
	case wait <= 0:
		return now
	}
	known := (first.At + first.Bound + wait + 999) / 1000
	return min(max(known, now), now+int64(s.round().Wait))
}

// give gives the buzz to the press that no other one beats; a seeded draw
// decides among several.
func (s *State) give() Event {
	var ahead []string
	for _, p := range s.Presses {
		if !slices.ContainsFunc(s.Presses, func(other Press) bool { return other.beats(p) }) {
			ahead = append(ahead, p.Team)
		}
	}
	e := Event{Type: GotBuzz, Team: ahead[0], Took: s.Left}
	if len(ahead) > 1 {
		slices.Sort(ahead) // so that the order of arrival weighs nothing
		e.Team, e.Drawn = ahead[draw(s.Plan.Seed, s.question().ID, ahead)], ahead
	}
	return e
}

// beats holds where p was surely first: by more than both may be off, or on
// both clocks, the credited one and that of arrival.
func (p Press) beats(q Press) bool {
	return p.At+p.Bound < q.At-q.Bound ||
		p.At <= q.At && p.Got <= q.Got && (p.At < q.At || p.Got < q.Got)
}

// draw picks a place among the teams by the FNV-1a hash of the plan's seed,
// the question and the teams, so that anyone can draw it again.
func draw(seed uint64, question string, teams []string) int {
	h := uint64(14695981039346656037)
	for _, text := range append([]string{fmt.Sprint(seed), question}, teams...) {
		for _, b := range []byte(text + "\n") {
			h = (h ^ uint64(b)) * 1099511628211
		}
	}
	// The low bits of FNV-1a are its weakest.
	return int((h ^ h>>32) % uint64(len(teams)))
}

func (s *State) rule(c Command) ([]Event, error) {
	if s.Phase != Buzzed || s.Paused {
		return refuse(refusal.NotNow, "No team holds the buzz.")
	}
	if c.Team != "" && c.Team != s.Holder {
		return refuse(refusal.NotNow, "Another team holds the buzz by now.")
	}
	return s.judge(-1, c.Right), nil
}

// judge is the verdict on the holder's answer; option is -1 where it was
// spoken or did not come.
func (s *State) judge(option int, right bool) []Event {
	award := Award{Team: s.Holder, Right: right, Points: -s.round().Penalty}
	if right {
		award.Points = s.round().Points
		award.Took = int64(s.round().Seconds)*1000 - s.Left
	}
	return []Event{{Type: Ruled, Team: s.Holder, Option: option, Awards: []Award{award}}}
}
