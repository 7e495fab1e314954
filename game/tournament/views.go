package tournament

import (
	"fmt"
	"slices"
)

// Column is a round of a part, for a page to draw. The matches' seats say what
// feeds them.
type Column struct {
	Part    Part    `json:"part"`
	Round   int     `json:"round"`
	Title   string  `json:"title"`
	Matches []Match `json:"matches"`
}

// Layout is the sheet's matches by round, in the order in which they can be
// played.
func (s *Sheet) Layout() []Column {
	var out []Column
	for _, m := range s.Matches {
		last := len(out) - 1
		if last < 0 || out[last].Part != m.Part || out[last].Round != m.Round {
			out = append(out, Column{Part: m.Part, Round: m.Round})
			last++
		}
		out[last].Matches = append(out[last].Matches, m)
	}
	for i := range out {
		out[i].Title = out[i].title(s.hasReset())
	}
	return out
}

func (c *Column) title(double bool) string {
	switch {
	case c.Part == Final:
		return "Final"
	case c.Part == Reset:
		return "Second final"
	case c.Part == Third:
		return "Third place"
	case c.Part == Losers:
		return fmt.Sprintf("Second chance, round %d", c.Round)
	case c.Part == Winners && !double && len(c.Matches) == 2:
		return "Semi-finals"
	case c.Part == Winners && !double && len(c.Matches) == 4:
		return "Quarter-finals"
	}
	return fmt.Sprintf("Round %d", c.Round)
}

// Ready are the matches that can be started now, all at once: both sides are
// known, and no entrant is in two of them or in one that is running. Those that are
// called to a board are among them.
func (s *Sheet) Ready() []int {
	busy := make([]bool, len(s.Entrants)+1)
	for i := range s.Matches {
		if m := &s.Matches[i]; m.Running() || slices.Contains(s.At, m.ID) {
			busy[m.Home.Entrant], busy[m.Away.Entrant] = true, true
		}
	}
	var ready []int
	for i := range s.Matches {
		m := &s.Matches[i]
		if !m.Playable() || m.Running() || !slices.Contains(s.At, m.ID) && (busy[m.Home.Entrant] || busy[m.Away.Entrant]) {
			continue
		}
		busy[m.Home.Entrant], busy[m.Away.Entrant] = true, true
		ready = append(ready, m.ID)
	}
	return ready
}

// Going is who goes on from the pools as they stand: Field is their seeding for
// the bracket. Level are those of whom some go on and some don't although no
// tie-break parts them.
type Going struct {
	Field []int   `json:"field"`
	Level [][]int `json:"level"`
}

// GoingOn says who goes on from the pools. One who has withdrawn makes room for
// the next, but keeps a place in a bracket once drawn.
func (s *Sheet) GoingOn() Going {
	if s.Settings.Format != Pools || s.Phase == Entry {
		return Going{}
	}
	var going Going
	drawn := map[int]bool{}
	for _, e := range s.Field {
		drawn[e] = true
	}
	places := make([][]int, s.Settings.Advance)
	for i := range places {
		places[i] = make([]int, s.Settings.Pools)
	}
	for i, members := range s.pooled() {
		var rows []Standing
		for _, row := range s.table(members, i+1) {
			if !row.Annulled && (s.active(row.Entrant) || drawn[row.Entrant]) {
				rows = append(rows, row)
			}
		}
		for k := range min(len(rows), len(places)) {
			places[k][i] = rows[k].Entrant
		}
		for _, group := range levelIn(rows) {
			if cut := len(places); cut < len(rows) && rows[cut-1].Rank == rows[cut].Rank && slices.Contains(group, rows[cut].Entrant) {
				going.Level = append(going.Level, group)
			}
		}
	}
	going.Field = crossField(places)
	return going
}
