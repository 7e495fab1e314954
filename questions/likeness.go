package questions

import (
	"cmp"
	_ "embed"
	"math"
	"slices"
	"strings"
	"sync"

	"fieldsign/questions/catalogue"
)

// taughtSheet has a row for each group of animals that coaches set beside each other
// in a subject, by common practice.
//
//go:embed taught.csv
var taughtSheet string

// taught are the pairs of those groups, both ways round.
var taught = sync.OnceValue(func() map[taughtPair]bool {
	pairs := map[taughtPair]bool{}
	for row := range strings.Lines(taughtSheet) {
		subject, animals, _ := strings.Cut(strings.TrimSpace(row), ",")
		group := strings.Split(animals, ";")
		for _, a := range group {
			for _, b := range group {
				pairs[taughtPair{subject, a, b}] = a != b
			}
		}
	}
	return pairs
})

type taughtPair struct{ subject, one, other string }

// sight is what a question looks at: all of a subject, a part of it, or what a
// drawing shows. It says how alike two species are there, and whether anyone
// could take the one for the other.
type sight struct {
	alike similarity
	build []string    // by species; empty: not known
	stand []string    // by species, how it stands: what tells breeds of many sizes
	web   []string    // by species, of the foot that shows it best
	toes  [][2]string // by species, how many its front and its hind print show
	size  []float64   // by species, the middle of its range; NaN: not known
	pairs []bitset    // by species, those that coaches set beside it
	apart float64     // so many times as large is another size
}

// sizeApart is how many times as large a print, a skull or a dropping may be as
// one that it is taken for, by subject or by build.
var sizeApart = map[string]float64{"track": 1.6, "bird foot": 2.1, "skull": 2, "fanged": 1.8, "scat": 2, "sign": 4, catalogue.Specimen: 3, catalogue.FoodWeb: 8}

// webOf is the trait by which an animal of a class is seen to have webs.
var webOf = map[string]string{"mammal": "hind_webbing", "bird": "front_webbing"}

// kin are the traits by which relatives come before strangers, and those that
// stand alike before the rest.
var kin = []string{"order", "family", "posture"}

// neighbourly are those by which neighbours do. What an animal leaves beside its
// track and its scat may be the work of whoever lives there, and is as large; so may
// be what is eaten; and a pelt is taken for that of one who lives alike.
var neighbourly = strings.Fields("order family guild semi_aquatic climbs burrows skull_length")

// newSights has a sight of the subject, by its name, and one of each drawing,
// by its name and by the pose of a small one.
func (ix *index) newSights(c *catalogue.Catalogue, own []catalogue.Trait) {
	var relatives []catalogue.Trait
	byLife := slices.Contains([]string{"sign", catalogue.Specimen, catalogue.FoodWeb}, ix.subject)
	ids := kin
	if byLife {
		ids = neighbourly
	}
	for _, id := range ids {
		if t, ok := c.Trait(id); ok {
			relatives = append(relatives, t)
		}
	}
	builds, drawn := make([]string, len(ix.species)), make([]string, len(ix.species))
	stands, webs := make([]string, len(ix.species)), make([]string, len(ix.species))
	toes := make([][2]string, len(ix.species))
	for i, s := range ix.species {
		if ix.subject == catalogue.FoodWeb {
			continue // whoever is as large may be taken for another
		}
		builds[i] = buildOf(s, ix.subject)
		drawn[i] = drawnBuild(s, builds[i])
		if !byLife {
			stands[i] = s.Values["posture"].Typical().Text
		}
		if ix.subject == "track" {
			webs[i] = s.Values[webOf[ix.class[i]]].Typical().Text
			toes[i] = [2]string{s.Values["front_toes"].Claimed(), s.Values["hind_toes"].Claimed()}
		}
	}
	pairs := ix.taughtPairs()
	look := func(name, size string, builds []string, shown func(catalogue.Trait) bool) {
		seen := append([]catalogue.Trait(nil), relatives...)
		for _, t := range own {
			if !byLife && (shown(t) || t.ID == size || t.ID == "larger_foot") {
				seen = append(seen, t)
			}
		}
		ix.sights[name] = &sight{newSimilarity(ix.species, seen), builds, stands, webs, toes, middles(ix.species, size), pairs, sizeApart[ix.subject]}
	}
	look(ix.subject, sizes[ix.subject], builds, func(catalogue.Trait) bool { return true })
	for _, v := range append(plateViews, trailView) {
		builds := builds
		if v.subject != ix.subject {
			continue
		}
		if v.name != trailView.name {
			builds = drawn
		}
		look(v.name, v.size, builds, func(t catalogue.Trait) bool { return slices.Contains(v.traits, t.ID) })
		if v.pose != v.name && v.pose != "" {
			look(v.pose, v.size, builds, func(t catalogue.Trait) bool { return slices.Contains(v.small, t.ID) })
		}
	}
}

// taughtPairs are those of which the subject has a fact that tells the one from the
// other: where nature has none, others have to stand beside the key.
func (ix *index) taughtPairs() []bitset {
	out := make([]bitset, len(ix.species))
	for i, a := range ix.species {
		out[i] = newBitset(len(ix.species))
		for j, b := range ix.species {
			apart := func(f int) bool { return ix.facts[f].no.has(j) && ix.facts[f].trait.Weight >= leastTaught }
			if taught()[taughtPair{ix.subject, a.Name, b.Name}] && slices.ContainsFunc(ix.of[i], apart) {
				out[i].add(j)
			}
		}
	}
	return out
}

