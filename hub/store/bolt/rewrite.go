package bolt

import (
	"context"
	"encoding/json"
	"fmt"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

var _ store.Rewriter = (*Store)(nil)

// Rewrite reads the game first and writes it in one transaction with others'.
func (s *Store) Rewrite(ctx context.Context, id string, record func(store.Record) ([]byte, error), line func(store.Standing) store.Standing) error {
	var values [][]byte
	err := s.Read(ctx, id, 0, func(r store.Record) error {
		data, err := record(r)
		values = append(values, seal.Close(id, r.Seq, data))
		return err
	})
	if err != nil {
		return err
	}
	standings, err := s.Standings(ctx, id)
	if err != nil {
		return err
	}
	for i := range standings {
		standings[i] = line(standings[i])
	}
	table, err := json.Marshal(standings)
	if err != nil {
		return fmt.Errorf("store: game %q: standings: %w", id, err)
	}
	check := func(games *bbolt.Bucket) error {
		g, err := openGame(games, id)
		if err == nil && g.last != uint64(len(values)) {
			err = fmt.Errorf("%w: game %q", store.ErrConflict, id)
		}
		return err
	}
	change := func(games *bbolt.Bucket) error {
		s.stale = true
		g := games.Bucket([]byte(id))
		p := batch{game: id, first: 1, values: values}
		if err := p.putRecords(g); err != nil {
			return err
		}
		return g.Put(standingsKey, seal.Close(id, standingsSeq, table))
	}
	return s.submit(ctx, &write{in: gamesKey, check: check, change: change, erases: true})
}
