package debrief_test

import (
	"fmt"
	"maps"
	"testing"

	"fieldsign/game/debrief"
)

// TestDrift: a club mixes up its pairs in four games and no more in four others.
func TestDrift(t *testing.T) {
	const seed = 3
	c := newClub(seed, 6)
	taught := maps.Clone(c.pairs)
	var reports []debrief.Report
	for n := range 8 {
		if n == 4 {
			clear(c.pairs)
		}
		r := debrief.Of(c.meet(t, 12, 80), c.facts)
		r.Date = fmt.Sprintf("2026-05-%02d", 1+n/2) // two games a day
		reports = append(reports, r)
	}
	found := 0
	for _, d := range debrief.Trend(reports).Confused {
		if taught[d.A] != d.B {
			continue
		}
		found++
		if len(d.Moments) == 0 || len(d.Moments) > 4 {
			t.Fatalf("seed %d: %s and %s: %d dates", seed, d.A, d.B, len(d.Moments))
		}
		var right, of int
		var early, late [2]int
		for _, m := range d.Moments {
			right, of = right+m.Share.Right, of+m.Share.Of
			part := &early
			if m.Date > "2026-05-02" {
				part = &late
			}
			part[0], part[1] = part[0]+m.Share.Right, part[1]+m.Share.Of
		}
		if right != d.Share.Right || of != d.Share.Of {
			t.Errorf("seed %d: %s and %s: the dates have %d of %d, the whole %d of %d", seed, d.A, d.B, right, of, d.Share.Right, d.Share.Of)
		}
		if early[0]*late[1] <= late[0]*early[1] {
			t.Errorf("seed %d: %s and %s: %v before, %v after they were taught", seed, d.A, d.B, early, late)
		}
	}
	if found < 4 {
		t.Errorf("seed %d: %d of 6 pairs were found", seed, found)
	}
	if got := debrief.Trend(nil).Confused; got == nil || len(got) != 0 {
		t.Errorf("of no game: %v", got)
	}
}
