package storetest

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/hub/store"
)

// result is a game of a day of one month, with a team and its points each.
func result(game string, day int, lines ...any) store.Result {
	r := store.Result{Game: game, Title: "Review \"" + game + "\"", Began: fmt.Sprintf("2026-05-%02dT10:00:00.000Z", day)}
	for i := 0; i < len(lines); i += 2 {
		name, points := lines[i].(string), lines[i+1].(int)
		r.Lines = append(r.Lines, store.Line{Team: strings.ToLower(name), Name: name, Rank: i/2 + 1, Points: points, Right: points / 100, Of: 10})
	}
	return r
}

func due(game string, day int) store.Result {
	r := result(game, day)
	r.Due = true
	return r
}

func testSeason(t *testing.T, s store.Store) {
	wantSeasons(t, s)
	_, err := s.Results(t.Context(), "2026")
	wantErr(t, err, store.ErrUnknownSeason)
	_, err = s.Leaders(t.Context(), "2026", 10)
	wantErr(t, err, store.ErrUnknownSeason)
	wantErr(t, s.DropTeam(t.Context(), "2026", "owls"), store.ErrUnknownSeason)

	mustAdd(t, s, "2026", result("b", 3, "Otters", 500, "Öwls \"x\"", 300, "Voles", 300, "Hares", 100))
	mustAdd(t, s, "2026", result("c", 9, "Hares", 400, "Wrens", 0, "OTTERS", -50))
	wantSeasons(t, s, store.Season{ID: "2026"})
	wantLeaders(t, s, "2026",
		store.Leader{Rank: 1, Was: 4, Team: "hares", Name: "Hares", Points: 500, Right: 5, Of: 20, Games: 2},
		store.Leader{Rank: 2, Was: 1, Team: "otters", Name: "OTTERS", Points: 450, Right: 5, Of: 20, Games: 2},
		store.Leader{Rank: 3, Was: 2, Team: "voles", Name: "Voles", Points: 300, Right: 3, Of: 10, Games: 1},
		store.Leader{Rank: 3, Was: 2, Team: "öwls \"x\"", Name: "Öwls \"x\"", Points: 300, Right: 3, Of: 10, Games: 1},
		store.Leader{Rank: 5, Team: "wrens", Name: "Wrens", Of: 10, Games: 1})
	mustPutSeason(t, s, store.Season{ID: "2026", Open: true, Ratings: true, Plan: `{"a": "ñ\n"}`})
	wantSeasons(t, s, store.Season{ID: "2026", Open: true, Ratings: true, Plan: `{"a": "ñ\n"}`})
	mustPutSeason(t, s, store.Season{ID: "2026", Open: true, Ratings: true})
	mustAdd(t, s, "2026", result("a", 12)) // out: counts for nothing
	wantSeasons(t, s, store.Season{ID: "2026", Open: true, Ratings: true})
	wantResults(t, s, "2026", result("b", 3, "Otters", 500, "Öwls \"x\"", 300, "Voles", 300, "Hares", 100), result("c", 9, "Hares", 400, "Wrens", 0, "OTTERS", -50), result("a", 12))
	if top, err := s.Leaders(t.Context(), "2026", 2); err != nil || len(top) != 2 || top[1].Team != "otters" {
		t.Errorf("the first two: %+v, error %v", top, err)
	}
	if top, err := s.Leaders(t.Context(), "2026", 0); err != nil || len(top) != 0 {
		t.Errorf("the first none: %+v, error %v", top, err)
	}
	for _, bad := range []store.Result{result("", 1), result("x", 1, "A", 1, "a", 2), result("x", 1, "", 2), result("x", 1, "A", 2_000_000_000)} {
		if err := s.AddResult(t.Context(), "2026", bad); err == nil {
			t.Errorf("%+v: accepted", bad)
		}
	}
	if err := s.ChangeSeason(t.Context(), "", func(*store.Season) {}); err == nil {
		t.Error("a season without an id: accepted")
	}
	wantGames(t, s)
}

// testSeasonOnce: a game counts once, its end may be told as often as need be.
func testSeasonOnce(t *testing.T, s store.Store) {
	first := result("a", 1, "Otters", 300)
	mustAdd(t, s, "2026", due("a", 1))
	wantResults(t, s, "2026", due("a", 1))
	wantLeaders(t, s, "2026")
	mustAdd(t, s, "2026", first)
	mustAdd(t, s, "2026", first)
	mustAdd(t, s, "2026", due("a", 1))                    // late news
	mustAdd(t, s, "2026", result("a", 2, "Otters", 9000)) // another's word for it
	wantResults(t, s, "2026", first)
	if err := s.SetResult(t.Context(), "2026", result("a", 1)); err != nil { // taken out
		t.Fatal(err)
	}
	mustAdd(t, s, "2026", first)
	wantLeaders(t, s, "2026")
	for range 2 {
		if err := s.SetResult(t.Context(), "2026", first); err != nil { // counted anew
			t.Fatal(err)
		}
	}
	wantLeaders(t, s, "2026", store.Leader{Rank: 1, Team: "otters", Name: "Otters", Points: 300, Right: 3, Of: 10, Games: 1})
	mustAdd(t, s, "2027", first) // seasons are apart
	wantSeasons(t, s, store.Season{ID: "2026"}, store.Season{ID: "2027"})
}

