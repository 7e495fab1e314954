package storetest

import (
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"

	"fieldsign/hub/store"
)

// testManyGames has each game written by a goroutine of its own, as the hub
// does.
func testManyGames(t *testing.T, s store.Store) {
	const games, rounds = 40, 10
	var wg sync.WaitGroup
	for g := range games {
		wg.Go(func() {
			id := fmt.Sprintf("game-%02d", g)
			for i := range rounds {
				b := batch(id, 2*i+1, fmt.Sprint(g, " ", i), "and one more")
				b.Standings = table("Otters", i)
				if err := s.Append(t.Context(), b); err != nil {
					t.Errorf("Append to %s: %v", id, err)
				}
			}
		})
	}
	wg.Wait()
	for g := range games {
		var want []string
		for i := range rounds {
			want = append(want, fmt.Sprint(g, " ", i), "and one more")
		}
		id := fmt.Sprintf("game-%02d", g)
		wantLog(t, s, id, 0, want...)
		wantStandings(t, s, id, table("Otters", rounds-1))
	}
}

// testOneGameManyWriters lets writers race for each place in one log: one wins
// it, the others get ErrConflict.
func testOneGameManyWriters(t *testing.T, s store.Store) {
	const writers, places = 16, 12
	won := make([]string, places)
	var mu sync.Mutex
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for i := range places {
				data := fmt.Sprint("writer ", w)
				err := s.Append(t.Context(), batch("fox", i+1, data))
				switch {
				case err == nil:
					mu.Lock()
					if won[i] != "" {
						t.Errorf("record %d: accepted of %s and of %s", i+1, won[i], data)
					}
					won[i] = data
					mu.Unlock()
				case !errors.Is(err, store.ErrConflict):
					t.Errorf("Append: %v", err)
				}
			}
		})
	}
	wg.Wait()
	wantLog(t, s, "fox", 0, won...)
}

// testRefusedAlone mixes batches that must be refused with good ones, so that
// they share commits.
func testRefusedAlone(t *testing.T, s store.Store) {
	const callers = 48
	var wg sync.WaitGroup
	for c := range callers {
		wg.Go(func() {
			id := fmt.Sprintf("game-%02d", c)
			if c%2 == 0 {
				wantErr(t, s.Append(t.Context(), batch(id, 7, "x")), store.ErrConflict)
			} else if err := s.Append(t.Context(), batch(id, 1, "a")); err != nil {
				t.Errorf("Append to %s: %v", id, err)
			}
		})
	}
	wg.Wait()
	var want []store.Game
	for c := 1; c < callers; c += 2 {
		want = append(want, store.Game{ID: fmt.Sprintf("game-%02d", c), Last: 1})
	}
	wantGames(t, s, want...)
}

// testReadWhileAppending has readers follow a growing log, while another game
// comes and goes: what has been accepted is seen, whole and in order.
func testReadWhileAppending(t *testing.T, s store.Store) {
	const rounds = 40
	mustAppend(t, s, batch("fox", 1, "1"))
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			var seen []string
			for len(seen) < rounds {
				more, err := readLog(t.Context(), s, "fox", uint64(len(seen)))
				if err != nil {
					t.Errorf("Read: %v", err)
					return
				}
				seen = append(seen, more...)
			}
			if !slices.IsSortedFunc(seen, byNumber) {
				t.Errorf("out of order: %q", seen)
			}
		})
	}
	wg.Go(func() {
		for range rounds / 4 {
			if err := s.Append(t.Context(), batch("guest", 1, "x")); err != nil {
				t.Errorf("Append: %v", err)
			}
			if err := s.Delete(t.Context(), "guest"); err != nil {
				t.Errorf("Delete: %v", err)
			}
		}
	})
	for i := 2; i <= rounds; i++ {
		if err := s.Append(t.Context(), batch("fox", i, fmt.Sprint(i))); err != nil {
			t.Errorf("Append: %v", err)
		}
	}
	wg.Wait()
}

// byNumber orders decimal numbers without leading zeros.
func byNumber(a, b string) int {
	if len(a) != len(b) {
		return len(a) - len(b)
	}
	return slices.Compare([]byte(a), []byte(b))
}
