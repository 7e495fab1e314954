package questions_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

func known(text string) catalogue.Value { return catalogue.Value{Status: catalogue.Known, Text: text} }

func between(lo, hi float64) catalogue.Value {
	return catalogue.Value{Status: catalogue.Known, Lo: lo, Hi: hi}
}

func creature(name string, values map[string]catalogue.Value) catalogue.Species {
	return catalogue.Species{Name: "Genus " + name, Vernacular: name, Subjects: []string{"animal", "track"}, Values: values}
}

// gowerCatalogue is a worked example derived from the definition in Gower
// (1971, Biometrics 27:857-871), which prints none of these figures: lengths 60
// and 85 in a range of 100 agree by 0.75, the same gait by 1, claws against
// none by 0, and the toes of one are not known, so S = 1.75/3.
func gowerCatalogue() *catalogue.Catalogue {
	track := func(id string, kind catalogue.Kind, ease int) catalogue.Trait {
		return catalogue.Trait{ID: id, Label: id, Subject: "track", Kind: kind, Weight: 1, Ease: ease,
			Wording: catalogue.Wording{Says: "shows {}", Most: "is the most"}}
	}
	traits := []catalogue.Trait{track("length", catalogue.Range, 2), track("gait", catalogue.State, 3),
		track("claws", catalogue.YesNo, 4), track("toes", catalogue.Count, 5)}
	return catalogue.New(traits, []catalogue.Species{
		creature("first", map[string]catalogue.Value{"length": between(60, 60), "gait": known("trot"), "claws": known("yes"), "toes": between(4, 4)}),
		creature("second", map[string]catalogue.Value{"length": between(85, 85), "gait": known("trot"), "claws": known("no")}),
		creature("shortest", map[string]catalogue.Value{"length": between(10, 10)}),
		creature("longest", map[string]catalogue.Value{"length": between(110, 110)}),
		creature("blank", map[string]catalogue.Value{}),
	}, nil)
}

func TestLookalikesByGower(t *testing.T) {
	c := gowerCatalogue()
	list, err := questions.NewBank(c, c.Everything()).Lookalikes("Genus first", "track", 10)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, l := range list {
		names = append(names, l.Species.Vernacular)
	}
	// 0.583333, 0.5 and 0.5; nothing is known of the blank one.
	if got := strings.Join(names, " "); got != "second longest shortest" {
		t.Fatalf("look-alikes are %q", got)
	}
	if got := list[0].Similarity; math.Abs(got-0.583333) > 5e-7 {
		t.Errorf("similarity %f, want 0.583333", got)
	}
	if s := list[0].Separators; len(s) != 2 || s[0].Trait.ID != "claws" || s[1].Trait.ID != "length" {
		t.Errorf("separators are %v, want claws, then length", s)
	}
}

func TestLookalikesSaysWhatIsWrong(t *testing.T) {
	c := gowerCatalogue()
	bank := questions.NewBank(c, c.Everything())
	for _, ask := range [][2]string{{"Genus first", "feather"}, {"Genus first", "skull"}, {"Genus none", "track"}} {
		if _, err := bank.Lookalikes(ask[0], ask[1], 3); err == nil {
			t.Errorf("%v: no error", ask)
		}
	}
}

// Touching ranges and unknown values separate nothing; likeness is mutual.
func TestLookalikesProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomCatalogue(t)
		bank := questions.NewBank(c, c.Everything())
		alike := map[string]float64{}
		for _, s := range c.Species {
			list, err := bank.Lookalikes(s.Name, "skull", len(c.Species))
			if err != nil {
				t.Fatal(err)
			}
			for i, l := range list {
				if i > 0 && l.Similarity > list[i-1].Similarity || l.Similarity < 0 || l.Similarity > 1+1e-9 {
					t.Fatalf("place %d of %s has similarity %v", i, s.Name, l.Similarity)
				}
				alike[s.Name+l.Species.Name] = l.Similarity
				if back, seen := alike[l.Species.Name+s.Name]; seen && math.Abs(back-l.Similarity) > 1e-9 {
					t.Fatalf("%s and %s: %v and %v", s.Name, l.Species.Name, l.Similarity, back)
				}
				for _, sep := range l.Separators {
					if !separatesPair(sep.Trait, sep.This, sep.Other) {
						t.Fatalf("%s does not separate %s and %s", sep.Trait.ID, sep.This, sep.Other)
					}
				}
			}
		}
	})
}

// separatesPair restates by claims when a trait tells two values apart: some
// claim holds for one and fails for the other.
func separatesPair(t catalogue.Trait, a, b catalogue.Value) bool {
	claims := []catalogue.Claim{{Trait: t.ID, Op: "=", Value: a.String()}}
	if t.Kind == catalogue.Count || t.Kind == catalogue.Range {
		claims = nil
		for _, v := range []catalogue.Value{a, b} {
			claims = append(claims, catalogue.Claim{Trait: t.ID, Op: ">=", Value: between(v.Lo, v.Lo).String()})
		}
	}
	for _, c := range claims {
		if x, y := c.Holds(a), c.Holds(b); x != y && x != catalogue.Undecided && y != catalogue.Undecided {
			return true
		}
	}
	return false
}
