// Package fair simulates contests for the buzz over links of many kinds, with
// the real rules (package game) and the real estimate of each phone's link
// (package link), and measures how often the first finger got the buzz, beside
// how often it would have by order of arrival. docs/fairness.md shows the
// results. It is for tests and for cmd/fairsim: the hub does not use it.
package fair

import (
	"math"
	"math/rand/v2"
	"time"
)

// Path draws how long a frame takes on its way.
type Path func(dice *rand.Rand) time.Duration

// Scenario is a room of phones: team N has the phone N, counted round.
type Scenario struct {
	Name   string
	What   string // in a few words
	Phones []Phone
	First  time.Duration // when the first question opens
}

// The people: a press comes after a time of the exponentially modified
// Gaussian, the usual description of reaction times. These figures stand for
// players who know the answer at once: a close race. Slower ones would be
// further apart, and easier to tell.
const (
	fastest  = 150 * time.Millisecond
	mean     = 350 * time.Millisecond // of the Gaussian part
	spread   = 40 * time.Millisecond  // of it
	hesitate = 100 * time.Millisecond // the mean of the exponential part
)

// People says in words how presses are drawn.
const People = "150 ms at least, else a Gaussian of mean 350 and deviation 40 ms plus an exponential of mean 100 ms"

func reaction(dice *rand.Rand) time.Duration {
	t := mean + scaled(spread, dice.NormFloat64()) + scaled(hesitate, dice.ExpFloat64())
	return max(fastest, t)
}

// How a meeting runs.
const (
	meeting = 100              // questions
	pause   = 15 * time.Second // between questions, and up to so much more
	doze    = 4 * time.Second  // of a sleeping phone

	Wait = 250 * time.Millisecond // the host's bound on waiting
)

// Run plays questions in meetings of so many teams.
func Run(sc Scenario, teams, questions int, seed uint64) Result {
	r := Result{Scenario: sc}
	for n := uint64(0); questions > 0; n++ {
		r.contests = append(r.contests, meet(sc, teams, min(questions, meeting), seed+n).contests...)
		questions -= meeting
	}
	return r
}

// meet plays one meeting, with phones and links of its own.
func meet(sc Scenario, teams, questions int, seed uint64) *hub {
	s := newSim(seed)
	h := newHub(s, sc.Phones, teams, questions, Wait)
	start := max(sc.First, 2*burstEvery)
	for n := range questions {
		opens := start + s.upTo(pause)
		for _, p := range h.phones {
			if p.Sleeps && n%3 == 0 {
				wakes := opens - s.upTo(burstEvery)
				s.at(wakes-doze, func() { p.sleep(wakes) })
			}
			s.at(opens+reaction(s.dice), p.press)
		}
		s.at(opens, h.open)
		start = opens + pause
	}
	s.run(start)
	return h
}

// Paths. All but the constant ones have a tail, as radio has.

func constant(d time.Duration) Path { return func(*rand.Rand) time.Duration { return d } }

func uniform(low, high time.Duration) Path {
	return func(dice *rand.Rand) time.Duration { return low + scaled(high-low, dice.Float64()) }
}

// lognormal has a median and a spread as a factor, and an end.
func lognormal(median time.Duration, factor float64, most time.Duration) Path {
	return func(dice *rand.Rand) time.Duration {
		return min(most, scaled(median, math.Pow(factor, dice.NormFloat64())))
	}
}

// spiked is a path that now and then takes far longer.
func spiked(base Path, chance float64, spike Path) Path {
	return func(dice *rand.Rand) time.Duration {
		if dice.Float64() < chance {
			return spike(dice)
		}
		return base(dice)
	}
}

func scaled(d time.Duration, by float64) time.Duration { return time.Duration(float64(d) * by) }
