package main

import (
	"bytes"
	"os"
	"slices"
	"testing"

	"fieldsign/cmd/internal/marked"
	"fieldsign/hub/lab/soak"
)

const page = "../../docs/season-plan.md"

// The page's tables are those of a run today. They take half a minute of a processor.
func TestThePageIsUpToDate(t *testing.T) {
	soak.Only(t)
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	fresh, err := marked.Fill(text, tables(1), begin, end)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text, fresh) {
		t.Error("docs/season-plan.md is not what the command gives: go run ./cmd/seasonsim -write docs/season-plan.md")
	}
}

// A few clubs show what two hundred show to a point.
func TestThePlanIsFarAheadOfRandomReviewAndOfTheList(t *testing.T) {
	for _, l := range laws {
		w := courses[1].wish()
		byPlan := known(w, l, ways[0], 6, 1)
		for _, by := range ways[2:] {
			for n, more := range less(byPlan, known(w, l, by, 6, 1)) {
				if more <= 0 {
					t.Errorf("club %d forgets %s: by %s it knows %.3f more", n, l.name, by.name, -more)
				}
			}
		}
	}
}

func TestTheSameSeedGivesTheSameClubs(t *testing.T) {
	w := courses[0].wish()
	a, b := known(w, laws[0], ways[0], 2, 7), known(w, laws[0], ways[0], 2, 7)
	if !slices.Equal(a, b) {
		t.Errorf("%v, then %v", a, b)
	}
}

func TestInsertWantsBothMarks(t *testing.T) {
	for _, text := range []string{"", begin, end} {
		if _, err := marked.Fill([]byte(text), nil, begin, end); err == nil {
			t.Errorf("%q passes", text)
		}
	}
}
