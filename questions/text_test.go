package questions_test

import (
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// What is drawn and what a question rests on is said in the language of the set.
func TestTextInBothLanguages(t *testing.T) {
	for tag, shown := range map[string][]string{"en": {"(shown: the ", "(the ", "rests on: "}, "es": {"(se muestra: el cráneo ", "(la ", "se basa en: "}} {
		set := inLanguage(t, tag, questions.Wish{Count: 40, Seed: 5, Subjects: catalogue.Usual})
		set = append(set, inLanguage(t, tag, questions.Wish{Count: 10, Seed: 5, Subjects: []string{"sign"}, Templates: []string{"what-sign"}})...)
		var text strings.Builder
		questions.WriteText(&text, set)
		for _, want := range shown {
			if !strings.Contains(text.String(), want) {
				t.Errorf("%s: the text says nowhere %q", tag, want)
			}
		}
		for _, gap := range []string{"()", "( ", ": \n", ": )", "%!"} {
			if strings.Contains(text.String(), gap) {
				t.Errorf("%s: the text has a gap: %q", tag, gap)
			}
		}
		for _, q := range set {
			if q.Template == "what-sign" && !strings.Contains(text.String(), ": "+questions.SignName(q.Plate.View, q.Language)+" ") {
				t.Errorf("%s: the drawing of %s is not named", tag, q.Plate.View)
			}
		}
	}
}

func inLanguage(t *testing.T, tag string, w questions.Wish) []questions.Question {
	t.Helper()
	l, err := catalogue.ParseLanguage(tag)
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalogue.Builtin().In(l)
	if err != nil {
		t.Fatal(err)
	}
	roster, err := c.Roster("everything")
	if err != nil {
		t.Fatal(err)
	}
	set, err := questions.NewBank(c, roster).Set(w)
	if err != nil {
		t.Fatal(err)
	}
	return set
}
