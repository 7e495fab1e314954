package questions_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

var printed = map[string][][]questions.Question{} // by roster

// papers calls a check with papers of 30 questions, so many of every ready roster.
func papers(t *testing.T, each int, check func(roster string, paper []questions.Question)) {
	for _, roster := range []string{"everything", "furbearers", "waterside", "woodland-edge"} {
		for seed := len(printed[roster]); seed < each; seed++ {
			paper, err := builtin(t, roster).Set(questions.Wish{Count: 30, Seed: 9100 + uint64(seed), Drawings: questions.HalfDrawings})
			if err != nil {
				t.Fatal(err)
			}
			printed[roster] = append(printed[roster], paper)
		}
		for _, paper := range printed[roster] {
			check(roster, paper)
		}
	}
}

// What is asked of an animal by one template gives away what the same template
// asks of the same trait: where else its scat is left, which other teeth it lacks.
// Where nothing else is left to ask it may come again: once in so many papers.
func TestPaperAsksOfATraitOnce(t *testing.T) {
	c := catalogue.Builtin()
	column := func(id string) string {
		trait, _ := c.Trait(id)
		for _, teeth := range []string{"incisors", "canines", "premolars", "molars"} {
			if strings.HasSuffix(id, "_"+teeth) && trait.Unit == "per side" || id == "total_teeth" {
				return "dental_formula"
			}
		}
		if trait.From != "" {
			return trait.From
		}
		return id
	}
	var twice []string
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		asked := map[[3]string]string{}
		for _, q := range paper {
			animal := q.Options[q.Key].Species
			if q.About != nil {
				animal = q.About.Is
			}
			if _, known := c.Find(animal); !known {
				continue // a term
			}
			for _, claim := range q.Test.All {
				key := [3]string{q.Template, animal, column(claim.Trait)}
				if before, again := asked[key]; again && before != q.ID {
					twice = append(twice, fmt.Sprintf("%s: %v: %s", roster, key, q.Prompt))
				}
				asked[key] = q.ID
			}
		}
	})
	if len(twice) > 2 { // of 32 papers
		t.Errorf("twice in one paper: %s", strings.Join(twice, "\n"))
	}
}

// Who knows nothing but who is related to whom does not find the key: without a
// drawing the wrong animals are not all of one family and the key of another.
func TestKeyIsNoStrangerAmongKin(t *testing.T) {
	c := catalogue.Builtin()
	family := func(name string) string {
		s, _ := c.Find(name)
		return s.Values["family"].Text
	}
	by := strings.Fields("has-trait lacks-trait formula-to-animal trail-pattern name-the-animal largest smallest compound odd-one-out")
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			if !slices.Contains(by, q.Template) {
				continue
			}
			families := map[string]bool{}
			for i, o := range q.Options {
				if i != q.Key {
					families[family(o.Species)] = true
				}
			}
			if len(families) == 1 && !families[family(q.Options[q.Key].Species)] {
				t.Errorf("%s: the wrong ones are of one family: %s %v", roster, q.Prompt, q.Options)
			}
		}
	})
}

// A label's wrong options are parts of the same skull.
func TestLabelsNameWhatIsDrawn(t *testing.T) {
	c := catalogue.Builtin()
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			if q.Template != "label-it" {
				continue
			}
			s, _ := c.Find(q.Plate.Species)
			drawn := plate.Structures(s)
			for _, o := range q.Options {
				if !slices.ContainsFunc(drawn, func(st plate.Structure) bool { return st.Term == o.Species }) {
					t.Errorf("%s: a skull of %s shows no %s", roster, q.Plate.Species, o.Species)
				}
			}
			if slices.Contains([]string{"antlers", "horns"}, q.Options[q.Key].Species) {
				t.Errorf("%s: nobody overlooks the %s of %s", roster, q.Options[q.Key].Species, q.Plate.Species)
			}
		}
	})
}

