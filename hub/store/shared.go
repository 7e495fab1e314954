package store

import (
	"context"
	"errors"
	"time"
)

var (
	// ErrOwned: another hub's lease on the game is running.
	ErrOwned = errors.New("store: another hub runs this game")
	// ErrFenced: the token is not that of the game's running lease. Its holder
	// stops, acquires the game anew and reads its log.
	ErrFenced = errors.New("store: the lease on this game is over or another hub's")
	// ErrFull: as many frames wait for the game's owner as are kept.
	ErrFull = errors.New("store: too many frames wait for the hub that runs this game")
	// ErrMissed: frames from the owner are gone, or another owner speaks. The
	// listener goes on from the position it is given and shows the state anew.
	ErrMissed = errors.New("store: frames of this game were missed")
)

// Lease is a hub's hold on a game.
type Lease struct {
	Hub   string
	Token uint64        // higher with each acquisition, never used twice
	Left  time.Duration // by the store's clock; 0 or less once it is over
	Last  uint64        // the log's last Seq: lower than what its owner saw accepted, records are lost
}

// Topic is what a subscriber wants to be woken for.
type Topic string

const (
	OnLog Topic = "log" // records were appended
	OnIn  Topic = "in"  // frames wait for the owner
	OnOut Topic = "out" // the owner told something
)

// Frame is what one hub relays to another, opaque to the store.
type Frame struct {
	ID   string // given by the store
	Hub  string // whom it is from or, told by an owner, for; "" is for all
	Data []byte
}

// Position is a place in what a game's owners tell: the Nth frame under Token.
type Position struct {
	Token uint64
	N     uint64
}

// Durability is what the store's own settings promise.
type Durability struct {
	Known       bool   `json:"known"` // false where the settings may not be read
	AppendOnly  bool   `json:"appendOnly"`
	Fsync       string `json:"fsync"` // always, everysec or no
	Save        string `json:"save"`
	Servers     int    `json:"servers"`     // that hold a part of the games each
	Replicas    int    `json:"replicas"`    // the fewest that a server has
	MinReplicas int    `json:"minReplicas"` // without which a server takes no write
	Evicts      bool   `json:"evicts"`      // drops games when its memory is full
	Promise     string `json:"promise"`     // in words
}

// Shared is a Store that several hubs use at once. A game that was ever leased
// takes a batch only with the token of its running lease, and refuses any other
// with ErrFenced in the same atomic step.
type Shared interface {
	Store
	// Acquire makes hub the owner of the game for ttl, under a new token. While
	// another's lease runs it returns that one, and ErrOwned. The game need not
	// exist yet.
	Acquire(ctx context.Context, game, hub string, ttl time.Duration) (Lease, error)
	// Renew makes the lease end ttl from now. One that is over can't be renewed.
	Renew(ctx context.Context, game string, token uint64, ttl time.Duration) error
	// Release ends the lease; one that is not the caller's is left alone.
	Release(ctx context.Context, game string, token uint64) error
	// Owner returns the last lease of a game that has records.
	Owner(ctx context.Context, game string) (Lease, error)

	// Subscribe sends on the channel after each change and after each gap in
	// listening, several at once as one. A wake-up says only: read. It ends,
	// and the channel is closed, with ctx or with the store.
	Subscribe(ctx context.Context, game string, topic Topic) (<-chan struct{}, error)

	// Send puts frames in the owner's mailbox. Where it fails they may be there
	// all the same, and once more when they are sent again: frames carry numbers
	// of the sender's own.
	Send(ctx context.Context, game, from string, data ...[]byte) error
	// Waiting returns the oldest frames in the mailbox, a bounded number.
	Waiting(ctx context.Context, game string) ([]Frame, error)
	// Handled takes frames out of the mailbox.
	Handled(ctx context.Context, game string, token uint64, frames []Frame) error

	// Tell says frames to other hubs, the first being number at.N+1, and
	// returns the last one's position. Repeated, it changes nothing. A new
	// owner begins at Position{Token: token}.
	Tell(ctx context.Context, game string, at Position, frames []Frame) (Position, error)
	// Told calls each for the frames after a position, in order, and returns
	// the last one's. The zero position stands for now. With ErrMissed the
	// position returned is the one to go on from.
	Told(ctx context.Context, game string, after Position, each func(Frame) error) (Position, error)

	// Durability reads the servers' settings. Where one of them takes no writes
	// as it stands, the error is a NoWrites.
	Durability(ctx context.Context) (Durability, error)
}
