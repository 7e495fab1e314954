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
}

// templates is the table to extend: a row here and its function are a new template.
var templates = []template{
	{"has-trait", nil, hasTrait, 1},
	{"lacks-trait", catalogue.Subjects, lacksTrait, 0.25},
	{"name-the-animal", nil, nameTheAnimal, 1},
	{"separates", catalogue.Subjects, separates, 1.5},
	{"largest", nil, largest, 0.5},
	{"smallest", nil, smallest, 0.5},
	{"compound", []string{"animal", "skull"}, compound, 0.5},
	{"odd-one-out", catalogue.Subjects, oddOneOut, 0.5},
	{"true-of", catalogue.Subjects, trueOf, 1},
	{"not-true-of", denied, notTrueOf, 0.25},
	{"whose-plate", nil, whosePlate, 4},
	{"read-the-plate", nil, readThePlate, 1},
	{"which-plate", []string{"skull", "track", "scat"}, whichPlate, 2},
	{"plate-shows", []string{"skull", "track", "scat"}, plateShows, 1},
	{"same-animal", []string{"track"}, sameAnimal, 1.5},
	{"which-foot", []string{"track"}, whichFoot, .5},
	{"label-it", []string{"skull"}, labelIt, 1},
	{TypeTheName, nil, typeTheName, 0},
	{"formula-to-animal", []string{"skull"}, formulaToAnimal, 1},
	{"animal-to-formula", []string{"skull"}, animalToFormula, 1},
	{"count-the-teeth", []string{"skull"}, countTheTeeth, 0.5},
	{"missing-teeth", []string{"skull"}, missingTeeth, 0.5},
	{"trail-pattern", []string{"track"}, trailPattern, 1},
	{"where-left", []string{"scat"}, memberQuestion("scat_placement"), 1},
	{"what-it-holds", []string{"scat"}, memberQuestion("scat_contents"), 1},
	{"lives-on", []string{catalogue.FoodWeb}, livesOnWhat, .5},
	{"competes-with", []string{catalogue.FoodWeb}, competesWith, 0.5},
	{"food-chain", []string{catalogue.FoodWeb}, foodChain, 2},
	{"chain-level", []string{catalogue.FoodWeb}, chainLevel, 1},
	{"worked-sum", []string{catalogue.Management}, workedSum, 1},
	{"chain-effect", []string{catalogue.FoodWeb}, chainEffect, 1},
	{"whose-specimen", []string{catalogue.Specimen}, whoseSpecimen, 1},
	{"what-sign", []string{"sign"}, whatSign, 2},
	{"what-it-leaves", []string{"sign"}, memberQuestion("sign", "sign_built", "sign_ground", "sign_marks", "sign_scent", "sign_meals", "sign_ways"), 2},
	{"where-it-dens", []string{"sign"}, memberQuestion("den_place"), .5},
}

// denied are the subjects in which an animal is known by what it lacks. Of signs no
// source says what an animal leaves not.
var denied = slices.DeleteFunc(slices.Clone(catalogue.Subjects), func(s string) bool { return s == "sign" })

// overDrawings are the templates that always show one; the others never do.
var overDrawings = strings.Fields("whose-plate read-the-plate which-plate plate-shows same-animal which-foot label-it what-sign whose-specimen")

// atMost is the share of a set that a template may have beyond its first question,
// where others can be asked: denials are rare, and no set is all labels.
var atMost = map[string]float64{"lacks-trait": .03, "not-true-of": .04, "missing-teeth": .04, "label-it": .12, "same-animal": .1, "which-foot": .04, "chain-effect": .3}

// neverMore is what no set has more of, whatever else is left: who has turned one chain
// round can turn any.
const neverMore = "chain-effect"

// asksPart is the whole of which a template always asks a part.
var asksPart = map[string]string{"formula-to-animal": "dental_formula", "animal-to-formula": "dental_formula", "count-the-teeth": "dental_formula",
	"missing-teeth": "dental_formula", "where-left": "scat_placement", "what-it-holds": "scat_contents"}

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

// TypeTheName is the template whose answer is typed. A set has it on request.
const TypeTheName = "type-the-name"

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
	return m.single(key, m.holding(key), func(f *fact) bool { return zero(f) || !positive(f) && f.trait.From == "" })
}

