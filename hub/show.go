package hub

import (
	"math/rand/v2"
	"reflect"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/game"
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
		t.changed, t.urgent, t.there, t.shown = false, false, false, now
	default:
		t.standings() // for the ranks
		for id := range t.seats {
			if c := t.phone(id); c != nil {
				t.give(&t.pens[0], c, nil)
			}
		}
		if t.there && rested {
			v := t.plated(t.public())
			shown := forPhones(v, t.standings())
			t.showConsole(v, shown, encode(shown))
			t.there, t.shown = false, now
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

// share is how many clients are worth a goroutine of their own in a broadcast.
const share = 25

// pen is what a goroutine puts a phone's frames together with.
type pen struct{ frames, own []byte }

// broadcast encodes the state once for each kind of client, and writes it to
// them from a random one onward, so that nobody is always the last. All cores
// that no other table writes on share in the writing, which ends before the
// table goes on.
func (t *table) broadcast() {
	free := len(t.pens) + 1 - int(t.hub.writing.Add(1))
	defer t.hub.writing.Add(-1)
	v := t.plated(t.public())
	same := v.Question != nil && reflect.DeepEqual(v.Question, t.asked)
	t.asked = v.Question
	shown := forPhones(v, t.standings()).without(same)
	said := encode(shown)
	phones := framed(websocket.TextMessage, said)
	boards := sync.OnceValue(func() []byte { return text(t.boardState(v).without(same)) })
	n, first := len(t.clients), rand.IntN(len(t.clients)+1)
	parts := max(min(n/share, free), 1)
	var others sync.WaitGroup
	for k := range parts {
		from, to := first+k*n/parts, first+(k+1)*n/parts
		if k < parts-1 {
			others.Go(func() { t.write(&t.pens[k], from, to, phones, boards) })
		} else {
			t.write(&t.pens[k], from, to, phones, boards)
		}
	}
	others.Wait()
	t.showConsole(v, shown, said) // last: it may be told of every team
}

// write gives some clients their state; past the last comes the first. Several
// goroutines may each write to some.
func (t *table) write(p *pen, from, to int, phones []byte, boards func() []byte) {
	for i := from; i < to; i++ {
		if (i-from)%ahead == 0 {
			t.fetch(i, min(i+ahead, to))
		}
		switch c := t.clients[i%len(t.clients)]; c.role {
		case team:
			t.give(p, c, phones)
		case board:
			c.flush()
			c.send(boards())
		}
	}
}

// ahead is for how many clients a broadcast fetches at once.
const ahead = 16

// fetch brings into the cache what is about to be looked at of some clients. The
// kernel's work has driven it out since the last broadcast: the processor waits
// for all of it together here, and would for each client by itself in write.
//
//go:noinline
func (t *table) fetch(from, to int) (sum int) {
	for i := from; i < to; i++ {
		sum += t.clients[i%len(t.clients)].out.fd
	}
	return sum
}

// give writes frames to a phone after what is its own, all at once.
func (t *table) give(p *pen, c *client, frames []byte) {
	b := append(p.frames[:0], c.due...)
	c.due = nil
	if t.all || len(t.seats) > 0 && t.seats[c.team] {
		b = t.appendOwn(p, b, c)
	}
	if len(b) > 0 {
		frames = append(b, frames...)
		p.frames = frames
	}
	if len(frames) > 0 {
		c.send(frames)
	}
}

// appendOwn adds the frame that tells a team what is its own.
func (t *table) appendOwn(p *pen, b []byte, c *client) []byte {
	if c.seat >= len(t.state.Teams) || t.state.Teams[c.seat].Removed {
		return b // about to be sent away
	}
	y := t.own(c.seat, t.ranks[c.seat])
	p.own = appendYou(p.own[:0], &y)
	return appendFrame(b, websocket.TextMessage, p.own)
}

// showConsole takes from what phones are shown, as it is encoded, what the
// console is shown alike: that is all but the host's own, save for the key in a
// typed question and the whole of a long leaderboard.
func (t *table) showConsole(v, shown state, said []byte) {
	if t.console == nil {
		return
	}
	v = t.hostState(v).without(shown.Same)
	h := v.Host
	v.Host = nil
	if v.Question != shown.Question || len(v.Leaders) != len(shown.Leaders) {
		said = encode(v)
	}
	t.console.due = appendFrame(t.console.due, websocket.TextMessage, hostJSON(said, h))
	t.console.flush() // one write with its reply
}

func (t *table) boardState(v state) state {
	v = forBoard(v, t.standings())
	v.JoinAt = t.hub.joinAt()
	v.Rotation = t.placed(v.Rotation)
	return v
}

func (t *table) hostState(v state) state {
	v = forHost(v, &t.state, t.standings())
	v.Host.Stations = t.specimens()
	if t.told == nil {
		plan := t.hub.planner.wishOf(t.state.Plan)
		v.Host.Whole, v.Host.Plan = true, &plan
		v.Host.JoinURL, v.Host.Rosters, v.Host.Languages = t.hub.joinURL(t.code), t.hub.planner.rosters, t.hub.planner.languages
		t.told = make([]teamView, 0, len(t.state.Teams))
	}
	v.Host.Teams = t.news()
	return v
}

// news are the teams about which the console is told something new. Between two
// states that are whole, teams only come.
func (t *table) news() []teamView {
	news := []teamView{} // JSON's list, where there are none
	n := 0
	for i := range t.state.Teams {
		if t.state.Teams[i].Removed {
			continue
		}
		v := teamForHost(&t.state, i, t.phoneAt(i) != nil)
		if n == len(t.told) {
			t.told = append(t.told, teamView{})
		}
		if t.told[n] != v {
			t.told[n] = v
			news = append(news, v)
		}
		n++
	}
	return news
}
