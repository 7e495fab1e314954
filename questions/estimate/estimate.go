// Package estimate works out how many animals there are from a count of some, as
// those who manage wildlife do, and the mistakes that are made at it. It is pure.
package estimate

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A Method takes some numbers and gives one.
type Method struct {
	Name     string
	of       func(g []float64) float64
	mistakes func(n float64, g []float64) []float64 // n is the right one; the usual mistake comes first
	given    int
}

// What a mile has in yards, and a square mile in acres.
const (
	yards = 1760
	acres = 640
)

// GroupsADay is how many groups of pellets a deer drops a day, as surveys take it.
const GroupsADay = 13

// Methods are those that are asked for. Each has mistakes that make the number too
// small and such that make it too large. A count on land comes in metric units and in
// those of the United States.
//
//	petersen, chapman  marked and released, caught later, of those marked
//	strip              animals seen, width in m, length in km: animals a square kilometre
//	pellets            groups, days, area searched in square metres: deer a square kilometre
//	fawns, bucks       bucks, does and fawns seen: fawns, or bucks, for 100 does
//	density            animals, hectares: animals a square kilometre
//	strip_mi           animals seen, width in yards, length in miles: animals a square mile
//	pellets_ac         groups, days, area searched in acres: deer a square mile
//	density_ac         animals, acres: animals a square mile
//	rise, fall         counted first, counted later: the change in percent of the first
//	quota              animals, percent of them that may be taken: how many that is
var Methods = []Method{
	{"petersen", func(g []float64) float64 { return g[0] * g[1] / g[2] }, func(n float64, g []float64) []float64 {
		// The marked or the caught added or taken off, one of them twice, or those in hand.
		return []float64{g[0] + g[1] - g[2], n - g[0], n - g[1], g[0] * g[1] / (g[1] - g[2]), g[1] * g[1] / g[2], g[0] * g[0] / g[2], n + g[0], n + g[1], n + g[0] + g[1]}
	}, 3},
	{"chapman", func(g []float64) float64 { return (g[0]+1)*(g[1]+1)/(g[2]+1) - 1 }, func(n float64, g []float64) []float64 {
		// Lincoln's estimate, 1 added to one number alone, or to two.
		return []float64{g[0] * g[1] / g[2], g[0]*g[1]/(g[2]+1) - 1, (g[0]+1)*(g[1]+1)/g[2] - 1, g[0] + g[1] - g[2], n - g[0], n - g[1], n + g[0], n + g[1]}
	}, 3},
	{"strip", func(g []float64) float64 { return g[0] / (g[1] / 1000 * g[2]) }, ofStrip, 3},
	{"strip_mi", func(g []float64) float64 { return g[0] / (g[1] / yards * g[2]) }, ofStrip, 3},
	{"pellets", func(g []float64) float64 { return g[0] / (GroupsADay * g[1] * g[2] / 1e6) }, ofPellets, 3},
	{"pellets_ac", func(g []float64) float64 { return g[0] / (GroupsADay * g[1] * g[2] / acres) }, ofPellets, 3},
	{"fawns", func(g []float64) float64 { return 100 * g[2] / g[1] }, func(n float64, g []float64) []float64 {
		return []float64{100 * g[2] / (g[0] + g[1]), 100 * g[1] / g[2], 100 * g[2] / g[0], 100 * g[2] / (g[0] + g[1] + g[2]), g[2], 100 * (g[0] + g[2]) / g[1], 100 * g[0] / g[1]}
	}, 3},
	{"bucks", func(g []float64) float64 { return 100 * g[0] / g[1] }, func(n float64, g []float64) []float64 {
		return []float64{100 * g[0] / (g[0] + g[1]), 100 * g[1] / g[0], 100 * g[0] / g[2], 100 * g[0] / (g[0] + g[1] + g[2]), g[0], 100 * (g[0] + g[2]) / g[1], 100 * g[2] / g[1]}
	}, 3},
	{"density", func(g []float64) float64 { return 100 * g[0] / g[1] }, ofDensity, 2},
	{"density_ac", func(g []float64) float64 { return acres * g[0] / g[1] }, ofDensity, 2},
	{"rise", func(g []float64) float64 { return 100 * (g[1] - g[0]) / g[0] }, func(n float64, g []float64) []float64 {
		return []float64{100 * (g[1] - g[0]) / g[1], g[1] - g[0], 100 * g[1] / g[0], 100 * g[0] / g[1], 50 * (g[1] - g[0]) / g[0], 200 * (g[1] - g[0]) / g[0]}
	}, 2},
	{"fall", func(g []float64) float64 { return 100 * (g[0] - g[1]) / g[0] }, func(n float64, g []float64) []float64 {
		// Nothing falls by more than all of it.
		return slices.DeleteFunc([]float64{100 * (g[0] - g[1]) / g[1], g[0] - g[1], 100 * g[1] / g[0], 100 * (g[0] - g[1]) / (g[0] + g[1]), n / 2, 2 * n},
			func(x float64) bool { return x >= 100 })
	}, 2},
	{"quota", func(g []float64) float64 { return g[0] * g[1] / 100 }, func(n float64, g []float64) []float64 {
		// Those that stay, the percent itself, half or twice as many.
		return []float64{g[0] - n, g[1], n / 2, 2 * n, g[0] / g[1], g[0] - g[1]}
	}, 2},
}

