// Package foodweb says who eats whom among the animals of a catalogue, by what
// sources were found to say of it and by stated rules over published diets and
// masses. What neither decides stays open. It is pure, and knows the catalogue
// alone; docs/questions.md has the rules in plain words.
package foodweb

import (
	"math"
	"slices"

	"fieldsign/questions/catalogue"
)

// Bounds of the rules.
const (
	// A kind of food that makes up so many percent of the diet is eaten.
	leastShare = 20
	// Of what makes up so many percent of its diet, an animal lives mainly.
	mainShare = 50
	// What makes up less, in percent, beside a main food is no second food.
	secondShare = 20
	// Who takes vertebrates of the land by less, in percent, takes them at times.
	huntsAtAll = 30
	// Plants of the other kind that make up so many percent are as much to an animal.
	asMuch = 40
	// Carnivores of less than so many kilograms take prey of at most half their own
	// mass, larger ones prey of more (carbone-1999 in sources.csv: by its abstract, up
	// to 21.5 kg).
	smallHunter, ownMass = 20, 0.5
	// A bird carries its prey away: of at most its own mass.
	birdsMass = 1
	// Prey of another mass is regular where so many sources name it, up to so many
	// times its hunter's mass: beyond that it is the young that are meant.
	twice, heaviest = 2, 5
	// An animal of more than so many times a hunter's mass is none of its prey. The
	// largest that a source names is some twenty times as heavy: a bison, of wolves.
	tooLarge = 30
	// Of a named group, only what has at most so many times a hunter's mass is meant.
	groupMass = 10
	// Diets are alike, or share little, by so many percent of overlap.
	alike, unlike = 60, 30
	// Competitors differ in mass by at most this factor.
	likeMass = 4
)

// By is what decides whether one animal preys on another.
type By string

// What decides, beside nothing.
const (
	Named     By = "named"       // a source names the two
	Group     By = "group"       // a source names a group of either
	Rule      By = "rule"        // by diet, mass, place and habits
	Diet      By = "diet"        // it takes no vertebrates
	Size      By = "size"        // what it would have to take is far too large
	Undecided By = "not decided" //
)

// Verdict says whether something is so, what decides it, and what that rests on.
type Verdict struct {
	Truth catalogue.Truth
	By    By
	Basis catalogue.Basis
}

var open = Verdict{catalogue.Undecided, Undecided, catalogue.Memory}

// Web answers for all animals of a catalogue. It is read-only once made.
type Web struct {
	rows  map[[2]string][]catalogue.Prey // by predator and prey
	flesh map[string]bool                // who was seen to take a vertebrate, or its egg
}

// New reads a catalogue's rows of prey.
func New(c *catalogue.Catalogue) *Web {
	w := &Web{map[[2]string][]catalogue.Prey{}, map[string]bool{}}
	for _, p := range c.Prey {
		at := [2]string{p.Predator, p.Prey}
		w.rows[at] = append(w.rows[at], p)
		w.flesh[p.Predator] = w.flesh[p.Predator] || p.Prey != "invertebrates" && p.Prey != "plants"
	}
	return w
}

// Preys says whether one animal hunts another as a rule where the two meet. What
// was taken at times stays open, and so does what it finds dead.
func (w *Web) Preys(hunter, prey catalogue.Species) Verdict {
	rows := w.rows[[2]string{hunter.Name, prey.Name}]
	named := slices.ContainsFunc(rows, func(p catalogue.Prey) bool { return p.Basis > catalogue.Group })
	h, p := massOf(hunter), massOf(prey)
	switch {
	case hunter.Name == prey.Name, domestic(hunter), domestic(prey), len(rows) > 0 && !regular(hunter, prey, rows):
		return open
	case named:
		return Verdict{catalogue.True, Named, best(rows)}
	case len(rows) > 0 && p.hi <= groupMass*h.lo && p.hi > 0 && meet(hunter, prey):
		return Verdict{catalogue.True, Group, min(best(rows), catalogue.Group)}
	case len(rows) > 0:
		return open
	case w.takesNone(hunter):
		return Verdict{catalogue.False, Diet, hunter.Values["guild"].Basis}
	case h.hi > 0 && p.lo > tooLarge*h.hi:
		return Verdict{catalogue.False, Size, min(h.basis, p.basis)}
	case small(h) && p.hi > 0 && p.hi <= ownMass*h.lo && hunts(hunter, mainShare, "warm_prey") && InReach(hunter, prey):
		return Verdict{catalogue.True, Rule, min(h.basis, p.basis, hunter.Values["eats_warm_prey"].Basis)}
	}
	return open
}

