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
)

// Lease is a hub's hold on a game.
type Lease struct {
	Hub   string
	Token uint64        // higher with each acquisition, never used twice
	Left  time.Duration // by the store's clock; 0 or less once it is over
	Last  uint64        // the log's last Seq: lower than what its owner saw accepted, records are lost
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

	// PhotoChanges sends on the channel after each change of the photos and after
	// each gap in listening, several at once as one. A wake-up says only: read. The
	// channel is closed with ctx or with the store.
	PhotoChanges(ctx context.Context) <-chan struct{}

	// Durability reads the servers' settings. Where one of them takes no writes
	// as it stands, the error is a NoWrites.
	Durability(ctx context.Context) (Durability, error)
}
