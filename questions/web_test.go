package questions_test

import (
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// A debrief names what was asked, in both languages.
func TestWhatTheWebIsCalled(t *testing.T) {
	for trait, want := range map[string][2]string{
		"preys_on_Ondatra_zibethicus": {"prey: muskrat", "presa: rata almizclera"},
		"lives_on_green_plants":       {"main food: green plants", "alimento principal: plantas verdes"},
		"food_chain":                  {"food chains", "cadenas alimentarias"},
		"estimate":                    {"estimates of how many there are", "estimaciones de cuántos hay"},
		"diastema":                    {"diastema", "diastema"},
	} {
		for i, c := range []*catalogue.Catalogue{catalogue.Builtin(), inSpanish(t)} {
			if got := questions.Called(c, trait); got != want[i] {
				t.Errorf("%s is called %q, want %q", trait, got, want[i])
			}
		}
	}
}

// What a file claims of the web is proved from the web: a chain that is turned
// round, or an estimate that is near, is refused.
func TestProveRefusesWhatTheWebDoesNotDecide(t *testing.T) {
	bank := builtin(t, "woodland-edge")
	set, err := bank.Set(questions.Wish{Subjects: []string{catalogue.FoodWeb, catalogue.Management}, Count: 60, Seed: 9, Templates: []string{"food-chain", "chain-level", "chain-effect", "lives-on", "worked-sum"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range set {
		if err := bank.Prove(q); err != nil {
			t.Errorf("%s: %v", q.Template, err)
		}
		q.Key = (q.Key + 1) % len(q.Options)
		if bank.Prove(q) == nil {
			t.Errorf("%s is proved with another key: %s", q.Template, q.Prompt)
		}
	}
}

// In a paper no link of a food chain comes twice, as a key or in what is asked.
func TestNoLinkComesTwiceInAPaper(t *testing.T) {
	for _, roster := range catalogue.Rosters() {
		bank := builtin(t, roster)
		for seed := range uint64(10) {
			set, err := bank.Set(questions.Wish{Subjects: []string{catalogue.FoodWeb}, Count: 8, Seed: seed})
			if err != nil {
				t.Fatal(err)
			}
			seen := map[string]string{}
			for _, q := range set {
				value := q.Test.All[0].Value
				if _, chain, in := strings.Cut(value, " in "); in {
					value = chain
				}
				nodes := strings.Split(value, " > ")
				for i := 1; i < len(nodes); i++ {
					link := nodes[i-1] + " > " + nodes[i]
					if seen[link] != "" {
						t.Errorf("%s, seed %d: %q is in %q and in %q", roster, seed, link, seen[link], q.Prompt)
					}
					seen[link] = q.Prompt
				}
			}
		}
	}
}

func TestTheWebIsDrawn(t *testing.T) {
	c := catalogue.Builtin()
	for _, name := range catalogue.Rosters() {
		roster, err := c.Roster(name)
		if err != nil {
			t.Fatal(err)
		}
		p, ok := questions.WebOf(c, roster).Draw(280, 157.5)
		if ok != (name != "everything") || ok && p.Alt == "" {
			t.Errorf("%s: drawn %v, %q", name, ok, p.Alt)
		}
	}
}
