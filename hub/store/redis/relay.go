package redis

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"github.com/redis/go-redis/v9"

	"fieldsign/hub/store"
)

const (
	maxFrame   = 8 << 20     // bytes: a console's view of a very large game
	maxWaiting = 4096        // frames in a mailbox
	maxTold    = 512         // frames kept for those who listen late
	keepFrames = time.Minute // after the last of them
)

// Send puts frames in the mailbox of the game's owner: all, or none.
func (s *Store) Send(ctx context.Context, game, from string, data ...[]byte) error {
	k := s.keysOf(game)
	args := []any{from, maxWaiting, millis(keepFrames), k.channel(store.OnIn)}
	for _, d := range data {
		if len(d) > maxFrame {
			return tooLarge(game, len(d))
		}
		args = append(args, d)
	}
	word, rest, err := s.run(ctx, sendStep, []string{k.meta(), k.in()}, args...)
	if err != nil {
		return err
	}
	return refusal(word, rest, game)
}

// Waiting returns the oldest frames of the mailbox, at most pageLen.
func (s *Store) Waiting(ctx context.Context, game string) ([]store.Frame, error) {
	var entries []redis.XMessage
	err := s.bounded(ctx, func(ctx context.Context) (err error) {
		entries, err = s.client.XRangeN(ctx, s.keysOf(game).in(), "-", "+", pageLen).Result()
		return err
	})
	frames := make([]store.Frame, len(entries))
	for i, e := range entries {
		frames[i] = frameOf(e)
	}
	return frames, err
}

// Handled takes the frames out of the mailbox.
func (s *Store) Handled(ctx context.Context, game string, t uint64, frames []store.Frame) error {
	if len(frames) == 0 {
		return nil
	}
	args := []any{token(t)}
	for _, f := range frames {
		args = append(args, f.ID)
	}
	k := s.keysOf(game)
	word, rest, err := s.run(ctx, handledStep, []string{k.meta(), k.in()}, args...)
	if err != nil {
		return err
	}
	return refusal(word, rest, game)
}

// Tell says the frames, numbered on from at.
func (s *Store) Tell(ctx context.Context, game string, at store.Position, frames []store.Frame) (store.Position, error) {
	k := s.keysOf(game)
	args := []any{token(at.Token), at.N, maxTold, millis(keepFrames), k.channel(store.OnOut)}
	for _, f := range frames {
		if len(f.Data) > maxFrame {
			return at, tooLarge(game, len(f.Data))
		}
		args = append(args, f.Hub, f.Data)
	}
	if len(frames) == 0 {
		return at, nil
	}
	word, rest, err := s.run(ctx, tellStep, []string{k.meta(), k.out()}, args...)
	if err != nil {
		return at, err
	}
	if err := refusal(word, rest, game); err != nil {
		return at, err
	}
	return store.Position{Token: at.Token, N: at.N + uint64(len(frames))}, nil
}

// Told reads page by page what was told after a position. Since numbers have no
// gap, and another owner begins a new count under a new token, nothing can be
// missed unnoticed.
func (s *Store) Told(ctx context.Context, game string, after store.Position, each func(store.Frame) error) (store.Position, error) {
	at := after
	for {
		page, now, err := s.toldPage(ctx, game, at)
		switch {
		case err != nil:
			return at, err
		case after == store.Position{}:
			return now, nil
		case now.Token != at.Token || now.N < at.N:
			return now, missed(game, at)
		}
		for _, e := range page {
			if e.ID != toldID(store.Position{Token: at.Token, N: at.N + 1}) {
				return now, missed(game, at)
			}
			if err := ctx.Err(); err != nil {
				return at, err
			}
			if err := each(frameOf(e)); err != nil {
				return at, err
			}
			at.N++
		}
		switch {
		case at.N >= now.N:
			return at, nil
		case len(page) == 0:
			return now, missed(game, at)
		}
	}
}

// toldPage reads frames after a position, and where the owner's last one stands.
func (s *Store) toldPage(ctx context.Context, game string, at store.Position) (page []redis.XMessage, now store.Position, err error) {
	k := s.keysOf(game)
	var meta *redis.SliceCmd
	var entries *redis.XMessageSliceCmd
	err = s.together(ctx, true, func(p redis.Pipeliner) {
		meta = p.HMGet(ctx, k.meta(), "token", "told")
		entries = p.XRangeN(ctx, k.out(), "("+toldID(at), "+", pageLen)
	})
	if err != nil {
		return nil, now, err
	}
	token, ok := meta.Val()[0].(string)
	if !ok {
		return nil, now, fmt.Errorf("%w: %q", store.ErrUnknownGame, game)
	}
	told, _ := meta.Val()[1].(string)
	now.Token, _ = strconv.ParseUint(token, 10, 64)
	now.N, _ = strconv.ParseUint(told, 10, 64)
	return entries.Val(), now, nil
}

func toldID(at store.Position) string { return fmt.Sprintf("%d-%d", at.Token, at.N) }

func frameOf(e redis.XMessage) store.Frame {
	hub, _ := e.Values["hub"].(string)
	data, _ := e.Values["data"].(string)
	return store.Frame{ID: e.ID, Hub: hub, Data: []byte(data)}
}

func missed(game string, at store.Position) error {
	return fmt.Errorf("%w: game %q, after frame %d under token %d", store.ErrMissed, game, at.N, at.Token)
}

func tooLarge(game string, size int) error {
	return fmt.Errorf("store: game %q: a frame has %d bytes, more than %d", game, size, maxFrame)
}
