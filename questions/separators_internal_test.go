package questions

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// coachedPair is a row of the sheet of pairs that coaches teach together: the
// traits that tell the two apart by a subject, or why nature has none.
type coachedPair struct {
	a, b            catalogue.Species
	subject         string
	traits          []string
	reason, sources string
}

const natureDoesNot = "nature does not"

func (p coachedPair) alike() bool { return slices.Equal(p.traits, []string{natureDoesNot}) }

func coachedPairs(t *testing.T, c *catalogue.Catalogue) []coachedPair {
	t.Helper()
	f, err := os.Open("../testdata/pairs.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 || strings.Join(rows[0], " ") != "animal_a animal_b subject traits reason source" {
		t.Fatalf("the sheet can't be used: %v", err)
	}
	var out []coachedPair
	for _, r := range rows[1:] {
		p := coachedPair{a: called(t, c, r[0]), b: called(t, c, r[1]), subject: r[2], traits: strings.Split(r[3], ";"), reason: r[4], sources: r[5]}
		if !p.a.Has(p.subject) || !p.b.Has(p.subject) || p.a.Name == p.b.Name {
			t.Errorf("the row %v compares what the catalogue does not have", r)
		}
		out = append(out, p)
	}
	return out
}

func called(t *testing.T, c *catalogue.Catalogue, vernacular string) catalogue.Species {
	t.Helper()
	at := slices.IndexFunc(c.Species, func(s catalogue.Species) bool { return s.Vernacular == vernacular })
	if at < 0 {
		t.Fatalf("no animal is called %q", vernacular)
	}
	return c.Species[at]
}

// Each pair that coaches teach together is told apart by the traits that the
// sheet names, every one of them. Where nature does not separate a pair, the
// catalogue claims no difference without doubt either.
func TestPairsAreSeparated(t *testing.T) {
	c := catalogue.Builtin()
	kinds, apartBy := map[[2]string]bool{}, 0
	for _, p := range coachedPairs(t, c) {
		kinds[[2]string{p.a.Name, p.b.Name}] = true
		if (p.reason == "") == p.alike() || p.sources == "" {
			t.Errorf("%s and %s: a pair that nature does not separate has a reason, another has none, and both have a source", p.a.Vernacular, p.b.Vernacular)
		}
		for source := range strings.SplitSeq(p.sources, ";") {
			if !slices.ContainsFunc(c.Sources, func(s catalogue.Source) bool { return s.ID == source }) {
				t.Errorf("%s and %s: %q is no source of the catalogue", p.a.Vernacular, p.b.Vernacular, source)
			}
		}
		if p.alike() {
			p.claimsNothing(t, c)
			continue
		}
		p.isSeparated(t, c)
		apartBy++
	}
	if len(kinds) < 45 {
		t.Errorf("only %d pairs", len(kinds))
	}
	t.Logf("%d pairs, %d rows with separators", len(kinds), apartBy)
}

// claimsNothing: no trait of the subject puts the two apart for certain.
func (p coachedPair) claimsNothing(t *testing.T, c *catalogue.Catalogue) {
	for _, trait := range c.Traits {
		if trait.Subject == p.subject && apart(trait, p.a.Values[trait.ID], p.b.Values[trait.ID]) {
			t.Errorf("%s and %s: nature does not separate them by %s, but the catalogue does by %s", p.a.Vernacular, p.b.Vernacular, p.subject, trait.ID)
		}
	}
}

func (p coachedPair) isSeparated(t *testing.T, c *catalogue.Catalogue) {
	for _, id := range p.traits {
		trait, ok := c.Trait(id)
		a, b := p.a.Values[id], p.b.Values[id]
		if !ok || trait.Subject != p.subject || !separated(trait, a, b) {
			t.Errorf("%s (%v) and %s (%v) are not separated by %s of the %s", p.a.Vernacular, a, p.b.Vernacular, b, id, p.subject)
		}
	}
}

// The key to the furbearers' skulls names a single species at each end, but
// for pairs that nature does not separate.
func TestFurbearersKeyOutBySkull(t *testing.T) {
	c := catalogue.Builtin()
	roster, err := c.Roster("furbearers")
	if err != nil {
		t.Fatal(err)
	}
	key, err := NewFieldKey(c, roster, "skull")
	if err != nil {
		t.Fatal(err)
	}
	alike := map[[2]string]bool{}
	for _, p := range coachedPairs(t, c) {
		if p.subject == "skull" && p.alike() {
			alike[[2]string{p.a.Name, p.b.Name}], alike[[2]string{p.b.Name, p.a.Name}] = true, true
		}
	}
	for _, couplet := range key.Couplets {
		for _, lead := range couplet.Leads {
			if n := len(lead.End); n > 2 || n == 2 && !alike[[2]string{lead.End[0].Name, lead.End[1].Name}] {
				t.Errorf("%s: ends in %d species, the first %s", lead.Text, n, lead.End[0].Vernacular)
			}
		}
	}
}