// regular: a source may name what was taken once. As a rule prey is taken by whoever
// lives on vertebrates by a good part, and where no source calls it rare; it is of a
// mass that its hunter lives on, or several sources name it. Carnivores kill each
// other as rivals, and shrews and moles, which smell, are often left.
func regular(hunter, prey catalogue.Species, rows []catalogue.Prey) bool {
	of := func(s catalogue.Species, order string) bool { return s.Values["order"].Text == order }
	rare := slices.ContainsFunc(rows, func(p catalogue.Prey) bool { return p.NotTaken != "" })
	if rare || !Hunts(hunter) || of(hunter, "Carnivora") && of(prey, "Carnivora") {
		return false
	}
	sources := map[string]bool{}
	for _, p := range rows {
		sources[p.Source] = true
	}
	h, p := massOf(hunter), massOf(prey)
	several := len(sources) >= twice && (!small(h) || p.lo <= heaviest*h.hi)
	return several || !of(prey, "Eulipotyphla") && fitting(hunter)(h, p)
}

// fitting says which masses of prey such a hunter lives on.
func fitting(hunter catalogue.Species) func(h, p mass) bool {
	switch {
	case hunter.Values["class"].Text == "bird":
		return func(h, p mass) bool { return p.lo > 0 && p.lo <= birdsMass*h.hi }
	case small(massOf(hunter)):
		return func(h, p mass) bool { return p.lo > 0 && p.lo <= ownMass*h.hi }
	}
	return func(h, p mass) bool { return h.lo > 0 && p.hi >= ownMass*h.lo }
}

// domestic are the animals of farms and houses: no chain ends in a dog.
func domestic(s catalogue.Species) bool {
	return slices.Contains([]string{"Bos taurus", "Canis familiaris", "Equus caballus", "Felis catus"}, s.Name)
}

func best(rows []catalogue.Prey) catalogue.Basis {
	b := catalogue.Memory
	for _, p := range rows {
		b = max(b, p.Basis)
	}
	return b
}

type mass struct {
	lo, hi float64 // kg; 0 where it is not known
	basis  catalogue.Basis
}

func massOf(s catalogue.Species) mass {
	v := s.Values["body_mass"]
	return mass{v.Lo, v.Hi, v.Basis}
}

func small(m mass) bool { return m.hi > 0 && m.hi < smallHunter }

func hunts(s catalogue.Species, least float64, kinds ...string) bool {
	sum, known := share(s, kinds...)
	return known && sum >= least
}

// ruledPrey are the orders whose animals a hunter of twice their mass takes
// wherever it finds them. Carnivores keep out of each other's way, and birds fly.
var ruledPrey = []string{"Rodentia", "Lagomorpha"}

// InReach reports whether the two may meet, at the same time of day, and the prey has no refuge
// that the hunter can't follow it into: the water, the trees, the soil, the air, quills.
func InReach(hunter, prey catalogue.Species) bool {
	is := func(s catalogue.Species, trait, word string) bool { return s.Values[trait].Typical().Text == word }
	for _, refuge := range []string{"semi_aquatic", "climbs", "burrows"} {
		if !is(prey, refuge, "no") && !is(hunter, refuge, "yes") {
			return false
		}
	}
	outrun := is(prey, "order", "Lagomorpha") && is(hunter, "burrows", "yes") // whoever digs for its prey runs down none
	return !outrun && slices.Contains(ruledPrey, prey.Values["order"].Text) && prey.Values["family"].Text != "Erethizontidae" &&
		meet(hunter, prey) && !catalogue.Apart(hunter.Values["activity"], prey.Values["activity"])
}

// meet reports whether some part of the continent has both. It is recalled, and
// so it only ever keeps a rule from deciding.
func meet(a, b catalogue.Species) bool { return Together([]catalogue.Species{a, b}) }

// Together reports whether some part of the continent has them all.
func Together(list []catalogue.Species) bool {
	for _, region := range list[0].Values["region"].Members {
		lacks := func(s catalogue.Species) bool { return !slices.Contains(s.Values["region"].Members, region) }
		if !slices.ContainsFunc(list, lacks) {
			return true
		}
	}
	return false
}

