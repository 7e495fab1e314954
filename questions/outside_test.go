package questions_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"slices"
	"strconv"
	"testing"

	"fieldsign/questions/catalogue"
)

// outside reads a sheet of testdata that was not made from the catalogue.
func outside(t *testing.T, file string, columns ...string) [][]string {
	t.Helper()
	f, err := os.Open("../testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 || !slices.Equal(rows[0], columns) {
		t.Fatalf("%s can't be used: %v", file, err)
	}
	return rows[1:]
}

// Single scats whose animal was proved by DNA (Reid 2015, Wildlife Biology
// 21:254-262, as carried in modeldata, scat.RData): each lies in our ranges,
// and these are at most two and a half times as wide as what was
// measured: they are of whole droppings too.
func TestScatsProvedByDNA(t *testing.T) {
	c := catalogue.Builtin()
	measured := map[[2]string][]float64{}
	for _, r := range outside(t, "scat_reid_2015.csv", "species", "length_cm", "diameter_mm") {
		for i, trait := range []string{"scat_length", "scat_diameter"} {
			if r[i+1] == "" {
				continue
			}
			x, err := strconv.ParseFloat(r[i+1], 64)
			if err != nil {
				t.Fatal(err)
			}
			x /= []float64{1, 10}[i] // both in cm
			measured[[2]string{r[0], trait}] = append(measured[[2]string{r[0], trait}], x)
		}
	}
	if len(measured) != 6 {
		t.Fatalf("measures of three animals: %d kinds, want 6", len(measured))
	}
	for at, list := range measured {
		s, _ := c.Find(at[0])
		v, lo, hi := s.Values[at[1]], slices.Min(list), slices.Max(list)
		if !v.Known() || v.Lo > lo || v.Hi < hi {
			t.Errorf("%s, %s: the catalogue has %s cm, and %d scats go from %g to %g", at[0], at[1], v, len(list), lo, hi)
		}
		if v.Hi-v.Lo > 2.5*(hi-lo) {
			t.Errorf("%s, %s: %s cm is much wider than %g to %g", at[0], at[1], v, lo, hi)
		}
	}
}

// differs are the differences from the two datasets that stand, each for a reason.
var differs = map[[3]string]string{
	{"Blarina brevicauda", "guild", "EltonTraits"}:         "its main food is invertebrates in every account; the dataset splits the rest evenly between voles and plants",
	{"Blarina brevicauda", "guild", "PHYLACINE"}:           "its main food is invertebrates in every account; the dataset splits the rest evenly between voles and plants",
	{"Didelphis virginiana", "guild", "EltonTraits"}:       "the dataset counts carrion as prey; a fifth of its food is plants and a fifth invertebrates in it, too",
	{"Didelphis virginiana", "guild", "PHYLACINE"}:         "the dataset counts carrion as prey; a fifth of its food is plants and a fifth invertebrates in it, too",
	{"Ictidomys tridecemlineatus", "guild", "EltonTraits"}: "a fifth of its food is insects in it, too, and Nelson (1918) names mice and young birds; MammalDIET calls it an omnivore",
	{"Ictidomys tridecemlineatus", "guild", "PHYLACINE"}:   "a fifth of its food is insects in it, too, and Nelson (1918) names mice and young birds; MammalDIET calls it an omnivore",
	{"Larus delawarensis", "guild", "EltonTraits"}:         "the dataset lumps fish and carrion; invertebrates are a third of its food in it, too, and grain a tenth",
	{"Lontra canadensis", "guild", "PHYLACINE"}:            "the dataset counts crayfish as invertebrates beside fish; an eater of both, and of no plants, is taught as a carnivore",
	{"Mus musculus", "guild", "EltonTraits"}:               "a fifth of its food is insects in it, too; MammalDIET calls it an omnivore",
	{"Mus musculus", "guild", "PHYLACINE"}:                 "a fifth of its food is insects in it, too; MammalDIET calls it an omnivore",
	{"Sus scrofa", "guild", "PHYLACINE"}:                   "roots and mast by bulk; EltonTraits gives a third to animals and carrion",
	{"Ursus americanus", "guild", "EltonTraits"}:           "a bear that also kills, and eats carrion, ants and fish, is taught as an omnivore, whatever the share of plants",
	{"Ursus americanus", "guild", "PHYLACINE"}:             "a bear that also kills, and eats carrion, ants and fish, is taught as an omnivore, whatever the share of plants",
	{"Ursus arctos", "guild", "EltonTraits"}:               "a bear that also kills, and eats carrion, ants and fish, is taught as an omnivore, whatever the share of plants",
	{"Ursus arctos", "guild", "PHYLACINE"}:                 "a bear that also kills, and eats carrion, ants and fish, is taught as an omnivore, whatever the share of plants",
}

// The feeding guild by the shares of plants, vertebrates and invertebrates in
// EltonTraits and PHYLACINE: plants from 80 % on make a herbivore; vertebrates,
// or invertebrates, from 60 % on with plants to 20 % a carnivore, or an
// insectivore; all else is an omnivore. Active time is compared where
// EltonTraits has one time alone. What varies in the catalogue agrees with
// anything.
func TestGuildAndActiveTimeAgainstDatasets(t *testing.T) {
	c := catalogue.Builtin()
	used := map[[3]string]bool{}
	agreed := 0
	for _, r := range outside(t, "guild_activity.csv", "species", "dataset", "plants", "vertebrates", "invertebrates", "active") {
		s, ok := c.Find(r[0])
		if !ok {
			t.Errorf("no species %q", r[0])
			continue
		}
		for trait, theirs := range map[string]string{"guild": guildOf(t, r), "activity": r[5]} {
			v := s.Values[trait]
			if theirs == "" || !v.Known() {
				continue
			}
			at := [3]string{r[0], trait, r[1]}
			switch why, stands := differs[at]; {
			case v.Text == theirs && stands:
				t.Errorf("%v agrees now: take it out of the table", at)
			case v.Text == theirs:
				agreed++
			case !stands:
				t.Errorf("%v: the catalogue has %s, the dataset %s", at, v, theirs)
			case why == "":
				t.Errorf("%v stands without a reason", at)
			}
			used[at] = true
		}
	}
	for at := range differs {
		if !used[at] {
			t.Errorf("%v is in the table, and not compared", at)
		}
	}
	t.Logf("%d agree, %d differ for a reason", agreed, len(differs))
	if agreed < 130 {
		t.Errorf("only %d values were compared and agree", agreed)
	}
}

func guildOf(t *testing.T, r []string) string {
	var shares [3]float64
	for i := range shares {
		if _, err := fmt.Sscan(r[i+2], &shares[i]); err != nil {
			t.Fatalf("%v: %v", r, err)
		}
	}
	plants, vertebrates, invertebrates := shares[0], shares[1], shares[2]
	switch {
	case plants >= 80:
		return "herbivore"
	case vertebrates >= 60 && plants <= 20:
		return "carnivore"
	case invertebrates >= 60 && plants <= 20:
		return "insectivore"
	}
	return "omnivore"
}
