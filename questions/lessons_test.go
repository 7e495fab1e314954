package questions_test

import (
	"reflect"
	"slices"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

func setOf(t *testing.T, w questions.Wish) []questions.Question {
	t.Helper()
	set, err := builtin(t, "furbearers").Set(w)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// comparisons counts the questions that set two species against each other.
func comparisons(set []questions.Question, p questions.Pair) (n int) {
	for _, q := range set {
		two := []string{q.Options[q.Key].Species}
		if q.About != nil {
			two = []string{q.About.Is, q.About.Not}
		}
		for _, o := range q.Options {
			if o.Species != "" && (two[0] == p.A || two[0] == p.B) {
				two = append(two, o.Species)
			}
		}
		if q.Subject == p.Subject && slices.Contains(two, p.A) && slices.Contains(two, p.B) {
			n++
		}
	}
	return n
}

func decided(set []questions.Question, trait string) (n int) {
	for _, q := range set {
		if slices.ContainsFunc(q.Test.All, func(c catalogue.Claim) bool { return c.Trait == trait }) {
			n++
		}
	}
	return n
}

func TestPairsAndWeights(t *testing.T) {
	pair := questions.Pair{Subject: "skull", A: "Vulpes vulpes", B: "Procyon lotor"}
	usual, steered, keys := 0, 0, [2]int{}
	for seed := range uint64(20) {
		wish := questions.Wish{Count: 15, Seed: seed + 1}
		plain := setOf(t, wish)
		wish.Pairs = []questions.Pair{{Subject: "skull", A: "nobody", B: "no one"}, pair}
		wish.Species, wish.Traits = map[string]float64{"Castor canadensis": 5}, map[string]float64{"diastema": 0.5}
		got := setOf(t, wish)
		if !reflect.DeepEqual(got, setOf(t, wish)) {
			t.Fatal("the same wish and seed gave two sets")
		}
		usual, steered = usual+comparisons(plain, pair), steered+comparisons(got, pair)
		for i, set := range [][]questions.Question{plain, got} {
			for _, q := range set {
				if q.Options[q.Key].Species == "Castor canadensis" || q.About != nil && q.About.Is == "Castor canadensis" {
					keys[i]++
				}
			}
		}
	}
	t.Logf("the pair %d times without the wish, %d with it; the species %v", usual, steered, keys)
	if want := 20 * questions.Comparisons(15); steered < want/2 || steered < 2*usual {
		t.Errorf("the pair was compared %d times, of %d turns; without a wish %d times", steered, want, usual)
	}
	if keys[1] < 2*keys[0] {
		t.Errorf("the weighty species was the key %d times, %d without weights", keys[1], keys[0])
	}
}

func TestTraitWeights(t *testing.T) {
	seeds := soak.Size(3, 10)
	sets := func(subject string, traits map[string]float64) (list [][]questions.Question) {
		for seed := range uint64(seeds) {
			list = append(list, setOf(t, questions.Wish{Subjects: []string{subject}, Count: 15, Seed: seed + 1, Traits: traits}))
		}
		return list
	}
	decide := func(list [][]questions.Question, trait string) (n int) {
		for _, set := range list {
			n += decided(set, trait)
		}
		return n
	}
	allUsual, allSteered := 0, 0
	for _, of := range [][2]string{{"skull", "diastema"}, {"track", "claws_show"}, {"scat", "scat_ends"}} {
		subject, trait := of[0], of[1]
		usual, steered := decide(sets(subject, nil), trait), decide(sets(subject, map[string]float64{trait: 4}), trait)
		t.Logf("%s decided %d times, %d with its weight", trait, usual, steered)
		if steered < max(usual+1, seeds) {
			t.Errorf("%s decided %d times, with its weight only %d", trait, usual, steered)
		}
		allUsual, allSteered = allUsual+usual, allSteered+steered
	}
	if 2*allSteered < 3*allUsual { // what was told of an animal is not asked, whatever it weighs
		t.Errorf("the three decided %d times, with their weights only %d", allUsual, allSteered)
	}
}
