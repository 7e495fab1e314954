package debrief

import "math"

// Advice is what the next set should ask: the pairs as direct comparisons, the
// rest in proportion to the weights. When a topic comes back is not its matter.
type Advice struct {
	Pairs     []Pair   `json:"pairs"` // most surely confused first
	Subjects  []Weight `json:"subjects"`
	Traits    []Weight `json:"traits"`
	Species   []Weight `json:"species"`
	Templates []Weight `json:"templates"`
}

// Weight says how much a topic should come back, weakest first. It is Below
// where its whole interval lies below the game's share, so that chance hardly
// explains it. The weight is the smoothed share of wrong answers in percent,
// three times that where Below: 1 to 300.
type Weight struct {
	Name   string `json:"name"`
	Weight int    `json:"weight"`
	Below  bool   `json:"below"`
}

func advise(r *Report) Advice {
	weigh := func(topics []Topic) []Weight {
		out := make([]Weight, len(topics))
		for i, t := range topics {
			out[i] = weightOf(t, r.Share.P)
		}
		return out
	}
	return Advice{confused(r.Questions), weigh(r.Topics.Subjects), weigh(r.Topics.Traits), weigh(r.Topics.Species), weigh(r.Topics.Templates)}
}

func weightOf(t Topic, whole Figure) Weight {
	w := Weight{t.Name, max(1, int(math.Round(100*(1-float64(t.Smoothed))))), t.Share.High < whole}
	if w.Below {
		w.Weight *= 3
	}
	return w
}
