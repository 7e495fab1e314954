package tournament_test

import (
	"fmt"
	"strings"
	"testing"

	"fieldsign/game/tournament"
)

// The Berger tables, as printed at c.w.fox.tripod.com/chess/berger.html (opened;
// FIDE's own annex was not).
var berger = map[int]string{
	4: `1-4 2-3 | 4-3 1-2 | 2-4 3-1`,
	6: `1-6 2-5 3-4 | 6-4 5-3 1-2 | 2-6 3-1 4-5 | 6-5 1-4 2-3 | 3-6 4-2 5-1`,
	8: `1-8 2-7 3-6 4-5 | 8-5 6-4 7-3 1-2 | 2-8 3-1 4-7 5-6 | 8-6 7-5 1-4 2-3 |
		3-8 4-2 5-1 6-7 | 8-7 1-6 2-5 3-4 | 4-8 5-3 6-2 7-1`,
	10: `1-10 2-9 3-8 4-7 5-6 | 10-6 7-5 8-4 9-3 1-2 | 2-10 3-1 4-9 5-8 6-7 | 10-7 8-6 9-5 1-4 2-3 |
		3-10 4-2 5-1 6-9 7-8 | 10-8 9-7 1-6 2-5 3-4 | 4-10 5-3 6-2 7-1 8-9 | 10-9 1-8 2-7 3-6 4-5 |
		5-10 6-4 7-3 8-2 9-1`,
	12: `1-12 2-11 3-10 4-9 5-8 6-7 | 12-7 8-6 9-5 10-4 11-3 1-2 | 2-12 3-1 4-11 5-10 6-9 7-8 |
		12-8 9-7 10-6 11-5 1-4 2-3 | 3-12 4-2 5-1 6-11 7-10 8-9 | 12-9 10-8 11-7 1-6 2-5 3-4 |
		4-12 5-3 6-2 7-1 8-11 9-10 | 12-10 11-9 1-8 2-7 3-6 4-5 | 5-12 6-4 7-3 8-2 9-1 10-11 |
		12-11 1-10 2-9 3-8 4-7 5-6 | 6-12 7-5 8-4 9-3 10-2 11-1`,
}

func schedule(rounds [][][2]int) string {
	var lines []string
	for _, r := range rounds {
		var pairs []string
		for _, p := range r {
			pairs = append(pairs, fmt.Sprintf("%d-%d", p[0], p[1]))
		}
		lines = append(lines, strings.Join(pairs, " "))
	}
	return strings.Join(lines, " | ")
}

func TestBergerTables(t *testing.T) {
	for n, want := range berger {
		want = strings.Join(strings.Fields(want), " ")
		if got := schedule(tournament.Berger(n, false)); got != want {
			t.Errorf("%d entrants:\n%s\nwant\n%s", n, got, want)
		}
	}
	if got, want := schedule(tournament.Berger(3, false)), "2-3 | 1-2 | 3-1"; got != want {
		t.Errorf("3 entrants: %s, want %s", got, want)
	}
	if got, want := schedule(tournament.Berger(4, true)), "1-4 2-3 | 2-4 3-1 | 4-3 1-2 | 4-1 3-2 | 3-4 2-1 | 4-2 1-3"; got != want {
		t.Errorf("4 entrants twice: %s, want %s", got, want)
	}
}

// Every number of entrants has each pair once, and nobody twice in a round.
func TestBergerIsComplete(t *testing.T) {
	for n := 2; n <= tournament.MaxEntrants; n++ {
		met := map[[2]int]int{}
		for _, round := range tournament.Berger(n, false) {
			busy := map[int]bool{}
			for _, p := range round {
				if busy[p[0]] || busy[p[1]] || p[0] == p[1] || max(p[0], p[1]) > n {
					t.Fatalf("%d entrants: %v", n, round)
				}
				busy[p[0]], busy[p[1]] = true, true
				met[[2]int{min(p[0], p[1]), max(p[0], p[1])}]++
			}
		}
		if len(met) != n*(n-1)/2 {
			t.Fatalf("%d entrants have %d pairs", n, len(met))
		}
	}
}

// The standard seeding orders: recalled, and computed by the rule that s meets
// 2n+1-s.
func TestSeeding(t *testing.T) {
	for size, want := range map[int]string{
		4:  "1 4 2 3",
		8:  "1 8 4 5 2 7 3 6",
		16: "1 16 8 9 4 13 5 12 2 15 7 10 3 14 6 11",
		32: "1 32 16 17 8 25 9 24 4 29 13 20 5 28 12 21 2 31 15 18 7 26 10 23 3 30 14 19 6 27 11 22",
		64: "1 64 32 33 16 49 17 48 8 57 25 40 9 56 24 41 4 61 29 36 13 52 20 45 5 60 28 37 12 53 21 44 " +
			"2 63 31 34 15 50 18 47 7 58 26 39 10 55 23 42 3 62 30 35 14 51 19 46 6 59 27 38 11 54 22 43",
	} {
		if got := strings.Trim(fmt.Sprint(tournament.Seeding(size)), "[]"); got != want {
			t.Errorf("size %d: %s, want %s", size, got, want)
		}
	}
	for size := 2; size <= tournament.MaxEntrants; size *= 2 {
		order := tournament.Seeding(size)
		for i := 0; i < size; i += 2 {
			if order[i]+order[i+1] != size+1 {
				t.Errorf("size %d: %d meets %d", size, order[i], order[i+1])
			}
		}
	}
}

