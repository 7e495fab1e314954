package hub_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"strings"
	"sync"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
	"fieldsign/hub/wire"
)

// tokenOf is what a phone of these tests draws as its token.
func tokenOf(i int) string { return fmt.Sprintf("%032x", i+1) }

// enterAs sends a phone's first frame, and reads until it has been welcomed and
// shown the state.
func (p *place) enterAs(ctx context.Context, first map[string]any) (c *bot.Conn, welcome, state bot.Frame, err error) {
	if c, err = bot.Dial(ctx, p.url, p.code); err == nil {
		err = c.Send(ctx, first)
	}
	for err == nil && (welcome.Type == "" || state.Type == "") {
		var f bot.Frame
		switch f, err = c.Receive(ctx); {
		case err != nil:
		case f.Type == "welcome":
			welcome = f
		case f.Type == "state":
			state = f
		case f.Type == "refused":
			err = errors.New(f.Code)
		}
	}
	return c, welcome, state, err
}

// everyOne does something for so many at once and collects what went wrong.
func everyOne(n int, do func(i int) error) error {
	failed := make([]error, n)
	var wait sync.WaitGroup
	for i := range n {
		wait.Go(func() {
			if err := do(i); err != nil {
				failed[i] = fmt.Errorf("phone %d: %w", i, err)
			}
		})
	}
	wait.Wait()
	return errors.Join(failed...)
}

