package questions_test

import (
	"slices"
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

func namesOf(list ...catalogue.Species) *questions.Names {
	c := catalogue.New(nil, list, nil)
	return questions.NewNames(c, c.Everything())
}

func TestNamesMatch(t *testing.T) {
	names := namesOf(
		catalogue.Species{Name: "Taxidea taxus", Vernacular: "American badger", OtherNames: []string{"badger"}, Spanish: "tejón americano"},
		catalogue.Species{Name: "Lynx rufus", Vernacular: "bobcat", OtherNames: []string{"bay lynx"}, Spanish: "lince rojo"},
		catalogue.Species{Name: "Lynx canadensis", Vernacular: "Canada lynx", OtherNames: []string{"lynx"}},
		catalogue.Species{Name: "Vulpes vulpes", Vernacular: "red fox", Spanish: "zorro rojo"},
		catalogue.Species{Name: "Urocyon cinereoargenteus", Vernacular: "gray fox", OtherNames: []string{"grey fox"}},
		catalogue.Species{Name: "Odocoileus virginianus", Vernacular: "white-tailed deer", OtherNames: []string{"elk of the swamp", "buck"}},
		catalogue.Species{Name: "Cervus canadensis", Vernacular: "elk", OtherNames: []string{"buck"}},
		catalogue.Species{Name: "Mus longus", Vernacular: "sand mole"},
		catalogue.Species{Name: "Mus latus", Vernacular: "sand vole"},
	)
	for typed, want := range map[string]string{
		"badger": "Taxidea taxus", "Bagder": "Taxidea taxus", "an american badgr": "Taxidea taxus", "tejon americano": "Taxidea taxus",
		"TEJÓN AMERICANO": "Taxidea taxus", "teja americana": "Taxidea taxus", "lnyx": "Lynx canadensis", "lynx rufus": "Lynx rufus",
		"linx rufus": "Lynx rufus", "linx roofus": "", "bob-cat": "Lynx rufus", "the red fox": "Vulpes vulpes", "redfox": "Vulpes vulpes",
		"grey fox": "Urocyon cinereoargenteus", "whitetailed deer": "Odocoileus virginianus", "White tailed dear": "Odocoileus virginianus",
		"wite taled der": "Odocoileus virginianus", "elk": "Cervus canadensis", "sand mole": "Mus longus",
		"el": "", "elks": "", "ilk": "", // too short to allow a slip
		"buck":      "", // two species have that name
		"sand nole": "", // as near to one as to the other
		"fox":       "", "": "", " ": "", "wolverine": "", "bqqcat": "Lynx rufus", "bqqqat": "",
		strings.Repeat("badger ", 100): "",
	} {
		got, ok := names.Match(typed)
		if got != want || ok != (want != "") {
			t.Errorf("%q means %q (%v), want %q", typed, got, ok, want)
		}
	}
}

// Every name of the built-in catalogue means its own species, save those that
// two species share.
func TestNamesOfTheCatalogue(t *testing.T) {
	c := catalogue.Builtin()
	names, spanish := questions.NewNames(c, c.Everything()), questions.NewNames(inSpanish(t), c.Everything())
	for _, s := range c.Species {
		for _, name := range []string{s.Name, s.Vernacular, strings.ToUpper(s.Vernacular), "the " + s.Vernacular} {
			if got, ok := names.Match(name); !ok || got != s.Name {
				t.Errorf("%q means %q (%v), want %q", name, got, ok, s.Name)
			}
		}
		if s.Spanish == "" {
			t.Errorf("%s has no Spanish name", s.Name)
		}
		for _, name := range append(slices.Clone(s.OtherSpanish), s.Spanish) {
			for _, typed := range []string{name, unaccented(name), "el " + name, strings.ToUpper(name)} {
				if got, ok := names.Match(typed); (!ok || got != s.Name) && name != "nutria" { // in English that is a coypu
					t.Errorf("%q means %q (%v), want %q", typed, got, ok, s.Name)
				}
				if got, ok := spanish.Match(typed); !ok || got != s.Name {
					t.Errorf("in Spanish %q means %q (%v), want %q", typed, got, ok, s.Name)
				}
			}
		}
		for _, name := range s.OtherNames {
			if got, ok := names.Match(name); ok && got != s.Name {
				t.Errorf("%q means %q, want %q or none", name, got, s.Name)
			}
		}
	}
}

// unaccented is how a phone's hasty owner writes.
func unaccented(name string) string {
	return strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n", "Á", "A").Replace(name)
}

func FuzzMatch(f *testing.F) {
	for _, typed := range []string{"red fox", "The Red-Fox", "zorro rojo", "lnyx", "búho", "LEÓN DE MONTAÑA", "a\u0301", "\xff\xfe", "", "buck", strings.Repeat("x", 199)} {
		f.Add(typed)
	}
	c := catalogue.Builtin()
	names := questions.NewNames(c, c.Everything())
	f.Fuzz(func(t *testing.T, typed string) {
		species, ok := names.Match(typed)
		if _, real := c.Find(species); ok != real {
			t.Fatalf("%q means %q, %v", typed, species, ok)
		}
		for _, same := range []string{" " + typed + " ", strings.ReplaceAll(typed, " ", "  ")} {
			if again, _ := names.Match(same); len(same) <= 200 && again != species {
				t.Fatalf("%q means %q, yet %q means %q", typed, species, same, again)
			}
		}
	})
}
