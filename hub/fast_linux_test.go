package hub_test

import (
	"bytes"
	"fmt"
	"io"
	"net"
	"os"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// phones seats n of them, the slow ones with a tiny receive buffer.
func (p *place) phones(n int, slow func(i int) bool) []*phone {
	p.Helper()
	out := make([]*phone, n)
	for i := range out {
		receive := 0
		if slow(i) {
			receive = 1024
		}
		out[i] = p.phone(receive, map[string]any{"type": "join", "name": fmt.Sprintf("Team %d", i)})
	}
	p.Cleanup(func() {
		for _, c := range out {
			c.close()
		}
	})
	return out
}

func none(int) bool { return false }

// One phone in a hundred does not read. The others get everything; the slow one
// is sent away. That it is told so is for hub/socket to test.
func TestSlowPhones(t *testing.T) {
	t.Parallel()
	const n, slow = 100, 7
	p := beginStill(t)
	phones := p.phones(n, func(i int) bool { return i == slow })
	settle(phones)
	states := make([]int, n)
	sent := 0
	for ; phones[0].read < kernelAndBacklog; sent++ {
		p.hub.ShowNow(p.code)
		for i, c := range phones {
			if i != slow {
				states[i] += bytes.Count(c.await(`"type":"state"`), []byte(`"type":"state"`))
			}
		}
	}
	for i := range phones {
		if i != slow && states[i] != sent {
			t.Errorf("phone %d got %d of %d states", i, states[i], sent)
		}
	}
	phones[slow].rest()
	phones[slow].close()
	p.age(sweep)
	p.awaitMetric(`fieldsign_drops_total{reason="slow"}`, "1")
	p.awaitMetric(`fieldsign_connections{role="team"}`, "99")
}

// sweep is more than the time between two looks at who has been sent away.
const sweep = 2 * time.Second

// kernelAndBacklog is more than may wait for a phone, in bytes: twice what the
// kernel is asked to hold, the backlog, and what the phone's own end takes.
const kernelAndBacklog = 2*(64<<10) + 64<<10 + 8<<10

// rest reads to the end of the connection.
func (c *phone) rest() []byte {
	var all []byte
	for {
		var b [4096]byte
		n, _ := syscall.Read(c.fd, b[:])
		if n <= 0 {
			return all
		}
		all = append(all, b[:n]...)
	}
}

// A phone that answers pings stays, one that doesn't goes.
func TestSilence(t *testing.T) {
	t.Parallel()
	p := begin(t)
	phones := p.phones(2, none)
	settle(phones)
	p.age(30 * time.Second)
	for _, c := range phones {
		c.await("\x89\x00")
	}
	pong := []byte{0x8a, 0x80, 0, 0, 0, 0} // that it counts alone is for hub/socket to test
	phones[0].write(pong[:1])
	time.Sleep(20 * time.Millisecond) // in most runs the hub has read the half of it
	phones[0].write(pong[1:])
	phones[0].send(map[string]any{"type": "clock", "t1": 4})
	phones[0].await(`"t1":4`)
	p.age(31 * time.Second)
	if rest := phones[1].rest(); bytes.Contains(rest, []byte("\x89\x00")) {
		t.Errorf("the silent phone got %q", rest)
	}
	for _, payload := range []string{"", "with a payload"} { // and a frame follows at once
		phones[0].write(append([]byte{0x8a, 0x80 | byte(len(payload)), 0, 0, 0, 0}, payload...))
		phones[0].send(map[string]any{"type": "clock", "t1": 5})
		phones[0].await(`"t1":5`)
	}
}

// Whatever its connections are at, a hub that has closed leaves nothing running.
func TestNothingIsLeftRunning(t *testing.T) {
	before := runtime.NumGoroutine()
	p := begin(t)
	phones := p.phones(40, func(i int) bool { return i < 5 })
	for i, c := range phones {
		switch {
		case i < 5: // does not read
			for range 30 {
				c.send(map[string]any{"type": "clock", "t1": 1})
			}
		case i < 10: // in the middle of a frame
			c.write([]byte{0x81, 0x85, 0, 0, 0, 0, '{'})
		case i < 15: // gone without a word
			c.close()
		}
	}
	for range 400 {
		p.hub.ShowNow(p.code)
	}
	p.stop()
	for range 6000 { // a minute at most
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	stacks := make([]byte, 64<<10)
	t.Errorf("%d goroutines before, %d after:\n%s", before, runtime.NumGoroutine(), stacks[:runtime.Stack(stacks, true)])
}

// A message may come in parts, with a pong between them, and slowly.
func TestFragments(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.phones(1, none)[0]
	for _, part := range []string{"\x01\x89\x00\x00\x00\x00" + `{"type":"`, "\x8a\x80\x00\x00\x00\x00", "\x80\x8e\x00\x00", "\x00\x00" + `clock","t1`, `":7}`} {
		c.write([]byte(part))
		time.Sleep(20 * time.Millisecond)
	}
	c.await(`"t1":7`)
}

// sink reads all that comes, without a thread.
func (c *phone) sink() {
	f := os.NewFile(uintptr(c.fd), "phone")
	conn, err := net.FileConn(f)
	f.Close()
	c.fd = -1
	if err != nil {
		c.t.Fatal(err)
	}
	c.t.Cleanup(func() { conn.Close() })
	go io.Copy(io.Discard, conn)
}

func BenchmarkBroadcast(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		b.Run(fmt.Sprintf("phones=%d", n), func(b *testing.B) {
			p := begin(b)
			for i := range n {
				p.phone(0, map[string]any{"type": "join", "name": fmt.Sprintf("Team %d", i)}).sink()
			}
			b.ReportAllocs()
			for b.Loop() {
				p.hub.ShowNow(p.code)
			}
		})
	}
}