// Terms of deer are asked with a deer in play, and nobody is asked to tell a
// webbed foot from one without, nor a cloven hoof from a single one.
func TestPapersKeepToWhatIsInPlay(t *testing.T) {
	c := catalogue.Builtin()
	value := func(name, trait string) string {
		s, _ := c.Find(name)
		return s.Values[trait].Typical().String()
	}
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			if roster == "furbearers" && strings.Contains(q.Prompt+q.Options[q.Key].Text, "deer") {
				t.Errorf("%s has no deer: %s", roster, q.Prompt)
			}
			if q.Subject != "track" || q.About != nil {
				continue
			}
			key := q.Options[q.Key].Species
			for _, o := range q.Options {
				web := value(key, "class") == "bird" && (value(o.Species, "front_webbing") == "full") != (value(key, "front_webbing") == "full")
				hoof := value(key, "foot_type") == "hoof" && value(o.Species, "front_toes") != value(key, "front_toes")
				if web || hoof {
					t.Errorf("%s: %s stands beside %s: %s", roster, o.Species, key, q.Prompt)
				}
			}
		}
	})
}

// sameFact are traits of which one tells the other: whoever was told how many toes point
// back knows how many point forward.
var sameFact = map[string]string{"outer_toe_free": "web", "hind_webbing": "web", "toes_forward": "bird toes", "hind_toe": "bird toes",
	"dental_formula": "teeth", "total_teeth": "teeth", "deer age": "age", "deer age fine": "age", "pellet_shape": "pellet", "scat_form": "pellet", "scat_ends": "pellet",
	"group_pattern": "gait", "gait": "gait"}

func factOf(trait string) string {
	for _, teeth := range []string{"incisors", "canines", "premolars", "molars"} {
		if trait == "upper_"+teeth || trait == "lower_"+teeth {
			return "teeth"
		}
	}
	if fact := sameFact[trait]; fact != "" {
		return fact
	}
	return trait
}

// What a reason told is no key later in the paper: not under another name, and not of
// another animal of the genus that has the same value. The waterside has too few animals,
// and among many all questions on birds tell of their toes: one key of twenty may be told.
func TestNoKeyWasToldUnderAnotherName(t *testing.T) {
	c := catalogue.Builtin()
	most := map[string]int{"waterside": 2, "everything": 2} // of 40 questions in two papers
	told := map[string]int{}
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		known := map[string]string{}
		tell := func(name, trait, by string) {
			known[name+"/"+factOf(trait)] = by
			if s, is := c.Find(name); is {
				genus, _, _ := strings.Cut(name, " ")
				known[genus+"/"+trait+"="+s.Values[trait].Claimed()] = by
			}
		}
		for _, q := range paper[:20] {
			for _, claim := range q.Test.All {
				name := keySpecies(q)
				s, animal := c.Find(name)
				genus, _, _ := strings.Cut(name, " ")
				before := known[name+"/"+factOf(claim.Trait)]
				if !animal {
					name = "" // an age
					before = known["/"+factOf(claim.Trait)]
				} else if v := s.Values[claim.Trait].Claimed(); before == "" && v != "" {
					before = known[genus+"/"+claim.Trait+"="+v]
				}
				if before != "" && (animal || factOf(claim.Trait) == "age") {
					told[roster]++
					t.Logf("%s: %s of %s was told by: %s", roster, claim.Trait, name, before)
				}
			}
			if q.Template == "label-it" {
				continue
			}
			for _, claim := range q.Test.All {
				tell("", claim.Trait, q.Prompt)
				for _, o := range q.Options {
					tell(o.Species, claim.Trait, q.Prompt)
				}
			}
			if q.About != nil {
				tell(q.About.Is, q.Test.All[0].Trait, q.Prompt)
				tell(q.About.Not, q.Test.All[0].Trait, q.Prompt)
			}
		}
	})
	for roster, n := range told {
		if n > soak.Size(1, 4)*most[roster] {
			t.Errorf("%s: %d keys were told before", roster, n)
		}
	}
}

