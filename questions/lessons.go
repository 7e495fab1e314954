package questions

import (
	"cmp"
	"math"
	"slices"

	"fieldsign/questions/catalogue"
)

// What a debrief asks for: pairs to be told apart, and weights.

// compareEvery: one question in so many compares a pair, if there are pairs.
const compareEvery = 3

// insistence is the power in which weights count where chance says what a trait has to weigh.
const insistence = 8

// anyone may stand beside the key.
const anyone = -1

// Comparisons is how many pairs have their turn in a set of so many questions.
func Comparisons(count int) int { return (count + compareEvery - 1) / compareEvery }

// WithTerms is how large a set is that has so many questions beside those on the trade's own words.
func WithTerms(count int) int {
	size := count
	for size-(size+loreEvery-1-loreEvery/2)/loreEvery < count { // see loreDue
		size++
	}
	return size
}

func (p *planner) comparisonDue() bool {
	return len(p.wish.Pairs) > 0 && len(p.set)%compareEvery == 0
}

// compare adds a question on the next pair that gives one.
func (p *planner) compare() {
	p.comparing = true
	defer func() { p.comparing = false }()
	for range p.wish.Pairs {
		pair := p.wish.Pairs[p.pair%len(p.wish.Pairs)]
		p.pair++
		if p.askPair(pair) {
			return
		}
	}
}

// askPair takes either species for the key, at random.
func (p *planner) askPair(pair Pair) bool {
	names := []string{pair.A, pair.B}
	p.dice.Shuffle(2, func(i, j int) { names[i], names[j] = names[j], names[i] })
	for s, m := range p.makers {
		key, in := p.places[s][names[0]]
		other, also := p.places[s][names[1]]
		if m.subject == pair.Subject && in && also && (p.askBeside(m, key, other) || p.askBeside(m, other, key)) {
			p.subjects[s] += 1 / p.share(s)
			return true
		}
	}
	return false
}

func (p *planner) askBeside(m *maker, key, other int) bool {
	m.wish, m.beside = 0, other
	defer func() { m.beside = anyone }()
	compare := func() bool { return p.byTiers(m, func() bool { return p.compareBy(m, key) }) }
	return p.weighty(compare) || compare()
}

func (p *planner) compareBy(m *maker, key int) bool {
	for _, t := range rarest(p.dice, len(templates), p.turns) {
		if templates[t].compares && p.wanted(templates[t], m.subject) && p.try(templates[t], m, key) {
			return true
		}
	}
	return false
}

// chooseBeside is choose with one place taken. It returns nil where that
// species is not among the fit ones.
func (m *maker) chooseBeside(fit []neighbour, n int) []int {
	at := slices.IndexFunc(fit, func(nb neighbour) bool { return nb.species == m.beside })
	if at < 0 {
		return nil
	}
	rest := slices.Delete(fit, at, at+1)
	rest = rest[:min(len(rest), 2*n)]
	m.dice.Shuffle(len(rest), func(i, j int) { rest[i], rest[j] = rest[j], rest[i] })
	out := []int{m.beside}
	for _, nb := range rest[:n-1] {
		out = append(out, nb.species)
	}
	return out
}

// due orders facts by their traits: the least comes next. A trait weighs what the
// trade teaches it, by the catalogue, and what the wish gives it. In its first turn
// it is ahead by chance, else each set would begin with what weighs most.
func (m *maker) due(f *fact, weight float64) float64 { return (m.turns(f.root) + 1) / weight }

// turns is how often a trait decided, or an answer was the key, less what it is ahead by.
func (m *maker) turns(of string) float64 {
	u := m.used[of]
	if !u.drawn {
		u.ahead, u.drawn = m.dice.Float64(), true
		m.used[of] = u
	}
	return float64(u.times) - u.ahead
}

// uses counts how often a trait, an answer or a sort of sum has decided.
type uses map[string]use

// use is so many times, and what it is ahead by, once that is drawn: a part of one
// turn, so that another set begins with others.
type use struct {
	times int
	ahead float64
	drawn bool
}

func (all uses) add(of string) {
	u := all[of]
	u.times++
	all[of] = u
}

// weight is what the trade teaches a trait, by the catalogue, times what the wish
// gives it.
func (m *maker) weight(t *catalogue.Trait) float64 { return t.Weight * m.weightOf(t) }

func (m *maker) weightOf(t *catalogue.Trait) float64 {
	if len(m.weights) == 0 {
		return 1
	}
	return cmp.Or(m.weights[t.ID], m.weights[t.From], 1)
}

// weighty runs an ask by traits that weigh as much as chance says, the heaviest more often
// than any other. What a set does better without is let in before traits that weigh less.
func (p *planner) weighty(ask func() bool) bool {
	if p.heaviest == 0 || p.forgiving {
		return false
	}
	usual := p.leave
	defer func() { p.leave, p.floor = usual, 0 }()
	p.floor = p.heaviest * math.Pow(p.dice.Float64(), 1./insistence)
	for _, p.leave = range weightyRungs {
		if ask() {
			return true
		}
	}
	return false
}

// weightyRungs are those of a weighty question: nothing that was told is asked, and in the
// end its statements may fit any other animal.
var weightyRungs = []leave{
	{uneven: true},
	{uneven: true, spending: true, anyTold: true},
	{uneven: true, spending: true, anyTold: true, anyLook: true, unspared: true},
	{uneven: true, spending: true, anyTold: true, anyLook: true, unspared: true, lenient: tellOfStrangers},
}

// offers reports whether an animal has a trait that weighs enough, and that nobody was told of it.
func (p *planner) offers(m *maker, key int) bool {
	return p.floor == 0 || slices.ContainsFunc(m.of[key], func(i int) bool {
		f := m.facts[i]
		return m.weightOf(&f.trait) >= p.floor && !p.wasTold(told{m.species[key].Name, f.gist})
	})
}

// weighs reports whether a fact may decide, by its trait's weight.
func (m *maker) weighs(f *fact) bool { return m.floor == 0 || m.weightOf(&f.trait) >= m.floor }

// worthIt reports whether one of the traits that decide a question weighs enough.
func (m *maker) worthIt(q Question) bool {
	return m.floor == 0 || slices.ContainsFunc(q.Test.All, func(c catalogue.Claim) bool {
		t := m.traits[c.Trait]
		return m.weightOf(&t) >= m.floor
	})
}

// heaviest is the greatest weight there is, or 0 without any.
func heaviest(weights map[string]float64) float64 {
	if len(weights) == 0 {
		return 0
	}
	most := 1.0
	for _, w := range weights {
		most = max(most, w)
	}
	return most
}

// weighedTurn gives the species turns in proportion to their weights. It may
// leave some out; a turn that must reach all of them is a plain one.
func (p *planner) weighedTurn() []string {
	order := make([]string, len(p.species))
	for i := range order {
		next := p.mostDue()
		p.keyed[next] += 1 / p.weight(next)
		order[i] = p.species[next]
	}
	return order
}

func (p *planner) mostDue() int {
	first := p.dice.IntN(len(p.species)) // so that equals take turns at random
	best, least := first, p.keyed[first]+1/p.weight(first)
	for i := range p.species {
		at := (first + i) % len(p.species)
		if due := p.keyed[at] + 1/p.weight(at); due < least {
			best, least = at, due
		}
	}
	return best
}

func (p *planner) weight(species int) float64 {
	return cmp.Or(p.wish.Species[p.species[species]], 1)
}
