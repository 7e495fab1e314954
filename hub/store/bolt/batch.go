package bolt

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"go.etcd.io/bbolt"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// fill is how full a log's pages are left: it only ever grows at its end.
const fill = 0.9

// batch is a store.Batch made ready by the caller's goroutine, so that the
// committer has only to put it.
type batch struct {
	game      string
	first     uint64 // the first record's sequence number
	values    [][]byte
	standings []byte // nil leaves those kept
	ended     bool
	repeated  bool // found by check: the log ends with it already
}

// newBatch refuses whatever could fail later, inside a transaction that others
// share.
func newBatch(b store.Batch) (*batch, error) {
	if b.Game == "" || len(b.Game) > bbolt.MaxKeySize {
		return nil, fmt.Errorf("store: a game's id must have 1 to %d bytes, this one has %d", bbolt.MaxKeySize, len(b.Game))
	}
	p := &batch{game: b.Game, ended: b.Ended}
	for i, r := range b.Records {
		if i == 0 {
			p.first = r.Seq
		}
		if want := p.first + uint64(i); r.Seq != want {
			return nil, fmt.Errorf("store: game %q: the batch goes from record %d to %d without the one between", b.Game, want-1, r.Seq)
		}
		if len(r.Data) > bbolt.MaxValueSize-seal.Len {
			return nil, fmt.Errorf("store: game %q: record %d has %d bytes, too many to keep", b.Game, r.Seq, len(r.Data))
		}
		p.values = append(p.values, seal.Close(b.Game, r.Seq, r.Data))
	}
	if b.Standings != nil {
		data, err := json.Marshal(b.Standings)
		if err != nil {
			return nil, fmt.Errorf("store: game %q: standings: %w", b.Game, err)
		}
		p.standings = seal.Close(b.Game, standingsSeq, data)
	}
	return p, nil
}

// check refuses a batch that doesn't follow the log, or that has no log to
// belong to.
func (p *batch) check(games *bbolt.Bucket) error {
	var last uint64
	g, err := openGame(games, p.game)
	switch {
	case err == nil:
		last = g.last
	case !errors.Is(err, store.ErrUnknownGame) || len(p.values) == 0:
		return err
	}
	if p.repeated = g != nil && p.ends(g); p.repeated {
		return nil
	}
	if len(p.values) > 0 && p.first != last+1 {
		return fmt.Errorf("%w: game %q ends at record %d, the batch begins at %d", store.ErrConflict, p.game, last, p.first)
	}
	return nil
}

// ends tells whether the log ends with the batch already, byte for byte.
func (p *batch) ends(g *game) bool {
	if len(p.values) == 0 || p.first+uint64(len(p.values))-1 != g.last {
		return false
	}
	for i, value := range p.values {
		if !bytes.Equal(g.log.Get(seqKey(p.first+uint64(i))), value) {
			return false
		}
	}
	return true
}

func (p *batch) change(games *bbolt.Bucket) error {
	if p.repeated {
		return nil
	}
	g, err := games.CreateBucketIfNotExists([]byte(p.game))
	if err != nil {
		return err
	}
	if err := p.putRecords(g); err != nil {
		return err
	}
	if p.standings != nil {
		if err := g.Put(standingsKey, p.standings); err != nil {
			return err
		}
	}
	if p.ended {
		if err := g.Put(endedKey, []byte{1}); err != nil {
			return err
		}
	}
	return stamp(g, p.game, time.Now())
}

func (p *batch) putRecords(g *bbolt.Bucket) error {
	if len(p.values) == 0 {
		return nil
	}
	log, err := g.CreateBucketIfNotExists(logKey)
	if err != nil {
		return err
	}
	log.FillPercent = fill
	for i, value := range p.values {
		if err := log.Put(seqKey(p.first+uint64(i)), value); err != nil {
			return err
		}
	}
	return log.SetSequence(p.first + uint64(len(p.values)) - 1)
}
