package bolt

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// resultSeq seals a result, infoSeq a season.
const resultSeq = 1

// ChangeSeason changes the season, or makes it; its results stay.
func (s *Store) ChangeSeason(ctx context.Context, id string, how func(*store.Season)) error {
	if err := store.CheckSeason(id); err != nil {
		return err
	}
	unchecked := func(*bbolt.Bucket) error { return nil }
	return s.submit(ctx, &write{in: seasonsKey, check: unchecked, change: func(seasons *bbolt.Bucket) error {
		b, err := seasons.CreateBucketIfNotExists([]byte(id))
		if err != nil {
			return err
		}
		season := seasonOf(id, b.Get(infoKey))
		how(&season)
		info, err := sealed(id, infoSeq, season)
		if err != nil {
			return err
		}
		return b.Put(infoKey, info)
	}})
}

// seasonOf is a season by its info; one whose info is damaged is closed.
func seasonOf(id string, info []byte) (season store.Season) {
	if data, ok := seal.Open(id, infoSeq, info); !ok || json.Unmarshal(data, &season) != nil {
		season = store.Season{}
	}
	season.ID = id
	return season
}

func sealed(owner string, seq uint64, v any) ([]byte, error) {
	data, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("store: season %q: %w", owner, err)
	}
	return seal.Close(owner, seq, data), nil
}

// Seasons lists all seasons. One whose info is damaged is listed as closed.
func (s *Store) Seasons(ctx context.Context) (list []store.Season, err error) {
	err = s.view(ctx, seasonsKey, func(seasons *bbolt.Bucket) error {
		return eachBucket(seasons, func(id []byte) error {
			list = append(list, seasonOf(string(id), seasons.Bucket(id).Get(infoKey)))
			return nil
		})
	})
	return list, err
}

// AddResult keeps the game's result if it has none, or one that is only due.
func (s *Store) AddResult(ctx context.Context, season string, r store.Result) error {
	value, err := newResult(season, r)
	if err != nil {
		return err
	}
	var kept bool
	check := func(seasons *bbolt.Bucket) error {
		b := seasons.Bucket([]byte(season))
		if b == nil || b.Bucket(resultsKey) == nil {
			return nil
		}
		old := b.Bucket(resultsKey).Get([]byte(r.Game))
		if old == nil {
			return nil
		}
		had, err := resultOf(season, r.Game, old)
		kept = !had.Yields(r)
		return err
	}
	return s.submit(ctx, &write{in: seasonsKey, check: check, change: func(seasons *bbolt.Bucket) error {
		if kept {
			return nil
		}
		return putResult(seasons, season, r.Game, value)
	}})
}

// SetResult keeps the result in place of another.
func (s *Store) SetResult(ctx context.Context, season string, r store.Result) error {
	value, err := newResult(season, r)
	if err != nil {
		return err
	}
	unchecked := func(*bbolt.Bucket) error { return nil }
	return s.submit(ctx, &write{in: seasonsKey, check: unchecked, change: func(seasons *bbolt.Bucket) error {
		return putResult(seasons, season, r.Game, value)
	}})
}

func newResult(season string, r store.Result) ([]byte, error) {
	if err := r.Check(season); err != nil {
		return nil, err
	}
	return sealed(ownerOf(season, r.Game), resultSeq, r)
}

// ownerOf is whose a sealed result is.
func ownerOf(season, game string) string { return season + "\n" + game }

func resultOf(season, game string, value []byte) (r store.Result, err error) {
	data, ok := seal.Open(ownerOf(season, game), resultSeq, value)
	if !ok || json.Unmarshal(data, &r) != nil {
		return r, fmt.Errorf("%w: season %q, game %q; count the game anew, or take it out", store.ErrCorrupt, season, game)
	}
	return r, nil
}

func putResult(seasons *bbolt.Bucket, season, game string, value []byte) error {
	b, err := seasons.CreateBucketIfNotExists([]byte(season))
	if err != nil {
		return err
	}
	if b.Get(infoKey) == nil {
		info, err := sealed(season, infoSeq, store.Season{ID: season})
		if err != nil {
			return err
		}
		if err := b.Put(infoKey, info); err != nil {
			return err
		}
	}
	results, err := b.CreateBucketIfNotExists(resultsKey)
	if err != nil {
		return err
	}
	return results.Put([]byte(game), value)
}

// eachResult goes through a season's results, damaged ones too.
func eachResult(seasons *bbolt.Bucket, season string, do func(game string, value []byte) error) error {
	b := seasons.Bucket([]byte(season))
	if b == nil {
		return fmt.Errorf("%w: %q", store.ErrUnknownSeason, season)
	}
	if b = b.Bucket(resultsKey); b == nil {
		return nil
	}
	return b.ForEach(func(game, value []byte) error { return do(string(game), value) })
}

// Results lists the results that can be read, and joins an error for each other.
func (s *Store) Results(ctx context.Context, season string) (list []store.Result, err error) {
	var faults []error
	err = s.view(ctx, seasonsKey, func(seasons *bbolt.Bucket) error {
		return eachResult(seasons, season, func(game string, value []byte) error {
			r, err := resultOf(season, game, value)
			if err != nil {
				faults = append(faults, err)
				return nil
			}
			list = append(list, r)
			return nil
		})
	})
	store.InOrder(list)
	return list, errors.Join(append(faults, err)...)
}

// Leaders are counted from the results: they are at hand.
func (s *Store) Leaders(ctx context.Context, season string, most int) ([]store.Leader, error) {
	return store.Counted(ctx, s, season, most)
}

// DropTeam writes anew each result that the team is in. A damaged one stays as
// it is, and is told of by Results.
func (s *Store) DropTeam(ctx context.Context, season, team string) error {
	changed := map[string][]byte{}
	check := func(seasons *bbolt.Bucket) error {
		return eachResult(seasons, season, func(game string, value []byte) error {
			r, err := resultOf(season, game, value)
			if err != nil {
				return nil
			}
			rest, had := r.Without(team)
			if had {
				changed[r.Game], err = newResult(season, rest)
			}
			return err
		})
	}
	return s.submit(ctx, &write{in: seasonsKey, check: check, change: func(seasons *bbolt.Bucket) error {
		s.stale = s.stale || len(changed) > 0
		for game, value := range changed {
			if err := putResult(seasons, season, game, value); err != nil {
				return err
			}
		}
		return nil
	}, erases: true})
}

// DeleteSeason forgets the season.
func (s *Store) DeleteSeason(ctx context.Context, season string) error {
	return s.forget(ctx, seasonsKey, []string{season})
}
