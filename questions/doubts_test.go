package questions_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// What a print often lacks, or a lynx seldom does, is settled for nobody.
func TestWhatVariesIsOpen(t *testing.T) {
	c := catalogue.Builtin()
	for _, open := range []struct{ species, trait, value string }{
		{"Lontra canadensis", "front_webbing", "partial"}, {"Lontra canadensis", "front_webbing", "none"},
		{"Lynx canadensis", "scat_placement_buried_or_in_a_scrape", "yes"}, {"Lynx canadensis", "scat_placement_buried_or_in_a_scrape", "no"},
	} {
		s, _ := c.Find(open.species)
		claim := catalogue.Claim{Trait: open.trait, Op: "=", Value: open.value}
		if got := claim.Holds(s.Values[open.trait]); got != catalogue.Undecided {
			t.Errorf("that %s is %s of %s is %v", open.trait, open.value, open.species, got)
		}
	}
	for _, q := range asked(t, "waterside", questions.Wish{Count: 12, Seed: 8, Templates: []string{"which-foot"}, Alone: true}) {
		if strings.Contains(q.Prompt, "web") {
			t.Errorf("a web that is not to be seen tells no foot: %s", q.Prompt)
		}
	}
}

// What both of two animals show is no other degree of what tells them apart: both bears
// leave claw marks, and they are known by how long these are.
func TestSharedStatementsAreNotDisputed(t *testing.T) {
	c := catalogue.Builtin()
	for seed := range uint64(6) {
		wish := questions.Wish{Count: 8, Seed: 40 + seed, Subjects: []string{"track"}, Templates: []string{"separates"}, Species: map[string]float64{"Ursus arctos": questions.MostWeight, "Ursus americanus": questions.MostWeight}}
		for _, q := range asked(t, "everything", wish) {
			a, _ := c.Find(q.About.Is)
			b, _ := c.Find(q.About.Not)
			apart := catalogue.Apart(a.Values["long_front_claws"], b.Values["long_front_claws"])
			for i, o := range q.Options {
				if i != q.Key && apart && o.Test.All[0].Trait == "claws_show" {
					t.Errorf("%s %s", q.Prompt, o.Text)
				}
			}
		}
	}
}

// Where a clue says what a scat holds, each of the others is known to hold it or not: struck
// by another clue alone, it would seem to hold it.
func TestCluesOnFoodAreSettled(t *testing.T) {
	c := catalogue.Builtin()
	for seed := range uint64(4) {
		for _, q := range asked(t, "everything", questions.Wish{Count: 15, Seed: 50 + seed, Subjects: []string{"scat"}, Templates: []string{"name-the-animal"}}) {
			for _, claim := range q.Test.All {
				for _, o := range q.Options {
					if s, _ := c.Find(o.Species); strings.HasPrefix(claim.Trait, "scat_contents_") && claim.Holds(s.Values[claim.Trait]) == catalogue.Undecided {
						t.Errorf("%s: %s of %s is open", q.Prompt, claim.Trait, o.Text)
					}
				}
			}
		}
	}
}

// A comma within a value reads as one between clues: only adjectives have one.
func TestValuesHaveNoClauses(t *testing.T) {
	adjective := regexp.MustCompile(`(large|broad|round|thin|long|slender|black|short|straight|two|heavy|clawless|pebbly|wide|blunt|curved|raised)$`)
	for _, trait := range catalogue.Builtin().Traits {
		clauses := strings.Split(trait.Wording.Says, ",")
		for _, before := range clauses[:len(clauses)-1] {
			if !adjective.MatchString(before) && !slices.Contains([]string{"postorbital_size", "den_place"}, trait.ID) { // by the name of a value
				t.Errorf("%s: %q", trait.ID, trait.Wording.Says)
			}
		}
	}
}

// That a hunter has a canine is no way to know it.
func TestACanineTellsNoHunter(t *testing.T) {
	for seed := range uint64(4) {
		for _, q := range asked(t, "woodland-edge", questions.Wish{Count: 15, Seed: 60 + seed, Subjects: []string{"skull"}, Templates: []string{"true-of"}, Traits: map[string]float64{"upper_canines": questions.MostWeight}}) {
			if claim := q.Test.All[0]; strings.HasSuffix(claim.Trait, "_canines") && claim.Value == "1" {
				t.Errorf("%s %s", q.Prompt, q.Options[q.Key].Text)
			}
		}
	}
}

