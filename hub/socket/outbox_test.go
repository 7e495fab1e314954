package socket

import (
	"bytes"
	"io"
	"math/rand/v2"
	"net"
	"sync"
	"testing"
	"time"
)

// boxes is an outbox and the other end of its connection.
func boxes(t *testing.T, bare bool) (*outbox, *net.TCPConn) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	far, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	near, err := l.Accept()
	if err != nil {
		t.Fatal(err)
	}
	if !bare {
		near = struct{ net.Conn }{near} // as TLS, it has no descriptor
	}
	board := New(Config{Open: &sync.WaitGroup{}, Slow: Goodbye{4001, "too slow: come back"}})
	o := newOutbox(near, board)
	t.Cleanup(func() { far.Close(); o.Close(); board.Open.Wait() })
	return o, far.(*net.TCPConn)
}

// What was taken arrives whole and in order, however slowly it is read, and the
// end comes after it.
func TestOutboxKeepsOrder(t *testing.T) {
	t.Parallel()
	for _, bare := range []bool{true, false} {
		seed := rand.Uint64()
		dice := rand.New(rand.NewPCG(seed, 0))
		o, far := boxes(t, bare)
		o.allow(8 << 20)
		var sent bytes.Buffer
		for i := range 60 {
			frame := bytes.Repeat([]byte{byte(i)}, 1+dice.IntN(20_000))
			sent.Write(frame)
			if _, err := o.Write(frame); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if i%10 == 0 { // let the goroutine come to its end
				io.ReadFull(far, make([]byte, min(sent.Len(), 1)))
				sent.Next(1)
			}
		}
		if bare {
			o.finish()
		}
		got := make([]byte, sent.Len())
		if _, err := io.ReadFull(far, got); err != nil || !bytes.Equal(got, sent.Bytes()) {
			t.Fatalf("seed %d: %v, or in another order", seed, err)
		}
		if bare {
			if n, err := far.Read(got); n > 0 || err != io.EOF {
				t.Errorf("seed %d: after the end %d bytes, %v", seed, n, err)
			}
		}
	}
}

// Over its bounds an outbox takes nothing more. What was begun is ended, and
// the goodbye follows.
func TestOutboxGivesUp(t *testing.T) {
	t.Parallel()
	o, far := boxes(t, true)
	far.SetReadBuffer(16 << 10)
	frame := bytes.Repeat([]byte("x"), 1000)
	var err error
	taken := 0
	for ; err == nil; taken++ {
		if taken > 10_000 {
			t.Fatal("takes without end")
		}
		_, err = o.Write(frame)
		o.mu.Lock()
		frames, size := len(o.waiting), o.size
		o.mu.Unlock() // a test that ends with it closes no outbox
		if frames > mostFrames || size > phoneBacklog {
			t.Fatalf("%d frames, %d bytes wait", frames, size)
		}
	}
	if err != errSlow || !o.tooSlow() {
		t.Fatalf("refused with %v", err)
	}
	got, err := io.ReadAll(far)
	rest, whole := bytes.CutSuffix(got, o.board.slow)
	if err != nil || !whole || len(rest)%len(frame) != 0 || len(rest) > taken*len(frame) {
		t.Errorf("%d bytes came, %v, ending in %q", len(got), err, got[max(0, len(got)-50):])
	}
}

// One frame may wait whatever its size, or a large game could never be shown.
func TestOutboxTakesOneLargeFrame(t *testing.T) {
	t.Parallel()
	o, far := boxes(t, true)
	large := make([]byte, 10*phoneBacklog)
	if n, err := o.Write(large); n != len(large) || err != nil {
		t.Fatalf("wrote %d, %v", n, err)
	}
	if _, err := io.ReadFull(far, make([]byte, len(large))); err != nil {
		t.Error(err)
	}
}

// A connection that is gone refuses, and never blocks or panics.
func TestOutboxBroken(t *testing.T) {
	t.Parallel()
	for _, bare := range []bool{true, false} {
		o, far := boxes(t, bare)
		far.SetLinger(0)
		far.Close()
		var err error
		for range 1000 {
			if _, err = o.Write([]byte("a frame")); err != nil {
				break
			}
			time.Sleep(time.Millisecond)
		}
		if err == nil || o.tooSlow() {
			t.Errorf("after a reset: %v, too slow: %v", err, o.tooSlow())
		}
		o.finish()
		o.Close()
		if _, err := o.Write([]byte("more")); err == nil {
			t.Error("a closed outbox takes a frame")
		}
	}
}
