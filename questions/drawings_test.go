package questions_test

import (
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
)

// TestDrawingsWished: a set keeps to its wish for drawings, and what takes a
// question's place looks as that one did.
func TestDrawingsWished(t *testing.T) {
	bank := builtin(t, "furbearers")
	const count = 40
	for wish, want := range map[questions.Drawings][2]int{
		questions.NoDrawings: {0, 0}, questions.SomeDrawings: {9, 11}, questions.HalfDrawings: {18, 22}, questions.AllDrawings: {count, count},
	} {
		for seed := range uint64(soak.Size(1, 5)) {
			w := questions.Wish{Count: count, Seed: seed, Drawings: wish}
			set, err := bank.Set(w)
			if err != nil {
				t.Fatal(wish, err)
			}
			drawn := 0
			for _, q := range set {
				if q.Drawn() {
					drawn++
				}
			}
			if drawn < want[0] || drawn > want[1] {
				t.Errorf("seed %d, %s: %d of %d questions have a drawing, want %v", seed, wish, drawn, count, want)
			}
			q, err := bank.Another(w, questions.Gap{Before: set[:7], After: set[8:], Old: set[7]})
			if err != nil || q.Drawn() != set[7].Drawn() {
				t.Errorf("seed %d, %s: a question whose drawing is %v gave way to one whose is %v (%v)", seed, wish, set[7].Drawn(), q.Drawn(), err)
			}
		}
	}
	if _, err := bank.Set(questions.Wish{Count: 5, Drawings: "many"}); err == nil || !strings.Contains(err.Error(), "none, some, half and all") {
		t.Errorf("a wish that there isn't: %v", err)
	}
	// What has no drawings at all is still asked about, by half.
	if set, err := bank.Set(questions.Wish{Subjects: []string{"animal"}, Count: 10, Drawings: questions.HalfDrawings}); err != nil || len(set) != 10 {
		t.Errorf("%d questions on animals, %v", len(set), err)
	}
	if _, err := bank.Set(questions.Wish{Subjects: []string{"animal"}, Count: 10, Drawings: questions.AllDrawings}); err == nil {
		t.Error("drawings alone, of a subject without any, were not refused")
	}
}
