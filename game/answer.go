package game

import (
	"fmt"

	"fieldsign/refusal"
)

// The rules of a question: its answers, its end and the undoing of a verdict.
// Those of the buzz are in buzz.go.

// seat finds the team that plays, and refuses what comes at the wrong time.
func (s *State) seat(c Command) (int, error) {
	i := s.Find(c.By)
	switch {
	case i < 0:
		return 0, refusal.New(refusal.UnknownTeam, "This team is not in the game.")
	case s.Paused:
		return 0, refusal.New(refusal.Paused, "The game is paused.")
	case s.Phase != Asking && s.Phase != Buzzed:
		return 0, refusal.New(refusal.TooLate, "No question is open.")
	case c.Question != s.question().ID:
		return 0, refusal.New(refusal.TooLate, "That question is closed.")
	}
	return i, nil
}

func (s *State) answer(c Command, now int64) ([]Event, error) {
	if s.AtStations() {
		return s.write(c, now)
	}
	i, err := s.seat(c)
	if err != nil {
		return nil, err
	}
	if c.Option < 0 || c.Option >= len(s.question().Options) {
		return refuse(refusal.BadOption, fmt.Sprintf("The options are 0 to %d.", len(s.question().Options)-1))
	}
	if s.round().Kind == Buzz {
		if s.Phase != Buzzed || s.Holder != c.By {
			return refuse(refusal.NotHolder, "Buzz first: the team that holds the buzz answers.")
		}
		if now >= s.Deadline {
			return refuse(refusal.TooLate, "The time to answer is up.")
		}
		return s.judge(c.Option, c.Option == s.question().Key), nil
	}
	if s.Teams[i].Choice >= 0 {
		return refuse(refusal.Answered, "The first answer stands.")
	}
	if now >= s.Deadline+s.extra(i) {
		return refuse(refusal.TooLate, "The time is up.")
	}
	return []Event{{Type: Answered, Team: c.By, Option: c.Option, Took: s.spent(i, now)}}, nil
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
	case s.AtStations():
		return s.signal(), nil
	case s.Phase == Buzzed:
		return s.judge(-1, false), nil
	case len(s.Presses) > 0:
		return []Event{s.give()}, nil
	}
	return []Event{s.score()}, nil
}

func (s *State) close() ([]Event, error) {
	if s.Phase == Visiting {
		return s.signal(), nil
	}
	if s.Phase != Asking && s.Phase != Buzzed {
		return refuse(refusal.NotNow, "No question is open.")
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
		return refuse(refusal.NotNow, "No question is open.")
	}
	return []Event{{Type: Skipped}}, nil
}

// undo takes back the last verdict. While the question is open, that is a wrong
// one in a buzz round, and the team gets its buzz back even from a team that
// has buzzed since. Later the key is out: only the points go.
func (s *State) undo() ([]Event, error) {
	if len(s.Last) == 0 || s.Undone {
		return refuse(refusal.NothingToUndo, "There is no verdict to take back.")
	}
	return []Event{{Type: Undone, Awards: s.Last}}, nil
}
