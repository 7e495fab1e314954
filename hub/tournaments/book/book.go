// Package book keeps tournaments in the hub's store: each is a log of its own
// events beside the logs of games. Commands are decided on the log as it is
// stored, and their event is stored before anyone is told. It knows no sockets,
// no HTTP and nothing of games.
//
// Hubs that share a store need no lease on a tournament: an event is appended
// after the one that it was decided on, or not at all. Where another hub was
// first, the log is read on and the command decided anew.
package book

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"fieldsign/game"
	"fieldsign/game/tournament"
	"fieldsign/hub/once"
	"fieldsign/hub/store"
	"fieldsign/refusal"
)

// kind begins the id of a tournament's log. No join code has capitals, however
// it was typed, so that none ever names such a log.
const kind = "Tournament "

// attempts are how often a command is decided anew before it is given up.
const attempts = 100

var (
	// ErrUnknown: no such tournament.
	ErrUnknown error = refusal.New(refusal.UnknownTournament, "No tournament has that code. It is two words and two digits, as on the host's page.")
	// ErrTaken: the code of a new tournament is another one's.
	ErrTaken = errors.New("tournaments: this code is another tournament's")
	// errOther: the log is not the one that was read before.
	errOther = errors.New("tournaments: the log has lost its end")
)

// Is tells whether a log of the store is a tournament's, and no game's.
func Is(id string) bool { return strings.HasPrefix(id, kind) }

// CodeOf is the code of the tournament that a log of the store is; ok is false
// for a game's.
func CodeOf(id string) (code string, ok bool) { return strings.CutPrefix(id, kind) }

// Tournament is a tournament and its log. It is on loan: nothing of it may be kept or
// changed.
type Tournament struct {
	tournament.State
	Log []tournament.Event
}

// Book is the tournaments of a store. It is safe for concurrent use.
type Book struct {
	store store.Store
	read  once.Map[string, *entry]
}

// entry is a tournament as far as its log was read.
type entry struct {
	mu   sync.Mutex
	cup  Tournament
	last []byte // the record read last
}

// Open is the book of a store, which stays the caller's to close.
func Open(s store.Store) *Book { return &Book{store: s} }

// Create begins a tournament under the command's code.
func (b *Book) Create(ctx context.Context, c tournament.Command) error {
	events, err := tournament.Decide(tournament.State{}, c)
	if err != nil {
		return err
	}
	err = b.store.Append(ctx, batch(c.Code, events, false))
	if errors.Is(err, store.ErrConflict) {
		return ErrTaken
	}
	return err
}

// Do gives a command. Its error is a refusal.Refusal, ErrUnknown or the
// store's; then nothing has changed, but for what store.ErrUnavailable says.
func (b *Book) Do(ctx context.Context, code string, c tournament.Command) error {
	return b.Decide(ctx, code, func(Tournament) (tournament.Command, error) { return c, nil })
}

// Decide gives the command that is made up from the tournament as it stands. It is
// made anew where another hub comes first.
func (b *Book) Decide(ctx context.Context, code string, command func(Tournament) (tournament.Command, error)) error {
	e := b.entry(code)
	e.mu.Lock()
	defer e.mu.Unlock()
	var err error
	for range attempts {
		if err = e.follow(ctx, b.store, code); err != nil {
			return b.unread(code, err)
		}
		var c tournament.Command
		if c, err = command(e.cup); err != nil {
			return err
		}
		if err = e.add(ctx, b.store, code, c); !errors.Is(err, store.ErrConflict) {
			return err
		}
	}
	return err
}

// Look hands a tournament as it is stored to see.
func (b *Book) Look(ctx context.Context, code string, see func(Tournament)) error {
	e := b.entry(code)
	e.mu.Lock()
	defer e.mu.Unlock()
	if err := e.follow(ctx, b.store, code); err != nil {
		return b.unread(code, err)
	}
	see(e.cup)
	return nil
}

