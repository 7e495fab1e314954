package coach

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"

	"fieldsign/game"
	meetings "fieldsign/game/season"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/guide"
	"fieldsign/questions/paper"
	"fieldsign/refusal"
)

// The papers of a meeting that is to come: a quiz on its animals, the quiz's key, and a
// study sheet of what is new. The quiz has other questions than the meeting's game.

const study = "study"

var errNoPaper = refusal.New(refusal.BadPaper, "Papers are printed for meetings that are to come. Reload the page.")

// getPaper answers a PDF. The query says of which season, date, kind and size.
func (c *Coach) getPaper(w http.ResponseWriter, r *http.Request) {
	asked := r.URL.Query()
	pdf, err := c.paper(r.Context(), asked, todayOf(r))
	var told refusal.Refusal
	if err != nil && !errors.As(err, &told) {
		err = refusal.New(refusal.NotPrinted, "This can't be put on paper: "+err.Error()+".")
	}
	if err != nil {
		wire.Fail(w, c.Log, err)
		return
	}
	wire.Download(w, "application/pdf", asked.Get("date")+"-"+asked.Get("kind")+".pdf")
	w.Header().Set("Cache-Control", "no-store")
	w.Write(pdf)
}

func (c *Coach) paper(ctx context.Context, asked url.Values, today meetings.Day) ([]byte, error) {
	id, kind, size := asked.Get("season"), asked.Get("kind"), cmp.Or(asked.Get("size"), "a4")
	if !slices.Contains([]string{"quiz", "key", study}, kind) || size != "a4" && size != "letter" {
		return nil, refusal.New(refusal.BadPaper, "A meeting has a quiz, a key and a study sheet (study), on a4 or letter.")
	}
	k, found, err := c.planOf(ctx, id)
	day, wrong := dayOf(asked.Get("date"))
	if err != nil || !found || wrong != nil {
		return nil, cmp.Or(err, error(errNoPaper))
	}
	if k.Seed == 0 {
		err = c.keep(ctx, id, func(now *kept) {
			now.Seed = cmp.Or(now.Seed, plan.NewSeed())
			k.Seed = now.Seed
		})
	}
	if err != nil {
		return nil, err
	}
	m, err := c.make(ctx, id, k, today)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(m.Agendas, func(a meetings.Agenda) bool { return a.Day == day })
	if at < 0 {
		return nil, errNoPaper
	}
	wish := k.Wish.game(id, m.Agendas[at])
	if kind == study {
		return c.studySheet(k.Wish, m.Agendas[at].New, wish.Title, size)
	}
	const rounds = 1000 // more than a plan has: each has a seed of its own
	wish.Seed = k.Seed + rounds*uint64(day)
	planned, err := c.Planner.Make(wish, game.Plan{})
	if err != nil {
		return nil, err
	}
	return c.Print(planned, kind, size)
}

// studySheet has a page for each animal that is new in a meeting, in the subjects in
// which it is.
func (c *Coach) studySheet(w Wish, fresh []meetings.Item, title, size string) ([]byte, error) {
	if len(fresh) == 0 {
		return nil, refusal.New(refusal.BadPaper, "Nothing is new in this meeting: it has a quiz and a key.")
	}
	roster, err := c.Planner.Catalogue.Roster(w.Roster)
	if err != nil {
		return nil, err
	}
	var entries []catalogue.Entry
	for _, i := range fresh {
		at := slices.IndexFunc(entries, func(e catalogue.Entry) bool { return e.Species == i.Animal })
		if at < 0 {
			at = len(entries)
			entries = append(entries, catalogue.Entry{Species: i.Animal})
		}
		entries[at].Subjects = append(entries[at].Subjects, i.Subject)
	}
	g, err := guide.Sheet(c.Planner.Words(w.language()), roster, entries, title)
	if err != nil {
		return nil, fmt.Errorf("its study sheet: %w", err)
	}
	var b bytes.Buffer
	err = paper.WriteSheet(&b, size, g)
	return b.Bytes(), err
}
