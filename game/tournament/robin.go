package tournament

import "fieldsign/game/rating"

// Berger is the schedule of a round robin for n: rounds of pairs of pairing
// numbers, first-named home, by the Berger tables (FIDE Handbook C.05, annex on
// Berger tables). With an odd n the highest number of the table is missing, and
// its opponent has the bye. Played twice, the second cycle has home and away
// exchanged and the last two rounds of the first cycle swap places, so that
// nobody is at home three times running.
func Berger(n int, twice bool) [][][2]int {
	even := n + n%2
	rounds := make([][][2]int, even-1)
	for r := range rounds {
		rounds[r] = bergerRound(r+1, even, n)
	}
	if !twice {
		return rounds
	}
	for r := range even - 1 {
		var back [][2]int
		for _, p := range rounds[r] {
			back = append(back, [2]int{p[1], p[0]})
		}
		rounds = append(rounds, back)
	}
	if last := even - 2; last > 0 {
		rounds[last-1], rounds[last] = rounds[last], rounds[last-1]
	}
	return rounds
}

// bergerRound pairs number a with the table's last, which changes sides every
// round; the others pair around a in a circle.
func bergerRound(round, even, n int) [][2]int {
	var pairs [][2]int
	circle := even - 1
	a := (round + 1) / 2
	first := [2]int{a, even}
	if round%2 == 0 {
		a = even/2 + round/2
		first = [2]int{even, a}
	}
	if even == n {
		pairs = append(pairs, first)
	}
	for k := 1; k < even/2; k++ {
		pairs = append(pairs, [2]int{(a-1+k)%circle + 1, (a-1-k+circle)%circle + 1})
	}
	return pairs
}

// pooled are the pools, by the seeding.
func (s *Sheet) pooled() [][]int { return rating.Serpentine(s.Order, s.Settings.Pools) }

// addPools adds round robins side by side, round by round.
func (s *Sheet) addPools(pools [][]int, part Part) {
	schedules := make([][][][2]int, len(pools))
	longest := 0
	for p, members := range pools {
		schedules[p] = Berger(len(members), s.Settings.Twice)
		longest = max(longest, len(schedules[p]))
	}
	for r := range longest {
		for p, schedule := range schedules {
			if r >= len(schedule) {
				continue
			}
			for _, pair := range schedule[r] {
				m := Match{ID: len(s.Matches) + 1, Part: part, Round: r + 1}
				m.Home.Entrant, m.Away.Entrant = pools[p][pair[0]-1], pools[p][pair[1]-1]
				if part == Pool {
					m.Pool = p + 1
				}
				s.Matches = append(s.Matches, m)
			}
		}
	}
}
