package questions

import (
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
)

// The food web as a subject: what is decided of it stands as traits of the
// animals, so that it is asked and proved as all else is. Chains are claims of
// their own.

// Sets of the web, and the trait of the level.
const (
	preysOn = "preys_on"
	livesOn = "lives_on"
	rivals  = "competes_with"
	feedsAs = "feeds_as"
)

// webbed is the catalogue with the web of a roster as traits.
func webbed(c *catalogue.Catalogue, roster catalogue.Roster, w *foodweb.Web) *catalogue.Catalogue {
	book := phrasebooks[c.Language]
	var traits []catalogue.Trait
	of := map[string]func(catalogue.Species) foodweb.Verdict{}
	add := func(set, member string, says [2]string, what string, weight float64, judge func(catalogue.Species) foodweb.Verdict) {
		t := catalogue.Trait{ID: memberOf(set, member), Subject: catalogue.FoodWeb, Label: book.web.labels[set] + ": " + bare(what),
			Kind: catalogue.YesNo, Weight: weight, Ease: 3, From: set}
		t.Wording = catalogue.Wording{Says: fmt.Sprintf(says[0], what), Denies: fmt.Sprintf(says[1], what), Language: c.Language}
		traits, of[t.ID] = append(traits, t), judge
	}
	for _, prey := range c.InPlay(roster, catalogue.FoodWeb) {
		if !prey.Values["body_mass"].Known() {
			continue
		}
		add(preysOn, prey.Name, book.web.preys, book.the(prey), 2, func(s catalogue.Species) foodweb.Verdict { return w.Preys(s, prey) })
		add(rivals, prey.Name, book.web.competes, book.the(prey), 1, func(s catalogue.Species) foodweb.Verdict { return w.Compete(s, prey) })
	}
	for _, k := range foodweb.Staples {
		add(livesOn, string(k), book.web.lives, book.web.kinds[string(k)], 1, func(s catalogue.Species) foodweb.Verdict { return foodweb.LivesOn(s, k) })
	}
	level := catalogue.Trait{ID: feedsAs, Subject: catalogue.FoodWeb, Label: book.web.labels[feedsAs], Kind: catalogue.State, Weight: taughtWell, Ease: 4,
		Wording: catalogue.Wording{Says: book.web.level, Denies: book.web.noLevel, Language: c.Language}}
	return c.With(catalogue.FoodWeb, append(traits, level), func(s catalogue.Species, t catalogue.Trait) catalogue.Value {
		if t.ID == feedsAs {
			return levelOf(w, s)
		}
		return verdictValue(of[t.ID](s))
	})
}

// bare is a thing without its article, as an option names it.
func bare(what string) string {
	for _, article := range []string{"the ", "el ", "la ", "los ", "las "} {
		if noun, ok := strings.CutPrefix(what, article); ok {
			return noun
		}
	}
	return what
}

func verdictValue(v foodweb.Verdict) catalogue.Value {
	switch v.Truth {
	case catalogue.True:
		return catalogue.Value{Status: catalogue.Known, Text: "yes", Basis: v.Basis}
	case catalogue.False:
		return catalogue.Value{Status: catalogue.Known, Text: "no", Basis: v.Basis}
	}
	return catalogue.Value{Status: catalogue.Variable}
}

func levelOf(w *foodweb.Web, s catalogue.Species) catalogue.Value {
	level, basis := w.Feeds(s)
	if level == "" {
		return catalogue.Value{Status: catalogue.Variable}
	}
	return catalogue.Value{Status: catalogue.Known, Text: string(level), Basis: basis}
}

// Called is what a trait of the food web or of a sum is named; other names stay.
func Called(c *catalogue.Catalogue, trait string) string {
	book := phrasebooks[c.Language]
	if label, ok := book.web.labels[trait]; ok {
		return bare(label)
	}
	for _, set := range []string{preysOn, rivals, livesOn} {
		member, is := strings.CutPrefix(trait, set+"_")
		if !is {
			continue
		}
		member = strings.ReplaceAll(member, "_", " ")
		if s, known := c.Find(member); known {
			return bare(book.web.labels[set]) + ": " + s.Vernacular
		}
		return bare(book.web.labels[set]) + ": " + book.web.kinds[member]
	}
	return trait
}

// inChain judges a test that is of a food chain; false of any other.
func (b *Bank) inChain(subject, name string, test Test) (foodweb.Verdict, bool) {
	if subject != catalogue.FoodWeb || len(test.All) != 1 || !foodweb.AboutChain(test.All[0]) {
		return foodweb.Verdict{}, false
	}
	return b.web.Judge(b.index(subject).find, name, test.All[0]), true
}

// A roster of fewer food chains of three links than this borrows prey: a list of
// hunters has little of it.
const fewChains = 12

