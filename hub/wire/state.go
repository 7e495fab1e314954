package wire

import (
	"fieldsign/game"
)

// ShowTyped puts the key of a typed question in the place of its options.
func (v *State) ShowTyped(q *game.Question) {
	question := *v.Question
	question.Options = []string{q.Options[q.Key]}
	v.Question = &question
}

// Without leaves the question out for clients that have it.
func (v State) Without(question bool) State {
	if question {
		v.Question, v.Same = nil, true
	}
	return v
}

func (v State) Lead(standings []game.Standing) State {
	if v.Phase == game.Break || v.Phase == game.Ended {
		v.Leaders = standings
	}
	return v
}
