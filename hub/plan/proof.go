package plan

import (
	"encoding/json"

	"fieldsign/game"
	"fieldsign/questions"
)

// A question goes to the game without what proves its key: the rules need none
// of it. It travels along as text, so that a planned question can be looked
// through, replaced and saved as a set after any restart.

// proof is that text: what a questions.Question has beside a game.Question.
type proof struct {
	Difficulty int                `json:"difficulty"`
	Test       questions.Test     `json:"test"`
	About      *questions.About   `json:"about,omitempty"`
	Options    []questions.Option `json:"options,omitempty"` // their tests alone, where they have any
	Mark       *questions.Test    `json:"mark,omitempty"`    // of the plate
}

func proofOf(q questions.Question) string {
	p := proof{Difficulty: q.Difficulty, Test: q.Test, About: q.About}
	if q.Plate != nil {
		p.Mark = q.Plate.Test
	}
	own := false
	for _, o := range q.Options {
		p.Options = append(p.Options, questions.Option{Test: o.Test, Differ: o.Differ})
		own = own || o.Test != nil || o.Differ != ""
	}
	if !own {
		p.Options = nil
	}
	data, _ := json.Marshal(p) // which never fails
	return string(data)
}

// QuestionOf puts a planned question together again; false is for one that an
// earlier version planned, without its proof.
func QuestionOf(g game.Question) (questions.Question, bool) {
	var p proof
	if json.Unmarshal([]byte(g.Proof), &p) != nil {
		return questions.Question{}, false
	}
	q := questions.Question{ID: g.ID, Template: g.About.Template, Subject: g.Subject, Difficulty: p.Difficulty, Prompt: g.Prompt, Typed: g.Typed,
		About: p.About, Key: g.Key, Reason: g.Reason, Test: p.Test, Options: make([]questions.Option, len(g.Options))}
	if g.Plate != (game.Plate{}) {
		q.Plate = reference(g.Plate)
		q.Plate.Test = p.Mark
	}
	for i := range q.Options {
		o := &q.Options[i]
		if len(p.Options) == len(g.Options) {
			*o = p.Options[i]
		}
		o.Text = g.Options[i]
		if len(g.About.Species) == len(g.Options) {
			o.Species = g.About.Species[i]
		}
		if len(g.Plates) == len(g.Options) {
			o.Plate = reference(g.Plates[i])
		}
	}
	return q, true
}

func reference(p game.Plate) *questions.PlateRef {
	return &questions.PlateRef{Species: p.Species, View: p.View, Mark: p.Mark, Frame: p.Frame, With: p.With, WithView: p.WithView}
}

// QuestionsOf are those of a whole plan, in the order in which they are asked.
func QuestionsOf(p game.Plan) ([]questions.Question, bool) {
	var out []questions.Question
	for _, r := range p.Rounds {
		for _, g := range r.Questions {
			q, ok := QuestionOf(g)
			if !ok {
				return nil, false
			}
			out = append(out, q)
		}
	}
	return out, true
}
