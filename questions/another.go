package questions

import (
	"fmt"
	"slices"
)

// Gap is a place among the questions of a plan, in the order in which they are
// asked, for which another question is sought.
type Gap struct {
	Before, After []Question
	Old           Question   // what stands there
	Gone          []Question // what was taken out of this round before
	again         bool       // parts of one whole may come again
}

// Another finds a question to stand in a gap: of the old one's template if
// there is one left, else of its subject. It keeps to all that a set keeps to:
// it doesn't repeat, asks nothing that a question before it told, and tells
// nothing that one after it asks. The same wish and gap give the same question.
func (b *Bank) Another(w Wish, g Gap) (Question, error) {
	w.Subjects, w.Shares, w.Count, w.Rising = []string{g.Old.Subject}, nil, 1, false
	w.Seed = hash(fmt.Sprintf("%d, question %d", w.Seed, len(g.Gone)+1))
	if err := w.check(); err != nil {
		return Question{}, err
	}
	same := w
	same.Templates = []string{g.Old.Template}
	for try, wish := range []Wish{same, w, w} {
		g.again = try == 2 // nothing else is left
		if q, ok := newPlanner(b, wish).fill(g); ok {
			q.ID = fmt.Sprintf("r%d-%016x", len(g.Gone)+1, hash(q.wording()))
			return q, nil
		}
	}
	return Question{}, fmt.Errorf("no other question of this subject and difficulty is left that neither repeats another nor gives one away: strike it, or change the round")
}

// Bounds of Apart, after which it lets the rest stand: how often it looks in
// vain, and how much of a set it makes another.
const (
	mostRefused = 3
	mostApart   = 40
)

// Apart makes a set that is asked after other questions ask none of them again,
// nor what they told, by putting other questions in those places, as long as
// there are any.
func (b *Bank) Apart(w Wish, before, set []Question) []Question {
	var gone []Question
	refused := 0
	for i, at := range againOf(before, set) {
		if !at || refused == mostRefused || len(gone) == mostApart {
			continue
		}
		q, err := b.Another(w, Gap{Before: slices.Concat(before, set[:i]), After: set[i+1:], Old: set[i], Gone: gone})
		if err != nil {
			refused++
			continue
		}
		gone = append(gone, set[i])
		set[i] = q.Numbered(i + 1)
	}
	return set
}

// againOf says which questions of a set repeat one before it, or ask what one
// before it told.
func againOf(before, set []Question) []bool {
	out := make([]bool, len(set))
	seen := map[string]bool{}
	for _, q := range before {
		seen[q.signature()], seen[q.stem()] = true, true
	}
	for i, q := range set {
		out[i] = seen[q.signature()] || seen[q.stem()]
		recent := before[min(len(before), max(0, len(before)+i-tellsFor+1)):]
		out[i] = out[i] || slices.ContainsFunc(recent, func(b Question) bool { return givesAway(b, q) })
	}
	return out
}

// fill puts the planner where the gap is and has it ask once.
func (p *planner) fill(g Gap) (Question, bool) {
	keyed := map[string]int{}
	for _, q := range slices.Concat(g.Before, g.After, g.Gone, []Question{g.Old}) {
		p.seen[q.signature()], p.seen[q.stem()] = true, true
		p.asked[q.Template]++
		keyed[q.keySpecies()]++
	}
	for i, q := range g.Before {
		p.note(q, i+1)
	}
	p.set, p.leave = slices.Clip(g.Before), leave{uneven: true, again: g.again}
	p.fits = func(q Question) bool { return g.fits(p.bank, q) }
	p.wish.Drawings = p.wish.Drawings.asIs(g.Old)
	p.look = p.wish.Drawings.always()
	order := p.turn()
	slices.SortStableFunc(order, func(a, b string) int { return keyed[a] - keyed[b] })
	for _, p.spending = range []bool{false, true} {
		p.anyLook = p.spending
		for p.lenient = range besideStrangers + 1 {
			for _, species := range order {
				if p.ask(species); len(p.set) > len(g.Before) {
					return p.set[len(g.Before)], true
				}
			}
		}
	}
	if p.askLore() {
		return p.set[len(g.Before)], true
	}
	return Question{}, false
}

// fits reports whether a question may stand in the gap as far as what comes
// after it goes.
func (g *Gap) fits(b *Bank, q Question) bool {
	known := b.discloses(q)
	for i, later := range g.After[:min(len(g.After), tellsFor-1)] {
		soon := i < putsFor-1 && !g.again
		if givesAway(q, later) || soon && (partsOfOne(q, later) || later.spent(func(f told) bool { return slices.Contains(known, f) }) > 0) {
			return false
		}
	}
	return true
}

// Told says of each question which one before it, counted from 0, tells what it
// asks, or -1. Questions come in the order in which they are asked.
func Told(set []Question) []int {
	out := make([]int, len(set))
	for i, q := range set {
		out[i] = -1
		for j := max(0, i-tellsFor+1); j < i && out[i] < 0; j++ {
			if givesAway(set[j], q) {
				out[i] = j
			}
		}
	}
	return out
}

func givesAway(q, later Question) bool {
	var tells []told
	for _, fact := range q.tells() {
		tells = append(tells, fact.gist())
	}
	return slices.ContainsFunc(later.decides(), func(fact told) bool { return slices.Contains(tells, fact.gist()) })
}

// partsOfOne reports whether two questions ask parts of one whole.
func partsOfOne(q, later Question) bool {
	puts := q.puts()
	return slices.ContainsFunc(later.puts(), func(fact told) bool { return slices.Contains(puts, fact) })
}

// Repeats finds the first question that is the same as one before it, or -1.
func Repeats(set []Question) int {
	seen := map[string]bool{}
	for i, q := range set {
		if seen[q.signature()] {
			return i
		}
		seen[q.signature()] = true
	}
	return -1
}

// keySpecies is the animal that the question is about, or the term.
func (q Question) keySpecies() string {
	switch {
	case q.About != nil:
		return q.About.Is
	case q.labels():
		return q.Plate.Species
	}
	return q.Options[q.Key].Species
}
