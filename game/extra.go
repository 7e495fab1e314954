package game

import (
	"fmt"
	"slices"

	"fieldsign/refusal"
)

// Extra time for a team, as the host sets it. It counts in open rounds, where
// nobody waits for a press: the question stays open for that team alone, the
// reveal waits for it, and its time is counted on a clock that is slower by as
// much. So the speed part and the order of equal scores are as fair to it.

// extras are the shares of a question's time that may be added, in percent.
var extras = []int{0, 25, 50, 100}

func (s *State) extend(c Command) ([]Event, error) {
	switch {
	case s.Phase == Ended:
		return refuse(refusal.Ended, "This game has ended.")
	case s.Find(c.Team) < 0:
		return refuse(refusal.UnknownTeam, "There is no such team in the game.")
	case !slices.Contains(extras, c.Extra):
		return refuse(refusal.BadExtra, fmt.Sprintf("Extra time is %v percent, not %d.", extras, c.Extra))
	}
	return []Event{{Type: Extended, Team: c.Team, Extra: c.Extra}}, nil
}

func (s *State) extended(e Event) {
	s.team(e.Team).Extra = e.Extra
	s.Extra = 0
	for i := range s.Teams {
		s.Extra = max(s.Extra, s.Teams[i].Extra)
	}
}

// extra is what a team has beyond the open question's time, in ms.
func (s *State) extra(team int) int64 {
	if s.round().Kind != Open {
		return 0
	}
	return s.Span() * int64(s.Teams[team].Extra) / 100
}

// spent is how long a team has had the open question, by its own clock.
func (s *State) spent(team int, now int64) int64 {
	return (s.Span() - (s.Deadline - now)) * 100 / int64(100+s.Teams[team].Extra)
}

// Grace is how long beyond its time, in ms, the open question stays open for
// teams with extra time that have not answered.
func (s *State) Grace() int64 {
	var most int64
	if s.Phase != Asking || s.Extra == 0 {
		return most
	}
	for i := range s.Teams {
		if t := &s.Teams[i]; !t.Removed && t.Choice < 0 {
			most = max(most, s.extra(i))
		}
	}
	return most
}
