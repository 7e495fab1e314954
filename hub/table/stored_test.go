package table

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"fieldsign/game"
	"fieldsign/hub/report"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/hub/view"
	"fieldsign/hub/wire"
)

// FuzzStoredLog puts a log into a store, under right checksums and numbers, and
// has a table take it up: it is refused, or can be shown, gone on with and looked
// back on.
func FuzzStoredLog(f *testing.F) {
	s, err := bolt.Open(filepath.Join(f.TempDir(), "games.db"))
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { s.Close() })
	h := house(f, s)
	reports := report.New(s, h.Planner, h.Pictures, h.Log)
	n := 0
	f.Fuzz(func(t *testing.T, data []byte) {
		n++
		b := store.Batch{Game: fmt.Sprint("fuzzed-", n)}
		for line := range bytes.Lines(data) {
			var e game.Event
			seq := uint64(len(b.Records) + 1)
			if json.Unmarshal(line, &e) == nil {
				e.Seq, e.Code = seq, b.Game
				line = wire.Encode(e)
			}
			b.Records = append(b.Records, store.Record{Seq: seq, Data: line})
		}
		if len(b.Records) == 0 {
			return
		}
		if err := s.Append(t.Context(), b); err != nil {
			t.Fatal(err)
		}
		table := New(h, b.Game)
		if err := table.Load(); err != nil {
			if !errors.Is(err, game.ErrMisfit) {
				t.Fatal(err)
			}
			return
		}
		table.lookAround()
		h.Later(func() { table.Run(func() {}) })
		table.Dismiss("looked at")
		if _, err := reports.DebriefOf(t.Context(), b.Game); err != nil {
			t.Fatal(err)
		}
	})
}

// lookAround makes all that clients are shown, over a few of the host's steps.
func (t *Table) lookAround() {
	for _, step := range []string{game.Resume, game.Close, game.Next, game.Next, game.End} {
		v := t.public()
		wire.Encode(view.Phones(v, t.standings()))
		wire.Encode(t.boardState(v))
		wire.Encode(t.hostState(v))
		for i := range t.state.Teams {
			wire.Encode(t.view.Own(i, 1))
		}
		_ = t.decide(game.Command{Type: step, By: "host"})
	}
}
