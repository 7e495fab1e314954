package exchange_test

import (
	"archive/zip"
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/exchange"
)

var update = flag.Bool("update", false, "write the golden files anew")

// small is a catalogue that holds every kind of value, and a roster of it that
// does not change with the sheets.
func small() (*catalogue.Catalogue, catalogue.Roster) {
	known := func(text string) catalogue.Value { return catalogue.Value{Status: catalogue.Known, Text: text} }
	count := func(n float64) catalogue.Value { return catalogue.Value{Status: catalogue.Known, Lo: n, Hi: n} }
	traits := []catalogue.Trait{
		{ID: "class", Subject: "animal", Label: "class", Kind: catalogue.State},
		{ID: "order", Subject: "animal", Label: "order", Kind: catalogue.State},
		{ID: "teeth", Subject: "skull", Label: "number of teeth", Kind: catalogue.Count},
		{ID: "gap", Subject: "skull", Label: "gap [wide]", Kind: catalogue.YesNo},
		{ID: "ring", Subject: "skull", Label: "the orbit's ring", Kind: catalogue.State, Allowed: []string{"whole", "open behind"}},
		{ID: "length", Subject: "skull", Label: "length", Kind: catalogue.Range, Unit: "mm"},
		{ID: "marks", Subject: "skull", Label: "marks", Kind: catalogue.Set, Allowed: []string{"holes", "peg teeth"}},
	}
	species := []catalogue.Species{
		{Name: "Lepus americanus", Vernacular: "snowshoe hare", Spanish: "liebre americana", OtherNames: []string{"varying hare"},
			Subjects: []string{"animal", "skull"}, Values: map[string]catalogue.Value{
				"class": known("mammal"), "order": known("Lagomorpha"), "teeth": count(28), "gap": known("yes"), "ring": known("open behind"),
				"length": {Status: catalogue.Known, Lo: 70, Hi: 85}, "marks": {Status: catalogue.Known, Members: []string{"holes", "peg teeth"}}}},
		{Name: "Puma concolor coryi", Vernacular: "=puma, \"tawny\"", Subjects: []string{"animal", "skull"}, Values: map[string]catalogue.Value{
			"class": known("newt"), "order": {Status: catalogue.Variable}, "teeth": count(30), "gap": {Status: catalogue.Variable},
			"ring": {Status: catalogue.Variable}, "marks": {Status: catalogue.Known, Members: []string{}, Maybe: []string{"holes"}}}},
		{Name: "Sorex v-album", Vernacular: "v-shrew", Spanish: "musaraña", Subjects: []string{"animal", "skull"}, Values: map[string]catalogue.Value{
			"teeth": count(9), "gap": {Status: catalogue.NotApplicable}, "marks": {Status: catalogue.Variable}}},
	}
	c := catalogue.New(traits, species, nil)
	r := c.Everything()
	r.Name = "small [test]"
	return c, r
}

func smallSet() []questions.Question {
	return []questions.Question{
		{ID: "q1-x", Prompt: "Which has < 30 teeth & a gap?", Reason: "The hare has “28”.", Key: 1,
			Options: []questions.Option{{Species: "Puma concolor coryi", Text: "puma"}, {Species: "Lepus americanus", Text: "snowshoe hare"}}},
		{ID: "q2-x", Prompt: "Name this animal.", Reason: "Only it has 9 teeth.", Key: 0, Typed: true,
			Options: []questions.Option{{Species: "Sorex v-album", Text: "v-shrew"}, {Species: "Lepus americanus", Text: "snowshoe hare"}}},
	}
}

// unzipped is an archive's files by name.
func unzipped(t *testing.T, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if day := f.ModifiedDate; day>>5&15 == 0 || day&31 == 0 {
			t.Errorf("%s is of a date that there is not: month %d, day %d", f.Name, day>>5&15, day&31)
		}
		if files[f.Name] != "" {
			t.Errorf("%s is in the archive twice", f.Name)
		}
		files[f.Name] = string(text)
	}
	return files
}

