package rating

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// A club is what Update makes of its games, one after the other.
func TestClubIsGlicko(t *testing.T) {
	got := Club([][]Place{{{"a", 1}, {"b", 2}}, {{"a", 1}, {"b", 1}}, {{"c", 1}}, {{"b", 1}, {"c", 2}}})
	a, b, c := New(), New(), New()
	a, b = Update(a, []Result{{b, 1}}), Update(b, []Result{{a, 0}})
	a, b = Update(a, []Result{{b, 0.5}}), Update(b, []Result{{a, 0.5}})
	b, c = Update(b, []Result{{c, 1}}), Update(c, []Result{{b, 0}})
	a = Update(a, nil) // idle
	want := map[string]Member{"a": {a, "a", 2}, "b": {b, "b", 3}, "c": {c, "c", 1}}
	for _, m := range got {
		if m != want[m.Team] {
			t.Errorf("%+v, want %+v", m, want[m.Team])
		}
	}
	if len(got) != 3 || !slices.IsSortedFunc(got, func(x, y Member) int { return int(y.Rating.Rating - x.Rating.Rating) }) {
		t.Errorf("not three teams, best first: %+v", got)
	}
}

// Teams of known strengths play a season: their ratings come in that order, and
// lie within the deviations that go with them.
func TestClubFindsStrengths(t *testing.T) {
	const teams, games, seed = 8, 60, 5
	dice := rand.New(rand.NewPCG(seed, seed))
	var played [][]Place
	for range games {
		strengths := make([]float64, teams)
		for i := range strengths {
			strengths[i] = float64(i)*0.6 + dice.NormFloat64()
		}
		var g []Place
		for i := range teams {
			if dice.IntN(5) == 0 {
				continue // not there
			}
			rank := 1
			for _, s := range strengths {
				if s > strengths[i] {
					rank++
				}
			}
			g = append(g, Place{fmt.Sprint("team ", i), rank})
		}
		played = append(played, g)
	}
	club := Club(played)
	for i, m := range club {
		if want := fmt.Sprint("team ", teams-1-i); m.Team != want {
			t.Errorf("seed %d: rank %d is %s with %.0f, want %s", seed, i+1, m.Team, m.Rating.Rating, want)
		}
		if m.Deviation > 120 || m.Deviation < 10 {
			t.Errorf("%s: deviation %.0f", m.Team, m.Deviation)
		}
	}
}

func TestClubBounds(t *testing.T) {
	crowd := make([]Place, MostRated+1)
	for i := range crowd {
		crowd[i] = Place{fmt.Sprint(i), i}
	}
	if got := Club([][]Place{crowd, nil, {{"a", 1}}}); len(got) != 0 {
		t.Errorf("a crowd, nobody and one alone rate %d teams", len(got))
	}
	if got := Club([][]Place{crowd[:MostRated]}); len(got) != MostRated || math.IsNaN(got[0].Rating.Rating) {
		t.Errorf("%d teams, first %+v", len(got), got[0])
	}
}

func TestSeeding(t *testing.T) {
	high, low := Rating{1700, 50, 0.06}, Rating{1300, 50, 0.06}
	if got := Seeding([]Rating{New(), low, high, New()}); !slices.Equal(got, []int{2, 0, 3, 1}) {
		t.Errorf("got %v", got)
	}
}
