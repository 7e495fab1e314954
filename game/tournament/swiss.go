package tournament

import (
	"cmp"
	"math/bits"
	"slices"
)

// The pairing of a Swiss round, by the basic rules of FIDE Handbook C.04.1
// without colours: nobody meets an opponent twice; equal scores meet, else the
// nearest; with an odd number one has a bye, worth a win, and none a second.
// Within a score group the upper half meets the lower half.

// Rounds is how many rounds a Swiss tournament has: as declared, or as many as
// a single elimination would need.
func (s *Sheet) Rounds() int {
	if s.Settings.Rounds > 0 {
		return s.Settings.Rounds
	}
	return bits.Len(uint(len(s.Order) - 1))
}

// mostRounds is how many rounds n can play without meeting anybody twice.
func mostRounds(n int) int { return n - 1 + n%2 }

// round is the last Swiss round that was paired, 0 before the first.
func (s *Sheet) round() int {
	if len(s.Matches) == 0 {
		return 0
	}
	return s.Matches[len(s.Matches)-1].Round
}

// pairing holds those to be paired in the order of score, then of pairing
// number; they go by their place in it.
type pairing struct {
	entrants []int
	score    []int   // in half points
	met      [][]int // how often two have been paired
	rested   []int   // byes, and wins without playing as a smaller part
	most     int     // opponents that anybody has met
}

const oneBye = 1 << 16 // a bye weighs more than any number of walkovers

// swissRound pairs the next round. bye is 0 where nobody has it.
func (s *Sheet) swissRound(order []int) (pairs [][2]int, bye int) {
	p := s.newPairing(order)
	rest := make([]int, len(p.entrants))
	for i := range rest {
		rest[i] = i
	}
	if len(rest)%2 == 1 {
		i := p.bye(rest)
		bye = p.entrants[i]
		rest = without(rest, i, i)
	}
	for len(rest) > 0 {
		first := rest[0]
		second := p.opponent(rest)
		pairs = append(pairs, [2]int{p.entrants[first], p.entrants[second]})
		rest = without(rest, first, second)
	}
	return pairs, bye
}

func (s *Sheet) newPairing(order []int) *pairing {
	score, rested := make([]int, len(s.Entrants)+1), make([]int, len(s.Entrants)+1)
	for i := range s.Matches {
		m := &s.Matches[i]
		score[m.Home.Entrant] += m.half(m.Home.Entrant)
		if m.Away.Entrant != Nobody {
			score[m.Away.Entrant] += m.half(m.Away.Entrant)
		}
		switch w := m.Result.Winner; {
		case m.Result.Outcome == Bye:
			rested[w] += oneBye
		case m.Result.Outcome != Played && w > 0:
			rested[w]++
		}
	}
	p := &pairing{}
	for _, e := range order {
		if s.active(e) {
			p.entrants = append(p.entrants, e)
		}
	}
	slices.SortStableFunc(p.entrants, func(a, b int) int { return cmp.Compare(score[b], score[a]) })
	for _, e := range p.entrants {
		p.score, p.rested = append(p.score, score[e]), append(p.rested, rested[e])
	}
	p.meetings(s.Matches, len(s.Entrants))
	return p
}

// meetings counts who has been paired with whom, whether they played or not.
func (p *pairing) meetings(matches []Match, entrants int) {
	place := make([]int, entrants+1)
	for i, e := range p.entrants {
		place[e] = i + 1
		p.met = append(p.met, make([]int, len(p.entrants)))
	}
	for i := range matches {
		m := &matches[i]
		if m.Away.Entrant == Nobody || place[m.Home.Entrant] == 0 || place[m.Away.Entrant] == 0 {
			continue
		}
		a, b := place[m.Home.Entrant]-1, place[m.Away.Entrant]-1
		p.met[a][b]++
		p.met[b][a]++
	}
	for _, row := range p.met {
		opponents := 0
		for _, times := range row {
			opponents += min(times, 1)
		}
		p.most = max(p.most, opponents)
	}
}

// half is what a match has brought an entrant, in half points.
func (m *Match) half(entrant int) int {
	switch {
	case !m.Done():
		return 0
	case m.Result.Winner == entrant:
		return 2
	case m.Result.Winner == 0:
		return 1
	}
	return 0
}

// bye is who has it: of those with the fewest so far the lowest one, but one
// that leaves the others as few rematches as can be.
func (p *pairing) bye(rest []int) int {
	fewest := p.rested[slices.MinFunc(rest, func(a, b int) int { return cmp.Compare(p.rested[a], p.rested[b]) })]
	chosen, best := none, -1
	for _, i := range slices.Backward(rest) {
		if p.rested[i] > fewest {
			continue
		}
		if fresh := p.fresh(without(rest, i, i)); fresh > best {
			chosen, best = i, fresh
		}
		if best == len(rest)/2 {
			break
		}
	}
	return chosen
}

// opponent is whom the first of the rest meets: the first in the order of
// preference that leaves the rest as few rematches as can be. Within the score
// group one is preferred who leaves as many of the group as can be to play each
// other.
func (p *pairing) opponent(rest []int) int {
	first, target := rest[0], p.fresh(rest)
	fits := func(i int) bool {
		return p.fresh(without(rest, first, i))+p.isFresh(first, i) == target
	}
	size := 1
	for size < len(rest) && p.score[rest[size]] == p.score[first] {
		size++
	}
	group, inside := rest[:size], p.fresh(rest[:size])
	var wide, met []int
	for _, i := range folded(group) {
		switch {
		case p.isFresh(first, i) == 0:
			met = append(met, i)
		case p.fresh(without(group, first, i))+1 < inside:
			wide = append(wide, i)
		case fits(i):
			return i
		}
	}
	for _, i := range rest[size:] {
		if p.isFresh(first, i) == 1 {
			wide = append(wide, i)
		} else {
			met = append(met, i)
		}
	}
	slices.SortStableFunc(met, func(a, b int) int { return cmp.Compare(p.met[first][a], p.met[first][b]) })
	wide = append(wide, met...)
	return wide[slices.IndexFunc(wide, fits)]
}

// folded is a score group without its first, in the order in which the first
// would meet them: the top of the lower half, on downwards, then upwards.
func folded(group []int) []int {
	half := len(group) / 2
	if half == 0 {
		return nil
	}
	out := slices.Clone(group[half:])
	for i := half - 1; i > 0; i-- {
		out = append(out, group[i])
	}
	return out
}

func (p *pairing) isFresh(a, b int) int {
	if p.met[a][b] == 0 {
		return 1
	}
	return 0
}

// fresh is the most pairs without a rematch that can be made of some. Where
// each has at least half of them left to meet, that is all, by Dirac's theorem
// on cycles through every vertex (1952); else it is searched for.
func (p *pairing) fresh(some []int) int {
	if len(some) >= 2*(p.most+1) {
		return len(some) / 2
	}
	linked := make([][]bool, len(some))
	for i, a := range some {
		linked[i] = make([]bool, len(some))
		for j, b := range some {
			linked[i][j] = i != j && p.met[a][b] == 0
		}
	}
	return mostPairs(linked)
}

func without(rest []int, a, b int) []int {
	out := make([]int, 0, len(rest))
	for _, i := range rest {
		if i != a && i != b {
			out = append(out, i)
		}
	}
	return out
}
