package questions_test

import (
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// A set on deer's jaws asks over a drawing of the key's age, says of one by wear
// that it is an estimate, and is proved; another age's drawing is refused.
func TestDeerJaws(t *testing.T) {
	bank := builtin(t, "everything")
	set, err := bank.Set(questions.Wish{Count: 8, Seed: 5, Templates: []string{"deer-jaw", "deer-jaw-fine"}})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, q := range set {
		if q.Plate == nil || !strings.HasPrefix(q.Plate.View, "lower jaw, ") {
			t.Fatalf("no drawing of a jaw: %+v", q)
		}
		seen[q.Plate.View] = true
		if worn := strings.HasSuffix(q.Plate.View, ".5"); worn != strings.Contains(q.Reason, "estimate") {
			t.Errorf("%s: the caution is of ages by wear: %s", q.Plate.View, q.Reason)
		}
		if p, ok := questions.Draw(catalogue.Builtin(), *q.Plate); !ok || !strings.Contains(p.Alt, "cheek teeth") {
			t.Errorf("%s: no drawing", q.Plate.View)
		}
		if err := bank.Prove(q); err != nil {
			t.Errorf("%v: %+v", err, q)
		}
		other := *q.Plate
		other.View = map[bool]string{true: "lower jaw, 3.5", false: "lower jaw, fawn"}[q.Plate.View == "lower jaw, fawn"]
		q.Plate = &other
		if bank.Prove(q) == nil {
			t.Errorf("a drawing of another age is let pass: %s", other.View)
		}
	}
	if len(seen) < 5 {
		t.Errorf("only %d jaws", len(seen))
	}
}
