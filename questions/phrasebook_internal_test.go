package questions

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

var verbs = regexp.MustCompile(`%(\[\d\])?[a-z]`)

// Each book has every phrase of the English one, for the same values.
func TestPhrasebooksAreWhole(t *testing.T) {
	for language, book := range phrasebooks {
		a, b := reflect.ValueOf(english), reflect.ValueOf(*book)
		for i := range a.NumField() {
			name := a.Type().Field(i).Name
			if name != "language" && name != "its" && name != "sums" { // whose values change places; for sums see TestSumsOfEachSort
				samePhrases(t, language.Tag()+" "+name, a.Field(i), b.Field(i))
			}
		}
	}
}

func samePhrases(t *testing.T, what string, a, b reflect.Value) {
	switch a.Kind() {
	case reflect.Func:
		if b.IsNil() {
			t.Errorf("%s is missing", what)
		}
	case reflect.String:
		if (b.String() == "") != (a.String() == "") || !slices.Equal(verbs.FindAllString(a.String(), -1), verbs.FindAllString(b.String(), -1)) {
			t.Errorf("%s is %q, in English %q", what, b, a)
		}
	case reflect.Struct:
		for i := range a.NumField() {
			samePhrases(t, what+" "+a.Type().Field(i).Name, a.Field(i), b.Field(i))
		}
	case reflect.Slice:
		if a.Len() != b.Len() {
			t.Errorf("%s has %d entries, in English %d", what, b.Len(), a.Len())
		}
	case reflect.Map:
		if a.Len() != b.Len() {
			t.Errorf("%s has %d entries, in English %d", what, b.Len(), a.Len())
		}
		for _, k := range a.MapKeys() {
			if !b.MapIndex(k).IsValid() {
				t.Errorf("%s lacks %s", what, k)
				continue
			}
			samePhrases(t, what+" "+k.String(), a.MapIndex(k), b.MapIndex(k))
		}
	}
}

// Each language asks for every sort of sum, and in one kind of units.
func TestSumsOfEachSort(t *testing.T) {
	for language, book := range phrasebooks {
		asked, methods := map[string]bool{}, 0
		for _, s := range sums {
			if p := book.sums[s.method]; p.asks != "" && p.works != "" {
				asked[s.sort] = true
				methods++
			}
		}
		for _, s := range sums {
			if !asked[s.sort] {
				t.Errorf("%s has no sum of the sort %s", language, s.sort)
			}
		}
		if methods != len(book.sums) || methods != len(sums)-3 {
			t.Errorf("%s has %d sums of %d, and phrases for %d", language, methods, len(sums), len(book.sums))
		}
	}
}

// What several phrases share is said once, and what they don't is set off from it.
func TestOneVerbForAll(t *testing.T) {
	for _, c := range []struct{ said, want string }{
		{"has a long rostrum; has a flat profile", "has a long rostrum and a flat profile"},
		{"has a small hole; has a domed profile; lacks a lattice", "has a small hole and a domed profile, and lacks a lattice"},
		{"has a crest; shows claws", "has a crest and shows claws"},
		{"has no crest; has a flat profile", "has a flat profile and no crest"},
	} {
		if got := english.oneVerb(strings.Split(c.said, "; ")); got != c.want {
			t.Errorf("%s: %s, want %s", c.said, got, c.want)
		}
	}
}

// A drawing shows one thing, and not this or that: no statement that is read from it says "or".
func TestADrawingShowsOneThing(t *testing.T) {
	for language, or := range map[catalogue.Language]string{catalogue.English: " or ", catalogue.Spanish: " o "} {
		c, err := catalogue.Builtin().In(language)
		if err != nil {
			t.Fatal(err)
		}
		roster, err := c.Roster("everything")
		if err != nil {
			t.Fatal(err)
		}
		bank := NewBank(c, roster)
		for _, v := range plateViews {
			if !slices.Contains(catalogue.Usual, v.subject) {
				continue
			}
			for _, f := range bank.index(v.subject).legible[v.name] {
				if worthSaying(f) && strings.Contains(f.holds, or) {
					t.Errorf("%s: %q", v.name, f.holds)
				}
			}
		}
	}
}
