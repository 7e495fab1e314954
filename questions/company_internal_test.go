package questions

import (
	"slices"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
)

// Whoever takes the place of a wrong animal is not among them yet.
func TestNoAnimalStandsTwiceAmongTheOptions(t *testing.T) {
	c := catalogue.Builtin()
	roster, _ := c.Roster("everything")
	set, err := NewBank(c, roster).Set(Wish{Subjects: []string{catalogue.FoodWeb}, Templates: []string{"has-trait"}, Difficulty: 2, Count: soak.Size(12, 20), Seed: 504})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range set {
		var animals []string
		for _, o := range q.Options {
			animals = append(animals, o.Species)
		}
		slices.Sort(animals)
		if len(slices.Compact(animals)) < len(q.Options) {
			t.Errorf("%s %v", q.Prompt, q.Options)
		}
	}
}