// Shares of the diet, in percent, as they stand in the sheet.
var (
	plants      = []string{"green", "seeds", "fruit", "nectar"}
	vertebrates = []string{"warm_prey", "cold_prey", "fish", "other_prey", "carrion"}
	animals     = append([]string{"invertebrates"}, vertebrates...)
	shares      = append(slices.Clone(plants), animals...)
)

func share(s catalogue.Species, kinds ...string) (sum float64, known bool) {
	known = true
	for _, k := range kinds {
		v := s.Values["eats_"+k]
		sum, known = sum+v.Lo, known && v.Known()
	}
	return sum, known
}

// takesNone: neither the published diet nor any source has a vertebrate among
// its food, and its guild is one of those that live without.
func (w *Web) takesNone(s catalogue.Species) bool {
	sum, known := share(s, vertebrates...)
	return known && sum == 0 && !w.flesh[s.Name] && (guild(s, "herbivore") || guild(s, "insectivore"))
}

func guild(s catalogue.Species, word string) bool {
	v := s.Values["guild"]
	return v.Known() && v.Text == word
}

// Kind is a kind of food that is no animal of the catalogue.
type Kind string

// The kinds of food, those of plants first.
const (
	Green         Kind = "green plants"
	Seeds         Kind = "seeds and fruit"
	Invertebrates Kind = "invertebrates"
	Fish          Kind = "fish"
	Cold          Kind = "reptiles and amphibians"
)

// Kinds lists them.
var Kinds = []Kind{Green, Seeds, Invertebrates, Fish, Cold}

// Warm is what many live on, and stands in no chain: there its animals do.
const Warm Kind = "mammals and birds"

// Staples are the kinds of which a diet can be the most.
var Staples = []Kind{Green, Seeds, Invertebrates, Fish, Warm}

var sharesOf = map[Kind][]string{Green: {"green"}, Seeds: {"seeds", "fruit", "nectar"}, Invertebrates: {"invertebrates"}, Fish: {"fish"}, Cold: {"cold_prey"}, Warm: {"warm_prey"}}

// orAs are the shares in which some of a kind may stand, too: carrion is of mammals.
var orAs = map[Kind][]string{Fish: {"other_prey"}, Warm: {"other_prey", "carrion"}}

// guildOf is the guild of those that live on a kind.
var guildOf = map[Kind]string{Green: "herbivore", Seeds: "herbivore", Invertebrates: "insectivore", Fish: "carnivore", Warm: "carnivore"}

// LivesOn says whether a kind of food is the most of an animal's diet. It is not
// where another kind is and this one is no second food, or where it has no share at all.
func LivesOn(s catalogue.Species, k Kind) Verdict {
	_, known := share(s, sharesOf[k]...)
	most, _ := share(s, slices.Concat(sharesOf[k], orAs[k])...)
	other := slices.ContainsFunc(Staples, func(o Kind) bool { return staple(s, o) })
	basis := s.Values["eats_"+sharesOf[k][0]].Basis
	if g := s.Values["guild"]; g.Known() {
		basis = min(basis, g.Basis)
	}
	switch {
	case !known:
	case staple(s, k):
		return Verdict{catalogue.True, Diet, basis}
	case most == 0, most < secondShare && other:
		return Verdict{catalogue.False, Diet, basis}
	}
	return open
}

// staple: half of the diet or more, and the guild says nothing else.
func staple(s catalogue.Species, k Kind) bool {
	sum, known := share(s, sharesOf[k]...)
	g := s.Values["guild"]
	rival, _ := share(s, sharesOf[map[Kind]Kind{Green: Seeds, Seeds: Green}[k]]...)
	return known && sum >= mainShare && rival < asMuch && (!g.Known() || g.Text == guildOf[k])
}

// MainPlants is the kind of plant food that an animal is known for: what it
// grazes or browses, where that is much of its diet, or else the larger share.
func MainPlants(s catalogue.Species) Kind {
	green, _ := share(s, sharesOf[Green]...)
	if seeds, _ := share(s, sharesOf[Seeds]...); green < asMuch && seeds > green {
		return Seeds
	}
	return Green
}

// ByAnimals reports whether an animal lives on animals by half or more.
func ByAnimals(s catalogue.Species) bool { return hunts(s, mainShare, animals...) }

