package console

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"fieldsign/game"
	"fieldsign/hub/plan"
	"fieldsign/hub/table"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/paper"
	"fieldsign/refusal"
)

// The game's own questions on paper, for its host: what fieldsign paper and
// fieldsign plates print, without a shell.

const plates = "plates" // is printed of the roster, all else of the questions

// getPaper answers a PDF. The query says of which game, as what, of which round
// (counted from 0; none: of all rounds without stations) and on what size.
func (c *Console) getPaper(w http.ResponseWriter, r *http.Request) {
	c.Game(w, r, r.URL.Query().Get("game"), func(t *table.Table) {
		asked := r.URL.Query()
		kind, size := asked.Get("kind"), cmp.Or(asked.Get("size"), "a4")
		teams := 0
		t.Look(func(s *game.State) { teams, _, _ = s.Playing() })
		var b bytes.Buffer // a failed run sends no half of a file
		err := c.print(&b, t.Planned(), kind, asked.Get("round"), size, teams)
		var told refusal.Refusal
		if err != nil && !errors.As(err, &told) {
			err = refusal.New(refusal.NotPrinted, "This can't be put on paper: "+err.Error()+".")
		}
		if err != nil {
			wire.Refuse(w, err)
			return
		}
		w.Header().Set("Content-Type", "application/pdf")
		w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", t.Code+"-"+kind+".pdf"))
		w.Header().Set("Cache-Control", "no-store")
		w.Write(b.Bytes())
	})
}

// leastRows leaves room on a score sheet for teams that come late.
const (
	leastRows = 12
	mostRows  = 60
)

func (c *Console) print(b *bytes.Buffer, planned game.Plan, kind, round, size string, teams int) error {
	if size != "a4" && size != "letter" {
		return refusal.New(refusal.BadPaper, "Paper is a4 or letter.")
	}
	if kind == plates {
		return c.printPlates(b, planned, size)
	}
	if !slices.Contains(paper.Kinds(), kind) {
		return refusal.New(refusal.BadPaper, fmt.Sprintf("Nothing is printed as %s.", refusal.Quote(kind)))
	}
	quiz, err := c.quizOf(planned, round)
	if err != nil {
		return err
	}
	quiz.Teams = min(max(teams, leastRows), mostRows)
	return quiz.Write(b, size, kind)
}

// quizOf is a round, or all those that are no station rounds.
func (c *Console) quizOf(planned game.Plan, round string) (paper.Quiz, error) {
	all, ok := plan.QuestionsOf(planned)
	if !ok {
		return paper.Quiz{}, plan.RefuseOldPlan
	}
	only := -1
	if round != "" {
		n, err := strconv.Atoi(round)
		if err != nil || n < 0 || n >= len(planned.Rounds) {
			return paper.Quiz{}, refusal.New(refusal.NoRound, fmt.Sprintf("The plan has %d rounds, counted from 0.", len(planned.Rounds)))
		}
		only = n
	}
	language := catalogue.Language(planned.Language)
	quiz := paper.Quiz{Catalogue: c.Planner.Words(language), Title: planned.Title, Name: planned.Roster, Seed: planned.Seed, Papers: 1, PerStation: 3}
	for i := range all {
		all[i].Language = language
	}
	for i, r := range planned.Rounds {
		own := all[:len(r.Questions)]
		all = all[len(r.Questions):]
		switch {
		case only >= 0 && i != only:
		case r.Kind == game.Rotating && only == i:
			quiz = quiz.Rotating(plan.StationsOf(r, own))
			quiz.Seconds, quiz.Walk = r.Seconds, r.Walk
		case r.Kind != game.Rotating:
			quiz.Set = append(quiz.Set, own...)
		}
	}
	return quiz, nil
}

func (c *Console) printPlates(b *bytes.Buffer, planned game.Plan, size string) error {
	roster, err := c.Planner.Catalogue.Roster(planned.Roster)
	if err != nil {
		return err
	}
	items, _, err := paper.Collect(c.Planner.Words(catalogue.Language(planned.Language)), roster, paper.Subjects(), "")
	if err != nil {
		return err
	}
	return paper.Sheets(b, size, items, false)
}
