package rating

import (
	"cmp"
	"maps"
	"slices"
)

// MostRated is the most teams that a game may have to be rated: each meets each
// other, and in a crowd one lucky evening would settle everything.
const MostRated = 200

// Place is where a team came in a game; a smaller rank is better, equal ones draw.
type Place struct {
	Team string
	Rank int
}

// Member is a team of a club: its rating after all games, and in how many of
// them it was rated.
type Member struct {
	Rating
	Team  string `json:"team"`
	Games int    `json:"games"`
}

// Club rates the teams of a club over its games in order, each game a rating
// period: who is not there has an idle one, and is less surely known after it.
// A game of one team, or of more than MostRated, is no period. The members come
// best first, equal ones by their ids.
func Club(games [][]Place) []Member {
	club := map[string]Member{}
	for _, g := range games {
		if len(g) > 1 && len(g) <= MostRated {
			period(club, g)
		}
	}
	return slices.SortedFunc(maps.Values(club), func(a, b Member) int {
		return cmp.Or(cmp.Compare(b.Rating.Rating, a.Rating.Rating), cmp.Compare(a.Team, b.Team))
	})
}

// period rates one game. Opponents count as they were before it.
func period(club map[string]Member, g []Place) {
	ratings, scores := make([]Rating, len(g)), make([]int, len(g))
	for i, p := range g {
		m, known := club[p.Team]
		if !known {
			m = Member{Rating: New(), Team: p.Team}
		}
		ratings[i], scores[i] = m.Rating, -p.Rank
	}
	idle := maps.Clone(club)
	for i, results := range Pairwise(ratings, scores) {
		team := g[i].Team
		club[team] = Member{Update(ratings[i], results), team, club[team].Games + 1}
		delete(idle, team)
	}
	for team, m := range idle {
		m.Rating = Update(m.Rating, nil)
		club[team] = m
	}
}

// Seeding is the order of 0 to len(ratings)-1 by rating, best first; equals
// stay as they come. It serves as a tournament's seeding.
func Seeding(ratings []Rating) []int {
	order := make([]int, len(ratings))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ratings[b].Rating, ratings[a].Rating) })
	return order
}
