package questions_test

import (
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// Pelts and head gear are asked only of those that there are photos of, and
// nobody of the key's genus stands beside it.
func TestSpecimensByPhotos(t *testing.T) {
	c := catalogue.Builtin()
	bank := questions.NewBank(c, c.Everything())
	photos := []questions.PlateRef{{Species: "Castor canadensis", View: "pelt"}, {Species: "Vulpes vulpes", View: "pelt"}, {Species: "Alces alces", View: "head gear"}, {Species: "Mallard", View: "pelt"}}
	set, err := bank.Set(questions.Wish{Subjects: []string{catalogue.Specimen}, Count: 3, Seed: 2, Photos: photos})
	if err != nil {
		t.Fatal(err)
	}
	asked := map[questions.PlateRef]bool{}
	for _, q := range set {
		asked[*q.Plate] = true
		for i, o := range q.Options {
			if same := strings.Fields(o.Species)[0] == strings.Fields(q.Plate.Species)[0]; same != (i == q.Key) {
				t.Errorf("%s beside %s", o.Species, q.Plate.Species)
			}
		}
		if err := bank.Prove(q); err != nil {
			t.Error(err)
		}
	}
	if len(asked) != 3 {
		t.Errorf("asked: %v", asked)
	}
	_, err = bank.Set(questions.Wish{Subjects: []string{catalogue.Specimen}, Count: 1, Photos: []questions.PlateRef{}})
	if err == nil || !strings.Contains(err.Error(), "add photos") {
		t.Errorf("without a photo: %v", err)
	}
}
