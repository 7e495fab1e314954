package hub

import (
	"context"
	"errors"
	"net/http"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/store"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
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

// factsOf collects what a game's questions are about; say puts each name into
// the words to be shown.
func factsOf(log []game.Event, say func(string) string) debrief.Facts {
	facts := debrief.Facts{}
	for _, r := range game.Replay(log).Plan.Rounds {
		for _, q := range r.Questions {
			a := debrief.About(q.About)
			a.Species, a.Stated, a.Animals, a.Traits = each(a.Species, say), each(a.Stated, say), each(a.Animals, say), each(a.Traits, say)
			facts[q.ID] = a
		}
	}
	return facts
}

func each(names []string, say func(string) string) []string {
	var out []string
	for _, n := range names {
		out = append(out, say(n))
	}
	return out
}

// called gives, in a language, a species' usual name or a trait's label; other
// names stay.
func (p *planner) called(language string) func(name string) string {
	words := p.words(catalogue.Language(language))
	return func(name string) string {
		if s, ok := words.Find(name); ok {
			return s.Vernacular
		}
		if t, ok := words.Trait(name); ok {
			return t.Label
		}
		return name
	}
}

// words is the catalogue in a language, or in English where a game's language
// is no longer there.
func (p *planner) words(l catalogue.Language) *catalogue.Catalogue {
	if words, err := p.catalogue.In(l); err == nil {
		return words
	}
	return p.catalogue
}

func (h *Hub) debriefOf(ctx context.Context, code string) (debrief.Report, error) {
	log, err := h.logOf(ctx, code)
	if err != nil {
		return debrief.Report{}, err
	}
	return debrief.Of(log, factsOf(log, h.planner.called(game.Replay(log).Plan.Language))), nil
}

// adviceOf is in the catalogue's own names. A game that is no longer kept gives none.
func (h *Hub) adviceOf(code string) (debrief.Advice, error) {
	log, err := h.logOf(h.ctx, code)
	if errors.Is(err, store.ErrUnknownGame) {
		return debrief.Advice{}, nil
	}
	same := func(name string) string { return name }
	return debrief.Of(log, factsOf(log, same)).Advice, err
}

func (h *Hub) getDebrief(w http.ResponseWriter, r *http.Request) {
	if found, ok := h.debriefFor(w, r); ok {
		answer(w, http.StatusOK, trimmed(found, mostAnswers))
	}
}

func (h *Hub) getResults(w http.ResponseWriter, r *http.Request) {
	found, ok := h.debriefFor(w, r)
	if !ok {
		return
	}
	download(w, "text/csv; charset=utf-8", found.Code+".csv")
	w.Header().Set("Cache-Control", "no-store")
	if err := found.WriteCSV(w); err != nil {
		h.log.Info("the results were not sent to their end", "error", err)
	}
}

// debriefFor answers itself where there is no report.
func (h *Hub) debriefFor(w http.ResponseWriter, r *http.Request) (debrief.Report, bool) {
	found, err := h.debriefOf(r.Context(), cleanCode(r.URL.Query().Get("game")))
	if err != nil {
		fail(w, h.log, err)
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

// aboutOf keeps of a question what the debrief wants to know.
func aboutOf(q questions.Question) game.About {
	a := game.About{Template: q.Template}
	for _, o := range q.Options {
		if o.Species != "" {
			a.Species = append(a.Species, o.Species)
		} else if o.Test != nil {
			a.Stated = append(a.Stated, o.Test.All[0].Trait)
		}
	}
	if q.About != nil {
		a.Animals = append(a.Animals, q.About.Is)
		if q.About.Not != "" {
			a.Animals = append(a.Animals, q.About.Not)
		}
	}
	seen := map[string]bool{}
	for _, f := range q.Facts() {
		if !seen[f.Trait] {
			a.Traits = append(a.Traits, f.Trait)
		}
		seen[f.Trait] = true
	}
	return a
}

// lessons are an advice in the planner's terms, and how many of its pairs have
// had their turn in the rounds planned so far.
type lessons struct {
	pairs                     []questions.Pair
	subjects, species, traits map[string]float64
	turn                      int
}

// unknown is the weight of a topic of which nothing is known: half is wrong.
const unknown = 50

func lessonsOf(a debrief.Advice) lessons {
	weights := func(list []debrief.Weight) map[string]float64 {
		out := map[string]float64{}
		for _, w := range list {
			out[w.Name] = float64(w.Weight) / unknown
		}
		return out
	}
	l := lessons{subjects: weights(a.Subjects), species: weights(a.Species), traits: weights(a.Traits)}
	for _, p := range a.Pairs {
		l.pairs = append(l.pairs, questions.Pair{Subject: p.Subject, A: p.A, B: p.B})
	}
	return l
}

// steer adds the lessons to a round's wish. A round goes on with the pairs
// where the one before it stopped.
func (l *lessons) steer(w *questions.Wish) {
	w.Species, w.Traits = l.species, l.traits
	if n := len(l.pairs); n > 0 {
		at := l.turn % n
		w.Pairs = append(append(w.Pairs, l.pairs[at:]...), l.pairs[:at]...)
		l.turn += questions.Comparisons(w.Count)
	}
	if len(l.subjects) == 0 {
		return
	}
	for _, s := range w.Subjects {
		share, known := l.subjects[s]
		if !known {
			share = 1
		}
		w.Shares = append(w.Shares, max(1, int(share*unknown)))
	}
}
