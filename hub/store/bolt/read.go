package bolt

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"

	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// pageLen is how many records Read copies in one read transaction. A long one
// would keep the file's old pages from being used again, and hold up a commit
// that has to map the file anew.
const pageLen = 256

// game is one game's buckets inside a transaction.
type game struct {
	id   string
	root *bbolt.Bucket
	log  *bbolt.Bucket
	last uint64 // the last record's sequence number
}

// openGame finds the game and checks that its log ends where it should.
func openGame(games *bbolt.Bucket, id string) (*game, error) {
	root := games.Bucket([]byte(id))
	if root == nil {
		return nil, fmt.Errorf("%w: %q", store.ErrUnknownGame, id)
	}
	log := root.Bucket(logKey)
	if log == nil {
		return nil, damaged(id, 1)
	}
	g := &game{id: id, root: root, log: log, last: log.Sequence()}
	key, _ := log.Cursor().Last()
	if len(key) != 8 || binary.BigEndian.Uint64(key) != g.last {
		return nil, damaged(id, g.last)
	}
	return g, nil
}

// Read copies the log page by page, and calls each outside any transaction.
func (s *Store) Read(ctx context.Context, id string, after uint64, each func(store.Record) error) error {
	for {
		var page []store.Record
		var more bool
		err := s.view(ctx, gamesKey, func(games *bbolt.Bucket) error {
			g, err := openGame(games, id)
			if err != nil {
				return err
			}
			page, err = g.page(after)
			more = err == nil && after+uint64(len(page)) < g.last
			return err
		})
		// The records before a damaged one are good.
		for _, r := range page {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := each(r); err != nil {
				return err
			}
		}
		if err != nil || !more {
			return err
		}
		after += uint64(len(page))
	}
}

// page copies up to pageLen records that follow after. With an error it
// returns those before the damage.
func (g *game) page(after uint64) ([]store.Record, error) {
	if after >= g.last {
		return nil, nil
	}
	page := make([]store.Record, 0, min(pageLen, g.last-after))
	cursor := g.log.Cursor()
	key, value := cursor.Seek(seqKey(after + 1))
	for len(page) < cap(page) {
		seq := after + uint64(len(page)) + 1
		if string(key) != string(seqKey(seq)) {
			return page, damaged(g.id, seq)
		}
		data, ok := seal.Open(g.id, seq, value)
		if !ok {
			return page, damaged(g.id, seq)
		}
		page = append(page, store.Record{Seq: seq, Data: data})
		key, value = cursor.Next()
	}
	return page, nil
}

// Standings returns the leaderboard last written; a game may have none yet.
func (s *Store) Standings(ctx context.Context, id string) (standings []store.Standing, err error) {
	err = s.view(ctx, gamesKey, func(games *bbolt.Bucket) error {
		root := games.Bucket([]byte(id))
		if root == nil {
			return fmt.Errorf("%w: %q", store.ErrUnknownGame, id)
		}
		value := root.Get(standingsKey)
		if value == nil {
			return nil
		}
		data, ok := seal.Open(id, standingsSeq, value)
		if !ok {
			return fmt.Errorf("%w: the standings of game %q; the next ones written replace them", store.ErrCorrupt, id)
		}
		return json.Unmarshal(data, &standings)
	})
	return standings, err
}

// Games lists all games. It looks at no record, so that a game with a damaged
// one is listed and can be deleted.
func (s *Store) Games(ctx context.Context) (list []store.Game, err error) {
	err = s.view(ctx, gamesKey, func(games *bbolt.Bucket) error {
		return eachBucket(games, func(id []byte) error {
			root := games.Bucket(id)
			line := store.Game{ID: string(id), Ended: root.Get(endedKey) != nil, Written: writtenOf(root, string(id))}
			if log := root.Bucket(logKey); log != nil {
				line.Last = log.Sequence()
			}
			list = append(list, line)
			return nil
		})
	})
	return list, err
}

// view runs fn on a bucket in a read transaction, which it must not leave slices of.
func (s *Store) view(ctx context.Context, in []byte, fn func(*bbolt.Bucket) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	s.swap.RLock()
	defer s.swap.RUnlock()
	err := guard(func() error {
		return s.db.View(func(tx *bbolt.Tx) error { return fn(tx.Bucket(in)) })
	})
	if errors.Is(err, bolterrors.ErrDatabaseNotOpen) {
		return ErrClosed
	}
	return err
}

func damaged(game string, seq uint64) error {
	return fmt.Errorf("%w: game %q, record %d; restore the file from a backup or delete this game", store.ErrCorrupt, game, seq)
}

// eachBucket calls do for the buckets in b in the order of their names. Damaged
// pages may lead in a circle, and then names come again.
func eachBucket(b *bbolt.Bucket, do func(name []byte) error) error {
	var last []byte
	return b.ForEachBucket(func(name []byte) error {
		if last != nil && bytes.Compare(name, last) <= 0 {
			return fmt.Errorf("%w: its pages are out of order at %.40q", store.ErrCorrupt, name)
		}
		last = append(last[:0], name...)
		return do(name)
	})
}