// addChains makes the food chains of an index, with prey from beside the roster where
// its own are few.
func (ix *index) addChains(c *catalogue.Catalogue) {
	make := func() {
		ix.chains = map[int][]foodweb.Chain{}
		for _, length := range chainLengths {
			ix.chains[length] = ix.chainsOf(length)
		}
	}
	if make(); len(ix.chains[chainLengths[0]]) >= fewChains {
		return
	}
	ix.borrowed = slices.DeleteFunc(slices.Clone(c.Species), func(s catalogue.Species) bool {
		_, own := ix.find(s.Name)
		return own || !s.Values["body_mass"].Known()
	})
	make()
}

// chainsOf makes the food chains of an index, by facts that rest on enough, of
// animals that may meet in one place. At the bottom is what the first of them is
// known to eat, and it is no hunter.
func (ix *index) chainsOf(length int) []foodweb.Chain {
	var out []foodweb.Chain
	for _, s := range slices.Concat(ix.species, ix.borrowed) {
		k := foodweb.MainPlants(s)
		if v := ix.web.Eats(s, k); v.Truth == catalogue.True && v.Basis >= ix.least && !foodweb.Hunts(s) {
			out = ix.longer(out, foodweb.Chain{string(k), s.Name}, s, length)
		}
	}
	return slices.DeleteFunc(out, func(c foodweb.Chain) bool { return !foodweb.Together(ix.animalsOf(c)) })
}

// diet is what whoever has heard of an animal's food or level knows: whether it eats
// plants, animals or both.
const diet = "diet"

// diets are told by a food chain: those of all that stand in it, and of those that the
// wrong ones set to eat plants.
func (q Question) diets() []told {
	var out []told
	for _, claim := range q.Test.All {
		c, _ := foodweb.ChainOf(claim)
		for _, node := range c {
			out = append(out, told{node, diet})
		}
	}
	for _, o := range q.Options {
		if o.Test != nil {
			out = append(out, q.strayed(o.Test.All[0])...)
		}
	}
	return out
}

// strayed is what strikes out a wrong food chain: the diet of whoever eats plants in it
// and not in the right one.
func (q Question) strayed(claim catalogue.Claim) []told {
	c, chain := foodweb.ChainOf(claim)
	right, _ := foodweb.ChainOf(q.Test.All[0])
	if !chain || claim.Trait != foodweb.ChainIs || !foodweb.Kind(c[0]).Plant() || c[1] == right[1] {
		return nil
	}
	return []told{{c[1], diet}}
}

// once is what a paper asks one time, whatever else is left: who eats whom, a main food,
// a level, whose a sign is, a term of the trade, a count of marked animals, which teeth
// an animal lacks.
func (q Question) once() []told {
	out := q.links()
	if len(q.Test.All) != 1 {
		return out
	}
	c := q.Test.All[0]
	sort, _ := q.sumSort()
	switch {
	case strings.HasPrefix(c.Trait, livesOn+"_"), c.Trait == feedsAs:
		out = append(out, told{"", "asked " + c.Trait + c.Value})
	case c.Trait == "term" && q.About == nil:
		out = append(out, told{q.keySpecies(), "asked"})
	case q.Template == teethLacked:
		out = append(out, told{q.keySpecies(), "asked " + teethLacked})
	case q.Subject == "sign":
		out = append(out, told{q.keySpecies(), "asked " + c.Trait})
	case sort == marks:
		out = append(out, told{"", "asked " + sort})
	}
	return out
}

// chainKind is what a question on a food chain asks, whoever stands in it: the same
// level in as long a chain, or a change at the same place.
func (q Question) chainKind() (string, bool) {
	claim := q.Test.All[0]
	c, chain := foodweb.ChainOf(claim)
	said, _, _ := strings.Cut(claim.Value, " in ")
	switch {
	case !chain || claim.Trait == foodweb.ChainIs:
		return "", false
	case claim.Trait == foodweb.LevelIn:
		return fmt.Sprint(said, " of ", len(c)), true
	}
	_, changed, _ := strings.Cut(said, " after ")
	return fmt.Sprint(claim.Trait, slices.Index(c, changed), " of ", len(c)), true
}

// links are who eats whom by a question's key.
func (q Question) links() []told {
	var out []told
	for _, fact := range q.asks() {
		if prey, is := strings.CutPrefix(fact.trait, preysOn+"_"); is {
			out = append(out, told{fact.species, "eats " + strings.ReplaceAll(prey, "_", " ")})
		}
	}
	for _, claim := range q.Test.All {
		c, _ := foodweb.ChainOf(claim)
		for i := 1; i < len(c); i++ {
			out = append(out, told{c[i], "eats " + c[i-1]})
		}
	}
	return out
}

func (ix *index) animalsOf(c foodweb.Chain) []catalogue.Species {
	var out []catalogue.Species
	for _, node := range c {
		if s, ok := ix.find(node); ok {
			out = append(out, s)
		}
	}
	return out
}