// Hundreds of phones lose the hub in the middle of a question, two thousand in
// the long run, and come back at once: each gets its own seat, what it had answered and the
// question, and then the reveal.
func TestAStormOfReconnects(t *testing.T) {
	t.Parallel()
	const atOnce = 100
	phones, storm := soak.Size(200, 2000), time.Duration(soak.Size(200, 2000))*time.Millisecond
	p := begin(t)
	p.hub.AllowJoins(phones)
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	defer cancel()
	conns, teams := make([]*bot.Conn, phones), make([]string, phones)
	for first := 0; first < phones; first += atOnce {
		if err := everyOne(atOnce, func(i int) error {
			i += first
			c, welcome, _, err := p.enterAs(ctx, map[string]any{"type": "join", "name": fmt.Sprintf("Team %d", i), "token": tokenOf(i)})
			conns[i], teams[i] = c, welcome.Team
			return err
		}); err != nil {
			t.Fatal(err)
		}
	}
	host := p.host()
	long := round("open", 1)
	long["seconds"] = 600
	host.act("plan", "plan", plan(long))
	host.act("next")
	q := host.phase("asking").Question.ID
	host.conn.Drop() // nobody would read what it is told
	if err := everyOne(phones/10, func(i int) error {
		return conns[i].Send(ctx, map[string]any{"type": "answer", "id": "a", "question": q, "option": 1})
	}); err != nil {
		t.Fatal(err)
	}
	for i := range phones / 10 { // what is stored is said
		if err := awaitFrame(ctx, conns[i], func(f bot.Frame) bool { return f.ID == "a" && f.Type == "done" }); err != nil {
			t.Fatalf("the answer of phone %d: %v", i, err)
		}
	}

	for _, c := range conns {
		c.Drop()
	}
	began := time.Now()
	err := everyOne(phones, func(i int) error {
		time.Sleep(storm * time.Duration(i) / time.Duration(phones))
		c, welcome, state, err := p.enterAs(ctx, map[string]any{"type": "resume", "token": tokenOf(i)})
		conns[i] = c
		if err == nil && (welcome.Team != teams[i] || state.Phase != "asking" || state.Question.ID != q) {
			err = fmt.Errorf("came back as %s, not %s, to %s", welcome.Team, teams[i], state.Raw)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d phones are back after %v", phones, time.Since(began).Round(time.Millisecond))

	p.ctx = ctx
	host = p.host()
	host.act("skip")
	host.conn.Drop()
	if err := everyOne(phones, func(i int) error {
		own := bot.Frame{}
		err := awaitFrame(ctx, conns[i], func(f bot.Frame) bool {
			if f.Type == "you" {
				own = f
			}
			return f.Phase == "revealed"
		})
		if answered := own.Option != nil; err == nil && answered != (i < phones/10) {
			err = fmt.Errorf("its own view is %s", own.Raw)
		}
		return err
	}); err != nil {
		t.Error(err)
	}
	for _, c := range conns {
		c.Drop()
	}
}

func awaitFrame(ctx context.Context, c *bot.Conn, fits func(bot.Frame) bool) error {
	for {
		if f, err := c.Receive(ctx); err != nil || fits(f) {
			return err
		}
	}
}

// hostile opens a socket by hand and sends what is given, as it is.
func (p *place) hostile(sent ...[]byte) (net.Conn, error) {
	host := strings.TrimPrefix(p.url, "http://")
	conn, err := net.Dial("tcp", host)
	if err != nil {
		return nil, err
	}
	conn.SetDeadline(time.Now().Add(time.Minute))
	fmt.Fprintf(conn, "GET /socket?game=%s HTTP/1.1\r\nHost: %s\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nSec-WebSocket-Protocol: %s\r\n\r\n", p.code, host, wire.Subprotocol)
	for _, b := range sent {
		if _, err = conn.Write(b); err != nil {
			break
		}
	}
	return conn, err
}

// Fifty hostile clients flood, stall, leave frames half sent, and come and go.
// The honest phones miss nothing and lose nothing, and nothing stays behind.
func TestAFlood(t *testing.T) {
	t.Parallel()
	const honest, hostile, questions = 20, 50, 5
	p := begin(t)
	host := p.host()
	host.act("plan", "plan", plan(round("open", questions)))
	phones := make([]*client, honest)
	for i := range phones {
		phones[i] = p.join(fmt.Sprintf("Team %d", i))
	}

	var stop sync.WaitGroup
	over := make(chan struct{})
	for n := range hostile {
		stop.Go(func() {
			for {
				select {
				case <-over:
					return
				default:
					p.misuse(n, over)
				}
			}
		})
	}
	for k := range questions {
		host.act("next")
		f := host.until("the question", func(f bot.Frame) bool { return f.Phase == "asking" && f.Question.N == k+1 })
		for i, c := range phones {
			c.until("the question", func(g bot.Frame) bool { return g.Phase == "asking" && g.Question.ID == f.Question.ID })
			option := f.Host.Key
			if i%2 == 1 {
				option = (option + 1) % len(f.Question.Options)
			}
			if got := c.do(map[string]any{"type": "answer", "question": f.Question.ID, "option": option}); got.Type != "done" {
				t.Fatalf("the answer of phone %d: %s", i, got.Raw)
			}
		}
		// Refused where it has closed by itself: no hostile team was there yet.
		host.do(map[string]any{"type": "do", "action": "close"})
		for _, c := range phones {
			c.phase("revealed")
		}
	}
	close(over)
	stop.Wait()
	host.act("next")
	end := host.phase("ended")
	scores := map[string]int{}
	for _, l := range end.Leaders {
		scores[l.Name] = l.Score
	}
	for i, c := range phones {
		c.phase("ended")
		if got, want := scores[fmt.Sprintf("Team %d", i)], (1-i%2)*questions*100; got != want {
			t.Errorf("phone %d has %d points, want %d", i, got, want)
		}
	}
}

// misuse is one connection of the nth hostile client.
func (p *place) misuse(n int, over <-chan struct{}) {
	frame := masked(0x81, `{"type":"answer","question":"q","id":"x","option":0}`)
	join := masked(0x81, fmt.Sprintf(`{"type":"join","name":"Hostile %d","token":"%s"}`, n, tokenOf(1000+n)))
	var conn net.Conn
	var err error
	switch n % 4 {
	case 0: // floods, and reads what comes till it is sent away
		flood := append([]byte(nil), join...)
		for range 200 {
			flood = append(flood, frame...)
		}
		if conn, err = p.hostile(flood); err == nil {
			io.Copy(io.Discard, conn)
		}
	case 1: // does not read
		conn, err = p.hostile(join)
		for i := 0; i < 30 && err == nil; i++ {
			_, err = conn.Write(masked(0x81, `{"type":"clock","t1":1}`))
		}
		<-over
	case 2: // stops in the middle
		conn, err = p.hostile(join, frame[:n])
		time.Sleep(50 * time.Millisecond)
	default: // comes and goes
		conn, err = p.hostile(join)
		time.Sleep(5 * time.Millisecond)
	}
	if err != nil {
		time.Sleep(5 * time.Millisecond) // sent away while it was writing
	}
	if conn != nil {
		conn.Close()
	}
}
