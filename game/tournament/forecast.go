package tournament

// Forecast is what is still to be played.
type Forecast struct {
	Matches int `json:"matches"` // without a second final, which may not be needed
	Most    int `json:"most"`    // with it
	Waves   int `json:"waves"`   // how often the boards are filled anew
	Minutes int `json:"minutes"`
}

// Remaining reckons what is left, with so many boards in use at a time and so
// many minutes from one start on a board to the next. Rounds that are not drawn
// yet are reckoned as if nobody withdrew.
func (s *Sheet) Remaining(boards, minutes int) Forecast {
	boards = max(boards, 1)
	var f Forecast
	f.add(s.Matches, boards)
	switch {
	case s.Phase != Play:
		return Forecast{}
	case s.Settings.Format == Swiss:
		left, pairs := max(s.Rounds()-s.round(), 0), s.playing(s.Order)/2
		f.Matches += left * pairs
		f.Waves += left * ((pairs + boards - 1) / boards)
	case s.Settings.Format == Pools && s.Bracket == 0:
		n := 0
		for _, members := range s.pooled() {
			n += min(s.Settings.Advance, s.playing(members))
		}
		if n >= MinEntrants {
			f.add(hypothetical(n, s.Settings), boards)
		}
	}
	f.Most = f.Matches
	if s.Settings.Format == Double || s.Settings.Format == Pools && s.Settings.Then == Double {
		f.Most += s.resetOpen()
	}
	f.Minutes = f.Waves * max(minutes, 0)
	return f
}

// resetOpen is 1 while a second final may still be played.
func (s *Sheet) resetOpen() int {
	if s.Bracket > 0 && s.Matches[len(s.Matches)-1].Done() {
		return 0
	}
	return 1
}

// hypothetical is the bracket that n who go on would play, byes already passed.
func hypothetical(n int, t Settings) []Match {
	s := Sheet{Entrants: make([]Entrant, n), Settings: t}
	for i := range n {
		s.Field = append(s.Field, i+1)
	}
	s.addBracket(t.Then)
	return s.Matches
}

// add plays the open matches of a sheet in its order, as many at a time as
// there are boards: a match waits for what feeds it, and nobody plays twice in
// a wave.
func (f *Forecast) add(matches []Match, boards int) {
	first := 0
	if len(matches) > 0 {
		first = matches[0].ID
	}
	wave := make([]int, len(matches)) // in which each is played; -1: not yet
	left := 0
	for i := range matches {
		if !matches[i].Done() && matches[i].Part != Reset {
			wave[i] = -1
			left++
		}
	}
	f.Matches += left
	from := 0
	for n := 1; left > 0; n++ {
		for from < len(matches) && wave[from] >= 0 {
			from++
		}
		left -= fill(matches[from:], wave, from, first, n, boards)
		f.Waves++
	}
}

// fill plays one wave and says how many matches that were.
func fill(matches []Match, wave []int, from, first, n, boards int) int {
	busy := map[int]bool{}
	ready := func(seat Seat) bool {
		if seat.From > 0 && seat.From >= first {
			w := wave[seat.From-first]
			return w >= 0 && w < n
		}
		return true
	}
	played := 0
	for i := range matches {
		m := &matches[i]
		if played == boards {
			break
		}
		home, away := m.Home.Entrant, m.Away.Entrant
		if wave[from+i] >= 0 || !ready(m.Home) || !ready(m.Away) || busy[home] || busy[away] {
			continue
		}
		if home > 0 {
			busy[home] = true
		}
		if away > 0 {
			busy[away] = true
		}
		wave[from+i] = n
		played++
	}
	return played
}
