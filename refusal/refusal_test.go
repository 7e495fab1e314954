package refusal

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestACodeHasOneKind(t *testing.T) {
	if r := New(NotNow, "why"); r.Kind != Conflict || r.Error() != "why" {
		t.Errorf("%+v", r)
	}
	if r := New(BadPlan, "why"); r.Kind != Invalid {
		t.Errorf("%+v", r)
	}
}

func TestIs(t *testing.T) {
	err := fmt.Errorf("match 3: %w", New(Level, "level"))
	if !Is(err, Level) || Is(err, NotNow) || Is(errors.New("level"), Level) || Is(nil, Level) {
		t.Error("a refusal is not known by its code")
	}
}

func TestQuote(t *testing.T) {
	for text, want := range map[string]string{"otter": `"otter"`, "a\x00b\nc": `"abc"`, strings.Repeat("é", 41): `"` + strings.Repeat("é", 40) + `…"`, "\xff": `"` + string(utf8.RuneError) + `"`} {
		if got := Quote(text); got != want {
			t.Errorf("%q is quoted as %s, want %s", text, got, want)
		}
	}
}
