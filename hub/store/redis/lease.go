package redis

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"fieldsign/hub/store"
)

// Acquire makes hub the owner of the game, under a token higher than any
// before. A hub that owns it already gets a new token too: it may have been
// started anew, and then the one before must stop.
func (s *shared) Acquire(ctx context.Context, game, hub string, ttl time.Duration) (store.Lease, error) {
	if err := checkID("a game", game); err != nil {
		return store.Lease{}, err
	}
	if err := checkID("a hub", hub); err != nil {
		return store.Lease{}, err
	}
	if err := s.games.mark(ctx, game); err != nil { // whoever takes it over mends the index too
		return store.Lease{}, err
	}
	word, rest, err := s.run(ctx, acquireStep, []string{s.keysOf(game).meta()}, hub, millis(ttl), millis(unbegun))
	return leaseOf(word, rest, game, err)
}

// Owner returns the last lease of a game that has begun.
func (s *shared) Owner(ctx context.Context, game string) (store.Lease, error) {
	word, rest, err := s.run(ctx, lookStep, []string{s.keysOf(game).meta()})
	return leaseOf(word, rest, game, err)
}

// leaseOf reads hub, token, microseconds left and last record.
func leaseOf(word string, rest []string, game string, err error) (store.Lease, error) {
	if err != nil {
		return store.Lease{}, err
	}
	refused := refusal(word, rest, game)
	if len(rest) != 4 {
		return store.Lease{}, refused
	}
	token, err1 := strconv.ParseUint(rest[1], 10, 64)
	left, err2 := strconv.ParseInt(rest[2], 10, 64)
	last, err3 := strconv.ParseUint(rest[3], 10, 64)
	if err1 != nil || err2 != nil || err3 != nil {
		return store.Lease{}, damaged(fmt.Sprintf("the lease of game %q: %q", game, rest), "delete this game")
	}
	return store.Lease{Hub: rest[0], Token: token, Left: time.Duration(left) * time.Microsecond, Last: last}, refused
}

// Renew makes the lease end ttl from now.
func (s *shared) Renew(ctx context.Context, game string, t uint64, ttl time.Duration) error {
	word, rest, err := s.run(ctx, renewStep, []string{s.keysOf(game).meta()}, token(t), millis(ttl))
	if err != nil {
		return err
	}
	return refusal(word, rest, game)
}

// Release ends the lease, if it is the caller's.
func (s *shared) Release(ctx context.Context, game string, t uint64) error {
	_, _, err := s.run(ctx, releaseStep, []string{s.keysOf(game).meta()}, token(t))
	return err
}
