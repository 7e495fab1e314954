package tournament

import (
	"fmt"
	"slices"

	"fieldsign/refusal"
)

// The commands about a match: its start, its result, the correction of that,
// and ties.

func unknownMatch() ([]Event, error) {
	return refuse(refusal.UnknownMatch, "There is no such match.")
}

func (s *State) start(c Command) ([]Event, error) {
	m := s.match(c.Match)
	switch {
	case m == nil:
		return unknownMatch()
	case !m.Playable():
		return refuse(refusal.NotNow, "This match has a result, or its sides are not known yet.")
	case c.Game == "" || len(c.Game) > maxCode:
		return refuse(refusal.BadGame, fmt.Sprintf("A match is started with its game's join code of at most %d bytes.", maxCode))
	}
	for i := range s.Matches {
		o := &s.Matches[i]
		switch {
		case o.ID == m.ID || !o.Running():
		case o.Game == c.Game:
			return refuse(refusal.BadGame, fmt.Sprintf("Match %d is being played in that game.", o.ID))
		case o.Has(m.Home.Entrant) || o.Has(m.Away.Entrant):
			return refuse(refusal.Busy, fmt.Sprintf("One of the two is playing match %d.", o.ID))
		}
	}
	return []Event{{Type: Started, Match: m.ID, Game: c.Game}}, nil
}

func (s *State) record(c Command) ([]Event, error) {
	m := s.match(c.Match)
	switch {
	case m == nil:
		return unknownMatch()
	case m.Done():
		return refuse(refusal.Recorded, "This match has a result: correct that.")
	case !m.Playable():
		return refuse(refusal.NotNow, "The sides of this match are not known yet.")
	}
	r, err := s.judge(m, c)
	if err != nil {
		return nil, err
	}
	return []Event{{Type: Recorded, Match: m.ID, Result: &r}}, nil
}

// judge makes a result of what a command says.
func (s *Sheet) judge(m *Match, c Command) (Result, error) {
	bad := func(code refusal.Code, message string) (Result, error) {
		return Result{}, refusal.New(code, message)
	}
	named := c.Winner > 0 && m.Has(c.Winner)
	switch {
	case c.Outcome == Forfeit || c.Outcome == Walkover:
		if named {
			return Result{Outcome: c.Outcome, Winner: c.Winner}, nil
		}
		if c.Winner == 0 && !s.inBracket(m) {
			return Result{Outcome: c.Outcome, Winner: Nobody}, nil
		}
		return bad(refusal.BadWinner, "Say which of the two goes on. Where neither can, withdraw both.")
	case c.Outcome != Played:
		return bad(refusal.BadOutcome, fmt.Sprintf("A match is %s, or a %s, or a %s.", Played, Forfeit, Walkover))
	case max(c.Home, c.Away) > maxScore || min(c.Home, c.Away) < -maxScore:
		return bad(refusal.BadScore, fmt.Sprintf("Scores lie between -%d and %d.", maxScore, maxScore))
	}
	r := Result{Outcome: Played, Home: c.Home, Away: c.Away}
	switch {
	case c.Home > c.Away:
		r.Winner = m.Home.Entrant
	case c.Away > c.Home:
		r.Winner = m.Away.Entrant
	case s.inBracket(m) && !named:
		return bad(refusal.Level, "A bracket has no draws: play one more question, and say who won that.")
	case s.inBracket(m):
		r.Winner = c.Winner
	}
	return r, nil
}

// correct replaces a result, or takes it away. What follows from that is
// reckoned on a copy, so that the event can name it.
func (s *State) correct(c Command) ([]Event, error) {
	m := s.match(c.Match)
	switch {
	case m == nil:
		return unknownMatch()
	case !m.Done():
		return refuse(refusal.NotNow, "This match has no result to correct.")
	case !m.real():
		return refuse(refusal.NotNow, "This is no match between two: there is nothing to correct.")
	case c.Outcome == Open && m.Result.Auto:
		return refuse(refusal.NotNow, "This forfeit follows from a withdrawal: give the result that was played.")
	case c.Outcome == Open && s.Bracket > 0 && !s.inBracket(m):
		return refuse(refusal.NotNow, "The bracket rests on this result: give the right one instead of taking it away.")
	}
	var r Result
	if c.Outcome != Open {
		var err error
		if r, err = s.judge(m, c); err != nil {
			return nil, err
		}
	}
	return []Event{s.withConsequences(Event{Type: Corrected, Match: m.ID, Result: &r})}, nil
}

// real reports whether the match is one between two entrants.
func (m *Match) real() bool { return m.Home.Entrant > 0 && m.Away.Entrant > 0 }

// settleTie records the order of those whom no tie-break could part.
func (s *State) settleTie(c Command) ([]Event, error) {
	for _, group := range s.Level() {
		if sameSet(group, c.Order) {
			return []Event{s.withConsequences(Event{Type: Settled, Order: slices.Clone(c.Order)})}, nil
		}
	}
	return refuse(refusal.NoTie, "These are not level on every tie-break: name all of those who are, better first.")
}

// withConsequences adds to an event who plays the bracket after it, if that
// changes, and which other matches lose their result or their game.
func (s *State) withConsequences(e Event) Event {
	if s.Bracket == 0 {
		return e
	}
	after := s.Sheet.clone()
	after.apply(e)
	if s.Settings.Format == Pools {
		if field := after.GoingOn().Field; !slices.Equal(field, s.Field) {
			e.Field = field
			after.refield(field)
		}
	}
	for i := range s.Matches {
		was, is := &s.Matches[i], &after.Matches[i]
		lost := was.Done() && !was.Result.Auto && is.Result != was.Result || was.Game != is.Game
		if lost && was.ID != e.Match {
			e.Voided = append(e.Voided, was.ID)
		}
	}
	return e
}
