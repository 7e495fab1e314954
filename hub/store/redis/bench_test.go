//go:build unix

package redis

import (
	"fmt"
	"path/filepath"
	"testing"

	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/hub/store/redis/redistest"
)

// BenchmarkAppend compares the stores in one run. The embedded one syncs its
// file for each batch; so does Redis with its append-only file synced always.
func BenchmarkAppend(b *testing.B) {
	file, err := bolt.Open(filepath.Join(b.TempDir(), "games.db"))
	must(b, err)
	defer file.Close()
	stores := []struct {
		name  string
		store store.Store
	}{
		{"bolt", file},
		{"redis-always", open(b, redistest.Start(b, redistest.Durable...).URL())},
		{"redis-everysec", open(b, redistest.Start(b, "--appendonly", "yes").URL())},
		{"redis-memory", open(b, redistest.Start(b).URL())},
	}
	for _, batch := range []int{1, 50} {
		var embedded float64
		for _, s := range stores {
			var each float64
			b.Run(fmt.Sprintf("batch=%d/%s", batch, s.name), func(b *testing.B) {
				game := fmt.Sprint("game-", opened.Add(1))
				for seq := 1; b.Loop(); seq += batch {
					must(b, s.store.Append(b.Context(), numbered(game, seq, batch)))
				}
				each = float64(b.Elapsed().Nanoseconds()) / float64(b.N)
				if embedded > 0 {
					b.ReportMetric(each/embedded, "x-bolt")
				}
			})
			if s.name == "bolt" {
				embedded = each
			}
		}
	}
}
