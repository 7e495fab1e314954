package estimate_test

import (
	"math"
	"testing"

	"fieldsign/questions/estimate"
)

// Examples that were worked elsewhere, and by hand where a page gives the rule and
// no figures.
func TestPublishedExamples(t *testing.T) {
	for _, e := range []struct {
		method string
		given  []float64
		want   float64
		source string
	}{
		{"petersen", []float64{100, 100, 10}, 1000, "rstudio-pubs 429479: trout in a lake, 1000"},
		{"chapman", []float64{100, 100, 10}, 926, "the same: 926"},
		{"petersen", []float64{50, 60, 10}, 300, "roboculator.com, mark-recapture, 300"},
		{"chapman", []float64{50, 60, 10}, 282, "the same table, 282; its text says 278"},
		{"strip", []float64{12, 40, .1}, 3000, "Penn State STAT 506, 13.2: L 100 m, 12 birds within 20 m; the rule's figure by hand, 0.003 a square metre"},
		{"pellets", []float64{130, 100, 10000}, 10, "by hand, from the rule of the National Park Service (Pictured Rocks) with 13 groups a day"},
		{"fawns", []float64{20, 50, 40}, 80, "by hand"},
		{"bucks", []float64{20, 50, 40}, 40, "by hand"},
	} {
		m, ok := estimate.By(e.method)
		if got := m.Of(e.given); !ok || math.Round(got) != e.want {
			t.Errorf("%s of %v is %v, want %v: %s", e.method, e.given, got, e.want, e.source)
		}
	}
}

func TestClaims(t *testing.T) {
	m, given, number, ok := estimate.ReadClaim(estimate.Claim("chapman", []float64{100, 100, 10}, 926))
	if right, _ := m.Is(given, number); !ok || !right {
		t.Errorf("%v %v %v %v", m.Name, given, number, ok)
	}
	if right, wrong := m.Is(given, 930); right || wrong {
		t.Error("930 is neither the estimate nor far from it")
	}
	if _, wrong := m.Is(given, 1000); !wrong {
		t.Error("1000 is far from it")
	}
	for _, bad := range []string{"", "chapman", "chapman of 1 2 3", "guess of 1 2 3 = 4", "chapman of x 2 3 = 4", "chapman of 0 2 3 = 4", "chapman of 1 2 3 = x"} {
		if _, _, _, ok := estimate.ReadClaim(bad); ok {
			t.Errorf("%q was read", bad)
		}
	}
	if m, _ := estimate.By("petersen"); !math.IsNaN(m.Of([]float64{1, 2})) {
		t.Error("two numbers gave an estimate")
	}
}
