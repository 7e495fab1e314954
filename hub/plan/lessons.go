package plan

import (
	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/questions"
)

// aboutOf keeps of a question what the debrief wants to know.
func aboutOf(q questions.Question) game.About {
	a := game.About{Template: q.Template}
	for _, o := range q.Options {
		if o.Species != "" {
			a.Species = append(a.Species, o.Species)
		} else if o.Test != nil {
			a.Stated = append(a.Stated, o.Test.All[0].Trait)
		}
	}
	if q.About != nil {
		a.Animals = append(a.Animals, q.About.Is)
		if q.About.Not != "" {
			a.Animals = append(a.Animals, q.About.Not)
		}
	}
	seen := map[string]bool{}
	for _, f := range q.Facts() {
		if !seen[f.Trait] {
			a.Traits = append(a.Traits, f.Trait)
		}
		seen[f.Trait] = true
	}
	return a
}

// lessons are an advice in the planner's terms, and how many of its pairs have
// had their turn in the rounds planned so far.
type lessons struct {
	pairs                     []questions.Pair
	subjects, species, traits map[string]float64
	turn                      int
}

// unknown is the weight of a topic of which nothing is known: half is wrong.
const unknown = 50

func lessonsOf(a debrief.Advice) lessons {
	weights := func(list []debrief.Weight) map[string]float64 {
		out := map[string]float64{}
		for _, w := range list {
			out[w.Name] = float64(w.Weight) / unknown
		}
		return out
	}
	l := lessons{subjects: weights(a.Subjects), species: weights(a.Species), traits: weights(a.Traits)}
	for _, p := range a.Pairs {
		l.pairs = append(l.pairs, questions.Pair{Subject: p.Subject, A: p.A, B: p.B})
	}
	return l
}

// steer adds the lessons to a round's wish. A round goes on with the pairs
// where the one before it stopped.
func (l *lessons) steer(w *questions.Wish) {
	if w.Traits = l.traits; len(w.Species) == 0 {
		w.Species = l.species
	}
	if n := len(l.pairs); n > 0 {
		at := l.turn % n
		w.Pairs = append(append(w.Pairs, l.pairs[at:]...), l.pairs[:at]...)
		l.turn += questions.Comparisons(w.Count)
	}
	if len(l.subjects) == 0 {
		return
	}
	for _, s := range w.Subjects {
		share, known := l.subjects[s]
		if !known {
			share = 1
		}
		w.Shares = append(w.Shares, max(1, int(share*unknown)))
	}
}
