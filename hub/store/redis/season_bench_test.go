//go:build unix

package redis

import (
	"fmt"
	"testing"

	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

// BenchmarkSeason is of a season of 60 games with 100 teams each.
func BenchmarkSeason(b *testing.B) {
	s := open(b, redistest.Start(b).URL())
	game := func(n int) store.Result {
		r := store.Result{Game: fmt.Sprint("game-", n), Began: fmt.Sprintf("2026-%02d-%02dT10:00:00Z", 1+n/28%12, 1+n%28)}
		for i := range 100 {
			r.Lines = append(r.Lines, store.Line{Team: fmt.Sprint("team ", i), Name: fmt.Sprint("Team ", i), Rank: i + 1, Points: 100 * i, Right: i % 10, Of: 10})
		}
		return r
	}
	for n := range 60 {
		must(b, s.AddResult(b.Context(), "2026", game(n)))
	}
	b.Run("leaders", func(b *testing.B) {
		for b.Loop() {
			if top, err := s.Leaders(b.Context(), "2026", 32); err != nil || len(top) != 32 {
				b.Fatal(len(top), err)
			}
		}
	})
	b.Run("add", func(b *testing.B) {
		n := 60
		for b.Loop() {
			n++
			must(b, s.AddResult(b.Context(), "other", game(n)))
		}
	})
	b.Run("rebuild", func(b *testing.B) {
		for b.Loop() {
			must(b, s.SetResult(b.Context(), "2026", game(7)))
		}
	})
}
