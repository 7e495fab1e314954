package tournament

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"fieldsign/game"
)

// Take is Apply for an event that comes from a store. Apply trusts that Decide
// made the event on that very state; a store may hold what no tournament of
// this version ever was. The error says what doesn't fit, and wraps
// game.ErrMisfit; s is then used up.
func Take(s State, e Event) (after State, err error) {
	misfit := func(what error) error {
		return fmt.Errorf("event %d, %s, does not fit this tournament: %w: %w", e.Seq, strconv.Quote(e.Type), what, game.ErrMisfit)
	}
	defer func() {
		if found := recover(); found != nil { // what fits has overlooked
			err = misfit(fmt.Errorf("the rules stumble over it: %v", found))
		}
	}()
	if err := s.fits(e); err != nil {
		return s, misfit(err)
	}
	return Apply(s, e), nil
}

// fits holds an event against what Apply, and all that later looks at the
// state, relies on. It lets in whatever Decide makes.
func (s *State) fits(e Event) error {
	rule, known := fitting[e.Type]
	switch {
	case e.Seq != s.Seq+1:
		return fmt.Errorf("it follows event %d", s.Seq)
	case !known:
		return errors.New("there is no such event")
	case !slices.Contains(rule.phases, s.Phase):
		return fmt.Errorf("it comes in the phase %q", s.Phase)
	case !rule.fits(s, e):
		return errors.New(rule.otherwise)
	}
	return nil
}

// fitting is by the event's type: when it may come, what must hold, and what is
// said where that doesn't.
var fitting = map[string]struct {
	phases    []Phase
	fits      func(*State, Event) bool
	otherwise string
}{
	Created: {[]Phase{""}, func(_ *State, e Event) bool { return e.Settings != nil && e.Settings.check() == nil }, "it has no settings that can be played"},
	Entered: {[]Phase{Entry}, func(s *State, e Event) bool {
		return e.Entrant == len(s.Entrants)+1 && len(s.Order) < MaxEntrants && len(s.Entrants) < maxEntries
	}, "the entrant is not the next one"},
	Renamed:  {[]Phase{Entry, Play, Ended}, func(s *State, e Event) bool { return s.entered(e.Entrant) }, "there is no such entrant"},
	Withdrew: {[]Phase{Entry, Play}, func(s *State, e Event) bool { return s.active(e.Entrant) }, "there is no such entrant"},
	Reseeded: {[]Phase{Entry}, func(s *State, e Event) bool { return sameSet(e.Order, s.Order) }, "the order is not of all entrants"},
	Drawn: {[]Phase{Entry}, func(s *State, e Event) bool {
		return sameSet(e.Order, s.Order) && s.drawable() == nil && s.pairable(e)
	}, "the draw is not of all entrants, or they are too few"},
	Paired: {[]Phase{Play}, func(s *State, e Event) bool {
		return s.Settings.Format == Swiss && len(e.Pairs) > 0 && s.pairable(e)
	}, "no such round can be paired"},
	Advanced: {[]Phase{Play}, func(s *State, e Event) bool {
		return s.Settings.Format == Pools && s.Bracket == 0 && len(e.Order) >= MinEntrants && s.distinct(e.Order...)
	}, "they can't go on to a bracket"},
	Started:   {[]Phase{Play}, func(s *State, e Event) bool { m := s.match(e.Match); return m != nil && m.real() }, "there is no such match"},
	Recorded:  {[]Phase{Play}, (*State).recordable, "there is no such match, or no such result of it"},
	Corrected: {[]Phase{Play}, (*State).recordable, "there is no such match, or no such result of it"},
	Settled: {[]Phase{Play}, func(s *State, e Event) bool { return s.distinct(e.Order...) && s.refieldable(e.Field) },
		"there are no such entrants"},
	Arranged: {[]Phase{Entry, Play}, func(_ *State, e Event) bool { return e.Boards >= 1 && e.Boards <= MaxBoards }, "there can't be so many boards"},
	Seated:   {[]Phase{Entry, Play, Ended}, func(s *State, e Event) bool { return s.entered(e.Entrant) && e.Secret != "" }, "there is no such entrant, or no phone"},
	Freed:    {[]Phase{Entry, Play, Ended}, func(s *State, e Event) bool { return s.entered(e.Entrant) }, "there is no such entrant"},
	Finished: {[]Phase{Play}, func(*State, Event) bool { return true }, ""},
	Undone:   {[]Phase{Entry, Play, Ended}, func(s *State, _ Event) bool { _, ok := s.Undoable(); return ok }, "there is nothing to undo"},
	Redone:   {[]Phase{Entry, Play, Ended}, func(s *State, _ Event) bool { _, ok := s.Redoable(); return ok }, "there is nothing to redo"},
}

func (s *Sheet) entered(entrant int) bool { return entrant >= 1 && entrant <= len(s.Entrants) }

// distinct holds for entrants of the draw, each named once.
func (s *Sheet) distinct(entrants ...int) bool {
	seen := map[int]bool{}
	for _, e := range entrants {
		if seen[e] || !s.entered(e) || !slices.Contains(s.Order, e) {
			return false
		}
		seen[e] = true
	}
	return true
}

// pairable holds for the pairs of a Swiss round, and for a draw without any.
func (s *State) pairable(e Event) bool {
	if s.Settings.Format != Swiss {
		return len(e.Pairs) == 0 && e.Bye == 0
	}
	var all []int
	for _, p := range e.Pairs {
		all = append(all, p[0], p[1])
	}
	if e.Bye != 0 {
		all = append(all, e.Bye)
	}
	return s.distinct(all...) && s.round() < s.Rounds()
}

// recordable holds for a result that a match between two can have.
func (s *State) recordable(e Event) bool {
	m, r := s.match(e.Match), e.Result
	if m == nil || r == nil || !m.real() || !s.refieldable(e.Field) {
		return false
	}
	switch r.Outcome {
	case Open:
		return e.Type == Corrected && *r == Result{}
	case Played, Forfeit, Walkover:
	default:
		return false
	}
	winner := m.Has(r.Winner)
	if s.inBracket(m) {
		return winner
	}
	return winner || r.Winner == Nobody || r.Winner == 0
}

// refieldable holds for those who may play the bracket in place of others.
func (s *State) refieldable(field []int) bool {
	return field == nil || s.Bracket > 0 && s.Settings.Format == Pools && len(field) == len(s.Field) && s.distinct(field...)
}