func zero(f *fact) bool     { return f.trait.Kind == catalogue.Count && f.value.Typical().Lo == 0 }
func positive(f *fact) bool { return f.trait.Kind != catalogue.YesNo || f.value.Text == "yes" }

// none facts say that an animal has nothing of the kind.
func none(f *fact) bool { return f.value.Typical().Text == "none" }

// plain are the states between the ones that are taught: nobody looks for them.
var plain = []string{"none", "medium", "moderate", "alike", "straight", "slight", "about", "cord"}

// unremarkable facts are true, but no way to know an animal: a plain state, white,
// smooth or narrow teeth, an ear tube or an opening before the eye like most, the rounded
// ends of any pellet, droppings in the open, the toes of any hoof, a burrow that is open, a den under any log.
func unremarkable(trait string, v catalogue.Value) bool {
	v = v.Typical()
	switch trait {
	case "incisor_colour":
		return v.Text == "white"
	case "tooth_tips":
		return v.Text == "white"
	case "ear_tube":
		return v.Text == "short"
	case "incisor_breadth":
		return v.Text == "narrow"
	case "incisor_grooves":
		return v.Hi == 0
	case "scat_ends":
		return v.Text == "rounded"
	case "front_toes", "hind_toes":
		return v.Hi <= 2
	case "upper_incisors", "lower_incisors":
		return v.Hi == 1 || v.Hi == 3 // of any rodent, of nearly any hunter
	case "infraorbital_opening":
		return v.Text == "small"
	case "scat_placement_in_the_open", "sign_ground_open_burrows", "den_place_under_logs_or_brush":
		return true
	}
	return slices.Contains(plain, v.Text)
}

// single asks for the one species of four that a fact holds for.
func (m *maker) single(key int, places []int, fit func(*fact) bool) (Question, bool) {
	for _, f := range m.shuffled(m.facts, places, func(f *fact) bool { return fit(f) && !f.plain }) {
		if m.inName(key, f) {
			continue
		}
		m.lookAt(f.trait)
		if wrong := m.mixedCompany(key, m.taughtOf(f), m.wrong); wrong != nil && (!strings.HasPrefix(f.trait.ID, preysOn+"_") || !m.idle([]*fact{f}, wrong)) {
			m.used.add(f.root)
			q := m.bySpecies(key, wrong, m.name, []catalogue.Claim{f.claim})
			q.Difficulty = m.easyAs(f.trait, q.Difficulty)
			s := m.species[key]
			q.Prompt = m.book.which(m.book.part(s, f.trait), "", f.holds)
			q.reason = func() string {
				reason := fmt.Sprintf(m.book.only, m.book.stated(s, f.trait, f.holds)) + m.exclusions(wrong, []*fact{f})
				return strings.TrimSuffix(reason, " "+m.book.noneDoes) // "only" has said it
			}
			return q, true
		}
	}
	return Question{}, false
}

// taughtOf are those that fail a fact, of a formula only those whose own is taught.
func (m *maker) taughtOf(f *fact) bitset {
	out := f.no.clone()
	for _, i := range out.members() {
		if f.trait.Kind == catalogue.Formula && m.overlooked(i, f.trait.ID) {
			out.drop(i)
		}
	}
	return out
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
		wrong := m.mixedCompany(key, excluded, m.wrong)
		chosen = slices.DeleteFunc(chosen, func(f *fact) bool { return !slices.ContainsFunc(wrong, f.no.has) })
		if wrong == nil || oneSays(chosen, wrong) || m.idle(chosen, wrong) {
			continue
		}
		return m.described(key, wrong, chosen), true
	}
	return Question{}, false
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
	if len(same) == 1 {
		return m.book.of(m.species[one.i], one.part) + " " + m.book.bears(m.species[one.i], one.phrase)
	}
	var animals []string
	for _, s := range same {
		animals = append(animals, m.book.the(m.species[s.i]))
	}
	return m.book.alike(animals, one.part, one.phrase)
}