// No option says another, nor what the animal is beside what it does; of those that come
// next to the largest all are named.
func TestOptionsStandSideBySide(t *testing.T) {
	c := catalogue.Builtin()
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			traits := map[string]bool{}
			for _, o := range q.Options {
				if o.Test != nil {
					traits[o.Test.All[0].Trait] = true
				}
			}
			if traits["carnassials"] && traits["cheek_teeth"] || traits["head_gear"] && (traits["gear_bearers"] || traits["gear_shape"]) {
				t.Errorf("%s: one option says another: %s %v", roster, q.Prompt, q.Options)
			}
			if q.Template != "largest" && q.Template != "smallest" || !strings.Contains(q.Reason, "the nearest of the others") {
				continue
			}
			value := func(o questions.Option) string {
				s, _ := c.Find(o.Species)
				return s.Values[q.Test.All[0].Trait].String()
			}
			named := func(o questions.Option) bool { return strings.Contains(q.Reason, o.Text) }
			next := slices.IndexFunc(q.Options, func(o questions.Option) bool { return o.Species != q.Options[q.Key].Species && named(o) })
			for _, o := range q.Options {
				if value(o) == value(q.Options[next]) && !named(o) {
					t.Errorf("%s: %s leaves out the %s, which is as near", roster, q.Reason, o.Text)
				}
			}
		}
	})
}

// A reason says whose each wrong statement on a skull is: of those that show it one of about
// the key's size that chews as it does, where there is one, and one animal for two such
// statements where it shows both.
func TestWrongStatementsAreOfLookalikes(t *testing.T) {
	c := catalogue.Builtin()
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		inPlay, err := c.Roster(roster)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range paper {
			if q.Subject != "skull" || q.Template != "true-of" && q.Template != "read-the-plate" {
				continue
			}
			key, _ := c.Find(q.About.Is)
			like := func(s catalogue.Species) bool {
				a, b := s.Values["skull_length"], key.Values["skull_length"]
				most := 4. // twice as long; of two with fangs 1.8 times
				if key.Values["large_canines"].Text == "yes" {
					most = 1.8 * 1.8
				}
				near := a.Lo*a.Hi <= most*b.Lo*b.Hi && b.Lo*b.Hi <= most*a.Lo*a.Hi
				return near && s.Name != key.Name && s.Values["large_canines"].Text == key.Values["large_canines"].Text
			}
			var could, read [][]string // of the wrong statements, by whom one could be, and of whom that was read
			for i, o := range q.Options {
				if i == q.Key {
					continue
				}
				var all, known []string
				for _, s := range c.InPlay(inPlay, "skull") {
					if claim := o.Test.All[0]; like(s) && claim.Holds(s.Values[claim.Trait]) == catalogue.True {
						all = append(all, s.Vernacular)
						if s.Values[claim.Trait].Basis.Read() {
							known = append(known, s.Vernacular)
						}
					}
				}
				read = append(read, known)
				if could = append(could, all); len(all) > 0 && !slices.ContainsFunc(all, func(name string) bool { return strings.Contains(q.Reason, name) }) {
					t.Errorf("%s: %q is the %v's: %s", roster, o.Text, all, q.Reason)
				}
			}
			both := slices.ContainsFunc(read[0], func(name string) bool { // what is only recalled is not told where more was read
				return !slices.ContainsFunc(read[1:], func(all []string) bool { return !slices.Contains(all, name) })
			})
			if named := strings.Count(q.Reason, "skull has") - 1; both && named > 1 {
				t.Errorf("%s: one animal shows all that is wrong, and %d are named: %s %v", roster, named, q.Reason, could)
			}
		}
	})
}

// No wrong statement is one that the drawing shows, or a book says: ridges that draw
// together, a fox's triangular pad, the broad molars of a bear, a deer's round pellets.
func TestWrongStatementsAreFalse(t *testing.T) {
	c := catalogue.Builtin()
	unlike := map[string]func(string) bool{
		"temporal_ridges=V":                func(shown string) bool { return shown == "lyre" },
		"heel_pad=triangular":              func(shown string) bool { return shown != "chevron bar" },
		"last_upper_molar=broad and blunt": func(shown string) bool { return shown != "long grinder" },
		"scat_form=round pellet":           func(shown string) bool { return shown != "pellet" },
	}
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			if q.About == nil || q.About.Not != "" {
				continue
			}
			s, _ := c.Find(q.About.Is)
			for i, o := range q.Options {
				if o.Test == nil {
					continue
				}
				claim := o.Test.All[0]
				wrong, told := unlike[claim.Trait+"="+claim.Value]
				if i != q.Key && claim.Op == "=" && told && !wrong(s.Values[claim.Trait].Typical().Text) {
					t.Errorf("%s: %s %s", roster, q.Prompt, o.Text)
				}
			}
		}
	})
}

