package debrief

import (
	"cmp"
	"slices"
)

// Known is how many of all teams' answers on an animal by a subject were right.
type Known struct {
	Animal, Subject string
	Right, Of       int
}

// Known sums up what was asked, by animal and subject. A comparison of two
// animals counts for both. No team is told from another.
func (r Report) Known() []Known {
	type item struct{ animal, subject string }
	sums := map[item]Known{}
	for _, q := range r.Questions {
		if q.Share.Of == 0 {
			continue
		}
		for _, animal := range q.About.tested(q.Key) {
			at := item{animal, q.Subject}
			k := sums[at]
			sums[at] = Known{animal, q.Subject, k.Right + q.Share.Right, k.Of + q.Share.Of}
		}
	}
	out := make([]Known, 0, len(sums))
	for _, k := range sums {
		out = append(out, k)
	}
	slices.SortFunc(out, func(a, b Known) int {
		return cmp.Or(cmp.Compare(a.Animal, b.Animal), cmp.Compare(a.Subject, b.Subject))
	})
	return out
}
