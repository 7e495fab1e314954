package debrief

import (
	"cmp"
	"slices"
)

// Topics are shares by what questions are about, the weakest first.
type Topics struct {
	Subjects  []Topic `json:"subjects"`
	Traits    []Topic `json:"traits"`
	Species   []Topic `json:"species"`
	Templates []Topic `json:"templates"`
}

// Topic is how well one topic is known.
type Topic struct {
	Name      string `json:"name"`
	Questions int    `json:"questions"`
	Share     Share  `json:"share"`
	Smoothed  Figure `json:"smoothed"` // two right and two wrong answers added (Agresti and Coull 1998)
	Level     string `json:"level"`    // strong, weak or ""
}

// Strong from a smoothed share of 0.7 and Weak down to 0.3: that takes at
// least 3 of 3, 5 of 6 or 8 of 10, and as many wrong for weak. One answer
// makes neither.
const (
	Strong = "strong"
	Weak   = "weak"
)

func topicOf(name string, questions, right, of int) Topic {
	t := Topic{Name: name, Questions: questions, Share: ShareOf(right, of), Smoothed: Figure(float64(right+2) / float64(of+4))}
	switch {
	case 10*(right+2) >= 7*(of+4):
		t.Level = Strong
	case 10*(right+2) <= 3*(of+4):
		t.Level = Weak
	}
	return t
}

// sum is what has been counted for a topic.
type sum struct{ questions, right, of int }

type sums map[string]sum

func (s sums) add(names []string, right, of int) {
	for _, n := range names {
		t := s[n]
		s[n] = sum{t.questions + 1, t.right + right, t.of + of}
	}
}

func (s sums) topics() []Topic {
	out := make([]Topic, 0, len(s))
	for name, t := range s {
		out = append(out, topicOf(name, t.questions, t.right, t.of))
	}
	slices.SortFunc(out, func(a, b Topic) int {
		return cmp.Or(cmp.Compare(a.Smoothed, b.Smoothed), cmp.Compare(a.Name, b.Name))
	})
	return out
}

// byTopic sums up what counts; result says what an item adds.
func byTopic(items []Item, result func(*Item) (right, of int)) (Share, Topics) {
	var all sum
	subjects, traits, species, templates := sums{}, sums{}, sums{}, sums{}
	for i := range items {
		it := &items[i]
		right, of := result(it)
		if of == 0 {
			continue
		}
		all.right, all.of = all.right+right, all.of+of
		subjects.add(distinct([]string{it.Subject}), right, of)
		traits.add(distinct(it.About.Traits), right, of)
		species.add(it.About.tested(it.Key), right, of)
		templates.add(distinct([]string{it.About.Template}), right, of)
	}
	return ShareOf(all.right, all.of), Topics{subjects.topics(), traits.topics(), species.topics(), templates.topics()}
}
