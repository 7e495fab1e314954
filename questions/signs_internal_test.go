package questions

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
)

// subjectPapers are made once for all tests that look at them.
var subjectPapers = map[[2]string][][]Question{} // by subject and roster

// ofSubject calls a check with papers of eight questions on one subject, of every roster.
func ofSubject(t *testing.T, subject string, check func(bank *Bank, name string, paper []Question)) {
	c := catalogue.Builtin()
	for _, name := range catalogue.Rosters() {
		roster, err := c.Roster(name)
		if err != nil {
			t.Fatal(err)
		}
		bank, at := NewBank(c, roster), [2]string{subject, name}
		for seed := len(subjectPapers[at]); seed < 4; seed++ {
			paper, err := bank.Set(Wish{Subjects: []string{subject}, Count: 8, Seed: 700 + uint64(seed), Drawings: HalfDrawings})
			if err != nil {
				t.Fatal(err)
			}
			subjectPapers[at] = append(subjectPapers[at], paper)
		}
		for _, paper := range subjectPapers[at] {
			check(bank, name, paper)
		}
	}
}

// No two questions of a paper on signs have the same options, and a term is not asked
// beside what it stands for.
func TestSignsComeOnceInAPaper(t *testing.T) {
	ofSubject(t, "sign", func(_ *Bank, name string, paper []Question) {
		seen := map[told]string{}
		for _, q := range paper {
			for _, f := range q.fresh() {
				if seen[f] != "" {
					t.Errorf("%s: %v in %q after %q", name, f, q.Prompt, seen[f])
				}
				seen[f] = q.Prompt
			}
		}
	})
}

// The key of a question on signs repeats no word of the animal's name, and its reason
// says a thing once.
func TestSignsGiveNothingAway(t *testing.T) {
	c := catalogue.Builtin()
	ofSubject(t, "sign", func(_ *Bank, name string, paper []Question) {
		for _, q := range paper {
			if strings.HasPrefix(q.Reason, "Only ") && strings.HasSuffix(q.Reason, english.noneDoes) {
				t.Errorf("%s: said twice: %s", name, q.Reason)
			}
			s, known := c.Find(q.keySpecies())
			if !known || q.About == nil {
				continue
			}
			for word := range strings.FieldsSeq(strings.ToLower(q.Options[q.Key].Text)) {
				if word = strings.Trim(word, ".,"); len(word) > 3 && strings.Contains(s.Vernacular, word) {
					t.Errorf("%s: %s: the name says %q", name, q.Prompt, word)
				}
			}
		}
	})
}

// Beside the key of a question on signs stand animals of its country, of the water if it
// is, and no place where any animal may lie decides.
func TestSignsOfOneCountry(t *testing.T) {
	c := catalogue.Builtin()
	ofSubject(t, "sign", func(_ *Bank, name string, paper []Question) {
		for _, q := range paper {
			key, known := c.Find(q.Options[q.Key].Species)
			if strings.Contains(q.Test.All[0].Trait, "under_logs") {
				t.Errorf("%s: nobody teaches it: %s", name, q.Prompt)
			}
			for i, o := range q.Options {
				s, animal := c.Find(o.Species)
				if i == q.Key || !known || !animal || key.Values["class"].Text == "bird" {
					continue
				}
				if !foodweb.Together([]catalogue.Species{key, s}) || catalogue.Apart(key.Values["semi_aquatic"], s.Values["semi_aquatic"]) {
					t.Errorf("%s: %s beside %s: %s", name, s.Vernacular, key.Vernacular, q.Prompt)
				}
			}
			if q.Test.All[0].Trait != "sign_ground_dens_with_bones_and_feathers_about" || q.About != nil {
				continue
			}
			if !slices.ContainsFunc(q.Options, func(o Option) bool { s, _ := c.Find(o.Species); return o.Species != key.Name && foodweb.ByAnimals(s) }) {
				t.Errorf("%s: no other eats flesh: %s", name, q.Prompt)
			}
		}
	})
}

// A meaning has no plain synonym of a word of its term.
func TestMeaningsOfSignsDoNotSayTheTerm(t *testing.T) {
	same := map[string][]string{"scent": {"smell"}, "mound": {"heap", "pile"}, "buck": {"male"}, "dust": {"powder"}, "bath": {"bathe"}, "yard": {"enclosure"}}
	for _, l := range catalogue.Builtin().Lore {
		for word := range strings.FieldsSeq(l.Said) {
			for _, synonym := range same[word] {
				if l.Subject == "sign" && strings.Contains(l.Told, synonym) {
					t.Errorf("%s: %q says %q", l.Said, l.Told, synonym)
				}
			}
		}
	}
}

// What is said of one animal and is so of others names them in a clause of their own:
// nobody reads them as food.
func TestWhatIsAlikeReadsAsNoFood(t *testing.T) {
	for _, e := range []struct {
		book   *phrasebook
		others int
		phrase string
		want   string
	}{
		{&english, 2, "lives mainly on fish", "a lives mainly on fish, and so do b and c"},
		{&english, 1, "is a herbivore", "a is a herbivore, and so is b"},
		{&english, 1, "does not prey on the mouse", "a does not prey on the mouse, nor does b"},
		{&spanish, 1, "come peces", "a come peces, y también b"},
		{&spanish, 2, "no caza al ratón", "a no caza al ratón, y tampoco b y c"},
	} {
		if got := e.book.alike([]string{"a", "b", "c"}[:1+e.others], "", e.phrase); got != e.want {
			t.Errorf("%q, want %q", got, e.want)
		}
	}
}

// Each clue to who eats whom tells from an animal that eats others, a rival of a hoofed
// animal stands beside another, and no two strangers to the key live on the same.
func TestWhoEatsWhomIsNoGift(t *testing.T) {
	c := catalogue.Builtin()
	ofSubject(t, catalogue.FoodWeb, func(bank *Bank, name string, paper []Question) {
		effects := 0
		for _, q := range paper {
			switch q.Template {
			case "chain-effect":
				effects++
			case "name-the-animal":
				for _, claim := range q.Test.All {
					if !slices.ContainsFunc(q.Options, func(o Option) bool {
						s, _ := bank.index(q.Subject).find(o.Species)
						return claim.Holds(s.Values[claim.Trait]) == catalogue.False && slices.Contains([]string{string(foodweb.Higher), string(foodweb.Both)}, s.Values[feedsAs].Text)
					}) {
						t.Errorf("%s: %v is idle: %s", name, claim, q.Prompt)
					}
				}
			}
			chain, is := foodweb.ChainOf(q.Test.All[0])
			if is {
				for _, hunter := range chain[2:] {
					s, _ := c.Find(hunter)
					if level, _ := bank.web.Feeds(s); level == foodweb.Both {
						t.Errorf("%s: %s hunts by chance: %s", name, s.Vernacular, q.Prompt)
					}
				}
			}
		}
		if effects > 3 {
			t.Errorf("%s: %d of %d ask what follows", name, effects, len(paper))
		}
	})
}

// A wish for more than there is says what to ask for.
func TestTooManyAskedForSaysHowMany(t *testing.T) {
	c := catalogue.Builtin()
	roster, _ := c.Roster("waterside")
	_, err := NewBank(c, roster).Set(Wish{Subjects: []string{catalogue.FoodWeb}, Count: 30, Seed: 1})
	if err == nil {
		t.Fatal("the waterside gives 30")
	}
	says := regexp.MustCompile(`gives only (\d+) .*: ask for (\d+), or add to the roster`).FindStringSubmatch(err.Error())
	if says == nil || says[1] != says[2] {
		t.Errorf("says %v", err)
	}
}
