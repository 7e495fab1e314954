package hub_test

import (
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

// A crowd of phones buzzes at once, question after question: each press gets
// one answer, those that contend are taken and the rest refused, and each
// question has one winner.
func TestACrowdBuzzes(t *testing.T) {
	t.Parallel()
	const questions = 5
	phones := soak.Size(100, 500)
	p := begin(t)
	host := p.host()
	host.act("plan", "plan", plan(round("buzz", questions)))
	crowd := make([]*client, phones)
	for i := range crowd {
		crowd[i] = p.join(fmt.Sprintf("Team %d", i))
	}
	host.act("next")
	var took []time.Duration
	for n := range questions {
		f := host.until("the question", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "asking" && f.Question.N == n+1 })
		var answers map[string]int
		var times []time.Duration
		var pressing sync.WaitGroup
		pressing.Go(func() { answers, times = p.buzzTogether(crowd, f.Question.ID) })
		given := host.until("the buzz", func(f bot.Frame) bool { return f.Type == "state" && f.Phase != "asking" })
		if given.Phase != "buzzed" || given.Buzz.Team == "" {
			t.Errorf("question %d: nobody has the buzz: %s", n+1, given.Raw)
		}
		host.act("rule", "right", true) // who presses now is too late
		pressing.Wait()
		if answers["done"] < 1 || answers["done"]+answers["beaten"]+answers["too_late"] != phones {
			t.Errorf("question %d: %v, want an answer to each of %d", n+1, answers, phones)
		}
		took = append(took, times...)
		host.act("next")
	}
	slices.Sort(took)
	t.Logf("%d presses: answered in %v (median), %v (99th percentile)", len(took), took[len(took)/2], took[len(took)*99/100])
}

// buzzTogether has all press, and counts what they are told.
func (p *place) buzzTogether(crowd []*client, question string) (map[string]int, []time.Duration) {
	var mu sync.Mutex
	var wait sync.WaitGroup
	answers := map[string]int{}
	var times []time.Duration
	for i, c := range crowd {
		wait.Go(func() {
			id := fmt.Sprintf("%s-%d", question, i)
			pressed := time.Now()
			if c.conn.Send(p.ctx, map[string]any{"type": "buzz", "id": id, "question": question}) != nil {
				return
			}
			for {
				f, err := c.conn.Receive(p.ctx)
				if err != nil {
					return
				}
				if f.ID == id {
					mu.Lock()
					defer mu.Unlock()
					times = append(times, time.Since(pressed))
					answers[map[bool]string{true: "done", false: f.Code}[f.Type == "done"]]++
					return
				}
			}
		})
	}
	wait.Wait()
	return answers, times
}
