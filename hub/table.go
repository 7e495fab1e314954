package hub

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"time"

	"fieldsign/game"
	"fieldsign/hub/store"
)

const (
	inboxLength = 1024
	maxTogether = 256                    // commands that share one write to the store
	calm        = 100 * time.Millisecond // between broadcasts that only count answers
)

// message is what reaches a table: a client's frame, its end, or a call.
type message struct {
	client *client
	in     inbound
	gone   bool
	call   func()
}

// table runs one game: its goroutine alone touches the state and the clients'
// roles. Commands that are waiting together are decided in turn, stored in one
// batch, and only then answered and shown.
type table struct {
	hub   *Hub
	code  string
	log   *slog.Logger
	inbox chan message
	ended chan struct{} // closed when run has returned

	state    game.State
	drawings map[game.Plate]drawing
	clock0   time.Duration // the hub's clock when the game's stood at base
	base     int64
	clients  map[*client]bool
	phones   map[string]*client // by team
	console  *client

	events  []game.Event // decided, not yet stored
	replies []reply      // due once they are
	seats   []string     // teams whose own view has changed
	all     bool         // everyone's own view has changed
	changed bool         // the shared view has changed
	urgent  bool         // and not only by a count
	shown   time.Duration
}

// reply is what a client is owed once its command is stored.
type reply struct {
	to  *client
	id  string
	say func()
}

func newTable(h *Hub, code string) *table {
	return &table{hub: h, code: code, log: h.log.With("game", code), inbox: make(chan message, inboxLength), ended: make(chan struct{}),
		clients: map[*client]bool{}, phones: map[string]*client{}, drawings: map[game.Plate]drawing{}, clock0: h.now()}
}

// load replays a stored game and pauses it where its clock was running: the
// phones have to come back first.
func (t *table) load(ctx context.Context) error {
	t.state = game.State{}
	err := t.hub.store.Read(ctx, t.code, 0, func(r store.Record) error {
		var e game.Event
		if err := json.Unmarshal(r.Data, &e); err != nil {
			return err
		}
		t.state = game.Apply(t.state, e)
		return nil
	})
	t.base, t.clock0 = t.state.At, t.hub.now()
	return err
}

// now is the game's clock in ms. It stands still while no hub runs the game.
func (t *table) now() int64 { return t.base + (t.hub.now() - t.clock0).Milliseconds() }

// post hands a message to the table; false says that the table has ended.
func (t *table) post(m message) bool {
	select {
	case t.inbox <- m:
		return true
	case <-t.ended:
		return false
	}
}

// do runs f in the table's goroutine and waits for it.
func (t *table) do(f func()) {
	finished := make(chan struct{})
	t.post(message{call: func() { f(); close(finished) }})
	select {
	case <-finished:
	case <-t.ended:
	}
}

func (t *table) run(ctx context.Context) {
	defer close(t.ended)
	timer := time.NewTimer(time.Hour)
	defer timer.Stop()
	for {
		timer.Reset(t.sleep())
		select {
		case <-ctx.Done():
			for c := range t.clients {
				c.close(closeStopping, "the hub is stopping: come back")
			}
			return
		case m := <-t.inbox:
			t.take(m)
			t.takeWaiting()
		case <-timer.C:
		}
		t.tick()
		t.commit(ctx)
		t.show()
	}
}

// takeWaiting takes what else is in the inbox, to store it together.
func (t *table) takeWaiting() {
	for range maxTogether {
		select {
		case m := <-t.inbox:
			t.take(m)
		default:
			return
		}
	}
}

// sleep is how long the table may wait for a message.
func (t *table) sleep() time.Duration {
	wait := time.Hour
	if at, running := t.state.Wake(); running {
		wait = time.Duration(max(at-t.now(), 0)) * time.Millisecond
	}
	if t.changed {
		wait = min(wait, max(calm-(t.hub.now()-t.shown), 0))
	}
	return wait
}

func (t *table) take(m message) {
	switch {
	case m.call != nil:
		m.call()
	case m.gone:
		t.leave(m.client)
	default:
		t.frame(m.client, m.in)
	}
}

func (t *table) tick() {
	for {
		before := len(t.events)
		if t.decide(game.Command{Type: game.Tick, By: "hub"}) != nil || len(t.events) == before {
			return
		}
	}
}

