package hub

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"fieldsign/game"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/paper"
)

// The game's own questions on paper, for its host: what fieldsign paper and
// fieldsign plates print, without a shell.

const plates = "plates" // is printed of the roster, all else of the questions

// getPaper answers a PDF. The query says of which game, as what, of which round
// (counted from 0; none: of all rounds without stations) and on what size.
func (h *Hub) getPaper(w http.ResponseWriter, r *http.Request) {
	h.ofGame(w, r, r.URL.Query().Get("game"), func(t *table) {
		if t == nil {
			unknownCode(w)
			return
		}
		asked := r.URL.Query()
		kind, size := asked.Get("kind"), cmp.Or(asked.Get("size"), "a4")
		var b bytes.Buffer // a failed run sends no half of a file
		err := h.print(&b, t.plannedNow(), kind, asked.Get("round"), size, len(t.namesNow()))
		var refusal game.Refusal
		switch {
		case errors.As(err, &refusal):
			answer(w, http.StatusUnprocessableEntity, asRefusal("", err))
			return
		case err != nil:
			answer(w, http.StatusUnprocessableEntity, refused{"refused", "", "not_printed", "This can't be put on paper: " + err.Error() + "."})
			return
		}
		w.Header().Set("Content-Type", "application/pdf")
		w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", t.code+"-"+kind+".pdf"))
		w.Header().Set("Cache-Control", "no-store")
		w.Write(b.Bytes())
	})
}

// namesNow are the teams in the game.
func (t *table) namesNow() (names []string) {
	t.do(func() {
		for _, st := range t.standings() {
			names = append(names, st.Name)
		}
	})
	return names
}

// leastRows leaves room on a score sheet for teams that come late.
const (
	leastRows = 12
	mostRows  = 60
)

func (h *Hub) print(b *bytes.Buffer, plan game.Plan, kind, round, size string, teams int) error {
	if size != "a4" && size != "letter" {
		return game.Refusal{Code: "bad_paper", Message: "Paper is a4 or letter."}
	}
	if kind == plates {
		return h.printPlates(b, plan, size)
	}
	if !slices.Contains(paper.Kinds(), kind) {
		return game.Refusal{Code: "bad_paper", Message: fmt.Sprintf("Nothing is printed as %q.", printable(kind))}
	}
	quiz, err := h.quizOf(plan, round)
	if err != nil {
		return err
	}
	quiz.Teams = min(max(teams, leastRows), mostRows)
	return quiz.Write(b, size, kind)
}

// quizOf is a round, or all those that are no station rounds.
func (h *Hub) quizOf(plan game.Plan, round string) (paper.Quiz, error) {
	all, ok := questionsOf(plan)
	if !ok {
		return paper.Quiz{}, refuseOldPlan
	}
	only := -1
	if round != "" {
		n, err := strconv.Atoi(round)
		if err != nil || n < 0 || n >= len(plan.Rounds) {
			return paper.Quiz{}, game.Refusal{Code: "no_round", Message: fmt.Sprintf("The plan has %d rounds, counted from 0.", len(plan.Rounds))}
		}
		only = n
	}
	language := catalogue.Language(plan.Language)
	quiz := paper.Quiz{Catalogue: h.planner.words(language), Title: plan.Title, Name: fmt.Sprintf("%s, seed %d", plan.Roster, plan.Seed), Seed: plan.Seed, Papers: 1, PerStation: 3}
	for i := range all {
		all[i].Language = language
	}
	for i, r := range plan.Rounds {
		own := all[:len(r.Questions)]
		all = all[len(r.Questions):]
		switch {
		case only >= 0 && i != only:
		case r.Kind == game.Rotating && only == i:
			quiz = quiz.Rotating(stationsOf(r, own))
			quiz.Seconds, quiz.Walk = r.Seconds, r.Walk
		case r.Kind != game.Rotating:
			quiz.Set = append(quiz.Set, own...)
		}
	}
	return quiz, nil
}

func (h *Hub) printPlates(b *bytes.Buffer, plan game.Plan, size string) error {
	roster, err := h.planner.catalogue.Roster(plan.Roster)
	if err != nil {
		return err
	}
	items, _, err := paper.Collect(h.planner.words(catalogue.Language(plan.Language)), roster, paper.Subjects(), "")
	if err != nil {
		return err
	}
	return paper.Sheets(b, size, items, false)
}
