package hub

import (
	"context"
	"errors"
	"log/slog"
	"slices"
	"sync/atomic"
	"time"
	"unicode/utf8"

	"github.com/gorilla/websocket"

	"fieldsign/game"
	"fieldsign/hub/retention"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

const (
	inboxLength = 1024
	maxTogether = 256                    // commands that share one write to the store
	calm        = 100 * time.Millisecond // between broadcasts that only count answers
	sweepEvery  = time.Second            // for pings that are due
)

// message is what reaches a table: that a client has come, its frame, its end, or a call.
type message struct {
	client *client
	socket.Heard
	call func()
}

// comes tells that the client is new.
func (m message) comes() bool {
	return m.client != nil && m.Heard == (socket.Heard{}) && m.call == nil
}

// table runs one game: its goroutine alone touches the state and the clients'
// roles. Commands that are waiting together are decided in turn, stored in one
// batch, and only then answered and shown.
type table struct {
	hub   *Hub
	code  string
	log   *slog.Logger
	inbox chan message
	ended chan struct{} // closed when nothing more is taken from the inbox

	state        game.State
	clock0       time.Duration // the hub's clock when the game's stood at base
	base         int64
	clients      []*client
	phones       []*client // by the team's place, which stays; there may be more than teams
	console      *client
	holders      map[string]int // places of the first so many teams, by the hash of their token
	knownHolders int            // so many
	swept        time.Duration
	ranking      []game.Standing    // nil where it has to be worked out anew
	ranks        []int              // by team, of the same
	lastQuestion *wire.QuestionView // as all clients were shown it last
	lesson       lesson             // of the last reveal
	sentTeams    []wire.TeamView    // the teams as the console was told of them, or nil where it is to be told everything

	token        uint64         // of the lease, where hubs share the store
	lapses       atomic.Int64   // when that lease is over at the latest, on the hub's clock
	logAtHand    []store.Record // the log, at hand where hubs share the store
	suspended    bool           // whether the game is still this table's is being found out
	storeDiffers bool           // and its store has said that it is not
	over         bool           // the table has to end
	wake         chan struct{}  // has the lease's keeper reacquire the game

	events          []game.Event    // decided, not yet stored
	replies         []reply         // due once they are
	owing           []*client       // that are told something at the end of this turn
	seats           map[string]bool // teams whose own view has changed
	all             bool            // everyone's own view has changed
	changed         bool            // the shared view has changed
	presenceChanged bool            // who is there has changed, which the console alone is told
	urgent          bool            // and not only by a count
	shown           time.Duration
	pressed         time.Duration // receipt of the first press for the open question
	won             bool          // it was given the buzz, and that is not yet shown
	toldSeason      stage         // what the game's season has been told
}

// reply is what a client is owed once its command is stored.
type reply struct {
	to     *client
	id     string
	say    func()
	anyway bool // also where nothing was stored
}

func newTable(h *Hub, code string) *table {
	return &table{hub: h, code: code, log: h.log.With("game", code), inbox: make(chan message, inboxLength), ended: make(chan struct{}), wake: make(chan struct{}, 1),
		holders: map[string]int{}, seats: map[string]bool{}, clock0: h.now()}
}

// load replays a stored game and pauses it where its clock was running: the
// phones have to come back first.
func (t *table) load(ctx context.Context) error {
	t.blank()
	err := t.hub.store.Read(ctx, t.code, 0, func(r store.Record) error {
		t.keepAtHand(r)
		return t.apply(r)
	})
	t.base, t.clock0 = t.state.At, t.hub.now()
	return err
}

// blank forgets the game before it is replayed.
func (t *table) blank() {
	t.state, t.ranking, t.lastQuestion, t.sentTeams, t.knownHolders = game.State{}, nil, nil, nil, 0
	clear(t.holders)
}

func (t *table) apply(r store.Record) error {
	e, err := retention.EventOf(r)
	if err == nil {
		t.state, err = game.Take(t.state, e)
	}
	return err
}

// keepAtHand is for a store that may be gone for a while when the table has to
// go back to what is stored.
func (t *table) keepAtHand(records ...store.Record) {
	if t.hub.shared != nil {
		t.logAtHand = append(t.logAtHand, records...)
	}
}

// now is the game's clock in ms. It stands still while no hub runs the game.
func (t *table) now() int64 {
	if t.suspended {
		return t.base
	}
	return t.base + (t.hub.now() - t.clock0).Milliseconds()
}

// post hands a message to the table; false says that the table has ended.
func (t *table) post(m message) bool {
	select {
	case t.inbox <- m:
	case <-t.ended:
	}
	select {
	case <-t.ended: // perhaps before it was taken
		return false
	default:
		return true
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
	defer t.end()
	timer := time.NewTimer(time.Hour)
	defer timer.Stop()
	for !t.over {
		timer.Reset(t.sleep())
		select {
		case <-ctx.Done():
			return
		case m := <-t.inbox:
			t.checkLease()
			t.take(m)
			t.takeWaiting()
		case <-timer.C:
		}
		t.tick()
		t.commit(ctx)
		t.show()
		t.sweep()
		t.drawAhead()
	}
}

// end sends all clients away, those too whose coming was not yet noticed.
func (t *table) end() {
	t.hub.forget(t)
	close(t.ended)
	for {
		select {
		case m := <-t.inbox:
			if m.comes() {
				t.add(m.client)
			}
		default:
			for _, c := range t.clients {
				c.close(wire.CloseStopping, "the hub is stopping: come back")
			}
			return
		}
	}
}

// sweep pings who has been silent for a while, and ends the connections of
// those who stay silent, don't say who they are or have been sent away. Each is
// due by its own time, so that they are not all pinged at once.
func (t *table) sweep() {
	now := t.hub.now()
	if now-t.swept < sweepEvery {
		return
	}
	t.swept = now
	for _, c := range t.clients {
		switch quiet := now - time.Duration(c.Heard.Load()); {
		case c.role == "" && c.code == 0 && now > c.dueAt && len(t.inbox) == 0: // in which its first frame could wait
			c.close(wire.CloseNameless, nameless)
		case quiet > silence:
			c.code = wire.CloseSilent
			c.Drop()
		case c.Over():
			c.Wake()
		case quiet > pingEvery && now >= c.dueAt:
			c.dueAt = now + pingEvery
			c.Send(ping)
		}
	}
}

var ping = socket.Framed(websocket.PingMessage, nil)

// takeWaiting takes what else is in the inbox, to store it together. A table that
// has to end takes nothing more: what was said before its last notice was seen,
// such as to resume, must not take that back.
func (t *table) takeWaiting() {
	for range maxTogether {
		if t.over {
			return
		}
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
	if at, running := t.state.Wake(); running && !t.suspended {
		wait = time.Duration(max(at-t.now(), 0)) * time.Millisecond
	}
	if t.changed || t.presenceChanged {
		wait = min(wait, max(calm-(t.hub.now()-t.shown), 0))
	}
	if len(t.clients) > 0 {
		wait = min(wait, max(sweepEvery-(t.hub.now()-t.swept), 0))
	}
	return wait
}

func (t *table) take(m message) {
	switch {
	case m.call != nil:
		m.call()
	case m.Gone:
		t.leave(m.client)
	case m.Frame != nil:
		t.hear(m.client, m)
	case m.Pong != 0 || m.Frames > 0:
		t.hearControl(m.client, m)
	case m.comes():
		t.add(m.client)
	}
}

// add and strike keep the clients in a row, in no order.
func (t *table) add(c *client) {
	c.place = len(t.clients)
	t.clients = append(t.clients, c)
}

func (t *table) remove(c *client) {
	end := len(t.clients) - 1
	t.clients[c.place] = t.clients[end]
	t.clients[c.place].place = c.place
	t.clients[end] = nil
	t.clients = t.clients[:end]
}

// phone is that of a team still in the game, or nil.
func (t *table) phone(team string) *client { return t.phoneAt(t.state.Find(team)) }

// phoneAt is the phone of the team at a place, or nil.
func (t *table) phoneAt(place int) *client {
	if place < 0 || place >= len(t.phones) {
		return nil
	}
	return t.phones[place]
}

func (t *table) has(c *client) bool { return c.place < len(t.clients) && t.clients[c.place] == c }

// hear understands a frame and has it acted on, unless its sender has to go.
func (t *table) hear(c *client, m message) {
	f := m.Frame
	defer f.Release()
	if c.code != 0 {
		return
	}
	if f.Kind == websocket.TextMessage && !utf8.Valid(f.Data) {
		c.close(websocket.CloseInvalidFramePayloadData, "text frames are UTF-8")
		return
	}
	in, err := c.parse(f, m.At, m.Frames)
	switch {
	case err != nil:
		c.refuse(in.ID, err)
		if !refusal.Is(err, refusal.TooFast) { // which pace has counted
			c.offences++
		}
		c.bear()
	case in.Type == "clock":
		t.exchange(c, in)
	default:
		t.frame(c, in)
	}
}

// hearControl is for pings and pongs, which count as frames do.
func (t *table) hearControl(c *client, m message) {
	switch {
	case c.code != 0:
	case !c.pace(m.At, m.Frames):
		c.bear()
	case m.Pong != 0:
		t.pong(c, m.Pong, m.At)
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
	if t.suspended {
		return errSuspended
	}
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

// note marks whose view an event changes beyond what the state tells everyone.
func (t *table) note(e game.Event) {
	if e.Type == game.Pressed {
		if len(t.state.Presses) == 1 {
			t.pressed = t.clock0 + time.Duration(e.Press.Got-t.base*1000)*time.Microsecond
		}
		return // nobody is told before the buzz is given
	}
	t.changed, t.urgent = true, t.urgent || e.Type != game.Answered && e.Type != game.Joined
	switch e.Type {
	case game.Answered:
		t.seats[e.Team] = true
	case game.Opened:
		t.all = t.all || t.state.AtStations()
	case game.Paused, game.Resumed, game.Adjusted:
	case game.Planned, game.Struck, game.Replaced, game.Moved:
		t.sentTeams = nil
	case game.RemovedT:
		t.ranking, t.all, t.sentTeams = nil, true, nil
	case game.GotBuzz:
		t.won = true
	case game.Joined:
		t.ranking = nil
	case game.Extended:
		t.seats[e.Team] = true
	case game.Renamed, game.Forgotten:
		t.ranking, t.seats[e.Team] = nil, true
	case game.Ruled, game.Undone:
		t.ranking, t.seats[e.Awards[0].Team] = nil, true
		t.all = t.all || t.state.Phase == game.Revealed
	default:
		t.ranking, t.all = nil, true
	}
}

// commit stores the decided events and then gives the replies. Where the store
// refuses, the game goes back to what is stored and every reply is a refusal.
func (t *table) commit(ctx context.Context) {
	if len(t.events) > 0 {
		began := t.hub.now()
		b := t.batch()
		err := t.hub.store.Append(ctx, b)
		t.hub.metrics.append.Observe((t.hub.now() - began).Seconds())
		if err != nil {
			t.rollBack(ctx, err)
			return
		}
		t.keepAtHand(b.Records...)
		if slices.ContainsFunc(t.events, func(e game.Event) bool { return e.Type == game.Finished }) {
			ended := t.state.Clone()
			t.hub.later(func() { t.hub.tournaments.RecordMatch(t.hub.ctx, &ended) })
		}
	}
	replies := t.replies
	t.events, t.replies = nil, nil
	for _, r := range replies {
		t.reply(r)
	}
	t.reportToSeason()
}

// reply tells a client what it is owed, unless it has left meanwhile.
func (t *table) reply(r reply) {
	if t.has(r.to) {
		r.say()
	}
}

func (t *table) batch() store.Batch {
	b := store.Batch{Game: t.code, Ended: t.state.Phase == game.Ended, Token: t.token}
	for _, e := range t.events {
		b.Records = append(b.Records, store.Record{Seq: e.Seq, Data: wire.Encode(e)})
		if e.Type == game.Scored || e.Type == game.Ruled || e.Type == game.Undone || e.Type == game.Corrected || e.Type == game.Finished || e.Type == game.Forgotten {
			b.Standings = retention.Kept(t.standings())
		}
	}
	return b
}

func (t *table) rollBack(ctx context.Context, cause error) {
	if t.hub.shared != nil {
		t.suspend(cause)
		return
	}
	t.log.Error("the store refused events; the game goes back to what is stored", "error", cause, "events", len(t.events))
	if err := t.load(ctx); err != nil && !errors.Is(err, context.Canceled) {
		t.log.Error("the stored game can't be read", "error", err)
	}
	t.refuse(cause)
}

var errUnkept = refusal.New(refusal.NotStored, "The hub could not keep this, so nothing was changed. Try again; if it goes on, look at the hub's log.")

// refuse drops what was decided, and tells those who wait for it, once the
// state is the stored one again.
func (t *table) refuse(cause error) {
	if !errors.Is(cause, store.ErrUnavailable) {
		cause = errUnkept
	}
	replies := t.replies
	t.events, t.replies = nil, nil
	for _, r := range replies {
		if r.anyway {
			t.reply(r)
			continue
		}
		if r.to.role == joining {
			r.to.role = ""
		}
		r.to.refuse(r.id, cause)
	}
	t.showAll()
}

// showAll has everyone told everything anew.
func (t *table) showAll() {
	t.ranking, t.changed, t.urgent, t.all = nil, true, true, true
}

// standings are the state's, worked out once for all who ask.
func (t *table) standings() []game.Standing {
	if t.ranking == nil {
		t.ranking = t.state.Standings()
		t.ranks = append(t.ranks[:0], make([]int, len(t.state.Teams))...)
		for _, st := range t.ranking {
			t.ranks[st.Place] = st.Rank
		}
	}
	return t.ranking
}
