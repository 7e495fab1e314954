package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// template is one way to ask about a key species. make reports false where
// the catalogue can't support it for that species.
type template struct {
	name     string
	subjects []string // none: all
	make     func(m *maker, key int) (Question, bool)
	weight   float64 // how often it is asked beside the others; 0: only where a wish names it

	drawn      bool                  // it always shows a drawing; the others never do
	most       float64               // the share of a set that it may have beyond its first question, where others can be asked; 0: any
	neverMore  bool                  // nor has a set more of it where nothing else is left
	compares   bool                  // it can set a given animal beside the key
	atStations bool                  // it asks about an animal by name, and about it alone
	asksNone   bool                  // what it asks is the animal, and not the claim that decides
	asksPart   string                // the whole of which it always asks a part
	reasonSays string                // a trait that its reason says beside those that decide
	answer     func(Question) string // which of its two answers is the key, where they take turns
}

// templates is the table to extend: a row here and its function are a new template.
// Denials are rare, no set is all labels, and who has turned one chain round can turn any.
var templates = []template{
	{name: "has-trait", make: hasTrait, weight: 1, compares: true},
	{name: "lacks-trait", subjects: catalogue.Subjects, make: lacksTrait, weight: .25, most: .03, compares: true},
	{name: "name-the-animal", make: nameTheAnimal, weight: 1, compares: true},
	{name: "separates", subjects: catalogue.Subjects, make: separates, weight: 1.5, compares: true},
	{name: "largest", make: largest, weight: .5, compares: true},
	{name: "smallest", make: smallest, weight: .5, compares: true},
	{name: "compound", subjects: []string{"animal", "skull"}, make: compound, weight: .5},
	{name: "odd-one-out", subjects: catalogue.Subjects, make: oddOneOut, weight: .5},
	{name: "true-of", subjects: catalogue.Subjects, make: trueOf, weight: 1, atStations: true},
	{name: "not-true-of", subjects: denied, make: notTrueOf, weight: .25, most: .04, atStations: true},
	{name: whosePlateName, make: whosePlate, weight: 4, drawn: true, compares: true},
	{name: "read-the-plate", make: readThePlate, weight: 1, drawn: true},
	{name: "which-plate", subjects: compared, make: whichPlate, weight: 2, drawn: true, asksNone: true},
	{name: "plate-shows", subjects: compared, make: plateShows, weight: 1, drawn: true},
	{name: "same-animal", subjects: []string{"track"}, make: sameAnimal, weight: 1.5, drawn: true, most: .1, answer: oneKindOrTwo},
	{name: "which-foot", subjects: []string{"track"}, make: whichFoot, weight: .5, drawn: true, most: .04, answer: feetAlikeOrNot},
	{name: "label-it", subjects: []string{"skull"}, make: labelIt, weight: 1, drawn: true, most: .12},
	{name: TypeTheName, make: typeTheName},
	{name: "formula-to-animal", subjects: []string{"skull"}, make: formulaToAnimal, weight: 1, asksPart: formula},
	{name: "animal-to-formula", subjects: []string{"skull"}, make: animalToFormula, weight: 1, atStations: true, asksPart: formula},
	{name: "count-the-teeth", subjects: []string{"skull"}, make: countTheTeeth, weight: .5, atStations: true, asksPart: formula, reasonSays: formula},
	{name: teethLacked, subjects: []string{"skull"}, make: missingTeeth, weight: .5, most: .04, atStations: true, asksPart: formula, reasonSays: formula},
	{name: "trail-pattern", subjects: []string{"track"}, make: trailPattern, weight: 1},
	{name: "where-left", subjects: []string{"scat"}, make: memberQuestion("scat_placement"), weight: 1, atStations: true, asksPart: "scat_placement"},
	{name: "what-it-holds", subjects: []string{"scat"}, make: memberQuestion("scat_contents"), weight: 1, atStations: true, asksPart: "scat_contents"},
	{name: "lives-on", subjects: []string{catalogue.FoodWeb}, make: livesOnWhat, weight: .5},
	{name: "competes-with", subjects: []string{catalogue.FoodWeb}, make: competesWith, weight: .5},
	{name: "food-chain", subjects: []string{catalogue.FoodWeb}, make: foodChain, weight: 2},
	{name: "chain-level", subjects: []string{catalogue.FoodWeb}, make: chainLevel, weight: 1},
	{name: "worked-sum", subjects: []string{catalogue.Management}, make: workedSum, weight: 1},
	{name: "chain-effect", subjects: []string{catalogue.FoodWeb}, make: chainEffect, weight: 1, most: .3, neverMore: true},
	{name: "whose-specimen", subjects: []string{catalogue.Specimen}, make: whoseSpecimen, weight: 1, drawn: true},
	{name: "what-sign", subjects: []string{"sign"}, make: whatSign, weight: 2, drawn: true},
	{name: "what-it-leaves", subjects: []string{"sign"}, make: memberQuestion("sign", "sign_built", "sign_ground", "sign_marks", "sign_scent", "sign_meals", "sign_ways"), weight: 2, atStations: true},
	{name: "where-it-dens", subjects: []string{"sign"}, make: memberQuestion("den_place"), weight: .5, atStations: true},
}

