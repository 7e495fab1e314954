package redis

import (
	"context"
	"slices"
	"time"

	"github.com/redis/go-redis/v9"
)

// moment is how long an id may stand in an index before its key is there.
const moment = time.Hour

// index lists ids whose keys lie on any server of a cluster, and so can't be
// written in one step with it. Each id is noted before its key is written and
// swept up once the key is gone: the index may hold too much, never too little.
type index struct {
	store *shared
	key   string
}

func (x index) mark(ctx context.Context, id string) error {
	_, _, err := x.store.run(ctx, markStep, []string{x.key}, id)
	return err
}

func (x index) remove(ctx context.Context, id string) error {
	return x.store.bounded(ctx, func(ctx context.Context) error {
		return x.store.client.ZRem(ctx, x.key, id).Err()
	})
}

// each calls found with fields of each id's hash, in the order of the ids, and
// sweeps up those for which it returns false.
func (x index) each(ctx context.Context, keyOf func(id string) string, fields []string, found func(id string, values []any) bool) error {
	var ids []string
	err := x.store.bounded(ctx, func(ctx context.Context) (err error) {
		ids, err = x.store.client.ZRange(ctx, x.key, 0, -1).Result()
		return err
	})
	if err != nil {
		return err
	}
	slices.Sort(ids)
	gone := []any{int(moment.Seconds())}
	for page := range slices.Chunk(ids, pageLen) {
		hashes := make([]*redis.SliceCmd, len(page))
		err := x.store.together(ctx, false, func(p redis.Pipeliner) {
			for i, id := range page {
				hashes[i] = p.HMGet(ctx, keyOf(id), fields...)
			}
		})
		if err != nil {
			return err
		}
		for i, id := range page {
			if !found(id, hashes[i].Val()) {
				gone = append(gone, id)
			}
		}
	}
	if len(gone) > 1 {
		_, _, err = x.store.run(ctx, sweepStep, []string{x.key}, gone...)
	}
	return err
}