// A skull is known by what is taught of it first, unless it was told before.
func TestSkullsAreKnownByTheirMarks(t *testing.T) {
	marks := map[string][]string{"Blarina brevicauda": {"tooth_tips"}, "Sylvilagus floridanus": {"latticed_snout"}, "Urocyon cinereoargenteus": {"temporal_ridges", "jaw_step"}}
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		before := ""
		for _, q := range paper {
			key := q.Options[q.Key]
			cited := slices.ContainsFunc(q.Test.All, func(c catalogue.Claim) bool { return slices.Contains(marks[key.Species], c.Trait) })
			if q.Template == "whose-plate" && q.Subject == "skull" && marks[key.Species] != nil && !cited && !strings.Contains(before, key.Text) {
				t.Errorf("%s: %s", roster, q.Reason)
			}
			before += q.Prompt + q.Reason
		}
	})
}

// themes are traits of which one says, or nearly says, another.
var themes = []string{"upper_incisors lower_incisors upper_canines lower_canines upper_premolars lower_premolars upper_molars lower_molars total_teeth peg_incisors premolar_peg",
	"head_gear gear_bearers gear_renewal gear_shape", "carnassials cheek_teeth", "hind_webbing outer_toe_free", "hind_toes thumb", "toes_forward hind_toe"}

// Of two options that are one fact neither can be the key: peg incisors are a second pair,
// 34 teeth of a deer's kin an upper canine.
func TestOptionsAreOfOneThemeEach(t *testing.T) {
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			if q.Template == "missing-teeth" || q.Template == "which-foot" {
				continue // its options are the teeth, or both feet
			}
			on := map[int]string{}
			for _, o := range q.Options {
				if o.Test == nil {
					continue
				}
				trait := o.Test.All[0].Trait
				at := slices.IndexFunc(themes, func(of string) bool { return slices.Contains(strings.Fields(of), trait) })
				if before := on[at]; at >= 0 && before != "" && before != trait {
					t.Errorf("%s: %s and %s are one fact: %s %v", roster, before, trait, q.Prompt, q.Options)
				}
				on[at] = trait
			}
		}
	})
}

// A reason over a drawing lacks one thing at most, and does not begin with a length where
// it goes on, nor with what another option shows and none lacks: a beaver's flat cheek teeth
// beside a muskrat. The beaver is known by the opening before its eye, not by its ear, and the
// kangaroo rat by its ears.
func TestReasonsLeadWithMarks(t *testing.T) {
	c := catalogue.Builtin()
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			if q.Subject != "skull" || q.Template != "whose-plate" && q.Template != "which-plate" {
				continue
			}
			_, said, _ := strings.Cut(q.Reason, ": ")
			said, _, _ = strings.Cut(said, ". ")
			lacks := strings.Count(said, "lacks ") + strings.Count(said, "has no ") + strings.Count(said, "without ")
			if long := strings.HasPrefix(said, "its skull is "); lacks > 1 || long && strings.Contains(said, " has ") {
				t.Errorf("%s: %s", roster, q.Reason)
			}
			key, _ := c.Find(q.Options[q.Key].Species)
			if strings.HasPrefix(said, "its skull has a long bony ear tube") || key.Name == "Dipodomys ordii" && !strings.Contains(said, "bullae") {
				t.Errorf("%s: %s", roster, q.Reason)
			}
			for _, trait := range c.Traits {
				v := key.Values[trait.ID]
				if trait.Subject != "skull" || !v.Known() || !strings.HasPrefix(said, "its skull "+trait.Say(v)) {
					continue
				}
				claim, shared, strikes := catalogue.Claim{Trait: trait.ID, Op: "=", Value: v.Claimed()}, false, false
				for i, o := range q.Options {
					s, _ := c.Find(o.Species)
					holds := claim.Holds(s.Values[trait.ID])
					shared, strikes = shared || i != q.Key && holds == catalogue.True, strikes || holds == catalogue.False
				}
				if shared && !strikes && trait.Kind != catalogue.Range {
					t.Errorf("%s: it begins with what strikes out no option: %s", roster, q.Reason)
				}
			}
		}
	})
}

