package tournament_test

import (
	"fmt"
	"testing"

	"fieldsign/game/tournament"
)

const full = tournament.MaxEntrants

// upsets has the higher number win now and then, so that score groups mix.
func upsets(home, away int) (int, int) {
	if (home*31+away*17)%5 == 0 {
		home, away = away, home
	}
	return lowerWins(home, away)
}

// BenchmarkSwissRound pairs 256 entrants, and 24 in a late round, where whom
// one has met leaves little choice.
func BenchmarkSwissRound(b *testing.B) {
	for _, size := range []struct{ n, rounds int }{{full, 9}, {full - 1, 9}, {24, 20}, {64, 50}} {
		b.Run(fmt.Sprintf("%d entrants, round %d", size.n, size.rounds), func(b *testing.B) {
			c := drawn(b, size.n, tournament.Settings{Format: tournament.Swiss, Rounds: size.rounds})
			for range size.rounds - 2 {
				c.playAll(upsets)
				c.do(tournament.Command{Type: tournament.Next})
			}
			c.playAll(upsets)
			for b.Loop() {
				if _, err := tournament.Decide(c.s, tournament.Command{Type: tournament.Next}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkRecord records and undoes a result of a tournament that is half
// played.
func BenchmarkRecord(b *testing.B) {
	for _, format := range []tournament.Format{tournament.RoundRobin, tournament.Double} {
		c := drawn(b, full, tournament.Settings{Format: format})
		for half := len(c.s.Matches) / 2; half > 0; half-- {
			for i := range c.s.Matches {
				if m := c.s.Matches[i]; m.Playable() {
					home, away := upsets(m.Home.Entrant, m.Away.Entrant)
					c.s = applied(b, c.s, tournament.Command{Type: tournament.Record, Match: m.ID, Outcome: tournament.Played, Home: home, Away: away})
					if half--; half == 0 {
						break
					}
				}
			}
		}
		next := tournament.Command{Type: tournament.Record, Match: c.s.Ready()[0], Outcome: tournament.Played, Home: 1}
		b.Run(string(format)+"/record and undo", func(b *testing.B) {
			for b.Loop() {
				c.s = applied(b, c.s, next)
				c.s = applied(b, c.s, tournament.Command{Type: tournament.Undo})
			}
		})
		b.Run(string(format)+"/record alone", func(b *testing.B) {
			for b.Loop() {
				if _, err := tournament.Decide(c.s, next); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(string(format)+"/standings", func(b *testing.B) {
			for b.Loop() {
				c.s.Standings()
			}
		})
		b.Run(string(format)+"/forecast", func(b *testing.B) {
			for b.Loop() {
				c.s.Remaining(8, 10)
			}
		})
	}
}

func applied(b *testing.B, s tournament.State, c tournament.Command) tournament.State {
	events, err := tournament.Decide(s, c)
	if err != nil {
		b.Fatal(err)
	}
	for _, e := range events {
		s = tournament.Apply(s, e)
	}
	return s
}