// denied are the subjects in which an animal is known by what it lacks. Of signs no
// source says what an animal leaves not.
var denied = slices.DeleteFunc(slices.Clone(catalogue.Subjects), func(s string) bool { return s == "sign" })

// compared are the subjects of which four drawings are told apart.
var compared = []string{"skull", "track", "scat"}

// Names of templates that others name, too. The answer of a TypeTheName is typed, and
// a set has it on request.
const (
	TypeTheName    = "type-the-name"
	whosePlateName = "whose-plate"
)

// row is the template that a question was made by; an empty one of the trade's own words.
func (q Question) row() template {
	at := slices.IndexFunc(templates, func(t template) bool { return t.name == q.Template })
	if at < 0 {
		return template{}
	}
	return templates[at]
}

// Templates names all templates.
func Templates() []string {
	var names []string
	for _, t := range templates {
		names = append(names, t.name)
	}
	for _, t := range loreTemplates {
		names = append(names, t.name)
	}
	return names
}

// A question has three wrong options, or two where no third animal could be
// taken for the key.
const (
	others = optionCount - 1
	fewest = 2
)

// hasTrait: "Which animal's skull has a sagittal crest?"
func hasTrait(m *maker, key int) (Question, bool) {
	return m.single(key, m.holding(key), func(f *fact) bool {
		return f.trait.Kind != catalogue.Formula && !zero(f) && positive(f) && f.trait.From != rivals
	})
}

// formulaToAnimal: "Which animal's skull has the dental formula …?"
func formulaToAnimal(m *maker, key int) (Question, bool) {
	return m.single(key, m.holding(key), func(f *fact) bool { return f.trait.Kind == catalogue.Formula })
}

// lacksTrait: "Which animal's skull has no diastema?"
func lacksTrait(m *maker, key int) (Question, bool) {
	return m.single(key, m.holding(key), func(f *fact) bool { return zero(f) || !positive(f) && f.trait.From == "" && f.trait.ID != shortToo })
}

// shortToo is never asked as a lack: who has no long claws may leave marks of short ones.
const shortToo = "long_front_claws"

func zero(f *fact) bool     { return f.trait.Kind == catalogue.Count && f.value.Typical().Lo == 0 }
func positive(f *fact) bool { return f.trait.Kind != catalogue.YesNo || f.value.Text == "yes" }

// none facts say that an animal has nothing of the kind.
func none(f *fact) bool { return f.value.Typical().Text == "none" }

