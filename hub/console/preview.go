package console

import (
	"fmt"
	"math"
	"net/http"
	"strconv"

	"fieldsign/game"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/table"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
	"fieldsign/refusal"
)

// The host's look at the planned questions, keys and all. It is answered to the
// host key alone; no board and no phone is ever sent any of it.

// preview is what GET /questions.json answers, for one round.
type preview struct {
	Questions []previewQuestion `json:"questions"`
	Plates    []picture.Sheet   `json:"plates"`
}

type previewQuestion struct {
	ID         string     `json:"id"`
	Station    int        `json:"station,omitempty"` // that has it, counted from 1
	Subject    string     `json:"subject"`
	Difficulty int        `json:"difficulty"` // 0: not known
	Prompt     string     `json:"prompt"`
	Typed      bool       `json:"typed"`
	Options    []string   `json:"options"` // of a typed question: the key alone
	Key        int        `json:"key"`
	Reason     string     `json:"reason"`
	Rests      string     `json:"rests,omitempty"`  // the kind of the weakest fact that decides it
	Plate      *int       `json:"plate,omitempty"`  // its place in plates
	Plates     []int      `json:"plates,omitempty"` // drawings that are the options
	Photo      string     `json:"photo,omitempty"`  // the credit of a photo that is shown in the drawing's place
	Told       *plan.Told `json:"told,omitempty"`   // what gives it away
}

func (c *Console) getQuestions(w http.ResponseWriter, r *http.Request) {
	c.Game(w, r, r.URL.Query().Get("game"), func(t *table.Table) {
		planned := t.Planned()
		round, err := strconv.Atoi(r.URL.Query().Get("round"))
		if err != nil || round < 0 || round >= len(planned.Rounds) {
			wire.Refuse(w, refusal.New(refusal.NoRound, fmt.Sprintf("The plan has %d rounds, counted from 0.", len(planned.Rounds))))
			return
		}
		wire.Answer(w, http.StatusOK, c.preview(planned, round))
	})
}

func (c *Console) preview(planned game.Plan, round int) preview {
	out := preview{Questions: []previewQuestion{}, Plates: []picture.Sheet{}}
	drawings := &picture.Folder{Places: map[picture.Sheet]int{}, Room: math.MaxInt}
	tells := plan.ToldIn(planned, round)
	for i, q := range planned.Rounds[round].Questions {
		v := previewQuestion{ID: q.ID, Subject: q.Subject, Prompt: q.Prompt, Typed: q.Typed, Options: q.Options, Key: q.Key, Reason: q.Reason, Told: tells[i]}
		if q.Typed {
			v.Options, v.Key = q.Options[q.Key:q.Key+1], 0
		}
		if whole, ok := plan.QuestionOf(q); ok {
			v.Difficulty, v.Rests = whole.Difficulty, c.Planner.Rests(plan.Played(planned), whole)
		}
		if r := planned.Rounds[round]; r.Kind == game.Rotating {
			v.Station = r.StationOf(i) + 1
			q.Plate = plan.ShownWith(r, i)
		}
		c.illustrate(&v, q, plan.Played(planned).Language, drawings)
		out.Questions = append(out.Questions, v)
	}
	out.Plates = append(out.Plates, drawings.Plates...)
	return out
}

func (c *Console) illustrate(v *previewQuestion, q game.Question, l catalogue.Language, drawings *picture.Folder) {
	var shown []picture.Sheet
	plates, _ := c.Pictures.DrawOf(q, func(int) plate.Hand { return 0 })
	for _, p := range plates {
		shown = append(shown, picture.SheetOf(p, l))
	}
	places, _ := drawings.Put(shown)
	switch {
	case len(q.Plates) > 0:
		v.Plates = places
	case len(places) > 0:
		v.Plate = &places[0]
		if taken, ok := c.Pictures.PhotoOf(q); ok {
			v.Photo = taken.Credit
		}
	}
}
