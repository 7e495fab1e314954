package paper

import (
	"io"
	"testing"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/guide"
)

func madeGuide(t testing.TB, name string, l catalogue.Language) *guide.Guide {
	t.Helper()
	c, err := catalogue.Builtin().In(l)
	if err != nil {
		t.Fatal(err)
	}
	roster, err := c.Roster(name)
	if err != nil {
		t.Fatal(err)
	}
	g, err := guide.New(c, roster, 1)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func BenchmarkGuide(b *testing.B) {
	g := madeGuide(b, "furbearers", catalogue.English)
	for b.Loop() {
		if _, err := WriteGuide(io.Discard, "a4", "all", g); err != nil {
			b.Fatal(err)
		}
	}
}
