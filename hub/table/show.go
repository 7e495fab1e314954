package table

import (
	"math/rand/v2"
	"reflect"
	"sync"
	"time"

	"fieldsign/game"
	"fieldsign/hub/audience"
	"fieldsign/hub/view"
	"fieldsign/hub/wire"
)

// What a table writes to its clients at the end of a turn. A phone is written
// to once, whatever it is told: a write costs more than all else about a frame.

// show ends a turn: clients are told what is theirs alone, and all are sent the
// state they may see, unless only counts have changed since a moment ago.
func (t *Table) show() {
	now := t.house.Clock()
	rested := now-t.shown >= calm
	switch {
	case t.changed && (t.urgent || rested):
		t.broadcast()
		t.observe(now)
		t.changed, t.urgent, t.presenceChanged, t.shown = false, false, false, now
	default:
		t.standings() // for the ranks
		for id := range t.seats {
			if c := t.audience.Phone(t.state.Find(id)); c != nil {
				t.give(c, nil)
			}
		}
		if t.presenceChanged && rested {
			t.showConsole(t.public(), false)
			t.presenceChanged, t.shown = false, now
		}
	}
	t.audience.Flush()
	clear(t.seats)
	t.all = false
}

// observe keeps how long a broadcast took, and a buzz up to it.
func (t *Table) observe(began time.Duration) {
	ended := t.house.Clock()
	t.house.Metrics.fanOut.Observe((ended - began).Seconds())
	if t.won {
		t.house.Metrics.buzz.Observe((ended - t.pressed).Seconds())
	}
	if t.state.Phase != game.Asking {
		t.pressed, t.won = 0, false
	}
}

// broadcast encodes the state once for each kind of client, and writes it to
// them from a random one onward, so that nobody is always the last.
func (t *Table) broadcast() {
	v := t.public()
	same := v.Question != nil && reflect.DeepEqual(v.Question, t.lastQuestion)
	t.lastQuestion = v.Question
	phones := wire.Text(view.Phones(v, t.standings()).Without(same))
	boards := sync.OnceValue(func() []byte { return wire.Text(t.boardState(v).Without(same)) })
	n, first := len(t.audience.Clients), rand.IntN(len(t.audience.Clients)+1)
	for i := range n {
		switch c := t.audience.Clients[(first+i)%n]; c.Role {
		case audience.Team:
			t.give(c, phones)
		case audience.Board:
			c.Write(boards())
		}
	}
	t.showConsole(v, same) // last: it may be told of every team
}

// give writes frames to a phone after what is its own, all at once.
func (t *Table) give(c *audience.Client, frames []byte) {
	if (t.all || t.seats[c.Team]) && c.Seat < len(t.state.Teams) && !t.state.Teams[c.Seat].Removed { // or it is about to be sent away
		c.Add(t.view.Own(c.Seat, t.ranks[c.Seat]))
	}
	c.Write(frames)
}

// showConsole shows the console its state, without a question that it has.
func (t *Table) showConsole(v wire.State, same bool) {
	if t.audience.Console == nil {
		return
	}
	t.audience.Console.Add(t.hostState(v).Without(same))
	t.audience.Console.Flush() // one write with its reply
}

func (t *Table) boardState(v wire.State) wire.State {
	v = t.view.Board(v, t.standings())
	v.JoinAt = t.house.JoinAt()
	return v
}

func (t *Table) hostState(v wire.State) wire.State {
	v = t.view.Host(v, t.standings())
	if t.sentTeams == nil {
		p := t.house.Planner
		wish := p.WishOf(t.state.Plan)
		v.Host.Whole, v.Host.Plan = true, &wish
		v.Host.JoinURL, v.Host.Rosters, v.Host.Languages = t.house.JoinURL(t.Code), p.Rosters, p.Languages
		t.sentTeams = make([]wire.TeamView, 0, len(t.state.Teams))
	}
	v.Host.Teams = t.news()
	return v
}

// news are the teams about which the console is told something new. Between two
// states that are whole, teams only come.
func (t *Table) news() []wire.TeamView {
	news := []wire.TeamView{} // JSON's list, where there are none
	n := 0
	for i := range t.state.Teams {
		if t.state.Teams[i].Removed {
			continue
		}
		v := t.view.TeamForHost(i, t.audience.Phone(i) != nil)
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
