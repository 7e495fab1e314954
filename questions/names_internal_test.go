package questions

import (
	"testing"

	"pgregory.net/rapid"
)

// Worked distances: Levenshtein and optimal string alignment give 3 for
// CA → ABC, full Damerau-Levenshtein gives 2.
func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"CA", "ABC", 2}, {"kitten", "sitting", 3}, {"saturday", "sunday", 3}, {"a cat", "an abct", 3},
		{"badger", "bagder", 1}, {"lynx", "lnyx", 1}, {"", "abc", 3}, {"", "", 0}, {"tejón", "tejon", 1},
	} {
		if got := editDistance([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("%q to %q is %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// It is a metric: nought only for the same, mutual, and no detour is shorter.
func TestEditDistanceIsAMetric(t *testing.T) {
	word := rapid.SliceOfN(rapid.SampledFrom([]rune("abcé")), 0, 7)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		ab := editDistance(a, b)
		if (ab == 0) != (string(a) == string(b)) || ab != editDistance(b, a) || ab > max(len(a), len(b)) {
			t.Fatalf("%q to %q is %d, back %d", string(a), string(b), ab, editDistance(b, a))
		}
		if detour := editDistance(a, c) + editDistance(c, b); ab > detour {
			t.Fatalf("%q to %q is %d, yet %d by way of %q", string(a), string(b), ab, detour, string(c))
		}
	})
}

func TestFold(t *testing.T) {
	for typed, want := range map[string]string{
		"The White-tailed  Deer": "whitetaileddeer", "Ánade real": "anadereal", "ánade real": "anadereal",
		"Ord's kangaroo rat": "ordskangaroorat", "Ord’s kangaroo–rat": "ordskangaroorat", "la": "la", "el tejón": "tejon", " - ": "", "ñandú": "nandu",
	} {
		if got := string(fold(typed)); got != want {
			t.Errorf("%q folds to %q, want %q", typed, got, want)
		}
	}
}
