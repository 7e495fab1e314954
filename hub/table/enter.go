package table

import (
	"fieldsign/game"
	"fieldsign/hub/audience"
	"fieldsign/hub/codes"
	"fieldsign/hub/socket"
	"fieldsign/hub/view"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// How a connection comes to be a team's phone, a board or the host's console, and
// how it leaves.

// Sit takes a connection up as a client, which then hears what the connection says;
// false says that the table has ended.
func (t *Table) Sit(conn audience.Conn) (socket.Listener, bool) {
	return t.audience.Sit(conn, t.house.Clock())
}

// enter takes the first frame, which says who the client is.
func (t *Table) enter(c *audience.Client, in wire.Inbound) {
	switch in.Type {
	case "join":
		t.join(c, in)
	case "resume":
		t.readmit(c, in)
	case "board":
		t.greet(c, func() { t.admit(c, audience.Board, wire.Welcome{}) })
	case "host":
		t.hostEnters(c, in)
	default:
		c.Refuse(in.ID, refusal.New(refusal.BadFrame, "The first frame is join, resume, board or host."))
		c.SendAway(wire.CloseBadFrame, "unknown first frame")
	}
}

// join seats a new team. A phone that draws its token itself may repeat a join
// whose answer was lost, and gets the same seat.
func (t *Table) join(c *audience.Client, in wire.Inbound) {
	token := in.Token
	switch {
	case !codes.IsToken(token):
		token = codes.Token()
	case t.holder(token) != nil:
		t.readmit(c, in)
		return
	}
	if !t.house.Gate.Join(c.Remote(), t.Code) {
		c.Refuse(in.ID, refusal.New(refusal.TooManyJoins, "Many teams have just joined from this network. Wait a minute, then join again."))
		return
	}
	if t.house.Refused.Refuses(in.Name) {
		c.Refuse(in.ID, errName)
		return
	}
	if err := t.decide(game.Command{Type: game.Join, By: "hub", Name: in.Name, Secret: codes.Secret(token)}); err != nil {
		c.Refuse(in.ID, err)
		return
	}
	seated := t.state.Teams[len(t.state.Teams)-1]
	c.Role = audience.Joining
	t.owe(c, in.ID, func() { t.seat(c, seated.ID, token) })
}

// errName does not repeat the name.
var errName = refusal.New(refusal.NameRefused, "That name is not for a class: choose another.")

func (t *Table) readmit(c *audience.Client, in wire.Inbound) {
	switch tm := t.holder(in.Token); {
	case tm == nil:
		c.SendAway(wire.CloseBadToken, "unknown resume token: join anew")
	case tm.Removed:
		c.SendAway(wire.CloseRemoved, "removed by the host")
	default:
		// A join under way is stored before its seat is taken.
		id := tm.ID
		c.Role = audience.Joining
		t.owe(c, in.ID, func() { t.seat(c, id, in.Token) })
	}
}

// holder is the team that a resume token belongs to, or nil. Its time tells
// nothing of a token, since what is looked up is a hash.
func (t *Table) holder(token string) *game.Team {
	for ; t.knownHolders < len(t.state.Teams); t.knownHolders++ {
		t.holders[t.state.Teams[t.knownHolders].Secret] = t.knownHolders
	}
	if i, ok := t.holders[codes.Secret(token)]; ok {
		return &t.state.Teams[i]
	}
	return nil
}

// seat admits a team's phone; an older one of the same team goes.
func (t *Table) seat(c *audience.Client, id, token string) {
	i := t.state.Find(id)
	if i < 0 {
		c.SendAway(wire.CloseRemoved, "removed by the host")
		return
	}
	if old := t.audience.Phone(i); old != nil {
		old.SendAway(wire.CloseReplaced, "another device of this team has taken over")
	}
	t.audience.Seat(c, id, i)
	t.admit(c, audience.Team, wire.Welcome{Team: id, Name: t.state.Teams[i].Name, Token: token})
	t.seats[id] = true
}

func (t *Table) hostEnters(c *audience.Client, in wire.Inbound) {
	switch wait, right := t.house.Gate.TryKey(c.Remote(), in.Key); {
	case wait > 0:
		c.SendAway(wire.CloseLater, "too many wrong host keys from this network: come back later")
	case !right:
		c.Refuse(in.ID, refusal.New(refusal.WrongKey, "That is not this hub's host key: see the terminal in which it runs."))
		c.SendAway(wire.CloseWrongKey, "wrong host key")
	default:
		t.checkSeen(in.Seen)
		t.greet(c, func() { t.seatHost(c, in) })
	}
}

func (t *Table) seatHost(c *audience.Client, in wire.Inbound) {
	switch {
	case t.audience.Console != nil && !in.TakeOver:
		c.Role = ""
		c.Refuse(in.ID, refusal.New(refusal.HostPresent, "Another console is hosting this game. Take over, or close this page."))
		return
	case t.audience.Console != nil:
		t.audience.Console.SendAway(wire.CloseReplaced, "another console has taken over")
	}
	t.audience.Console, t.sentTeams = c, nil
	c.Stay()
	t.admit(c, audience.Host, wire.Welcome{})
}

// admit greets a client in its role and shows it the state.
func (t *Table) admit(c *audience.Client, r audience.Role, w wire.Welcome) {
	t.audience.Admit(c, r)
	w.Type, w.Role, w.Game = "welcome", string(r), wire.GameName{Code: t.Code, Title: t.state.Plan.Title}
	c.Tell(w)
	v := t.public()
	switch r {
	case audience.Team:
		c.Tell(view.Phones(v, t.standings()))
		t.presenceChanged = true
	case audience.Board:
		c.Tell(t.boardState(v))
	case audience.Host:
		c.Tell(t.hostState(v))
	}
}

func (t *Table) leave(c *audience.Client) {
	if c.TooSlow() {
		t.log.Warn("a client did not read what it was sent, and has to come back", "role", c.Role, "team", c.Team)
	}
	if c.Role == audience.Team && t.audience.Phone(c.Seat) == c {
		t.presenceChanged = true
	}
	t.audience.Remove(c)
}
