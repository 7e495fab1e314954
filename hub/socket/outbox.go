package socket

import (
	"bufio"
	"errors"
	"io"
	"net"
	"net/http"
	"os"
	"sync"
	"time"
)

// Bounds of what waits for a connection that does not take it at once.
const (
	kernelBuffer = 64 << 10 // bytes that the kernel may hold beside
	mostFrames   = 64
	phoneBacklog = 64 << 10        // bytes
	stallPiece   = 16 << 10        // bytes
	StallTime    = 5 * time.Second // for one piece
	lastWords    = time.Second     // for what waits before a goodbye, and the goodbye
	LingerTime   = 500 * time.Millisecond
)

// errSlow: the client did not take what it was sent.
var errSlow = errors.New("the client is too slow")

// outbox is a connection whose Write never waits, so that a listener can write to
// all its connections in turn. What the kernel takes at once costs no goroutine and
// no copy. The rest waits in a bounded backlog, which a goroutine drains that
// ends with it. A client over the bounds is sent away to come back.
//
// The descriptor is written to without the ceremony of net, which is as dear as
// all else here: under the lock, and only while err is nil. Nobody closes the
// connection before err is set, so it is this one's.
//
// Each Write is whole frames, or nothing of it is sent, and nothing follows a
// close. It is safe for concurrent use.
type outbox struct {
	fd      int // or -1 where that is not to be had, as of TLS
	mu      sync.Mutex
	err     error    // why nothing more is taken
	waiting [][]byte // the first is being written; later frames are whole
	size    int      // of waiting, in bytes
	most    int      // that size may become
	slow    bool

	net.Conn
	board *Switchboard
}

func newOutbox(conn net.Conn, board *Switchboard) *outbox {
	o := &outbox{Conn: conn, fd: -1, board: board, most: phoneBacklog}
	if tcp, ok := conn.(*net.TCPConn); ok {
		tcp.SetWriteBuffer(kernelBuffer)
		if raw, err := tcp.SyscallConn(); err == nil {
			raw.Control(func(fd uintptr) { o.fd = int(fd) })
		}
	}
	return o
}

func (o *outbox) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.err != nil {
		return 0, o.err
	}
	rest := p
	if o.fd >= 0 && len(o.waiting) == 0 {
		n, err := writeNow(o.fd, p)
		if err != nil {
			o.fail(err)
			o.Conn.Close() // which does not wait
			return n, err
		}
		if rest = p[n:]; len(rest) == 0 {
			o.err = after(p)
			return n, nil
		}
	}
	if n := len(o.waiting); n > 0 && (n >= mostFrames || o.size+len(rest) > o.most) {
		o.giveUp()
		return 0, o.err
	}
	o.queue(append([]byte(nil), rest...))
	o.err = after(p)
	return len(p), nil
}

// after is why nothing more is taken after a write.
func after(p []byte) error {
	if isClose(p) {
		return net.ErrClosed
	}
	return nil
}

// use lends the descriptor; false says that f failed, or that it is not to be had.
func (o *outbox) use(f func(fd int) error) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.fd >= 0 && o.err == nil && f(o.fd) == nil
}

// queue has the frame written by a goroutine of its own.
func (o *outbox) queue(p []byte) {
	o.waiting = append(o.waiting, p)
	o.size += len(p)
	if len(o.waiting) == 1 {
		o.board.Open.Add(1)
		go o.drain()
	}
}

// giveUp drops what waits, save for a frame already begun, and says goodbye.
func (o *outbox) giveUp() {
	o.waiting = append(o.waiting[:1:1], o.board.slow)
	o.err, o.slow = errSlow, true
	o.Conn.SetDeadline(time.Now().Add(StallTime))
}

// drain writes what waits, and ends when nothing does.
func (o *outbox) drain() {
	defer o.board.Open.Done()
	for p := o.piece(); p != nil; p = o.piece() {
		if n, err := o.Conn.Write(p); err != nil {
			o.mu.Lock()
			o.slow = o.slow || o.err == nil && errors.Is(err, os.ErrDeadlineExceeded)
			o.mu.Unlock()
			o.Close()
			return
		} else if o.written(n) {
			return
		}
	}
}

// piece is what to write next, and the time for it starts; nil after Close.
func (o *outbox) piece() []byte {
	o.mu.Lock()
	defer o.mu.Unlock()
	if len(o.waiting) == 0 {
		return nil
	}
	if o.err == nil {
		o.Conn.SetWriteDeadline(time.Now().Add(StallTime))
	}
	return o.waiting[0][:min(len(o.waiting[0]), stallPiece)]
}

// written takes so many bytes from what waits, and tells whether that was all.
func (o *outbox) written(n int) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.size -= n
	if len(o.waiting) > 0 {
		if o.waiting[0] = o.waiting[0][n:]; len(o.waiting[0]) == 0 {
			o.waiting = o.waiting[1:]
		}
	}
	if len(o.waiting) > 0 {
		return false
	}
	o.waiting, o.size = nil, 0
	if o.err != nil {
		o.part()
	} else {
		o.Conn.SetWriteDeadline(time.Time{})
	}
	return true
}

// finish takes nothing more, and ends the connection once all is written.
func (o *outbox) finish() {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.err == nil {
		o.err = net.ErrClosed
	}
	o.Conn.SetDeadline(time.Now().Add(lastWords))
	if len(o.waiting) == 0 {
		o.part()
	}
}

// linger finishes, and reads on for as long as that takes.
func (o *outbox) linger() {
	o.finish()
	io.Copy(io.Discard, o.Conn)
}

// part ends the sending side, and the receiving one a moment later: a close
// with frames unread would reset the connection and lose the goodbye.
func (o *outbox) part() {
	if tcp, ok := o.Conn.(*net.TCPConn); ok {
		tcp.CloseWrite()
	}
	o.Conn.SetReadDeadline(time.Now().Add(LingerTime))
}

// fail drops what waits.
func (o *outbox) fail(err error) {
	if o.err == nil {
		o.err = err
	}
	o.waiting, o.size = nil, 0
}

// Close ends the connection at once. On TLS it may wait, and so holds no lock.
func (o *outbox) Close() error {
	o.mu.Lock()
	o.fail(net.ErrClosed)
	o.mu.Unlock()
	return o.Conn.Close()
}

// allow sets how many bytes may wait.
func (o *outbox) allow(most int) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.most = most
}

// tooSlow tells whether the client was sent away because it fell behind.
func (o *outbox) tooSlow() bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.slow
}

// over tells whether nothing more is taken.
func (o *outbox) over() bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.err != nil
}

// SetWriteDeadline does nothing: Write never waits, and drain has deadlines of its own.
func (o *outbox) SetWriteDeadline(time.Time) error { return nil }

// boxed hands an upgrade the connection in an outbox, with a small reader.
type boxed struct {
	http.ResponseWriter
	board *Switchboard
	in    *bufio.Reader
	tally *tally
	out   *outbox
}

func (b *boxed) Hijack() (net.Conn, *bufio.ReadWriter, error) {
	conn, rw, err := http.NewResponseController(b.ResponseWriter).Hijack()
	if err != nil {
		return nil, nil, err
	}
	b.out = newOutbox(conn, b.board)
	b.tally, b.in = &tally{outbox: b.out}, rw.Reader
	if b.in.Buffered() == 0 { // else the upgrade is refused
		b.in = bufio.NewReaderSize(b.tally, readBuffer)
	}
	return b.tally, bufio.NewReadWriter(b.in, rw.Writer), nil
}
