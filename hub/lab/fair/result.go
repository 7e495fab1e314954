package fair

import (
	"slices"
	"time"
)

// Result is what came of the contests of a scenario.
type Result struct {
	Scenario Scenario
	contests []contest
}

// Share is how many of a number of contests the first finger won: by the
// order of arrival, and by the hub's rule, whose draws count as they fell.
type Share struct{ Of, Arrival, Ours int }

func (s *Share) count(c contest) {
	first := c.first()
	s.Of++
	if c.presses[0].team == first.team {
		s.Arrival++
	}
	if c.winner == first.team {
		s.Ours++
	}
}

// ByArrival and ByRule are the shares in percent.
func (s Share) ByArrival() float64 { return percent(s.Arrival, s.Of) }
func (s Share) ByRule() float64    { return percent(s.Ours, s.Of) }

// All is over all contests.
func (r Result) All() Share { return r.where(func(contest) bool { return true }) }

// Apart is over the pairs of presses that were further apart than the stated
// error, the sum of both bounds.
func (r Result) Apart() Share {
	return r.where(func(c contest) bool { return c.gap() > c.errorBound() })
}

// Between is over the pairs whose gap was within some limits.
func (r Result) Between(low, high time.Duration) Share {
	return r.where(func(c contest) bool { return low <= c.gap() && c.gap() < high })
}

func (r Result) where(holds func(contest) bool) Share {
	var s Share
	for _, c := range r.contests {
		if holds(c) {
			s.count(c)
		}
	}
	return s
}

// Drawn is in how many contests a draw decided, in percent.
func (r Result) Drawn() float64 { return r.share(func(c contest) bool { return len(c.drawn) > 0 }) }

// Wins is how many contests a team won, in percent.
func (r Result) Wins(team string) float64 {
	return r.share(func(c contest) bool { return c.winner == team })
}

func (r Result) share(holds func(contest) bool) float64 {
	n := 0
	for _, c := range r.contests {
		if holds(c) {
			n++
		}
	}
	return percent(n, len(r.contests))
}

// Error is the median of the stated error of a pair.
func (r Result) Error() time.Duration { return quantile(r.each(contest.errorBound), 0.5) }

// Waited is how long after the first arrival the buzz was given, by quantile.
func (r Result) Waited(q float64) time.Duration {
	return quantile(r.each(func(c contest) time.Duration { return c.waited }), q)
}

// Beyond is how many presses that came in time were credited further from the
// truth than their stated error, in percent.
func (r Result) Beyond() float64 {
	n, of := 0, 0
	for p := range r.presses("") {
		of++
		if p.gain.Abs() > p.bound {
			n++
		}
	}
	return percent(n, of)
}

// Gain is by how much a team was credited earlier than the truth, on average,
// and at the most; Most is what it might have been credited at the most.
func (r Result) Gain(team string) (average, largest, most time.Duration) {
	var sum, n time.Duration
	for p := range r.presses(team) {
		sum, n = sum+p.gain, n+1
		largest, most = max(largest, p.gain), max(most, p.most)
	}
	return sum / max(n, 1), largest, most
}

// Exceeded counts presses credited earlier than the truth by more than their
// own limit: what the hub had seen their link to take, and the round's wait.
func (r Result) Exceeded() int {
	n := 0
	for p := range r.presses("") {
		if p.gain > p.most+time.Microsecond {
			n++
		}
	}
	return n
}

// presses goes through the presses that came in time, of one team or of all.
func (r Result) presses(team string) func(func(press) bool) {
	return func(yield func(press) bool) {
		for _, c := range r.contests {
			for _, p := range c.presses {
				if !p.lost && (team == "" || p.team == team) && !yield(p) {
					return
				}
			}
		}
	}
}

func (r Result) each(measure func(contest) time.Duration) []time.Duration {
	out := make([]time.Duration, len(r.contests))
	for i, c := range r.contests {
		out[i] = measure(c)
	}
	slices.Sort(out)
	return out
}

// first is the press of the first finger.
func (c contest) first() press {
	return slices.MinFunc(c.presses, func(a, b press) int { return int(a.truth - b.truth) })
}

// gap and errorBound are of the first two fingers.
func (c contest) gap() time.Duration {
	a, b := c.firstTwo()
	return b.truth - a.truth
}

func (c contest) errorBound() time.Duration {
	a, b := c.firstTwo()
	return a.bound + b.bound
}

func (c contest) firstTwo() (press, press) {
	sorted := slices.SortedFunc(slices.Values(c.presses), func(a, b press) int { return int(a.truth - b.truth) })
	return sorted[0], sorted[1]
}

func quantile(sorted []time.Duration, q float64) time.Duration {
	return sorted[int(q*float64(len(sorted)-1))]
}

func percent(n, of int) float64 { return 100 * float64(n) / float64(max(of, 1)) }
