package hub

import (
	"fieldsign/game"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
)

// The host's changes to planned questions.

// editActions are the actions of the console that change one question.
var editActions = []string{game.Strike, game.Replace, game.Move}

// edit has the bank of the roster ready before the table waits for it.
func (t *table) edit(c *client, in wire.Inbound) {
	cmd := game.Command{Type: in.Action, By: "host", Round: in.Round, Question: in.Question, To: in.To}
	if in.Action != game.Replace {
		t.command(c, in, cmd)
		return
	}
	asks := plan.Played(t.state.Plan)
	go func() {
		t.hub.planner.Bank(asks) // an error comes up again below
		t.post(message{call: func() { t.replace(c, in, cmd) }})
	}()
}

// replace leaves it to the game to say that the question is gone already, be it
// by this very command.
func (t *table) replace(c *client, in wire.Inbound, cmd game.Command) {
	if t.state.Phase == game.Lobby && plan.Planned(t.state.Plan, in.Round, in.Question) >= 0 {
		with, err := t.hub.planner.Another(t.state.Plan, in.Round, in.Question)
		if err != nil {
			t.owe(c, in.ID, func() { c.refuse(in.ID, err) })
			return
		}
		cmd.With = with
	}
	t.command(c, in, cmd)
}
