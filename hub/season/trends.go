package season

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"fieldsign/game/debrief"
	"fieldsign/hub/tournaments/book"
	"fieldsign/hub/wire"
)

// mostTrended is how many games are read for one page of trends.
const mostTrended = 200

// trendsView is what GET /trends.json answers: no team is in it.
type trendsView struct {
	Games  []trendGame    `json:"games"` // in the order of their dates
	Left   int            `json:"left"`  // games beyond mostTrended, not read
	Unread int            `json:"unread"`
	Trends debrief.Trends `json:"trends"` // of those chosen
}

type trendGame struct {
	Game   string        `json:"game"`
	Title  string        `json:"title"`
	Date   string        `json:"date"`
	Ended  bool          `json:"ended"`
	Share  debrief.Share `json:"share"`
	Chosen bool          `json:"chosen"`
}

func (all *Seasons) getTrends(w http.ResponseWriter, r *http.Request) {
	codes, err := all.trended(r.Context(), r.URL.Query().Get("season"))
	if err != nil {
		wire.Fail(w, all.log, err)
		return
	}
	view := trendsView{Games: []trendGame{}, Left: max(len(codes)-mostTrended, 0)}
	chosen := r.URL.Query()["game"]
	var reports []debrief.Report
	for _, code := range codes[:min(len(codes), mostTrended)] {
		report, err := all.reports.DebriefOf(r.Context(), code)
		switch {
		case r.Context().Err() != nil:
			return
		case err != nil:
			all.log.Error("a game is left out of the trends", "game", code, "error", err)
			view.Unread++
			continue
		case report.Share.Of == 0:
			continue
		}
		wanted := len(chosen) == 0 || slices.Contains(chosen, code)
		view.Games = append(view.Games, trendGame{code, report.Title, report.Date, report.Ended, report.Share, wanted})
		if wanted {
			reports = append(reports, withoutTeams(report))
		}
	}
	slices.SortStableFunc(view.Games, func(a, b trendGame) int { return strings.Compare(a.Date, b.Date) })
	view.Trends = debrief.Trend(reports)
	wire.Answer(w, http.StatusOK, view)
}

// trended are the games of a season, or all that are kept.
func (all *Seasons) trended(ctx context.Context, season string) ([]string, error) {
	games, err := all.store.Games(ctx)
	if err != nil {
		return nil, err
	}
	var kept []string
	for _, g := range games {
		if !book.Is(g.ID) { // a tournament's log is no game's
			kept = append(kept, g.ID)
		}
	}
	if season == "" {
		return kept, nil
	}
	results, err := all.Results(ctx, season)
	if err != nil {
		return nil, err
	}
	var codes []string
	for _, r := range results {
		if len(r.Lines) > 0 && slices.Contains(kept, r.Game) {
			codes = append(codes, r.Game)
		}
	}
	return codes, nil
}

// withoutTeams keeps what a trend is made of, and lets go of the rest.
func withoutTeams(r debrief.Report) debrief.Report {
	r.Teams = nil
	for i := range r.Questions {
		r.Questions[i].Answers = nil
	}
	return r
}