func written(t *testing.T, write func(io.Writer) error) []byte {
	t.Helper()
	var first, second bytes.Buffer
	if err := write(&first); err != nil {
		t.Fatal(err)
	}
	if err := write(&second); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("the same input gives other bytes the second time")
	}
	return first.Bytes()
}

func TestGolden(t *testing.T) {
	c, r := small()
	files := map[string]string{
		"matrix.nex": string(written(t, func(w io.Writer) error { return exchange.NEXUS(w, c, r, "skull") })),
	}
	for name, text := range unzipped(t, written(t, func(w io.Writer) error { return exchange.DarwinCore(w, c, r, "animal") })) {
		files["dwc-"+name] = text
	}
	for name, text := range unzipped(t, written(t, func(w io.Writer) error { return exchange.QTI(w, c, r, smallSet()) })) {
		files["qti-"+strings.ReplaceAll(name, "/", "-")] = text
	}
	for name, text := range files {
		path := filepath.Join("testdata", name)
		if *update {
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if text != string(want) {
			t.Errorf("%s is written otherwise now; look at both, then run the tests with -update\n%s", name, text)
		}
	}
}

func TestBadInput(t *testing.T) {
	c, r := small()
	foreign := catalogue.Roster{Name: "zoo", Entries: []catalogue.Entry{{Species: "Panthera leo", Subjects: []string{"skull"}}}}
	outside, unplated := smallSet()[:1], smallSet()[:1]
	outside[0].Key = 2
	unplated[0].Plate = &questions.PlateRef{Species: "Lepus americanus", View: "scat"} // of which the small catalogue knows nothing
	for want, write := range map[string]func(io.Writer) error{
		"which the catalogue lacks":  func(w io.Writer) error { return exchange.NEXUS(w, c, foreign, "skull") },
		"no species for track":       func(w io.Writer) error { return exchange.NEXUS(w, c, r, "track") },
		"names \"Panthera leo\"":     func(w io.Writer) error { return exchange.DarwinCore(w, c, foreign, "animal") },
		"no species for scat":        func(w io.Writer) error { return exchange.DarwinCore(w, c, r, "scat") },
		"no questions":               func(w io.Writer) error { return exchange.QTI(w, c, r, nil) },
		"key is 2 of 2 options":      func(w io.Writer) error { return exchange.QTI(w, c, r, outside) },
		"can't draw the scat":        func(w io.Writer) error { return exchange.QTI(w, c, r, unplated) },
		"has 37 states in roster":    func(w io.Writer) error { c, r := manyStates(37); return exchange.NEXUS(w, c, r, "skull") },
		"nothing is known of the sk": func(w io.Writer) error { c, r := manyStates(0); return exchange.NEXUS(w, c, r, "skull") },
	} {
		var b bytes.Buffer
		if err := write(&b); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want it to say %q", err, want)
		}
		if b.Len() > 0 {
			t.Errorf("%q: %d bytes were written all the same", want, b.Len())
		}
	}
}

// manyStates is a catalogue with so many species, each with another count.
func manyStates(n int) (*catalogue.Catalogue, catalogue.Roster) {
	species := []catalogue.Species{{Name: "Aa a", Subjects: []string{"animal", "skull"}, Values: map[string]catalogue.Value{}}}
	for i := range n {
		species = append(species, catalogue.Species{Name: "Aa " + strings.Repeat("b", i+1), Subjects: []string{"animal", "skull"},
			Values: map[string]catalogue.Value{"teeth": {Status: catalogue.Known, Lo: float64(i), Hi: float64(i)}}})
	}
	c := catalogue.New([]catalogue.Trait{{ID: "teeth", Subject: "skull", Label: "teeth", Kind: catalogue.Count}}, species, nil)
	return c, c.Everything()
}
