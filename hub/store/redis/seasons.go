package redis

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"strconv"

	"github.com/redis/go-redis/v9"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// resultSeq seals a result, infoSeq a season.
const resultSeq = 1

// mostEdits is how often an edit begins anew because another hub was faster.
const mostEdits = 100

// seasonBase begins the keys of one season, which share its id in braces.
func (s *shared) seasonBase(id string) string {
	return s.opts.Prefix + "season:{" + url.QueryEscape(id) + "}:"
}

func (s *shared) seasonMeta(id string) string { return s.seasonBase(id) + "meta" }

// seasonKeys are all keys of one season, in the order in which season.lua has them.
func (s *shared) seasonKeys(id string) []string {
	base := s.seasonBase(id)
	return []string{base + "meta", base + "results", base + "points", base + "before", base + "sums"}
}

// ChangeSeason changes the season, or makes it; its results stay.
func (s *shared) ChangeSeason(ctx context.Context, id string, how func(*store.Season)) error {
	if err := store.CheckSeason(id); err != nil {
		return err
	}
	if err := s.seasons.mark(ctx, id); err != nil {
		return err
	}
	for range mostEdits {
		err := s.bounded(ctx, func(ctx context.Context) error {
			return s.client.Watch(ctx, func(tx *redis.Tx) error { return s.change(ctx, tx, id, how) }, s.seasonMeta(id))
		})
		if !errors.Is(err, redis.TxFailedErr) {
			return err
		}
	}
	return changing(id)
}

// change changes a season as it stands, unless it changes meanwhile.
func (s *shared) change(ctx context.Context, tx *redis.Tx, id string, how func(*store.Season)) error {
	old, err := tx.HGet(ctx, s.seasonMeta(id), "info").Result()
	if err != nil && !errors.Is(err, redis.Nil) {
		return err
	}
	season := seasonOf(id, old)
	how(&season)
	info, err := sealedSeason(season)
	if err != nil {
		return err
	}
	_, err = tx.TxPipelined(ctx, func(p redis.Pipeliner) error {
		p.HSet(ctx, s.seasonMeta(id), "info", info)
		for _, key := range s.seasonKeys(id) {
			p.PExpire(ctx, key, s.opts.KeepSeason)
		}
		return nil
	})
	return err
}

func changing(season string) error {
	return fmt.Errorf("%w: season %q changes all the time: try again", store.ErrUnavailable, season)
}

// seasonOf is a season by its info; one whose info is damaged is closed.
func seasonOf(id, info string) (season store.Season) {
	if data, ok := seal.Open(id, infoSeq, []byte(info)); !ok || json.Unmarshal(data, &season) != nil {
		season = store.Season{}
	}
	season.ID = id
	return season
}

func sealedSeason(season store.Season) ([]byte, error) {
	data, err := json.Marshal(season)
	if err != nil {
		return nil, fmt.Errorf("store: season %q: %w", season.ID, err)
	}
	return seal.Close(season.ID, infoSeq, data), nil
}

// Seasons lists all seasons. One whose info is damaged is listed as closed.
func (s *shared) Seasons(ctx context.Context) ([]store.Season, error) {
	var list []store.Season
	err := s.seasons.each(ctx, s.seasonMeta, []string{"info"}, func(id string, values []any) bool {
		value, ok := values[0].(string)
		if !ok {
			return false
		}
		list = append(list, seasonOf(id, value))
		return true
	})
	return list, err
}

// AddResult keeps the game's result if it has none, or one that is only due.
func (s *shared) AddResult(ctx context.Context, season string, r store.Result) error {
	return s.count(ctx, season, r, false)
}

// SetResult keeps the result in place of another.
func (s *shared) SetResult(ctx context.Context, season string, r store.Result) error {
	return s.count(ctx, season, r, true)
}

func (s *shared) count(ctx context.Context, season string, r store.Result, anew bool) error {
	value, err := newResult(season, r)
	if err != nil {
		return err
	}
	info, err := sealedSeason(store.Season{ID: season})
	if err != nil {
		return err
	}
	if err := s.seasons.mark(ctx, season); err != nil {
		return err
	}
	_, _, err = s.run(ctx, countStep, s.seasonKeys(season), millis(s.opts.KeepSeason), info, r.Game, value, r.Due, anew)
	return err
}

