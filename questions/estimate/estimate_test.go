package estimate_test

import (
	"math"
	"testing"

	"fieldsign/questions/estimate"
)

// Examples that were worked elsewhere: whole numbers as they were rounded there,
// others to all the digits that are printed. By hand only where a page gives the
// rule and no figures.
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
		{"strip", []float64{374, 2 * 65.69518, 36}, 79.06888, "Rdistance (R), its own tests, dfuncVal_Halfnorm.md: 374 sparrows on 36000 m, effective strip 65.69518 m: 7.906888e-05 a square metre"},
		{"strip", []float64{371, 2 * 62.34318, 36}, 82.65183, "the same: 371, 62.34318 m: 8.265183e-05"},
		{"strip", []float64{374, 2 * 40.71316, 36}, 127.5864, "the same, dfuncVal_Negexp.md: 374, 40.71316 m: 0.0001275864"},
		{"pellets", []float64{130, 100, 10000}, 10, "by hand, from the rule of the National Park Service (Pictured Rocks) with 13 groups a day"},
		{"fawns", []float64{340, 1422, 1334}, 94, "Huh/PopR_SDGFP, issue 107, a herd composition of deer, region 1: 94 and 24"},
		{"bucks", []float64{340, 1422, 1334}, 24, "the same"},
		{"fawns", []float64{273, 1050, 849}, 81, "region 2 there: 81 and 26"},
		{"bucks", []float64{273, 1050, 849}, 26, "the same"},
		{"fawns", []float64{532, 1375, 1485}, 108, "region 3: 108 and 39"},
		{"bucks", []float64{532, 1375, 1485}, 39, "the same"},
		{"fawns", []float64{700, 2375, 2156}, 91, "region 4: 91 and 29"},
		{"bucks", []float64{700, 2375, 2156}, 29, "the same"},
	} {
		m, ok := estimate.By(e.method)
		got := m.Of(e.given)
		if e.want == math.Trunc(e.want) {
			got = math.Round(got)
		}
		if !ok || math.Abs(got-e.want) > 1e-6*e.want {
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
