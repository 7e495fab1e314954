package debrief

import (
	"cmp"
	"maps"
	"slices"
)

// Drift is how a pair that was mixed up over all games together was mixed up at
// each date.
type Drift struct {
	Pair
	Moments []Moment `json:"moments"` // Share.Right counts answers that mixed the two up
}

// drifts lists the pairs confused over all reports together, by the same rule
// as in one, with each date at which they could have been.
func drifts(reports []Report) []Drift {
	var items []Item
	byDate := map[string][]Item{}
	for i := range reports {
		items = append(items, reports[i].Questions...)
		byDate[reports[i].Date] = append(byDate[reports[i].Date], reports[i].Questions...)
	}
	dates := slices.SortedFunc(maps.Keys(byDate), cmp.Compare[string])
	counted := map[string]pairs{}
	for date, list := range byDate {
		counted[date] = chances(list)
	}
	out := []Drift{}
	for _, p := range confused(items) {
		d := Drift{Pair: p, Moments: []Moment{}}
		for _, date := range dates {
			if c := counted[date][Pair{Subject: p.Subject, A: p.A, B: p.B}]; c.of > 0 {
				d.Moments = append(d.Moments, Moment{date, ShareOf(c.count, c.of)})
			}
		}
		out = append(out, d)
	}
	return out
}
