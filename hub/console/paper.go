package console

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"

	"fieldsign/game"
	"fieldsign/hub/plan"
	"fieldsign/hub/table"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/guide"
	"fieldsign/questions/guide/onepage"
	"fieldsign/questions/paper"
	"fieldsign/refusal"
)

// The game's own questions on paper, for its host: what fieldsign paper, fieldsign
// plates and fieldsign guide make, without a shell.

// ofRoster is what is made of the roster, by its kind; all else is of the questions.
var ofRoster = map[string]func(*Console, io.Writer, game.Plan, string) error{
	"plates":    (*Console).printPlates,
	"guide":     guidePart("guide"),
	"worksheet": guidePart("worksheet"),
	"answers":   guidePart("answers"),
	guidePage:   (*Console).writeGuidePage,
}

// guidePage is the guide as one web page; all else are PDFs.
const guidePage = "page"

// getPaper answers a PDF, or the guide's page. The query says of which game, as
// what, of which round (counted from 0; none: of all rounds without stations) and
// on what size.
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
		if kind == guidePage {
			wire.Download(w, "text/html; charset=utf-8", t.Code+"-guide.html")
		} else {
			wire.Download(w, "application/pdf", t.Code+"-"+kind+".pdf")
		}
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
	if made, is := ofRoster[kind]; is {
		return made(c, b, planned, size)
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

func (c *Console) printPlates(w io.Writer, planned game.Plan, size string) error {
	roster, err := c.Planner.Catalogue.Roster(planned.Roster)
	if err != nil {
		return err
	}
	items, _, err := paper.Collect(c.Planner.Words(catalogue.Language(planned.Language)), roster, catalogue.Usual, "")
	if err != nil {
		return err
	}
	return paper.Sheets(w, size, items, false)
}

// guideOf is the study guide to a plan's roster, in the plan's language. The order
// of its worksheet does not come from the game's seed, which it could betray.
func (c *Console) guideOf(planned game.Plan) (*guide.Guide, error) {
	roster, err := c.Planner.Catalogue.Roster(planned.Roster)
	if err != nil {
		return nil, err
	}
	return guide.New(c.Planner.Words(catalogue.Language(planned.Language)), roster, 1)
}

func guidePart(kind string) func(*Console, io.Writer, game.Plan, string) error {
	return func(c *Console, w io.Writer, planned game.Plan, size string) error {
		g, err := c.guideOf(planned)
		if err != nil {
			return err
		}
		_, err = paper.WriteGuide(w, size, kind, g)
		return err
	}
}

func (c *Console) writeGuidePage(w io.Writer, planned game.Plan, _ string) error {
	g, err := c.guideOf(planned)
	if err != nil {
		return err
	}
	return onepage.Write(w, g)
}
