package redis

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/redis/go-redis/v9"

	"fieldsign/hub/store"
)

// passing are the first words of errors that pass by themselves, or with an
// operator's help: a server that starts or fails over, is cut off from its
// replicas, is out of memory, or can't write its disk.
var passing = []string{"LOADING", "CLUSTERDOWN", "MASTERDOWN", "TRYAGAIN", "BUSY", "UNBLOCKED", "MOVED", "ASK"}

// refusing are those with which a server that answers takes no write, and what
// to do.
var refusing = map[string]string{
	"OOM":        "its memory is full: give it more (maxmemory), or delete what is not needed",
	"MISCONF":    "it can't write its disk: make room there, or mend it",
	"NOREPLICAS": "too few of its replicas are connected: bring them back",
	"READONLY":   "it is a replica: wait for the failover, or give the address of the primary",
}

// explain puts an error of the client in the store's words. The caller's own
// context goes first: what it ended is no fault of the server.
func explain(ctx context.Context, err error) error {
	if err == nil {
		return nil
	}
	if own := ctx.Err(); own != nil {
		return own
	}
	if errors.Is(err, redis.ErrClosed) {
		return ErrClosed
	}
	var said redis.Error
	if !errors.As(err, &said) {
		return fmt.Errorf("%w: Redis can't be reached: %w", store.ErrUnavailable, err)
	}
	word, _, _ := strings.Cut(said.Error(), " ")
	if help, ok := refusing[word]; ok {
		return store.NoWrites{Reason: fmt.Errorf("%s (Redis says: %w)", help, err)}
	}
	if slices.Contains(passing, word) {
		return fmt.Errorf("%w: Redis says: %w", store.ErrUnavailable, err)
	}
	return fmt.Errorf("store: Redis refuses: %w; check its address, its rights and its version (7.0 or later)", err)
}

// refusal puts the first word of a step's answer in the store's words.
func refusal(word string, rest []string, game string) error {
	detail := strings.Join(rest, " ")
	switch word {
	case "OK":
		return nil
	case "UNKNOWN":
		return fmt.Errorf("%w: %q", store.ErrUnknownGame, game)
	case "CONFLICT":
		return fmt.Errorf("%w: game %q stands at %s", store.ErrConflict, game, detail)
	case "LOST":
		return fmt.Errorf("%w: game %q ends at record %s", store.ErrLost, game, detail)
	case "FENCED":
		return fmt.Errorf("%w: game %q, the last token is %s", store.ErrFenced, game, detail)
	case "OWNED":
		return fmt.Errorf("%w: game %q, hub %q", store.ErrOwned, game, rest[0])
	}
	return fmt.Errorf("store: game %q: an answer that this version doesn't know: %q", game, word)
}

func damaged(what, help string) error {
	return fmt.Errorf("%w: %s; %s", store.ErrCorrupt, what, help)
}

func damagedRecord(game string, seq uint64) error {
	return damaged(fmt.Sprintf("game %q, record %d", game, seq), "restore Redis from a backup or delete this game")
}
