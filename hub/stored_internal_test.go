package hub

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"path/filepath"
	"testing"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
)

// FuzzStoredLog puts a log into a store, under right checksums and numbers, and
// has a hub take it up: it is refused, or can be shown, gone on with and looked
// back on.
func FuzzStoredLog(f *testing.F) {
	s, err := bolt.Open(filepath.Join(f.TempDir(), "games.db"))
	if err != nil {
		f.Fatal(err)
	}
	h, err := New(Config{Store: s, Catalogue: catalogue.Builtin(), Roster: "furbearers", Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { h.Close(); s.Close() })
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
		table, err := h.takeBack(b.Game)
		if err != nil {
			if !errors.Is(err, game.ErrMisfit) {
				t.Fatal(err)
			}
			return
		}
		table.do(table.lookAround)
		<-table.ended
		if _, err := h.reports.DebriefOf(t.Context(), b.Game); err != nil {
			t.Fatal(err)
		}
	})
}

// lookAround makes all that clients are shown, over a few of the host's steps,
// and ends the table.
func (t *table) lookAround() {
	for _, step := range []string{game.Resume, game.Close, game.Next, game.Next, game.End} {
		v := t.plated(t.public())
		wire.Encode(forPhones(v, t.standings()))
		wire.Encode(t.boardState(v))
		wire.Encode(t.hostState(v))
		for i := range t.state.Teams {
			wire.Encode(t.own(i, 1))
		}
		_ = t.decide(game.Command{Type: step, By: "host"})
	}
	t.over = true
}