// Hunts reports whether it lives on vertebrates of the land by a good part.
func Hunts(s catalogue.Species) bool { return hunts(s, huntsAtAll, "warm_prey", "other_prey") }

// Plant reports whether the kind is a producer, or a part of one.
func (k Kind) Plant() bool { return k == Green || k == Seeds }

// Eats says whether a kind of food is a good part of an animal's diet, or no
// part at all. That it is none takes more than a zero in the published diet: the
// guild has to say the same of all plants, or of all animals.
func (w *Web) Eats(s catalogue.Species, k Kind) Verdict {
	sum, known := share(s, sharesOf[k]...)
	basis := s.Values["eats_"+sharesOf[k][0]].Basis
	switch {
	case !known:
	case sum >= leastShare:
		return Verdict{catalogue.True, Diet, basis}
	case k.Plant() && w.noPlants(s), k == Invertebrates && w.noAnimals(s), k != Invertebrates && !k.Plant() && w.takesNone(s):
		return Verdict{catalogue.False, Diet, min(basis, s.Values["guild"].Basis)}
	}
	return open
}

// said reports whether any source says that an animal eats a kind of food.
func (w *Web) said(s catalogue.Species, food string) bool {
	return len(w.rows[[2]string{s.Name, food}]) > 0
}

func (w *Web) noPlants(s catalogue.Species) bool {
	sum, known := share(s, plants...)
	return known && sum == 0 && !w.said(s, "plants") && (guild(s, "carnivore") || guild(s, "insectivore"))
}

func (w *Web) noAnimals(s catalogue.Species) bool {
	sum, known := share(s, animals...)
	return known && sum == 0 && !w.said(s, "invertebrates") && !w.flesh[s.Name] && guild(s, "herbivore")
}

// Level is where an animal feeds.
type Level string

// The levels that the web can tell apart without following a chain.
const (
	Primary Level = "plants alone"       // a primary consumer
	Higher  Level = "animals alone"      // a secondary consumer, or higher
	Both    Level = "plants and animals" // an omnivore
)

// Feeds is an animal's level, where the diet and the guild agree on it.
func (w *Web) Feeds(s catalogue.Species) (Level, catalogue.Basis) {
	green, known := share(s, plants...)
	meat, also := share(s, animals...)
	basis := min(s.Values["eats_green"].Basis, s.Values["guild"].Basis)
	switch {
	case w.noAnimals(s):
		return Primary, basis
	case w.noPlants(s):
		return Higher, basis
	case known && also && green >= leastShare && meat >= leastShare && guild(s, "omnivore"):
		return Both, basis
	}
	return "", catalogue.Memory
}

// Overlap is how much of their diets two animals share, in percent: the sum of
// the smaller shares. The measure is common in ecology; it was recalled, not read.
func Overlap(a, b catalogue.Species) (percent float64, known bool) {
	known = true
	for _, k := range shares {
		x, y := a.Values["eats_"+k], b.Values["eats_"+k]
		percent, known = percent+min(x.Lo, y.Lo), known && x.Known() && y.Known()
	}
	return percent, known
}

// Compete says whether two relatives of like size look for the same food in the
// same places, or two animals live on other food for the most part.
func (w *Web) Compete(a, b catalogue.Species) Verdict {
	overlap, known := Overlap(a, b)
	x, y := massOf(a), massOf(b)
	basis := min(a.Values["eats_green"].Basis, b.Values["eats_green"].Basis, x.basis, y.basis)
	switch {
	case !known || x.hi == 0 || y.hi == 0 || a.Name == b.Name || domestic(a) || domestic(b):
	case overlap <= unlike:
		return Verdict{catalogue.False, Diet, basis}
	case overlap >= alike && math.Max(x.hi/y.lo, y.hi/x.lo) <= likeMass && sameHaunts(a, b):
		return Verdict{catalogue.True, Diet, basis}
	}
	return open
}

// sameHaunts: both may live in one place and are of one family, and none keeps
// to the water or to the trees without the other.
func sameHaunts(a, b catalogue.Species) bool {
	apart := func(trait string) bool { return catalogue.Apart(a.Values[trait], b.Values[trait]) }
	family := a.Values["family"]
	return meet(a, b) && family.Known() && family.Text == b.Values["family"].Text && !apart("semi_aquatic") && !apart("climbs")
}
