package main

import (
	"math"

	"fieldsign/game/memory"
)

// A law is how a synthetic team forgets. The plan assumes the first; the
// second shows what it is worth where memory is not as it assumes.
type law struct {
	name   string
	recall func(m mind, days float64) float64
	after  func(m mind, days float64, knew bool) mind
}

// mind is a team's memory of one item; the zero mind was never shown it.
type mind struct {
	state memory.State // by the first law
	half  float64      // by the second, in days
}

func (m mind) met() bool { return m.half > 0 }

// firstHalf is the half-life, in days, of what was just shown; a missed item
// has it again, since its reason was heard.
const firstHalf = 7.0

var laws = []law{
	{"as the plan assumes (FSRS-6)",
		func(m mind, days float64) float64 { return m.state.Recall(days) },
		func(m mind, days float64, knew bool) mind {
			grade := memory.Again
			if knew {
				grade = memory.Good
			}
			return mind{state: m.state.After(days, grade), half: firstHalf}
		}},
	// After Settles and Meeder 2016: a half-life that doubles with a right answer
	// to what was half forgotten, and halves with a wrong one.
	{"by half-lives, which the plan does not assume",
		func(m mind, days float64) float64 {
			if !m.met() {
				return 0
			}
			return math.Exp2(-days / m.half)
		},
		func(m mind, days float64, knew bool) mind {
			switch {
			case !m.met():
				m.half = firstHalf
			case knew:
				m.half += m.half * min(1, 2*(1-math.Exp2(-days/m.half)))
			default:
				m.half = max(m.half/2, firstHalf)
			}
			return m
		}},
}