// Byes go to the top seeds, for every number of entrants.
func TestByesGoToTheTop(t *testing.T) {
	for n := 2; n <= 40; n++ {
		c := drawn(t, n, tournament.Settings{Format: tournament.Single})
		size := len(c.s.Matches) + 1
		byes := 0
		for _, m := range c.s.Matches {
			if m.Result.Outcome == tournament.Bye {
				byes++
				if m.Result.Winner > size-n {
					t.Errorf("%d entrants: seed %d has a bye", n, m.Result.Winner)
				}
			}
		}
		if byes != size-n {
			t.Errorf("%d entrants: %d byes, want %d", n, byes, size-n)
		}
	}
}

// An eight-team double elimination is the one that design papers show: main
// part A to G, the losers crossed in the second round of the second chance.
func TestDoubleOfEight(t *testing.T) {
	c := drawn(t, 8, tournament.Settings{Format: tournament.Double})
	want := []string{
		"1 winners 1: s1 s8", "2 winners 1: s4 s5", "3 winners 1: s2 s7", "4 winners 1: s3 s6",
		"5 winners 2: w1 w2", "6 winners 2: w3 w4",
		"7 losers 1: l1 l2", "8 losers 1: l3 l4",
		"9 losers 2: w7 l6", "10 losers 2: w8 l5",
		"11 winners 3: w5 w6", "12 losers 3: w9 w10", "13 losers 4: w12 l11",
		"14 final 1: w11 w13", "15 reset 1: l14 w14",
	}
	for i, m := range c.s.Matches {
		got := fmt.Sprintf("%d %s %d: %s %s", m.ID, m.Part, m.Round, feed(m.Home), feed(m.Away))
		if i >= len(want) || got != want[i] {
			t.Errorf("match %s", got)
		}
	}
}

// Thirty-two teams: the losers of the second main round fall in reversed order,
// those of the third with the halves exchanged.
func TestCrossing(t *testing.T) {
	c := drawn(t, 32, tournament.Settings{Format: tournament.Double})
	fallen := map[int][]int{}
	for _, m := range c.s.Matches {
		if from := m.Away.From; m.Part == tournament.Losers && m.Round%2 == 0 {
			fallen[m.Round] = append(fallen[m.Round], from)
		}
	}
	if got := fmt.Sprint(fallen[2], fallen[4]); got != "[24 23 22 21 20 19 18 17] [43 44 41 42]" {
		t.Error(got)
	}
}

func feed(s tournament.Seat) string {
	switch {
	case s.Seed > 0:
		return fmt.Sprintf("s%d", s.Seed)
	case s.Loser:
		return fmt.Sprintf("l%d", s.From)
	}
	return fmt.Sprintf("w%d", s.From)
}

// With two, four or eight pools of which two go on each, pool-mates can meet in
// the final only.
func TestPoolMatesMeetLate(t *testing.T) {
	for _, pools := range []int{2, 4, 8, 16} {
		c := drawn(t, 4*pools, tournament.Settings{Format: tournament.Pools, Pools: pools, Advance: 2, Then: tournament.Single})
		c.playAll(lowerWins)
		c.do(tournament.Command{Type: tournament.Next})
		pool := map[int]int{}
		for _, m := range c.s.Matches {
			if m.Part == tournament.Pool {
				pool[m.Home.Entrant], pool[m.Away.Entrant] = m.Pool, m.Pool
			}
		}
		order := tournament.Seeding(2 * pools)
		for half := range 2 {
			seen := map[int]bool{}
			for _, seed := range order[half*pools : (half+1)*pools] {
				if p := pool[c.s.Field[seed-1]]; seen[p] {
					t.Errorf("%d pools: two of pool %d are in the same half: %v", pools, p, c.s.Field)
				} else {
					seen[p] = true
				}
			}
		}
	}
}

// Every number of entrants: one loss, or two, and nothing else puts out; the
// number of matches is what it has to be.
func TestEliminationOfAnySize(t *testing.T) {
	for n := 2; n <= tournament.MaxEntrants; n++ {
		if n > 34 && n%64 > 1 && n%64 < 63 {
			continue
		}
		for _, format := range []tournament.Format{tournament.Single, tournament.Double} {
			c := drawn(t, n, tournament.Settings{Format: format})
			c.playAll(upsets)
			c.sound()
			c.promises()
		}
	}
}

// Who has met in the main part meets again in the second chance as late as the
// crossing can bring about: not before its round 3 of 8 entrants, 4 of 16, 5 of
// 32.
func TestCrossingDelaysRematches(t *testing.T) {
	for n, least := range map[int]int{8: 3, 16: 4, 32: 5} {
		for seed := range uint64(60) {
			c := drawn(t, n, tournament.Settings{Format: tournament.Double, Lots: true, Seed: seed})
			c.playAll(upsets)
			met := map[[2]int]bool{}
			for _, m := range c.s.Matches {
				pair := [2]int{min(m.Home.Entrant, m.Away.Entrant), max(m.Home.Entrant, m.Away.Entrant)}
				if m.Part == tournament.Losers && met[pair] && m.Round < least {
					t.Errorf("%d entrants: %v meet again in round %d", n, pair, m.Round)
				}
				met[pair] = true
			}
		}
	}
}
