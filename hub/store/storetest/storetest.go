// Package storetest is the suite that every store.Store must pass. It knows
// the contract alone, and nothing of the adapter it is run on.
package storetest

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"fieldsign/hub/store"
)

// Run runs the suite. Each call of open returns an empty store of its own; the
// suite closes it. The tests run beside each other.
func Run(t *testing.T, open func(t *testing.T) store.Store) {
	tests := []struct {
		name string
		run  func(t *testing.T, s store.Store)
	}{
		{"AppendThenRead", testAppendThenRead},
		{"LongLog", testLongLog},
		{"ReadStops", testReadStops},
		{"CopiesData", testCopiesData},
		{"Conflict", testConflict},
		{"Repeated", testRepeated},
		{"EmptyBatch", testEmptyBatch},
		{"AllOrNothing", testAllOrNothing},
		{"Standings", testStandings},
		{"Games", testGames},
		{"Written", testWritten},
		{"Delete", testDelete},
		{"DeleteMany", testDeleteMany},
		{"UnknownGame", testUnknownGame},
		{"Cancelled", testCancelled},
		{"ManyGames", testManyGames},
		{"OneGameManyWriters", testOneGameManyWriters},
		{"RefusedAlone", testRefusedAlone},
		{"ReadWhileAppending", testReadWhileAppending},
		{"Model", testModel},
		{"Photos", testPhotos},
		{"PhotosCopied", testPhotosCopied},
		{"PhotosCancelled", testPhotosCancelled},
		{"PhotosWhilePlaying", testPhotosWhilePlaying},
		{"Season", testSeason},
		{"SeasonOnce", testSeasonOnce},
		{"SeasonErased", testSeasonErased},
		{"SeasonCancelled", testSeasonCancelled},
		{"SeasonAtOnce", testSeasonAtOnce},
		{"SeasonModel", testSeasonModel},
	}
	t.Run("suite", func(t *testing.T) { // which ends with the last of them
		for _, test := range tests {
			t.Run(test.name, func(t *testing.T) {
				t.Parallel()
				s := open(t)
				test.run(t, s)
				testClosed(t, s)
			})
		}
	})
}

func testClosed(t *testing.T, s store.Store) {
	if err := s.Close(); err != nil {
		t.Errorf("Close: %v", err)
	}
	if err := s.Append(context.Background(), batch("late", 1, "x")); err == nil {
		t.Error("Append after Close: accepted")
	}
	if err := s.PutPhoto(context.Background(), snap("late", "x")); err == nil {
		t.Error("PutPhoto after Close: accepted")
	}
	if err := s.AddResult(context.Background(), "late", result("a", 1)); err == nil {
		t.Error("AddResult after Close: accepted")
	}
}

func testAppendThenRead(t *testing.T, s store.Store) {
	mustAppend(t, s, batch("fox", 1, "a", "", "c"))
	mustAppend(t, s, batch("fox", 4, "d"))
	wantLog(t, s, "fox", 0, "a", "", "c", "d")
	wantLog(t, s, "fox", 2, "c", "d")
	wantLog(t, s, "fox", 4)
	wantLog(t, s, "fox", 99)
	wantLog(t, s, "fox", ^uint64(0))
}

func testLongLog(t *testing.T, s store.Store) {
	var want []string
	for len(want) < 1500 {
		b := store.Batch{Game: "wolf"}
		for range 300 {
			want = append(want, fmt.Sprint("event ", len(want)+1))
			b.Records = append(b.Records, record(len(want), want[len(want)-1]))
		}
		mustAppend(t, s, b)
	}
	for _, after := range []uint64{0, 1, 255, 256, 257, 1499, 1500} {
		wantLog(t, s, "wolf", after, want[after:]...)
	}
}