func testSeasonErased(t *testing.T, s store.Store) {
	mustAdd(t, s, "2026", result("a", 1, "Otters", 300, "Owls", 200))
	mustAdd(t, s, "2026", result("b", 2, "Owls", 400))
	mustAdd(t, s, "2027", result("a", 1, "Owls", 200))
	for range 2 { // one that is not there is no error
		if err := s.DropTeam(t.Context(), "2026", "owls"); err != nil {
			t.Fatal(err)
		}
	}
	wantResults(t, s, "2026", result("a", 1, "Otters", 300), result("b", 2))
	wantLeaders(t, s, "2026", store.Leader{Rank: 1, Team: "otters", Name: "Otters", Points: 300, Right: 3, Of: 10, Games: 1})
	for range 2 {
		if err := s.DeleteSeason(t.Context(), "2026"); err != nil {
			t.Fatal(err)
		}
	}
	wantSeasons(t, s, store.Season{ID: "2027"})
	mustPutSeason(t, s, store.Season{ID: "2026"}) // nothing of the old one shows
	wantResults(t, s, "2026")
	wantLeaders(t, s, "2026")
	wantResults(t, s, "2027", result("a", 1, "Owls", 200))
}

func testSeasonCancelled(t *testing.T, s store.Store) {
	mustAdd(t, s, "2026", result("a", 1, "Otters", 300))
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	wantErr(t, s.AddResult(ctx, "2026", result("b", 1, "Owls", 1)), context.Canceled)
	wantErr(t, s.SetResult(ctx, "2026", result("a", 1)), context.Canceled)
	wantErr(t, s.ChangeSeason(ctx, "2027", func(*store.Season) {}), context.Canceled)
	wantErr(t, s.DropTeam(ctx, "2026", "otters"), context.Canceled)
	wantErr(t, s.DeleteSeason(ctx, "2026"), context.Canceled)
	_, err := s.Seasons(ctx)
	wantErr(t, err, context.Canceled)
	_, err = s.Results(ctx, "2026")
	wantErr(t, err, context.Canceled)
	_, err = s.Leaders(ctx, "2026", 1)
	wantErr(t, err, context.Canceled)
	wantResults(t, s, "2026", result("a", 1, "Otters", 300))
}

// testSeasonAtOnce: many writers tell of the same games, and change the season,
// while a team is erased.
func testSeasonAtOnce(t *testing.T, s store.Store) {
	mustPutSeason(t, s, store.Season{ID: "2026"})
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for g := range 10 {
				if err := s.AddResult(t.Context(), "2026", result(fmt.Sprint("g", g), 1+g, "Otters", 100, "Owls", 50)); err != nil {
					t.Errorf("AddResult: %v", err)
				}
				if err := s.ChangeSeason(t.Context(), "2026", func(s *store.Season) { s.Plan += "x" }); err != nil {
					t.Errorf("ChangeSeason: %v", err)
				}
			}
		})
	}
	wg.Go(func() {
		if err := s.DropTeam(t.Context(), "2026", "owls"); err != nil {
			t.Errorf("DropTeam: %v", err)
		}
	})
	wg.Wait()
	if err := s.DropTeam(t.Context(), "2026", "owls"); err != nil {
		t.Fatal(err)
	}
	wantSeasons(t, s, store.Season{ID: "2026", Plan: strings.Repeat("x", 40)})
	wantLeaders(t, s, "2026", store.Leader{Rank: 1, Was: 1, Team: "otters", Name: "Otters", Points: 1000, Right: 10, Of: 100, Games: 10})
}

// testSeasonModel runs drawn series of calls, and compares the table with one
// recomputed naively from a plain map after each.
func testSeasonModel(t *testing.T, s store.Store) {
	rapid.Check(t, func(t *rapid.T) {
		ctx := t.Context()
		same(t, s.DeleteSeason(ctx, "S"), nil)
		same(t, s.ChangeSeason(ctx, "S", func(*store.Season) {}), nil)
		kept := map[string]store.Result{}
		for range rapid.IntRange(1, 12).Draw(t, "calls") {
			r := drawResult(t)
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0:
				team := rapid.SampledFrom(modelTeams).Draw(t, "team")
				same(t, s.DropTeam(ctx, "S", strings.ToLower(team)), nil)
				for game, r := range kept {
					kept[game], _ = r.Without(strings.ToLower(team))
				}
			case 1:
				same(t, s.SetResult(ctx, "S", r), nil)
				kept[r.Game] = r
			default:
				same(t, s.AddResult(ctx, "S", r), nil)
				if old, ok := kept[r.Game]; !ok || old.Due && !r.Due {
					kept[r.Game] = r
				}
			}
			most := rapid.SampledFrom([]int{100, 100, 3}).Draw(t, "most")
			got, err := s.Leaders(ctx, "S", most)
			same(t, err, nil)
			want := naive(kept)
			if want = want[:min(most, len(want))]; !slices.Equal(got, want) {
				t.Fatalf("Leaders:\n%+v\nwant\n%+v\nof %+v", got, want, kept)
			}
		}
	})
}

