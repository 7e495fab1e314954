package debrief

import (
	"encoding/json"
	"math"
	"slices"
)

// Figure is a number that may be undefined: NaN here, null in JSON.
type Figure float64

var undefined = Figure(math.NaN())

// Defined reports whether there is a number.
func (f Figure) Defined() bool { return !math.IsNaN(float64(f)) }

// MarshalJSON writes null for an undefined figure.
func (f Figure) MarshalJSON() ([]byte, error) {
	if !f.Defined() {
		return []byte("null"), nil
	}
	return json.Marshal(float64(f))
}

// UnmarshalJSON reads null as undefined.
func (f *Figure) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*f = undefined
		return nil
	}
	return json.Unmarshal(b, (*float64)(f))
}

// Share is a share with its 95 % Wilson score interval, without continuity
// correction (Newcombe 1998, Statistics in Medicine 17:857-872, method 3).
type Share struct {
	Right int    `json:"right"`
	Of    int    `json:"of"`
	P     Figure `json:"p"`
	Low   Figure `json:"low"`
	High  Figure `json:"high"`
}

// z is the standard normal quantile for 95 %, two-sided.
const z = 1.959963984540054

// ShareOf is the share of so many right in so many; of none it is undefined.
func ShareOf(right, of int) Share {
	if of == 0 {
		return Share{P: undefined, Low: undefined, High: undefined}
	}
	n, p := float64(of), float64(right)/float64(of)
	centre := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z * math.Sqrt(p*(1-p)/n+z*z/(4*n*n)) / (1 + z*z/n)
	return Share{right, of, Figure(p), Figure(min(p, max(0, centre-half))), Figure(max(p, min(1, centre+half)))}
}

// moments are sums over whole numbers, exact, so that "no variance" and "no
// correlation" are told without rounding.
type moments struct{ n, x, y, xx, yy, xy int }

func momentsOf(x, y []int) moments {
	m := moments{n: len(x)}
	for i := range x {
		m.x += x[i]
		m.y += y[i]
		m.xx += x[i] * x[i]
		m.yy += y[i] * y[i]
		m.xy += x[i] * y[i]
	}
	return m
}

// correlation is Pearson's; with marks of 0 and 1 on one side that is the
// point-biserial. Where either side does not vary it is undefined.
func correlation(x, y []int) Figure {
	m := momentsOf(x, y)
	vx, vy := m.n*m.xx-m.x*m.x, m.n*m.yy-m.y*m.y
	if vx == 0 || vy == 0 {
		return undefined
	}
	return Figure(float64(m.n*m.xy-m.x*m.y) / math.Sqrt(float64(vx)) / math.Sqrt(float64(vy)))
}

// spread is the mean and the population variance.
func spread(x []int) (mean, variance Figure) {
	if len(x) == 0 {
		return undefined, undefined
	}
	m, n := momentsOf(x, x), float64(len(x))
	return Figure(float64(m.x) / n), Figure(float64(m.n*m.xx-m.x*m.x) / n / n)
}

// Quartiles are the quarter points of some times, in ms.
type Quartiles struct {
	Q1     Figure `json:"q1"`
	Median Figure `json:"median"`
	Q3     Figure `json:"q3"`
}

func quartilesOf(times []int64) Quartiles {
	sorted := slices.Sorted(slices.Values(times))
	return Quartiles{quantile(sorted, 0.25), quantile(sorted, 0.5), quantile(sorted, 0.75)}
}

// quantile lies linearly between the nearest two of sorted values, the least
// being quantile 0 and the greatest quantile 1 (Hyndman and Fan 1996, type 7).
func quantile(sorted []int64, p float64) Figure {
	if len(sorted) == 0 {
		return undefined
	}
	place := p * float64(len(sorted)-1)
	i := int(place)
	next := min(i+1, len(sorted)-1)
	return Figure(float64(sorted[i]) + (place-float64(i))*float64(sorted[next]-sorted[i]))
}
