package hub

import (
	"crypto/sha256"
	"encoding/hex"
	"regexp"
	"slices"

	"fieldsign/game"
	"fieldsign/hub/codes"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// What a table does with each type of frame. All of it runs in the table's goroutine.

func (t *table) frame(c *client, in wire.Inbound) {
	if c.role == joining { // it says more before it was greeted
		t.commit(t.hub.ctx)
	}
	if c.role == "" {
		t.enter(c, in)
		return
	}
	switch {
	case in.Type == "answer" && c.role == team:
		t.answer(c, in)
	case in.Type == "buzz" && c.role == team:
		t.command(c, in, game.Command{Type: game.PressBuzz, By: c.team, Question: in.Question, Timing: t.timing(c, in)})
	case in.Type == "do" && c.role == host:
		t.host(c, in)
	case in.Type == "do":
		c.refuse(in.ID, refusal.New(refusal.NotHost, "Only the host's console may do that."))
	default:
		c.refuse(in.ID, refusal.New(refusal.BadFrame, "There is no frame "+refusal.Quote(in.Type)+" for this role."))
	}
}

// answer finds the option that a typed name means before it is decided on. Any
// other answer says its option: one that was left out is not the first.
func (t *table) answer(c *client, in wire.Inbound) {
	if r, q, ok := t.state.Current(); ok && q.Typed && r.Typed {
		option, err := t.hub.planner.Option(plan.Played(t.state.Plan), *q, in.Text)
		if err != nil {
			c.refuse(in.ID, err)
			return
		}
		in.Option = &option
	}
	if in.Option == nil {
		c.refuse(in.ID, refusal.New(refusal.BadFrame, "An answer needs its option, counted from 0."))
		return
	}
	t.command(c, in, game.Command{Type: game.GiveAnswer, By: c.team, Question: in.Question, Option: *in.Option})
}

// command decides a client's command; the reply goes out once it is stored.
func (t *table) command(c *client, in wire.Inbound, cmd game.Command) {
	cmd.ID = in.ID
	if cmd.ID == "" {
		c.refuse("", refusal.New(refusal.BadFrame, "A command needs an id of the client's own."))
		return
	}
	if err := t.decide(cmd); err != nil {
		t.owe(c, in.ID, func() { c.refuse(in.ID, err) })
		return
	}
	t.owe(c, in.ID, func() { c.tell(wire.Done{Type: "done", ID: in.ID}) })
}

// owe puts off what a client is told until the commands so far are stored.
func (t *table) owe(c *client, id string, say func()) {
	t.replies = append(t.replies, reply{to: c, id: id, say: say})
}

// greet puts off what an onlooker is shown until the commands so far are stored
// or dropped: then it is shown what is true.
func (t *table) greet(c *client, say func()) {
	c.role = joining
	t.replies = append(t.replies, reply{to: c, say: say, anyway: true})
}

// hostActions are the commands of the host's console.
var hostActions = map[string]bool{
	game.Next: true, game.Close: true, game.Pause: true, game.Resume: true, game.Skip: true, game.Undo: true,
	game.Rule: true, game.Rename: true, game.Remove: true, game.End: true, game.Extend: true,
	game.Adjust: true, game.Correct: true, game.Mark: true,
}

func (t *table) host(c *client, in wire.Inbound) {
	if in.Action == game.SetPlan {
		t.plan(c, in)
		return
	}
	if slices.Contains(editActions, in.Action) {
		t.edit(c, in)
		return
	}
	if !hostActions[in.Action] {
		c.refuse(in.ID, refusal.New(refusal.BadFrame, "There is no action "+refusal.Quote(in.Action)+"."))
		return
	}
	if in.Action == game.Rename && t.hub.refused.Refuses(in.Name) {
		c.refuse(in.ID, errName)
		return
	}
	option := 0 // which most actions don't look at
	switch {
	case in.Option != nil:
		option = *in.Option
	case in.Action == game.Correct:
		c.refuse(in.ID, refusal.New(refusal.BadFrame, "A correction needs its option, counted from 0; with -1 the question counts for nothing."))
		return
	}
	phone := t.phone(in.Team)
	t.command(c, in, game.Command{Type: in.Action, By: "host", Team: in.Team, Name: in.Name, Right: in.Right,
		Question: in.Question, Option: option, Seconds: in.Seconds, Extra: in.Extra})
	if in.Action == game.Remove && phone != nil && t.state.Find(in.Team) < 0 {
		t.owe(phone, "", func() { phone.close(wire.CloseRemoved, "removed by the host") })
	}
}

// plan computes questions outside the table's goroutine, which goes on meanwhile.
func (t *table) plan(c *client, in wire.Inbound) {
	now := t.state.Plan
	go func() {
		plan, err := t.hub.planner.Make(in.Plan, now)
		t.post(message{call: func() {
			if err != nil {
				c.refuse(in.ID, err)
				return
			}
			t.command(c, in, game.Command{Type: game.SetPlan, By: "host", Plan: plan})
		}})
	}()
}

// enter takes the first frame, which says who the client is.
func (t *table) enter(c *client, in wire.Inbound) {
	switch in.Type {
	case "join":
		t.join(c, in)
	case "resume":
		t.readmit(c, in)
	case "board":
		t.greet(c, func() { t.admit(c, board, wire.Welcome{}) })
	case "host":
		t.hostEnters(c, in)
	default:
		c.refuse(in.ID, refusal.New(refusal.BadFrame, "The first frame is join, resume, board or host."))
		c.close(wire.CloseBadFrame, "unknown first frame")
	}
}

// tokenShape is what a phone may draw as its own resume token: 128 bits in hex.
var tokenShape = regexp.MustCompile(`^[0-9a-f]{32}$`)

// join seats a new team. A phone that draws its token itself may repeat a join
// whose answer was lost, and gets the same seat.
func (t *table) join(c *client, in wire.Inbound) {
	token := in.Token
	switch {
	case !tokenShape.MatchString(token):
		token = codes.Token()
	case t.holder(token) != nil:
		t.readmit(c, in)
		return
	}
	if !t.hub.guard.Join(c.From, t.code) {
		c.refuse(in.ID, refusal.New(refusal.TooManyJoins, "Many teams have just joined from this network. Wait a minute, then join again."))
		return
	}
	if t.hub.refused.Refuses(in.Name) {
		c.refuse(in.ID, errName)
		return
	}
	if err := t.decide(game.Command{Type: game.Join, By: "hub", Name: in.Name, Secret: secretOf(token)}); err != nil {
		c.refuse(in.ID, err)
		return
	}
	seated := t.state.Teams[len(t.state.Teams)-1]
	c.role = joining
	t.owe(c, in.ID, func() { t.seat(c, seated.ID, token) })
}

// errName does not repeat the name.
var errName = refusal.New(refusal.NameRefused, "That name is not for a class: choose another.")

func (t *table) readmit(c *client, in wire.Inbound) {
	switch tm := t.holder(in.Token); {
	case tm == nil:
		c.close(wire.CloseBadToken, "unknown resume token: join anew")
	case tm.Removed:
		c.close(wire.CloseRemoved, "removed by the host")
	default:
		// A join under way is stored before its seat is taken.
		id := tm.ID
		c.role = joining
		t.owe(c, in.ID, func() { t.seat(c, id, in.Token) })
	}
}

// holder is the team that a resume token belongs to, or nil. Its time tells
// nothing of a token, since what is looked up is a hash.
func (t *table) holder(token string) *game.Team {
	for ; t.knownHolders < len(t.state.Teams); t.knownHolders++ {
		t.holders[t.state.Teams[t.knownHolders].Secret] = t.knownHolders
	}
	if i, ok := t.holders[secretOf(token)]; ok {
		return &t.state.Teams[i]
	}
	return nil
}

// seat admits a team's phone; an older one of the same team goes.
func (t *table) seat(c *client, id, token string) {
	i := t.state.Find(id)
	if i < 0 {
		c.close(wire.CloseRemoved, "removed by the host")
		return
	}
	if old := t.phoneAt(i); old != nil {
		old.close(wire.CloseReplaced, "another device of this team has taken over")
	}
	if more := i + 1 - len(t.phones); more > 0 {
		t.phones = append(t.phones, make([]*client, more)...)
	}
	c.team, c.seat, t.phones[i] = id, i, c
	t.admit(c, team, wire.Welcome{Team: id, Name: t.state.Teams[i].Name, Token: token})
	t.seats[id] = true
}

func (t *table) hostEnters(c *client, in wire.Inbound) {
	if _, ok := t.hub.guard.Key(c.From); !ok && in.Key != "" {
		c.close(wire.CloseLater, "too many wrong host keys from this network: come back later")
		return
	}
	if !t.hub.guard.IsHostKey(in.Key) {
		if in.Key != "" {
			t.hub.guard.WrongKey(c.From)
		}
		c.refuse(in.ID, refusal.New(refusal.WrongKey, "That is not this hub's host key: see the terminal in which it runs."))
		c.close(wire.CloseWrongKey, "wrong host key")
		return
	}
	t.checkSeen(in.Seen)
	t.greet(c, func() { t.seatHost(c, in) })
}

func (t *table) seatHost(c *client, in wire.Inbound) {
	switch {
	case t.console != nil && !in.TakeOver:
		c.role = ""
		c.refuse(in.ID, refusal.New(refusal.HostPresent, "Another console is hosting this game. Take over, or close this page."))
		return
	case t.console != nil:
		t.console.close(wire.CloseReplaced, "another console has taken over")
	}
	t.console, t.sentTeams = c, nil
	c.Stay()
	t.admit(c, host, wire.Welcome{})
}

// admit greets a client in its role and shows it the state.
func (t *table) admit(c *client, r role, w wire.Welcome) {
	c.role = r
	t.hub.metrics.connections.WithLabelValues(string(r)).Inc()
	w.Type, w.Role, w.Game = "welcome", string(r), wire.GameName{Code: t.code, Title: t.state.Plan.Title}
	c.tell(w)
	v := t.plated(t.public())
	switch r {
	case team:
		c.tell(forPhones(v, t.standings()))
		t.presenceChanged = true
	case board:
		c.Allow(listBacklog)
		c.tell(t.boardState(v))
	case host:
		c.Allow(listBacklog)
		c.tell(t.hostState(v))
	}
}

func (t *table) leave(c *client) {
	t.remove(c)
	if c.role == team || c.role == board || c.role == host {
		t.hub.metrics.connections.WithLabelValues(string(c.role)).Dec()
	}
	if c.TooSlow() {
		c.code = wire.CloseSlow
		t.log.Warn("a client did not read what it was sent, and has to come back", "role", c.role, "team", c.team)
	}
	if c.code != 0 {
		t.hub.metrics.drops.WithLabelValues(wire.DropReasons[c.code]).Inc()
	}
	if t.console == c {
		t.console = nil
	}
	if c.role == team && t.phones[c.seat] == c {
		t.phones[c.seat] = nil
		t.presenceChanged = true
	}
}

func secretOf(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}
