// Package memory is a store that ends with its process, for tests in which
// nothing has to outlive the hub.
package memory

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sync"
	"time"

	"fieldsign/hub/store"
)

// ErrClosed: the store was closed.
var ErrClosed = errors.New("memory: the store is closed")

// Store keeps everything in maps. Nothing in it is shared with its callers.
type Store struct {
	mu      sync.Mutex
	closed  bool
	games   map[string]*game
	photos  map[string]store.Photo
	seasons map[string]*season
}

type game struct {
	log       [][]byte // the record of Seq n at n-1
	standings []store.Standing
	ended     bool
	written   time.Time
}

type season struct {
	store.Season
	results map[string]store.Result
}

var _ store.Rewriter = (*Store)(nil)

// New makes an empty store.
func New() *Store {
	return &Store{games: map[string]*game{}, photos: map[string]store.Photo{}, seasons: map[string]*season{}}
}

// Close refuses all calls from now on.
func (s *Store) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = true
	return nil
}

// with runs do alone, unless ctx or the store has ended.
func (s *Store) with(ctx context.Context, do func() error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return ErrClosed
	}
	return do()
}

// Append keeps the batch.
func (s *Store) Append(ctx context.Context, b store.Batch) error {
	return s.with(ctx, func() error {
		if b.Game == "" {
			return errors.New("store: a game needs an id")
		}
		for i, r := range b.Records {
			if want := b.Records[0].Seq + uint64(i); r.Seq != want {
				return fmt.Errorf("store: game %q: the batch goes from record %d to %d without the one between", b.Game, want-1, r.Seq)
			}
		}
		g := s.games[b.Game]
		if g == nil {
			if len(b.Records) == 0 {
				return unknownGame(b.Game)
			}
			g = &game{}
		}
		if g.endsWith(b.Records) {
			return nil
		}
		if last := uint64(len(g.log)); len(b.Records) > 0 && b.Records[0].Seq != last+1 {
			return fmt.Errorf("%w: game %q ends at record %d, the batch begins at %d", store.ErrConflict, b.Game, last, b.Records[0].Seq)
		}
		s.games[b.Game] = g
		g.take(b)
		return nil
	})
}

// endsWith tells a batch that is repeated.
func (g *game) endsWith(records []store.Record) bool {
	if len(records) == 0 || records[len(records)-1].Seq != uint64(len(g.log)) || len(records) > len(g.log) {
		return false
	}
	return slices.EqualFunc(g.log[len(g.log)-len(records):], records, func(kept []byte, r store.Record) bool { return bytes.Equal(kept, r.Data) })
}

func (g *game) take(b store.Batch) {
	for _, r := range b.Records {
		g.log = append(g.log, bytes.Clone(r.Data))
	}
	if b.Standings != nil {
		g.standings = slices.Clone(b.Standings)
	}
	g.ended = g.ended || b.Ended
	g.written = time.Now().Truncate(time.Second)
}

// Read calls each outside the lock, so that it may use the store.
func (s *Store) Read(ctx context.Context, id string, after uint64, each func(store.Record) error) error {
	var log [][]byte
	err := s.with(ctx, func() error {
		g := s.games[id]
		if g == nil {
			return unknownGame(id)
		}
		log = slices.Clone(g.log) // records are replaced, never changed
		return nil
	})
	if err != nil {
		return err
	}
	for i := after; i < uint64(len(log)); i++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := each(store.Record{Seq: i + 1, Data: bytes.Clone(log[i])}); err != nil {
			return err
		}
	}
	return nil
}

// Standings returns the leaderboard last written; a game may have none yet.
func (s *Store) Standings(ctx context.Context, id string) (standings []store.Standing, err error) {
	err = s.with(ctx, func() error {
		g := s.games[id]
		if g == nil {
			return unknownGame(id)
		}
		standings = slices.Clone(g.standings)
		return nil
	})
	return standings, err
}

// Games lists all games.
func (s *Store) Games(ctx context.Context) (list []store.Game, err error) {
	err = s.with(ctx, func() error {
		for _, id := range slices.Sorted(maps.Keys(s.games)) {
			g := s.games[id]
			list = append(list, store.Game{ID: id, Last: uint64(len(g.log)), Ended: g.ended, Written: g.written})
		}
		return nil
	})
	return list, err
}

// Delete forgets the games.
func (s *Store) Delete(ctx context.Context, games ...string) error {
	return s.with(ctx, func() error {
		for _, id := range games {
			delete(s.games, id)
		}
		return nil
	})
}

// Rewrite puts new records and standings in the places of the old.
func (s *Store) Rewrite(ctx context.Context, id string, record func(store.Record) ([]byte, error), line func(store.Standing) store.Standing) error {
	var log [][]byte
	err := s.Read(ctx, id, 0, func(r store.Record) error {
		data, err := record(r)
		log = append(log, bytes.Clone(data))
		return err
	})
	if err != nil {
		return err
	}
	return s.with(ctx, func() error {
		g := s.games[id]
		if g == nil || len(g.log) != len(log) {
			return fmt.Errorf("%w: game %q", store.ErrConflict, id)
		}
		g.log, g.written = log, time.Now().Truncate(time.Second)
		for i := range g.standings {
			g.standings[i] = line(g.standings[i])
		}
		return nil
	})
}

