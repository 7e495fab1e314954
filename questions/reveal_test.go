package questions_test

import (
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// shownKey is the view of its key that a question shows, if it shows one.
func shownKey(q questions.Question) string {
	if q.Plate != nil {
		return q.Plate.View
	}
	if o := q.Options[q.Key]; o.Plate != nil {
		return o.Plate.View
	}
	return ""
}

// TestLessons: a question about animals comes with the key's drawing and, where
// a wrong animal was taken, that one's; what is said of them is read at a
// glance, in both languages.
func TestLessons(t *testing.T) {
	count := soak.Size(80, 600)
	for _, language := range []catalogue.Language{catalogue.English, catalogue.Spanish} {
		c, err := catalogue.Builtin().In(language)
		if err != nil {
			t.Fatal(err)
		}
		bank := bankOf(t, language, "everything")
		set, err := bank.Set(questions.Wish{Subjects: []string{"animal", "skull", "track", "scat"}, Count: count, Seed: 3})
		if err != nil {
			t.Fatal(err)
		}
		typed, err := bank.Set(questions.Wish{Count: soak.Size(30, 60), Seed: 3, Templates: []string{questions.TypeTheName}})
		if err != nil {
			t.Logf("no typed questions of this roster: %v", err)
		}
		about, drawn, two, parts, long := 0, 0, 0, 0, 0
		for _, q := range append(set, typed...) {
			taken := (q.Key + 1) % len(q.Options)
			l, ok := questions.Teach(c, q, taken)
			if !ok {
				continue
			}
			about++
			if q.Options[q.Key].Species != "" && l.Sides[0].Option >= 0 && l.Sides[0].Species.Name != q.Options[q.Key].Species {
				t.Errorf("%q teaches of %s", q.Prompt, l.Sides[0].Species.Name)
			}
			if len(l.Sides) == 2 && l.Sides[1].Option >= 0 && (l.Sides[1].Option != taken || l.Sides[1].Species.Name != q.Options[taken].Species) {
				t.Errorf("%q: option %d was taken, the lesson is of %+v", q.Prompt, taken, l.Sides[1])
			}
			for _, s := range l.Sides {
				words := len(strings.Fields(s.Says))
				if words > 8 {
					long++
				}
				if words > 12 {
					t.Errorf("%q says of %s in %d words: %s", q.Prompt, s.Species.Name, words, s.Says)
				}
				if s.Plate == nil {
					continue
				}
				if _, found := questions.Draw(c, *s.Plate); !found {
					t.Errorf("%q: there is no drawing %+v", q.Prompt, *s.Plate)
				}
			}
			if len(l.Sides) == 2 && l.Sides[0].Says != "" && l.Sides[0].Says == l.Sides[1].Says && q.Template != "same-animal" {
				t.Errorf("%q says the same of both: %s", q.Prompt, l.Sides[0].Says)
			}
			if l.Sides[0].Plate != nil {
				drawn++
			}
			if asked := shownKey(q); asked != "" && (l.Sides[0].Plate == nil || !strings.HasPrefix(l.Sides[0].Plate.View, asked)) {
				t.Errorf("%q was asked over %q, the lesson shows %+v", q.Prompt, asked, l.Sides[0].Plate)
			}
			for _, s := range l.Sides {
				if strings.HasPrefix(s.Says, "may ") || strings.HasPrefix(s.Says, "puede mostrar") {
					t.Errorf("%q: what may be rules nothing out: %s", q.Prompt, s.Says)
				}
			}
			if len(l.Sides) == 2 && l.Sides[1].Plate != nil {
				two++
			}
			if len(l.Parts) > 0 {
				parts++
			}
		}
		t.Logf("%s: of %d questions %d are about an animal; %d with its drawing, %d with two, %d with parts to mark", language, len(set)+len(typed), about, drawn, two, parts)
		if long > about/25 {
			t.Errorf("%s: %d lines of %d lessons have over 8 words", language, long, about)
		}
		if about < count*2/3 || drawn < about*8/10 || parts < about/4 {
			t.Errorf("%s: too few lessons", language)
		}
	}
}

// TestALessonOfTheFoodWebShowsTeeth: what an animal eats is seen in its skull.
func TestALessonOfTheFoodWebShowsTeeth(t *testing.T) {
	c := catalogue.Builtin()
	count := soak.Size(20, 40)
	set, err := bankOf(t, catalogue.English, "everything").Set(questions.Wish{Subjects: []string{catalogue.FoodWeb}, Count: count, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	drawn := 0
	for _, q := range set {
		l, ok := questions.Teach(c, q, -1)
		if !ok || l.Sides[0].Plate == nil {
			continue
		}
		drawn++
		toothless := slices.ContainsFunc(l.Sides, func(s questions.Side) bool {
			_, drawn := questions.Draw(c, questions.PlateRef{Species: s.Species.Name, View: "skull"})
			return !drawn
		})
		if !toothless && !strings.HasPrefix(l.Sides[0].Plate.View, "skull") {
			t.Errorf("%q shows %s of %s", q.Prompt, l.Sides[0].Plate.View, l.Sides[0].Species.Name)
		}
	}
	if drawn < count/2 {
		t.Errorf("only %d of %d lessons have a drawing", drawn, count)
	}
}

// A deer's age that is asked for in words is taught by a jaw of that age.
func TestAnAgeIsTaughtByItsJaw(t *testing.T) {
	c := catalogue.Builtin()
	set, err := bankOf(t, catalogue.English, "everything").Set(questions.Wish{Subjects: []string{"skull"}, Count: 3, Seed: 1, Templates: []string{"deer-age"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range set {
		l, ok := questions.Teach(c, q, (q.Key+1)%len(q.Options))
		if !ok || len(l.Sides) != 1 || l.Sides[0].Plate == nil || l.Sides[0].Says != q.Options[q.Key].Text {
			t.Fatalf("%q teaches %+v", q.Prompt, l)
		}
		if _, drawn := questions.Draw(c, *l.Sides[0].Plate); !drawn {
			t.Errorf("%q: there is no drawing %+v", q.Prompt, *l.Sides[0].Plate)
		}
	}
}