// sizes are the traits by which one sees at once how large what an animal leaves
// is. A deer's bite is taken for a rabbit's, but no mouse's work for an elk's.
var sizes = map[string]string{"skull": "skull_length", "track": "front_length", "scat": "scat_diameter", "sign": "skull_length", catalogue.Specimen: "skull_length", catalogue.FoodWeb: "body_mass"}

func middles(species []catalogue.Species, size string) []float64 {
	out := make([]float64, len(species))
	for i, s := range species {
		out[i] = math.NaN()
		if v := s.Values[size]; v.Known() {
			out[i] = math.Sqrt(v.Lo * v.Hi)
		}
	}
	return out
}

// buildOf is what keeps animals apart for anyone who has seen a few: a hoof from
// a paw, a cloven one from a single one, and the paw of a rodent or a hare on dry
// land from others; the skulls of hoofed animals, of gnawing ones and of the rest,
// with whose teeth the hog's go; the droppings and the work of plant-eaters from those
// of the rest.
func buildOf(s catalogue.Species, subject string) string {
	is := func(trait, value string) bool { return s.Values[trait].Typical().Text == value }
	gnaws := is("diastema", "yes") && is("large_canines", "no")
	switch {
	case subject == "track" && gnaws && is("foot_type", "paw") && !is("semi_aquatic", "yes"):
		return "gnawing paw"
	case subject == "track" && is("foot_type", "hoof"):
		return "hoof of " + s.Values["front_toes"].Claimed()
	case subject == "track":
		return s.Values["foot_type"].Text
	case subject == "sign":
		return mealsOf(s, gnaws)
	case subject == "animal" || subject == catalogue.Specimen || !s.Values["posture"].Says() && !s.Values["large_canines"].Says():
		return ""
	case is("posture", "unguligrade") && subject == "scat":
		return "plants"
	case is("posture", "unguligrade") && !is("large_canines", "yes"):
		return "hoofed"
	case gnaws && subject == "scat" && is("semi_aquatic", "yes") && is("scat_form", "pellet"):
		return "plants of the water" // long pellets, which nobody takes for a hare's
	case gnaws && subject == "scat":
		return "plants"
	case gnaws:
		return "gnawing"
	case subject == "skull" && (is("cheek_teeth", "insect-piercing") || is("cheek_teeth", "peg-like")):
		return s.Values["cheek_teeth"].Typical().Text
	}
	if subject == "skull" {
		return "fanged"
	}
	return "flesh"
}

// mealsOf is what keeps the work of animals apart: those that gnaw and graze, and those
// with teeth for flesh. Whoever digs for insects leaves what a gopher could.
func mealsOf(s catalogue.Species, gnaws bool) string {
	is := func(trait, value string) bool { return s.Values[trait].Typical().Text == value }
	switch {
	case !s.Values["large_canines"].Says(), is("cheek_teeth", "insect-piercing"), is("cheek_teeth", "peg-like"):
		return ""
	case gnaws, is("posture", "unguligrade") && !is("large_canines", "yes"):
		return "plants"
	}
	return "flesh"
}

// drawnBuild is the build in a drawing. A hare's print is all fur, and nobody takes it
// for a porcupine's, though the trails of hares and squirrels are alike; nor a bare
// head for one with horns.
func drawnBuild(s catalogue.Species, build string) string {
	switch {
	case build == "gnawing paw" && s.Values["furred_sole"].Typical().Text == "yes":
		return "gnawing furred paw"
	case build == "hoofed" && s.Values["head_gear"].Typical().Text == "none":
		return "hoofed, bare head"
	}
	return build
}

// mistakable reports whether one could take a species for another.
func (s *sight) mistakable(a, b int) bool {
	if !s.sameBuild(a, b) {
		return false
	}
	if s.webApart(a, b) {
		return false
	}
	if s.pairs[a].has(b) {
		return true
	}
	ratio, apart := s.size[a]/s.size[b], cmp.Or(sizeApart[s.build[a]], s.apart)
	return math.IsNaN(ratio) && s.stand[a] == s.stand[b] || ratio <= apart && ratio >= 1/apart
}

func (s *sight) sameBuild(a, b int) bool {
	return s.build[a] == s.build[b] || s.build[a] == "" || s.build[b] == ""
}

// webApart reports whether the web alone tells two apart: nobody overlooks a full one, or
// the lack of any beside a paw that has some.
func (s *sight) webApart(a, b int) bool {
	if s.build[a] == "bird foot" {
		return (s.web[a] == "full") != (s.web[b] == "full")
	}
	webbed := func(i int) bool { return s.web[i] == "full" || s.web[i] == "partial" }
	return webbed(a) && s.web[b] == "none" || webbed(b) && s.web[a] == "none"
}

// sameToes reports whether the prints of two may have the same numbers of toes.
func (s *sight) sameToes(a, b int) bool {
	same := func(foot int) bool {
		x, y := s.toes[a][foot], s.toes[b][foot]
		return x == y || x == "" || y == ""
	}
	return same(0) && same(1)
}
