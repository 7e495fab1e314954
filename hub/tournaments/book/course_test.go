package book_test

import (
	"fmt"
	"testing"

	"fieldsign/game/tournament"
)

const code = "otter-den-42"

// course is a whole tournament as commands: eight teams in a double elimination
// with whatever a host may do. It is worked out by the rules alone, and each of
// its commands makes one event.
func course(t testing.TB) (commands []tournament.Command, end tournament.State) {
	t.Helper()
	do := func(c tournament.Command) {
		c.By, c.ID = "host", fmt.Sprint("k", len(commands))
		events, err := tournament.Decide(end, c)
		if err != nil || len(events) != 1 {
			t.Fatalf("%s made %v, %v", c.Type, events, err)
		}
		end = tournament.Apply(end, events[0])
		commands = append(commands, c)
	}
	do(tournament.Command{Type: tournament.Create, Code: code, Began: "2026-11-25T10:00:00Z", Name: "Term cup",
		Settings: tournament.Settings{Format: tournament.Double, Seed: 7}})
	for i := range 8 {
		do(tournament.Command{Type: tournament.Enter, Name: fmt.Sprint("Team ", i+1)})
	}
	do(tournament.Command{Type: tournament.Rename, Entrant: 3, Name: "Otters"})
	do(tournament.Command{Type: tournament.Reseed, Order: []int{8, 7, 6, 5, 4, 3, 2, 1}})
	do(tournament.Command{Type: tournament.Draw})
	for i := 0; i < len(end.Matches); i++ {
		m := end.Matches[i]
		if !m.Playable() {
			continue
		}
		do(tournament.Command{Type: tournament.Start, Match: m.ID, Game: fmt.Sprint("game-", m.ID)})
		record := tournament.Command{Type: tournament.Record, Match: m.ID, Outcome: tournament.Played, Home: m.ID % 3, Away: 1, Winner: m.Away.Entrant}
		do(record)
		switch i {
		case 2:
			do(tournament.Command{Type: tournament.Undo})
			do(tournament.Command{Type: tournament.Redo})
		case 5:
			do(tournament.Command{Type: tournament.Withdraw, Entrant: m.Home.Entrant})
		case 6:
			do(tournament.Command{Type: tournament.Correct, Match: m.ID, Outcome: tournament.Forfeit, Winner: m.Home.Entrant})
		}
	}
	do(tournament.Command{Type: tournament.Finish, Early: true})
	return commands, end
}
