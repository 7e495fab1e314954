package tournament

import "math/bits"

// Seeding is the standard order of seeds down a bracket's first column, for a
// size that is a power of two: first-round pairs add up to size+1, and seeds 1
// and 2 can meet in the final only. Seeds that nobody has are byes, so byes go
// to the top seeds.
func Seeding(size int) []int {
	order := []int{1}
	for len(order) < size {
		next := make([]int, 0, 2*len(order))
		for _, s := range order {
			next = append(next, s, 2*len(order)+1-s)
		}
		order = next
	}
	return order
}

// bracketSize is the power of two that n entrants need.
func bracketSize(n int) int { return 1 << bits.Len(uint(n-1)) }

// addBracket adds the bracket's matches and seats them.
func (s *Sheet) addBracket(format Format) {
	s.Bracket = len(s.Matches) + 1
	s.Matches = append(s.Matches, bracket(len(s.Field), format, s.Settings.Third, s.Bracket)...)
	s.settleBracket()
}

// bracket is the matches of an elimination for n, numbered from first.
func bracket(n int, format Format, third bool, first int) []Match {
	b := builder{next: first}
	var seats []Seat
	for _, seed := range Seeding(bracketSize(n)) {
		seats = append(seats, Seat{Seed: seed})
	}
	if format == Double {
		b.double(seats)
	} else {
		b.single(seats, third)
	}
	return b.matches
}

// builder numbers matches; a round's seats come in pairs.
type builder struct {
	next    int
	matches []Match
}

// round adds a round and returns its matches' numbers.
func (b *builder) round(part Part, round int, seats []Seat) []int {
	var ids []int
	for i := 0; i < len(seats); i += 2 {
		b.matches = append(b.matches, Match{ID: b.next, Part: part, Round: round, Home: seats[i], Away: seats[i+1]})
		ids = append(ids, b.next)
		b.next++
	}
	return ids
}

func winnersOf(ids []int) []Seat { return seatsFrom(ids, false) }
func losersOf(ids []int) []Seat  { return seatsFrom(ids, true) }

func seatsFrom(ids []int, loser bool) []Seat {
	seats := make([]Seat, len(ids))
	for i, id := range ids {
		seats[i] = Seat{From: id, Loser: loser}
	}
	return seats
}

func (b *builder) single(seats []Seat, third bool) {
	var ids []int
	for r := 1; len(seats) > 2; r++ {
		ids = b.round(Winners, r, seats)
		seats = winnersOf(ids)
	}
	if third && len(ids) == 2 {
		b.round(Third, 1, losersOf(ids))
	}
	b.round(Final, 1, seats)
}

// double has two rounds among the losers for each round of the main part after
// the first: there the ones left pair off, then meet those who have just lost.
func (b *builder) double(seats []Seat) {
	ids := b.round(Winners, 1, seats)
	up, down := winnersOf(ids), losersOf(ids)
	for r := 2; len(up) > 1; r++ {
		ids = b.round(Winners, r, up)
		up = winnersOf(ids)
		left := winnersOf(b.round(Losers, 2*r-3, down))
		down = nil
		for i, fallen := range crossed(losersOf(ids), r) {
			down = append(down, left[i], fallen)
		}
		down = winnersOf(b.round(Losers, 2*r-2, down))
	}
	final := b.round(Final, 1, []Seat{up[0], down[0]})
	b.round(Reset, 1, []Seat{{From: final[0], Loser: true}, {From: final[0]}})
}

// crossed is the order in which the losers of main round r fall: reversed after
// the even rounds, with the halves exchanged after the odd ones, so that those
// who have met meet again as late as can be. That is our convention; there is
// no standard.
func crossed(seats []Seat, r int) []Seat {
	out := make([]Seat, len(seats))
	for i := range seats {
		if r%2 == 0 {
			out[i] = seats[len(seats)-1-i]
		} else {
			out[i] = seats[(i+len(seats)/2)%len(seats)]
		}
	}
	return out
}

// crossField orders those who go on from the pools for the bracket: first the
// pools' winners, then the seconds, and so on, each group in an order that has
// pool-mates meet as late as possible. places[k] lists those placed k+1, by
// pool; 0 stands for none.
func crossField(places [][]int) []int {
	var field, pools []int
	for _, place := range places {
		for p, e := range place {
			if e > 0 {
				field, pools = append(field, e), append(pools, p)
			}
		}
	}
	line := make([]int, bracketSize(max(len(field), MinEntrants)))
	for at, seed := range Seeding(len(line)) {
		line[seed-1] = at
	}
	from := 0
	for _, place := range places {
		to := from
		for _, e := range place {
			if e > 0 {
				to++
			}
		}
		partMates(field, pools, line, from, to)
		from = to
	}
	return field
}

// partMates exchanges seeds from..to while that parts pool-mates.
func partMates(field, pools, line []int, from, to int) {
	for better := true; better; {
		better = false
		for i := from; i < to; i++ {
			for j := i + 1; j < to; j++ {
				before := clash(pools, line, i, to) + clash(pools, line, j, to)
				pools[i], pools[j] = pools[j], pools[i]
				if clash(pools, line, i, to)+clash(pools, line, j, to) < before {
					field[i], field[j] = field[j], field[i]
					better = true
				} else {
					pools[i], pools[j] = pools[j], pools[i]
				}
			}
		}
	}
}

// clash weighs how early seed i meets pool-mates among the first seeds: a round
// earlier weighs four times as much.
func clash(pools, line []int, i, seeds int) int {
	total := 0
	for j := range seeds {
		if j != i && pools[j] == pools[i] {
			rounds := bits.Len(uint(line[i] ^ line[j])) // until they meet
			total += 1 << (2 * (bits.Len(uint(len(line))) - rounds))
		}
	}
	return total
}
