package tournament_test

import (
	"slices"
	"strings"
	"testing"

	"fieldsign/game/tournament"
)

func (c *course) at(want ...int) {
	c.t.Helper()
	if !slices.Equal(c.s.At, want) {
		c.t.Fatalf("at the boards are the matches %v, want %v", c.s.At, want)
	}
}

func (c *course) start(match int) {
	c.t.Helper()
	c.do(tournament.Command{Type: tournament.Start, Match: match, Game: "elk-" + string('a'+rune(match))})
}

// Two boards share a double elimination of four: a match stays at the board that it
// was called to, although one with a lower number gets ready.
func TestBoardsAreGivenMatches(t *testing.T) {
	c := entered(t, 4, tournament.Settings{Format: tournament.Double})
	c.refused(tournament.Command{Type: tournament.Boards}, "bad_settings")
	c.refused(tournament.Command{Type: tournament.Boards, Boards: tournament.MaxBoards + 1}, "bad_settings")
	c.do(tournament.Command{Type: tournament.Boards, Boards: 2})
	c.do(tournament.Command{Type: tournament.Draw})
	c.at(1, 2)
	c.start(2)
	c.start(1)
	c.at(1, 2)
	c.record(2, 3, 1)
	c.at(1, 0) // both that follow wait for the first
	c.record(1, 1, 2)
	c.at(3, 4)
	c.start(3)
	c.record(3, 2, 1)
	c.at(0, 4)
	c.do(tournament.Command{Type: tournament.Undo})
	c.at(3, 4)
	if c.s.Board(4) != 2 || c.s.Board(5) != 0 {
		t.Errorf("the fourth match is at board %d", c.s.Board(4))
	}
}

// A match that is started before its turn takes the board of one that only waits;
// where all are played at, it has none.
func TestAMatchBeforeItsTurn(t *testing.T) {
	c := drawn(t, 6, tournament.Settings{Format: tournament.RoundRobin}) // 1–6, 2–5, 3–4, then 6–4, 5–3, 1–2
	c.at(1)
	c.start(6)
	c.at(6)
	c.start(3)
	c.at(6, 3)
	if c.s.Board(3) != 0 {
		t.Errorf("at one board, another match is at board %d", c.s.Board(3))
	}
	c.record(6, 2, 1)
	c.at(1, 3)
	c.do(tournament.Command{Type: tournament.Boards, Boards: 3})
	c.at(1, 3, 2)
	c.do(tournament.Command{Type: tournament.Boards, Boards: 1})
	c.at(1, 3)
	c.record(3, 2, 1)
	c.at(1)
	if got := c.s.Ready(); !slices.Equal(got, []int{1, 2}) {
		t.Errorf("ready are %v", got)
	}
}

var secrets = []string{strings.Repeat("a", 64), strings.Repeat("b", 64)}

// A phone keeps its seat whatever the host takes back, and gives it to no other.
func TestPhonesOfEntrants(t *testing.T) {
	c := entered(t, 3, tournament.Settings{Format: tournament.Single})
	sit := func(entrant int, secret string) tournament.Command {
		return tournament.Command{Type: tournament.Sit, By: "phone", Entrant: entrant, Secret: secret}
	}
	c.do(sit(1, secrets[0]))
	c.refused(sit(1, secrets[1]), "seat_taken")
	c.refused(sit(4, secrets[1]), "unknown_entrant")
	c.refused(sit(2, "short"), "bad_command")
	if e := c.do(sit(1, secrets[0])); e.Type != "" {
		t.Errorf("the same phone sat down twice: %+v", e)
	}
	c.do(sit(3, secrets[1]))
	c.do(tournament.Command{Type: tournament.Undo}) // the third entrant, not the phones
	if len(c.s.Entrants) != 2 || len(c.s.Phones) != 1 {
		t.Errorf("after undo there are %d entrants and phones %v", len(c.s.Entrants), c.s.Phones)
	}
	c.do(tournament.Command{Type: tournament.Stand, By: "phone", Entrant: 1, Secret: secrets[1]})
	if len(c.s.Phones) != 1 {
		t.Error("another phone has freed a seat")
	}
	c.do(tournament.Command{Type: tournament.Redo})
	before := c.s.Phones[1].Seq
	c.do(tournament.Command{Type: tournament.Stand, Entrant: 1})
	c.do(sit(1, secrets[0]))
	if c.s.Phones[1].Seq == before {
		t.Error("a phone that sat down again can't be told from the one before")
	}
	c.do(tournament.Command{Type: tournament.Draw})
	c.do(tournament.Command{Type: tournament.Finish, Early: true})
	c.do(sit(2, secrets[1])) // to see how it ended
	c.replays()
}

// A phone that sits down and stands up again and again fills a tournament's log up to a
// bound. Then the seat is taken until the host frees it, and nobody is kept out.
func TestSeatsChangeOnlySoOften(t *testing.T) {
	c := entered(t, 2, tournament.Settings{Format: tournament.Single})
	sit := tournament.Command{Type: tournament.Sit, By: "phone", Entrant: 1, Secret: secrets[0]}
	stand := tournament.Command{Type: tournament.Stand, By: "phone", Entrant: 1, Secret: secrets[0]}
	for range 2 {
		for n := 0; ; n++ {
			c.do(sit)
			if _, err := c.try(stand); err != nil {
				break
			}
			if n > 100 {
				t.Fatal("a phone sits down as often as it likes")
			}
		}
		c.refused(stand, "seat_taken")
		c.do(tournament.Command{Type: tournament.Stand, Entrant: 1})
	}
	c.do(tournament.Command{Type: tournament.Sit, By: "phone", Entrant: 2, Secret: secrets[0]})
	c.do(tournament.Command{Type: tournament.Stand, By: "phone", Entrant: 2, Secret: secrets[0]})
	c.replays()
}
