package guide_test

import (
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/guide"
)

// guides are those made so far, by roster and language. They are only read.
var guides = map[[2]string]*guide.Guide{}

// made is a guide to a ready roster.
func made(t *testing.T, name string, l catalogue.Language) (*guide.Guide, catalogue.Roster) {
	t.Helper()
	c, err := catalogue.Builtin().In(l)
	if err != nil {
		t.Fatal(err)
	}
	roster, err := c.Roster(name)
	if err != nil {
		t.Fatal(err)
	}
	key := [2]string{name, string(l)}
	if guides[key] == nil {
		if guides[key], err = guide.New(c, roster, 1); err != nil {
			t.Fatal(err)
		}
	}
	return guides[key], roster
}

// tells looks up the values alone: two that no single animal can show both of, and of
// which neither passes for the other.
func tells(c *catalogue.Catalogue, trait, this, other string) bool {
	a, _ := c.Find(this)
	b, _ := c.Find(other)
	x, y := a.Values[trait].Typical().String(), b.Values[trait].Typical().String()
	return catalogue.Apart(a.Values[trait], b.Values[trait]) && !slices.Contains(alike, trait+" "+min(x, y)+", "+max(x, y))
}

// alike are values that readers or sources call by either name.
var alike = []string{
	"scat_form cord, segmented cord", "scat_form cord, twisted cord",
	"front_webbing full, partial", "hind_webbing full, partial",
	"gait bound, hop",
}

// By what the guide itself says of an animal, every other one in play is told from
// it, or is named as one that is not; those named no trait tells; and no smaller
// set of traits does as much, which is tried out with all sets there are.
func TestMarksTellEachAnimalFromAllOthers(t *testing.T) {
	for _, name := range catalogue.Rosters() {
		g, roster := made(t, name, catalogue.English)
		c := g.Catalogue
		sets, traits := 0, map[int]int{}
		for _, a := range g.Animals {
			for _, m := range a.Marks {
				others := beside(c, roster, m.Subject, a.Species)
				if m.Others != len(others) {
					t.Errorf("%s, %s, %s: %d others are said to be in play, and %d are", name, a.Name, m.Subject, m.Others, len(others))
				}
				var told []string
				for _, other := range others {
					by := slices.ContainsFunc(m.Traits, func(k guide.Mark) bool { return tells(c, k.Trait, a.Species.Name, other) })
					alike := slices.ContainsFunc(m.Alike, func(s catalogue.Species) bool { return s.Name == other })
					if by == alike {
						t.Errorf("%s, %s, %s: %s is told %v and named as not told %v", name, a.Name, m.Subject, other, by, alike)
					}
					if by {
						told = append(told, other)
					}
				}
				all := tellers(a.Species, c, m.Subject)
				for _, s := range m.Alike {
					if slices.ContainsFunc(all, func(trait string) bool { return tells(c, trait, a.Species.Name, s.Name) }) {
						t.Errorf("%s, %s, %s: %s is said not to be told, and a trait tells it", name, a.Name, m.Subject, s.Name)
					}
				}
				if covered(c, all, a.Species.Name, told, len(m.Traits)-1) {
					t.Errorf("%s, %s, %s: fewer than %d traits are enough", name, a.Name, m.Subject, len(m.Traits))
				}
				sets++
				traits[len(m.Traits)]++
			}
		}
		t.Logf("%s: %d sets; how many have so many traits: %v", name, sets, traits)
		if sets < len(roster.Entries) {
			t.Errorf("%s: only %d sets were looked at", name, sets)
		}
	}
}

// beside are those that an animal is to be told from: a bird's signs from birds'.
func beside(c *catalogue.Catalogue, roster catalogue.Roster, subject string, this catalogue.Species) []string {
	return slices.DeleteFunc(roster.Of(subject), func(name string) bool {
		s, _ := c.Find(name)
		return name == this.Name || subject == "sign" && s.Values["class"].Text != this.Values["class"].Text
	})
}

// tellers are the traits that could stand in a set: all of the subject but those
// that are several in one, and of signs but those that the animal does not leave.
func tellers(this catalogue.Species, c *catalogue.Catalogue, subject string) []string {
	var out []string
	for _, t := range c.Traits {
		if t.Subject == subject && t.Kind != catalogue.Set && t.Kind != catalogue.Formula && (subject != "sign" || this.Values[t.ID].Text != "no") {
			out = append(out, t.ID)
		}
	}
	return out
}

// covered tries out whether so many traits can tell all of those named. It shares
// nothing with the search that it judges: it takes the first animal that is left
// and tries each trait that tells it.
func covered(c *catalogue.Catalogue, traits []string, this string, left []string, n int) bool {
	if len(left) == 0 {
		return n >= 0
	}
	if n <= 0 {
		return false
	}
	for _, trait := range traits {
		if !tells(c, trait, this, left[0]) {
			continue
		}
		rest := slices.DeleteFunc(slices.Clone(left), func(other string) bool { return tells(c, trait, this, other) })
		if covered(c, traits, this, rest, n-1) {
			return true
		}
	}
	return false
}