func testReadStops(t *testing.T, s store.Store) {
	mustAppend(t, s, batch("fox", 1, "a", "b", "c"))
	stop := errors.New("stop")
	var seen int
	err := s.Read(t.Context(), "fox", 0, func(store.Record) error {
		if seen++; seen == 2 {
			return stop
		}
		return nil
	})
	if !errors.Is(err, stop) || seen != 2 {
		t.Errorf("Read: %d records, error %v; want 2 and the callback's error", seen, err)
	}
}

func testCopiesData(t *testing.T, s store.Store) {
	b := batch("fox", 1, "abc")
	mustAppend(t, s, b)
	b.Records[0].Data[0] = 'X'
	err := s.Read(t.Context(), "fox", 0, func(r store.Record) error {
		r.Data[1] = 'Y' // the caller's own
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	wantLog(t, s, "fox", 0, "abc")
}

func testConflict(t *testing.T, s store.Store) {
	wantErr(t, s.Append(t.Context(), batch("fox", 0, "x")), store.ErrConflict)
	wantErr(t, s.Append(t.Context(), batch("fox", 2, "x")), store.ErrConflict)
	wantGames(t, s)
	mustAppend(t, s, batch("fox", 1, "a", "b"))
	for _, seq := range []int{0, 1, 2, 4} {
		wantErr(t, s.Append(t.Context(), batch("fox", seq, "x")), store.ErrConflict)
	}
	wantLog(t, s, "fox", 0, "a", "b")
}

// testRepeated repeats what the log ends with, as after a lost answer.
func testRepeated(t *testing.T, s store.Store) {
	b := batch("fox", 1, "a", "b")
	b.Standings = table("Otters", 3)
	mustAppend(t, s, b)
	mustAppend(t, s, b)
	mustAppend(t, s, batch("fox", 2, "b"))
	wantErr(t, s.Append(t.Context(), batch("fox", 1, "a")), store.ErrConflict)
	wantErr(t, s.Append(t.Context(), batch("fox", 2, "b", "c")), store.ErrConflict)
	wantErr(t, s.Append(t.Context(), batch("fox", 1, "x", "b")), store.ErrConflict)
	mustAppend(t, s, batch("fox", 3, "c"))
	wantErr(t, s.Append(t.Context(), b), store.ErrConflict)
	wantLog(t, s, "fox", 0, "a", "b", "c")
	wantStandings(t, s, "fox", table("Otters", 3))
}

func testEmptyBatch(t *testing.T, s store.Store) {
	wantErr(t, s.Append(t.Context(), store.Batch{Game: "fox"}), store.ErrUnknownGame)
	wantErr(t, s.Append(t.Context(), store.Batch{Game: "fox", Ended: true}), store.ErrUnknownGame)
	wantGames(t, s)
	mustAppend(t, s, batch("fox", 1, "a"))
	mustAppend(t, s, store.Batch{Game: "fox"})
	wantGames(t, s, store.Game{ID: "fox", Last: 1})
	mustAppend(t, s, store.Batch{Game: "fox", Ended: true})
	wantGames(t, s, store.Game{ID: "fox", Last: 1, Ended: true})
	if err := s.Append(t.Context(), batch("", 1, "a")); err == nil {
		t.Error("a game without an id: accepted")
	}
}

func testAllOrNothing(t *testing.T, s store.Store) {
	mustAppend(t, s, store.Batch{Game: "fox", Records: batch("fox", 1, "a").Records, Standings: table("Otters", 3)})
	refused := store.Batch{Game: "fox", Records: batch("fox", 1, "b").Records, Standings: table("Owls", 9), Ended: true}
	wantErr(t, s.Append(t.Context(), refused), store.ErrConflict)
	gap := store.Batch{Game: "fox", Records: []store.Record{record(2, "b"), record(4, "d")}, Standings: table("Owls", 9)}
	if err := s.Append(t.Context(), gap); err == nil {
		t.Error("a batch with a gap: accepted")
	}
	wantLog(t, s, "fox", 0, "a")
	wantStandings(t, s, "fox", table("Otters", 3))
	wantGames(t, s, store.Game{ID: "fox", Last: 1})
}

func testStandings(t *testing.T, s store.Store) {
	mustAppend(t, s, batch("fox", 1, "a"))
	wantStandings(t, s, "fox", nil)
	mustAppend(t, s, store.Batch{Game: "fox", Standings: table("Otters", 3, "Öwls \"x\"", -2)})
	mustAppend(t, s, batch("fox", 2, "b")) // nil leaves them alone
	wantStandings(t, s, "fox", table("Otters", 3, "Öwls \"x\"", -2))
	mustAppend(t, s, store.Batch{Game: "fox", Standings: []store.Standing{}})
	wantStandings(t, s, "fox", nil)
}

func testGames(t *testing.T, s store.Store) {
	wantGames(t, s)
	mustAppend(t, s, batch("wolf", 1, "a", "b"))
	mustAppend(t, s, batch("Zebra:1", 1, "a"))
	ended := batch("fox 7", 1, "a")
	ended.Ended = true
	mustAppend(t, s, ended)
	mustAppend(t, s, batch("fox 7", 2, "b")) // an ended game stays ended
	wantGames(t, s,
		store.Game{ID: "Zebra:1", Last: 1},
		store.Game{ID: "fox 7", Last: 2, Ended: true},
		store.Game{ID: "wolf", Last: 2})
}

// testWritten: the time moves with each batch, and is known of all games or of none.
func testWritten(t *testing.T, s store.Store) {
	began := time.Now().Truncate(time.Second)
	mustAppend(t, s, batch("fox", 1, "a"))
	mustAppend(t, s, batch("wolf", 1, "a"))
	time.Sleep(1100 * time.Millisecond) // times are kept to the second
	mustAppend(t, s, batch("fox", 2, "b"))
	games, err := s.Games(t.Context())
	if err != nil || len(games) != 2 {
		t.Fatalf("Games: %v, %v", games, err)
	}
	fox, wolf := games[0].Written, games[1].Written
	if fox.IsZero() && wolf.IsZero() {
		return // the store lets them go by itself
	}
	if wolf.Before(began) || !fox.After(wolf) || fox.After(time.Now()) {
		t.Errorf("begun at %v, then written at %v and %v", began, wolf, fox)
	}
}

func testDelete(t *testing.T, s store.Store) {
	full := store.Batch{Game: "fox", Records: batch("fox", 1, "a", "b").Records, Standings: table("Otters", 3), Ended: true}
	mustAppend(t, s, full)
	mustAppend(t, s, batch("foxes", 1, "kept"))
	for range 2 { // an unknown game is no error
		if err := s.Delete(t.Context(), "fox"); err != nil {
			t.Fatalf("Delete: %v", err)
		}
	}
	wantGames(t, s, store.Game{ID: "foxes", Last: 1})
	wantLog(t, s, "foxes", 0, "kept")
	wantErr(t, s.Append(t.Context(), batch("fox", 3, "c")), store.ErrConflict)
	mustAppend(t, s, batch("fox", 1, "new")) // nothing of the old one shows
	wantLog(t, s, "fox", 0, "new")
	wantStandings(t, s, "fox", nil)
	wantGames(t, s, store.Game{ID: "fox", Last: 1}, store.Game{ID: "foxes", Last: 1})
}

// testDeleteMany deletes in one call, one unknown and one twice among them.
func testDeleteMany(t *testing.T, s store.Store) {
	for _, id := range []string{"fox", "marten", "wolf"} {
		mustAppend(t, s, batch(id, 1, "a"))
	}
	if err := s.Delete(t.Context()); err != nil {
		t.Errorf("Delete of none: %v", err)
	}
	if err := s.Delete(t.Context(), "fox", "bear", "wolf", "fox"); err != nil {
		t.Errorf("Delete: %v", err)
	}
	wantGames(t, s, store.Game{ID: "marten", Last: 1})
	for _, id := range []string{"p", "q", "r"} {
		if err := s.PutPhoto(t.Context(), snap(id, "x")); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.DeletePhoto(t.Context(), "p", "none", "r"); err != nil {
		t.Errorf("DeletePhoto: %v", err)
	}
	if list, err := s.Photos(t.Context()); err != nil || len(list) != 1 || list[0].ID != "q" {
		t.Errorf("Photos: %v, %v", list, err)
	}
}

func testUnknownGame(t *testing.T, s store.Store) {
	err := s.Read(t.Context(), "fox", 0, func(store.Record) error { return nil })
	wantErr(t, err, store.ErrUnknownGame)
	_, err = s.Standings(t.Context(), "fox")
	wantErr(t, err, store.ErrUnknownGame)
}

func testCancelled(t *testing.T, s store.Store) {
	mustAppend(t, s, batch("fox", 1, "a", "b"))
	ctx, cancel := context.WithCancel(t.Context())
	err := s.Read(ctx, "fox", 0, func(store.Record) error {
		cancel()
		return nil
	})
	wantErr(t, err, context.Canceled)
	wantErr(t, s.Append(ctx, batch("fox", 3, "c")), context.Canceled)
	wantErr(t, s.Delete(ctx, "fox"), context.Canceled)
	_, err = s.Standings(ctx, "fox")
	wantErr(t, err, context.Canceled)
	_, err = s.Games(ctx)
	wantErr(t, err, context.Canceled)
	wantLog(t, s, "fox", 0, "a", "b")
}

func batch(game string, first int, data ...string) store.Batch {
	b := store.Batch{Game: game}
	for i, d := range data {
		b.Records = append(b.Records, record(first+i, d))
	}
	return b
}

func record(seq int, data string) store.Record {
	return store.Record{Seq: uint64(seq), Data: []byte(data)}
}

// table makes standings of names and scores, best first.
func table(lines ...any) []store.Standing {
	var all []store.Standing
	for i := 0; i < len(lines); i += 2 {
		rank := i/2 + 1
		all = append(all, store.Standing{Rank: rank, Team: fmt.Sprint("t", rank), Name: lines[i].(string), Score: lines[i+1].(int)})
	}
	return all
}

func mustAppend(t *testing.T, s store.Store, b store.Batch) {
	t.Helper()
	if err := s.Append(t.Context(), b); err != nil {
		t.Fatalf("Append to %q: %v", b.Game, err)
	}
}

func wantErr(t *testing.T, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Errorf("got error %v, want %v", got, want)
	}
}

// readLog reads the records after a sequence number, and refuses a gap.
func readLog(ctx context.Context, s store.Store, game string, after uint64) (data []string, err error) {
	err = s.Read(ctx, game, after, func(r store.Record) error {
		if want := after + uint64(len(data)) + 1; r.Seq != want {
			return fmt.Errorf("got record %d, want %d", r.Seq, want)
		}
		data = append(data, string(r.Data))
		return nil
	})
	return data, err
}

func wantLog(t *testing.T, s store.Store, game string, after uint64, want ...string) {
	t.Helper()
	got, err := readLog(t.Context(), s, game, after)
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("Read(%q, %d): %q, error %v; want %q", game, after, got, err, want)
	}
}

func wantStandings(t *testing.T, s store.Store, game string, want []store.Standing) {
	t.Helper()
	got, err := s.Standings(t.Context(), game)
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("Standings(%q): %v, error %v; want %v", game, got, err, want)
	}
}

func wantGames(t *testing.T, s store.Store, want ...store.Game) {
	t.Helper()
	got, err := s.Games(t.Context())
	if err != nil || !slices.Equal(timeless(got), want) {
		t.Errorf("Games: %v, error %v; want %v", got, err, want)
	}
}

// timeless leaves out when the games were written.
func timeless(games []store.Game) []store.Game {
	for i := range games {
		games[i].Written = time.Time{}
	}
	return games
}