// single asks for the one species of four that a fact holds for.
func (m *maker) single(key int, places []int, fit func(*fact) bool) (Question, bool) {
	for _, f := range m.shuffled(m.facts, places, func(f *fact) bool { return fit(f) && !f.plain && m.weighs(f) }) {
		if m.inName(key, f) {
			continue
		}
		m.lookAt(f.trait)
		if wrong := m.mixedCompany(key, m.taughtOf(key, f.trait, f.no), m.wrong); wrong != nil && (!strings.HasPrefix(f.trait.ID, preysOn+"_") || !m.idle([]*fact{f}, wrong)) {
			m.used.add(f.root)
			q := m.bySpecies(key, wrong, m.name, []catalogue.Claim{f.claim})
			q.Difficulty = m.easyAs(f.trait, q.Difficulty)
			s := m.species[key]
			q.Prompt = m.book.which(m.book.part(s, f.trait), "", m.bears(f.holds, append([]int{key}, wrong...)))
			q.reason = func() string {
				reason := fmt.Sprintf(m.book.only, m.book.stated(s, f.trait, f.holds)) + m.exclusions(wrong, []*fact{f})
				return strings.TrimSuffix(reason, " "+m.book.noneDoes) // "only" has said it
			}
			return q, true
		}
	}
	return Question{}, false
}

// taughtOf are those of some of whom a trait is taught, where it is of their teeth, or who
// bear what the key bears: antlers are told among antlers, by more than the word. Nobody takes
// one of dry land for what leaves its scat by the water.
func (m *maker) taughtOf(key int, t catalogue.Trait, some bitset) bitset {
	out := some.clone()
	switch {
	case t.ID == gearShape:
		if alike := some.clone().with(m.sameGear(key)); alike.count() >= fewest {
			return alike
		}
	case related[t.ID].hint == teeth:
		for _, i := range some.members() {
			if m.overlooked(i, t.ID) {
				out.drop(i)
			}
		}
	case t.ID == byWater:
		for _, i := range some.members() {
			if m.value(i, "semi_aquatic").Text == "no" {
				out.drop(i)
			}
		}
	}
	return out
}

// byWater is where otters, minks and muskrats leave their scat.
const byWater = "scat_placement_on_rocks_and_logs_by_water"

// gearShape is known of antlers and horns, and its words say which of them.
const gearShape = "gear_shape"

// sameGear are those that bear antlers, or horns, as the key does.
func (m *maker) sameGear(key int) bitset {
	out := newBitset(len(m.species))
	for i := range m.species {
		if m.value(i, "head_gear").Typical().Text == m.value(key, "head_gear").Typical().Text {
			out.add(i)
		}
	}
	return out
}

// bears is a phrase on antlers or horns as it is said of some animals.
func (m *maker) bears(phrase string, all []int) string {
	var species []catalogue.Species
	for _, i := range all {
		species = append(species, m.species[i])
	}
	return m.book.bears(phrase, species...)
}

// easyAs is how difficult a question can be whose one fact all know: who builds dams,
// and who eats plants, whatever stands beside.
func (m *maker) easyAs(t catalogue.Trait, difficulty int) int {
	if m.subject == "sign" || m.subject == catalogue.FoodWeb {
		return min(difficulty, 7-t.Ease)
	}
	return difficulty
}

// nameTheAnimal: "Name the animal: its … and its …."
func nameTheAnimal(m *maker, key int) (Question, bool) {
	facts := m.shuffled(m.facts, m.holding(key), func(f *fact) bool {
		own := f.yes.count() == 1 // of no other animal: it would do alone
		return !own && f.trait.Kind != catalogue.Formula && m.tells(key, f) && !m.inName(key, f)
	})
	for start := range min(len(facts), 4) {
		chosen := distinctTraits(facts[start:], 3)
		if len(chosen) < 2 {
			break
		}
		excluded := newBitset(len(m.species))
		for _, f := range chosen {
			excluded.plus(f.no)
		}
		m.leaveOutPrey(excluded, chosen)
		m.leaveOutEaters(excluded, chosen)
		wrong := m.mixedCompany(key, excluded, m.wrong)
		chosen = covering(chosen, wrong)
		if wrong == nil || oneSays(chosen, wrong) || m.idle(chosen, wrong) {
			continue
		}
		return m.described(key, wrong, chosen), true
	}
	return Question{}, false
}

