package season

import (
	"cmp"
	"math"
	"slices"
)

// Forecast is the share likely to be known on the day of the contest.
type Forecast struct {
	All      Share   `json:"all"`
	Subjects []Share `json:"subjects"`
	Animals  []Share `json:"animals"` // the least known first
}

// Share is a share between 0 and 1 with its doubt: in 19 of 20 clubs that
// answered as this one did it would lie between Low and High.
type Share struct {
	Name string  `json:"name,omitempty"`
	P    float64 `json:"p"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// talent is how much better or worse a club recalls than the model says: a
// shift of the log-odds, with a chance for each. Before any answer it is normal
// about 0 with a standard deviation of 1, which is an assumption.
type talent struct{ weight []float64 }

const (
	widest = 3.0
	steps  = 121
)

func shift(i int) float64 { return -widest + 2*widest*float64(i)/(steps-1) }

func anyTalent() talent {
	t := talent{make([]float64, steps)}
	for i := range t.weight {
		t.weight[i] = math.Exp(-shift(i) * shift(i) / 2)
	}
	return t.whole()
}

func (t talent) whole() talent {
	sum := 0.0
	for _, w := range t.weight {
		sum += w
	}
	for i := range t.weight {
		t.weight[i] /= sum
	}
	return t
}

// hear takes over answers to which the model gave a recall.
func (t talent) hear(recall float64, right, of int) {
	for i := range t.weight {
		p := guess + (1-guess)*shifted(recall, shift(i))
		t.weight[i] *= math.Pow(p, float64(right)) * math.Pow(1-p, float64(of-right))
	}
	t.whole()
}

// shifted is a share whose log-odds are moved.
func shifted(p, by float64) float64 {
	if p <= 0 || p >= 1 {
		return p
	}
	return 1 / (1 + (1-p)/p*math.Exp(-by))
}

// share is the weighted mean of recalls, with its doubt over talents.
func (t talent) share(name string, recalls, weights []float64) Share {
	at := make([]float64, steps)
	for i := range at {
		sum, whole := 0.0, 0.0
		for n, r := range recalls {
			sum += weights[n] * shifted(r, shift(i))
			whole += weights[n]
		}
		at[i] = sum / whole
	}
	s := Share{Name: name}
	for i, w := range t.weight {
		s.P += w * at[i]
	}
	s.Low, s.High = at[t.quantile(0.025)], at[t.quantile(0.975)]
	return s
}

// quantile is the place of a shift; shares grow with it.
func (t talent) quantile(q float64) int {
	sum := 0.0
	for i, w := range t.weight {
		if sum += w; sum >= q {
			return i
		}
	}
	return steps - 1
}

func (c *club) forecast() Forecast {
	var recalls, weights []float64
	subjects, animals := map[string][]int{}, map[string][]int{}
	for n, t := range c.wish.Topics {
		recalls = append(recalls, c.recall(t.Item, c.wish.Contest))
		weights = append(weights, t.Weight)
		subjects[t.Subject] = append(subjects[t.Subject], n)
		animals[t.Animal] = append(animals[t.Animal], n)
	}
	by := func(groups map[string][]int) (out []Share) {
		for name, places := range groups {
			var r, w []float64
			for _, n := range places {
				r, w = append(r, recalls[n]), append(w, weights[n])
			}
			out = append(out, c.talent.share(name, r, w))
		}
		slices.SortFunc(out, func(a, b Share) int { return cmp.Or(cmp.Compare(a.P, b.P), cmp.Compare(a.Name, b.Name)) })
		return out
	}
	return Forecast{c.talent.share("", recalls, weights), by(subjects), by(animals)}
}
