// Package journal is a game on its log in the store: its state, what is decided of
// it and not yet stored, and its clock. It knows no clients.
package journal

import (
	"bytes"
	"context"
	"slices"
	"time"

	"fieldsign/game"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
)

// Journal is one game. It is not safe for concurrent use.
type Journal struct {
	State   game.State   // with what is decided and not yet stored
	Pending []game.Event // that is
	Token   uint64       // of the lease that the log is written under, where hubs share the store

	code   string
	store  store.Store
	shared bool
	clock  func() time.Duration

	start  int64         // the game's clock in ms when the hub's stood at since
	since  time.Duration // of the hub's clock
	still  bool          // the game's clock stands
	atHand []store.Record
}

// New is an empty game on a hub's monotonic clock. Load reads what is stored of it.
func New(code string, s store.Store, clock func() time.Duration) *Journal {
	_, shared := s.(store.Shared)
	return &Journal{code: code, store: s, shared: shared, clock: clock, since: clock()}
}

// Load replays the game as it is stored.
func (j *Journal) Load(ctx context.Context) error {
	j.State, j.Pending, j.atHand = game.State{}, nil, nil
	err := j.store.Read(ctx, j.code, 0, func(r store.Record) error {
		j.keepAtHand(r)
		return j.apply(r)
	})
	j.start, j.since = j.State.At, j.clock()
	return err
}

func (j *Journal) apply(r store.Record) error {
	e, err := retention.EventOf(r)
	if err == nil {
		j.State, err = game.Take(j.State, e)
	}
	return err
}

// keepAtHand is for a store that may be gone for a while when the game has to go
// back to what is stored.
func (j *Journal) keepAtHand(records ...store.Record) {
	if j.shared {
		j.atHand = append(j.atHand, records...)
	}
}

// Now is the game's clock in ms. It stands still while no hub runs the game.
func (j *Journal) Now() int64 {
	if j.still {
		return j.start
	}
	return j.start + (j.clock() - j.since).Milliseconds()
}

// Micros puts a time of the hub's clock on the game's, in microseconds.
func (j *Journal) Micros(at time.Duration) int64 {
	return j.start*1000 + (at - j.since).Microseconds()
}

// Hub puts a time of the game's clock, in microseconds, on the hub's.
func (j *Journal) Hub(micros int64) time.Duration {
	return j.since + time.Duration(micros-j.start*1000)*time.Microsecond
}

// Decide applies what a command brings about, and tells of each event. Commit
// makes it last.
func (j *Journal) Decide(c game.Command, applied func(game.Event)) error {
	events, err := game.Decide(j.State, c, j.Now())
	if err != nil {
		return err
	}
	for _, e := range events {
		j.State = game.Apply(j.State, e)
		applied(e)
	}
	j.Pending = append(j.Pending, events...)
	return nil
}

// Try tells why commands would not all have effect one after the other. It changes
// nothing.
func (j *Journal) Try(list ...game.Command) error {
	s, now := j.State.Clone(), j.Now()
	for _, c := range list {
		events, err := game.Decide(s, c, now)
		if err != nil {
			return err
		}
		for _, e := range events {
			s = game.Apply(s, e)
		}
	}
	return nil
}

// Commit stores what is decided. Where the store refuses, nothing of that holds:
// Load or Suspend goes back to what is stored.
func (j *Journal) Commit(ctx context.Context, standings func() []game.Standing) error {
	b := store.Batch{Game: j.code, Ended: j.State.Phase == game.Ended, Token: j.Token}
	for _, e := range j.Pending {
		b.Records = append(b.Records, store.Record{Seq: e.Seq, Data: wire.Encode(e)})
		if slices.Contains(ranking, e.Type) {
			b.Standings = retention.Kept(standings())
		}
	}
	if err := j.store.Append(ctx, b); err != nil {
		return err
	}
	j.keepAtHand(b.Records...)
	j.Pending = nil
	return nil
}

// ranking are the events after which the standings are stored anew.
var ranking = []string{game.Scored, game.Ruled, game.Undone, game.Corrected, game.Finished, game.Forgotten}

// Suspend goes back to what was stored, as far as that is at hand, and has the
// game's clock stand still.
func (j *Journal) Suspend() {
	j.start, j.still = j.Now(), true
	j.State, j.Pending = game.State{}, nil
	for _, r := range j.atHand {
		j.apply(r)
	}
}

// Resume takes the log up as it was read anew, and tells whether something is gone
// that was stored once.
func (j *Journal) Resume(fresh *Journal) (lost bool) {
	lost = !begins(fresh.atHand, j.atHand)
	j.State, j.atHand, j.still = fresh.State, fresh.atHand, false
	j.start, j.since = max(j.start, j.State.At), j.clock()
	return lost
}

// begins tells whether a log begins with what was known of it.
func begins(log, known []store.Record) bool {
	return len(log) >= len(known) && slices.EqualFunc(log[:len(known)], known, func(a, b store.Record) bool { return bytes.Equal(a.Data, b.Data) })
}
