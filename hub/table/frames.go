package table

import (
	"time"

	"fieldsign/game"
	"fieldsign/hub/audience"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// What a table does with each type of frame. All of it runs in the table's goroutine.

func (t *Table) frame(c *audience.Client, in wire.Inbound) {
	if c.Role == audience.Joining { // it says more before it was greeted
		t.commit()
	}
	if c.Role == "" {
		t.enter(c, in)
		return
	}
	switch {
	case in.Type == "answer" && c.Role == audience.Team:
		t.answer(c, in)
	case in.Type == "buzz" && c.Role == audience.Team:
		t.command(c, in, game.Command{Type: game.PressBuzz, By: c.Team, Question: in.Question, Timing: t.timing(c, in)})
	case in.Type == "do" && c.Role == audience.Host:
		t.host(c, in)
	case in.Type == "do":
		c.Refuse(in.ID, refusal.New(refusal.NotHost, "Only the host's console may do that."))
	default:
		c.Refuse(in.ID, refusal.New(refusal.BadFrame, "There is no frame "+refusal.Quote(in.Type)+" for this role."))
	}
}

// answer finds the option that a typed name means before it is decided on. Any
// other answer says its option: one that was left out is not the first.
func (t *Table) answer(c *audience.Client, in wire.Inbound) {
	if r, q, ok := t.state.Current(); ok && q.Typed && r.Typed {
		option, err := t.house.Planner.Option(plan.Played(t.state.Plan), *q, in.Text)
		if err != nil {
			c.Refuse(in.ID, err)
			return
		}
		in.Option = &option
	}
	if in.Option == nil {
		c.Refuse(in.ID, refusal.New(refusal.BadFrame, "An answer needs its option, counted from 0."))
		return
	}
	t.command(c, in, game.Command{Type: game.GiveAnswer, By: c.Team, Question: in.Question, Option: *in.Option})
}

// command decides a client's command; the reply goes out once it is stored.
func (t *Table) command(c *audience.Client, in wire.Inbound, cmd game.Command) {
	cmd.ID = in.ID
	if cmd.ID == "" {
		c.Refuse("", refusal.New(refusal.BadFrame, "A command needs an id of the client's own."))
		return
	}
	if err := t.decide(cmd); err != nil {
		t.owe(c, in.ID, func() { c.Refuse(in.ID, err) })
		return
	}
	t.owe(c, in.ID, func() { c.Tell(wire.Done{Type: "done", ID: in.ID}) })
}

// owe puts off what a client is told until the commands so far are stored.
func (t *Table) owe(c *audience.Client, id string, say func()) {
	t.replies = append(t.replies, reply{to: c, id: id, say: say})
}

// greet puts off what an onlooker is shown until the commands so far are stored
// or dropped: then it is shown what is true.
func (t *Table) greet(c *audience.Client, say func()) {
	c.Role = audience.Joining
	t.replies = append(t.replies, reply{to: c, say: say, anyway: true})
}

// hostActions are the commands of the host's console.
var hostActions = map[string]bool{
	game.Start: true, game.Next: true, game.Close: true, game.Pause: true, game.Resume: true, game.Skip: true, game.Undo: true,
	game.Rule: true, game.Rename: true, game.Remove: true, game.End: true, game.Extend: true,
	game.Adjust: true, game.Correct: true, game.Mark: true,
}

// edits are those of its actions that change one planned question.
var edits = map[string]bool{game.Strike: true, game.Replace: true, game.Move: true}

func (t *Table) host(c *audience.Client, in wire.Inbound) {
	if in.Action == game.SetPlan {
		t.plan(c, in)
		return
	}
	if edits[in.Action] {
		t.edit(c, in)
		return
	}
	if !hostActions[in.Action] {
		c.Refuse(in.ID, refusal.New(refusal.BadFrame, "There is no action "+refusal.Quote(in.Action)+"."))
		return
	}
	if in.Action == game.Rename && t.house.Refused.Refuses(in.Name) {
		c.Refuse(in.ID, errName)
		return
	}
	option := 0 // which most actions don't look at
	switch {
	case in.Option != nil:
		option = *in.Option
	case in.Action == game.Correct:
		c.Refuse(in.ID, refusal.New(refusal.BadFrame, "A correction needs its option, counted from 0; with -1 the question counts for nothing."))
		return
	}
	phone := t.audience.Phone(t.state.Find(in.Team))
	t.command(c, in, game.Command{Type: in.Action, By: "host", Team: in.Team, Name: in.Name, Right: in.Right,
		Question: in.Question, Option: option, Seconds: in.Seconds, Extra: in.Extra})
	if in.Action == game.Remove && phone != nil && t.state.Find(in.Team) < 0 {
		t.owe(phone, "", func() { phone.SendAway(wire.CloseRemoved, "removed by the host") })
	}
}

// plan computes questions outside the table's goroutine, which goes on meanwhile.
func (t *Table) plan(c *audience.Client, in wire.Inbound) {
	now := t.state.Plan
	t.house.Later(func() {
		plan, err := t.house.Planner.Make(in.Plan, now)
		t.audience.Post(audience.Message{Call: func() {
			if err != nil {
				c.Refuse(in.ID, err)
				return
			}
			t.command(c, in, game.Command{Type: game.SetPlan, By: "host", Plan: plan})
		}})
	})
}

// edit has the bank of the roster ready before the table waits for it.
func (t *Table) edit(c *audience.Client, in wire.Inbound) {
	cmd := game.Command{Type: in.Action, By: "host", Round: in.Round, Question: in.Question, To: in.To}
	if in.Action != game.Replace {
		t.command(c, in, cmd)
		return
	}
	asks := plan.Played(t.state.Plan)
	t.house.Later(func() {
		t.house.Planner.Bank(asks) // an error comes up again below
		t.audience.Post(audience.Message{Call: func() { t.replace(c, in, cmd) }})
	})
}

// replace leaves it to the game to say that the question is gone already, be it
// by this very command.
func (t *Table) replace(c *audience.Client, in wire.Inbound, cmd game.Command) {
	if t.state.Phase == game.Lobby && t.state.Plan.PlaceOf(in.Round, in.Question) >= 0 {
		with, err := t.house.Planner.Another(t.state.Plan, in.Round, in.Question)
		if err != nil {
			t.owe(c, in.ID, func() { c.Refuse(in.ID, err) })
			return
		}
		cmd.With = with
	}
	t.command(c, in, cmd)
}

// timing is what is known of a press, on the game's clock.
func (t *Table) timing(c *audience.Client, in wire.Inbound) game.Timing {
	known := game.Timing{Got: t.journal.Micros(in.Received)}
	if len(t.state.Presses) == 0 {
		known.Wait = t.longestOfOthers(c).Microseconds()
	}
	stamped, told := audience.OfMillis(in.At)
	at, bound, ok := c.Link.Hub(stamped, in.Received)
	if !told || !ok || in.At <= 0 {
		known.Pressed = known.Got
		return known
	}
	known.Pressed, known.Bound, known.Back = t.journal.Micros(at), bound.Microseconds(), c.Link.Longest().Microseconds()
	return known
}

// longestOfOthers is how long a press of another team that may still buzz can
// take to arrive.
func (t *Table) longestOfOthers(c *audience.Client) time.Duration {
	longest := time.Duration(0)
	for i := range t.state.Teams {
		if other := t.audience.Phone(i); other != nil && other != c && !t.state.Teams[i].Removed && !t.state.Teams[i].Locked {
			longest = max(longest, other.Link.Longest())
		}
	}
	return longest
}
