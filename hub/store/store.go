// Package store says what the hub needs kept: each game's event log and its
// standings, the tables of seasons, and the teacher's photos. It knows nothing
// of the rules: records are opaque bytes.
// An adapter is a folder named for its technology; storetest is the suite
// that each of them must pass.
package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"
)

var (
	// ErrConflict: the first record's Seq does not follow the log's last one.
	ErrConflict = errors.New("store: the log has moved on: another writer appended first")
	// ErrLost, an ErrConflict: the log ends before the record that the batch
	// follows, so that something once accepted is gone.
	ErrLost = fmt.Errorf("%w, or what it followed is lost", ErrConflict)
	// ErrUnavailable: the store can't be reached or takes no writes for now.
	// Whether a write was kept is known only by reading or repeating it.
	ErrUnavailable = errors.New("store: not available")
	// ErrUnknownGame: no such game in the store.
	ErrUnknownGame = errors.New("store: no such game")
	// ErrCorrupt: a record's checksum or sequence number is wrong.
	ErrCorrupt = errors.New("store: a record is damaged")
	// ErrUnknownPhoto: no such photo in the store.
	ErrUnknownPhoto = errors.New("store: no such photo")
)

// NoWrites is an ErrUnavailable of a store that answers, and takes no write
// for a reason of its own.
type NoWrites struct{ Reason error }

func (e NoWrites) Error() string {
	return fmt.Sprintf("%v: it takes no writes: %v", ErrUnavailable, e.Reason)
}
func (e NoWrites) Unwrap() []error { return []error{ErrUnavailable, e.Reason} }

// Record is one event of a game's log. Seq counts from 1 without a gap.
type Record struct {
	Seq  uint64
	Data []byte
}

// Standing is a line of a game's leaderboard, best first.
type Standing struct {
	Rank  int    `json:"rank"`
	Team  string `json:"team"`
	Name  string `json:"name"`
	Score int    `json:"score"`
}

// Batch is what one command writes, all or nothing.
type Batch struct {
	Game      string
	Records   []Record
	Standings []Standing // replaces those kept; nil leaves them alone
	Ended     bool       // marks the game as finished
	Token     uint64     // of the lease it is written under; see Shared
}

// Game is a line of the store's index.
type Game struct {
	ID    string
	Last  uint64 // the last record's Seq
	Ended bool

	// Written is when the game's last batch was, to the second; zero where that
	// isn't known, as in a store that lets games go by itself after a time.
	Written time.Time
}

// PhotoInfo is a photo without its bytes.
type PhotoInfo struct {
	ID      string `json:"id"`
	Species string `json:"species"` // its scientific name
	Subject string `json:"subject"`
	Credit  string `json:"credit"` // who took it
}

// Photo is a picture that is shown in place of a drawing.
type Photo struct {
	PhotoInfo
	JPEG []byte
}

// Lasting is a Store that may stop taking writes until it is opened anew.
type Lasting interface {
	// Writable says why it takes no writes any more, or nil.
	Writable() error
}

// Store is safe for concurrent use. What Append has accepted survives a crash
// of the process and, as far as the disk keeps its word, of the machine.
type Store interface {
	// Append writes the batch durably before it returns. Concurrent calls may
	// share one commit; a refused batch never spoils another's.
	// A game begins with the record of Seq 1.
	// A batch that the log ends with already, byte for byte, is taken for the
	// repetition of a call whose answer was lost: accepted, and nothing changes.
	Append(ctx context.Context, b Batch) error
	// Read calls each for the records with Seq > after, in order, and stops at
	// its first error. A damaged record ends it with an error that wraps ErrCorrupt.
	Read(ctx context.Context, game string, after uint64, each func(Record) error) error
	// Standings returns the leaderboard last written, or none.
	Standings(ctx context.Context, game string) ([]Standing, error)
	// Games lists all games, in the order of their ids.
	Games(ctx context.Context) ([]Game, error)
	// Delete forgets games entirely; an unknown one is no error. No byte of them
	// stays behind in what the store keeps. Many at once cost little more than one.
	Delete(ctx context.Context, games ...string) error
	// PutPhoto writes the photo durably before it returns, in place of an
	// earlier one with its id.
	PutPhoto(ctx context.Context, p Photo) error
	// Photos lists all photos, in the order of their ids. Where some are
	// damaged it returns the others, and an error that wraps ErrCorrupt.
	Photos(ctx context.Context) ([]PhotoInfo, error)
	// Photo returns one with its bytes, which are the caller's.
	Photo(ctx context.Context, id string) (Photo, error)
	// DeletePhoto forgets photos as Delete does games.
	DeletePhoto(ctx context.Context, ids ...string) error
	Seasons
	Close() error
}

// Rewriter is a Store that can take something out of what is stored already,
// such as a nickname that must be forgotten. Nobody may append to the game
// meanwhile.
type Rewriter interface {
	// Rewrite puts what the two functions make of a game's records and of its
	// standings in their places, all or nothing. No byte of what they replace
	// stays behind.
	Rewrite(ctx context.Context, game string, record func(Record) ([]byte, error), line func(Standing) Standing) error
}

// Backer is a Store that can be copied as it stands, while it is in use.
type Backer interface {
	// Backup writes a copy that is consistent in itself, with a checksum.
	Backup(ctx context.Context, w io.Writer) error
}
