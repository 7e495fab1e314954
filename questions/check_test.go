package questions_test

import (
	"fmt"
	"slices"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

func TestCheckRoster(t *testing.T) {
	length := catalogue.Trait{ID: "length", Label: "length", Subject: "skull", Kind: catalogue.Range}
	crest := catalogue.Trait{ID: "crest", Label: "crest", Subject: "skull", Kind: catalogue.YesNo}
	from := func(v catalogue.Value, source string) catalogue.Value {
		if v.Source = source; source == "book" {
			v.Basis = catalogue.Published
		}
		return v
	}
	row := func(name string, values map[string]catalogue.Value) catalogue.Species {
		return catalogue.Species{Name: "Genus " + name, Vernacular: name, Subjects: []string{"animal", "skull"}, Values: values}
	}
	c := catalogue.New([]catalogue.Trait{length, crest}, []catalogue.Species{
		row("a", map[string]catalogue.Value{"length": from(between(5, 8), "book"), "crest": from(known("yes"), "recall")}),
		row("b", map[string]catalogue.Value{"length": from(between(8, 9), "recall"), "crest": {Status: catalogue.Variable, Source: "recall"}}),
		row("c", map[string]catalogue.Value{"length": from(between(10, 11), "book")}),
	}, []catalogue.Source{{ID: "book", Kind: "published"}, {ID: "recall", Kind: "memory"}})
	checks := questions.CheckRoster(c, c.Everything())
	at := slices.IndexFunc(checks, func(k questions.Check) bool { return k.Subject == "skull" })
	k := checks[at]
	if k.Species != 3 || k.Pairs != 3 || k.Values != 6 || k.Unsettled != 1 || k.Unknown() != 1 {
		t.Errorf("the check counts %+v", k)
	}
	// Ranges that touch separate nothing; a value that varies neither.
	if len(k.Alike) != 1 || k.Alike[0][0].Vernacular != "a" || k.Alike[0][1].Vernacular != "b" {
		t.Errorf("not separated: %v, want a and b", k.Alike)
	}
	if fmt.Sprint(k.Missing, k.Blank) != "[{crest 1}] [{c 1}]" {
		t.Errorf("missing are %v and %v", k.Missing, k.Blank)
	}
	if len(k.Recalled) != 2 || k.Recalled[0].Trait.ID != "crest" || k.Recalled[1].Trait.ID != "length" {
		t.Errorf("recalled are %+v", k.Recalled)
	}
}
