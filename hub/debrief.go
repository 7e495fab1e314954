package hub

import (
	"context"
	"errors"
	"net/http"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/codes"
	"fieldsign/hub/plan"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
)

// What a game taught, for its host: the report, the raw results, and the
// lessons by which the next game's questions are chosen.

// mostAnswers is the most answers, one for each team and question, up to which
// a report has them one by one, and each team's topics.
const mostAnswers = 10_000

// report is what GET /debrief.json answers.
type report struct {
	debrief.Report
	Trimmed bool `json:"trimmed"` // the answers and the teams' topics are left out: there are too many
}

// logOf reads a game from the store, running or ended.
func (h *Hub) logOf(ctx context.Context, code string) ([]game.Event, error) {
	return ReadLog(ctx, h.store, code)
}

func (h *Hub) debriefOf(ctx context.Context, code string) (debrief.Report, error) {
	log, err := h.logOf(ctx, code)
	if err != nil {
		return debrief.Report{}, err
	}
	return debrief.Of(log, plan.FactsOf(log, h.planner.Called(game.Replay(log).Plan.Language))), nil
}

// adviceOf is in the catalogue's own names. A game that is no longer kept gives none.
func (h *Hub) adviceOf(code string) (debrief.Advice, error) {
	log, err := h.logOf(h.ctx, code)
	if errors.Is(err, store.ErrUnknownGame) {
		return debrief.Advice{}, nil
	}
	same := func(name string) string { return name }
	return debrief.Of(log, plan.FactsOf(log, same)).Advice, err
}

func (h *Hub) getDebrief(w http.ResponseWriter, r *http.Request) {
	if found, ok := h.debriefFor(w, r); ok {
		wire.Answer(w, http.StatusOK, trimmed(found, mostAnswers))
	}
}

func (h *Hub) getResults(w http.ResponseWriter, r *http.Request) {
	found, ok := h.debriefFor(w, r)
	if !ok {
		return
	}
	wire.Download(w, "text/csv; charset=utf-8", found.Code+".csv")
	w.Header().Set("Cache-Control", "no-store")
	if err := found.WriteCSV(w); err != nil {
		h.log.Info("the results were not sent to their end", "error", err)
	}
}

// debriefFor answers itself where there is no report.
func (h *Hub) debriefFor(w http.ResponseWriter, r *http.Request) (debrief.Report, bool) {
	found, err := h.debriefOf(r.Context(), codes.Clean(r.URL.Query().Get("game")))
	if err != nil {
		wire.Fail(w, h.log, err)
	}
	return found, err == nil
}

func trimmed(r debrief.Report, most int) report {
	if len(r.Teams)*len(r.Questions) <= most {
		return report{r, false}
	}
	for i := range r.Questions {
		r.Questions[i].Answers = nil
	}
	for i := range r.Teams {
		r.Teams[i].Topics = debrief.Topics{}
	}
	return report{r, true}
}
