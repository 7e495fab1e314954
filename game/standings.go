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
}

// Standings is the leaderboard, best first. Ties are broken by more right
// answers, then by less time spent on them; teams still equal share a rank
// and stand in order of joining.
func (s *State) Standings() []Standing {
	teams := make([]*Team, 0, len(s.Teams))
	for i := range s.Teams {
		if !s.Teams[i].Removed {
			teams = append(teams, &s.Teams[i])
		}
	}
	slices.SortStableFunc(teams, better)
	out := make([]Standing, len(teams))
	for i, t := range teams {
		out[i] = Standing{i + 1, t.ID, t.Name, t.Score, t.Right}
		if i > 0 && better(teams[i-1], t) == 0 {
			out[i].Rank = out[i-1].Rank
		}
	}
	return out
}

func better(a, b *Team) int {
	return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(b.Right, a.Right), cmp.Compare(a.Time, b.Time))
}
