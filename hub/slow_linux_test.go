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
	others, stalled := soak.Size(90, 450), soak.Size(10, 50)
	p := begin(t)
	host := p.host()
	host.act("plan", "plan", plan(round("open", 200)))
	var phones []*phone
	for i := range others {
		phones = append(phones, p.phone(0, map[string]any{"type": "join", "name": fmt.Sprint("Team ", i)}))
		defer phones[i].close()
	}
	before := p.questions(host, phones, 0, rounds)
	for i := range stalled {
		c := p.phone(1, map[string]any{"type": "join", "name": fmt.Sprint("Slow ", i)})
		defer c.close()
	}
	began, after := time.Now(), []time.Duration(nil)
	n := rounds
	for online := others + stalled; online > others; n++ {
		if n == 200 {
			t.Fatalf("after %v and %d questions %d phones are there still", time.Since(began), n, online)
		}
		after = append(after, p.questions(host, phones, n, n+1)...)
		online = host.online()
	}
	slices.Sort(before)
	slices.Sort(after)
	t.Logf("%d questions until the %d that never read were gone, %v; the others' fan-out: median %v, then %v; slowest %v, then %v", n-rounds, stalled, time.Since(began).Round(time.Millisecond),
		before[len(before)/2], after[len(after)/2], before[len(before)-1], after[len(after)-1])
}

// online is how many teams are there, by what the console was shown last.
func (c *client) online() (n int) {
	c.p.Helper()
	for _, team := range c.log[len(c.log)-1].Host.Teams {
		if team.Online {
			n++
		}
	}
	return n
}

// questions opens and skips questions, and times until all phones were shown each.
func (p *place) questions(host *client, phones []*phone, first, last int) (took []time.Duration) {
	p.Helper()
	for n := first; n < last; n++ {
		time.Sleep(50 * time.Millisecond) // within a console's pace
		began := time.Now()
		host.act("next")
		for _, c := range phones {
			c.pong()
			c.await(fmt.Sprintf(`"n":%d,"subject"`, n+1))
		}
		took = append(took, time.Since(began))
		host.act("skip")
		host.until("the reveal", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "revealed" })
	}
	return took
}