// leaveOutEaters leaves out whoever's scat may hold, or not, what a clue says: struck by
// another clue alone, it would seem to hold it often.
func (m *maker) leaveOutEaters(excluded bitset, clues []*fact) {
	for _, f := range clues {
		if f.trait.From == "scat_contents" {
			excluded.with(f.no.clone().plus(f.yes))
		}
	}
}

// oneSays reports whether one of several clues would do, and the others are idle.
func oneSays(clues []*fact, wrong []int) bool {
	return slices.ContainsFunc(clues, func(f *fact) bool {
		return ruleOut([]*fact{f}, wrong) || f.trait.Subject == "sign" && f.soleAmong(wrong)
	})
}

// soleAmong reports whether a fact is shown by none of the others: what is not known
// of them is no clue to a reader.
func (f *fact) soleAmong(wrong []int) bool { return !slices.ContainsFunc(wrong, f.yes.has) }

// worthSaying are facts of which a statement may speak.
// Whom an animal competes with says little of it beside other facts.
func worthSaying(f *fact) bool {
	return (positive(f) || zero(f)) && !f.plain && f.trait.From != rivals
}

// telling facts are seen on the animal and hold for the fewer species.
func (f *fact) telling() bool {
	return worthSaying(f) && f.yes.count() <= f.no.count()
}

func distinctTraits(facts []*fact, n int) []*fact {
	var out []*fact
	for _, f := range facts {
		if len(out) < n && !slices.ContainsFunc(out, func(o *fact) bool { return root(o.trait) == root(f.trait) }) {
			out = append(out, f)
		}
	}
	return out
}

func (m *maker) described(key int, wrong []int, facts []*fact) Question {
	q := m.decided(key, wrong, facts)
	q.Prompt = fmt.Sprintf(m.book.whichIsThis, sentence(m.book.describe(m.species[key], facts)))
	q.reason = func() string {
		return fmt.Sprintf(m.book.onlyFits, m.book.the(m.species[key])) + m.exclusions(wrong, facts)
	}
	return q
}

// decided lays out the animals of which the facts tell the key; it has no words yet.
func (m *maker) decided(key int, wrong []int, facts []*fact) Question {
	var claims []catalogue.Claim
	for _, f := range facts {
		m.used.add(f.root)
		claims = append(claims, f.claims()...)
	}
	return m.bySpecies(key, wrong, m.name, claims)
}

// exclusions says for each distractor one claim that it fails. That none leaves a sign
// is said once.
func (m *maker) exclusions(wrong []int, facts []*fact) string {
	var all []saying
	for _, i := range wrong {
		all = append(all, m.saying(i, m.failed(i, facts)))
	}
	if groups := alike(all); m.subject == "sign" && len(groups) == 1 && len(wrong) > 1 && m.failed(wrong[0], facts).Kind == catalogue.YesNo {
		return m.book.noneDoes
	}
	var clauses []string
	for _, same := range alike(all) {
		clauses = append(clauses, m.told(same))
	}
	return sentence(strings.Join(clauses, "; ")) + "."
}

// saying is what is said of an animal: its part does as the phrase says.
type saying struct {
	i            int
	part, phrase string
}

func (m *maker) saying(i int, t catalogue.Trait) saying {
	return saying{i, m.book.part(m.species[i], t), actual(m.species[i], t)}
}

// alike puts together those of which the same is said.
func alike(all []saying) [][]saying {
	var out [][]saying
	for _, s := range all {
		at := slices.IndexFunc(out, func(same []saying) bool { return same[0].part == s.part && same[0].phrase == s.phrase })
		if at < 0 {
			out = append(out, []saying{s})
		} else {
			out[at] = append(out[at], s)
		}
	}
	return out
}

