package rating_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/game/rating"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within || math.IsNaN(got) {
		t.Errorf("%s is %.8f, want %.8f ± %g", what, got, want, within)
	}
}

// The worked example of Glickman's paper. The paper rounds on its way and
// prints 1464.06, 151.52, 0.05999 (recalled, the paper was not opened); computed
// without rounding, the same inputs give the figures below.
func TestWorkedExample(t *testing.T) {
	r := rating.Update(rating.Rating{Rating: 1500, Deviation: 200, Volatility: 0.06}, []rating.Result{
		{Opponent: rating.Rating{Rating: 1400, Deviation: 30, Volatility: 0.06}, Score: 1},
		{Opponent: rating.Rating{Rating: 1550, Deviation: 100, Volatility: 0.06}, Score: 0},
		{Opponent: rating.Rating{Rating: 1700, Deviation: 300, Volatility: 0.06}, Score: 0},
	})
	near(t, "rating", r.Rating, 1464.050671, 1e-6)
	near(t, "deviation", r.Deviation, 151.516524, 1e-6)
	near(t, "volatility", r.Volatility, 0.05999598, 1e-8)
	near(t, "rating as printed", r.Rating, 1464.06, 0.02)
	near(t, "deviation as printed", r.Deviation, 151.52, 0.02)
}

func TestIdlePeriod(t *testing.T) {
	r := rating.Update(rating.Rating{Rating: 1500, Deviation: 200, Volatility: 0.06}, nil)
	near(t, "rating", r.Rating, 1500, 0)
	near(t, "deviation", r.Deviation, 200.2714, 5e-5)
	near(t, "volatility", r.Volatility, 0.06, 0)
	if r := rating.Update(rating.New(), nil); r != rating.New() {
		t.Errorf("an idle newcomer became %v", r)
	}
}

// Whatever the results, the numbers stay sane and move the right way.
func TestUpdateStaysSane(t *testing.T) {
	any := rapid.Custom(func(t *rapid.T) rating.Rating {
		return rating.Rating{
			Rating:     rapid.Float64Range(0, 3500).Draw(t, "rating"),
			Deviation:  rapid.Float64Range(20, 350).Draw(t, "deviation"),
			Volatility: rapid.Float64Range(0.01, 0.2).Draw(t, "volatility"),
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		before := any.Draw(t, "before")
		var results []rating.Result
		var balance float64
		for range rapid.IntRange(1, 20).Draw(t, "matches") {
			res := rating.Result{Opponent: any.Draw(t, "opponent"), Score: rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "score")}
			results = append(results, res)
			balance = res.Score
		}
		after := rating.Update(before, results)
		if math.IsNaN(after.Rating) || math.IsInf(after.Rating, 0) || !(after.Deviation > 0) || !(after.Volatility > 0) {
			t.Fatalf("%v became %v", before, after)
		}
		if len(results) == 1 && (balance == 1 && after.Rating <= before.Rating || balance == 0 && after.Rating >= before.Rating) {
			t.Fatalf("a single result of %v moved %v to %v", balance, before.Rating, after.Rating)
		}
		a, b := before, results[0].Opponent
		if e := rating.Expected(a, b) + rating.Expected(b, a); math.Abs(e-1) > 1e-12 {
			t.Fatalf("both expectations add up to %v", e)
		}
	})
}

func TestPairwise(t *testing.T) {
	teams := []rating.Rating{{1500, 100, 0.06}, {1600, 100, 0.06}, {1700, 100, 0.06}}
	got := rating.Pairwise(teams, []int{30, 10, 30})
	want := [][]rating.Result{
		{{teams[1], 1}, {teams[2], 0.5}},
		{{teams[0], 0}, {teams[2], 0}},
		{{teams[0], 0.5}, {teams[1], 1}},
	}
	for i := range want {
		if !slices.Equal(got[i], want[i]) {
			t.Errorf("team %d has %v, want %v", i, got[i], want[i])
		}
	}
}

func BenchmarkUpdate(b *testing.B) {
	results := slices.Repeat([]rating.Result{{Opponent: rating.New(), Score: 1}}, 30)
	for b.Loop() {
		rating.Update(rating.New(), results)
	}
}
