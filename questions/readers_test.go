package questions_test

import (
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// asked is a set on a roster as a wish has it.
func asked(t *testing.T, roster string, w questions.Wish) []questions.Question {
	t.Helper()
	set, err := builtin(t, roster).Set(w)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// claimedValue is what a species shows for a trait, and whether it is known to.
func claimedValue(t *testing.T, name, trait string) string {
	t.Helper()
	s, known := catalogue.Builtin().Find(name)
	if !known {
		t.Fatalf("%s is no species of the catalogue", name)
	}
	return s.Values[trait].Typical().String()
}

// Of those that share a value beside the odd one out none shows it in another form.
func TestOddOneOutIsNoOddForm(t *testing.T) {
	for _, q := range asked(t, "everything", questions.Wish{Count: 12, Seed: 1, Subjects: []string{"scat"}, Templates: []string{"odd-one-out"}}) {
		forms := map[string]bool{}
		for i, o := range q.Options {
			if i != q.Key && q.Test.All[0].Trait == "scat_form" {
				forms[claimedValue(t, o.Species, "pellet_shape")] = true
			}
		}
		if len(forms) > 1 {
			t.Errorf("%s %v: the pellets of the others are of several forms", q.Prompt, q.Options)
		}
	}
}

// Sources call one web partial and full, and one scat plain, twisted and segmented: nobody
// is told apart by them.
func TestNobodyIsToldByDegree(t *testing.T) {
	alike := map[string][]string{"front_webbing": {"partial", "full"}, "hind_webbing": {"partial", "full"}}
	cord := []string{"segmented cord", "twisted cord"}
	for _, roster := range []string{"waterside", "furbearers", "woodland-edge"} {
		wish := questions.Wish{Count: soak.Size(15, 30), Seed: 2, Subjects: []string{"track", "scat"}, Traits: map[string]float64{"front_webbing": 9, "hind_webbing": 9, "scat_form": 9}}
		for _, q := range asked(t, roster, wish) {
			claim := q.Test.All[0]
			key := q.Options[q.Key].Species
			var beside []string
			for i, o := range q.Options {
				if i != q.Key && o.Species != "" {
					beside = append(beside, o.Species)
				}
			}
			if q.About != nil {
				if key = q.About.Is; q.About.Not != "" && q.About.Not != key {
					beside = append(beside, q.About.Not)
				}
			}
			if _, animal := catalogue.Builtin().Find(key); !animal || len(q.Test.All) > 1 || q.Template == "which-foot" {
				continue
			}
			for _, other := range beside {
				a, b := claimedValue(t, key, claim.Trait), claimedValue(t, other, claim.Trait)
				if a != b && slices.Contains(alike[claim.Trait], a) && slices.Contains(alike[claim.Trait], b) ||
					claim.Trait == "scat_form" && (a == "cord" && slices.Contains(cord, b) || b == "cord" && slices.Contains(cord, a)) {
					t.Errorf("%s: %s of %s (%s) and %s (%s) differ in degree: %s %s", roster, claim.Trait, key, a, other, b, q.Prompt, q.Reason)
				}
			}
		}
	}
}

// Whoever grants a twisted cord grants a cord: no two such statements stand together.
func TestNoStatementHoldsAnother(t *testing.T) {
	cords := []string{"cord", "segmented cord", "twisted cord"}
	for seed := range uint64(8) {
		wish := questions.Wish{Count: 12, Seed: seed, Subjects: []string{"scat"}, Templates: []string{"true-of", "read-the-plate"}, Alone: true}
		for _, q := range asked(t, "furbearers", wish) {
			stated := map[string]bool{}
			for _, o := range q.Options {
				if o.Test != nil && o.Test.All[0].Trait == "scat_form" {
					stated[strings.TrimPrefix(o.Test.All[0].Value, "usually ")] = true
				}
			}
			if stated[cords[0]] && (stated[cords[1]] || stated[cords[2]]) {
				t.Errorf("%s %v", q.Prompt, stated)
			}
		}
	}
}

// A word that nobody in play shows, or everybody, is not asked.
func TestWordsAreOfWhatIsInPlay(t *testing.T) {
	words := []string{"term-for", "term-means", "what-it-tells"}
	nobody := map[string][]string{
		"waterside":  {"digitigrade", "furred feet that spread wide", "long front claws", "a hind toe set apart from the others, without a claw", "prints with three lobes along the rear edge of the heel pad and no claw marks"},
		"furbearers": {"unguligrade", "selenodont teeth", "furred feet that spread wide"},
	}
	for roster, terms := range nobody {
		for _, q := range asked(t, roster, questions.Wish{Count: 30, Seed: 3, Templates: words}) {
			if key := q.Options[q.Key].Species; slices.Contains(terms, key) {
				t.Errorf("%s: nobody shows %s: %s", roster, key, q.Prompt)
			}
		}
	}
}

// The mark that suggests a cat is one that a gray fox, whose claws often leave no mark,
// does not show.
func TestOnlyCatsLeaveACatsPrint(t *testing.T) {
	c, found := catalogue.Builtin(), false
	for _, q := range asked(t, "everything", questions.Wish{Count: 4, Seed: 4, Subjects: []string{"track"}, Templates: []string{"what-it-tells"}}) {
		if strings.Contains(q.Options[q.Key].Text, "cat") {
			found = true
			if !strings.Contains(q.Prompt, "three lobes") {
				t.Errorf("%s: a gray fox's claws may not show either", q.Prompt)
			}
		}
	}
	if !found {
		t.Error("nobody is asked what suggests a cat")
	}
	for _, s := range c.Species {
		if s.Values["pad_lobes_back"].May("yes") && s.Values["pad_lobes_back"].Known() && s.Values["family"].Text != "Felidae" {
			t.Errorf("%s has such a heel pad, too", s.Vernacular)
		}
	}
}

// Nobody counts a gnawer's cheek teeth, or is told a dog by the top of its postorbital
// processes alone where another mark is to be had.
func TestObscureTeethDecideNothing(t *testing.T) {
	for _, q := range asked(t, "everything", questions.Wish{Count: soak.Size(6, 15), Seed: 5, Subjects: []string{"skull"}, Traits: map[string]float64{"upper_premolars": 4, "lower_premolars": 4}}) {
		if q.Template == "missing-teeth" || q.About != nil {
			continue
		}
		for _, claim := range q.Test.All {
			s, animal := catalogue.Builtin().Find(q.Options[q.Key].Species)
			if animal && strings.HasSuffix(claim.Trait, "premolars") && s.Values["diastema"].Text == "yes" && s.Values["large_canines"].Text == "no" && s.Values["posture"].Text != "unguligrade" {
				t.Errorf("the premolars of %s: %s", s.Vernacular, q.Prompt)
			}
		}
	}
	processes, _ := catalogue.Builtin().Trait("postorbital_process")
	for _, mark := range []string{"temporal_ridges", "jaw_step", "last_upper_molar"} {
		if plain, _ := catalogue.Builtin().Trait(mark); plain.Weight <= processes.Weight {
			t.Errorf("%s weighs %v, the tops of processes %v", mark, plain.Weight, processes.Weight)
		}
	}
}

// Each clue strikes out an animal that those before it leave, and whoever is named beside
// a statement is named once.
func TestReasonsAreNotIdle(t *testing.T) {
	c := catalogue.Builtin()
	wish := questions.Wish{Count: 30, Seed: 6, Templates: []string{"name-the-animal", "true-of"}}
	for _, roster := range []string{"waterside", "everything", "woodland-edge"} {
		for _, q := range asked(t, roster, wish) {
			if q.Template == "true-of" {
				for _, s := range c.Species {
					if n := strings.Count(strings.ToLower(q.Reason), "the "+strings.ToLower(s.Vernacular)); n > 1 && s.Name != q.About.Is {
						t.Errorf("%s: the %s is named %d times: %s", roster, s.Vernacular, n, q.Reason)
					}
				}
				continue
			}
			left := map[string]bool{}
			for i, o := range q.Options {
				left[o.Species] = i != q.Key
			}
			struck, last := true, ""
			for _, claim := range q.Test.All {
				if claim.Trait != last && !struck {
					t.Errorf("%s: %s excludes nobody: %s %v", roster, last, q.Prompt, q.Options)
				}
				struck, last = struck && claim.Trait == last, claim.Trait
				for name, in := range left {
					s, _ := c.Find(name)
					if v := s.Values[claim.Trait]; in && v.Basis >= q.Rests && claim.Holds(v) == catalogue.False {
						left[name], struck = false, true
					}
				}
			}
			if !struck {
				t.Errorf("%s: %s excludes nobody: %s %v", roster, last, q.Prompt, q.Options)
			}
		}
	}
}

// No reason leads with what one of the others shows, too.
func TestReasonsLeadWithWhatTells(t *testing.T) {
	for _, q := range asked(t, "waterside", questions.Wish{Count: 12, Seed: 7, Subjects: []string{"skull"}, Templates: []string{"whose-plate"}}) {
		differs := func(o questions.Option) bool {
			s, _ := catalogue.Builtin().Find(o.Species)
			return !s.Values["cheek_teeth"].May("flat grinding")
		}
		its, _, _ := strings.Cut(q.Reason, ". ")
		if strings.Contains(its, "flat grinding cheek teeth") && strings.Contains(its, " and ") && !slices.ContainsFunc(q.Options, differs) {
			t.Errorf("the teeth of the others grind, too: %s %v", q.Reason, q.Options)
		}
	}
}

// A game of twenty shows no drawing of an animal twice.
func TestADrawingComesOnce(t *testing.T) {
	papers(t, 2, func(roster string, paper []questions.Question) {
		seen := map[questions.PlateRef]bool{}
		for _, q := range paper[:20] {
			if q.Plate == nil || q.Plate.With != "" {
				continue
			}
			drawn := questions.PlateRef{Species: q.Plate.Species, View: strings.TrimPrefix(q.Plate.View, "left ")}
			if seen[drawn] {
				t.Errorf("%s: the %s of %s twice: %s", roster, drawn.View, drawn.Species, q.Prompt)
			}
			seen[drawn] = true
		}
	})
}

// An armadillo's ear has a ring of bone, which is no capsule to point at.
func TestArmadilloHasNoBulla(t *testing.T) {
	s, _ := catalogue.Builtin().Find("Dasypus novemcinctus")
	if slices.ContainsFunc(plate.Structures(s), func(st plate.Structure) bool { return st.Term == "auditory bulla" }) {
		t.Error("the armadillo's skull shows a bulla")
	}
}

// What is asked about antlers is told among antlers, and calls them so.
func TestHeadgearIsAskedAmongItsKind(t *testing.T) {
	gear := func(name string) string { return claimedValue(t, name, "head_gear") }
	for seed := range uint64(soak.Size(2, 6)) {
		wish := questions.Wish{Count: 8, Seed: 60 + seed, Subjects: []string{"skull"}, Templates: []string{"has-trait", "true-of", "odd-one-out"}, Alone: true,
			Traits: map[string]float64{"gear_shape": questions.MostWeight, "gear_bearers": questions.MostWeight}}
		for _, q := range asked(t, "everything", wish) {
			mixed := false
			for _, o := range q.Options {
				mixed = mixed || o.Test == nil && gear(o.Species) != gear(q.Options[q.Key].Species)
				if o.Test != nil && o.Test.All[0].Trait == "gear_shape" && !strings.Contains(o.Text, gear(q.About.Is)) {
					t.Errorf("%s %s", q.Prompt, o.Text)
				}
			}
			if trait := q.Test.All[0].Trait; mixed && trait == "gear_shape" || !mixed && q.About == nil && strings.Contains(q.Prompt+q.Reason, "antlers or horns") {
				t.Errorf("%s: %s %v %s", trait, q.Prompt, q.Options, q.Reason)
			}
		}
	}
}

// Squared and blunt hooves are close: none of them is the odd one out.
func TestBluntHoovesAreNotOdd(t *testing.T) {
	for seed := range uint64(6) {
		wish := questions.Wish{Count: 6, Seed: 70 + seed, Subjects: []string{"track"}, Templates: []string{"odd-one-out"}, Alone: true, Traits: map[string]float64{"hoof_tips": questions.MostWeight}}
		for _, q := range asked(t, "everything", wish) {
			if claim := q.Test.All[0]; claim.Trait == "hoof_tips" && claim.Value != "pointed" && claimedValue(t, q.Options[q.Key].Species, "hoof_tips") != "pointed" {
				t.Errorf("%s %s", q.Prompt, q.Reason)
			}
		}
	}
}

// A skull that differs in what is taught is not known by its length, the mark said first
// tells whoever it can, and not all who are named beside a statement show it, too.
func TestWhatIsSeenIsTold(t *testing.T) {
	c := catalogue.Builtin()
	raccoon := questions.Wish{Count: 12, Seed: 1, Subjects: []string{"skull"}, Templates: []string{"which-plate", "whose-plate"}, Species: map[string]float64{"Procyon lotor": questions.MostWeight}, Alone: true}
	for _, q := range asked(t, "furbearers", raccoon) {
		if q.Options[q.Key].Species == "Procyon lotor" && q.Test.All[0].Trait == "skull_length" {
			t.Errorf("%s %s", q.Prompt, q.Reason)
		}
	}
	porcupine := questions.Wish{Count: 12, Seed: 1, Subjects: []string{"skull"}, Templates: []string{"whose-plate"}, Species: map[string]float64{"Erethizon dorsatum": questions.MostWeight}, Alone: true}
	for _, q := range asked(t, "woodland-edge", porcupine) {
		beside := strings.Contains(q.Reason, "huge opening") && strings.Contains(q.Reason, "the woodchuck")
		if q.Options[q.Key].Species == "Erethizon dorsatum" && beside && !strings.Contains(q.Reason, "small hole") {
			t.Errorf("%s %s", q.Prompt, q.Reason)
		}
	}
	for seed := range uint64(6) {
		for _, q := range asked(t, "woodland-edge", questions.Wish{Count: 10, Seed: 90 + seed, Subjects: []string{"skull"}, Templates: []string{"read-the-plate"}, Alone: true}) {
			told := func(s catalogue.Species) bool {
				claim := q.Test.All[0]
				return s.Name != q.About.Is && strings.Contains(q.Reason, "he "+s.Vernacular+"'s") && !s.Values[claim.Trait].May(claim.Value)
			}
			if !slices.ContainsFunc(c.Species, told) {
				t.Errorf("%s: whom does it tell? %s", q.Prompt, q.Reason)
			}
		}
	}
}

// Whoever has one upper molar on a side has no last one.
func TestOneMolarIsNotTheLast(t *testing.T) {
	c := catalogue.Builtin()
	trait, _ := c.Trait("last_upper_molar")
	for _, s := range c.Species {
		if v := s.Values[trait.ID]; v.Known() && s.Values["upper_molars"].String() == "1" && (strings.Contains(trait.Say(v), "last") || strings.Contains(trait.Deny(v), "last")) {
			t.Errorf("%s: %s", s.Vernacular, trait.Say(v))
		}
	}
}

// What an animal is taught by first stands in the reason, though another mark weighs more:
// a gopher has two grooves down each incisor. Nobody knows a bear by its bullae.
func TestReasonsSayWhatIsTaughtFirst(t *testing.T) {
	const gopher, bear = "Geomys bursarius", "Ursus americanus"
	wish := questions.Wish{Count: 20, Seed: 6, Subjects: []string{"skull"}, Templates: []string{"whose-plate", "true-of", "read-the-plate"}, Alone: true,
		Species: map[string]float64{gopher: questions.MostWeight, bear: questions.MostWeight}}
	of := map[string]int{}
	for _, q := range asked(t, "everything", wish) {
		key := q.Options[q.Key].Species
		if key == gopher && q.Template == "whose-plate" {
			of[key]++
			if !strings.Contains(q.Reason, "groove") {
				t.Errorf("without its grooves: %s", q.Reason)
			}
		}
		if q.About != nil && q.About.Is == bear {
			of[bear]++
			if q.Test.All[0].Trait == "bulla" {
				t.Errorf("a bear by its bullae: %s", q.Reason)
			}
		}
	}
	if of[gopher] == 0 || of[bear] == 0 {
		t.Errorf("asked about: %v", of)
	}
	for _, seed := range []uint64{4, 6, 39} { // which told of the lattice before
		for _, q := range asked(t, "woodland-edge", questions.Wish{Count: 20, Seed: seed, Drawings: questions.HalfDrawings}) {
			if key := q.Options[q.Key].Species; q.Template == "which-plate" && key == "Sylvilagus floridanus" && !strings.Contains(q.Reason, "lattice") {
				t.Errorf("by what is taught less: %s", q.Reason)
			}
		}
	}
}

// A reason says what the wrong animal shows, where that is known: a coyote's heel pad is
// triangular, and not only without lobes.
func TestReasonsSayWhatIsThere(t *testing.T) {
	wish := questions.Wish{Count: 12, Seed: 10, Subjects: []string{"track"}, Templates: []string{"separates", "has-trait"}, Alone: true, Species: map[string]float64{"Lynx rufus": questions.MostWeight},
		Traits: map[string]float64{"pad_lobes_back": questions.MostWeight}}
	told := false
	for _, q := range asked(t, "woodland-edge", wish) {
		if q.Test.All[0].Trait != "pad_lobes_back" {
			continue
		}
		if strings.Contains(q.Reason, "the coyote's front print has a heel pad without") {
			t.Error(q.Reason)
		}
		told = told || strings.Contains(q.Reason, "triangular")
	}
	if !told {
		t.Error("of no coyote is said that its heel pad is triangular")
	}
}

// Nobody is asked who lacks a crest beside a fox, whose ridges run together at the back, nor
// how many teeth a caribou has, of whose canines some have none.
func TestWhatCouldBeGrantedIsNotDenied(t *testing.T) {
	for seed := range uint64(soak.Size(3, 8)) {
		wish := questions.Wish{Count: 12, Seed: 100 + seed, Subjects: []string{"skull"}, Templates: []string{"read-the-plate", "true-of", "has-trait", "count-the-teeth", "animal-to-formula"}, Alone: true,
			Species: map[string]float64{"Vulpes vulpes": questions.MostWeight, "Rangifer tarandus": questions.MostWeight}, Traits: map[string]float64{"temporal_ridges": 3, "total_teeth": 3}}
		for _, q := range asked(t, "everything", wish) {
			for _, o := range q.Options {
				if q.About != nil && o.Test != nil && q.About.Is == "Vulpes vulpes" && o.Test.All[0].Value == "single crest" {
					t.Errorf("%s %s", q.Prompt, o.Text)
				}
			}
			if trait := q.Test.All[0].Trait; q.Options[q.Key].Species == "Rangifer tarandus" && (trait == "total_teeth" || trait == "dental_formula") {
				t.Errorf("%s %s", q.Prompt, q.Reason)
			}
		}
	}
}
