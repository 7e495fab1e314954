package questions_test

import (
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// Twenty usual sets of thirty over all rosters: nine questions of ten rest on
// sources that were read, and on nothing else.
func TestUsualSetsRestOnSources(t *testing.T) {
	read, all := 0, 0
	for _, name := range catalogue.Rosters() {
		bank := builtin(t, name)
		by := map[catalogue.Basis]int{}
		for seed := range uint64(soak.Size(3, 5)) {
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

// A wish that forbids memory is kept to, at stations and where a question is
// replaced too, and says what it makes impossible.
func TestNothingRecalledDecides(t *testing.T) {
	c := catalogue.Builtin()
	bank := builtin(t, "furbearers")
	wish := questions.Wish{Count: 120, Seed: 5, NoMemory: true}
	set, err := bank.Set(wish)
	if err != nil {
		t.Fatal(err)
	}
	for at := range 20 {
		q, err := bank.Another(wish, questions.Gap{Before: set[:at], After: set[at+1:], Old: set[at]})
		if err == nil {
			set = append(set, q)
		}
	}
	stations, err := bank.Stations(questions.StationWish{Subjects: []string{"skull", "track"}, Stations: 8, Each: 2, Seed: 5, NoMemory: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, st := range stations {
		set = append(set, st.Questions...)
	}
	for _, q := range set {
		if q.Rests == catalogue.Memory {
			t.Errorf("%s: %s rests on memory", q.Template, q.Prompt)
		}
	}
	// A catalogue of which nothing was read has no such question.
	recalled := catalogue.New(c.Traits[:0:0], nil, nil)
	_, err = questions.NewBank(recalled, recalled.Everything()).Set(questions.Wish{Count: 3, Seed: 1, NoMemory: true})
	if err == nil || !strings.Contains(err.Error(), "let what is only recalled decide too") {
		t.Errorf("what memory alone could ask: %v", err)
	}
}
