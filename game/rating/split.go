package rating

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// dice is SplitMix64 (Steele, Lea and Flood, 2014): its state is the seed.
type dice uint64

func (d *dice) next() uint64 {
	*d += 0x9e3779b97f4a7c15
	z := uint64(*d)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below draws from 0 to n-1, each equally likely: a draw that falls into the
// last, incomplete run of n is thrown away (Lemire 2019).
func (d *dice) below(n int) int {
	for {
		high, low := bits.Mul64(d.next(), uint64(n))
		if low >= -uint64(n)%uint64(n) {
			return int(high)
		}
	}
}

// Shuffle is an order of 0 to n-1 drawn by lot, every order equally likely as
// far as 64 bits of seed reach (Fisher and Yates). The same seed gives the same
// order for ever: logs rely on it.
func Shuffle(n int, seed uint64) []int {
	d := dice(seed)
	order := make([]int, n)
	for i := range order {
		j := d.below(i + 1)
		order[i] = order[j]
		order[j] = i
	}
	return order
}

// Deal splits n players into k teams by lot. Sizes differ by one at most.
func Deal(n, k int, seed uint64) [][]int {
	return deal(Shuffle(n, seed), k)
}

// tries is how many starting orders Split improves; the best result counts.
const tries = 12

// Split puts players into k teams as equal as it can make them: sizes differ by
// one at most, and the spread of the teams' mean ratings is small. It starts
// from a snake through the players by rating, then from lots drawn by the seed,
// improves each by swapping two players while that brings the means closer, and
// keeps the least spread. The same input gives the same teams. It is a search,
// not a proof: a smaller spread may exist.
func Split(ratings []float64, k int, seed uint64) [][]int {
	lots := Shuffle(len(ratings), seed)
	order := slices.Clone(lots) // so that equals fall by lot
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ratings[b], ratings[a]) })
	best := Serpentine(order, k)
	improve(best, ratings)
	for i := range uint64(tries - 1) {
		teams := deal(Shuffle(len(ratings), seed+i+1), k)
		improve(teams, ratings)
		if Spread(teams, ratings) < Spread(best, ratings)-precision {
			best = teams
		}
	}
	for _, t := range best {
		slices.SortStableFunc(t, func(a, b int) int {
			return cmp.Or(cmp.Compare(ratings[b], ratings[a]), cmp.Compare(a, b))
		})
	}
	return best
}

// precision is what counts as no difference between ratings.
const precision = 1e-9

// Spread is the difference between the highest and the lowest mean rating.
func Spread(teams [][]int, ratings []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, t := range teams {
		if len(t) > 0 {
			mean := sum(t, ratings) / float64(len(t))
			low, high = min(low, mean), max(high, mean)
		}
	}
	return max(high-low, 0)
}

func sum(team []int, ratings []float64) float64 {
	var total float64
	for _, p := range team {
		total += ratings[p]
	}
	return total
}

func deal(order []int, k int) [][]int {
	teams := make([][]int, k)
	for i, p := range order {
		teams[i%k] = append(teams[i%k], p)
	}
	return teams
}

// Serpentine deals there and back, 1 2 3 3 2 1 1 2 3, so that the teams or pools are equally strong.
func Serpentine(order []int, k int) [][]int {
	teams := make([][]int, k)
	for i, p := range order {
		t := i % k
		if i/k%2 == 1 {
			t = k - 1 - t
		}
		teams[t] = append(teams[t], p)
	}
	return teams
}

// improve swaps players between two teams while a swap brings their means
// closer. Each swap lowers the sum of squares of the means, so it ends.
func improve(teams [][]int, ratings []float64) {
	sums := make([]float64, len(teams))
	for i, t := range teams {
		sums[i] = sum(t, ratings)
	}
	for better := true; better; {
		better = false
		for i := range teams {
			for j := range i {
				better = swapBest(teams, sums, i, j, ratings) || better
			}
		}
	}
}

// swapBest makes the one swap between teams i and j that leaves their means
// closest, if that is closer than now.
func swapBest(teams [][]int, sums []float64, i, j int, ratings []float64) bool {
	n, m := float64(len(teams[i])), float64(len(teams[j]))
	gap, bestA, bestB := math.Abs(sums[i]/n-sums[j]/m)-precision, -1, -1
	for a, p := range teams[i] {
		for b, q := range teams[j] {
			moved := ratings[q] - ratings[p]
			if after := math.Abs((sums[i]+moved)/n - (sums[j]-moved)/m); after < gap {
				gap, bestA, bestB = after, a, b
			}
		}
	}
	if bestA < 0 {
		return false
	}
	moved := ratings[teams[j][bestB]] - ratings[teams[i][bestA]]
	teams[i][bestA], teams[j][bestB] = teams[j][bestB], teams[i][bestA]
	sums[i], sums[j] = sums[i]+moved, sums[j]-moved
	return true
}