// How far a bulla swells tells no two weasels apart, nor bounding from hopping two mice.
func TestDegreesTellNobody(t *testing.T) {
	c := catalogue.Builtin()
	alike := map[string][]string{"bulla": {"moderate", "inflated"}, "gait": {"bound", "hop"}}
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			if q.About != nil || len(q.Test.All) != 1 || alike[q.Test.All[0].Trait] == nil {
				continue
			}
			claim := q.Test.All[0]
			for i, o := range q.Options {
				s, _ := c.Find(o.Species)
				said, shown := strings.TrimPrefix(claim.Value, "usually "), s.Values[claim.Trait].Typical().Text
				if i != q.Key && slices.Contains(alike[claim.Trait], said) && slices.Contains(alike[claim.Trait], shown) {
					t.Errorf("%s: %s %v", roster, q.Prompt, q.Options)
				}
			}
		}
	})
}

// What tells which animal it is stands beside the like, and not beside what tells that it
// swims or digs.
func TestWhatItTellsIsOfOneKind(t *testing.T) {
	kinds := []string{"It is a cat", "It is a dog or one of its kin", "It is a rodent"}
	asked := map[string]bool{}
	for seed := range uint64(3) {
		set, err := builtin(t, "everything").Set(questions.Wish{Count: 6, Seed: seed, Templates: []string{"what-it-tells"}, Subjects: []string{"track"}})
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range set {
			n := 0
			for _, o := range q.Options {
				if slices.Contains(kinds, o.Text) {
					n++
				}
			}
			if n > 0 && n < len(q.Options) {
				t.Errorf("%s %v", q.Prompt, q.Options)
			}
			asked[q.Options[q.Key].Text] = true
		}
	}
	for _, kind := range kinds {
		if !asked[kind] {
			t.Errorf("%q was never the answer", kind)
		}
	}
}

// Teeth are counted of animals of which it is taught: no shrew, bat, mole or ground squirrel,
// and of a cow no lower canines, which farmers count as incisors. No denial is of long claws.
func TestTeethAreOfThoseOfWhomItIsTaught(t *testing.T) {
	c := catalogue.Builtin()
	untaught := func(s catalogue.Species) bool {
		return s.Values["cheek_teeth"].Text == "insect-piercing" || s.Name == "Ictidomys tridecemlineatus"
	}
	numbers := strings.Fields("formula-to-animal animal-to-formula count-the-teeth largest smallest")
	check := func(roster string, paper []questions.Question) {
		for _, q := range paper {
			trait := q.Test.All[0].Trait
			if q.Template == "lacks-trait" && trait == "long_front_claws" {
				t.Errorf("%s: %s", roster, q.Prompt)
			}
			for _, o := range q.Options {
				if s, _ := c.Find(o.Species); slices.Contains(numbers, q.Template) && (trait == "dental_formula" || trait == "total_teeth") && untaught(s) {
					t.Errorf("%s: %s of the %s", roster, q.Prompt, s.Vernacular)
				}
				if q.About == nil || o.Test == nil {
					continue
				}
				s, _ := c.Find(q.About.Is)
				of := o.Test.All[0].Trait
				counted := of == "lower_canines" || of == "lower_incisors" && q.Template != "missing-teeth" // there are some, by either count
				if counted && s.Values["posture"].Text == "unguligrade" && s.Values["upper_incisors"].String() == "0" {
					t.Errorf("%s: %s %s", roster, q.Prompt, o.Text)
				}
			}
		}
	}
	papers(t, soak.Size(2, 8), check)
	for seed := range uint64(soak.Size(1, 3)) {
		check("teeth", asked(t, "everything", questions.Wish{Count: 30, Seed: seed, Subjects: []string{"skull"}, Templates: append(numbers, "missing-teeth")}))
	}
	check("claws", asked(t, "everything", questions.Wish{Count: 20, Seed: 1, Subjects: []string{"track"}, Templates: []string{"lacks-trait"}}))
}

