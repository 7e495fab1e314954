package store

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrUnknownSeason: no such season in the store.
var ErrUnknownSeason = errors.New("store: no such season")

// Season is a leaderboard over many games.
type Season struct {
	ID      string `json:"id"`             // its name
	Open    bool   `json:"open"`           // who has no host key may see its table
	Ratings bool   `json:"ratings"`        // and its ratings
	Plan    string `json:"plan,omitempty"` // of its meetings, as the hub writes it; the store doesn't look at it
}

// Result is what the teams of one game, or of one tournament, take to a season.
// Without lines it holds the game's place: due, or taken out by the host.
type Result struct {
	Game  string `json:"game"`
	Title string `json:"title"`
	Began string `json:"began"` // date and time (RFC 3339)
	Due   bool   `json:"due"`   // it has not ended yet
	Lines []Line `json:"lines"`
	Items []Item `json:"items,omitempty"` // what all its teams together knew
}

// Item is how many of all answers on an animal by a subject were right.
type Item struct {
	Animal  string `json:"animal"` // its scientific name
	Subject string `json:"subject"`
	Right   int    `json:"right"`
	Of      int    `json:"of"`
}

// Line is one team's part of a result. Team is what makes it the same team in
// another one; Name is how it was called.
type Line struct {
	Team   string `json:"team"`
	Name   string `json:"name"`
	Rank   int    `json:"rank"`
	Points int    `json:"points"`
	Right  int    `json:"right"`
	Of     int    `json:"of"`
}

// Leader is a line of a season's table. Was is its rank before the season's
// last date; 0 is for a team that had not played by then.
type Leader struct {
	Rank   int    `json:"rank"`
	Was    int    `json:"was"`
	Team   string `json:"team"`
	Name   string `json:"name"` // as it was last called
	Points int    `json:"points"`
	Right  int    `json:"right"`
	Of     int    `json:"of"`
	Games  int    `json:"games"`
}

// Seasons keeps seasons: each with its results, of which each game has one.
type Seasons interface {
	// ChangeSeason changes the season, which it makes if there is none of that id,
	// durably before it returns; its results stay. No other change comes between:
	// where one does, it calls how anew.
	ChangeSeason(ctx context.Context, id string, how func(*Season)) error
	// Seasons lists all seasons, in the order of their ids.
	Seasons(ctx context.Context) ([]Season, error)
	// AddResult counts a game durably before it returns, in a new season if
	// there is none of that id. A game that has a result already keeps it,
	// unless that one is due and this one is not.
	AddResult(ctx context.Context, season string, r Result) error
	// SetResult puts a result in place of the game's earlier one, if any.
	SetResult(ctx context.Context, season string, r Result) error
	// Results lists a season's results in the order in which the games began.
	// Where some are damaged it returns the others, and an error that wraps ErrCorrupt.
	Results(ctx context.Context, season string) ([]Result, error)
	// Leaders are the first lines of the table of a season: what Tally makes
	// of its results.
	Leaders(ctx context.Context, season string, most int) ([]Leader, error)
	// DropTeam takes a team out of all results of a season.
	DropTeam(ctx context.Context, season, team string) error
	// DeleteSeason forgets a season and its results; an unknown one is no error.
	DeleteSeason(ctx context.Context, season string) error
}

// Bounds of what a season may hold.
const (
	maxSeasonID = 200 // bytes
	maxLines    = 5000
	maxItems    = 5000
	maxPoints   = 1_000_000_000 // so that sums are exact in a float as well
)

// CheckSeason refuses an id that no season may have.
func CheckSeason(id string) error {
	if id == "" || len(id) > maxSeasonID {
		return fmt.Errorf("store: a season's id must have 1 to %d bytes, this one has %d", maxSeasonID, len(id))
	}
	return nil
}

