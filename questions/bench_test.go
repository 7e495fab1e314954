package questions_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// syntheticCatalogue has n species by 200 traits, a sixth of the values not known.
func syntheticCatalogue(n int) *catalogue.Catalogue {
	const traitCount = 200
	dice := rand.New(rand.NewPCG(2024, 7))
	kinds := []catalogue.Kind{catalogue.State, catalogue.YesNo, catalogue.Count, catalogue.Range}
	say := catalogue.Wording{Says: "shows {}", Denies: "does not show {}", Most: "is the most", Least: "is the least"}
	traits := make([]catalogue.Trait, traitCount)
	for i := range traits {
		traits[i] = catalogue.Trait{ID: fmt.Sprintf("t%d", i), Subject: "skull", Label: fmt.Sprintf("trait %d", i), Part: "skull",
			Kind: kinds[i%len(kinds)], Wording: say, Weight: 1, Ease: 1 + i%5}
	}
	species := make([]catalogue.Species, n)
	for i := range species {
		species[i] = catalogue.Species{Name: fmt.Sprintf("Genus s%05d", i), Vernacular: fmt.Sprintf("animal %d", i),
			Subjects: []string{"animal", "skull"}, Values: make(map[string]catalogue.Value, traitCount)}
		for _, t := range traits {
			species[i].Values[t.ID] = syntheticValue(dice, t)
		}
	}
	return catalogue.New(traits, species, nil)
}

func syntheticValue(dice *rand.Rand, t catalogue.Trait) catalogue.Value {
	if dice.IntN(6) == 0 {
		return catalogue.Value{}
	}
	switch t.Kind {
	case catalogue.State:
		return known([]string{"red", "green", "blue", "grey", "white"}[dice.IntN(5)])
	case catalogue.YesNo:
		return known([]string{"yes", "no"}[dice.IntN(2)])
	case catalogue.Count:
		n := float64(dice.IntN(6))
		return between(n, n)
	}
	lo := float64(1 + dice.IntN(300))
	return between(lo, lo+float64(dice.IntN(40)))
}

// nested is the plain way to make a question, to compare with: no index, only
// loops over species and traits.
type nested struct {
	*catalogue.Catalogue
	dice *rand.Rand
	rank int // how many of the fitting species are ranked by likeness; 0: all
}

// question finds a claim that the key satisfies and at least three others
// fail, and takes the three of these that are most like the key.
func (n nested) question() (claim catalogue.Claim, key int, wrong []int, ok bool) {
	key = n.dice.IntN(len(n.Species))
	for _, p := range n.dice.Perm(len(n.Traits)) {
		t := n.Traits[p]
		v := n.Species[key].Values[t.ID]
		if !v.Known() || t.Kind == catalogue.Range {
			continue
		}
		claim = catalogue.Claim{Trait: t.ID, Op: "=", Value: v.String()}
		for i, s := range n.Species {
			if claim.Holds(s.Values[t.ID]) == catalogue.False {
				wrong = append(wrong, i)
			}
		}
		if len(wrong) >= 3 {
			return claim, key, n.nearest(key, wrong), true
		}
		wrong = nil
	}
	return claim, key, nil, false
}

func (n nested) nearest(key int, list []int) []int {
	n.dice.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	if n.rank > 0 {
		list = list[:min(len(list), n.rank)]
	}
	alike := map[int]float64{}
	for _, i := range list {
		alike[i] = n.likeness(key, i)
	}
	slices.SortFunc(list, func(a, b int) int {
		if alike[a] > alike[b] {
			return -1
		}
		return 1
	})
	return list[:3]
}

func (n nested) likeness(a, b int) float64 {
	sum, weight := 0.0, 0.0
	for _, t := range n.Traits {
		x, y := n.Species[a].Values[t.ID], n.Species[b].Values[t.ID]
		if !x.Known() || !y.Known() {
			continue
		}
		weight++
		if x.Number() {
			sum += 1 - math.Min(1, math.Abs(x.Lo+x.Hi-y.Lo-y.Hi)/600)
		} else if x.Text == y.Text {
			sum++
		}
	}
	return sum / weight
}

// The peer must do the same work, or comparing with it means nothing.
func TestPeerMakesSoundQuestions(t *testing.T) {
	n := nested{syntheticCatalogue(50), rand.New(rand.NewPCG(1, 1)), 0}
	for range 50 {
		claim, key, wrong, ok := n.question()
		if !ok || len(wrong) != 3 || claim.Holds(n.Species[key].Values[claim.Trait]) != catalogue.True {
			t.Fatalf("%v of %d against %v", claim, key, wrong)
		}
		for _, i := range wrong {
			if claim.Holds(n.Species[i].Values[claim.Trait]) != catalogue.False {
				t.Fatalf("%v does not fail for %d", claim, i)
			}
		}
	}
}

const questionsPerSet = 1000

func perQuestion(b *testing.B, questions int) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*questions)/1000, "µs/question")
}

func benchmarkSet(b *testing.B, c *catalogue.Catalogue) {
	bank := questions.NewBank(c, c.Everything())
	for seed := uint64(0); b.Loop(); seed++ {
		if _, err := bank.Set(questions.Wish{Subjects: []string{"skull"}, Count: questionsPerSet, Seed: seed}); err != nil {
			b.Fatal(err)
		}
	}
	perQuestion(b, questionsPerSet)
}

func BenchmarkSetBuiltin(b *testing.B) { benchmarkSet(b, catalogue.Builtin()) }

// One catalogue at a time: the largest takes some hundred megabytes.
func BenchmarkGrowth(b *testing.B) {
	for _, size := range []int{100, 1000, 10_000} {
		c := syntheticCatalogue(size)
		b.Run(fmt.Sprintf("set/%d", size), func(b *testing.B) { benchmarkSet(b, c) })
		b.Run(fmt.Sprintf("bank/%d", size), func(b *testing.B) {
			for b.Loop() { // a bank prepares a subject when it is first asked
				if _, err := questions.NewBank(c, c.Everything()).Set(questions.Wish{Subjects: []string{"skull"}, Count: 1}); err != nil {
					b.Fatal(err)
				}
			}
		})
		for _, rank := range []int{0, 128} {
			b.Run(fmt.Sprintf("nested-rank%d/%d", rank, size), func(b *testing.B) {
				n := nested{c, rand.New(rand.NewPCG(1, 1)), rank}
				for b.Loop() {
					if _, _, _, ok := n.question(); !ok {
						b.Fatal("no question")
					}
				}
				perQuestion(b, 1)
			})
		}
	}
}

func BenchmarkFieldKey(b *testing.B) {
	c := catalogue.Builtin()
	for b.Loop() {
		if _, err := questions.NewFieldKey(c, c.Everything(), "skull"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMatch(b *testing.B) {
	c := catalogue.Builtin()
	names := questions.NewNames(c, c.Everything())
	for b.Loop() {
		if _, ok := names.Match("Wite-taled deer"); !ok {
			b.Fatal("no match")
		}
	}
}
