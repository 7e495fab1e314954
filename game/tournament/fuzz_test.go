package tournament_test

import (
	"testing"

	"fieldsign/game/tournament"
)

var kinds = []string{tournament.Record, tournament.Correct, tournament.Withdraw, tournament.Next, tournament.Undo, tournament.Redo,
	tournament.Start, tournament.Enter, tournament.Rename, tournament.Reseed, tournament.Draw, tournament.SettleTie, tournament.Finish,
	tournament.Create, "", tournament.Boards, tournament.Sit, tournament.Stand}

var outcomes = []tournament.Outcome{tournament.Played, tournament.Forfeit, tournament.Walkover, tournament.Open, tournament.Bye, "x"}

const longest = 80 // commands in a fuzzed course

// FuzzDecide reads bytes as a course: the format, the number of entrants and
// the options, then commands.
func FuzzDecide(f *testing.F) {
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		r := reader{data}
		c := &course{t: t}
		n := 2 + int(r.next())%15
		c.try(tournament.Command{Type: tournament.Create, Name: "Cup", Settings: r.settings()})
		for i := range n {
			c.try(tournament.Command{Type: tournament.Enter, Name: "Team " + string('A'+rune(i))})
		}
		c.try(tournament.Command{Type: tournament.Draw})
		for i := 0; len(r.data) > 0 && i < longest; i++ {
			c.step(r.command(&c.s))
		}
		c.toTheEnd()
		c.promises()
		c.replays()
	})
}

// reader takes commands from bytes; past their end all bytes are zero.
type reader struct{ data []byte }

func (r *reader) next() byte {
	if len(r.data) == 0 {
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return b
}

// settings are a byte for the format and one for each option, of which some
// can't be.
func (r *reader) settings() tournament.Settings {
	s := tournament.Settings{Format: formats[int(r.next())%len(formats)], Then: formats[int(r.next())%len(formats)]}
	flags := r.next()
	s.Lots, s.Twice, s.Third, s.Seed = flags&1 > 0, flags&2 > 0, flags&4 > 0, uint64(flags)
	s.Rounds, s.Pools, s.Advance = int(r.next())%20, int(r.next())%8, int(r.next())%6
	return s
}

// command is a kind, a flag, and what the kind needs. Bits 0 to 2 of the flag
// say which outcome, bits 3 and 4 who wins, bit 7 gives the command an id.
func (r *reader) command(s *tournament.State) tournament.Command {
	c := tournament.Command{Type: kinds[int(r.next())%len(kinds)]}
	flag := r.next()
	c.Match, c.Entrant = int(r.next()), int(flag)%20
	c.Outcome = outcomes[int(flag&7)%len(outcomes)]
	c.Early, c.Game, c.Name = flag == 255, string('a'+rune(flag&3)), string('A'+rune(flag%30))
	if flag&0x80 != 0 {
		c.ID = string('a' + rune(flag&3))
	}
	c.Boards, c.Secret = int(flag)%5, secrets[flag&1]
	switch c.Type {
	case tournament.Record, tournament.Correct:
		c.Home, c.Away = int(r.next())-8, int(r.next())-8
		if c.Match >= 1 && c.Match <= len(s.Matches) {
			m := s.Matches[c.Match-1]
			c.Winner = []int{m.Home.Entrant, m.Away.Entrant, 0, -1}[flag>>3&3]
		}
	case tournament.Reseed:
		for i := range s.Order {
			c.Order = append(c.Order, s.Order[(i+int(flag))%len(s.Order)])
		}
	case tournament.SettleTie:
		if level := s.Level(); len(level) > 0 {
			c.Order = level[int(flag)%len(level)]
		}
	}
	return c
}
