package debrief_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"fieldsign/game"
	"fieldsign/game/debrief"
)

const (
	clubSpecies = 24
	clubTraits  = 12
	known       = 0.85 // how often a team knows an answer
	confuses    = 0.6  // how often it takes a species for the one that it confuses it with
	weakly      = 0.35 // how often it knows an answer that a weak trait decides
)

// A club is simulated: its teams share two weak traits, and pairs of species
// that they take for each other.
type club struct {
	dice  *rand.Rand
	pairs map[string]string // names, both ways
	weak  map[string]bool
	facts debrief.Facts
}

func newClub(seed uint64, pairs int) *club {
	c := &club{rand.New(rand.NewPCG(seed, 7)), map[string]string{}, map[string]bool{}, debrief.Facts{}}
	for len(c.pairs) < 2*pairs {
		a := c.dice.IntN(clubSpecies)
		one, two := speciesName(a), speciesName((a+1+c.dice.IntN(2))%clubSpecies)
		if c.pairs[one] == "" && c.pairs[two] == "" {
			c.pairs[one], c.pairs[two] = two, one
		}
	}
	for len(c.weak) < 2 {
		c.weak[traitName(c.dice.IntN(clubTraits))] = true
	}
	return c
}

// The names hold what a CSV file has to quote.
func speciesName(i int) string { return fmt.Sprintf("Species %d, \"grey\"", i) }
func traitName(i int) string   { return fmt.Sprintf("trait %d", i) }

// question asks for one of four species: the key, two of those within two
// places of it in a ring, which are its look-alikes, and any other.
func (c *club) question(id string) game.Question {
	key := c.dice.IntN(clubSpecies)
	list := []int{key}
	for _, step := range c.dice.Perm(4)[:2] {
		list = append(list, (key+clubSpecies+[]int{-2, -1, 1, 2}[step])%clubSpecies)
	}
	list = append(list, (key+3+c.dice.IntN(clubSpecies-6))%clubSpecies)
	q := game.Question{ID: id, Subject: "skull", Prompt: "Whose skull?", Reason: "it fits"}
	for place, i := range c.dice.Perm(len(list)) {
		q.Options = append(q.Options, speciesName(list[i]))
		if i == 0 {
			q.Key = place
		}
	}
	c.facts[id] = debrief.About{Template: "has-trait", Species: q.Options, Traits: []string{traitName(c.dice.IntN(clubTraits))}}
	return q
}

// choose is what a team answers.
func (c *club) choose(q *game.Question) int {
	if i := slices.Index(q.Options, c.pairs[q.Options[q.Key]]); i >= 0 && c.dice.Float64() < confuses {
		return i
	}
	p := known
	if c.weak[c.facts[q.ID].Traits[0]] {
		p = weakly
	}
	if c.dice.Float64() < p {
		return q.Key
	}
	return (q.Key + 1 + c.dice.IntN(len(q.Options)-1)) % len(q.Options)
}

// meet plays three open rounds and a buzz round and returns the log.
func (c *club) meet(t *testing.T, teams, questions int) []game.Event {
	var rounds []game.Round
	for n, kind := range []game.Kind{game.Open, game.Open, game.Buzz, game.Open} {
		r := game.Round{Name: "R", Kind: kind, Seconds: 30, Points: 100, Speed: 50, Penalty: 25}
		for i := range questions / 4 {
			r.Questions = append(r.Questions, c.question(fmt.Sprintf("q%d-%d", n+1, i+1)))
		}
		rounds = append(rounds, r)
	}
	g := opened(t, teams, rounds...)
	g.do(game.Command{Type: game.Rename, By: "host", Team: "t1", Name: "=Otters, 1st"})
	for g.s.Phase != game.Ended {
		switch g.s.Phase {
		case game.Asking:
			c.play(g, teams)
		default:
			g.host(game.Next)
		}
	}
	return g.log
}

// play lets the teams answer in random order; some don't, in an open round.
func (c *club) play(g *table, teams int) {
	r, q, _ := g.s.Current()
	for _, team := range c.dice.Perm(teams) {
		g.now += int64(c.dice.IntN(20_000 / teams))
		if r.Kind == game.Open && c.dice.IntN(20) > 0 {
			g.answer(team+1, c.choose(q))
		}
		if r.Kind == game.Buzz && g.s.Phase == game.Asking {
			g.press(team+1, c.choose(q))
		}
	}
	if g.s.Phase == game.Asking {
		g.host(game.Close)
	}
}

// TestFindsConfusedPairs measures how many of the pairs that the advice lists
// are real (precision) and how many of the real ones it lists (recall).
func TestFindsConfusedPairs(t *testing.T) {
	const clubs, pairs = 40, 6
	for _, tc := range []struct {
		teams, questions  int
		precision, recall float64 // at least
	}{
		{4, 40, 0.65, 0.55}, {8, 60, 0.75, 0.8}, {16, 80, 0.75, 0.88}, {30, 120, 0.8, 0.95},
	} {
		found, listed := 0, 0
		for seed := range uint64(clubs) {
			c := newClub(seed, pairs)
			advice := debrief.Of(c.meet(t, tc.teams, tc.questions), c.facts).Advice
			listed += len(advice.Pairs)
			for _, p := range advice.Pairs {
				if c.pairs[p.A] == p.B {
					found++
				}
			}
		}
		precision, recall := float64(found)/float64(max(listed, 1)), float64(found)/(clubs*pairs)
		t.Logf("%2d teams, %3d questions, seeds 0-%d: precision %.2f (%d of %d), recall %.2f (%d of %d)", tc.teams, tc.questions, clubs-1, precision, found, listed, recall, found, clubs*pairs)
		if precision < tc.precision || recall < tc.recall {
			t.Errorf("precision is to be at least %.2f, recall %.2f", tc.precision, tc.recall)
		}
	}
}

// TestFindsWeakTraits: the weights bring weak traits back at least twice as
// often as chance, which is 1 in the number of traits.
func TestFindsWeakTraits(t *testing.T) {
	const clubs = 40
	found, listed, worst, sum := 0, 0, 1.0, 0.0
	for seed := range uint64(clubs) {
		c := newClub(seed, 6)
		advice := debrief.Of(c.meet(t, 16, 80), c.facts).Advice
		weight, all := 0, 0
		for _, w := range advice.Traits {
			all += w.Weight
			if c.weak[w.Name] {
				weight += w.Weight
			}
			if w.Below {
				listed++
			}
			if w.Below && c.weak[w.Name] {
				found++
			}
		}
		share := float64(weight) / float64(all)
		worst, sum = min(worst, share), sum+share
	}
	const chance = 2.0 / clubTraits
	t.Logf("16 teams, 80 questions, seeds 0-%d: %d traits below the rest, %d of them really weak, of %d; weak traits are asked %.2f times as often as by chance, at the least %.2f times", clubs-1, listed, found, 2*clubs, sum/clubs/chance, worst/chance)
	if found < 2*clubs*9/10 || worst < 2*chance {
		t.Error("weak traits are to be found nine times in ten, and in every club asked twice as often as by chance")
	}
}
