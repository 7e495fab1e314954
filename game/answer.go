package game

import "fmt"

// The rules of a question: answers, the buzz with lockout and rebound, the
// verdict and its undoing.

const (
	answerTime = 10_000 // ms that the holder of a buzz has to answer
	leastLeft  = 3_000  // ms that a rebound leaves the others at least
)

// seat finds the team that plays, and refuses what comes at the wrong time.
func (s *State) seat(c Command) (int, error) {
	i := s.Find(c.By)
	switch {
	case i < 0:
		return 0, Refusal{"unknown_team", "This team is not in the game."}
	case s.Paused:
		return 0, Refusal{"paused", "The game is paused."}
	case s.Phase != Asking && s.Phase != Buzzed:
		return 0, Refusal{"too_late", "No question is open."}
	case c.Question != s.question().ID:
		return 0, Refusal{"too_late", "That question is closed."}
	}
	return i, nil
}

func (s *State) answer(c Command, now int64) ([]Event, error) {
	i, err := s.seat(c)
	if err != nil {
		return nil, err
	}
	if c.Option < 0 || c.Option >= len(s.question().Options) {
		return refuse("bad_option", fmt.Sprintf("The options are 0 to %d.", len(s.question().Options)-1))
	}
	if s.round().Kind == Buzz {
		if s.Phase != Buzzed || s.Holder != c.By {
			return refuse("not_holder", "Buzz first: the team that holds the buzz answers.")
		}
		if now >= s.Deadline {
			return refuse("too_late", "The time to answer is up.")
		}
		return s.judge(c.Option, c.Option == s.question().Key), nil
	}
	if s.Teams[i].Choice >= 0 {
		return refuse("answered", "The first answer stands.")
	}
	if now >= s.Deadline {
		return refuse("too_late", "The time is up.")
	}
	return []Event{{Type: Answered, Team: c.By, Option: c.Option, Took: s.Span() - (s.Deadline - now)}}, nil
}

func (s *State) buzz(c Command, now int64) ([]Event, error) {
	i, err := s.seat(c)
	switch {
	case err != nil:
		return nil, err
	case s.round().Kind != Buzz:
		return refuse("not_now", "This is an open round: choose an answer.")
	case s.Teams[i].Locked:
		return refuse("locked_out", "Your team is locked out for this question.")
	case s.Phase == Buzzed && s.Holder == c.By:
		return refuse("not_now", "Your team holds the buzz already.")
	case s.Phase == Buzzed:
		return refuse("beaten", fmt.Sprintf("%s buzzed first.", s.Teams[s.Find(s.Holder)].Name))
	case now >= s.Deadline:
		return refuse("too_late", "The time is up.")
	}
	return []Event{{Type: GotBuzz, Team: c.By, Took: s.Deadline - now}}, nil
}

func (s *State) rule(c Command) ([]Event, error) {
	if s.Phase != Buzzed || s.Paused {
		return refuse("not_now", "No team holds the buzz.")
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

// settled reports whether the open question has nobody left to answer it:
// all have answered or are locked out.
func (s *State) settled() bool {
	playing := false
	for i := range s.Teams {
		t := &s.Teams[i]
		if t.Removed {
			continue
		}
		if t.Choice < 0 && !t.Locked {
			return false
		}
		playing = true
	}
	return playing
}

// tick is what time brings about: the end of the question or of the holder's
// time to answer. The hub ticks after each event, and when Wake says.
func (s *State) tick(now int64) ([]Event, error) {
	at, running := s.Wake()
	switch {
	case !running || now < at:
		return nil, nil
	case s.Phase == Buzzed:
		return s.judge(-1, false), nil
	}
	return []Event{s.score()}, nil
}

func (s *State) close() ([]Event, error) {
	if s.Phase != Asking && s.Phase != Buzzed {
		return refuse("not_now", "No question is open.")
	}
	return []Event{s.score()}, nil
}

// score closes the question: in an open round every right answer is awarded.
func (s *State) score() Event {
	e := Event{Type: Scored}
	if s.round().Kind != Open {
		return e
	}
	for i := range s.Teams {
		t := &s.Teams[i]
		if t.Removed || t.Choice != s.question().Key {
			continue
		}
		span := int64(s.round().Seconds) * 1000
		bonus := int64(s.round().Speed) * (span - t.Took) / span
		e.Awards = append(e.Awards, Award{t.ID, true, s.round().Points + int(bonus), t.Took})
	}
	return e
}

func (s *State) skip() ([]Event, error) {
	if s.Phase != Asking && s.Phase != Buzzed {
		return refuse("not_now", "No question is open.")
	}
	return []Event{{Type: Skipped}}, nil
}

// undo takes back the last verdict. While the question is open, that is a wrong
// one in a buzz round, and the team gets its buzz back even from a team that
// has buzzed since. Later the key is out: only the points go.
func (s *State) undo() ([]Event, error) {
	if len(s.Last) == 0 || s.Undone {
		return refuse("nothing_to_undo", "There is no verdict to take back.")
	}
	return []Event{{Type: Undone, Awards: s.Last}}, nil
}