// No term answers itself, nor has beside it what another entry could mean, too: who climbs
// has long claws. A browse line stands among marks on plants.
func TestTermsNeedKnowing(t *testing.T) {
	plain := []string{"a dark, moist and shiny surface", "a dull, cracked surface, dry all through", "webs between the toes", "dewclaws"}
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			key := q.Options[q.Key].Species
			if slices.Contains(plain, key) {
				t.Errorf("%s: %s answers itself", roster, q.Prompt)
			}
			for _, o := range q.Options {
				if key == "long front claws" && o.Species == "a hind toe set apart from the others, without a claw" || key == "browse line" && slices.Contains([]string{"spraint", "latrine", "midden"}, o.Species) {
					t.Errorf("%s: %s has the option %s", roster, q.Prompt, o.Text)
				}
			}
			if strings.Contains(q.Reason, "fits another animal") || strings.Contains(q.Reason, "fit other animals") {
				t.Errorf("%s: whom? %s", roster, q.Reason)
			}
		}
	})
}

// Two hares are no fillers beside a rodent's skull, nor a foot without any web beside the
// nutria's; no clue is of the key alone, and no formula of a small rat's.
func TestFillersCouldBeTheKey(t *testing.T) {
	c := catalogue.Builtin()
	value := func(name, trait string) string {
		s, _ := c.Find(name)
		return s.Values[trait].Typical().String()
	}
	untaught := []string{"Dipodomys ordii", "Neotoma cinerea", "Geomys bursarius", "Rattus norvegicus"}
	papers(t, soak.Size(2, 8), func(roster string, paper []questions.Question) {
		for _, q := range paper {
			key, hares := q.Options[q.Key].Species, 0
			for _, o := range q.Options {
				if value(o.Species, "order") == "Lagomorpha" {
					hares++
				}
				if q.Subject == "track" && q.About == nil && value(key, "hind_webbing") == "partial" && value(o.Species, "hind_webbing") == "none" {
					t.Errorf("%s: %s has no web: %s", roster, o.Text, q.Prompt)
				}
				if (q.Template == "formula-to-animal" || q.Template == "animal-to-formula") && slices.Contains(untaught, o.Species) {
					t.Errorf("%s: nobody is taught the formula of %s: %s", roster, o.Species, q.Prompt)
				}
			}
			if q.Subject == "skull" && q.About == nil && hares > 1 && value(key, "order") != "Lagomorpha" {
				t.Errorf("%s: two hares beside %s: %s", roster, key, q.Prompt)
			}
		}
	})
}

// Yes is the key about as often as no, where there are enough of both.
func TestYesAndNoTakeTurns(t *testing.T) {
	for _, template := range []string{"same-animal", "which-foot"} {
		same, all := 0, 0
		for seed := range uint64(soak.Size(6, 20)) {
			set, err := builtin(t, "everything").Set(questions.Wish{Count: 4, Seed: 300 + seed, Templates: []string{template}})
			if err != nil {
				t.Fatal(err)
			}
			for _, q := range set {
				if all++; template == "same-animal" && q.Plate.With == q.Plate.Species || template == "which-foot" && q.Test.All[1].Op == "=" {
					same++
				}
			}
		}
		if 3*same < all || 3*same > 2*all {
			t.Errorf("%s: %d of %d have feet, or animals, that are alike", template, same, all)
		}
	}
}

// The chipmunk's points of bone behind the orbits are small by one book and large by another.
// None is asked how large they are, and a reason says that they are there.
func TestChipmunkHasPointsOfNoSize(t *testing.T) {
	c := catalogue.Builtin()
	s, _ := c.Find("Tamias striatus")
	trait, _ := c.Trait("postorbital_size")
	v := s.Values[trait.ID]
	for _, size := range []string{"large", "slight"} {
		if claim := (catalogue.Claim{Trait: trait.ID, Op: "=", Value: size}); claim.Holds(v) != catalogue.Undecided {
			t.Errorf("that they are %s is settled", size)
		}
	}
	if claim := (catalogue.Claim{Trait: trait.ID, Op: "=", Value: "none"}); claim.Holds(v) != catalogue.False || trait.Say(v) != "has points of bone (postorbital processes) behind the orbits" || !v.Basis.Read() {
		t.Errorf("%s: %q by %v", v, trait.Say(v), v.Basis)
	}
}
