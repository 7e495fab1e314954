//go:build unix

package redis

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"testing"

	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

// BenchmarkShard has many games append at once to one server, each record as
// long as an answer's event: what a shard carries, what it keeps for each
// record, and how much of a core that takes it. See docs/operations.md.
func BenchmarkShard(b *testing.B) {
	const games = 256
	data := bytes.Repeat([]byte("x"), 160)
	for name, settings := range map[string][]string{"always": redistest.Durable, "everysec": {"--appendonly", "yes"}} {
		b.Run(name, func(b *testing.B) {
			server := redistest.Start(b, settings...)
			s := open(b, server.URL())
			memory, cpu := info(b, server, "used_memory"), info(b, server, "used_cpu_user")+info(b, server, "used_cpu_sys")
			var wg sync.WaitGroup
			b.ResetTimer()
			for g := range games {
				wg.Go(func() {
					game := fmt.Sprint("game-", g)
					for seq := 1; seq <= b.N/games+1; seq++ {
						if err := s.Append(b.Context(), store.Batch{Game: game, Records: []store.Record{{Seq: uint64(seq), Data: data}}}); err != nil {
							b.Error(err)
							return
						}
					}
				})
			}
			wg.Wait()
			records := float64(games * (b.N/games + 1))
			b.ReportMetric(records/b.Elapsed().Seconds(), "appends/s")
			b.ReportMetric((info(b, server, "used_memory")-memory)/records, "B/record")
			b.ReportMetric((info(b, server, "used_cpu_user")+info(b, server, "used_cpu_sys")-cpu)/records*1e6, "µs-of-Redis/append")
		})
	}
}

// info is one of the server's figures.
func info(b *testing.B, s *redistest.Server, name string) float64 {
	for line := range strings.Lines(s.Do("info", "everything")) {
		if value, found := strings.CutPrefix(line, name+":"); found {
			n, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
			must(b, err)
			return n
		}
	}
	b.Fatalf("INFO has no %s", name)
	return 0
}
