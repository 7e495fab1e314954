package questions

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
)

// chainLengths are those of the chains asked about, in links and their ends.
var chainLengths = []int{3, 4}

// someChain is a chain in which the key stands at a place that fits.
func (m *maker) someChain(key int, fits func(at, length int) bool) (foodweb.Chain, bool) {
	for _, l := range m.dice.Perm(len(chainLengths)) {
		length := chainLengths[l]
		all := slices.DeleteFunc(slices.Clone(m.chains[length]), func(c foodweb.Chain) bool {
			at := slices.Index(c, m.species[key].Name)
			return at < 0 || !fits(at, length)
		})
		if len(all) > 0 {
			return all[m.dice.IntN(len(all))], true
		}
	}
	return nil, false
}

// find finds a species of the index.
func (ix *index) find(name string) (catalogue.Species, bool) {
	for _, s := range ix.species {
		if s.Name == name {
			return s, true
		}
	}
	return catalogue.Species{}, false
}

// called is what stands in a chain, without and with its article.
func (m *maker) called(node string) (bare, the string) {
	if s, ok := m.find(node); ok {
		return s.Vernacular, m.book.the(s)
	}
	return m.book.web.kinds[node], m.book.web.kinds[node]
}

// arrowed is a chain as it is read, with arrows to whoever eats.
func (m *maker) arrowed(c foodweb.Chain) string {
	var names []string
	for _, node := range c {
		name, _ := m.called(node)
		names = append(names, name)
	}
	return strings.Join(names, " → ")
}

// whatItHunts: "Which of these does the mink prey on?" What it does not take is
// the least of what is too large for it.
func whatItHunts(m *maker, key int) (Question, bool) {
	return m.animalOf(preysOn, key, m.book.web.tooLarge, func(a catalogue.Species) float64 { return a.Values["body_mass"].Lo })
}

// competesWith: "Which of these competes most with the coyote for food?" The
// others are those nearest to it in mass, but for what they eat.
func competesWith(m *maker, key int) (Question, bool) {
	own := m.species[key].Values["body_mass"].Lo
	return m.animalOf(rivals, key, m.book.web.otherFood, func(a catalogue.Species) float64 {
		return math.Abs(math.Log(a.Values["body_mass"].Lo / own))
	})
}

// animalOf asks for an animal of a set of the key's, among those that are none of
// it: the first in an order.
func (m *maker) animalOf(set string, key int, rest string, order func(catalogue.Species) float64) (Question, bool) {
	all := slices.DeleteFunc(slices.Clone(m.facts), func(f *fact) bool { return f.trait.From != set || !positive(f) })
	all = m.shuffled(all, sequence(len(all)))
	right := slices.IndexFunc(all, func(f *fact) bool { return f.yes.has(key) })
	wrong := slices.DeleteFunc(slices.Clone(all), func(f *fact) bool { return !f.no.has(key) })
	if right < 0 || len(wrong) < m.wrong || m.wish != 0 && 6-all[right].trait.Ease != m.wish {
		return Question{}, false
	}
	place := map[string]float64{}
	for _, s := range m.species {
		place[memberOf(set, s.Name)] = order(s)
	}
	slices.SortStableFunc(wrong, func(a, b *fact) int { return cmp.Compare(place[a.trait.ID], place[b.trait.ID]) })
	list := []statement{member(all[right])}
	wrong = wrong[:min(len(wrong), 2*m.wrong)]
	for _, i := range m.dice.Perm(len(wrong))[:m.wrong] {
		list = append(list, member(wrong[i]))
	}
	m.used[set]++
	s := m.species[key]
	q := m.byStatement(About{Is: s.Name}, list)
	q.Prompt = fmt.Sprintf(m.book.members[set], m.book.the(s))
	q.Reason = sentence(m.book.stated(s, all[right].trait, all[right].holds())) + ". " + rest
	return q, true
}

// foodChain: "Which of these can be a food chain?"
func foodChain(m *maker, key int) (Question, bool) {
	right, ok := m.someChain(key, func(int, int) bool { return true })
	if !ok {
		return Question{}, false
	}
	wrong := m.brokenChains(right)
	if len(wrong) < m.wrong {
		return Question{}, false
	}
	t := catalogue.Trait{ID: foodweb.ChainIs, Ease: 6 - len(right) + 1}
	list := []statement{}
	for _, c := range append([]foodweb.Chain{right}, wrong[:m.wrong]...) {
		list = append(list, statement{sentence(m.arrowed(c)), catalogue.Claim{Trait: foodweb.ChainIs, Op: "=", Value: c.String()}, t})
	}
	q := m.byStatement(About{Is: m.species[key].Name}, list)
	q.Prompt = m.book.web.chain
	var why []string
	for _, c := range wrong[:m.wrong] {
		if clause := m.brokenLink(c); !slices.Contains(why, clause) {
			why = append(why, clause)
		}
	}
	q.Reason = sentence(m.links(right)) + ". " + fmt.Sprintf(m.book.web.otherwise, m.book.series(why))
	return q, true
}