func (ix *index) longer(out []foodweb.Chain, c foodweb.Chain, top catalogue.Species, length int) []foodweb.Chain {
	if len(c) == length {
		return append(out, slices.Clone(c))
	}
	for _, s := range ix.species {
		if v := ix.web.Preys(s, top); v.Truth == catalogue.True && v.Basis >= ix.least && !slices.Contains(c, s.Name) && ix.usualHunter(s) && !ix.farFetched(s, top, v) {
			out = ix.longer(out, append(slices.Clone(c), s.Name), s, length)
		}
	}
	return out
}

// oddOneFed reports whether none of the others lives as the key does. Whoever sees
// that one lives on animals and the rest on plants, or that one is a carnivore, needs
// no food web; nor does one need to know a sign where one animal alone lives by the
// water, has hoofs, or has prey that it could leave the bones of.
func (m *maker) oddOneFed(key int, wrong []int) bool {
	var alike func(a, b catalogue.Species) bool
	switch m.subject {
	case catalogue.FoodWeb:
		alike = func(a, b catalogue.Species) bool {
			return (a.Values["order"].Text == "Carnivora") == (b.Values["order"].Text == "Carnivora")
		}
	case "sign":
		alike = func(a, b catalogue.Species) bool {
			return !catalogue.Apart(a.Values["semi_aquatic"], b.Values["semi_aquatic"]) && hoofed(a) == hoofed(b)
		}
	default:
		return len(wrong) == 0
	}
	k := m.species[key]
	flesh := foodweb.ByAnimals(k)
	return !slices.ContainsFunc(wrong, func(i int) bool {
		return alike(k, m.species[i]) && foodweb.ByAnimals(m.species[i]) == flesh
	})
}

// idle reports whether a clue to who eats whom strikes out none that eats animals: nobody
// takes a rabbit for a hunter.
func (m *maker) idle(clues []*fact, wrong []int) bool {
	return m.subject == catalogue.FoodWeb && slices.ContainsFunc(clues, func(f *fact) bool {
		return !slices.ContainsFunc(wrong, func(i int) bool {
			return f.no.has(i) && m.eatsAnimals(i)
		})
	})
}

// eatsAnimals reports whether an animal is known to live on others, or to be an omnivore.
func (ix *index) eatsAnimals(i int) bool {
	level := foodweb.Level(ix.value(i, feedsAs).Text)
	return level == foodweb.Higher || level == foodweb.Both
}

// twoStrangers reports whether two bats, or two skulls of hares, stand beside a key that is
// none: nobody takes a second for it.
func (m *maker) twoStrangers(key int, wrong []int) bool {
	strange := map[string]string{catalogue.FoodWeb: "Chiroptera", "skull": "Lagomorpha"}[m.subject]
	is := func(i int) bool { return m.species[i].Values["order"].Text == strange }
	others := slices.DeleteFunc(slices.Clone(wrong), func(i int) bool { return !is(i) })
	return strange != "" && len(others) > 1 && !is(key)
}

// usualHunter: whoever stands above another in a chain lives on animals, and on those of
// the land by a good part, or on what it is named for. An opossum takes a vole by chance.
func (ix *index) usualHunter(s catalogue.Species) bool {
	level, _ := ix.web.Feeds(s)
	return level != foodweb.Both && foodweb.Hunts(s)
}

// leaveOutPrey drops whom a clue names as prey: nobody takes it for its hunter.
func (m *maker) leaveOutPrey(from bitset, clues []*fact) {
	for i, s := range m.species {
		if slices.ContainsFunc(clues, func(f *fact) bool { return f.trait.ID == memberOf(preysOn, s.Name) }) {
			from.drop(i)
		}
	}
}

// mainFood is the trait of what an animal of the index lives on, or of its level, if
// that is decided.
func (ix *index) mainFood(i int) (catalogue.Trait, bool) {
	for _, k := range foodweb.Staples {
		id := memberOf(livesOn, string(k))
		if v := ix.value(i, id); v.Known() && v.Text == "yes" {
			return ix.traits[id], true
		}
	}
	return ix.traits[feedsAs], ix.value(i, feedsAs).Known()
}

// farFetched: of prey from beside the roster only what is named is taken, or what of a
// named group the hunter reaches: no mink climbs after a squirrel.
func (ix *index) farFetched(hunter, prey catalogue.Species, v foodweb.Verdict) bool {
	beside := slices.ContainsFunc(ix.borrowed, func(s catalogue.Species) bool { return s.Name == prey.Name })
	return beside && v.By != foodweb.Named && !foodweb.InReach(hunter, prey)
}

func memberOf(set, member string) string { return set + "_" + strings.ReplaceAll(member, " ", "_") }