// told says once what is the same of several.
func (m *maker) told(same []saying) string {
	one := same[0]
	var animals []string
	var all []int
	for _, s := range same {
		animals, all = append(animals, m.book.the(m.species[s.i])), append(all, s.i)
	}
	phrase := m.bears(one.phrase, all)
	if len(same) == 1 {
		return m.book.of(m.species[one.i], one.part) + " " + phrase
	}
	return m.book.alike(animals, one.part, phrase)
}

// shows is a clause on what a species shows for a trait.
func (m *maker) shows(i int, t catalogue.Trait) string {
	return m.book.stated(m.species[i], t, actual(m.species[i], t))
}

// failed is the trait of the first of the facts that a species fails, or one that says
// more of it: what kind of pellet.
func (m *maker) failed(i int, facts []*fact) catalogue.Trait {
	t := facts[slices.IndexFunc(facts, func(f *fact) bool { return f.no.has(i) })].trait
	if finer := related[t.ID].finer; m.value(i, finer).Known() {
		return m.traits[finer]
	}
	if food, known := m.mainFood(i); known && t.From == livesOn {
		return food
	}
	return t
}

// separates: "Which of these is true of … but not of …?"
func separates(m *maker, key int) (Question, bool) {
	near := m.neighbours(key)
	if m.beside == anyone {
		near = slices.Clone(near[:min(len(near), 6)])
		first := near[:min(len(near), 3)]
		m.dice.Shuffle(len(first), func(i, j int) { first[i], first[j] = first[j], first[i] })
	}
	for _, nb := range near {
		if m.beside == anyone && !m.fits(nb) || m.beside != anyone && nb.species != m.beside {
			continue
		}
		if q, ok := m.separate(key, nb); ok {
			return q, true
		}
	}
	return Question{}, false
}

func (m *maker) separate(key int, nb neighbour) (Question, bool) {
	a, b := m.species[key], m.species[nb.species]
	facts := m.shuffled(m.facts, m.holding(key), func(f *fact) bool { return f.no.has(nb.species) && worthSaying(f) && m.weighs(f) })
	deciding := slices.IndexFunc(facts, func(f *fact) bool { return !m.inName(key, f) && !m.wasHeard(nb.species, f.trait.ID) })
	if deciding < 0 {
		return Question{}, false
	}
	f := facts[deciding]
	list := []statement{m.stated(key, f)}
	common := func(g *fact) bool { return g.yes.has(nb.species) && worthSaying(g) }
	for _, g := range m.shuffled(m.facts, m.of[key], common) {
		if len(list) > m.wrong {
			break
		}
		if m.among(key, g.no) && !m.overlooked(key, g.trait.ID) && !m.struck(told{b.Name, g.trait.ID}.gist()) && !m.inDispute(key, nb.species, g.trait) {
			list = m.join(key, list, g)
		}
	}
	if !m.enough(len(list) - 1) {
		return Question{}, false
	}
	m.used.add(f.root)
	q := m.byStatement(About{a.Name, b.Name}, list)
	q.Difficulty = level(nb.rank)
	q.Prompt = fmt.Sprintf(m.book.separates, m.book.the(a), m.book.the(b))
	q.Reason = fmt.Sprintf(m.book.separatesReason, sentence(m.book.stated(a, f.trait, f.holds)), m.shows(nb.species, m.failed(nb.species, []*fact{f})))
	return q, true
}

// inDispute reports whether a trait that two animals share is of the same matter as one that
// tells them apart: both bears leave claw marks, but by long and short ones they are known.
func (m *maker) inDispute(a, b int, t catalogue.Trait) bool {
	matter := func(trait string) string { return cmp.Or(related[trait].turn, trait) }
	for id, other := range m.traits {
		same := matter(id) == matter(t.ID) || related[id].theme != teeth && theme(id) == theme(t.ID)
		if id != t.ID && same && separated(other, m.species[a].Values[id], m.species[b].Values[id]) {
			return true
		}
	}
	return false
}

func (m *maker) stated(key int, f *fact) statement {
	return statement{sentence(m.book.clause(m.species[key], f.trait, f.holds)) + ".", f.claim, f.trait}
}

