package debrief_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fieldsign/game/debrief"
)

// near compares to the digits given: half a unit in the last place.
func near(t *testing.T, what string, got debrief.Figure, want float64, digits int) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= 0.5000001*math.Pow10(-digits)) {
		t.Errorf("%s is %.*f, want %.*f", what, digits+2, float64(got), digits, want)
	}
}

// The ten students and ten questions of the worked example at
// core.ecu.edu/wuenschk/StatHelp/KR20.txt. It gives totals, p, pq and the
// variance 5.84 and stops before the coefficient; the figures below marked
// "computed" were made from the same table by another program.
var kr20Page = []string{"1111110110", "1011011101", "1111011001", "0010001000", "0000010010",
	"1110111111", "1101110111", "1111111101", "0101111101", "1101101110"}

func TestKR20Page(t *testing.T) {
	r := sat(t, kr20Page)
	for i, p := range []float64{.7, .7, .6, .7, .6, .8, .7, .7, .5, .6} {
		near(t, "p of "+r.Questions[i].ID, r.Questions[i].Share.P, p, 9)
	}
	for i, total := range []int{8, 7, 7, 2, 2, 9, 8, 9, 7, 7} {
		if got := r.Teams[i].Share.Right; got != total {
			t.Errorf("team %d has %d right, want %d", i+1, got, total)
		}
	}
	near(t, "mean", r.Test.Mean, 6.6, 9)
	near(t, "variance", r.Test.SD*r.Test.SD, 5.84, 9)
	near(t, "KR-20 (computed)", r.Test.KR20, 0.696347, 6)
	near(t, "KR-21 (computed)", r.Test.KR21, 0.684170, 6)
	near(t, "SEM", r.Test.SEM, math.Sqrt(5.84*(1-0.6963470319634704)), 9)
	if !r.Test.Small || !strings.Contains(r.Test.Caution, "10 teams and 10 questions") {
		t.Errorf("ten teams are few: %+v", r.Test)
	}
}

// Item with total and item with rest, computed from the same table by another program.
func TestItemsOfKR20Page(t *testing.T) {
	r := sat(t, kr20Page)
	total := []float64{.7946, .7946, .2027, .6140, .7095, .4345, .1625, .7946, .0828, .6251}
	rest := []float64{.7059, .7059, .0000, .4736, .5839, .2861, -.0274, .7059, -.1236, .4759}
	for i, it := range r.Questions {
		near(t, "item-total of "+it.ID, it.PointBiserial, total[i], 4)
		near(t, "item-rest of "+it.ID, it.Corrected, rest[i], 4)
		if flagged := slices.Contains(it.Flags, debrief.Negative); flagged != (i == 6 || i == 8) {
			t.Errorf("%s: flags %v", it.ID, it.Flags)
		}
	}
}

// Proportions from Newcombe 1998, Statistics in Medicine 17:857-872, method 3:
// 81/263, 15/148, 0/20 and 1/29. The paper was not at hand: the limits were
// computed by another program from the formula. 23/60 is the example of a
// calculator page (vassarstats, prop1); 4/10, 0/10 and 10/10 are our own.
func TestWilson(t *testing.T) {
	for _, tc := range []struct {
		right, of int
		low, high float64
	}{
		{81, 263, .2553, .3662}, {15, 148, .0624, .1605}, {0, 20, .0000, .1611}, {1, 29, .0061, .1718},
		{23, 60, .2709, .5098}, {4, 10, .1682, .6873}, {0, 10, 0, .2775}, {10, 10, .7225, 1},
	} {
		s := debrief.ShareOf(tc.right, tc.of)
		near(t, "low", s.Low, tc.low, 4)
		near(t, "high", s.High, tc.high, 4)
	}
	if s := debrief.ShareOf(0, 0); s.P.Defined() || s.Low.Defined() || s.High.Defined() {
		t.Errorf("a share of nothing is undefined, not %v", s)
	}
}

// The example of D at askfilo: of 27 in each group 22 and 11 are right, D is
// 0.4074. A hundred teams that make it: the first question is the one asked
// about, the others make upper, middle and lower group.
func TestD(t *testing.T) {
	var marks []string
	group := func(teams, right int, rest string) {
		for i := range teams {
			first := "0"
			if i < right {
				first = "1"
			}
			marks = append(marks, first+rest)
		}
	}
	group(27, 11, "0000")
	group(46, 20, "1100")
	group(27, 22, "1111")
	r := sat(t, marks)
	near(t, "D", r.Questions[0].D, 22.0/27-11.0/27, 9)
	if r.Test.Small != true || r.Test.Teams != 100 {
		t.Errorf("five questions are few: %+v", r.Test)
	}
}

// Four teams, of which the upper and the lower 27 % are one each. The two best
// are equal, so each is half of the upper group.
func TestDWithTies(t *testing.T) {
	r := sat(t, []string{"011", "101", "010", "000"})
	near(t, "D", r.Questions[0].D, 0.5, 9)
	near(t, "D", r.Questions[2].D, 1, 9)
}

func TestUndefined(t *testing.T) {
	r := sat(t, []string{"110", "100", "110"})
	all, nobody := r.Questions[0], r.Questions[2]
	if all.PointBiserial.Defined() || all.Corrected.Defined() || nobody.Corrected.Defined() {
		t.Errorf("a question that all or none got right tells no team from another: %+v, %+v", all, nobody)
	}
	if encode(t, all.Flags) != `["everybody"]` || encode(t, nobody.Flags) != `["nobody"]` {
		t.Errorf("flags %v and %v", all.Flags, nobody.Flags)
	}
	if got := encode(t, r.Questions[1].Corrected); got != "null" {
		t.Errorf("the rest of q2 does not vary: got %s", got)
	}
	same := sat(t, []string{"10", "01"})
	if same.Test.KR20.Defined() || same.Test.KR21.Defined() || same.Test.SEM.Defined() || same.Questions[0].D.Defined() {
		t.Errorf("equal totals have no reliability: %+v", same.Test)
	}
	if none := debrief.Of(nil, nil); none.Test.Mean.Defined() || none.Share.P.Defined() {
		t.Errorf("nothing happened: %+v", none)
	}
}

// Thirty teams and ten questions are no longer few.
func TestNotSmall(t *testing.T) {
	r := sat(t, slices.Repeat(kr20Page, 3))
	if r.Test.Small || r.Test.Caution != "" {
		t.Errorf("%+v", r.Test)
	}
	near(t, "KR-20", r.Test.KR20, 0.696347, 6)
}
