// Package season counts games in seasons as they end, and answers what goes
// beyond one game: tables, ratings, fair teams, trends.
package season

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"time"
	"unicode"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/game/rating"
	"fieldsign/hub/names"
	"fieldsign/hub/plan"
	"fieldsign/hub/report"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
	"fieldsign/refusal"
)

// A season counts games as they end. Whoever runs a game tells its season, as
// often as need be: the store counts each game once. A game that has begun is
// noted as due, so that one whose hub died at its end is counted later.

// Seasons are those of a store. They are safe for concurrent use.
type Seasons struct {
	ctx     context.Context // until the hub stops
	store   store.Store
	reports *report.Reports
	boards  *boards
	log     *slog.Logger
}

func New(ctx context.Context, s store.Store, r *report.Reports, log *slog.Logger) *Seasons {
	return &Seasons{ctx, s, r, newBoards(), log}
}

// Kept is a season by its name.
func (all *Seasons) Kept(ctx context.Context, id string) (store.Season, error) {
	list, err := all.store.Seasons(ctx)
	for _, s := range list {
		if s.ID == id {
			return s, nil
		}
	}
	return store.Season{}, cmp.Or(err, store.ErrUnknownSeason)
}

// firstTry is how long to wait before the store is tried a second time.
const firstTry = 250 * time.Millisecond

// slowestTry is the longest wait between tries to reach the store.
const slowestTry = 30 * time.Second

// Tell goes on until the store has it. What it can't tell before the hub
// stops, CatchUp tells later.
func (all *Seasons) Tell(season string, r store.Result, over bool) {
	for wait := firstTry; ; wait = min(2*wait, slowestTry) {
		err := error(nil)
		if over {
			_, err = all.countGame(all.ctx, season, r.Game, all.store.AddResult)
		} else {
			err = all.store.AddResult(all.ctx, season, r)
		}
		if err == nil || all.ctx.Err() != nil {
			return
		}
		all.log.Warn("a game is not counted yet", "game", r.Game, "error", err)
		if !errors.Is(err, store.ErrUnavailable) {
			return
		}
		select {
		case <-all.ctx.Done():
			return
		case <-time.After(wait):
		}
	}
}

var errNotEnded = refusal.New(refusal.NotEnded, "This game has not ended: end it first, then count it.")

// countGame works a game's result out of its log, and keeps it.
func (all *Seasons) countGame(ctx context.Context, season, code string, keep func(context.Context, string, store.Result) error) (store.Result, error) {
	log, s, err := retention.ReadLog(ctx, all.store, code)
	if err != nil {
		return store.Result{}, err
	}
	r, over := seasonResult(log, s)
	if !over {
		return r, errNotEnded
	}
	return r, keep(ctx, season, r)
}

// seasonResult is what a game's teams take to a season: nothing from one in
// which nothing was asked. Shares are the debrief's; items are in the
// catalogue's own names.
func seasonResult(log []game.Event, s game.State) (r store.Result, over bool) {
	shares := map[string]debrief.Share{}
	same := func(name string) string { return name }
	report := debrief.Of(log, plan.FactsOf(s.Plan, same))
	for _, t := range report.Teams {
		shares[t.ID] = t.Share
	}
	r = store.Result{Game: s.Code, Title: s.Plan.Title, Began: s.Began}
	if report.Share.Of == 0 {
		return r, s.Phase == game.Ended
	}
	for _, st := range s.Standings() {
		r.Lines = append(r.Lines, store.Line{Team: SameTeam(st.Name), Name: st.Name, Rank: st.Rank, Points: st.Score, Right: shares[st.Team].Right, Of: shares[st.Team].Of})
	}
	for _, k := range report.Known() {
		r.Items = append(r.Items, store.Item(k))
	}
	return r, s.Phase == game.Ended
}

// SameTeam is one for all ways to write a name that a game takes for the same.
func SameTeam(name string) string {
	return strings.Map(func(r rune) rune {
		least := r
		for f := unicode.SimpleFold(r); f != r; f = unicode.SimpleFold(f) {
			least = min(least, f)
		}
		return unicode.ToLower(least)
	}, names.OneLine(name))
}

// CatchUp counts the games that ended while no hub could tell.
func (all *Seasons) CatchUp() {
	seasons, err := all.store.Seasons(all.ctx)
	for _, s := range seasons {
		if results, fault := all.store.Results(all.ctx, s.ID); fault == nil {
			_, fault = all.caughtUp(all.ctx, s.ID, results)
			err = errors.Join(err, fault)
		}
	}
	if err != nil && all.ctx.Err() == nil {
		all.log.Warn("seasons were not looked through", "error", err)
	}
}

// caughtUp are the results after those that are due and over have been counted.
func (all *Seasons) caughtUp(ctx context.Context, season string, results []store.Result) ([]store.Result, error) {
	due := map[string]bool{}
	for _, r := range results {
		due[r.Game] = r.Due
	}
	games, err := all.store.Games(ctx)
	late := 0
	for _, g := range games {
		if g.Ended && due[g.ID] {
			if _, err := all.countGame(ctx, season, g.ID, all.store.AddResult); err != nil {
				return results, err
			}
			late++
		}
	}
	if err != nil || late == 0 {
		return results, err
	}
	return all.store.Results(ctx, season)
}

// Results are a season's results. Damaged ones are left out, and logged.
func (all *Seasons) Results(ctx context.Context, season string) ([]store.Result, error) {
	results, err := all.store.Results(ctx, season)
	if errors.Is(err, store.ErrCorrupt) {
		all.log.Error("results of a season are left out", "error", err)
		err = nil
	}
	if err != nil {
		return nil, err
	}
	return all.caughtUp(ctx, season, results)
}

// takeOut keeps a game's place in a season without what its teams took from it.
func (all *Seasons) takeOut(ctx context.Context, season, code string) error {
	results, err := all.Results(ctx, season)
	if err != nil {
		return err
	}
	for _, r := range results {
		if r.Game == code {
			r.Due, r.Lines, r.Items = false, nil, nil
			return all.store.SetResult(ctx, season, r)
		}
	}
	return fmt.Errorf("%w: %q", store.ErrUnknownGame, code)
}

// ratingsOf rates a season's teams, best first.
func ratingsOf(results []store.Result) []rating.Member {
	var games [][]rating.Place
	for _, r := range results {
		var places []rating.Place
		for _, l := range r.Lines {
			places = append(places, rating.Place{Team: l.Team, Rank: l.Rank})
		}
		games = append(games, places)
	}
	return rating.Club(games)
}

// ratingOf gives the rating of names by a season; known is false for a newcomer.
func ratingOf(results []store.Result) func(name string) (r rating.Rating, known bool) {
	byTeam := map[string]rating.Rating{}
	for _, m := range ratingsOf(results) {
		byTeam[m.Team] = m.Rating
	}
	return func(name string) (rating.Rating, bool) {
		if r, ok := byTeam[SameTeam(name)]; ok {
			return r, true
		}
		return rating.New(), false
	}
}

// Seeding is the order of names by their ratings in a season, best first: who
// is to be a tournament's first seed, and so on. Newcomers have a newcomer's rating.
func (all *Seasons) Seeding(ctx context.Context, season string, names []string) ([]int, error) {
	results, err := all.Results(ctx, season)
	if err != nil {
		return nil, err
	}
	of := ratingOf(results)
	ratings := make([]rating.Rating, len(names))
	for i, name := range names {
		ratings[i], _ = of(name)
	}
	return rating.Seeding(ratings), nil
}
