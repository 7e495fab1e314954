package tournament

import (
	"fmt"
	"slices"

	"fieldsign/refusal"
)

// The boards that a tournament is played at, and the phones that play for its
// entrants.

// MaxBoards is as many as could be in use at once.
const MaxBoards = MaxEntrants / 2

// InUse is how many boards there are.
func (s *Sheet) InUse() int { return max(1, s.Boards) }

// Board is where a match is called to or played, counted from 1, or 0.
func (s *Sheet) Board(match int) int {
	if i := slices.Index(s.At, match); i < s.InUse() {
		return i + 1
	}
	return 0
}

// callUp brings the boards up to date: each that is free gets the next match that
// is ready, which then stays there.
func (s *Sheet) callUp() {
	if s.Phase != Play {
		return
	}
	for len(s.At) < s.InUse() {
		s.At = append(s.At, 0)
	}
	for i, id := range s.At {
		m := s.match(id)
		if m != nil && (!m.Playable() || i >= s.InUse() && !m.Running()) {
			s.At[i] = 0
		}
	}
	for len(s.At) > s.InUse() && s.At[len(s.At)-1] == 0 {
		s.At = s.At[:len(s.At)-1]
	}
	for i := range s.InUse() {
		if s.At[i] == 0 {
			s.At[i] = s.nextUp()
		}
	}
}

// nextUp is the first match that nobody has called and whose sides are free, or 0.
func (s *Sheet) nextUp() int {
	for s.first < len(s.Matches) && s.Matches[s.first].Done() {
		s.first++
	}
	for i := s.first; i < len(s.Matches); i++ {
		m := &s.Matches[i]
		if m.Playable() && !slices.ContainsFunc(s.At, func(id int) bool { return id == m.ID || s.meets(m, id) }) {
			return m.ID
		}
	}
	return 0
}

// meets tells whether a match shares a side with another.
func (s *Sheet) meets(m *Match, other int) bool {
	o := s.match(other)
	return o != nil && (o.Has(m.Home.Entrant) || o.Has(m.Away.Entrant))
}

// takeBoard has a match that is started at a board: its own, or that of a match
// which is only called, first of all one whose sides it needs. Where all boards are
// played at, it stands behind them.
func (s *Sheet) takeBoard(m *Match) {
	waits := func(id int) bool { return id == 0 || !s.match(id).Running() }
	i := slices.Index(s.At, m.ID)
	if i < 0 {
		i = slices.IndexFunc(s.At, func(id int) bool { return s.meets(m, id) && waits(id) })
	}
	if i < 0 {
		i = slices.IndexFunc(s.At, waits)
	}
	if i < 0 {
		i, s.At = len(s.At), append(s.At, 0)
	}
	s.At[i] = m.ID
	for k, id := range s.At {
		if k != i && s.meets(m, id) && waits(id) {
			s.At[k] = 0
		}
	}
}

func (s *State) arrange(c Command) ([]Event, error) {
	switch {
	case c.Boards < 1 || c.Boards > MaxBoards:
		return refuse(refusal.BadSettings, fmt.Sprintf("There are 1 to %d boards, not %d.", MaxBoards, c.Boards))
	case c.Boards == s.InUse():
		return nil, nil
	}
	return []Event{{Type: Arranged, Boards: c.Boards}}, nil
}

// Phone is what plays for an entrant: the hash of its token, and the event by which
// it sat down, which tells it from the one before.
type Phone struct {
	Seq    uint64 `json:"seq"`
	Secret string `json:"secret"`
}

// sit has a phone play for an entrant that has none yet.
func (s *State) sit(c Command) ([]Event, error) {
	switch held, taken := s.Phones[c.Entrant]; {
	case !s.active(c.Entrant):
		return unknownEntrant()
	case len(c.Secret) != secretLength:
		return refuse(refusal.BadCommand, "A phone is known by the hash of its token.")
	case taken && held.Secret == c.Secret:
		return nil, nil
	case taken:
		return refuse(refusal.SeatTaken, "Another phone plays for this team. Is it not one of yours? Ask the host to free the seat.")
	}
	return []Event{{Type: Seated, Entrant: c.Entrant, Secret: c.Secret}}, nil
}

// maxSat is how often phones sit down for an entrant before the host is asked: no
// evening comes near it, and a phone that comes back does not sit down anew.
const maxSat = 32

// stand frees an entrant's seat: a phone its own, the host any. The last phone within
// the bound keeps its seat, so that the host sees whose seat to free.
func (s *State) stand(c Command) ([]Event, error) {
	switch held, taken := s.Phones[c.Entrant]; {
	case !taken || c.Secret != "" && held.Secret != c.Secret:
		return nil, nil // it is free, or another's already
	case c.Secret != "" && s.Sat[c.Entrant] >= maxSat:
		return refuse(refusal.SeatTaken, "This team has changed its phone very often. Ask the host to free the seat.")
	}
	return []Event{{Type: Freed, Entrant: c.Entrant}}, nil
}

// moveIn applies what phones do. It is no part of what undo takes back.
func (s *State) moveIn(e Event) {
	if e.Type == Freed {
		delete(s.Phones, e.Entrant)
		if e.By == "host" {
			delete(s.Sat, e.Entrant)
		}
		return
	}
	if s.Phones == nil {
		s.Phones, s.Sat = map[int]Phone{}, map[int]int{}
	}
	s.Phones[e.Entrant] = Phone{e.Seq, e.Secret}
	s.Sat[e.Entrant]++
}

// dropPhones lets go of the phones of entrants that undo has taken out.
func (s *State) dropPhones() {
	for entrant := range s.Sat {
		if !s.entered(entrant) {
			delete(s.Phones, entrant)
			delete(s.Sat, entrant)
		}
	}
}
