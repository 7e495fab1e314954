package storetest

import (
	"context"
	"errors"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/hub/store"
)

// model is the contract in its plainest form: maps in memory.
type model map[string]*modelGame

type modelGame struct {
	log       []string
	standings []store.Standing
	ended     bool
}

func (m model) append(b store.Batch) error {
	g := m[b.Game]
	if g == nil {
		if len(b.Records) == 0 {
			return store.ErrUnknownGame
		}
		g = &modelGame{}
	}
	if g.endsWith(b.Records) {
		return nil
	}
	if len(b.Records) > 0 && b.Records[0].Seq != uint64(len(g.log))+1 {
		return store.ErrConflict
	}
	m[b.Game] = g
	for _, r := range b.Records {
		g.log = append(g.log, string(r.Data))
	}
	if b.Standings != nil {
		g.standings = b.Standings
	}
	g.ended = g.ended || b.Ended
	return nil
}

// endsWith tells a repeated batch.
func (g *modelGame) endsWith(records []store.Record) bool {
	before := len(g.log) - len(records)
	return before >= 0 && len(records) > 0 && slices.EqualFunc(g.log[before:], records, func(kept string, r store.Record) bool {
		before++
		return r.Seq == uint64(before) && string(r.Data) == kept
	})
}

func (m model) games() []store.Game {
	var list []store.Game
	for _, id := range slices.Sorted(maps.Keys(m)) {
		list = append(list, store.Game{ID: id, Last: uint64(len(m[id].log)), Ended: m[id].ended})
	}
	return list
}

// testModel runs drawn series of calls on the store and on the model. Each
// series starts with an empty store, for which all games are deleted.
func testModel(t *testing.T, s store.Store) {
	rapid.Check(t, func(t *rapid.T) {
		ctx := t.Context()
		deleteAll(t, s)
		m := model{}
		for range rapid.IntRange(1, 8).Draw(t, "calls") {
			id := rapid.SampledFrom([]string{"fox", "foxes", "\xffwolf"}).Draw(t, "game")
			if rapid.IntRange(0, 7).Draw(t, "what") == 0 {
				same(t, s.Delete(ctx, id), nil)
				delete(m, id)
			} else {
				b := drawBatch(t, m, id)
				same(t, s.Append(ctx, b), m.append(b))
			}
			compare(t, ctx, s, m, id)
		}
	})
}

func deleteAll(t *rapid.T, s store.Store) {
	list, err := s.Games(t.Context())
	same(t, err, nil)
	for _, g := range list {
		same(t, s.Delete(t.Context(), g.ID), nil)
	}
}

// drawBatch mostly draws one that follows the log.
func drawBatch(t *rapid.T, m model, id string) store.Batch {
	next := 1
	if g := m[id]; g != nil {
		next += len(g.log)
	}
	off := rapid.SampledFrom([]int{0, 0, 0, 0, -1, 1}).Draw(t, "off")
	data := rapid.SliceOfN(rapid.StringN(0, 20, 60), 0, 4).Draw(t, "data")
	b := batch(id, next+off, data...)
	b.Ended = rapid.IntRange(0, 9).Draw(t, "ended") == 0
	switch rapid.IntRange(0, 3).Draw(t, "standings") {
	case 0:
		b.Standings = []store.Standing{}
	case 1:
		b.Standings = table(rapid.String().Draw(t, "name"), rapid.Int().Draw(t, "score"))
	}
	return b
}

// compare looks at the whole index and at one game.
func compare(t *rapid.T, ctx context.Context, s store.Store, m model, id string) {
	games, err := s.Games(ctx)
	same(t, err, nil)
	if want := m.games(); !slices.Equal(timeless(games), want) {
		t.Fatalf("Games: %v, want %v", games, want)
	}
	g := m[id]
	if g == nil {
		_, err = readLog(ctx, s, id, 0)
		same(t, err, store.ErrUnknownGame)
		return
	}
	after := rapid.IntRange(0, len(g.log)).Draw(t, "after")
	log, err := readLog(ctx, s, id, uint64(after))
	same(t, err, nil)
	if !slices.Equal(log, g.log[after:]) {
		t.Fatalf("Read after %d: %q, want %q", after, log, g.log[after:])
	}
	standings, err := s.Standings(ctx, id)
	same(t, err, nil)
	if !slices.Equal(standings, g.standings) {
		t.Fatalf("Standings: %v, want %v", standings, g.standings)
	}
}

func same(t *rapid.T, got, want error) {
	if !errors.Is(got, want) {
		t.Fatalf("got error %v, want %v", got, want)
	}
}
