package questions

import (
	"math"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/estimate"
)

// A sum has numbers like its animal: a density from half of the published one to all of
// it, whole counts, and of large animals a small share that may be taken.
func TestSumsHaveNumbersLikeTheirAnimals(t *testing.T) {
	c := catalogue.Builtin()
	seen := map[string]int{}
	for _, roster := range catalogue.Rosters() {
		r, err := c.Roster(roster)
		if err != nil {
			t.Fatal(err)
		}
		set, err := NewBank(c, r).Set(Wish{Subjects: []string{catalogue.Management}, Templates: []string{"worked-sum"}, Count: soak.Size(20, 40), Seed: 3})
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range set {
			method, given, number, _ := estimate.ReadClaim(q.Test.All[0].Value)
			s, _ := c.Find(q.About.Is)
			seen[method.Name]++
			for _, g := range given {
				if g != math.Trunc(g) {
					t.Errorf("%s has %v: %s", roster, g, q.Prompt)
				}
			}
			square := map[string]float64{"strip": 1, "strip_mi": squareMile, "density": 1, "density_ac": squareMile, "pellets": 1, "pellets_ac": squareMile}[method.Name]
			if published := densities[s.Name] * square; square > 0 && (number < published/2-2 || number > published+1) {
				t.Errorf("%v to a square where %v are published: %s", number, published, q.Prompt)
			}
			if kg := s.Values["body_mass"].Lo; method.Name == "quota" && kg >= slowest && given[1] > 10 {
				t.Errorf("%v percent of %s may be taken: %s", given[1], s.Vernacular, q.Prompt)
			}
		}
	}
	if len(seen) < 8 {
		t.Errorf("only these kinds of sums: %v", seen)
	}
}

// A paper of ten has no kind of sum twice.
func TestASumComesOnceInAPaper(t *testing.T) {
	c := catalogue.Builtin()
	for _, roster := range catalogue.Rosters() {
		r, _ := c.Roster(roster)
		bank := NewBank(c, r)
		for seed := range uint64(soak.Size(3, 5)) {
			set, err := bank.Set(Wish{Subjects: []string{catalogue.Management}, Count: 10, Seed: seed})
			if err != nil {
				t.Fatal(err)
			}
			asked := map[string]string{}
			for _, q := range set {
				if method, is := q.sumMethod(); is && asked[method] != "" {
					t.Errorf("%s, seed %d: %q after %q", roster, seed, q.Prompt, asked[method])
				} else if is {
					asked[method] = q.Prompt
				}
			}
		}
	}
}
