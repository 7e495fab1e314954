package book_test

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"testing"

	"fieldsign/game/tournament"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/hub/tournaments/book"
	"fieldsign/refusal"
)

// shorn is a store that can lose the end of its logs, as a Redis may whose
// replica takes over.
type shorn struct {
	store.Store
	keep uint64 // the last record that is left, or 0 for all
}

func (s *shorn) Read(ctx context.Context, game string, after uint64, each func(store.Record) error) error {
	return s.Store.Read(ctx, game, after, func(r store.Record) error {
		if s.keep > 0 && r.Seq > s.keep {
			return nil
		}
		return each(r)
	})
}

func bookOn(t *testing.T) (*book.Book, *shorn) {
	t.Helper()
	s, err := bolt.Open(filepath.Join(t.TempDir(), "games.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	cut := &shorn{Store: s}
	return book.Open(cut), cut
}

func TestALogThatHasLostItsEndIsReadAnew(t *testing.T) {
	all, s := bookOn(t)
	commands, _ := course(t)
	for _, c := range commands[:9] {
		if err := give(all, c); err != nil {
			t.Fatal(err)
		}
	}
	entrants := func() (n int) {
		if err := all.Look(t.Context(), code, func(c book.Tournament) { n = len(c.Entrants) }); err != nil {
			t.Fatal(err)
		}
		return n
	}
	if n := entrants(); n != 8 {
		t.Fatalf("%d entrants, want 8", n)
	}
	s.keep = 5
	if n := entrants(); n != 4 {
		t.Errorf("%d entrants after the log has lost its end, want 4", n)
	}
}

func TestCodes(t *testing.T) {
	all, s := bookOn(t)
	commands, _ := course(t)
	other := commands[0]
	other.Name = "Another cup"
	for _, want := range []error{nil, book.ErrTaken} {
		if err := all.Create(t.Context(), commands[0]); !errors.Is(err, want) {
			t.Errorf("Create: %v, want %v", err, want)
		}
		commands[0] = other
	}
	if err := s.Append(t.Context(), store.Batch{Game: code, Records: []store.Record{{Seq: 1}}}); err != nil {
		t.Errorf("a game with a tournament's code: %v", err)
	}
	if list, err := all.Codes(t.Context()); err != nil || !slices.Equal(list, []string{code}) {
		t.Errorf("Codes: %v, %v", list, err)
	}
	if err := all.Do(t.Context(), "fox-den-01", tournament.Command{Type: tournament.Draw}); !errors.Is(err, book.ErrUnknown) {
		t.Errorf("a command for no tournament: %v", err)
	}
	var refused refusal.Refusal
	if err := all.Do(t.Context(), code, tournament.Command{Type: tournament.Draw}); !errors.As(err, &refused) || refused.Code != "too_few" {
		t.Errorf("a draw of nobody: %v", err)
	}
}
