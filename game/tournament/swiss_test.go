package tournament_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/game/tournament"
)

// Eight teams of which the lower number always wins: worked out by hand, not
// published.
func TestSwissOfEight(t *testing.T) {
	c := drawn(t, 8, tournament.Settings{Format: tournament.Swiss})
	var rounds []string
	for {
		var pairs []string
		for _, id := range c.s.Ready() {
			m := c.s.Matches[id-1]
			pairs = append(pairs, fmt.Sprintf("%d-%d", m.Home.Entrant, m.Away.Entrant))
		}
		rounds = append(rounds, strings.Join(pairs, " "))
		c.playAll(lowerWins)
		if _, err := c.try(tournament.Command{Type: tournament.Next}); err != nil {
			break
		}
	}
	if got, want := strings.Join(rounds, " | "), "1-5 2-6 3-7 4-8 | 1-3 2-4 5-7 6-8 | 1-2 3-5 4-6 7-8"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	var points []float64
	for _, row := range c.s.Standings() {
		points = append(points, row.Points)
	}
	if want := []float64{3, 2, 2, 2, 1, 1, 1, 0}; !slices.Equal(points, want) {
		t.Errorf("points %v, want %v", points, want)
	}
	if c.s.Champion() != 1 {
		t.Errorf("the champion is %d", c.s.Champion())
	}
}

// Whatever is played, no pairing is repeated while one without repeat exists,
// and where none does, repeats are as few as can be; nobody has a second bye
// while another has had none.
func TestSwissRepeatsNoPairing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 9).Draw(t, "entrants")
		most := n - 1 + n%2
		c := entered(t, n, tournament.Settings{Format: tournament.Swiss, Rounds: rapid.IntRange(1, most).Draw(t, "rounds")})
		c.do(tournament.Command{Type: tournament.Draw})
		for {
			rapidRound(t, c)
			before := c.s.Clone()
			e, err := c.try(tournament.Command{Type: tournament.Next})
			if err != nil {
				return
			}
			checkPairing(t, &before.Sheet, e)
		}
	})
}

func rapidRound(t *rapid.T, c *course) {
	if rapid.IntRange(0, 9).Draw(t, "withdraw") == 7 {
		c.try(tournament.Command{Type: tournament.Withdraw, Entrant: rapid.IntRange(1, len(c.s.Entrants)).Draw(t, "who")})
	}
	for _, id := range c.s.Ready() {
		if rapid.IntRange(0, 9).Draw(t, "walkover") == 7 {
			c.do(tournament.Command{Type: tournament.Record, Match: id, Outcome: tournament.Walkover, Winner: c.s.Matches[id-1].Home.Entrant})
			continue
		}
		c.record(id, rapid.IntRange(0, 2).Draw(t, "home"), rapid.IntRange(0, 2).Draw(t, "away"))
	}
}

// checkPairing compares a round with what trying every pairing shows.
func checkPairing(t tester, before *tournament.Sheet, e tournament.Event) {
	t.Helper()
	met, rested := map[[2]int]bool{}, map[int]int{}
	for i := range before.Matches {
		m := &before.Matches[i]
		met[[2]int{m.Home.Entrant, m.Away.Entrant}], met[[2]int{m.Away.Entrant, m.Home.Entrant}] = true, true
		switch {
		case m.Result.Outcome == tournament.Bye:
			rested[m.Result.Winner] += 1000
		case m.Result.Outcome != tournament.Played && m.Result.Winner > 0:
			rested[m.Result.Winner]++
		}
	}
	var active []int
	for i, entrant := range before.Entrants {
		if !entrant.Withdrawn {
			active = append(active, i+1)
		}
	}
	repeats, paired := 0, map[int]bool{}
	for _, p := range e.Pairs {
		if met[p] {
			repeats++
		}
		paired[p[0]], paired[p[1]] = true, true
	}
	fewest := len(active)
	if len(active)%2 == 0 {
		fewest = fewestRepeats(active, met)
	} else {
		least := rested[slices.MinFunc(active, func(a, b int) int { return rested[a] - rested[b] })]
		if paired[e.Bye] || rested[e.Bye] > least {
			t.Fatalf("the bye went to %d, who has rested %d; another %d", e.Bye, rested[e.Bye], least)
		}
		paired[e.Bye] = true
		for i, b := range active {
			if rested[b] == least {
				fewest = min(fewest, fewestRepeats(slices.Delete(slices.Clone(active), i, i+1), met))
			}
		}
	}
	if len(paired) != len(active) || repeats != fewest {
		t.Fatalf("%v with a bye for %d has %d repeats where %d would do", e.Pairs, e.Bye, repeats, fewest)
	}
}

func fewestRepeats(rest []int, met map[[2]int]bool) int {
	if len(rest) == 0 {
		return 0
	}
	fewest := len(rest)
	for i := 1; i < len(rest); i++ {
		n := fewestRepeats(slices.Delete(slices.Clone(rest[1:]), i-1, i), met)
		if met[[2]int{rest[0], rest[i]}] {
			n++
		}
		fewest = min(fewest, n)
	}
	return fewest
}

// To the last round that there can be, whatever the results.
func TestSwissToTheLastRound(t *testing.T) {
	for n := 3; n <= 8; n++ {
		for way := range 25 {
			c := drawn(t, n, tournament.Settings{Format: tournament.Swiss, Rounds: n - 1 + n%2})
			for {
				c.playAll(func(home, away int) (int, int) { return (home*way + away) % 7, (away*way + home) % 5 })
				before := c.s.Clone()
				e, err := c.try(tournament.Command{Type: tournament.Next})
				if err != nil {
					break
				}
				checkPairing(t, &before.Sheet, e)
			}
		}
	}
}

// No pair meets twice in half as many rounds as there are entrants, with more of
// them than can be checked by trying all pairings.
func TestLongSwiss(t *testing.T) {
	for _, n := range []int{12, 15, 24} {
		c := drawn(t, n, tournament.Settings{Format: tournament.Swiss, Rounds: n / 2})
		met := map[[2]int]int{}
		for {
			c.playAll(lowerWins)
			if _, err := c.try(tournament.Command{Type: tournament.Next}); err != nil {
				break
			}
		}
		for _, m := range c.s.Matches {
			a, b := m.Home.Entrant, m.Away.Entrant
			if met[[2]int{min(a, b), max(a, b)}]++; met[[2]int{min(a, b), max(a, b)}] > 1 {
				t.Errorf("%d entrants: %d and %d met twice within %d rounds", n, a, b, n/2)
			}
		}
	}
}
