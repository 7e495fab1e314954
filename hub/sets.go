package hub

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"unicode"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/setfile"
	"fieldsign/refusal"
)

// The plan as a file: the host saves its questions as a set, with how each
// round is played, and loads one into a game that has not begun.

func (h *Hub) getSet(w http.ResponseWriter, r *http.Request) {
	h.ofGame(w, r, r.URL.Query().Get("game"), func(t *table) {
		if t == nil {
			refuse(w, store.ErrUnknownGame)
			return
		}
		set, err := h.planner.setOf(t.plannedNow(), r.URL.Query().Get("name"))
		if err != nil {
			fail(w, h.log, err)
			return
		}
		download(w, "application/jsonl; charset=utf-8", "set.jsonl")
		w.Header().Set("Cache-Control", "no-store")
		if err := set.Write(w); err != nil {
			h.log.Info("a set was not sent to its end", "error", err)
		}
	})
}

// setOf is a plan as a set under a name.
func (p *planner) setOf(plan game.Plan, name string) (setfile.Set, error) {
	if name == "" {
		name = plan.Title
	}
	all, ok := questionsOf(plan)
	if !ok {
		return setfile.Set{}, refuseOldPlan
	}
	bank, err := p.bank(played(plan))
	if err != nil {
		return setfile.Set{}, refusal.New(refusal.BadPlan, err.Error())
	}
	for i := range all {
		all[i].Language, all[i].Rests = catalogue.Language(plan.Language), bank.Rests(all[i])
	}
	set := setfile.Set{Name: name, Roster: plan.Roster, Seed: plan.Seed, Questions: all}
	for i, wish := range p.wishOf(plan).Rounds {
		wish.Set = ""
		r := plan.Rounds[i]
		round := setfile.Round{Count: len(r.Questions), Play: encode(wish)}
		for _, st := range stationsOf(r, all) {
			round.Stations = append(round.Stations, setfile.Station{Count: len(st.Questions), Species: st.Species, Subject: st.Subject, Plate: st.Plate})
		}
		set.Rounds, all = append(set.Rounds, round), all[len(r.Questions):]
	}
	if err := set.Named(); err != nil {
		return set, refusal.New(refusal.BadName, "Choose another name: "+err.Error()+".")
	}
	return set, nil
}

func (h *Hub) postSet(w http.ResponseWriter, r *http.Request) {
	h.ofGame(w, r, r.URL.Query().Get("game"), func(t *table) {
		if t == nil {
			refuse(w, store.ErrUnknownGame)
			return
		}
		plan, err := h.loaded(http.MaxBytesReader(w, r.Body, setfile.MaxBytes+1), t.plannedNow().Roster)
		if err == nil {
			err = t.store(game.Command{Type: game.SetPlan, By: "host", Plan: plan})
		}
		if err != nil {
			fail(w, h.log, err)
			return
		}
		answer(w, http.StatusOK, gameName{t.code, plan.Title})
	})
}

// loaded makes a plan of a set file. A set's roster is one that this hub
// offers: a name could be that of any file.
func (h *Hub) loaded(body io.Reader, usual string) (game.Plan, error) {
	set, err := setfile.Read(body, usual, func(roster string) (*questions.Bank, error) {
		if !h.planner.offers(roster, usual) {
			return nil, fmt.Errorf("its roster is %q, which this hub does not have", printable(roster))
		}
		return h.planner.bank(inLanguage{roster: roster})
	})
	if err != nil {
		return game.Plan{}, refusal.New(refusal.BadSet, "This file can't be loaded: "+err.Error()+".")
	}
	if _, err := h.planner.catalogue.In(set.Language); err != nil {
		return game.Plan{}, refusal.New(refusal.BadSet, "This file can't be loaded: "+err.Error()+".")
	}
	plan := game.Plan{Title: set.Name, Roster: set.Roster, Seed: set.Seed, Language: string(set.Language)}
	for i, r := range set.Rounds {
		round, err := howPlayed(r.Play)
		if err != nil {
			return plan, refusal.New(refusal.BadSet, fmt.Sprintf("This file can't be loaded: how its round %d is played can't be read.", i+1))
		}
		if err := fill(&round, set.Of(i), set.Stations(i)); err != nil {
			return plan, refusal.New(refusal.BadSet, fmt.Sprintf("This file can't be loaded: round %d %v.", i+1, err))
		}
		plan.Rounds = append(plan.Rounds, round)
	}
	return plan, nil
}

// howPlayed reads how a round is played; without a word on that, as the first
// round of a new game is.
func howPlayed(play json.RawMessage) (game.Round, error) {
	wish := firstPlan("").Rounds[0]
	wish.Name = "Loaded set"
	if len(play) > 0 {
		if err := json.Unmarshal(play, &wish); err != nil {
			return game.Round{}, err
		}
	}
	return wish.round(), nil
}

// fill gives a round the questions of a file. Their own subjects count, and
// whether they are typed; and what a station round is, its stations say.
func fill(r *game.Round, set []questions.Question, stations []questions.Station) error {
	if (r.Kind == game.Rotating) != (len(stations) > 0) {
		return errors.New("has stations, or is played at stations, and not both")
	}
	for _, st := range stations {
		as := station(st)
		as.Count = len(st.Questions)
		r.Stations = append(r.Stations, as)
	}
	r.Edited, r.Typed, r.Subjects = true, set[0].Typed, nil
	for i, q := range set {
		if q.Typed != r.Typed {
			return errors.New("mixes typed questions with others")
		}
		if !slices.Contains(r.Subjects, q.Subject) {
			r.Subjects = append(r.Subjects, q.Subject)
		}
		r.Questions = append(r.Questions, asked([]questions.Question{q.Numbered(i + 1)})...)
	}
	return nil
}

// store has a command take effect and returns once it is stored.
func (t *table) store(c game.Command) error {
	err := error(store.ErrUnavailable) // unless the table lives to do it
	t.do(func() {
		if err = t.decide(c); err != nil {
			return
		}
		want := t.state.Seq
		if t.commit(t.hub.ctx); t.adrift || t.state.Seq < want {
			err = store.ErrUnavailable
		}
	})
	return err
}

// printable is a name from a file as it may stand in a message.
func printable(name string) string {
	out := []rune{}
	for _, r := range name {
		if unicode.IsGraphic(r) && len(out) < 40 {
			out = append(out, r)
		}
	}
	return string(out)
}