// Codes lists the tournaments, in the order of their codes.
func (b *Book) Codes(ctx context.Context) ([]string, error) {
	logs, err := b.store.Games(ctx)
	var codes []string
	for _, l := range logs {
		if code, ok := CodeOf(l.ID); ok {
			codes = append(codes, code)
		}
	}
	return codes, err
}

// Logs are the ids of all that the store has of a tournament: its log, and the
// games that its matches ever were played in. Of a log that can't be read the
// games are not known. Whoever deletes them tells the book by Forget.
func (b *Book) Logs(ctx context.Context, code string) (ids []string, err error) {
	err = b.Look(ctx, code, func(c Tournament) {
		ids = append(ids, kind+code)
		for _, e := range c.Log {
			if e.Type == tournament.Started {
				ids = append(ids, e.Game)
			}
		}
	})
	if errors.Is(err, game.ErrMisfit) || errors.Is(err, store.ErrCorrupt) {
		return []string{kind + code}, nil
	}
	return ids, err
}

// Forget lets go of what was read of a tournament.
func (b *Book) Forget(code string) { b.read.Drop(code) }

func (b *Book) entry(code string) *entry {
	e, _ := b.read.Get(code, func() (*entry, error) { return &entry{}, nil })
	return e
}

// unread forgets a tournament that can't be read, so that guesses at codes
// leave nothing behind.
func (b *Book) unread(code string, err error) error {
	b.Forget(code)
	if errors.Is(err, store.ErrUnknownGame) {
		return ErrUnknown
	}
	return fmt.Errorf("tournament %s: %w", code, err)
}

// add decides a command and stores its event.
func (e *entry) add(ctx context.Context, s store.Store, code string, c tournament.Command) error {
	events, err := tournament.Decide(e.cup.State, c)
	if err != nil || len(events) == 0 {
		return err
	}
	b := batch(code, events, events[len(events)-1].Type == tournament.Finished)
	if err := s.Append(ctx, b); err != nil {
		return err
	}
	for _, r := range b.Records {
		if err := e.take(r); err != nil {
			return err
		}
	}
	return nil
}

// follow reads on in the log. The record that was read last is read again: if
// it is another one or gone, the store has lost the log's end, and all is read
// anew.
func (e *entry) follow(ctx context.Context, s store.Store, code string) error {
	known := e.cup.Seq
	again := known > 0
	err := s.Read(ctx, kind+code, max(known, 1)-1, func(r store.Record) error {
		switch {
		case !again:
			return e.take(r)
		case !bytes.Equal(r.Data, e.last):
			return errOther
		}
		again = false
		return nil
	})
	if again && err == nil || errors.Is(err, errOther) {
		e.cup, e.last = Tournament{}, nil
		return e.follow(ctx, s, code)
	}
	if err == nil && e.cup.Seq == 0 {
		err = store.ErrUnknownGame
	}
	return err
}

// take applies a record as it is stored, so that a hub that decided on an event
// and one that reads it later have the very same.
func (e *entry) take(r store.Record) error {
	var event tournament.Event
	if err := json.Unmarshal(r.Data, &event); err != nil {
		return fmt.Errorf("event %d of this tournament can't be read: %w: %w", r.Seq, err, game.ErrMisfit)
	}
	state, err := tournament.Take(e.cup.State, event)
	if err != nil {
		return err
	}
	e.cup.State = state
	e.cup.Log = append(e.cup.Log, event)
	e.last = slices.Clone(r.Data)
	return nil
}

func batch(code string, events []tournament.Event, ended bool) store.Batch {
	b := store.Batch{Game: kind + code, Ended: ended}
	for _, e := range events {
		data, err := json.Marshal(e)
		if err != nil {
			panic(err) // never, for this type
		}
		b.Records = append(b.Records, store.Record{Seq: e.Seq, Data: data})
	}
	return b
}
