// Package memory says how well something is remembered, by a published model:
// FSRS-6, the free spaced repetition scheduler (Ye, Su and Cao 2022, "A
// Stochastic Shortest Path Algorithm for Optimizing Spaced Repetition
// Scheduling", and its sixth version as the library ts-fsrs 5.4.2 has it).
//
// A memory has a stability, the days after which nine of ten such facts are
// still recalled, and a difficulty from 1 to 10. The package is pure: it must
// not know clocks, catalogues or classes. The weights are the library's
// defaults; testdata/fsrs.csv holds what the library gives for sixty histories.
package memory

import "math"

// Grade is how an answer came.
type Grade int

// Again is a wrong answer; the others are right ones.
const (
	Again Grade = iota + 1
	Hard
	Good
	Easy
)

// w are the default weights of FSRS-6, named as the equations name them.
var w = [...]float64{
	0.212, 1.2931, 2.3065, 8.2956, // stability after a first Again, Hard, Good, Easy
	6.4133, 0.8334, 3.0194, 0.001, // difficulty: first, its slope, its step, its pull to the mean
	1.8722, 0.1666, 0.796, // gain of a right answer: whole, by stability, by what was forgotten
	1.4835, 0.0614, 0.2629, 1.6483, // stability after a wrong one
	0.6014, 1.8729, // Hard's share, Easy's bonus
	0.5425, 0.0912, 0.0658, // more than once on one day
	0.1542, // decay of the curve
}

const (
	leastStability = 0.001
	mostStability  = 36500
	leastFirst     = 0.1
)

var (
	decay  = -w[20]
	factor = math.Pow(0.9, 1/decay) - 1
)

// State is what is known of one fact's memory. The zero State was never met.
type State struct {
	Stability  float64 `json:"stability"`  // days
	Difficulty float64 `json:"difficulty"` // 1 to 10
}

// Met tells whether there was an answer yet.
func (m State) Met() bool { return m.Stability > 0 }

// Recall is the chance that the fact is recalled after so many days. It is 0
// for one that was never met.
func (m State) Recall(days float64) float64 {
	if !m.Met() {
		return 0
	}
	return math.Pow(1+factor*max(days, 0)/m.Stability, decay)
}

// Due is after how many days recall has fallen to a share between 0 and 1.
func (m State) Due(share float64) float64 {
	return m.Stability / factor * (math.Pow(share, 1/decay) - 1)
}

// StabilityFor is the stability with which a share is recalled after so many days.
func StabilityFor(days, share float64) float64 {
	return clampStability(factor * days / (math.Pow(share, 1/decay) - 1))
}

// After is the memory after an answer that came so many days after the last.
func (m State) After(days float64, g Grade) State {
	if !m.Met() {
		return State{Stability: max(w[g-1], leastFirst), Difficulty: clampDifficulty(first(g))}
	}
	return State{Stability: m.stability(max(days, 0), g), Difficulty: m.difficulty(g)}
}

func (m State) stability(days float64, g Grade) float64 {
	s, recall := m.Stability, m.Recall(days)
	switch {
	case days == 0:
		gain := math.Pow(s, -w[19]) * math.Exp(w[17]*(float64(g)-3+w[18]))
		if g > Again {
			gain = max(gain, 1)
		}
		return clampStability(s * gain)
	case g == Again:
		forgot := clampStability(w[11] * math.Pow(m.Difficulty, -w[12]) * (math.Pow(s+1, w[13]) - 1) * math.Exp((1-recall)*w[14]))
		return min(max(s/math.Exp(w[17]*w[18]), leastStability), forgot)
	}
	bonus := 1.0
	switch g {
	case Hard:
		bonus = w[15]
	case Easy:
		bonus = w[16]
	}
	return clampStability(s * (1 + math.Exp(w[8])*(11-m.Difficulty)*math.Pow(s, -w[9])*(math.Exp((1-recall)*w[10])-1)*bonus))
}

// difficulty moves by the grade, the less the nearer it is to 10, and is drawn
// a little toward that of an easy fact.
func (m State) difficulty(g Grade) float64 {
	step := -w[6] * float64(g-Good) * (10 - m.Difficulty) / 9
	return clampDifficulty(w[7]*first(Easy) + (1-w[7])*(m.Difficulty+step))
}

func first(g Grade) float64 { return w[4] - math.Exp(float64(g-1)*w[5]) + 1 }

func clampStability(s float64) float64  { return min(max(s, leastStability), mostStability) }
func clampDifficulty(d float64) float64 { return min(max(d, 1), 10) }

// Between is the memory of a group in which a share gave the first answer's
// state and the rest the second's: the geometric mean of stabilities, the mean
// of difficulties. It is our own approximation; the model knows single minds.
func Between(share float64, right, wrong State) State {
	return State{
		Stability:  math.Exp(share*math.Log(right.Stability) + (1-share)*math.Log(wrong.Stability)),
		Difficulty: share*right.Difficulty + (1-share)*wrong.Difficulty,
	}
}