// links says a chain from the top: who eats whom.
func (m *maker) links(c foodweb.Chain) string {
	var clauses []string
	for i := len(c) - 1; i > 0; i-- {
		clauses = append(clauses, m.linked(c[i], c[i-1], true))
	}
	return m.book.series(clauses)
}

func (m *maker) linked(eater, food string, does bool) string {
	_, who := m.called(eater)
	_, what := m.called(food)
	says := m.book.web.preys
	if slices.Contains(foodweb.Kinds, foodweb.Kind(food)) {
		says = m.book.web.feeds
	}
	if does {
		return who + " " + fmt.Sprintf(says[0], what)
	}
	return who + " " + fmt.Sprintf(says[1], what)
}

// brokenLink says the first link of a chain that fails.
func (m *maker) brokenLink(c foodweb.Chain) string {
	for i := 1; i < len(c); i++ {
		if v := m.web.Link(m.find, c[i], c[i-1]); v.Truth != catalogue.False {
			continue
		}
		if slices.Contains(foodweb.Kinds, foodweb.Kind(c[i])) {
			return m.book.web.plantsEat
		}
		return m.linked(c[i], c[i-1], false)
	}
	return ""
}

// brokenChains are up to three that fail, by mistakes that are made: a flesh-eater
// on plants, prey that eats its hunter, a hunter of other prey, arrows turned
// round. Each is decided by what rests on enough.
func (m *maker) brokenChains(right foodweb.Chain) []foodweb.Chain {
	var out []foodweb.Chain
	take := func(list []foodweb.Chain) {
		m.dice.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		for _, c := range list {
			v := m.web.Possible(m.find, c)
			if v.Truth == catalogue.False && v.Basis >= m.least && len(out) < others {
				out = append(out, c)
				return
			}
		}
	}
	swapped := func(i, j int) []foodweb.Chain {
		c := slices.Clone(right)
		c[i], c[j] = c[j], c[i]
		return []foodweb.Chain{c}
	}
	mistakes := [][]foodweb.Chain{m.replaced(right, 1), swapped(1, 2), m.replaced(right, len(right)-1)}
	m.dice.Shuffle(len(mistakes), func(i, j int) { mistakes[i], mistakes[j] = mistakes[j], mistakes[i] })
	turned := slices.Clone(right)
	slices.Reverse(turned)
	for _, list := range append(mistakes, []foodweb.Chain{turned}, swapped(0, 1)) {
		take(list)
	}
	return out
}

// replaced are chains with another animal at a place, one that eats animals alone.
func (m *maker) replaced(right foodweb.Chain, at int) []foodweb.Chain {
	var out []foodweb.Chain
	for i, s := range m.species {
		if !slices.Contains(right, s.Name) && m.value(i, feedsAs).Text == string(foodweb.Higher) {
			c := slices.Clone(right)
			c[at] = s.Name
			out = append(out, c)
		}
	}
	return out
}

// chainLevel: "In this food chain, what is the bobcat?"
func chainLevel(m *maker, key int) (Question, bool) {
	c, ok := m.someChain(key, func(int, int) bool { return true })
	if !ok {
		return Question{}, false
	}
	at := slices.Index(c, m.species[key].Name)
	return m.ofChain(key, c, foodweb.LevelIn, foodweb.Levels, at, m.book.web.level4,
		fmt.Sprintf(m.book.web.levelIn, m.arrowed(c), m.book.the(m.species[key])), sentence(m.links(c))+fmt.Sprintf(m.book.web.soItIs, m.book.the(m.species[key]), m.book.web.level4[foodweb.Levels[at]])), true
}

// chainEffect: what follows in the short run if one animal of a chain is gone.
func chainEffect(m *maker, key int) (Question, bool) {
	c, ok := m.someChain(key, func(at, length int) bool { return at+1 < length })
	if !ok {
		return Question{}, false
	}
	at := slices.Index(c, m.species[key].Name)
	below, _ := m.called(c[at-1])
	above, _ := m.called(c[at+1])
	said := map[string]string{}
	for outcome, format := range m.book.web.outcomes {
		said[outcome] = strings.NewReplacer("{below}", below, "{above}", above).Replace(format)
	}
	return m.ofChain(key, c, foodweb.IfGone, foodweb.Outcomes, 0, said,
		fmt.Sprintf(m.book.web.ifGone, m.arrowed(c), m.book.the(m.species[key])), fmt.Sprintf(m.book.web.ifGoneReason, below, above)), true
}

// ofChain lays out a question on a chain whose options are words.
func (m *maker) ofChain(key int, c foodweb.Chain, trait string, words []string, right int, said map[string]string, prompt, reason string) Question {
	t := catalogue.Trait{ID: trait, Ease: 7 - len(c)}
	state := func(word string) statement {
		return statement{sentence(said[word]), catalogue.Claim{Trait: trait, Op: "=", Value: word + " in " + c.String()}, t}
	}
	list := []statement{state(words[right])}
	for i, word := range words {
		if i != right {
			list = append(list, state(word))
		}
	}
	q := m.byStatement(About{Is: m.species[key].Name}, list)
	q.Prompt, q.Reason = prompt, reason
	return q
}