// A buck's scrape and a browse line stand among marks on trees and under them, a latrine beside no midden, which can be of
// dung, and a gap beside no tooth.
func TestRivalsAreOfItsKind(t *testing.T) {
	marks := []string{"buck scrape", "rub", "browse line", "girdling"}
	seen := map[string]bool{}
	for seed := range uint64(6) {
		for _, q := range asked(t, "everything", questions.Wish{Count: 20, Seed: 70 + seed, Subjects: []string{"scat", "sign"}, Templates: []string{"term-for", "term-means"}, Alone: true}) {
			key := q.Options[q.Key].Species
			seen[key] = true
			for _, o := range q.Options {
				if slices.Contains(marks, key) && !slices.Contains(marks, o.Species) || key == "latrine" && o.Species == "midden" || key == "midden" && o.Species == "latrine" {
					t.Errorf("%s: %s", q.Prompt, o.Text)
				}
			}
		}
		for _, q := range asked(t, "everything", questions.Wish{Count: 12, Seed: 70 + seed, Subjects: []string{"skull"}, Templates: []string{"label-it"}, Alone: true}) {
			key := q.Options[q.Key].Species
			seen[key] = true
			for _, o := range q.Options {
				if key == "diastema" && slices.Contains([]string{"incisors", "canines", "premolars", "molars"}, o.Species) {
					t.Errorf("a gap is no %s", o.Text)
				}
			}
		}
	}
	for _, key := range []string{"buck scrape", "browse line", "latrine", "diastema"} {
		if !seen[key] {
			t.Errorf("%s was not asked", key)
		}
	}
}

// Over a print no two others show another number of toes: two round cats' prints beside a
// bear's leave a choice of two.
func TestDrawnPrintsShareTheirToes(t *testing.T) {
	c := catalogue.Builtin()
	for seed := range uint64(14) {
		for _, q := range asked(t, "everything", questions.Wish{Count: 20, Seed: 18500 + seed, Drawings: questions.HalfDrawings}) {
			if q.Template != "whose-plate" || q.Subject != "track" {
				continue
			}
			toes, others := map[string]string{"front print": "front_toes", "hind print": "hind_toes"}[q.Plate.View], 0
			key, _ := c.Find(q.Plate.Species)
			for _, o := range q.Options {
				s, _ := c.Find(o.Species)
				if a, b := s.Values[toes].Claimed(), key.Values[toes].Claimed(); a != b && a != "" && b != "" {
					others++
				}
			}
			if others > 1 {
				t.Errorf("%s %v: %d have other toes", q.Prompt, q.Options, others)
			}
		}
	}
}

// What is hardly found is in no ready roster, and what is hardly taught is asked of nobody.
func TestWhatIsSeldomSeenIsNotAsked(t *testing.T) {
	c := catalogue.Builtin()
	for _, name := range catalogue.Rosters() {
		r, err := c.Roster(name)
		if err != nil || slices.Contains(r.Of("scat"), "Marmota monax") {
			t.Errorf("%s has the woodchuck's scat (%v)", name, err)
		}
	}
	seldom := map[string]string{"ear_tube": "none", "palate_past_molars": "", "incisor_breadth": ""} // which value; "": any
	most := map[string]float64{}
	for trait := range seldom {
		most[trait] = questions.MostWeight
	}
	wish := questions.Wish{Count: 20, Seed: 9, Subjects: []string{"skull"}, Templates: []string{"has-trait", "lacks-trait", "separates", "read-the-plate", "true-of"}, Alone: true, Traits: most,
		Species: map[string]float64{"Erethizon dorsatum": questions.MostWeight, "Mephitis mephitis": questions.MostWeight, "Taxidea taxus": questions.MostWeight, "Myocastor coypus": questions.MostWeight}}
	for _, q := range asked(t, "everything", wish) {
		claims := slices.Clone(q.Test.All)
		for _, o := range q.Options {
			if o.Test != nil {
				claims = append(claims, o.Test.All...)
			}
		}
		for _, claim := range claims {
			if value, is := seldom[claim.Trait]; is && (value == "" || value == claim.Value && claim == q.Test.All[0]) {
				t.Errorf("%s %s: %s", q.Prompt, q.Options[q.Key].Text, claim.Trait)
			}
		}
	}
	for _, q := range asked(t, "waterside", questions.Wish{Count: 2, Seed: 1, Subjects: []string{"scat"}, Templates: []string{"term-for", "term-means"}}) {
		if q.Options[q.Key].Species == "spraint" {
			t.Errorf("%s comes before what is said more", q.Prompt)
		}
	}
}

// A mink's bullae are flat, too, beside a weasel's: by them no otter is told from a mink.
func TestFlatBullaeTellNoMink(t *testing.T) {
	for seed := range uint64(soak.Size(2, 4)) {
		for _, q := range asked(t, "waterside", questions.Wish{Count: 12, Seed: 80 + seed, Subjects: []string{"skull"}, Traits: map[string]float64{"bulla": questions.MostWeight}}) {
			about := q.About
			if about == nil {
				about = &questions.About{Is: q.Options[q.Key].Species}
			}
			for i, o := range q.Options {
				claim := q.Test.All[0]
				if o.Test != nil {
					claim = o.Test.All[0]
				}
				mink := about.Is == "Neogale vison" && i != q.Key || o.Species == "Neogale vison" && len(q.Test.All) == 1
				if claim.Trait == "bulla" && claim.Value == "flattened" && mink {
					t.Errorf("%s %s", q.Prompt, o.Text)
				}
			}
		}
	}
}
