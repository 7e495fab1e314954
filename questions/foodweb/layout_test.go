package foodweb

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"fieldsign/questions/catalogue"
)

// In a picture no line runs behind a box or upon another food's line, and each arrow
// can be followed: for the ready rosters and for webs of as many animals as are drawn
// at most, in the shapes that are in use.
func TestLinesCanBeFollowed(t *testing.T) {
	c := catalogue.Builtin()
	w := New(c)
	webs := map[string][]Edge{"two that eat each other": {{"a", "b", Named}, {"b", "a", Named}, {string(Green), "a", Diet}}}
	for _, name := range catalogue.Rosters()[1:] {
		roster, err := c.Roster(name)
		if err != nil {
			t.Fatal(err)
		}
		webs[name] = w.Edges(c.InPlay(roster, catalogue.FoodWeb))
	}
	for seed := range uint64(40) {
		some := rand.New(rand.NewPCG(seed, 0)).Perm(len(c.Species))[:MostDrawn]
		var animals []catalogue.Species
		for _, i := range some {
			animals = append(animals, c.Species[i])
		}
		webs[fmt.Sprint("seed ", seed)] = w.Edges(animals)
	}
	for name, edges := range webs {
		for _, width := range []float64{180, 230, 280} {
			l := laid(width, edges)
			checkRows(t, fmt.Sprint(name, " on ", width), l)
			checkLines(t, fmt.Sprint(name, " on ", width), l)
			checkFollowed(t, fmt.Sprint(name, " on ", width), l, edges)
		}
	}
}

// checkRows: what stands in a row keeps apart, within the width.
func checkRows(t *testing.T, name string, l *layout) {
	t.Helper()
	for _, row := range l.rows {
		for i, it := range row {
			if it.x-it.width/2 < -.01-between || it.x+it.width/2 > l.width+.01+between {
				t.Errorf("%s: %s is outside, at %.1f", name, it.id, it.x)
			}
			for _, other := range row[:i] {
				room := it.width/2 + other.width/2
				if it.lane || other.lane {
					room = max(it.width, other.width) / 2
				}
				if it.lane && other.lane {
					room = .6
				}
				if math.Abs(it.x-other.x) < room {
					t.Errorf("%s: %s and %s are %.1f apart", name, it.id, other.id, it.x-other.x)
				}
			}
		}
	}
}

// checkLines: upright lines of two foods are apart where they are at one height, and
// no two foods have one track.
func checkLines(t *testing.T, name string, l *layout) {
	t.Helper()
	for row, nets := range l.nets {
		for i, above := range nets {
			for _, below := range nets[:i] {
				for _, pair := range [][2]map[string]float64{{above.down, below.down}, {above.up, below.up}, {above.down, below.up}} {
					if near(pair[0], pair[1]) {
						t.Errorf("%s, above row %d: lines of %s and %s run upon each other", name, row, above.food, below.food)
					}
				}
				if above.track >= 0 && above.track == below.track {
					t.Errorf("%s: %s and %s are on one track", name, above.food, below.food)
				}
			}
		}
	}
}

func near(a, b map[string]float64) bool {
	for _, x := range a {
		for _, y := range b {
			if math.Abs(x-y) < .6 {
				return true
			}
		}
	}
	return false
}

// checkFollowed: the lines that start at a food reach its eaters, and no other.
func checkFollowed(t *testing.T, name string, l *layout, edges []Edge) {
	t.Helper()
	want, got := map[[2]string]bool{}, map[[2]string]bool{}
	for _, e := range edges {
		want[[2]string{e.Food, e.Eater}] = true
	}
	for _, nets := range l.nets {
		for _, n := range nets {
			for _, id := range n.tops {
				if !l.items[id].lane {
					got[[2]string{n.food, id}] = true
				}
			}
		}
	}
	for link := range want {
		if !got[link] {
			t.Errorf("%s: no line from %s to %s", name, link[0], link[1])
		}
	}
	if len(got) != len(want) {
		t.Errorf("%s: %d lines for %d arrows", name, len(got), len(want))
	}
}
