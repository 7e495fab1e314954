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
	level := catalogue.Trait{ID: feedsAs, Subject: catalogue.FoodWeb, Label: book.web.labels[feedsAs], Kind: catalogue.State, Weight: taughtWell, Ease: 3,
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
	find := func(name string) (catalogue.Species, bool) { return b.find(subject, name) }
	return b.web.Judge(find, name, test.All[0]), true
}

// chainsOf makes the food chains of an index, by facts that rest on enough, of
// animals that may meet in one place. At the bottom is what the first of them is
// known to eat, and it is no hunter.
func (ix *index) chainsOf(length int) []foodweb.Chain {
	var out []foodweb.Chain
	for first, s := range ix.species {
		k := foodweb.MainPlants(s)
		if v := ix.web.Eats(s, k); v.Truth == catalogue.True && v.Basis >= ix.least && !foodweb.Hunts(s) {
			out = ix.longer(out, foodweb.Chain{string(k), s.Name}, first, length)
		}
	}
	return slices.DeleteFunc(out, func(c foodweb.Chain) bool { return !foodweb.Together(ix.animalsOf(c)) })
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

func (ix *index) longer(out []foodweb.Chain, c foodweb.Chain, top, length int) []foodweb.Chain {
	if len(c) == length {
		return append(out, slices.Clone(c))
	}
	for _, i := range ix.holding(memberOf(preysOn, ix.species[top].Name)) {
		if !slices.Contains(c, ix.species[i].Name) {
			out = ix.longer(out, append(slices.Clone(c), ix.species[i].Name), i, length)
		}
	}
	return out
}

// oddOneFed reports whether none of the others lives as the key does. Whoever sees
// that one lives on animals and the rest on plants, or that one is a carnivore, needs
// no food web; nor does one need to know a sign where one animal alone lives by the
// water, or has hoofs.
func (m *maker) oddOneFed(key int, wrong []int) bool {
	alike := func(a, b catalogue.Species) bool { return true }
	switch m.subject {
	case catalogue.FoodWeb:
		alike = func(a, b catalogue.Species) bool {
			return foodweb.ByAnimals(a) == foodweb.ByAnimals(b) && (a.Values["order"].Text == "Carnivora") == (b.Values["order"].Text == "Carnivora")
		}
	case "sign":
		alike = func(a, b catalogue.Species) bool {
			return !catalogue.Apart(a.Values["semi_aquatic"], b.Values["semi_aquatic"]) && hoofed(a) == hoofed(b)
		}
	}
	return !slices.ContainsFunc(wrong, func(i int) bool { return alike(m.species[key], m.species[i]) })
}

// leaveOutPrey drops whom a clue names as prey: nobody takes it for its hunter.
func (m *maker) leaveOutPrey(from bitset, clues []*fact) {
	for i, s := range m.species {
		if slices.ContainsFunc(clues, func(f *fact) bool { return f.trait.ID == memberOf(preysOn, s.Name) }) {
			from.drop(i)
		}
	}
}

// holding are the species of an index that something decided holds of.
func (ix *index) holding(trait string) []int {
	for _, f := range ix.facts {
		if f.trait.ID == trait && positive(f) {
			return f.yes.members()
		}
	}
	return nil
}

func memberOf(set, member string) string { return set + "_" + strings.ReplaceAll(member, " ", "_") }