// Check refuses what no season may hold.
func (r Result) Check(season string) error {
	if err := CheckSeason(season); err != nil {
		return err
	}
	if r.Game == "" || len(r.Game) > maxSeasonID {
		return fmt.Errorf("store: season %q: a game's id must have 1 to %d bytes, this one has %d", season, maxSeasonID, len(r.Game))
	}
	if len(r.Lines) > maxLines || r.Due && len(r.Lines) > 0 {
		return fmt.Errorf("store: season %q: game %q has %d lines; at most %d are kept, and none while it is due", season, r.Game, len(r.Lines), maxLines)
	}
	if len(r.Items) > maxItems || r.Due && len(r.Items) > 0 {
		return fmt.Errorf("store: season %q: game %q has %d items; at most %d are kept, and none while it is due", season, r.Game, len(r.Items), maxItems)
	}
	seen := map[string]bool{}
	for i, l := range r.Lines { // which are not named: errors are logged
		if l.Team == "" || seen[l.Team] || max(l.Points, -l.Points) > maxPoints {
			return fmt.Errorf("store: season %q: game %q: line %d with %d points: each team needs an id, once, and at most %d points", season, r.Game, i+1, l.Points, maxPoints)
		}
		seen[l.Team] = true
	}
	return nil
}

// Date is the day on which the game began.
func (r Result) Date() string {
	const day = len("2006-01-02")
	return r.Began[:min(day, len(r.Began))]
}

// Yields tells whether a kept result makes room for one that is added.
func (r Result) Yields(to Result) bool { return r.Due && !to.Due }

// Without is the result without a team; had is false where it is not in it.
func (r Result) Without(team string) (rest Result, had bool) {
	rest = r
	rest.Lines = slices.DeleteFunc(slices.Clone(r.Lines), func(l Line) bool { return l.Team == team })
	return rest, len(rest.Lines) < len(r.Lines)
}

// InOrder sorts results as the games began.
func InOrder(results []Result) {
	slices.SortFunc(results, func(a, b Result) int {
		return cmp.Or(strings.Compare(a.Began, b.Began), strings.Compare(a.Game, b.Game))
	})
}

// Counted are the leaders of a season in a store that has its results at hand:
// the first of their Tally, so many at most.
func Counted(ctx context.Context, s interface {
	Results(context.Context, string) ([]Result, error)
}, season string, most int) ([]Leader, error) {
	results, err := s.Results(ctx, season)
	if err != nil {
		return nil, err
	}
	table := Tally(results)
	return table[:min(most, len(table))], nil
}

// Tally makes a season's table of results in order. Teams with equal points
// share a rank, and the ranks that they take up are left out behind them ("1224",
// standard competition ranking); among themselves they stand in the order of
// their ids.
func Tally(results []Result) []Leader {
	last := ""
	for _, r := range results {
		if len(r.Lines) > 0 {
			last = max(last, r.Date())
		}
	}
	now, before := sums{}, sums{}
	for _, r := range results {
		now.add(r)
		if r.Date() < last {
			before.add(r)
		}
	}
	table := now.ranked()
	was := map[string]int{}
	for _, l := range before.ranked() {
		was[l.Team] = l.Rank
	}
	for i := range table {
		table[i].Was = was[table[i].Team]
	}
	return table
}

// sums are teams' sums by their ids.
type sums map[string]*Leader

func (s sums) add(r Result) {
	for _, l := range r.Lines {
		t := s[l.Team]
		if t == nil {
			t = &Leader{Team: l.Team}
			s[l.Team] = t
		}
		t.Name = l.Name
		t.Points += l.Points
		t.Right += l.Right
		t.Of += l.Of
		t.Games++
	}
}

func (s sums) ranked() []Leader {
	table := make([]Leader, 0, len(s))
	for _, t := range s {
		table = append(table, *t)
	}
	slices.SortFunc(table, func(a, b Leader) int {
		return cmp.Or(cmp.Compare(b.Points, a.Points), strings.Compare(a.Team, b.Team))
	})
	for i := range table {
		table[i].Rank = i + 1
		if i > 0 && table[i].Points == table[i-1].Points {
			table[i].Rank = table[i-1].Rank
		}
	}
	return table
}