// join adds a fact's statement unless its trait is there already or the list is full.
func (m *maker) join(key int, list []statement, f *fact) []statement {
	known := func(s statement) bool { return root(s.trait) == root(f.trait) || twins(s.claim, f.claim) }
	if len(list) > m.wrong || f.trait.Kind == catalogue.Formula || m.inName(key, f) || slices.ContainsFunc(list, known) {
		return list
	}
	return append(list, m.stated(key, f))
}

// trueOf: "Which of these is true of the red fox?"
func trueOf(m *maker, key int) (Question, bool) {
	return m.statements(key, m.facts, m.tells, m.plausible, m.book.trueOf, "")
}

// notTrueOf: "Which of these is not true of the red fox?"
func notTrueOf(m *maker, key int) (Question, bool) {
	among := func(key int, f *fact) bool { return m.among(key, f.no) }
	untrue := func(key int, f *fact) bool { return m.plausible(key, f) && m.deniable(key, f) && !m.wasStruck(key, f) }
	q, ok := m.statements(key, m.said, untrue, among, m.book.notTrueOf, m.book.notTrueOfRest)
	if ok {
		for i := range q.Options {
			q.Options[i].Test.All[0].Op = "!="
		}
		q.Test.All[0].Op = "!="
	}
	return q, ok
}

// deniable reports whether one may say that a statement is untrue. Of where a scat is
// left, and what it holds, nobody lists all: only what the animal never eats is denied.
func (m *maker) deniable(key int, f *fact) bool {
	switch f.trait.From {
	case "scat_placement":
		return false
	case "scat_contents":
		ofAnimals := slices.Contains(animalFood, strings.TrimPrefix(f.trait.ID, "scat_contents_"))
		guild := m.species[key].Values["guild"].Text
		return ofAnimals && guild == "herbivore" || !ofAnimals && (guild == "carnivore" || guild == "insectivore")
	}
	return true
}

// statements sets one statement that is right against three that are wrong. Where the
// right one is untrue, what is said of the rest is given.
func (m *maker) statements(key int, facts []*fact, right, wrong func(int, *fact) bool, prompt, rest string) (Question, bool) {
	all := m.shuffled(facts, sequence(len(facts)), func(f *fact) bool {
		return f.trait.Kind != catalogue.Formula && (f.yes.has(key) || f.no.has(key)) && !m.overlooked(key, f.trait.ID)
	})
	holds, tries := rest == "", 2 // beyond the first
	for _, f := range all {
		if !m.weighs(f) || !f.stands(key, holds) || m.wasHeard(key, f.trait.ID) || !worthSaying(f) || !right(key, f) || m.inName(key, f) {
			continue
		}
		if q, ok := m.statement(key, f, all, holds, wrong, prompt, rest); ok || tries == 0 {
			return q, ok
		}
		tries--
	}
	return Question{}, false
}

// statement sets one statement against others.
func (m *maker) statement(key int, f *fact, all []*fact, holds bool, wrong func(int, *fact) bool, prompt, rest string) (Question, bool) {
	if m.wish != 0 && 6-f.trait.Ease != m.wish {
		return Question{}, false
	}
	fit := slices.DeleteFunc(slices.Clone(all), func(g *fact) bool {
		return !g.stands(key, !holds) || m.wasStruck(key, g) || !wrong(key, g) || !holds && !f.besides(g)
	})
	foils := m.foils(key, f, fit)
	if !m.enough(len(foils)) {
		return Question{}, false
	}
	m.used.add(f.root)
	s := m.species[key]
	list := []statement{m.stated(key, f)}
	for _, g := range foils {
		list = append(list, m.stated(key, g))
	}
	var says []told
	shown := f.trait
	if holds {
		if rest, says = m.owners(key, foils); len(m.weights) == 0 && m.sharedByAll(f, says) {
			return Question{}, false
		}
	} else { // what is there, and whose the statement is, says more than what is not
		shown = m.failed(key, []*fact{f})
		var whose string
		whose, says = m.owners(key, []*fact{f})
		rest += " " + whose
	}
	q := m.byStatement(About{Is: s.Name}, list)
	q.says = says
	q.Prompt = strings.ReplaceAll(prompt, "%s", m.book.the(s))
	q.Reason = strings.TrimSpace(sentence(m.shows(key, shown)) + ". " + rest)
	return q, true
}

