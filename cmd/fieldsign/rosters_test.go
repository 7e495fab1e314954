package main

import (
	"context"
	"io"
	"strings"
	"testing"
)

// What the commands on rosters print, on the built-in catalogue.
func TestRosterCommands(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		args string
		want []string
	}{
		{"key --roster furbearers --subject skull", []string{"Key to roster furbearers by skull: 16 species", "\n1a  Skull ", "\n1b  Skull ", " 2\n", "Raccoon\n"}},
		{"key --roster waterside --subject track", []string{"by track: 15 species", "\n1a  Track "}},
		{"lookalikes lynx rufus --subject track --count 2", []string{"Look-alikes of bobcat (Lynx rufus) by track", "\n1. ", "\n2. ", "% alike"}},
		{"lookalikes --count 1 the Racoon", []string{"Look-alikes of raccoon (Procyon lotor) by skull"}},
		{"catalogue check --roster furbearers", []string{"The catalogue is sound", "skull.csv: 16 species", "of 120 pairs are told apart by no trait", "recalled, with no source but memory\n"}},
		{"catalogue check --roster furbearers --verbose", []string{"recalled, with no source but memory:\n    "}},
	} {
		got := printed(t, strings.Fields(c.args)...).String()
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("fieldsign %s prints no %q:\n%.600s", c.args, w, got)
			}
		}
	}
}

func TestRosterCommandsSayWhatIsWrong(t *testing.T) {
	t.Parallel()
	for args, want := range map[string]string{
		"key --subject feather":              "feather",
		"key --roster nowhere":               "nowhere",
		"lookalikes":                         "Give its name",
		"lookalikes gryphon":                 `"gryphon"`,
		"lookalikes mallard --subject skull": "not in play with its skull",
		"catalogue check --roster nowhere":   "nowhere",
		"catalogue check --catalogue /none":  "traits.csv",
	} {
		if err := run(context.Background(), strings.Fields(args), io.Discard); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("fieldsign %s: %v, want %q in it", args, err, want)
		}
	}
}
