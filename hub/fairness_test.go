package hub_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/flaky"
)

// finger is a team's phone whose reader, as a browser's, never rests.
type finger struct {
	conn   *bot.Conn
	states chan bot.Frame
	clocks chan struct{}
}

func (p *place) finger(address, name string) *finger {
	p.Helper()
	conn, err := bot.Dial(p.ctx, "http://"+address, p.code)
	if err != nil {
		p.Fatal(err)
	}
	f := &finger{conn, make(chan bot.Frame, 1000), make(chan struct{}, 1000)}
	conn.Send(p.ctx, map[string]any{"type": "join", "name": name})
	go func() {
		for {
			frame, err := conn.Receive(p.ctx)
			switch {
			case err != nil:
				return
			case frame.Type == "clock":
				f.clocks <- struct{}{}
			case frame.Type == "state" || frame.Type == "welcome":
				f.states <- frame
			}
		}
	}()
	if f.until(p, func(f bot.Frame) bool { return f.Type == "welcome" }).Team == "" {
		p.Fatal("no seat")
	}
	return f
}

func (f *finger) until(p *place, fits func(bot.Frame) bool) bot.Frame {
	for {
		select {
		case frame := <-f.states:
			if fits(frame) {
				return frame
			}
		case <-p.ctx.Done():
			p.Fatal("a phone waits in vain")
		}
	}
}

// exchange runs a burst of the clock exchange.
func (f *finger) exchange(ctx context.Context, times int) {
	for range times {
		f.conn.Clock(ctx)
		select {
		case <-f.clocks:
		case <-ctx.Done():
			return
		}
	}
}

// Two phones, one on a link of 20 to 160 ms each way: over real sockets the
// buzz goes to the first finger, where by arrival it would go to the better link.
func TestTheFirstFingerWins(t *testing.T) {
	t.Parallel()
	const questions = 20
	p := begin(t)
	proxy, err := flaky.Listen(strings.TrimPrefix(p.url, "http://"), 7)
	if err != nil {
		t.Fatal(err)
	}
	defer proxy.Close()
	way := flaky.Way{Delay: 20 * time.Millisecond, Jitter: 140 * time.Millisecond}
	proxy.Set(way, way)
	host := p.host()
	r := round("buzz", questions)
	r["wait"] = 250
	host.act("plan", "plan", plan(r))
	fast, slow := p.finger(strings.TrimPrefix(p.url, "http://"), "Hares"), p.finger(proxy.Addr(), "Slugs")
	fast.exchange(p.ctx, 8)
	slow.exchange(p.ctx, 16)
	dice := rand.New(rand.NewPCG(3, 4))
	right, byArrival, drawn := 0, 0, 0
	host.act("next")
	for n := range questions {
		asked := host.until("the question", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "asking" && f.Question.N == n+1 })
		time.Sleep(110 * time.Millisecond) // no finger is faster
		gap := time.Duration(90+dice.IntN(80)) * time.Millisecond
		first, second, want := slow, fast, "t2"
		if n%4 == 3 {
			first, second, want = fast, slow, "t1"
		}
		press := func(f *finger, at float64) {
			f.conn.Send(p.ctx, map[string]any{"type": "buzz", "id": fmt.Sprint(want, n, at), "question": asked.Question.ID, "at": at})
		}
		press(first, bot.Now())
		time.Sleep(gap)
		press(second, bot.Now())
		given := host.until("the buzz", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "buzzed" })
		if given.Buzz.Team == want {
			right++
		}
		if len(given.Buzz.Drawn) > 0 {
			drawn++
		}
		if want == "t1" {
			byArrival++
		}
		host.act("rule", "right", true)
		host.act("next")
	}
	t.Logf("%d of %d questions went to the first finger, %d of them drawn; the better link was first in %d", right, questions, drawn, byArrival)
	if right <= questions/2 { // by arrival alone a quarter would
		t.Errorf("only %d of %d questions went to the first finger", right, questions)
	}
}
