// Package table is the goroutine of a game. It alone touches the game's state and
// its clients' roles. Commands that are waiting together are decided in turn, stored
// in one batch, and only then answered and shown.
package table

import (
	"context"
	"errors"
	"log/slog"
	"sync/atomic"
	"time"

	"fieldsign/game"
	"fieldsign/hub/audience"
	"fieldsign/hub/journal"
	"fieldsign/hub/store"
	"fieldsign/hub/view"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

const (
	maxTogether = 256                    // commands that share one write to the store
	calm        = 100 * time.Millisecond // between broadcasts that only count answers
)

// Table runs one game.
type Table struct {
	Code string

	house    *House
	audience *audience.Audience
	log      *slog.Logger
	journal  *journal.Journal
	state    *game.State // the journal's
	view     *view.Game  // of the same
	over     bool        // the table has to end

	holders      map[string]int     // places of the first so many teams, by the hash of their token
	knownHolders int                // so many
	ranking      []game.Standing    // nil where it has to be worked out anew
	ranks        []int              // by team, of the same
	lastQuestion *wire.QuestionView // as all clients were shown it last
	sentTeams    []wire.TeamView    // the teams as the console was told of them, or nil where it is to be told everything
	told         stage              // what the hub has been told

	lapses       atomic.Int64  // when the lease is over at the latest, on the hub's clock
	suspended    bool          // whether the game is still this table's is being found out
	storeDiffers bool          // and its store has said that it is not
	wake         chan struct{} // has the lease's keeper reacquire the game

	replies         []reply         // due once what is decided is stored
	seats           map[string]bool // teams whose own view has changed
	all             bool            // everyone's own view has changed
	changed         bool            // the shared view has changed
	presenceChanged bool            // who is there has changed, which the console alone is told
	urgent          bool            // the shared view has changed, and not only by a count
	shown           time.Duration
	pressed         time.Duration // receipt of the first press for the open question
	won             bool          // it was given the buzz, and that is not yet shown
}

// reply is what a client is owed once its command is stored.
type reply struct {
	to     *audience.Client
	id     string
	say    func()
	anyway bool // also where nothing was stored
}

// stage is how far a game has come that the hub is told of.
type stage int

const (
	_ stage = iota
	begun
	ended
)

// New is the table of a game, empty until it is loaded or its game created. Run
// must be called.
func New(h *House, code string) *Table {
	t := &Table{Code: code, house: h, log: h.Log.With("game", code), journal: journal.New(code, h.Store, h.Clock), wake: make(chan struct{}, 1),
		audience: audience.New(h.Metrics.clients), holders: map[string]int{}, seats: map[string]bool{}}
	t.state = &t.journal.State
	t.view = view.Of(t.state, h.Planner, h.Pictures)
	return t
}

// Load replays the game as it is stored.
func (t *Table) Load() error {
	t.forget()
	return t.journal.Load(t.house.Context)
}

// forget is for a state that is not what follows from the one before.
func (t *Table) forget() {
	t.ranking, t.lastQuestion, t.sentTeams, t.knownHolders = nil, nil, nil, 0
	clear(t.holders)
}

// Run runs the game until the hub stops, or the table has to end. It calls gone once
// it takes nothing more. Where hubs share the store, it gives the lease up in the end.
func (t *Table) Run(gone func()) {
	if t.house.Leases != nil {
		released, token := make(chan struct{}), t.journal.Token
		go func() { t.keep(token); close(released) }()
		defer func() { <-released }()
	}
	defer t.end(gone)
	timer := time.NewTimer(time.Hour)
	defer timer.Stop()
	for !t.over {
		timer.Reset(t.sleep())
		select {
		case <-t.house.Context.Done():
			return
		case m := <-t.audience.Inbox:
			t.checkLease()
			t.take(m)
			t.takeWaiting()
		case <-timer.C:
		}
		t.tick()
		t.commit()
		t.show()
		t.audience.Sweep(t.house.Clock())
		if t.state.Phase != game.Asking && t.state.Phase != game.Buzzed && len(t.audience.Inbox) == 0 { // the table has time
			t.view.DrawAhead()
		}
	}
}

// end sends all clients away, those too whose coming was not yet noticed.
func (t *Table) end(gone func()) {
	gone()
	close(t.audience.Ended)
	for {
		select {
		case m := <-t.audience.Inbox:
			if m.Comes() {
				t.audience.Add(m.Client)
			}
		default:
			t.audience.SendAway(wire.Stopping)
			return
		}
	}
}

// takeWaiting takes what else is in the inbox, to store it together. A table that
// has to end takes nothing more: what was said before its last notice was seen,
// such as to resume, must not take that back.
func (t *Table) takeWaiting() {
	for range maxTogether {
		if t.over {
			return
		}
		select {
		case m := <-t.audience.Inbox:
			t.take(m)
		default:
			return
		}
	}
}

// sleep is how long the table may wait for a message.
func (t *Table) sleep() time.Duration {
	wait := time.Hour
	if at, running := t.state.Wake(); running && !t.suspended {
		wait = time.Duration(max(at-t.journal.Now(), 0)) * time.Millisecond
	}
	if t.changed || t.presenceChanged {
		wait = min(wait, max(calm-(t.house.Clock()-t.shown), 0))
	}
	return min(wait, t.audience.UntilSweep(t.house.Clock()))
}

func (t *Table) take(m audience.Message) {
	switch {
	case m.Call != nil:
		m.Call()
	case m.Gone:
		t.leave(m.Client)
	case m.Comes():
		t.audience.Add(m.Client)
	default:
		if in, ok := m.Client.Understand(m, t.house.Clock); ok {
			t.frame(m.Client, in)
		}
		if m.Frame != nil {
			m.Frame.Release()
		}
	}
}

func (t *Table) tick() {
	for {
		before := len(t.journal.Pending)
		if t.decide(game.Command{Type: game.Tick, By: "hub"}) != nil || len(t.journal.Pending) == before {
			return
		}
	}
}

// decide applies what a command brings about; commit makes it last.
func (t *Table) decide(c game.Command) error {
	if t.suspended {
		return errSuspended
	}
	return t.journal.Decide(c, t.note)
}

// note marks whose view an event changes beyond what the state tells everyone.
func (t *Table) note(e game.Event) {
	if e.Type == game.Pressed {
		if len(t.state.Presses) == 1 {
			t.pressed = t.journal.Hub(e.Press.Got)
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
func (t *Table) commit() {
	if len(t.journal.Pending) > 0 {
		began := t.house.Clock()
		err := t.journal.Commit(t.house.Context, t.standings)
		t.house.Metrics.append.Observe((t.house.Clock() - began).Seconds())
		if err != nil {
			t.rollBack(err)
			return
		}
	}
	replies := t.replies
	t.replies = nil
	for _, r := range replies {
		t.reply(r)
	}
	t.tellHub()
}

// reply tells a client what it is owed, unless it has left meanwhile.
func (t *Table) reply(r reply) {
	if t.audience.Has(r.to) {
		r.say()
	}
}

// tellHub tells, whenever the game is stored as it stands, that it has begun or ended.
func (t *Table) tellHub() {
	switch {
	case t.state.Seq == 0:
	case t.state.Phase == game.Ended && t.told < ended:
		t.told = ended
		t.house.Ended(t.state.Clone())
	case t.state.Phase != game.Lobby && t.told < begun:
		t.told = begun
		t.house.Begun(t.state.Clone())
	}
}

func (t *Table) rollBack(cause error) {
	if t.house.Leases != nil {
		t.suspend(cause)
		return
	}
	t.log.Error("the store refused events; the game goes back to what is stored", "error", cause, "events", len(t.journal.Pending))
	if err := t.Load(); err != nil && !errors.Is(err, context.Canceled) {
		t.log.Error("the stored game can't be read", "error", err)
	}
	t.refuse(cause)
}

var errUnkept = refusal.New(refusal.NotStored, "The hub could not keep this, so nothing was changed. Try again; if it goes on, look at the hub's log.")

// refuse tells those who wait for what was decided that it does not hold, once the
// state is the stored one again.
func (t *Table) refuse(cause error) {
	if !errors.Is(cause, store.ErrUnavailable) {
		cause = errUnkept
	}
	replies := t.replies
	t.replies = nil
	for _, r := range replies {
		if r.anyway {
			t.reply(r)
			continue
		}
		if r.to.Role == audience.Joining {
			r.to.Role = ""
		}
		r.to.Refuse(r.id, cause)
	}
	t.showAll()
}

// showAll has everyone told everything anew.
func (t *Table) showAll() {
	t.ranking, t.changed, t.urgent, t.all = nil, true, true, true
}

// standings are the state's, worked out once for all who ask.
func (t *Table) standings() []game.Standing {
	if t.ranking == nil {
		t.ranking = t.state.Standings()
		t.ranks = append(t.ranks[:0], make([]int, len(t.state.Teams))...)
		for _, st := range t.ranking {
			t.ranks[st.Place] = st.Rank
		}
	}
	return t.ranking
}