// sharedByAll reports whether all animals that are named beside a fact show it, or may:
// that a mouse has no lower canines tells it from no squirrel.
func (m *maker) sharedByAll(f *fact, named []told) bool {
	return !slices.ContainsFunc(m.species, func(s catalogue.Species) bool {
		owner := slices.ContainsFunc(named, func(t told) bool { return t.species == s.Name })
		return owner && !f.mayBeOf(s)
	})
}

// stands reports whether an animal is known to show a fact, or to lack it.
func (f *fact) stands(key int, shown bool) bool {
	if shown {
		return f.yes.has(key)
	}
	return f.no.has(key)
}

// foils are what stands beside a statement: of scats what is of its kind, else the only
// one on shape, or on food, would be the key; of the rest other states of the same
// trait, or statements on other traits.
func (m *maker) foils(key int, f *fact, fit []*fact) []*fact {
	kind := whole(f.trait.ID)
	scat := kind != "" && m.subject == "scat"
	same := slices.DeleteFunc(slices.Clone(fit), func(g *fact) bool {
		return !positive(g) || scat && none(g) || g.trait.ID != f.trait.ID && !(scat && whole(g.trait.ID) == kind) || g.claim == f.claim || twins(f.claim, g.claim) || overlap(f, g)
	})
	var out []*fact
	if same = differing(same); scat || len(same) >= m.wrong && f.trait.Kind != catalogue.Count && m.dice.IntN(2) == 0 {
		for _, g := range same {
			either := func(o *fact) bool { return twins(o.claim, g.claim) || overlap(o, g) }
			if len(out) < m.wrong && !slices.ContainsFunc(out, either) {
				out = append(out, g)
			}
		}
		return out
	}
	for _, g := range fit {
		known := func(o *fact) bool { return o.root == g.root || twins(o.claim, g.claim) || overlap(o, g) }
		if len(out) < m.wrong && worthSaying(g) && !m.inName(key, g) && !known(f) && !slices.ContainsFunc(out, known) {
			out = append(out, g)
		}
	}
	return out
}

// differing leaves one fact of each value: what is usual and what is certain read alike.
func differing(facts []*fact) []*fact {
	var out []*fact
	for _, f := range facts {
		alike := func(o *fact) bool { return o.typical == f.typical }
		if !slices.ContainsFunc(out, alike) {
			out = append(out, f)
		}
	}
	return out
}

// owners says whom the wrong statements fit, each by an animal like the key, and lists
// what it says.
func (m *maker) owners(key int, foils []*fact) (text string, says []told) {
	type owned struct {
		i    int
		part string
	}
	var order []owned
	phrases := map[owned][]string{}
	for _, g := range foils {
		i := m.owner(key, g, foils)
		o := owned{i, m.book.part(m.species[i], g.trait)}
		if phrases[o] == nil {
			order = append(order, o)
		}
		phrases[o] = append(phrases[o], g.holds)
		says = append(says, told{m.species[i].Name, g.trait.ID})
	}
	var clauses []string
	for len(order) > 0 { // who is named once needs not be named again, and what is said of the whole animal comes first
		i := order[0].i
		own := slices.DeleteFunc(slices.Clone(order), func(o owned) bool { return o.i != i })
		order = slices.DeleteFunc(order, func(o owned) bool { return o.i == i })
		slices.SortStableFunc(own, func(a, b owned) int { return min(len(a.part), 1) - min(len(b.part), 1) })
		var parts []string
		for n, o := range own {
			said := m.book.oneVerb(phrases[o])
			if n == 0 {
				parts = append(parts, m.told([]saying{{i, o.part, said}}))
			} else {
				parts = append(parts, m.book.own(o.part)+" "+m.book.bears(said, m.species[i]))
			}
		}
		clauses = append(clauses, listed(parts, m.book.and, m.book.and))
	}
	return sentence(strings.Join(clauses, "; ")) + ".", says
}

