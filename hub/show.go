package hub

import (
	"math/rand/v2"
	"reflect"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/game"
	"fieldsign/hub/socket"
	"fieldsign/hub/wire"
)

// What a table writes to its clients at the end of a turn. A phone is written
// to once, whatever it is told: a write costs more than all else about a frame.

// show ends a turn: clients are told what is theirs alone, and all are sent the
// state they may see, unless only counts have changed since a moment ago.
func (t *table) show() {
	now := t.hub.now()
	rested := now-t.shown >= calm
	switch {
	case t.changed && (t.urgent || rested):
		t.broadcast()
		t.observe(now)
		t.changed, t.urgent, t.presenceChanged, t.shown = false, false, false, now
	default:
		t.standings() // for the ranks
		for id := range t.seats {
			if c := t.phone(id); c != nil {
				t.give(c, nil)
			}
		}
		if t.presenceChanged && rested {
			t.showConsole(t.plated(t.public()), false)
			t.presenceChanged, t.shown = false, now
		}
	}
	for _, c := range t.owing {
		c.flush()
	}
	clear(t.owing)
	clear(t.seats)
	t.owing, t.all = t.owing[:0], false
}

// observe keeps how long a broadcast took, and a buzz up to it.
func (t *table) observe(began time.Duration) {
	ended := t.hub.now()
	t.hub.metrics.fanOut.Observe((ended - began).Seconds())
	if t.won {
		t.hub.metrics.buzz.Observe((ended - t.pressed).Seconds())
	}
	if t.state.Phase != game.Asking {
		t.pressed, t.won = 0, false
	}
}

// broadcast encodes the state once for each kind of client, and writes it to
// them from a random one onward, so that nobody is always the last.
func (t *table) broadcast() {
	v := t.plated(t.public())
	same := v.Question != nil && reflect.DeepEqual(v.Question, t.lastQuestion)
	t.lastQuestion = v.Question
	phones := wire.Text(forPhones(v, t.standings()).Without(same))
	boards := sync.OnceValue(func() []byte { return wire.Text(t.boardState(v).Without(same)) })
	n, first := len(t.clients), rand.IntN(len(t.clients)+1)
	for i := range n {
		switch c := t.clients[(first+i)%n]; c.role {
		case team:
			t.give(c, phones)
		case board:
			c.flush()
			c.Send(boards())
		}
	}
	t.showConsole(v, same) // last: it may be told of every team
}

// give writes frames to a phone after what is its own, all at once.
func (t *table) give(c *client, frames []byte) {
	if t.all || t.seats[c.team] {
		c.due = t.appendOwn(c.due, c)
	}
	if len(c.due) > 0 {
		frames = append(c.due, frames...)
		c.due = nil
	}
	if len(frames) > 0 {
		c.Send(frames)
	}
}

// appendOwn adds the frame that tells a team what is its own.
func (t *table) appendOwn(b []byte, c *client) []byte {
	if c.seat >= len(t.state.Teams) || t.state.Teams[c.seat].Removed {
		return b // about to be sent away
	}
	return socket.AppendFrame(b, websocket.TextMessage, wire.Encode(t.own(c.seat, t.ranks[c.seat])))
}

// showConsole shows the console its state, without a question that it has.
func (t *table) showConsole(v wire.State, same bool) {
	if t.console == nil {
		return
	}
	t.console.due = socket.AppendFrame(t.console.due, websocket.TextMessage, wire.Encode(t.hostState(v).Without(same)))
	t.console.flush() // one write with its reply
}

func (t *table) boardState(v wire.State) wire.State {
	v = forBoard(v, t.standings())
	v.JoinAt = t.hub.joinAt()
	v.Rotation = t.placed(v.Rotation)
	return v
}

func (t *table) hostState(v wire.State) wire.State {
	v = forHost(v, &t.state, t.standings())
	v.Host.Stations = t.specimens()
	if t.sentTeams == nil {
		plan := t.hub.planner.WishOf(t.state.Plan)
		v.Host.Whole, v.Host.Plan = true, &plan
		v.Host.JoinURL, v.Host.Rosters, v.Host.Languages = t.hub.joinURL(t.code), t.hub.planner.Rosters, t.hub.planner.Languages
		t.sentTeams = make([]wire.TeamView, 0, len(t.state.Teams))
	}
	v.Host.Teams = t.news()
	return v
}

// news are the teams about which the console is told something new. Between two
// states that are whole, teams only come.
func (t *table) news() []wire.TeamView {
	news := []wire.TeamView{} // JSON's list, where there are none
	n := 0
	for i := range t.state.Teams {
		if t.state.Teams[i].Removed {
			continue
		}
		v := teamForHost(&t.state, i, t.phoneAt(i) != nil)
		if n == len(t.sentTeams) {
			t.sentTeams = append(t.sentTeams, wire.TeamView{})
		}
		if t.sentTeams[n] != v {
			t.sentTeams[n] = v
			news = append(news, v)
		}
		n++
	}
	return news
}
