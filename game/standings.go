package game

import (
	"cmp"
	"slices"
)

// Standing is a line of the leaderboard.
type Standing struct {
	Rank  int    `json:"rank"`
	Team  string `json:"team"`
	Name  string `json:"name"`
	Score int    `json:"score"`
	Right int    `json:"right"`
	Place int    `json:"-"` // in Teams

	Before int `json:"before"` // the score before the last round that began
	Was    int `json:"was"`    // and the rank; 0 for a team that has come since
}

// Standings is the leaderboard, best first. Ties are broken by more right
// answers, then by less time spent on them; teams still equal share a rank
// and stand in order of joining.
func (s *State) Standings() []Standing {
	places := make([]int, 0, len(s.Teams))
	for i := range s.Teams {
		if !s.Teams[i].Removed {
			places = append(places, i)
		}
	}
	slices.SortStableFunc(places, func(a, b int) int { return better(&s.Teams[a], &s.Teams[b]) })
	out := make([]Standing, len(places))
	for i, place := range places {
		t := &s.Teams[place]
		out[i] = Standing{i + 1, t.ID, t.Name, t.Score, t.Right, place, t.Before, t.Was}
		if i > 0 && better(&s.Teams[places[i-1]], t) == 0 {
			out[i].Rank = out[i-1].Rank
		}
	}
	return out
}

// begun keeps how the teams stand as a round begins.
func (s *State) begun() {
	for _, st := range s.Standings() {
		t := &s.Teams[st.Place]
		t.Before, t.Was = st.Score, st.Rank
	}
}

func better(a, b *Team) int {
	return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(b.Right, a.Right), cmp.Compare(a.Time, b.Time))
}
