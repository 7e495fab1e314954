package game_test

import (
	"fmt"
	"testing"

	"fieldsign/game"
)

const crowd = 2000

// BenchmarkAnswers decides and applies 2,000 answers to one question, each
// with its id and the hub's tick. The peer is the least that could be done:
// a map that counts each team once.
func BenchmarkAnswers(b *testing.B) {
	g := opened(b, plan(round(game.Open, "q1")), crowd)
	commands := make([]game.Command, crowd)
	for i := range commands {
		commands[i] = answer(fmt.Sprintf("t%d", i+1), "q1", i%3)
		commands[i].ID = fmt.Sprintf("c%d", i)
	}
	b.Run("rules", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			run := &table{t: b, s: g.s.Clone(), log: make([]game.Event, 0, crowd+1)}
			b.StartTimer()
			for i, c := range commands {
				run.decide(int64(i), c)
				run.decide(int64(i), tick)
			}
			if run.s.Phase != game.Revealed {
				b.Fatalf("the question is still %s", run.s.Phase)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*crowd), "ns/answer")
	})
	b.Run("bare map", func(b *testing.B) {
		for b.Loop() {
			chosen := map[string]int{}
			for _, c := range commands {
				if _, ok := chosen[c.By]; !ok {
					chosen[c.By] = c.Option
				}
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*crowd), "ns/answer")
	})
}
