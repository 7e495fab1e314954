// Package report answers what a game taught, for its host.
package report

import (
	"context"
	"errors"
	"log/slog"
	"net/http"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/codes"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
)

// What a game taught, for its host: the report, the raw results, and the
// lessons by which the next game's questions are chosen.

// mostAnswers is the most answers, one for each team and question, up to which
// a report has them one by one, and each team's topics.
const mostAnswers = 10_000

// Reports are the debriefs of a store's games.
type Reports struct {
	store    store.Store
	planner  *plan.Planner
	pictures *picture.Cabinet
	log      *slog.Logger
}

func New(s store.Store, p *plan.Planner, c *picture.Cabinet, log *slog.Logger) *Reports {
	return &Reports{s, p, c, log}
}

// report is what GET /debrief.json answers.
type report struct {
	debrief.Report
	Mixed   []mixedPair `json:"mixed"`   // the pairs that were confused most
	Trimmed bool        `json:"trimmed"` // the answers and the teams' topics are left out: there are too many
}

func (d *Reports) DebriefOf(ctx context.Context, code string) (debrief.Report, error) {
	log, s, err := retention.ReadLog(ctx, d.store, code)
	if err != nil {
		return debrief.Report{}, err
	}
	return d.debrief(log, s.Plan), nil
}

func (d *Reports) debrief(log []game.Event, asked game.Plan) debrief.Report {
	return debrief.Of(log, plan.FactsOf(asked, d.planner.Called(asked.Language)))
}

// AdviceOf is in the catalogue's own names. A game that is no longer kept gives none.
func AdviceOf(ctx context.Context, s store.Store, code string) (debrief.Advice, error) {
	log, state, err := retention.ReadLog(ctx, s, code)
	if errors.Is(err, store.ErrUnknownGame) {
		return debrief.Advice{}, nil
	}
	same := func(name string) string { return name }
	return debrief.Of(log, plan.FactsOf(state.Plan, same)).Advice, err
}

func (d *Reports) GetDebrief(w http.ResponseWriter, r *http.Request) {
	log, s, err := retention.ReadLog(r.Context(), d.store, codeOf(r))
	if err != nil {
		wire.Fail(w, d.log, err)
		return
	}
	shown := trimmed(d.debrief(log, s.Plan), mostAnswers)
	shown.Mixed = d.mixed(log, s.Plan)
	wire.Answer(w, http.StatusOK, shown)
}

func (d *Reports) GetResults(w http.ResponseWriter, r *http.Request) {
	found, err := d.DebriefOf(r.Context(), codeOf(r))
	if err != nil {
		wire.Fail(w, d.log, err)
		return
	}
	wire.Download(w, "text/csv; charset=utf-8", found.Code+".csv")
	w.Header().Set("Cache-Control", "no-store")
	if err := found.WriteCSV(w); err != nil {
		d.log.Info("the results were not sent to their end", "error", err)
	}
}

// codeOf is the game that a request is about.
func codeOf(r *http.Request) string { return codes.Clean(r.URL.Query().Get("game")) }

func trimmed(r debrief.Report, most int) report {
	if len(r.Teams)*len(r.Questions) <= most {
		return report{Report: r}
	}
	for i := range r.Questions {
		r.Questions[i].Answers = nil
	}
	for i := range r.Teams {
		r.Teams[i].Topics = debrief.Topics{}
	}
	return report{Report: r, Trimmed: true}
}
