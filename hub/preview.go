package hub

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/refusal"
)

// The host's look at the planned questions, keys and all. It is answered to the
// host key alone; no board and no phone is ever sent any of it.

// preview is what GET /questions.json answers, for one round.
type preview struct {
	Questions []previewQuestion `json:"questions"`
	Plates    []exercisePlate   `json:"plates"`
}

type previewQuestion struct {
	ID         string   `json:"id"`
	Station    int      `json:"station,omitempty"` // that has it, counted from 1
	Subject    string   `json:"subject"`
	Difficulty int      `json:"difficulty"` // 0: not known
	Prompt     string   `json:"prompt"`
	Typed      bool     `json:"typed"`
	Options    []string `json:"options"` // of a typed question: the key alone
	Key        int      `json:"key"`
	Reason     string   `json:"reason"`
	Rests      string   `json:"rests,omitempty"`  // the kind of the weakest fact that decides it
	Plate      *int     `json:"plate,omitempty"`  // its place in plates
	Plates     []int    `json:"plates,omitempty"` // drawings that are the options
	Photo      string   `json:"photo,omitempty"`  // the credit of a photo that is shown in the drawing's place
	Told       *told    `json:"told,omitempty"`   // what gives it away
}

// told names a question that tells what a later one asks, counted from 1.
type told struct {
	Round    int `json:"round"`
	Question int `json:"question"`
}

func (h *Hub) getQuestions(w http.ResponseWriter, r *http.Request) {
	h.ofGame(w, r, r.URL.Query().Get("game"), func(t *table) {
		if t == nil {
			refuse(w, store.ErrUnknownGame)
			return
		}
		plan := t.plannedNow()
		round, err := strconv.Atoi(r.URL.Query().Get("round"))
		if err != nil || round < 0 || round >= len(plan.Rounds) {
			refuse(w, refusal.New(refusal.NoRound, fmt.Sprintf("The plan has %d rounds, counted from 0.", len(plan.Rounds))))
			return
		}
		answer(w, http.StatusOK, h.preview(plan, round))
	})
}

// plannedNow is the plan as it stands. Its questions are not changed in place,
// so they may be read without the table.
func (t *table) plannedNow() (plan game.Plan) {
	t.do(func() { plan = t.state.Plan })
	return plan
}

func (h *Hub) preview(plan game.Plan, round int) preview {
	out := preview{Questions: []previewQuestion{}, Plates: []exercisePlate{}}
	drawings := &folder{places: map[exercisePlate]int{}, room: math.MaxInt}
	tells := toldIn(plan, round)
	for i, q := range plan.Rounds[round].Questions {
		v := previewQuestion{ID: q.ID, Subject: q.Subject, Prompt: q.Prompt, Typed: q.Typed, Options: q.Options, Key: q.Key, Reason: q.Reason, Told: tells[i]}
		if q.Typed {
			v.Options, v.Key = q.Options[q.Key:q.Key+1], 0
		}
		if whole, ok := questionOf(q); ok {
			v.Difficulty, v.Rests = whole.Difficulty, h.planner.rests(played(plan), whole)
		}
		if r := plan.Rounds[round]; r.Kind == game.Rotating {
			v.Station = r.StationOf(i) + 1
			q.Plate = shownWith(r, i)
		}
		h.illustrate(&v, q, played(plan).language, drawings)
		out.Questions = append(out.Questions, v)
	}
	out.Plates = append(out.Plates, drawings.plates...)
	return out
}

// rests is the kind of the weakest fact that decides a question, or nothing
// where its roster can't be had any more.
func (p *planner) rests(in inLanguage, q questions.Question) string {
	bank, err := p.bank(in)
	if err != nil {
		return ""
	}
	return bank.Rests(q).String()
}

// shownWith is the plate of a station, shown with the first of its questions.
func shownWith(r game.Round, question int) (p game.Plate) {
	station := r.StationOf(question)
	if first, _ := r.At(station); first == question {
		p = r.Stations[station].Plate
	}
	return p
}

func (h *Hub) illustrate(v *previewQuestion, q game.Question, l catalogue.Language, drawings *folder) {
	var shown []exercisePlate
	for _, p := range platesOf(q) {
		drawn, _ := h.drawings.of(p, 0)
		shown = append(shown, exercisePlate{string(drawn.SVG), drawn.AltIn(l)})
	}
	places, _ := drawings.put(shown)
	switch {
	case len(q.Plates) > 0:
		v.Plates = places
	case len(places) > 0:
		v.Plate = &places[0]
		if taken, ok := h.photos.of(q); ok {
			v.Photo = taken.Credit
		}
	}
}

// toldIn says of a round's questions which are given away, and by what.
func toldIn(plan game.Plan, round int) []*told {
	out := make([]*told, len(plan.Rounds[round].Questions))
	all, ok := questionsOf(plan)
	if !ok {
		return out
	}
	var names []told
	for i, r := range plan.Rounds {
		for j := range r.Questions {
			names = append(names, told{i + 1, j + 1})
		}
	}
	first := slices.Index(names, told{round + 1, 1})
	for i, by := range questions.Told(all)[first : first+len(out)] {
		if by >= 0 {
			out[i] = &names[by]
		}
	}
	return out
}
