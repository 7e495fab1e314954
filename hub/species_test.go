package hub_test

import (
	"encoding/json"
	"testing"

	"fieldsign/questions/catalogue"
)

// The names come once, for every species of the catalogue, and in the practice
// file too, which may be opened without a hub.
func TestNamesInSpanish(t *testing.T) {
	p := openHub(t)
	answer, body := p.fetch("/names.json")
	var names map[string]map[string]string
	if err := json.Unmarshal(body, &names); err != nil || answer.StatusCode != 200 {
		t.Fatalf("%s: %s, %v", answer.Status, body, err)
	}
	_, body = p.fetch("/practice.json")
	var exercise struct{ Translations map[string]map[string]string }
	if err := json.Unmarshal(body, &exercise); err != nil {
		t.Fatal(err)
	}
	for _, s := range catalogue.Builtin().Species {
		for where, got := range map[string]map[string]map[string]string{"/names.json": names, "/practice.json": exercise.Translations} {
			if got["es"][s.Vernacular] != s.Spanish {
				t.Errorf("%s calls the %s %q, want %q", where, s.Vernacular, got["es"][s.Vernacular], s.Spanish)
			}
		}
	}
}
