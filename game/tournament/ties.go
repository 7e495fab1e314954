package tournament

import (
	"cmp"
	"slices"
)

// tally is what an entrant has done in a table: a round robin, a pool, or a
// Swiss tournament.
type tally struct {
	entrant   int
	withdrawn bool
	half      int // half points
	byes      int
	played    int
	won       int
	drawn     int
	lost      int
	scored    int // negative scores count as 0
	conceded  int
	meetings  []meeting
	by        string // what parts it from the one above
}

// meeting is a match as one side sees it. Half is what it brought, in half
// points; unplayed are byes, forfeits and walkovers.
type meeting struct {
	opponent int
	half     int
	unplayed bool
}

func (t *tally) points() float64 { return float64(t.half) / 2 }

func (t *tally) add(m *Match) {
	g := meeting{m.Opponent(t.entrant), m.half(t.entrant), m.Result.Outcome != Played}
	t.half += g.half
	t.meetings = append(t.meetings, g)
	if m.Result.Outcome == Bye {
		t.byes++
		return
	}
	t.played++
	switch g.half {
	case 2:
		t.won++
	case 1:
		t.drawn++
	default:
		t.lost++
	}
	own, other := m.Result.Home, m.Result.Away
	if m.Away.Entrant == t.entrant {
		own, other = other, own
	}
	t.scored, t.conceded = t.scored+max(own, 0), t.conceded+max(other, 0)
}

// ranking orders a table.
type ranking struct {
	swiss    bool
	of       map[int]*tally
	playOffs [][]int
}

// A criterion parts those who are level so far: more is better.
type criterion struct {
	name  string
	value func(r *ranking, level []*tally, t *tally) float64
}

// criteria are the order of a table: points, then the tie-breaks as FIDE
// Handbook C.07 names them, the points ratio (common practice) and a play-off.
var criteria = []criterion{
	{"points", func(_ *ranking, _ []*tally, t *tally) float64 { return t.points() }},
	{"head to head", headToHead},
	{"Buchholz", func(r *ranking, _ []*tally, t *tally) float64 { return r.buchholz(t) }},
	{"Sonneborn-Berger", func(r *ranking, _ []*tally, t *tally) float64 { return r.sonnebornBerger(t) }},
	{"points ratio", func(_ *ranking, _ []*tally, t *tally) float64 { return t.ratio() }},
	{"play-off", playOff},
}

// again is the place of head to head, which is asked again among the parts of
// a tie that it has split.
const again = 1

// order parts those level so far by the criteria from number k on. Each group
// that comes back is one entrant, or several that nothing can part.
func (r *ranking) order(level []*tally, k int) [][]*tally {
	if len(level) == 1 || k == len(criteria) {
		return [][]*tally{level}
	}
	value := make(map[int]float64, len(level))
	for _, t := range level {
		value[t.entrant] = criteria[k].value(r, level, t)
	}
	slices.SortStableFunc(level, func(a, b *tally) int { return cmp.Compare(value[b.entrant], value[a.entrant]) })
	next := k + 1
	if k == again && value[level[0].entrant] != value[level[len(level)-1].entrant] {
		next = again
	}
	var out [][]*tally
	for from := 0; from < len(level); {
		to := from + 1
		for to < len(level) && value[level[to].entrant] == value[level[from].entrant] {
			to++
		}
		groups := r.order(level[from:to:to], next)
		if from > 0 {
			groups[0][0].by = criteria[k].name
		}
		out = append(out, groups...)
		from = to
	}
	return out
}

// headToHead is the points out of the matches among those level. It parts
// nobody unless each of them has met each other.
func headToHead(_ *ranking, level []*tally, t *tally) float64 {
	among := make(map[int]bool, len(level))
	for _, o := range level {
		among[o.entrant] = true
	}
	half := 0
	for _, o := range level {
		seen := map[int]bool{}
		for _, g := range o.meetings {
			if !among[g.opponent] {
				continue
			}
			seen[g.opponent] = true
			if o == t {
				half += g.half
			}
		}
		if len(seen) < len(level)-1 {
			return 0
		}
	}
	return float64(half) / 2
}

// strength is what an opponent counts for: its points. In a Swiss tournament a
// match that was not played counts as one against an opponent with one's own
// points, so that nobody gains by an opponent who stays away.
func (r *ranking) strength(t *tally, g meeting) float64 {
	if o := r.of[g.opponent]; o != nil && !(r.swiss && g.unplayed) {
		return o.points()
	}
	return t.points()
}

// buchholz is the points of all opponents. In a round robin all have the same
// opponents, so there it parts nobody and is left out.
func (r *ranking) buchholz(t *tally) float64 {
	if !r.swiss {
		return 0
	}
	var sum float64
	for _, g := range t.meetings {
		sum += r.strength(t, g)
	}
	return sum
}

// sonnebornBerger is the points of those beaten, and half of those drawn with.
func (r *ranking) sonnebornBerger(t *tally) float64 {
	var sum float64
	for _, g := range t.meetings {
		sum += r.strength(t, g) * float64(g.half) / 2
	}
	return sum
}

// ratio is the share of the scores of one's matches that was one's own.
func (t *tally) ratio() float64 {
	if t.scored == 0 {
		return 0
	}
	return float64(t.scored) / float64(t.scored+t.conceded)
}

// playOff is the place in the last recorded order that names all who are level.
func playOff(r *ranking, level []*tally, t *tally) float64 {
	for _, order := range slices.Backward(r.playOffs) {
		if !slices.ContainsFunc(level, func(o *tally) bool { return !slices.Contains(order, o.entrant) }) {
			return -float64(slices.Index(order, t.entrant))
		}
	}
	return 0
}
