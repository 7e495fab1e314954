package foodweb_test

import (
	"testing"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
)

func species(t *testing.T, c *catalogue.Catalogue, name string) catalogue.Species {
	t.Helper()
	s, ok := c.Find(name)
	if !ok {
		t.Fatal("no species", name)
	}
	return s
}

// Each rule decides what it should, and leaves open what it can't know.
func TestWhoPreysOnWhom(t *testing.T) {
	c := catalogue.Builtin()
	w := foodweb.New(c)
	for _, e := range []struct {
		hunter, prey string
		truth        catalogue.Truth
		by           foodweb.By
	}{
		{"Canis lupus", "Alces alces", catalogue.True, foodweb.Named},                // Mech and Frenzel 1971
		{"Neogale vison", "Ondatra zibethicus", catalogue.True, foodweb.Named},       // five sources
		{"Lynx rufus", "Sylvilagus floridanus", catalogue.True, foodweb.Group},       // "rabbits"
		{"Vulpes vulpes", "Sylvilagus floridanus", catalogue.True, foodweb.Rule},     //
		{"Odocoileus virginianus", "Mus musculus", catalogue.False, foodweb.Diet},    //
		{"Myotis lucifugus", "Mus musculus", catalogue.False, foodweb.Diet},          // insects alone
		{"Neogale frenata", "Odocoileus virginianus", catalogue.False, foodweb.Size}, //
		{"Ursus arctos", "Alces alces", catalogue.Undecided, foodweb.Undecided},      // as carcasses, which is not hunting
		// Named by a source, and yet no rule: an otter lives on fish, a weasel is too
		// small, one source has an owl take a porcupine, deer are "occasionally", a
		// carnivore is a rival, a dog is no wild animal.
		{"Lontra canadensis", "Castor canadensis", catalogue.Undecided, foodweb.Undecided},
		{"Neogale frenata", "Ondatra zibethicus", catalogue.Undecided, foodweb.Undecided},
		{"Bubo virginianus", "Erethizon dorsatum", catalogue.Undecided, foodweb.Undecided},
		{"Canis latrans", "Odocoileus virginianus", catalogue.Undecided, foodweb.Undecided},
		{"Lynx canadensis", "Vulpes vulpes", catalogue.Undecided, foodweb.Undecided},
		{"Canis familiaris", "Microtus pennsylvanicus", catalogue.Undecided, foodweb.Undecided},
		{"Rattus norvegicus", "Phasianus colchicus", catalogue.Undecided, foodweb.Undecided},
		{"Canis lupus", "Mus musculus", catalogue.Undecided, foodweb.Undecided}, // nobody says so, and no rule is for a hunter of that mass
		{"Lynx rufus", "Lynx rufus", catalogue.Undecided, foodweb.Undecided},
	} {
		got := w.Preys(species(t, c, e.hunter), species(t, c, e.prey))
		if got.Truth != e.truth || got.By != e.by {
			t.Errorf("%s on %s: %v by %s, want %v by %s", e.hunter, e.prey, got.Truth, got.By, e.truth, e.by)
		}
		if got.Truth != catalogue.Undecided && !got.Basis.Read() {
			t.Errorf("%s on %s rests on %s", e.hunter, e.prey, got.Basis)
		}
	}
}

// A web has no two that prey on each other, and what it decides never
// contradicts what it says of levels.
func TestTheWebIsConsistent(t *testing.T) {
	c := catalogue.Builtin()
	w := foodweb.New(c)
	for _, a := range c.Species {
		level, _ := w.Feeds(a)
		for _, b := range c.Species {
			v := w.Preys(a, b)
			if v.Truth == catalogue.True && level == foodweb.Primary {
				t.Errorf("%s feeds on plants alone and preys on %s", a.Name, b.Name)
			}
			if v.Truth == catalogue.True && w.Preys(b, a).Truth == catalogue.True && a.Name < b.Name {
				t.Logf("%s and %s prey on each other", a.Name, b.Name)
			}
			if x, y := w.Compete(a, b).Truth, w.Compete(b, a).Truth; x != y {
				t.Errorf("%s competes with %s, but not the other way round", a.Name, b.Name)
			}
		}
	}
}