// decide applies what a command brings about; commit makes it last.
func (t *table) decide(c game.Command) error {
	events, err := game.Decide(t.state, c, t.now())
	if err != nil {
		return err
	}
	for _, e := range events {
		t.state = game.Apply(t.state, e)
		t.note(e)
	}
	t.events = append(t.events, events...)
	return nil
}

// note marks whose view an event changes.
func (t *table) note(e game.Event) {
	t.changed = true
	switch e.Type {
	case game.Answered:
		t.seats = append(t.seats, e.Team)
	case game.Joined:
	case game.Renamed:
		t.urgent = true
		t.seats = append(t.seats, e.Team)
	default:
		t.urgent, t.all = true, true
	}
}

// commit stores the decided events and then gives the replies. Where the store
// refuses, the game goes back to what is stored and every reply is a refusal.
func (t *table) commit(ctx context.Context) {
	if len(t.events) > 0 {
		if err := t.hub.store.Append(ctx, t.batch()); err != nil {
			t.rollBack(ctx, err)
			return
		}
	}
	replies := t.replies
	t.events, t.replies = nil, nil
	for _, r := range replies {
		r.say()
	}
}

func (t *table) batch() store.Batch {
	b := store.Batch{Game: t.code, Ended: t.state.Phase == game.Ended}
	for _, e := range t.events {
		b.Records = append(b.Records, store.Record{Seq: e.Seq, Data: encode(e)})
		if e.Type == game.Scored || e.Type == game.Ruled || e.Type == game.Undone || e.Type == game.Finished {
			b.Standings = kept(t.state.Standings())
		}
	}
	return b
}

func kept(list []game.Standing) []store.Standing {
	out := make([]store.Standing, len(list))
	for i, s := range list {
		out[i] = store.Standing{Rank: s.Rank, Team: s.Team, Name: s.Name, Score: s.Score}
	}
	return out
}

func (t *table) rollBack(ctx context.Context, cause error) {
	t.log.Error("the store refused events; the game goes back to what is stored", "error", cause, "events", len(t.events))
	replies := t.replies
	t.events, t.replies = nil, nil
	if err := t.load(ctx); err != nil && !errors.Is(err, context.Canceled) {
		t.log.Error("the stored game can't be read", "error", err)
	}
	for _, r := range replies {
		if r.to.role == joining {
			r.to.role = ""
		}
		r.to.tell(asRefusal(r.id, cause))
	}
	t.changed, t.urgent, t.all = true, true, true
}

// show sends everyone the state they may see, unless only counts have changed
// since a moment ago.
func (t *table) show() {
	now := t.hub.now()
	if len(t.seats) > 0 || t.all {
		t.showSeats()
	}
	if !t.changed || !t.urgent && now-t.shown < calm {
		return
	}
	t.changed, t.urgent, t.shown = false, false, now
	standings := t.state.Standings()
	v := t.plated(public(&t.state, t.now()))
	phones, boards := prepare(forPhones(v, standings)), prepare(t.boardState(v, standings))
	for c := range t.clients {
		switch c.role {
		case team:
			c.send(phones)
		case board:
			c.send(boards)
		case host:
			c.tell(t.hostState(v, standings))
		}
	}
}

func (t *table) boardState(v state, standings []game.Standing) state {
	v = forBoard(v, standings)
	v.JoinAt = t.hub.joinAt
	return v
}

func (t *table) hostState(v state, standings []game.Standing) state {
	online := map[string]bool{}
	for id := range t.phones {
		online[id] = true
	}
	v = forHost(v, &t.state, standings, online)
	v.Host.JoinURL, v.Host.Rosters = t.hub.joinURL(t.code), t.hub.rosters
	return v
}

// showSeats tells teams what is theirs alone.
func (t *table) showSeats() {
	standings := t.state.Standings()
	if t.all {
		for id, c := range t.phones {
			if i := t.state.Find(id); i >= 0 {
				c.tell(forTeam(&t.state, i, standings))
			}
		}
	}
	for _, id := range t.seats {
		if c, i := t.phones[id], t.state.Find(id); c != nil && i >= 0 && !t.all {
			c.tell(forTeam(&t.state, i, standings))
		}
	}
	t.seats, t.all = nil, false
}
