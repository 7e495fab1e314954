package rating_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/game/rating"
)

// Each player is in exactly one team, sizes differ by one at most, and the same
// seed gives the same teams.
func TestTeamsAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratings := rapid.SliceOfN(rapid.Float64Range(800, 2400), 1, 60).Draw(t, "ratings")
		k, seed := rapid.IntRange(1, 12).Draw(t, "teams"), rapid.Uint64().Draw(t, "seed")
		for name, split := range map[string]func() [][]int{
			"balanced": func() [][]int { return rating.Split(ratings, k, seed) },
			"by lot":   func() [][]int { return rating.Deal(len(ratings), k, seed) },
		} {
			teams := split()
			if got := fmt.Sprint(split()); got != fmt.Sprint(teams) {
				t.Fatalf("%s: the same seed gave %v and %v", name, teams, got)
			}
			whole(t, name, teams, len(ratings), k)
		}
	})
}

func whole(t *rapid.T, name string, teams [][]int, n, k int) {
	all := slices.Sorted(slices.Values(slices.Concat(teams...)))
	for i, p := range all {
		if i != p {
			t.Fatalf("%s: %v does not hold each of %d players once", name, teams, n)
		}
	}
	size := func(a, b []int) int { return len(a) - len(b) }
	if len(all) != n || len(teams) != k || len(slices.MaxFunc(teams, size))-len(slices.MinFunc(teams, size)) > 1 {
		t.Fatalf("%s: %v", name, teams)
	}
}

// For few players every split can be tried: Split comes near the least spread.
func TestSplitComesNearTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratings := rapid.SliceOfN(rapid.Float64Range(1000, 2000), 4, 9).Draw(t, "ratings")
		k := rapid.IntRange(2, 3).Draw(t, "teams")
		got := rating.Spread(rating.Split(ratings, k, 1), ratings)
		if best := leastSpread(ratings, k, make([][]int, k), 0); got > best+40 {
			t.Fatalf("a spread of %.2f, where %.2f is possible", got, best)
		}
	})
}

func leastSpread(ratings []float64, k int, teams [][]int, p int) float64 {
	if p == len(ratings) {
		return rating.Spread(teams, ratings)
	}
	least := math.Inf(1)
	most := (len(ratings) + k - 1) / k
	full := 0
	for _, t := range teams {
		if len(t) == most {
			full++
		}
	}
	for i := range teams {
		limit := most
		if r := len(ratings) % k; r > 0 && full >= r {
			limit = most - 1
		}
		if len(teams[i]) < limit {
			teams[i] = append(teams[i], p)
			least = min(least, leastSpread(ratings, k, teams, p+1))
			teams[i] = teams[i][:len(teams[i])-1]
		}
	}
	return least
}

// All 24 orders of four come equally often: chi-square with 23 degrees of
// freedom stays below 49.728, the critical value for 0.001.
func TestShuffleIsUnbiased(t *testing.T) {
	const draws = 24_000
	count := map[string]int{}
	for seed := range uint64(draws) {
		count[fmt.Sprint(rating.Shuffle(4, seed))]++
	}
	var chi float64
	for _, n := range count {
		chi += (float64(n) - draws/24) * (float64(n) - draws/24) / (draws / 24)
	}
	if len(count) != 24 || chi > 49.728 {
		t.Errorf("%d orders, chi-square %.2f", len(count), chi)
	}
}

// Logs rely on a seed's order: it must never change.
func TestShuffleStaysTheSame(t *testing.T) {
	if got := fmt.Sprint(rating.Shuffle(8, 42)); got != "[4 6 1 0 2 5 7 3]" {
		t.Errorf("seed 42 now gives %s", got)
	}
}

func BenchmarkSplit(b *testing.B) {
	ratings := make([]float64, 256)
	for i, r := range rating.Shuffle(256, 7) {
		ratings[i] = 1000 + 5*float64(r)
	}
	for b.Loop() {
		rating.Split(ratings, 64, 1)
	}
}