// ofStrip: one side too few or too many, the width left out.
func ofStrip(n float64, g []float64) []float64 {
	return []float64{n * 2, n / 2, n * 4, n / 4, g[0] / g[2], n * 3}
}

// ofPellets: the area or the days halved or doubled, those of one deer left out.
func ofPellets(n float64, g []float64) []float64 {
	return []float64{n * 2, n / 2, n * 4, n / 4, n * 3, n / 3}
}

// ofDensity: the land halved or doubled, the ratio turned round, a hundred acres for a
// square mile, all the animals.
func ofDensity(n float64, g []float64) []float64 {
	return []float64{g[1] / g[0], n / 2, n * 2, n / 4, n * 4, 100 * g[0] / g[1], g[0]}
}

// By finds a method.
func By(name string) (Method, bool) {
	for _, m := range Methods {
		if m.Name == name {
			return m, true
		}
	}
	return Method{}, false
}

// Of is the estimate; not a number where the numbers given allow none.
func (m Method) Of(given []float64) float64 {
	if len(given) != m.given {
		return math.NaN()
	}
	if x := m.of(given); !math.IsInf(x, 0) {
		return x
	}
	return math.NaN()
}

// Mistakes are what comes out of the usual ones.
func (m Method) Mistakes(given []float64) []float64 { return m.mistakes(m.Of(given), given) }

// near is by how much of it a number may miss an estimate and still be called one
// that was rounded in another way.
const near = 0.02

// Is says whether a whole number is the estimate, or is far from it; neither where
// it is near.
func (m Method) Is(given []float64, number float64) (right, wrong bool) {
	x := m.Of(given)
	return math.Round(x) == number, math.Abs(number-x) > math.Max(near*x, .5)
}

// Claim writes that a method gives a number, as claims have it.
func Claim(method string, given []float64, number float64) string {
	var words []string
	for _, g := range given {
		words = append(words, strconv.FormatFloat(g, 'f', -1, 64))
	}
	return fmt.Sprintf("%s of %s = %g", method, strings.Join(words, " "), number)
}

// ReadClaim reads what Claim wrote.
func ReadClaim(text string) (m Method, given []float64, number float64, ok bool) {
	left, right, two := strings.Cut(text, " = ")
	name, list, also := strings.Cut(left, " of ")
	m, known := By(name)
	number, err := strconv.ParseFloat(right, 64)
	if !two || !also || !known || err != nil {
		return m, nil, 0, false
	}
	for word := range strings.FieldsSeq(list) {
		g, err := strconv.ParseFloat(word, 64)
		if err != nil || !(g > 0) || g > 1e9 {
			return m, nil, 0, false
		}
		given = append(given, g)
	}
	return m, given, number, true
}
