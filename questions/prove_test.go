package questions_test

import (
	"encoding/json"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
)

// What the program computes is proved; with its key moved, or looked at by a
// roster that lacks its animals, it is not.
func TestProve(t *testing.T) {
	bank := builtin(t, "everything")
	waterside := builtin(t, "waterside")
	proved := map[string]int{}
	for seed := range uint64(soak.Size(1, 2)) {
		set, err := bank.Set(questions.Wish{Count: 150, Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		typed, err := bank.Set(questions.Wish{Count: 20, Seed: seed, Templates: []string{questions.TypeTheName, "deer-age-fine"}})
		if err != nil {
			t.Fatal(err)
		}
		unknown := 0
		for _, q := range append(set, typed...) {
			if err := bank.Prove(q); err != nil {
				t.Errorf("%s: %s: %v", q.Template, q.Prompt, err)
			}
			proved[q.Template]++
			if waterside.Prove(q) != nil {
				unknown++
			}
			q.Key = (q.Key + 1) % len(q.Options)
			if bank.Prove(q) == nil {
				t.Errorf("%s: %s: a moved key is proved", q.Template, q.Prompt)
			}
		}
		if unknown < 70 {
			t.Errorf("a roster of few proves all but %d", unknown)
		}
	}
	if len(proved) < 20 {
		t.Errorf("only these templates came: %v", proved)
	}
}

func TestProveSaysWhatIsWrong(t *testing.T) {
	bank := builtin(t, "everything")
	set, err := bank.Set(questions.Wish{Count: 200, Seed: 4, Subjects: []string{"skull"}})
	if err != nil {
		t.Fatal(err)
	}
	first := func(template string) questions.Question {
		for _, q := range set {
			if q.Template == template {
				return copied(t, q)
			}
		}
		t.Fatalf("no %s", template)
		return questions.Question{}
	}
	for _, tc := range []struct {
		template, says string
		spoil          func(q *questions.Question)
	}{
		{"has-trait", "subject", func(q *questions.Question) { q.Subject = "song" }},
		{"has-trait", "template", func(q *questions.Question) { q.Template = "riddle" }},
		{"has-trait", "difficulty", func(q *questions.Question) { q.Difficulty = 0 }},
		{"has-trait", "options", func(q *questions.Question) { q.Options = q.Options[:1] }},
		{"has-trait", "key 9", func(q *questions.Question) { q.Key = 9 }},
		{"has-trait", "claims", func(q *questions.Question) { q.Test.All = nil }},
		{"has-trait", "two options read", func(q *questions.Question) { q.Options[0].Text = q.Options[1].Text }},
		{"has-trait", "invisible", func(q *questions.Question) { q.Prompt += "\u202e" }},
		{"has-trait", "too long", func(q *questions.Question) { q.Reason = strings.Repeat("a", 3000) }},
		{"has-trait", "by the catalogue", func(q *questions.Question) { q.Options[0].Species = "Draco minor" }},
		{"has-trait", "typed", func(q *questions.Question) { q.Typed = true }},
		{"whose-plate", "no drawing", func(q *questions.Question) { q.Plate.View = "portrait" }},
		{"whose-plate", "the drawing is of", func(q *questions.Question) { q.Plate.Species = q.Options[(q.Key+1)%len(q.Options)].Species }},
		{"label-it", "points at", func(q *questions.Question) { q.Options[q.Key].Species = q.Options[(q.Key+1)%len(q.Options)].Species }},
		{"label-it", "not proved", func(q *questions.Question) { q.Plate.Test = nil }},
		{"which-plate", "either every option", func(q *questions.Question) { q.Options[1].Plate = nil }},
		{"which-plate", "of its own animal", func(q *questions.Question) { q.Options[0].Plate.Species = q.Options[1].Species }},
		{"which-plate", "can't be seen", func(q *questions.Question) { q.Test.All[0].Trait = "interparietal" }},
	} {
		q := first(tc.template)
		tc.spoil(&q)
		if err := bank.Prove(q); err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: got %v, want something on %q", tc.template, err, tc.says)
		}
	}
}

func copied(t *testing.T, q questions.Question) (out questions.Question) {
	raw, err := json.Marshal(q)
	if err == nil {
		err = json.Unmarshal(raw, &out)
	}
	if err != nil {
		t.Fatal(err)
	}
	return out
}
