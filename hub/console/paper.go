package console

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
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
var ofRoster = map[string]func(*Console, io.Writer, game.Plan, wantedPaper) error{
	"plates":    (*Console).printPlates,
	"guide":     guidePart("guide"),
	"worksheet": guidePart("worksheet"),
	"answers":   guidePart("answers"),
	guidePage:   (*Console).writeGuidePage,
}

// wantedPaper is what a host asks for on paper.
type wantedPaper struct {
	kind    string
	round   string // counted from 0; empty for all rounds without stations
	size    string // a4 or letter
	perPage int    // plates that share a page; 0 for as many as fit at life size
	teams   int    // that a score sheet has room for, at least
}

// wantedBy reads the query of a request.
func wantedBy(asked url.Values) (wantedPaper, error) {
	want := wantedPaper{kind: asked.Get("kind"), round: asked.Get("round"), size: cmp.Or(asked.Get("size"), "a4")}
	if want.size != "a4" && want.size != "letter" {
		return want, refusal.New(refusal.BadPaper, "Paper is a4 or letter.")
	}
	var err error
	if want.perPage, err = strconv.Atoi(cmp.Or(asked.Get("perPage"), "0")); err == nil {
		err = paper.WrongPerPage(want.perPage)
	}
	if err != nil {
		return want, refusal.New(refusal.BadPaper, "1, 2, 4 or 6 plates share a page.")
	}
	return want, nil
}

// guidePage is the guide as one web page; all else are PDFs.
const guidePage = "page"

// getPaper answers a PDF, or the guide's page. The query says of which game, and
// what is wanted.
func (c *Console) getPaper(w http.ResponseWriter, r *http.Request) {
	c.Game(w, r, r.URL.Query().Get("game"), func(t *table.Table) {
		want, err := wantedBy(r.URL.Query())
		t.Look(func(s *game.State) { want.teams, _, _ = s.Playing() })
		var b bytes.Buffer // a failed run sends no half of a file
		if err == nil {
			err = c.print(&b, t.Planned(), want)
		}
		var told refusal.Refusal
		if err != nil && !errors.As(err, &told) {
			err = refusal.New(refusal.NotPrinted, "This can't be put on paper: "+err.Error()+".")
		}
		if err != nil {
			wire.Refuse(w, err)
			return
		}
		if want.kind == guidePage {
			wire.Download(w, "text/html; charset=utf-8", t.Code+"-guide.html")
		} else {
			wire.Download(w, "application/pdf", t.Code+"-"+want.kind+".pdf")
		}
		w.Header().Set("Cache-Control", "no-store")
		w.Write(b.Bytes())
	})
}

// Print puts a plan's questions on paper as one of paper.Kinds, for whoever has no game
// of them.
func (c *Console) Print(planned game.Plan, kind, size string) ([]byte, error) {
	var b bytes.Buffer
	err := c.print(&b, planned, wantedPaper{kind: kind, size: size})
	return b.Bytes(), err
}

// leastRows leaves room on a score sheet for teams that come late.
const (
	leastRows = 12
	mostRows  = 60
)

func (c *Console) print(b *bytes.Buffer, planned game.Plan, want wantedPaper) error {
	if made, is := ofRoster[want.kind]; is {
		return made(c, b, planned, want)
	}
	if !slices.Contains(paper.Kinds(), want.kind) {
		return refusal.New(refusal.BadPaper, fmt.Sprintf("Nothing is printed as %s.", refusal.Quote(want.kind)))
	}
	quiz, err := c.quizOf(planned, want.round)
	if err != nil {
		return err
	}
	quiz.Teams = min(max(want.teams, leastRows), mostRows)
	return quiz.Write(b, want.size, want.kind)
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
	quiz := paper.Quiz{Catalogue: c.Planner.Words(language), Title: planned.Title, Name: language.Title(planned.Roster), Seed: planned.Seed, Papers: 1, PerStation: 3}
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

func (c *Console) printPlates(w io.Writer, planned game.Plan, want wantedPaper) error {
	roster, err := c.Planner.Catalogue.Roster(planned.Roster)
	if err != nil {
		return err
	}
	items, _, err := paper.Collect(c.Planner.Words(catalogue.Language(planned.Language)), roster, catalogue.Usual, "")
	if err != nil {
		return err
	}
	return paper.Sheets(w, want.size, items, false, want.perPage)
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

func guidePart(kind string) func(*Console, io.Writer, game.Plan, wantedPaper) error {
	return func(c *Console, w io.Writer, planned game.Plan, want wantedPaper) error {
		g, err := c.guideOf(planned)
		if err != nil {
			return err
		}
		_, err = paper.WriteGuide(w, want.size, kind, g)
		return err
	}
}

func (c *Console) writeGuidePage(w io.Writer, planned game.Plan, _ wantedPaper) error {
	g, err := c.guideOf(planned)
	if err != nil {
		return err
	}
	return onepage.Write(w, g)
}
