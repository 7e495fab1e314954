package redis

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"

	"github.com/redis/go-redis/v9"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// Read takes the log page by page, each by the id that it begins with.
func (s *shared) Read(ctx context.Context, game string, after uint64, each func(store.Record) error) error {
	for {
		page, last, err := s.page(ctx, game, after)
		// The records before a damaged one are good.
		for _, r := range page {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := each(r); err != nil {
				return err
			}
		}
		after += uint64(len(page))
		if err != nil || after >= last {
			return err
		}
	}
}

// page reads up to pageLen records that follow after, and the number of the
// log's last. With an error it returns those before the damage.
func (s *shared) page(ctx context.Context, game string, after uint64) (page []store.Record, last uint64, err error) {
	k := s.keysOf(game)
	var lastOf *redis.StringCmd
	var entries *redis.XMessageSliceCmd
	err = s.together(ctx, true, func(p redis.Pipeliner) {
		lastOf = p.HGet(ctx, k.meta(), "last")
		entries = p.XRangeN(ctx, k.log(), "("+streamID(after), "+", pageLen)
	})
	if err != nil {
		return nil, 0, err
	}
	if last, err = known(lastOf, game); err != nil || after >= last {
		return nil, last, err
	}
	for _, e := range entries.Val() {
		seq := after + uint64(len(page)) + 1
		data, ok := recordOf(e, game, seq)
		if !ok {
			return page, last, damagedRecord(game, seq)
		}
		page = append(page, store.Record{Seq: seq, Data: data})
	}
	if want := min(pageLen, last-after); uint64(len(page)) < want {
		return page, last, damagedRecord(game, after+uint64(len(page))+1)
	}
	return page, last, nil
}

func streamID(seq uint64) string { return strconv.FormatUint(seq, 10) + "-0" }

func recordOf(e redis.XMessage, game string, seq uint64) ([]byte, bool) {
	value, ok := e.Values["r"].(string)
	if !ok || e.ID != streamID(seq) {
		return nil, false
	}
	return seal.Open(game, seq, []byte(value))
}

// known is the last record's number, which only a game that has begun has.
func known(last *redis.StringCmd, game string) (uint64, error) {
	if last.Val() == "" {
		return 0, fmt.Errorf("%w: %q", store.ErrUnknownGame, game)
	}
	seq, err := last.Uint64()
	if err != nil {
		return 0, damagedRecord(game, 0)
	}
	return seq, nil
}

// Standings returns the leaderboard last written; a game may have none yet.
func (s *shared) Standings(ctx context.Context, game string) ([]store.Standing, error) {
	k := s.keysOf(game)
	var last *redis.StringCmd
	var order *redis.StringSliceCmd
	var lines *redis.MapStringStringCmd
	err := s.together(ctx, true, func(p redis.Pipeliner) {
		last = p.HGet(ctx, k.meta(), "last")
		order = p.ZRange(ctx, k.order(), 0, -1)
		lines = p.HGetAll(ctx, k.lines())
	})
	if err != nil {
		return nil, err
	}
	if _, err := known(last, game); err != nil {
		return nil, err
	}
	var all []store.Standing
	for i, team := range order.Val() {
		data, ok := seal.Open(lineOf(game), uint64(i+1), []byte(lines.Val()[team]))
		var line store.Standing
		if !ok || json.Unmarshal(data, &line) != nil || len(order.Val()) != len(lines.Val()) {
			return nil, damaged(fmt.Sprintf("the standings of game %q", game), "the next ones written replace them")
		}
		all = append(all, line)
	}
	return all, nil
}

// Games lists all games. It looks at no record, so that a game with a damaged
// one is listed and can be deleted.
func (s *shared) Games(ctx context.Context) ([]store.Game, error) {
	var list []store.Game
	err := s.games.each(ctx, func(id string) string { return s.keysOf(id).meta() }, []string{"last", "ended"}, func(id string, values []any) bool {
		last, ok := values[0].(string)
		if !ok {
			return false
		}
		seq, _ := strconv.ParseUint(last, 10, 64) // a damaged one shows as 0
		list = append(list, store.Game{ID: id, Last: seq, Ended: values[1] != nil})
		return true
	})
	return list, err
}