// owner is whoever shows a wrong statement: one that could be taken for the key, of these
// one that shows more of the wrong statements, then one that coaches set beside the key,
// then one of whom it was told before, then whoever is most like the key. There is one:
// a statement is plausible by whoever shows it.
func (m *maker) owner(key int, f *fact, foils []*fact) int {
	best, most := -1, -1
	for _, nb := range m.neighbours(key) {
		if !f.yes.has(nb.species) {
			continue
		}
		rank := 0
		if slices.ContainsFunc(foils, func(g *fact) bool { return g.yes.has(nb.species) && m.wasHeard(nb.species, g.trait.ID) }) {
			rank++
		}
		if nb.taught {
			rank += 2
		}
		for _, g := range foils {
			if g.yes.has(nb.species) {
				rank += 4
			}
		}
		if nb.taken {
			rank += 4*len(foils) + 4
		}
		if rank > most {
			best, most = nb.species, rank
		}
	}
	return best
}

// besides reports whether some animal in play shows both: of two statements that
// gainsay each other one has to be the untrue one.
func (f *fact) besides(g *fact) bool { return f.yes.shared(g.yes) > 0 }

// inName reports whether the animal's name says the fact: the bighorn has horns.
func (m *maker) inName(key int, f *fact) bool {
	const shortest = 4 // of the words that say something
	name := strings.ToLower(m.name(key))
	return slices.ContainsFunc(strings.Fields(f.holds), func(word string) bool {
		word = strings.TrimSuffix(strings.Trim(word, ",.;:()"), "s")
		return len(word) >= shortest && strings.Contains(name, word)
	})
}

func sequence(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// memberQuestion asks for a member of a set trait, or of several.
func memberQuestion(name string, sets ...string) func(*maker, int) (Question, bool) {
	if sets == nil {
		sets = []string{name}
	}
	return func(m *maker, key int) (Question, bool) {
		var members []*fact
		for _, f := range m.facts {
			if slices.Contains(sets, f.trait.From) && f.trait.Kind == catalogue.YesNo && positive(f) && !f.plain {
				members = append(members, f)
			}
		}
		all := m.shuffled(members, sequence(len(members)), func(f *fact) bool { return f.yes.has(key) || f.no.has(key) })
		right := slices.IndexFunc(all, func(f *fact) bool {
			return m.weighs(f) && f.yes.has(key) && m.among(key, f.no) && !m.wasHeard(key, f.trait.ID) && !m.inName(key, f)
		})
		if right < 0 || m.wish != 0 && 6-all[right].trait.Ease != m.wish {
			return Question{}, false
		}
		list := []statement{member(all[right])}
		var foils []*fact
		for _, f := range all {
			twin := func(s statement) bool { return twins(s.claim, f.claim) }
			if f.no.has(key) && !m.wasStruck(key, f) && (name == livesOn || m.plausible(key, f)) && len(list) <= m.wrong && !slices.ContainsFunc(list, twin) {
				list, foils = append(list, member(f)), append(foils, f)
			}
		}
		if !m.enough(len(list) - 1) {
			return Question{}, false
		}
		m.used.add(all[right].trait.From)
		s := m.species[key]
		q := m.byStatement(About{Is: s.Name}, list)
		q.Prompt = fmt.Sprintf(m.book.members[name], m.book.the(s))
		q.Reason = sentence(m.book.stated(s, all[right].trait, all[right].holds)) + "."
		if m.subject == "scat" {
			rest, says := m.owners(key, foils)
			q.Reason, q.says = q.Reason+" "+rest, says
		}
		return q, true
	}
}

func member(f *fact) statement {
	_, word, _ := strings.Cut(f.trait.Label, ": ")
	return statement{sentence(word), f.claim, f.trait}
}
