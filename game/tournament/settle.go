package tournament

// What follows from what was recorded: who sits where in the bracket, byes, and
// the forfeits of those who have withdrawn.

// settle brings every match up to date.
func (s *Sheet) settle() {
	for i := range s.tables() {
		if m := &s.Matches[i]; !m.Done() {
			m.Result = s.automatic(m)
		}
	}
	s.settleBracket()
}

// settleBracket seats the bracket anew. A match whose sides stay the same keeps
// its result and its game; one whose sides change loses both.
func (s *Sheet) settleBracket() {
	if s.Bracket == 0 {
		return
	}
	for i := s.Bracket - 1; i < len(s.Matches); i++ {
		m := &s.Matches[i]
		home, away := s.seated(m)
		if home != m.Home.Entrant || away != m.Away.Entrant {
			m.Home.Entrant, m.Away.Entrant = home, away
			m.Result, m.Game = Result{}, ""
		}
		if m.Result.Auto || !m.Done() {
			m.Result = s.automatic(m)
		}
	}
}

// seated is who sits in a bracket's match: an entrant, Nobody, or 0 while that
// is open.
func (s *Sheet) seated(m *Match) (home, away int) {
	if m.Part == Reset {
		return s.resetSides(s.match(m.Home.From))
	}
	return s.fed(m.Home), s.fed(m.Away)
}

func (s *Sheet) fed(seat Seat) int {
	if seat.From == 0 {
		if seat.Seed > len(s.Field) {
			return Nobody
		}
		return s.Field[seat.Seed-1]
	}
	m := s.match(seat.From)
	switch {
	case !m.Done():
		return 0
	case seat.Loser:
		return m.Loser()
	}
	return m.Result.Winner
}

// resetSides has both finalists meet again if the one that had not lost before,
// the home side, has lost the final.
func (s *Sheet) resetSides(final *Match) (home, away int) {
	switch {
	case !final.Done():
		return 0, 0
	case final.Result.Winner == final.Away.Entrant && final.Home.Entrant > 0 && final.Away.Entrant > 0:
		return final.Home.Entrant, final.Away.Entrant
	}
	return Nobody, Nobody
}

// automatic is the result that a match has without anybody recording one.
func (s *Sheet) automatic(m *Match) Result {
	home, away := m.Home.Entrant, m.Away.Entrant
	switch {
	case home == 0 || away == 0:
		return Result{}
	case home == Nobody && away == Nobody:
		return Result{Outcome: Unneeded, Winner: Nobody, Auto: true}
	case home == Nobody:
		return Result{Outcome: Bye, Winner: away, Auto: true}
	case away == Nobody:
		return Result{Outcome: Bye, Winner: home, Auto: true}
	}
	switch homeIn, awayIn := s.active(home), s.active(away); {
	case homeIn && awayIn:
		return Result{}
	case homeIn:
		return Result{Outcome: Forfeit, Winner: home, Auto: true}
	case awayIn:
		return Result{Outcome: Forfeit, Winner: away, Auto: true}
	}
	return Result{Outcome: Forfeit, Winner: Nobody, Auto: true}
}
