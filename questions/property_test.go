package questions_test

import (
	"flag"
	"fmt"
	"reflect"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// randomCatalogue draws a small catalogue with every kind of trait, gaps and all.
func randomCatalogue(t *rapid.T) *catalogue.Catalogue {
	say := catalogue.Wording{Says: "shows {}", Denies: "does not show {}", Most: "is the most", Least: "is the least", Some: "has some", Adjective: "{}"}
	var traits []catalogue.Trait
	kinds := []catalogue.Kind{catalogue.State, catalogue.YesNo, catalogue.Count, catalogue.Range, catalogue.Set}
	for i := range rapid.IntRange(3, 9).Draw(t, "traits") {
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		tr := catalogue.Trait{ID: fmt.Sprintf("t%d", i), Subject: rapid.SampledFrom([]string{"skull", "animal"}).Draw(t, "subject"),
			Label: fmt.Sprintf("trait %d", i), Kind: kind, Part: "skull", Wording: say, Weight: 1, Ease: rapid.IntRange(1, 5).Draw(t, "ease")}
		if kind == catalogue.State || kind == catalogue.Set {
			tr.Allowed = []string{"red", "green", "blue", "grey", "white"}
		}
		traits = append(traits, tr)
	}
	var species []catalogue.Species
	for i := range rapid.IntRange(4, 14).Draw(t, "species") {
		s := catalogue.Species{Name: fmt.Sprintf("Genus s%02d", i), Vernacular: fmt.Sprintf("animal %d", i), Subjects: []string{"animal", "skull"}, Values: map[string]catalogue.Value{}}
		for _, tr := range traits {
			s.Values[tr.ID] = randomValue(t, tr)
		}
		species = append(species, s)
	}
	return catalogue.New(traits, species, nil)
}

func randomValue(t *rapid.T, tr catalogue.Trait) catalogue.Value {
	status := rapid.SampledFrom([]catalogue.Status{catalogue.Known, catalogue.Known, catalogue.Known, catalogue.Unknown, catalogue.Variable, catalogue.NotApplicable}).Draw(t, "status")
	v := catalogue.Value{Status: status, Basis: catalogue.Published} // nothing waits for better facts
	if status != catalogue.Known {
		return v
	}
	switch tr.Kind {
	case catalogue.State:
		v.Text = rapid.SampledFrom(tr.Allowed[:3]).Draw(t, "state")
	case catalogue.YesNo:
		v.Text = rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "yes")
	case catalogue.Count:
		v.Lo = float64(rapid.IntRange(0, 4).Draw(t, "count"))
		v.Hi = v.Lo
	case catalogue.Range:
		v.Lo = float64(rapid.IntRange(1, 9).Draw(t, "low"))
		v.Hi = v.Lo + float64(rapid.IntRange(0, 4).Draw(t, "width"))
	case catalogue.Set:
		v.Members = rapid.SliceOfNDistinct(rapid.SampledFrom(tr.Allowed), 1, 3, rapid.ID[string]).Draw(t, "members")
	}
	return v
}

// Over random catalogues: never two keys, never a key or a distractor decided
// by what is not known, and the same seed gives the same set.
func TestExactlyOneKey(t *testing.T) {
	flag.Set("rapid.checks", strconv.Itoa(soak.Size(60, 500)))
	asked := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := randomCatalogue(t)
		bank := questions.NewBank(c, c.Everything())
		wish := questions.Wish{Subjects: []string{"skull"}, Count: rapid.IntRange(1, 20).Draw(t, "count"), Seed: rapid.Uint64().Draw(t, "seed"),
			Difficulty: rapid.IntRange(0, 5).Draw(t, "difficulty")}
		set, err := bank.Set(wish)
		if err != nil {
			return // too small a catalogue for the wish, and it says so
		}
		again, _ := questions.NewBank(c, c.Everything()).Set(wish)
		if !reflect.DeepEqual(set, again) {
			t.Fatal("the same seed gave another set")
		}
		for _, q := range set {
			asked[q.Template]++
			for i := range q.Options {
				want := catalogue.False
				if i == q.Key {
					want = catalogue.True
				}
				if got := truth(c, q, i); got != want {
					t.Fatalf("%s: option %d is %v, want %v: %+v", q.Template, i, got, want, q)
				}
			}
		}
	})
	t.Logf("questions by template: %v", asked)
	if len(asked) < soak.Size(4, 8) { // chance leaves some out of a few checks
		t.Errorf("only %d templates came up: the random catalogues are too poor to prove anything", len(asked))
	}
}

func truth(c *catalogue.Catalogue, q questions.Question, i int) catalogue.Truth {
	o := q.Options[i]
	if q.About == nil {
		s, _ := c.Find(o.Species)
		return catalogue.All(q.Test.All, s.Values)
	}
	is, _ := c.Find(q.About.Is)
	result := catalogue.All(o.Test.All, is.Values)
	if not, ok := c.Find(q.About.Not); ok && result == catalogue.True {
		return map[catalogue.Truth]catalogue.Truth{catalogue.True: catalogue.False, catalogue.False: catalogue.True}[catalogue.All(o.Test.All, not.Values)]
	}
	return result
}
