package questions_test

import (
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// Twenty usual sets of thirty over all rosters: nine questions of ten rest on
// sources that were read, and on nothing else.
func TestUsualSetsRestOnSources(t *testing.T) {
	c := catalogue.Builtin()
	read, all := 0, 0
	for _, name := range catalogue.Rosters() {
		roster, err := c.Roster(name)
		if err != nil {
			t.Fatal(err)
		}
		bank := questions.NewBank(c, roster)
		by := map[catalogue.Basis]int{}
		for seed := range uint64(5) {
			set, err := bank.Set(questions.Wish{Count: 30, Seed: seed + 1})
			if err != nil {
				t.Fatal(err)
			}
			for _, q := range set {
				if all++; q.Rests.Read() {
					read++
				} else if testing.Verbose() {
					t.Logf("%s, %s: %s %s (%s)", name, q.Rests, q.Template, q.Prompt, q.Subject)
				}
				by[q.Rests]++
			}
		}
		t.Logf("%s: %v", name, by)
	}
	if share := float64(read) / float64(all); share < 0.9 {
		t.Errorf("%d of %d questions rest on sources that were read: %.0f %%, want 90", read, all, 100*share)
	}
}