func newResult(season string, r store.Result) ([]byte, error) {
	if err := r.Check(season); err != nil {
		return nil, err
	}
	data, err := json.Marshal(r)
	if err != nil {
		return nil, fmt.Errorf("store: season %q: game %q: %w", season, r.Game, err)
	}
	return seal.Close(ownerOf(season, r.Game), resultSeq, data), nil
}

// ownerOf is whose a sealed result is.
func ownerOf(season, game string) string { return season + "\n" + game }

// values are a season's sealed results by their games.
func (s *shared) values(ctx context.Context, season string) (map[string]string, error) {
	var info *redis.IntCmd
	var all *redis.MapStringStringCmd
	keys := s.seasonKeys(season)
	err := s.together(ctx, true, func(p redis.Pipeliner) {
		info = p.Exists(ctx, keys[0])
		all = p.HGetAll(ctx, keys[1])
	})
	if err != nil {
		return nil, err
	}
	if info.Val() == 0 {
		return nil, fmt.Errorf("%w: %q", store.ErrUnknownSeason, season)
	}
	return all.Val(), nil
}

// Results lists the results that can be read, and joins an error for each other.
func (s *shared) Results(ctx context.Context, season string) ([]store.Result, error) {
	values, err := s.values(ctx, season)
	if err != nil {
		return nil, err
	}
	var list []store.Result
	var faults []error
	for game, value := range values {
		r, err := resultOf(season, game, value)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		list = append(list, r)
	}
	store.InOrder(list)
	return list, errors.Join(faults...)
}

func resultOf(season, game, value string) (r store.Result, err error) {
	data, ok := seal.Open(ownerOf(season, game), resultSeq, []byte(value))
	if !ok || json.Unmarshal(data, &r) != nil {
		return r, damaged(fmt.Sprintf("season %q, game %q", season, game), "count the game anew, or take it out")
	}
	return r, nil
}

// Leaders are read from the sorted sets.
func (s *shared) Leaders(ctx context.Context, season string, most int) ([]store.Leader, error) {
	word, rest, err := s.run(ctx, leadersStep, s.seasonKeys(season), most)
	if err != nil {
		return nil, err
	}
	if word == "UNKNOWN" {
		return nil, fmt.Errorf("%w: %q", store.ErrUnknownSeason, season)
	}
	const values = 8 // for each line
	var table []store.Leader
	for ; len(rest) >= values; rest = rest[values:] {
		l := store.Leader{Team: rest[0], Name: rest[1]}
		for i, to := range []*int{&l.Rank, &l.Was, &l.Points, &l.Right, &l.Of, &l.Games} {
			if *to, err = strconv.Atoi(rest[2+i]); err != nil {
				return nil, damaged(fmt.Sprintf("the table of season %q", season), "count any of its games anew")
			}
		}
		table = append(table, l)
	}
	return table, nil
}

// DropTeam writes anew each result that the team is in, unless one of them has
// changed meanwhile: then it looks again. A damaged one stays as it is, and is
// told of by Results.
func (s *shared) DropTeam(ctx context.Context, season, team string) error {
	for range mostEdits {
		values, err := s.values(ctx, season)
		if err != nil {
			return err
		}
		args := []any{millis(s.opts.KeepSeason)}
		for game, value := range values {
			r, err := resultOf(season, game, value)
			if err != nil {
				continue
			}
			rest, had := r.Without(team)
			if !had {
				continue
			}
			next, err := newResult(season, rest)
			if err != nil {
				return err
			}
			args = append(args, game, value, next)
		}
		if len(args) == 1 {
			return nil
		}
		word, _, err := s.run(ctx, editStep, s.seasonKeys(season), args...)
		if err != nil || word == "OK" {
			return err
		}
	}
	return changing(season)
}

// DeleteSeason forgets the season. The keys go last, as in Delete.
func (s *shared) DeleteSeason(ctx context.Context, season string) error {
	if err := s.seasons.remove(ctx, season); err != nil {
		return err
	}
	return s.bounded(ctx, func(ctx context.Context) error {
		return s.client.Del(ctx, s.seasonKeys(season)...).Err()
	})
}
