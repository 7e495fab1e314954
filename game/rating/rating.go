// Package rating measures how strong teams are, by Glicko-2, and splits a list
// of players into fair teams. It is pure: ratings and seeds come in, ratings
// and lists come out.
//
// The measure is that of Mark E. Glickman's paper "Example of the Glicko-2
// system": a rating, a deviation (how sure the rating is) and a volatility (how
// erratic the results have been). The constants are the paper's: a newcomer has
// 1500, 350 and 0.06; the scale is 173.7178; τ, which the paper wants between
// 0.3 and 1.2, is 0.5 as in its example.
package rating

import "math"

// The constants of the system.
const (
	Start           = 1500.0
	StartDeviation  = 350.0
	StartVolatility = 0.06

	Tau       = 0.5      // how much a volatility may change in a period
	scale     = 173.7178 // from the paper's internal scale to ratings
	tolerance = 1e-6     // of the volatility's search, the paper's ε
)

// Rating is a team's strength. It is a value; the zero Rating means nothing, so
// begin with New.
type Rating struct {
	Rating     float64 `json:"rating"`
	Deviation  float64 `json:"deviation"`
	Volatility float64 `json:"volatility"`
}

// New is the rating of a team that has never played.
func New() Rating { return Rating{Start, StartDeviation, StartVolatility} }

// Result is how a team did against an opponent: Score is 1 for a win, ½ for a
// draw, 0 for a loss. The opponent's rating is the one before the period.
type Result struct {
	Opponent Rating  `json:"opponent"`
	Score    float64 `json:"score"`
}

// Update is the rating after one rating period with all of its results: steps 2
// to 8 of the paper. In an idle period, with no results, the deviation alone
// grows, up to that of a newcomer, which is the paper's advice for a cap.
func Update(r Rating, results []Result) Rating {
	mu, phi := (r.Rating-Start)/scale, r.Deviation/scale
	if len(results) == 0 {
		r.Deviation = min(scale*math.Hypot(phi, r.Volatility), max(StartDeviation, r.Deviation))
		return r
	}
	var information, surprise float64
	for _, res := range results {
		muJ, phiJ := (res.Opponent.Rating-Start)/scale, res.Opponent.Deviation/scale
		g := weight(phiJ)
		e := expectation(mu-muJ, g)
		information += g * g * e * (1 - e)
		surprise += g * (res.Score - e)
	}
	v := 1 / information
	sigma := volatility(phi, v, v*surprise, r.Volatility)
	phi = 1 / math.Sqrt(1/(phi*phi+sigma*sigma)+information)
	mu += phi * phi * surprise
	return Rating{Start + scale*mu, scale * phi, sigma}
}

// Expected is the score that a can expect against b, with both deviations
// taken into account. Expected(a, b) + Expected(b, a) is 1.
func Expected(a, b Rating) float64 {
	return expectation((a.Rating-b.Rating)/scale, weight(math.Hypot(a.Deviation, b.Deviation)/scale))
}

// weight is the paper's g(φ): how much less a result counts when the
// opponent's rating is not sure.
func weight(phi float64) float64 { return 1 / math.Sqrt(1+3*phi*phi/(math.Pi*math.Pi)) }

func expectation(difference, g float64) float64 { return 1 / (1 + math.Exp(-g*difference)) }

// volatility is step 5 of the paper: the zero of f by the Illinois variant of
// regula falsi. f falls monotonically between the two ends, so it is found.
func volatility(phi, v, delta, sigma float64) float64 {
	a := math.Log(sigma * sigma)
	f := func(x float64) float64 {
		ex := math.Exp(x)
		d := phi*phi + v + ex
		return ex*(delta*delta-d)/(2*d*d) - (x-a)/(Tau*Tau)
	}
	low, high := a, math.Log(delta*delta-phi*phi-v)
	if delta*delta <= phi*phi+v {
		for high = a - Tau; f(high) < 0; {
			high -= Tau
		}
	}
	fLow, fHigh := f(low), f(high)
	for math.Abs(high-low) > tolerance {
		mid := low + (low-high)*fLow/(fHigh-fLow)
		fMid := f(mid)
		if fMid*fHigh <= 0 {
			low, fLow = high, fHigh
		} else {
			fLow /= 2
		}
		high, fHigh = mid, fMid
	}
	return math.Exp(low / 2)
}

// Pairwise turns a hosted game of several teams into results for Update: each
// team has met each other team and won where its score is higher. ratings and
// scores go in the same order, and so do the lists that come back.
//
// The caveat: results out of one game hang together, yet Glicko-2 takes them
// for separate matches. In large games deviations therefore shrink too fast,
// and a single lucky evening moves a rating too far. The order of ratings is
// sound; the deviation of a team that plays only large games is too hopeful.
func Pairwise(ratings []Rating, scores []int) [][]Result {
	out := make([][]Result, len(ratings))
	for i := range ratings {
		for j := range ratings {
			if i != j {
				out[i] = append(out[i], Result{ratings[j], outcome(scores[i], scores[j])})
			}
		}
	}
	return out
}

func outcome(own, other int) float64 {
	switch {
	case own > other:
		return 1
	case own == other:
		return 0.5
	}
	return 0
}
