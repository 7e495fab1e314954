package questions_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// ends follows every path that a species' own known values allow.
func ends(k *questions.FieldKey, s catalogue.Species) [][]catalogue.Species {
	var out [][]catalogue.Species
	seen := map[int]bool{}
	var follow func(at int)
	follow = func(at int) {
		if seen[at] {
			return
		}
		seen[at] = true
		for _, l := range k.Couplets[at].Leads {
			switch {
			case l.Claim.Holds(s.Values[l.Claim.Trait]) == catalogue.False:
			case l.End != nil:
				out = append(out, l.End)
			default:
				follow(l.Next)
			}
		}
	}
	follow(0)
	return out
}

func holdsSpecies(list []catalogue.Species, name string) bool {
	return slices.ContainsFunc(list, func(s catalogue.Species) bool { return s.Name == name })
}

// anyTraitSeparates looks at a pair trait by trait, with nothing of the key's own.
func anyTraitSeparates(c *catalogue.Catalogue, a, b catalogue.Species) bool {
	return slices.ContainsFunc(c.Traits, func(t catalogue.Trait) bool {
		return t.Subject == "skull" && t.Kind != catalogue.Set && separatesPair(t, a.Values[t.ID], b.Values[t.ID])
	})
}

// Over random catalogues with gaps and overlaps: every species is at the end
// of every path that its values allow, those that end together are the ones
// that nothing separates, and couplets only ever lead on to later ones or to
// ones already met from a larger group, so that no path is endless.
func TestFieldKeyReachesEverySpecies(t *testing.T) {
	built := 0
	rapid.Check(t, func(t *rapid.T) {
		c := randomCatalogue(t)
		k, err := questions.NewFieldKey(c, c.Everything(), "skull")
		if err != nil {
			for i, a := range c.Species {
				for _, b := range c.Species[:i] {
					if anyTraitSeparates(c, a, b) {
						t.Fatalf("no key (%v), yet %s and %s differ", err, a.Name, b.Name)
					}
				}
			}
			return
		}
		built++
		for _, s := range c.Species {
			reached := ends(k, s)
			if len(reached) == 0 {
				t.Fatalf("%s is never reached", s.Name)
			}
			for _, end := range reached {
				if !holdsSpecies(end, s.Name) {
					t.Fatalf("%s comes to an end that does not name it:\n%s", s.Name, k)
				}
			}
		}
		checkCouplets(t, c, k)
		assertNoLoop(t, k)
	})
	t.Logf("%d keys built", built)
	if built < 20 {
		t.Errorf("only %d keys were built: the random catalogues are too poor to prove anything", built)
	}
}

func checkCouplets(t *rapid.T, c *catalogue.Catalogue, k *questions.FieldKey) {
	for i, couplet := range k.Couplets {
		for _, l := range couplet.Leads {
			if l.Text == "" || l.Claim.Trait == "" {
				t.Fatalf("couplet %d has a lead without words or claim", i+1)
			}
			for j, a := range l.End {
				for _, b := range l.End[:j] {
					if anyTraitSeparates(c, a, b) {
						t.Fatalf("%s and %s end together at couplet %d, yet they differ:\n%s", a.Name, b.Name, i+1, k)
					}
				}
			}
		}
	}
}

func assertNoLoop(t *rapid.T, k *questions.FieldKey) {
	open, closed := map[int]bool{}, map[int]bool{}
	var visit func(at int)
	visit = func(at int) {
		if open[at] {
			t.Fatalf("couplet %d leads back to itself", at+1)
		}
		if closed[at] {
			return
		}
		open[at] = true
		for _, l := range k.Couplets[at].Leads {
			if l.End == nil {
				visit(l.Next)
			}
		}
		open[at], closed[at] = false, true
	}
	visit(0)
	if len(closed) != len(k.Couplets) {
		t.Fatalf("%d of %d couplets can be reached", len(closed), len(k.Couplets))
	}
}

// smallKey has a word, a number with a gap, overlapping numbers, an unknown
// value and a pair that nothing separates.
func smallKey(t *testing.T) *questions.FieldKey {
	teeth := catalogue.Trait{ID: "teeth", Subject: "skull", Part: "skull", Kind: catalogue.State, Ease: 5,
		Wording: catalogue.Wording{Says: "has {} teeth", Denies: "does not have {} teeth"}}
	length := catalogue.Trait{ID: "length", Subject: "skull", Part: "skull", Kind: catalogue.Range, Unit: "mm", Ease: 4,
		Wording: catalogue.Wording{Says: "is {} mm long"}}
	canines := catalogue.Trait{ID: "canines", Subject: "skull", Part: "skull", Kind: catalogue.Count, Ease: 3,
		Wording: catalogue.Wording{Says: "has {} canine{s}", Denies: "has no canines", Some: "has canines"}}
	row := func(name string, values map[string]catalogue.Value) catalogue.Species {
		return catalogue.Species{Name: "Genus " + name, Vernacular: name, Subjects: []string{"animal", "skull"}, Values: values}
	}
	c := catalogue.New([]catalogue.Trait{teeth, length, canines}, []catalogue.Species{
		row("otter", map[string]catalogue.Value{"teeth": known("sharp"), "length": between(90, 120), "canines": between(2, 2)}),
		row("weasel", map[string]catalogue.Value{"teeth": known("sharp"), "length": between(40, 51), "canines": between(2, 2)}),
		row("stoat", map[string]catalogue.Value{"teeth": known("sharp"), "length": between(38, 48), "canines": between(2, 2)}),
		row("beaver", map[string]catalogue.Value{"teeth": known("flat"), "length": between(100, 150), "canines": between(0, 0)}),
		row("hog", map[string]catalogue.Value{"length": between(250, 400), "canines": between(2, 2)}),
	}, nil)
	k, err := questions.NewFieldKey(c, c.Everything(), "skull")
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func TestFieldKeyInPrint(t *testing.T) {
	got := strings.Split(strings.TrimSpace(smallKey(t).String()), "\n")
	want := []string{
		"1a  Skull is at least 69 mm long", "2",
		"1b  Skull is under 69 mm long", "Stoat or weasel, not separated",
	}
	for i := 0; i < len(want); i += 2 {
		if l := got[i/2]; !strings.HasPrefix(l, want[i]) || !strings.HasSuffix(l, " "+want[i+1]) {
			t.Errorf("line %d is %q, want %q … %q", i/2+1, l, want[i], want[i+1])
		}
	}
	if len(got) != 8 {
		t.Errorf("the key has %d lines, want 3 couplets:\n%s", len(got), strings.Join(got, "\n"))
	}
}

func TestFieldKeySaysWhatIsWrong(t *testing.T) {
	c := gowerCatalogue()
	for _, subject := range []string{"skull", "feather"} {
		if _, err := questions.NewFieldKey(c, c.Everything(), subject); err == nil {
			t.Errorf("%s: no error", subject)
		}
	}
}
