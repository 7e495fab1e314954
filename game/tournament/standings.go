package tournament

import (
	"cmp"
	"fmt"
	"slices"
)

// Standing is a line of a table. The figures of tie-breaks are there for those
// who want to check them.
type Standing struct {
	Rank            int     `json:"rank"` // shared by those level; 0 for an entrant whose results are annulled
	Entrant         int     `json:"entrant"`
	Name            string  `json:"name"`
	Points          float64 `json:"points"`
	Played          int     `json:"played"` // byes don't count
	Won             int     `json:"won"`
	Drawn           int     `json:"drawn"`
	Lost            int     `json:"lost"`
	Byes            int     `json:"byes"`
	Buchholz        float64 `json:"buchholz"`
	SonnebornBerger float64 `json:"sonnebornBerger"`
	Ratio           float64 `json:"ratio"`
	By              string  `json:"by,omitempty"`    // what parts it from the line above
	Level           bool    `json:"level,omitempty"` // only a play-off can part it from its neighbours
	In              bool    `json:"in,omitempty"`    // elimination: still in, or the one that has won
	Withdrawn       bool    `json:"withdrawn,omitempty"`
	Annulled        bool    `json:"annulled,omitempty"`
}

// Ranked is a table with its title.
type Ranked struct {
	Title string     `json:"title"`
	Part  Part       `json:"part"`
	Pool  int        `json:"pool,omitempty"`
	Rows  []Standing `json:"rows"`
}

// Tables are the tables as they stand: one, or one for each pool and one for
// the bracket after them. There is none before the draw.
func (s *Sheet) Tables() []Ranked {
	if s.Phase == Entry || len(s.Matches) == 0 {
		return nil
	}
	var out []Ranked
	switch s.Settings.Format {
	case RoundRobin:
		out = append(out, Ranked{"Table", Table, 0, s.table(s.Order, 0)})
	case Swiss:
		out = append(out, Ranked{"Table", Round, 0, s.table(s.Order, 0)})
	case Pools:
		for i, members := range s.pooled() {
			out = append(out, Ranked{"Pool " + poolName(i+1), Pool, i + 1, s.table(members, i+1)})
		}
	}
	if s.Bracket > 0 {
		out = append(out, Ranked{"Bracket", Winners, 0, s.bracketTable()})
	}
	return out
}

// poolName is A to Z, then A2 and so on.
func poolName(pool int) string {
	name := string(rune('A' + (pool-1)%26))
	if pool > 26 {
		name += fmt.Sprint((pool-1)/26 + 1)
	}
	return name
}

// Standings is the order of the whole tournament. After pools, those who went
// on stand first, as in the bracket; the others share ranks by their places.
func (s *Sheet) Standings() []Standing {
	tables := s.Tables()
	switch {
	case len(tables) == 0:
		return nil
	case len(tables) == 1:
		return tables[0].Rows
	}
	var out []Standing
	if s.Bracket > 0 {
		out = tables[len(tables)-1].Rows
		tables = tables[:len(tables)-1]
	}
	return append(out, s.byPlace(tables, len(out))...)
}

// byPlace merges the pools: all first ones, all second ones, and so on.
func (s *Sheet) byPlace(pools []Ranked, above int) []Standing {
	var rows []Standing
	place := map[int]int{}
	for _, p := range pools {
		for i, row := range p.Rows {
			if !slices.Contains(s.Field, row.Entrant) {
				rows = append(rows, row)
				place[row.Entrant] = i
				if row.Annulled {
					place[row.Entrant] = MaxEntrants
				}
			}
		}
	}
	slices.SortStableFunc(rows, func(a, b Standing) int { return cmp.Compare(place[a.Entrant], place[b.Entrant]) })
	for i := range rows {
		r := &rows[i]
		r.By, r.Level = "", false
		switch {
		case r.Annulled:
		case i > 0 && place[rows[i-1].Entrant] == place[r.Entrant]:
			r.Rank = rows[i-1].Rank
		default:
			r.Rank = above + i + 1
		}
	}
	return rows
}

// table ranks a round robin's, a pool's or a Swiss tournament's entrants.
func (s *Sheet) table(entrants []int, pool int) []Standing {
	r := &ranking{swiss: s.Settings.Format == Swiss, of: map[int]*tally{}, playOffs: s.PlayOffs}
	out := s.annulled(pool)
	var level, annulled []*tally
	for _, e := range entrants {
		t := &tally{entrant: e, withdrawn: s.Entrants[e-1].Withdrawn}
		if out[e] {
			annulled = append(annulled, t)
			continue
		}
		r.of[e] = t
		level = append(level, t)
	}
	s.count(pool, r.of)
	var rows []Standing
	if len(level) > 0 {
		for _, group := range r.order(level, 0) {
			rank := len(rows) + 1
			for _, t := range group {
				row := s.row(r, t)
				row.Rank, row.Level = rank, len(group) > 1
				rows = append(rows, row)
			}
		}
	}
	for _, t := range annulled {
		rows = append(rows, Standing{Entrant: t.entrant, Name: s.Entrants[t.entrant-1].Name, Withdrawn: true, Annulled: true})
	}
	return rows
}