// PutPhoto keeps the photo.
func (s *Store) PutPhoto(ctx context.Context, p store.Photo) error {
	return s.with(ctx, func() error {
		if p.ID == "" {
			return errors.New("store: a photo needs an id")
		}
		p.JPEG = bytes.Clone(p.JPEG)
		s.photos[p.ID] = p
		return nil
	})
}

// Photos lists the photos.
func (s *Store) Photos(ctx context.Context) (list []store.PhotoInfo, err error) {
	err = s.with(ctx, func() error {
		for _, id := range slices.Sorted(maps.Keys(s.photos)) {
			list = append(list, s.photos[id].PhotoInfo)
		}
		return nil
	})
	return list, err
}

// Photo returns a photo with its bytes.
func (s *Store) Photo(ctx context.Context, id string) (p store.Photo, err error) {
	err = s.with(ctx, func() error {
		kept, ok := s.photos[id]
		if !ok {
			return fmt.Errorf("%w: %q", store.ErrUnknownPhoto, id)
		}
		p = kept
		p.JPEG = bytes.Clone(kept.JPEG)
		return nil
	})
	return p, err
}

// DeletePhoto forgets the photos.
func (s *Store) DeletePhoto(ctx context.Context, ids ...string) error {
	return s.with(ctx, func() error {
		for _, id := range ids {
			delete(s.photos, id)
		}
		return nil
	})
}

// ChangeSeason changes the season, or makes it; its results stay.
func (s *Store) ChangeSeason(ctx context.Context, id string, how func(*store.Season)) error {
	if err := store.CheckSeason(id); err != nil {
		return err
	}
	return s.with(ctx, func() error {
		how(&s.season(id).Season)
		return nil
	})
}

// season finds the season, or makes it.
func (s *Store) season(id string) *season {
	if s.seasons[id] == nil {
		s.seasons[id] = &season{store.Season{ID: id}, map[string]store.Result{}}
	}
	return s.seasons[id]
}

// Seasons lists all seasons.
func (s *Store) Seasons(ctx context.Context) (list []store.Season, err error) {
	err = s.with(ctx, func() error {
		for _, of := range s.seasons {
			list = append(list, of.Season)
		}
		return nil
	})
	slices.SortFunc(list, func(a, b store.Season) int { return cmp.Compare(a.ID, b.ID) })
	return list, err
}

// AddResult keeps the game's result if it has none, or one that is only due.
func (s *Store) AddResult(ctx context.Context, season string, r store.Result) error {
	return s.keep(ctx, season, r, store.Result.Yields)
}

// SetResult keeps the result in place of another.
func (s *Store) SetResult(ctx context.Context, season string, r store.Result) error {
	return s.keep(ctx, season, r, func(_, _ store.Result) bool { return true })
}

// keep keeps the result where the game has none, or one that makes room.
func (s *Store) keep(ctx context.Context, season string, r store.Result, yields func(old, fresh store.Result) bool) error {
	if err := r.Check(season); err != nil {
		return err
	}
	return s.with(ctx, func() error {
		results := s.season(season).results
		if old, ok := results[r.Game]; !ok || yields(old, r) {
			r.Lines = slices.Clone(r.Lines)
			results[r.Game] = r
		}
		return nil
	})
}

// Results lists the season's results.
func (s *Store) Results(ctx context.Context, season string) (list []store.Result, err error) {
	err = s.with(ctx, func() error {
		of, err := s.known(season)
		if err != nil {
			return err
		}
		for _, r := range of.results {
			r.Lines = slices.Clone(r.Lines)
			list = append(list, r)
		}
		return nil
	})
	store.InOrder(list)
	return list, err
}

func (s *Store) known(id string) (*season, error) {
	of := s.seasons[id]
	if of == nil {
		return nil, fmt.Errorf("%w: %q", store.ErrUnknownSeason, id)
	}
	return of, nil
}

// Leaders are counted from the results.
func (s *Store) Leaders(ctx context.Context, season string, most int) ([]store.Leader, error) {
	return store.Counted(ctx, s, season, most)
}

// DropTeam takes the team out of each result.
func (s *Store) DropTeam(ctx context.Context, season, team string) error {
	return s.with(ctx, func() error {
		of, err := s.known(season)
		if err != nil {
			return err
		}
		for game, r := range of.results {
			of.results[game], _ = r.Without(team)
		}
		return nil
	})
}

// DeleteSeason forgets the season.
func (s *Store) DeleteSeason(ctx context.Context, season string) error {
	return s.with(ctx, func() error {
		delete(s.seasons, season)
		return nil
	})
}

func unknownGame(id string) error { return fmt.Errorf("%w: %q", store.ErrUnknownGame, id) }