// What an animal mainly lives on, by the shares that EltonTraits 1.0 prints: an otter
// on fish by 90 %, a mink by 20 % and on mammals and birds by 50 %; a woodchuck's
// plants are of both kinds.
func TestWhatAnAnimalLivesOn(t *testing.T) {
	c := catalogue.Builtin()
	for _, e := range []struct {
		name string
		kind foodweb.Kind
		want catalogue.Truth
	}{
		{"Lontra canadensis", foodweb.Fish, catalogue.True},
		{"Neogale vison", foodweb.Fish, catalogue.Undecided}, // its second food
		{"Bonasa umbellus", foodweb.Seeds, catalogue.Undecided},
		{"Neogale vison", foodweb.Warm, catalogue.True},
		{"Procyon lotor", foodweb.Warm, catalogue.False},
		{"Gulo gulo", foodweb.Warm, catalogue.Undecided}, // carrion is of mammals, too
		{"Marmota monax", foodweb.Seeds, catalogue.Undecided},
		{"Bassariscus astutus", foodweb.Seeds, catalogue.Undecided}, // 70 %, and an omnivore
		{"Dasypus novemcinctus", foodweb.Seeds, catalogue.False},    // it eats some, which is not denied
	} {
		if got := foodweb.LivesOn(species(t, c, e.name), e.kind).Truth; got != e.want {
			t.Errorf("%s on %s: %v, want %v", e.name, e.kind, got, e.want)
		}
	}
}

// Overlap by hand, from the shares that EltonTraits 1.0 prints: gray wolf 100 of
// mammals and birds; coyote 60, 10 of fish, 30 of carrion.
func TestOverlap(t *testing.T) {
	c := catalogue.Builtin()
	if got, known := foodweb.Overlap(species(t, c, "Canis lupus"), species(t, c, "Canis latrans")); got != 60 || !known {
		t.Errorf("wolf and coyote overlap by %v, want 60", got)
	}
}

func TestChains(t *testing.T) {
	c := catalogue.Builtin()
	w := foodweb.New(c)
	for text, want := range map[string]catalogue.Truth{
		"green plants > Sylvilagus floridanus > Lynx rufus": catalogue.True,
		"green plants > Lynx rufus > Sylvilagus floridanus": catalogue.False,
		"Lynx rufus > Sylvilagus floridanus > green plants": catalogue.False,
		"green plants > Canis latrans":                      catalogue.Undecided,
		"green plants":                                      catalogue.Undecided,
		"invertebrates > Myotis lucifugus":                  catalogue.True,
		"green plants > invertebrates > Myotis lucifugus":   catalogue.Undecided,
		"green plants > Nobody knows":                       catalogue.Undecided,
	} {
		if got := w.Possible(c.Find, foodweb.ReadChain(text)).Truth; got != want {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
	chain := "green plants > Sylvilagus floridanus > Lynx rufus"
	for _, e := range []struct {
		species, trait, word string
		want                 catalogue.Truth
	}{
		{"Lynx rufus", foodweb.LevelIn, "secondary consumer", catalogue.True},
		{"Lynx rufus", foodweb.LevelIn, "producer", catalogue.False},
		{"Canis latrans", foodweb.LevelIn, "producer", catalogue.Undecided},
		{"Sylvilagus floridanus", foodweb.IfGone, "more, fewer after Sylvilagus floridanus", catalogue.True},
		{"Sylvilagus floridanus", foodweb.IfGone, "more, more after Sylvilagus floridanus", catalogue.False},
		{"Lynx rufus", foodweb.IfGone, "fewer, more after Lynx rufus", catalogue.True},
		{"Lynx rufus", foodweb.IfMore, "more, fewer after Lynx rufus", catalogue.True},
		{"Lynx rufus", foodweb.IfGone, "fewer, fewer after green plants", catalogue.True},
		{"Lynx rufus", foodweb.IfMore, "more, more after green plants", catalogue.True},
		{"Lynx rufus", foodweb.IfGone, "more, fewer", catalogue.Undecided},
		{"Sylvilagus floridanus", foodweb.IfGone, "who knows after Lynx rufus", catalogue.Undecided},
	} {
		claim := catalogue.Claim{Trait: e.trait, Op: "=", Value: e.word + " in " + chain}
		if got := w.Judge(c.Find, e.species, claim).Truth; got != e.want {
			t.Errorf("%s %s %s: %v, want %v", e.species, e.trait, e.word, got, e.want)
		}
	}
}