var modelTeams = []string{"Otters", "OTTERS", "Owls", "öwls", "Hares", "Voles:1", "Wrens"}

func drawResult(t *rapid.T) store.Result {
	r := result(rapid.SampledFrom([]string{"a-b", "ab", "ac", "a-c", "B"}).Draw(t, "game"), rapid.IntRange(1, 4).Draw(t, "day"))
	if r.Due = rapid.IntRange(0, 5).Draw(t, "due") == 0; r.Due {
		return r
	}
	teams := rapid.SliceOfNDistinct(rapid.SampledFrom(modelTeams), 0, 5, strings.ToLower).Draw(t, "teams")
	for _, name := range teams {
		points := rapid.SampledFrom([]int{-100, 0, 100, 100, 200, 999_999_999}).Draw(t, "points")
		r.Lines = append(r.Lines, store.Line{Team: strings.ToLower(name), Name: name, Points: points, Right: rapid.IntRange(0, 9).Draw(t, "right"), Of: 10})
	}
	return r
}

// naive recomputes a table without sorting or sums on the way: a team's rank is
// one more than the number of teams with more points.
func naive(kept map[string]store.Result) []store.Leader {
	last, teams := "", map[string]bool{}
	for _, r := range kept {
		for _, l := range r.Lines {
			teams[l.Team] = true
			last = max(last, r.Date())
		}
	}
	table := []store.Leader{}
	for team := range teams {
		l := store.Leader{Team: team}
		called := ""
		for game, r := range kept {
			for _, line := range r.Lines {
				if line.Team != team {
					continue
				}
				l.Points, l.Right, l.Of, l.Games = l.Points+line.Points, l.Right+line.Right, l.Of+line.Of, l.Games+1
				if r.Began+" "+game > called {
					called, l.Name = r.Began+" "+game, line.Name
				}
			}
		}
		l.Rank = place(kept, teams, team, "9999")
		l.Was = place(kept, teams, team, last)
		table = append(table, l)
	}
	slices.SortFunc(table, func(a, b store.Leader) int {
		if a.Points != b.Points {
			return b.Points - a.Points
		}
		return strings.Compare(a.Team, b.Team)
	})
	return table
}

// place is a team's rank by the results before a date, or 0 if it has none.
func place(kept map[string]store.Result, teams map[string]bool, team, date string) int {
	points := func(of string) (sum int, played bool) {
		for _, r := range kept {
			for _, l := range r.Lines {
				if l.Team == of && r.Date() < date {
					sum, played = sum+l.Points, true
				}
			}
		}
		return sum, played
	}
	own, played := points(team)
	if !played {
		return 0
	}
	rank := 1
	for other := range teams {
		if sum, played := points(other); played && sum > own {
			rank++
		}
	}
	return rank
}

func mustAdd(t *testing.T, s store.Store, season string, r store.Result) {
	t.Helper()
	if err := s.AddResult(t.Context(), season, r); err != nil {
		t.Fatalf("AddResult %q: %v", r.Game, err)
	}
}

func mustPutSeason(t *testing.T, s store.Store, season store.Season) {
	t.Helper()
	if err := s.ChangeSeason(t.Context(), season.ID, func(was *store.Season) { *was = season }); err != nil {
		t.Fatalf("ChangeSeason %q: %v", season.ID, err)
	}
}

func wantSeasons(t *testing.T, s store.Store, want ...store.Season) {
	t.Helper()
	if got, err := s.Seasons(t.Context()); err != nil || !slices.Equal(got, want) {
		t.Errorf("Seasons: %+v, error %v; want %+v", got, err, want)
	}
}

func wantResults(t *testing.T, s store.Store, season string, want ...store.Result) {
	t.Helper()
	got, err := s.Results(t.Context(), season)
	same := slices.EqualFunc(got, want, func(a, b store.Result) bool {
		return len(a.Lines) == 0 && len(b.Lines) == 0 && a.Game == b.Game && a.Due == b.Due || reflect.DeepEqual(a, b)
	})
	if err != nil || !same {
		t.Errorf("Results(%q): %+v, error %v; want %+v", season, got, err, want)
	}
}

func wantLeaders(t *testing.T, s store.Store, season string, want ...store.Leader) {
	t.Helper()
	got, err := s.Leaders(t.Context(), season, 100)
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("Leaders(%q):\n%+v, error %v; want\n%+v", season, got, err, want)
	}
}
