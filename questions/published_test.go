package questions_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// The dental formulas and what is computed from them agree with published
// tables and keys. Each row of the sheet names its source; "published" is a
// university handout, an agency's key or a reference work, "secondary" a page
// or table that relays one. Where a published table is wrong, or counts
// otherwise, the column differs says why, and the catalogue must not follow.
func TestDentalFormulasAsPublished(t *testing.T) {
	c := catalogue.Builtin()
	agree := map[string]int{}
	for _, r := range publishedRows(t) {
		species, trait, value, source, kind, differs := r[0], r[1], r[2], r[3], r[4], r[5]
		s, ok := c.Find(species)
		if !ok || source == "" || kind != "published" && kind != "secondary" {
			t.Errorf("the row %v names no species of the catalogue, or no source", r)
			continue
		}
		got := s.Values[trait].String()
		switch {
		case differs == "" && got != value:
			t.Errorf("%s, %s: the catalogue has %s, but %s has %s", species, trait, got, source, value)
		case differs != "" && got == value:
			t.Errorf("%s, %s: the catalogue follows %s, which is not right: %s", species, trait, source, differs)
		case differs == "":
			agree[kind]++
		}
	}
	t.Logf("values that agree, by kind of source: %v", agree)
}

func publishedRows(t *testing.T) [][]string {
	t.Helper()
	f, err := os.Open("../testdata/dental_published.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 || strings.Join(rows[0], " ") != "species trait value source kind differs" {
		t.Fatalf("the sheet can't be used: %v", err)
	}
	return rows[1:]
}

// The total is twice the sum of a formula's eight numbers, added up here from
// its text alone; a formula of which a place varies leaves no computed total.
func TestTotalsFollowFromFormulas(t *testing.T) {
	added := 0
	for _, s := range catalogue.Builtin().Species {
		formula, total := s.Values["dental_formula"], s.Values["total_teeth"]
		if !formula.Known() {
			continue
		}
		sum := 0
		for _, place := range strings.FieldsFunc(formula.Text, func(r rune) bool { return r < '0' || r > '9' }) {
			n, _ := strconv.Atoi(place)
			sum += 2 * n
		}
		added++
		if total.String() != strconv.Itoa(sum) {
			t.Errorf("%s: %s makes %d teeth, the catalogue has %s", s.Name, formula.Text, sum, total)
		}
	}
	if added < 40 {
		t.Errorf("only %d formulas are known", added)
	}
}