// count enters the results of a pool (0: of the only table). Matches with one
// who is not in the table don't count.
func (s *Sheet) count(pool int, of map[int]*tally) {
	for i := range s.tables() {
		m := &s.Matches[i]
		if m.Pool != pool || !m.Done() {
			continue
		}
		home, away := of[m.Home.Entrant], of[m.Away.Entrant]
		if home != nil && (away != nil || m.Away.Entrant == Nobody) {
			home.add(m)
			if away != nil {
				away.add(m)
			}
		}
	}
}

// annulled are those who have withdrawn from a round robin before half of their
// matches had a recorded result.
func (s *Sheet) annulled(pool int) map[int]bool {
	out := map[int]bool{}
	if s.Settings.Format == Swiss {
		return out
	}
	all, recorded := map[int]int{}, map[int]int{}
	for i := range s.tables() {
		m := &s.Matches[i]
		if m.Pool != pool {
			continue
		}
		for _, e := range []int{m.Home.Entrant, m.Away.Entrant} {
			all[e]++
			if m.Done() && !m.Result.Auto {
				recorded[e]++
			}
		}
	}
	for e, n := range all {
		if s.Entrants[e-1].Withdrawn && 2*recorded[e] < n {
			out[e] = true
		}
	}
	return out
}

func (s *Sheet) row(r *ranking, t *tally) Standing {
	return Standing{
		Entrant: t.entrant, Name: s.Entrants[t.entrant-1].Name, Withdrawn: t.withdrawn,
		Points: t.points(), Played: t.played, Won: t.won, Drawn: t.drawn, Lost: t.lost, Byes: t.byes,
		Buchholz: r.buchholz(t), SonnebornBerger: r.sonnebornBerger(t), Ratio: t.ratio(), By: t.by,
	}
}

// bracketTable ranks an elimination: those still in, then the others, the
// later they went out the better. Those who went out in the same round share
// a rank.
func (s *Sheet) bracketTable() []Standing {
	of := map[int]*tally{}
	last := map[int]*Match{}
	for _, e := range s.Field {
		of[e] = &tally{entrant: e, withdrawn: s.Entrants[e-1].Withdrawn}
	}
	for i := s.Bracket - 1; i < len(s.Matches); i++ {
		m := &s.Matches[i]
		for _, e := range []int{m.Home.Entrant, m.Away.Entrant} {
			if e > 0 {
				last[e] = m
				if m.Done() {
					of[e].add(m)
				}
			}
		}
	}
	depth := func(e int) int { return s.depth(e, last[e]) }
	field := slices.Clone(s.Field)
	slices.SortStableFunc(field, func(a, b int) int { return cmp.Compare(depth(b), depth(a)) })
	rows := make([]Standing, len(field))
	for i, e := range field {
		row := s.row(&ranking{}, of[e])
		row.Points, row.SonnebornBerger = 0, 0
		row.In, row.Rank = depth(e) >= stillIn, i+1
		if i > 0 && depth(field[i-1]) == depth(e) {
			row.Rank = rows[i-1].Rank
		}
		rows[i] = row
	}
	return rows
}

const stillIn = 1 << 20 // a depth that no round reaches

// depth is how far an entrant has come, by the last match that it is seated in.
func (s *Sheet) depth(entrant int, m *Match) int {
	won := m.Result.Winner == entrant
	switch {
	case m.Part == Third && won:
		return stillIn/2 + 1
	case m.Part == Third:
		return stillIn / 2
	case m.Done() && won && (m.Part == Final || m.Part == Reset):
		return stillIn + 1
	case !m.Done() || won:
		return stillIn
	case m.Part == Final || m.Part == Reset:
		return stillIn - 1
	case m.Part == Winners && m.Round > 1 && s.hasReset(): // both sides had withdrawn
		return 2 * (2*m.Round - 2)
	}
	return 2 * m.Round
}

// hasReset reports whether the bracket is a double elimination.
func (s *Sheet) hasReset() bool {
	return s.Bracket > 0 && s.Matches[len(s.Matches)-1].Part == Reset
}

// Level are the groups that only a play-off can part, table by table.
func (s *Sheet) Level() [][]int {
	var out [][]int
	for _, t := range s.Tables() {
		out = append(out, levelIn(t.Rows)...)
	}
	return out
}

func levelIn(rows []Standing) [][]int {
	var out [][]int
	for from := 0; from < len(rows); {
		to := from + 1
		for to < len(rows) && rows[to].Level && rows[to].Rank == rows[from].Rank {
			to++
		}
		if rows[from].Level {
			var group []int
			for _, r := range rows[from:to] {
				group = append(group, r.Entrant)
			}
			out = append(out, group)
		}
		from = to
	}
	return out
}

// Champion is who has won the tournament, 0 while that is open or where first
// place is shared.
func (s *Sheet) Champion() int {
	rows := s.Standings()
	over := s.Phase == Ended || s.open() == 0 && !s.toCome()
	if !over || len(rows) == 0 || rows[0].Rank != 1 || len(rows) > 1 && rows[1].Rank == 1 {
		return 0
	}
	return rows[0].Entrant
}

// toCome reports whether there is a draw still to make.
func (s *Sheet) toCome() bool {
	return s.Settings.Format == Swiss && s.round() < s.Rounds() || s.Settings.Format == Pools && s.Bracket == 0
}
