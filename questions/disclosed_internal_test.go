package questions

import (
	"slices"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
)

// Who listens strikes out few options: in papers of 20 questions hardly any wrong one
// falls by what questions before it disclosed.
func TestPapersSpendFewOptions(t *testing.T) {
	c, seeds := catalogue.Builtin(), uint64(soak.Size(5, 10))
	for name, most := range map[string]int{"everything": 1, "furbearers": 1, "waterside": 30, "woodland-edge": 10} {
		roster, err := c.Roster(name)
		if err != nil {
			t.Fatal(err)
		}
		bank := NewBank(c, roster)
		asked, some, all := 0, 0, 0
		for seed := range seeds {
			set, err := bank.Set(Wish{Count: 20, Seed: 700 + seed, Drawings: HalfDrawings})
			if err != nil {
				t.Fatal(err)
			}
			known := map[told]bool{}
			for _, q := range set {
				asked++
				switch n := q.spent(func(f told) bool { return known[f] }); {
				case n == len(q.Options)-1:
					all++
				case n > 0:
					some++
				}
				for _, f := range bank.discloses(q) {
					known[f] = true
				}
			}
		}
		t.Logf("%s: of %d questions %d had all wrong options spent, %d some", name, asked, all, some)
		if all+some > (most*int(seeds)+9)/10 {
			t.Errorf("%s: %d of %d", name, all+some, asked)
		}
	}
}

// Who was told that the cottontail has two upper incisors on each side knows of its pegs.
func TestTwoIncisorsTellThePegs(t *testing.T) {
	c := catalogue.Builtin()
	roster, err := c.Roster("woodland-edge")
	if err != nil {
		t.Fatal(err)
	}
	bank := NewBank(c, roster)
	pegs := bank.wider(told{"Sylvilagus floridanus", "peg_incisors"})
	if !slices.ContainsFunc(bank.wider(told{"Sylvilagus floridanus", "upper_incisors"}), func(f told) bool { return slices.Contains(pegs, f) }) {
		t.Errorf("only %v tells the pegs", pegs)
	}
}

// Who heard that three lobes suggest a cat strikes them out for a fox, and is not asked
// which animal has them.
func TestALessonDiscloses(t *testing.T) {
	c := catalogue.Builtin()
	roster, err := c.Roster("everything")
	if err != nil {
		t.Fatal(err)
	}
	bank := NewBank(c, roster)
	set, err := bank.Set(Wish{Count: 6, Seed: 1, Subjects: []string{"track"}, Templates: []string{whatItTells}})
	if err != nil {
		t.Fatal(err)
	}
	lobes := shows("pad_lobes_back", "yes")
	at := slices.IndexFunc(set, func(q Question) bool { return loreRelated[q.Options[q.Key].Species].shown == lobes })
	if at < 0 {
		t.Fatal("nobody is asked what suggests a cat")
	}
	known := bank.discloses(set[at])
	for _, claim := range []catalogue.Claim{lobes, shows("heel_pad", "three-lobed"), shows("heel_pad", "triangular")} {
		fox := Question{Test: Test{[]catalogue.Claim{shows("heel_pad", "chevron bar")}}, About: &About{Is: "Vulpes vulpes"}, Key: 1, Options: []Option{{Test: &Test{[]catalogue.Claim{claim}}}, {}}}
		if fox.spent(func(f told) bool { return slices.Contains(known, f) }) != 1 {
			t.Errorf("%v stands for a fox", claim)
		}
	}
	asked := Question{Template: "has-trait", Test: Test{[]catalogue.Claim{lobes}}, Options: []Option{{Species: "Lynx rufus"}}}
	if !slices.ContainsFunc(asked.puts(), func(f told) bool { return slices.Contains(set[at].puts(), f) }) {
		t.Error("who has three lobes is asked")
	}
}