// shows is a clause on what a species shows for a trait.
func (m *maker) shows(i int, t catalogue.Trait) string {
	return m.book.stated(m.species[i], t, actual(m.species[i], t))
}

// failed is the trait of the first of the facts that a species fails, or one that says
// more of it: what kind of pellet.
func (m *maker) failed(i int, facts []*fact) catalogue.Trait {
	t := facts[slices.IndexFunc(facts, func(f *fact) bool { return f.no.has(i) })].trait
	if finer := implied[t.ID]; m.value(i, finer).Known() {
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
	facts := m.shuffled(m.facts, m.holding(key), func(f *fact) bool { return f.no.has(nb.species) && worthSaying(f) })
	deciding := slices.IndexFunc(facts, func(f *fact) bool { return !m.inName(key, f) && !m.wasHeard(nb.species, f.trait.ID) })
	if deciding < 0 {
		return Question{}, false
	}
	f := facts[deciding]
	list := []statement{m.stated(key, f)}
	common := func(g *fact) bool { return g.yes.has(nb.species) && worthSaying(g) }
	for _, g := range m.shuffled(m.facts, m.of[key], common) {
		if m.among(key, g.no) && !m.struck(told{b.Name, g.trait.ID}.gist()) {
			list = m.join(key, list, g)
		}
	}
	if len(list) <= m.wrong {
		return Question{}, false
	}
	m.used.add(f.root)
	q := m.byStatement(About{a.Name, b.Name}, list)
	q.Difficulty = level(nb.rank)
	q.Prompt = fmt.Sprintf(m.book.separates, m.book.the(a), m.book.the(b))
	q.Reason = fmt.Sprintf(m.book.separatesReason, sentence(m.book.stated(a, f.trait, f.holds)), m.shows(nb.species, f.trait))
	return q, true
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

// twin are claims of which neither can be the one that is meant: a foot with two toes
// turned back has two before them, and a junction is on a trail.
var twin = map[string]string{"hind_toe=two": "toes_forward=2", "scat_placement_at_trail_junctions=yes": "scat_placement_on_trails=yes",
	"scat_ends=pointed and dimpled": "pellet_shape=nippled", "scat_form=round pellet": "pellet_shape=disc"}

// saysToo are traits of which a value says, or nearly says, another's: what has
// carnassials has shearing teeth, and what has a palm sheds its antlers.
var saysToo = map[string]string{"carnassials": "cheek_teeth", "gear_bearers": "head_gear", "gear_renewal": "head_gear", "gear_shape": "head_gear",
	"peg_incisors": teeth, "premolar_peg": teeth, "long_last_molar": "last_upper_molar", "tusks": "large_canines",
	"thumb": "hind_toes", "outer_toe_free": "hind_webbing", "dewclaw_set": "dewclaws"}

// theme is what a trait and those that say it too are about.
func theme(trait string) string {
	if tightOf(trait) == teeth {
		return teeth
	}
	return cmp.Or(saysToo[trait], trait)
}

// twins reports whether one of two claims says the other: of two such options neither
// can be the key. Two values of one trait gainsay each other.
func twins(a, b catalogue.Claim) bool {
	x, y := a.Trait+"="+a.Value, b.Trait+"="+b.Value
	return twin[x] == y || twin[y] == x || a.Trait != b.Trait && theme(a.Trait) == theme(b.Trait)
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

// animalFood is what a scat holds of animals; what else it holds is of plants.
var animalFood = strings.Fields("hair bone fish_scales crayfish_shell insect_parts feathers porcupine_quills")

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
	holds := rest == ""
	at := slices.IndexFunc(all, func(f *fact) bool {
		return f.stands(key, holds) && !m.wasHeard(key, f.trait.ID) && worthSaying(f) && right(key, f) && !m.inName(key, f)
	})
	if at < 0 || m.wish != 0 && 6-all[at].trait.Ease != m.wish {
		return Question{}, false
	}
	f := all[at]
	fit := slices.DeleteFunc(all, func(g *fact) bool {
		return !g.stands(key, !holds) || m.wasStruck(key, g) || !wrong(key, g) || !holds && !f.besides(g)
	})
	foils := m.foils(key, f, fit)
	if len(foils) < m.wrong {
		return Question{}, false
	}
	m.used.add(f.root)
	s := m.species[key]
	list := []statement{m.stated(key, f)}
	for _, g := range foils {
		list = append(list, m.stated(key, g))
	}
	var says []told
	if holds {
		rest, says = m.owners(key, foils)
	}
	q := m.byStatement(About{Is: s.Name}, list)
	q.says = says
	q.Prompt = strings.ReplaceAll(prompt, "%s", m.book.the(s))
	q.Reason = strings.TrimSpace(sentence(m.shows(key, f.trait)) + ". " + rest)
	return q, true
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
	kind, scat := whole(f.trait.ID)
	scat = scat && m.subject == "scat"
	same := slices.DeleteFunc(slices.Clone(fit), func(g *fact) bool {
		part, _ := whole(g.trait.ID)
		return !positive(g) || scat && none(g) || g.trait.ID != f.trait.ID && !(scat && part == kind) || g.claim == f.claim || twins(f.claim, g.claim)
	})
	var out []*fact
	if same = differing(same); scat || len(same) >= m.wrong && f.trait.Kind != catalogue.Count && m.dice.IntN(2) == 0 {
		for _, g := range same {
			if len(out) < m.wrong && !slices.ContainsFunc(out, func(o *fact) bool { return twins(o.claim, g.claim) }) {
				out = append(out, g)
			}
		}
		return out
	}
	for _, g := range fit {
		known := func(o *fact) bool { return o.root == g.root || twins(o.claim, g.claim) }
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
		alike := func(o *fact) bool {
			return o.trait.ID == f.trait.ID && o.value.Typical().String() == f.value.Typical().String()
		}
		if !slices.ContainsFunc(out, alike) {
			out = append(out, f)
		}
	}
	return out
}

// owners says whom the wrong statements fit, each by an animal like the key, and lists
// what it says. Of the others it says that they are not true of the key.
func (m *maker) owners(key int, foils []*fact) (text string, says []told) {
	type owned struct {
		i    int
		part string
	}
	var order []owned
	var left []*fact
	phrases := map[owned][]string{}
	name := func(g *fact, i int) {
		o := owned{i, m.book.part(m.species[i], g.trait)}
		if phrases[o] == nil {
			order = append(order, o)
		}
		phrases[o] = append(phrases[o], g.holds)
		says = append(says, told{m.species[i].Name, g.trait.ID})
	}
	for _, g := range foils {
		if i := m.owner(key, g, len(m.species) > few || m.ending); i >= 0 {
			name(g, i)
		} else {
			left = append(left, g)
		}
	}
	if order == nil { // one at least is named
		if i := m.owner(key, left[0], true); i >= 0 {
			name(left[0], i)
			left = left[1:]
		}
	}
	var clauses []string
	for _, o := range order {
		clauses = append(clauses, m.told([]saying{{o.i, o.part, m.book.series(m.book.oneVerb(phrases[o]))}}))
	}
	text = sentence(strings.Join(clauses, "; ")) + "."
	if len(left) == 0 {
		return text, says
	}
	return text + " " + fmt.Sprintf(m.book.trueOfRest[min(len(left), 2)-1], m.book.the(m.species[key])), says
}

// few animals are asked about again soon; with so few questions left none is.
const few, lastFew = 30, 10

// owner is whoever shows a fact, or -1: one that could be taken for the key rather than
// another, then one of whom that was told before rather than one of whom it could still
// be asked, then whoever is most like the key. Where it is not free to tell, only what
// was told is told again: among few animals each is asked about again soon.
func (m *maker) owner(key int, f *fact, free bool) int {
	best, rank := -1, 0
	for _, nb := range m.neighbours(key) {
		if !f.yes.has(nb.species) {
			continue
		}
		r := 1
		if nb.taken {
			r += 2
		}
		if heard := m.wasHeard(nb.species, f.trait.ID); heard {
			r++
		} else if !free {
			continue
		}
		if r > rank {
			best, rank = nb.species, r
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
			return f.yes.has(key) && m.among(key, f.no) && !m.wasHeard(key, f.trait.ID) && !m.inName(key, f)
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
		if len(list) <= m.wrong {
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
