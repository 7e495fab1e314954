package flaky_test

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"net"
	"os"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"fieldsign/hub/lab/flaky"
)

const patience = time.Minute

// echo is a server that sends back what it gets, and then its end.
func echo(t *testing.T) string {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	var running sync.WaitGroup
	running.Go(func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			running.Go(func() {
				defer conn.Close()
				_, _ = io.Copy(conn, conn)
			})
		}
	})
	t.Cleanup(func() {
		listener.Close()
		running.Wait()
	})
	return listener.Addr().String()
}

// proxy is one to an echo; when the test ends, none of its goroutines may be left.
func proxy(t *testing.T) *flaky.Proxy {
	target := echo(t)
	p, err := flaky.Listen(target, 1)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := p.Close(); err != nil {
			t.Error(err)
		}
		stacks := make([]byte, 1<<20)
		if stacks = stacks[:runtime.Stack(stacks, true)]; strings.Contains(string(stacks), "flaky.(*Proxy)") {
			t.Errorf("goroutines are left after Close:\n%s", stacks)
		}
	})
	return p
}

func dial(t *testing.T, p *flaky.Proxy) *net.TCPConn {
	conn, err := net.Dial("tcp", p.Addr())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	if err := conn.SetDeadline(time.Now().Add(patience)); err != nil {
		t.Fatal(err)
	}
	return conn.(*net.TCPConn)
}

func send(t *testing.T, conn net.Conn, text string) {
	t.Helper()
	if _, err := conn.Write([]byte(text)); err != nil {
		t.Fatal(err)
	}
}

func expect(t *testing.T, conn net.Conn, want string) {
	t.Helper()
	got := make([]byte, len(want))
	if _, err := io.ReadFull(conn, got); err != nil || string(got) != want {
		t.Fatalf("got %q (%v), want %q", got, err, want)
	}
}

// Many bytes, in pieces of all sizes and each late by its own time, arrive
// whole, in order, and followed by the end.
func TestOrderIsKept(t *testing.T) {
	p := proxy(t)
	p.Set(flaky.Way{Jitter: 2 * time.Millisecond}, flaky.Way{Jitter: 2 * time.Millisecond})
	conn := dial(t, p)
	dice := rand.New(rand.NewPCG(1, 2))
	sent := make([]byte, 200_000)
	for i := range sent {
		sent[i] = byte(dice.Uint32())
	}
	go func() {
		for rest := sent; len(rest) > 0; {
			n := min(len(rest), 1+dice.IntN(5000))
			if _, err := conn.Write(rest[:n]); err != nil {
				return
			}
			rest = rest[n:]
		}
		conn.CloseWrite()
	}()
	if got, err := io.ReadAll(conn); err != nil || !bytes.Equal(got, sent) {
		t.Errorf("%d bytes came back of %d, changed or out of order (%v)", len(got), len(sent), err)
	}
}

func TestEachWayHasItsDelay(t *testing.T) {
	p := proxy(t)
	conn := dial(t, p)
	for _, tc := range []struct{ up, down flaky.Way }{
		{flaky.Way{Delay: 20 * time.Millisecond}, flaky.Way{}},
		{flaky.Way{}, flaky.Way{Delay: 20 * time.Millisecond}},
		{flaky.Way{Delay: 5 * time.Millisecond, Jitter: 5 * time.Millisecond}, flaky.Way{Delay: 15 * time.Millisecond}},
	} {
		p.Set(tc.up, tc.down)
		began := time.Now()
		send(t, conn, "hello")
		expect(t, conn, "hello")
		if took := time.Since(began); took < 20*time.Millisecond {
			t.Errorf("up %+v, down %+v: there and back in %v", tc.up, tc.down, took)
		}
	}
}

func TestFreezeAndHeal(t *testing.T) {
	p := proxy(t)
	conn := dial(t, p)
	send(t, conn, "before")
	expect(t, conn, "before")
	p.Freeze()
	p.Freeze()
	send(t, conn, "during")
	if err := conn.SetReadDeadline(time.Now().Add(30 * time.Millisecond)); err != nil {
		t.Fatal(err)
	}
	if n, err := conn.Read(make([]byte, 1)); !errors.Is(err, os.ErrDeadlineExceeded) {
		t.Fatalf("a frozen connection gave %d bytes, %v", n, err)
	}
	p.Heal()
	p.Heal()
	if err := conn.SetReadDeadline(time.Now().Add(patience)); err != nil {
		t.Fatal(err)
	}
	expect(t, conn, "during")
}

func TestCutAndHeal(t *testing.T) {
	p := proxy(t)
	conn := dial(t, p)
	send(t, conn, "before")
	expect(t, conn, "before")
	p.Cut()
	for _, c := range []net.Conn{conn, dial(t, p)} {
		if n, err := c.Read(make([]byte, 1)); err == nil || errors.Is(err, os.ErrDeadlineExceeded) {
			t.Errorf("a cut connection gave %d bytes, %v", n, err)
		}
	}
	p.Heal()
	after := dial(t, p)
	send(t, after, "after")
	expect(t, after, "after")
}

// Close, which ends each test, has to end what waits for its time, and for a thaw.
func TestCloseEndsWhatIsUnderWay(t *testing.T) {
	p := proxy(t)
	p.Set(flaky.Way{Delay: time.Hour}, flaky.Way{})
	send(t, dial(t, p), "never")
}

func TestCloseEndsWhatIsFrozen(t *testing.T) {
	p := proxy(t)
	conn := dial(t, p)
	send(t, conn, "flows")
	expect(t, conn, "flows")
	p.Freeze()
	send(t, conn, "stands")
}

func TestNobodyAtTheTarget(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	gone := listener.Addr().String()
	listener.Close()
	p, err := flaky.Listen(gone, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	if n, err := dial(t, p).Read(make([]byte, 1)); err == nil || errors.Is(err, os.ErrDeadlineExceeded) {
		t.Errorf("%d bytes from nobody, %v", n, err)
	}
}
