package hub_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

// One phone in ten never reads. They are sent away, and the others are shown
// each question as before. What that took is told, and not asserted: a crowded
// machine must not fail a test.
func TestPhonesThatNeverRead(t *testing.T) {
	t.Parallel()
	const rounds = 20
	others, stalled := soak.Size(27, 450), soak.Size(3, 50)
	p := beginStill(t)
	host := p.host()
	host.act("plan", "plan", plan(round("open", 200)))
	phones := p.phones(others, none)
	before := p.questions(host, phones, 0, rounds)
	var slow []*phone
	for i := range stalled {
		slow = append(slow, p.phone(1, map[string]any{"type": "join", "name": fmt.Sprint("Slow ", i)}))
	}
	var after []time.Duration
	n := rounds
	for enough := phones[0].read + kernelAndBacklog; phones[0].read < enough; n++ {
		after = append(after, p.questions(host, phones, n, n+1)...)
	}
	for _, c := range slow {
		c.rest()
		c.close()
	}
	p.age(sweep)
	p.awaitMetric(`fieldsign_drops_total{reason="slow"}`, fmt.Sprint(stalled))
	p.awaitMetric(`fieldsign_connections{role="team"}`, fmt.Sprint(others))
	slices.Sort(before)
	slices.Sort(after)
	t.Logf("%d questions with %d that never read; the others' fan-out: median %v, then %v; slowest %v, then %v", n-rounds, stalled,
		before[len(before)/2], after[len(after)/2], before[len(before)-1], after[len(after)-1])
}

// questions opens and skips questions, and times until all phones were shown each.
func (p *place) questions(host *client, phones []*phone, first, last int) (took []time.Duration) {
	p.Helper()
	for n := first; n < last; n++ {
		p.later.Add(int64(100 * time.Millisecond)) // within a console's pace, and 20 s in all
		began := time.Now()
		host.act("next")
		for _, c := range phones {
			c.await(fmt.Sprintf(`"n":%d,"subject"`, n+1))
		}
		took = append(took, time.Since(began))
		host.act("skip")
		host.until("the reveal", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "revealed" })
	}
	return took
}
