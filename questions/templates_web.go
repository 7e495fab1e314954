package questions

import (
	"cmp"
	"fmt"
	"maps"
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

// find finds a species of the index, or one that its chains borrow.
func (ix *index) find(name string) (catalogue.Species, bool) {
	for _, list := range [][]catalogue.Species{ix.species, ix.borrowed} {
		for i := range list {
			if list[i].Name == name {
				return list[i], true
			}
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

// competesWith: "Which of these competes most with the coyote for food?" The
// others are those nearest to it in mass, but for what they eat.
func competesWith(m *maker, key int) (Question, bool) {
	return m.animalOf(rivals, key, m.book.web.otherFood, func(a catalogue.Species) float64 { return unlikeInMass(a, m.species[key]) })
}

// unlikeInMass is how many times as heavy one of two is, as a logarithm.
func unlikeInMass(a, b catalogue.Species) float64 {
	return math.Abs(math.Log(a.Values["body_mass"].Lo / b.Values["body_mass"].Lo))
}

// livesOnWhat: "What does the otter live on, for the most part?" Plants are asked
// about only where both kinds of them are options: nobody takes a moose for a fisher.
func livesOnWhat(m *maker, key int) (Question, bool) {
	q, ok := memberQuestion(livesOn)(m, key)
	offered := func(k foodweb.Kind) bool {
		return slices.ContainsFunc(q.Options, func(o Option) bool { return o.Test.All[0].Trait == memberOf(livesOn, string(k)) })
	}
	return q, ok && (foodweb.ByAnimals(m.species[key]) || offered(foodweb.Green) && offered(foodweb.Seeds))
}

// animalOf asks for an animal of a set of the key's, among those that are none of
// it: the first in an order. One of these lives as the key does, by animals or plants.
func (m *maker) animalOf(set string, key int, rest string, order func(catalogue.Species) float64) (Question, bool) {
	all := slices.DeleteFunc(slices.Clone(m.facts), func(f *fact) bool { return f.trait.From != set || !positive(f) })
	all = m.shuffled(all, sequence(len(all)), func(f *fact) bool { return f.yes.has(key) || f.no.has(key) })
	right := slices.IndexFunc(all, func(f *fact) bool { return f.yes.has(key) })
	wrong := slices.DeleteFunc(slices.Clone(all), func(f *fact) bool { return !f.no.has(key) })
	if right < 0 || !m.enough(len(wrong)) || m.wish != 0 && 6-all[right].trait.Ease != m.wish {
		return Question{}, false
	}
	place := map[string]int{}
	for i, s := range m.species {
		place[memberOf(set, s.Name)] = i
	}
	of := func(f *fact) int { return place[f.trait.ID] }
	slices.SortStableFunc(wrong, func(a, b *fact) int { return cmp.Compare(order(m.species[of(a)]), order(m.species[of(b)])) })
	if called := m.namesakes([]int{of(all[right])}); called.has(key) && !slices.ContainsFunc(wrong, func(f *fact) bool { return called.has(of(f)) }) {
		return Question{}, false // the one squirrel beside a squirrel
	}
	alike := slices.IndexFunc(wrong, func(f *fact) bool { return !m.oddOneFed(key, []int{of(f)}) })
	if alike < 0 {
		return Question{}, false
	}
	list, guests := []statement{member(all[right]), member(wrong[alike])}, []int{of(wrong[alike])}
	wrong = slices.Delete(wrong, alike, alike+1)
	wrong = wrong[:min(len(wrong), 2*m.wrong)]
	for _, i := range m.dice.Perm(len(wrong)) {
		if len(list) <= m.wrong && !m.sameStranger(key, of(wrong[i]), guests) {
			list, guests = append(list, member(wrong[i])), append(guests, of(wrong[i]))
		}
	}
	hoof := func(i int) bool { return hoofed(m.species[i]) }
	if !m.enough(len(list)-1) || hoof(key) && !slices.ContainsFunc(guests, hoof) {
		return Question{}, false // nobody takes a lynx for the rival of a moose
	}
	m.used.add(set)
	s := m.species[key]
	q := m.byStatement(About{Is: s.Name}, list)
	q.Prompt = fmt.Sprintf(m.book.members[set], m.book.the(s))
	q.Reason = sentence(m.book.stated(s, all[right].trait, all[right].holds)) + ". " + rest
	if foods, says := m.mainFoods(list[1:], place); len(says) == m.wrong {
		q.Reason, q.says = strings.Replace(q.Reason, rest, foods, 1), says
	}
	return q, true
}

// sameStranger reports whether an animal lives on what one of some lives on, and neither
// lives as the key does: two bats are one rival too many for a chipmunk.
func (m *maker) sameStranger(key, i int, some []int) bool {
	food, known := m.mainFood(i)
	return known && foodweb.ByAnimals(m.species[i]) != foodweb.ByAnimals(m.species[key]) && slices.ContainsFunc(some, func(o int) bool {
		other, also := m.mainFood(o)
		return also && other.ID == food.ID
	})
}

// mainFoods says what the animals of some statements live on, as far as that is decided.
func (m *maker) mainFoods(list []statement, place map[string]int) (string, []told) {
	var clauses []string
	var says []told
	for _, s := range list {
		i := place[s.claim.Trait]
		if food, known := m.mainFood(i); known {
			clauses, says = append(clauses, m.shows(i, food)), append(says, told{m.species[i].Name, food.ID})
		}
	}
	return sentence(strings.Join(clauses, "; ")) + ".", says
}

// foodChain: "Which of these can be a food chain?"
func foodChain(m *maker, key int) (Question, bool) {
	right, ok := m.someChain(key, func(int, int) bool { return true })
	if !ok {
		return Question{}, false
	}
	wrong := m.brokenChains(right)
	if !m.enough(len(wrong)) {
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
		says = m.book.web.eats
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
			return fmt.Sprintf(m.book.web.plantsEat, m.book.web.plants[c[i]])
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

// replaced are chains with another animal at a place, one that eats animals alone:
// of those that live where the others do, the nearest in mass.
func (m *maker) replaced(right foodweb.Chain, at int) []foodweb.Chain {
	place, _ := m.find(right[at])
	own := m.animalsOf(right)
	var near []catalogue.Species
	for i, s := range m.species {
		if m.value(i, feedsAs).Text == string(foodweb.Higher) && !slices.Contains(right, s.Name) && foodweb.Together(append(own[:len(own):len(own)], s)) {
			near = append(near, s)
		}
	}
	slices.SortStableFunc(near, func(a, b catalogue.Species) int { return cmp.Compare(unlikeInMass(a, place), unlikeInMass(b, place)) })
	var out []foodweb.Chain
	for _, s := range near[:min(len(near), others+1)] {
		c := slices.Clone(right)
		c[at] = s.Name
		out = append(out, c)
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
	said := map[string]string{}
	for _, level := range foodweb.Levels {
		said[level+" in "+c.String()] = m.book.web.level4[level]
	}
	right := foodweb.Levels[at]
	return m.ofChain(key, c, foodweb.LevelIn, right+" in "+c.String(), said, fmt.Sprintf(m.book.web.levelIn, m.arrowed(c), m.book.the(m.species[key])),
		sentence(m.links(c))+fmt.Sprintf(m.book.web.soItIs, m.book.the(m.species[key]), m.book.web.level4[right])), true
}

// change is what happens to the link of a chain at a place, and what follows.
type change struct {
	trait, outcome string
	at             int
}

// chainEffect: what follows soon if one link of a chain is gone, or there comes to
// be more of it. Each outcome is the key as often as another.
func chainEffect(m *maker, key int) (Question, bool) {
	c, ok := m.someChain(key, func(int, int) bool { return true })
	if !ok {
		return Question{}, false
	}
	outcome := one(m, foodweb.Outcomes)
	var all []change
	for at := range c {
		for _, trait := range []string{foodweb.IfGone, foodweb.IfMore} {
			if c.Outcome(trait, at) == outcome {
				all = append(all, change{trait, outcome, at})
			}
		}
	}
	return m.ofChange(key, c, one(m, all)), true
}

// ofChange lays out what follows from a change.
func (m *maker) ofChange(key int, c foodweb.Chain, ch change) Question {
	lower, upper := c.Watched(ch.at)
	changed, _ := m.called(c[ch.at])
	put := []string{"{chain}", m.arrowed(c), "{bare}", changed, "{changed}", m.amount(c[ch.at]), "{lower}", m.amount(c[lower]), "{upper}", m.amount(c[upper])}
	for _, turn := range []string{"more", "fewer"} {
		put = append(put, "{"+turn+" lower}", m.turned(turn, c[lower]), "{"+turn+" upper}", m.turned(turn, c[upper]))
	}
	fill, after := strings.NewReplacer(put...), " after "+c[ch.at]+" in "+c.String()
	said := map[string]string{}
	for _, outcome := range foodweb.Outcomes {
		below, above, _ := strings.Cut(outcome, ", ")
		said[outcome+after] = m.turned(below, c[lower]) + m.book.web.besides + m.turned(above, c[upper])
	}
	kind := ch.trait + map[int]string{0: " bottom", len(c) - 1: " top"}[ch.at]
	asks := m.book.web.changes[kind]
	if asks == "" {
		asks = m.book.web.changes[ch.trait]
	}
	return m.ofChain(key, c, ch.trait, ch.outcome+after, said, fill.Replace(asks), fill.Replace(m.book.web.follows[kind]))
}

// amount is what stands in a chain as something there is more or less of.
func (m *maker) amount(node string) string {
	if s, animal := m.find(node); animal {
		return m.book.web.herd(s)
	}
	return m.book.web.plants[node]
}

// turned says that there is more or less of what stands in a chain.
func (m *maker) turned(turn, node string) string {
	formats := m.book.web.turns[turn]
	if _, animal := m.find(node); animal {
		return fmt.Sprintf(formats[0], m.amount(node))
	}
	return fmt.Sprintf(formats[1], m.amount(node))
}

// ofChain lays out a question on a chain whose options are words, by their claims.
func (m *maker) ofChain(key int, c foodweb.Chain, trait, right string, said map[string]string, prompt, reason string) Question {
	t := catalogue.Trait{ID: trait, Ease: 7 - len(c)}
	state := func(value string) statement {
		return statement{sentence(said[value]), catalogue.Claim{Trait: trait, Op: "=", Value: value}, t}
	}
	list := []statement{state(right)}
	for _, value := range slices.Sorted(maps.Keys(said)) {
		if value != right {
			list = append(list, state(value))
		}
	}
	q := m.byStatement(About{Is: m.species[key].Name}, list)
	q.Prompt, q.Reason = prompt, reason
	return q
}
