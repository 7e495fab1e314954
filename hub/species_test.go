package hub_test

import (
	"encoding/json"
	"testing"

	"fieldsign/questions/catalogue"
)

// The names come once, for every species of the catalogue.
func TestNamesInSpanish(t *testing.T) {
	t.Parallel()
	answer, body := begin(t).fetch("/names.json")
	var names map[string]map[string]string
	if err := json.Unmarshal(body, &names); err != nil || answer.StatusCode != 200 {
		t.Fatalf("%s: %s, %v", answer.Status, body, err)
	}
	for _, s := range catalogue.Builtin().Species {
		if got := names["es"][s.Vernacular]; got != s.Spanish || got == "" {
			t.Errorf("the %s is called %q, want %q", s.Vernacular, got, s.Spanish)
		}
	}
}
