package tournament

import "slices"

// Apply is the state after an event. It takes s over: use the result instead.
func Apply(s State, e Event) State {
	s.Seq = e.Seq
	s.Applied = s.Applied.With(e.By, e.Cmd, remembered)
	switch last := len(s.past) - 1; e.Type {
	case Undone:
		s.future = append(s.future, s.past[last])
		s.past = s.past[:last]
		s.Sheet = sheetOf(s.past)
		s.dropPhones()
	case Redone:
		next := s.future[len(s.future)-1]
		s.future = s.future[:len(s.future)-1]
		s.past = append(s.past, next)
		s.Sheet.apply(next)
	case Seated, Freed:
		s.moveIn(e)
	default:
		s.past, s.future = append(s.past, e), nil
		s.Sheet.apply(e)
	}
	return s
}

// Replay is the state after a whole log.
func Replay(log []Event) State {
	var s State
	for _, e := range log {
		s = Apply(s, e)
	}
	return s
}

func sheetOf(events []Event) Sheet {
	var s Sheet
	for _, e := range events {
		s.apply(e)
	}
	return s
}

func (s *Sheet) apply(e Event) {
	switch e.Type {
	case Created:
		s.Phase, s.Code, s.Began, s.Name, s.Settings = Entry, e.Code, e.Began, e.Name, *e.Settings
	case Entered:
		s.Entrants = append(s.Entrants, Entrant{Name: e.Name})
		s.Order = append(slices.Clone(s.Order), e.Entrant)
	case Renamed:
		s.Entrants[e.Entrant-1].Name = e.Name
	case Withdrew:
		s.withdrew(e.Entrant)
	case Reseeded:
		s.Order = e.Order
	case Drawn:
		s.drawn(e)
	case Paired:
		s.paired(e.Pairs, e.Bye)
	case Advanced:
		s.Field = e.Order
		s.addBracket(s.Settings.Then)
	case Started:
		m := &s.Matches[e.Match-1]
		m.Game = e.Game
		s.takeBoard(m)
	case Recorded, Corrected:
		s.recorded(e)
	case Settled:
		s.PlayOffs = append(s.PlayOffs, e.Order)
		s.refield(e.Field)
	case Finished:
		s.Phase = Ended
	case Arranged:
		s.Boards = e.Boards
	}
	if e.Type != Recorded {
		s.first = 0
	}
	s.callUp()
}

func (s *Sheet) withdrew(entrant int) {
	s.Entrants[entrant-1].Withdrawn = true
	if s.Phase == Entry {
		s.Order = slices.DeleteFunc(slices.Clone(s.Order), func(e int) bool { return e == entrant })
		return
	}
	s.settle()
}

func (s *Sheet) drawn(e Event) {
	s.Phase, s.Order = Play, e.Order
	switch s.Settings.Format {
	case RoundRobin:
		s.addPools([][]int{s.Order}, Table)
	case Pools:
		s.addPools(s.pooled(), Pool)
	case Swiss:
		s.paired(e.Pairs, e.Bye)
	default:
		s.Field = s.Order
		s.addBracket(s.Settings.Format)
	}
}

func (s *Sheet) paired(pairs [][2]int, bye int) {
	round := s.round() + 1
	add := func(home, away int, r Result) {
		s.Matches = append(s.Matches, Match{ID: len(s.Matches) + 1, Part: Round, Round: round,
			Home: Seat{Entrant: home}, Away: Seat{Entrant: away}, Result: r})
	}
	for _, p := range pairs {
		add(p[0], p[1], Result{})
	}
	if bye > 0 {
		add(bye, Nobody, Result{Outcome: Bye, Winner: bye, Auto: true})
	}
}

func (s *Sheet) recorded(e Event) {
	m := &s.Matches[e.Match-1]
	m.Result = *e.Result
	if e.Type == Corrected && !m.Done() {
		m.Game = ""
	}
	s.refield(e.Field)
	if s.inBracket(m) {
		s.settleBracket()
	} else if !m.Done() {
		s.settle()
	}
}

// refield puts other entrants into the bracket after the pools, if there are any.
func (s *Sheet) refield(field []int) {
	if field != nil {
		s.Field = field
		s.settleBracket()
	}
}
