package questions

import (
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// TestShorter: what is shortened is said of some trait, and gets shorter by it.
func TestShorter(t *testing.T) {
	for language, list := range shorter {
		c, err := catalogue.Builtin().In(language)
		if err != nil {
			t.Fatal(err)
		}
		var said strings.Builder
		for _, trait := range c.Traits {
			said.WriteString(inBrackets.ReplaceAllString(trait.Wording.Says+"|"+trait.Wording.Denies+"|"+trait.Wording.Values, "") + "\n")
		}
		for i := 0; i < len(list); i += 2 {
			long, short := list[i], list[i+1]
			if !strings.Contains(said.String(), long) {
				t.Errorf("%s: no trait says %q", language, long)
			}
			if len(short) >= len(long) {
				t.Errorf("%s: %q is no shorter than %q", language, short, long)
			}
		}
	}
}