// What a mark says it leaves is what it leaves.
func TestMarksLeaveWhomTheySay(t *testing.T) {
	g, roster := made(t, "furbearers", catalogue.English)
	for _, a := range g.Animals {
		for _, m := range a.Marks {
			left := slices.DeleteFunc(beside(g.Catalogue, roster, m.Subject, a.Species), func(s string) bool {
				return slices.ContainsFunc(m.Alike, func(o catalogue.Species) bool { return o.Name == s })
			})
			for _, k := range m.Traits {
				left = slices.DeleteFunc(left, func(other string) bool { return tells(g.Catalogue, k.Trait, a.Species.Name, other) })
				if len(left) != len(k.Left) {
					t.Errorf("%s, %s: after %s %d are left, and %d are named", a.Name, m.Subject, k.Trait, len(left), len(k.Left))
				}
			}
			if len(left) > 0 {
				t.Errorf("%s, %s: %v are left at the end", a.Name, m.Subject, left)
			}
		}
	}
}

func TestPagesAreWhole(t *testing.T) {
	for _, l := range []catalogue.Language{catalogue.English, catalogue.Spanish} {
		for _, name := range catalogue.Rosters() {
			g, roster := made(t, name, l)
			if len(g.Animals) != len(roster.Entries) || len(g.Tasks) != len(g.Animals) || len(g.Scales) != 2 || len(g.Keys) != 4 || len(g.Terms) < 20 {
				t.Errorf("%s: %d animals, %d tasks, %d scales, %d keys, %d terms", name, len(g.Animals), len(g.Tasks), len(g.Scales), len(g.Keys), len(g.Terms))
			}
			for _, a := range g.Animals {
				seen := []string{a.Species.Name}
				for _, b := range a.Beside {
					if slices.Contains(seen, b.Other.Name) {
						t.Errorf("%s, %s: %s stands beside it twice", name, a.Name, b.Other.Name)
					}
					seen = append(seen, b.Other.Name)
				}
				if len(a.Beside) != 3 || len(a.Cautions) < 2 || len(a.Drawings) == 0 {
					t.Errorf("%s, %s: %d look-alikes, %d cautions, %d drawings", name, a.Name, len(a.Beside), len(a.Cautions), len(a.Drawings))
				}
				for _, f := range a.Measures {
					if f.Value == "" || f.Rests.Note() == "" {
						t.Errorf("%s, %s: %s has the value %q and rests on %q", name, a.Name, f.Label, f.Value, f.Rests.Note())
					}
				}
			}
		}
	}
}

// Every number that a value cites is in the list, and every source of the list is cited.
func TestSourcesAreThoseCited(t *testing.T) {
	g, _ := made(t, "furbearers", catalogue.English)
	cited := map[int]bool{}
	cite := func(r guide.Rests) {
		for _, n := range r.Cites {
			cited[n] = true
		}
	}
	for _, a := range g.Animals {
		for _, f := range a.Measures {
			cite(f.Rests)
		}
		for _, m := range a.Marks {
			for _, k := range m.Traits {
				cite(k.Rests)
			}
		}
		for _, b := range a.Beside {
			for _, l := range b.Lines {
				cite(l.Rests)
			}
		}
		for _, e := range a.Cautions {
			cite(e.Rests)
		}
	}
	for _, list := range [][]guide.Term{g.Terms, g.Tells, g.Traits} {
		for _, term := range list {
			cite(term.Rests)
		}
	}
	for i, s := range g.Sources {
		if s.Number != i+1 || !cited[s.Number] {
			t.Errorf("source %d of the list has the number %d, cited: %v", i+1, s.Number, cited[s.Number])
		}
		delete(cited, s.Number)
	}
	if len(cited) > 0 {
		t.Errorf("%v are cited and not listed", cited)
	}
}

func TestTheGuideOfARaccoon(t *testing.T) {
	g, _ := made(t, "furbearers", catalogue.Spanish)
	i := slices.IndexFunc(g.Animals, func(a guide.Animal) bool { return a.Species.Name == "Procyon lotor" })
	a := g.Animals[i]
	var text []string
	for _, m := range a.Marks {
		for _, k := range m.Traits {
			text = append(text, m.Title+": "+k.Says)
		}
	}
	for _, c := range a.Cautions {
		text = append(text, c.Part+": "+c.Says+" "+c.Rests.Note())
	}
	all := strings.Join(text, "\n")
	for _, want := range []string{"Por su cráneo: Su cráneo tiene", "Excretas: Pueden tener huevos de la lombriz", "rabia", "autoridad de vida silvestre"} {
		if !strings.Contains(all, want) {
			t.Errorf("there is no %q in\n%s", want, all)
		}
	}
}

func BenchmarkNew(b *testing.B) {
	c := catalogue.Builtin()
	for b.Loop() {
		if _, err := guide.New(c, c.Everything(), 1); err != nil {
			b.Fatal(err)
		}
	}
}
