// Package socket is the connections of a hub: WebSockets whose frames are handed
// on as they came, whose writes never wait, and which cost no goroutine while
// they are idle. It knows nothing of games.
package socket

import (
	"bufio"
	"encoding/binary"
	"errors"
	"io"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"
)

// Bounds of a connection, in bytes.
const (
	ShortFrame   = 1 << 10  // frames up to here take nothing of the memory
	longestFrame = 64 << 10 // longer ones end their connection
	readBuffer   = 288      // more than 256, or the library makes its own
	writeBuffer  = 1 << 10
)

// Listener is who a connection talks to. Its readers call Hear, which may wait.
// False says that nobody listens any more.
type Listener interface {
	Hear(Heard) bool
}

// Heard is what a connection has said: a frame, or which ping it answers, or its
// end, or nothing but how many frames have come.
type Heard struct {
	Frame  *Frame
	Pong   uint64        // the stamp of the ping, or 0
	Frames int           // that have come since the last, of whatever kind
	At     time.Duration // on the switchboard's clock
	Gone   bool
}

// Goodbye is a close code and why.
type Goodbye struct {
	Code int
	Why  string
}

// Config is what a switchboard is built from.
type Config struct {
	Clock       func() time.Duration // monotonic
	Subprotocol string
	Open        *sync.WaitGroup // counts connections and goroutines: see Upgrade
	Pieces      int             // frames that may come before one of them is to be handed on

	Slow, Flood, Unheard Goodbye // for who does not read, who sends too many pieces, and who finds nobody listening
}

// Switchboard is what all connections of a hub share. It is safe for concurrent use.
type Switchboard struct {
	Config
	parking  *parking
	upgrader websocket.Upgrader
	slow     []byte // the goodbye as it is on the wire
}

// New makes a switchboard. Run must be called, and Close.
func New(c Config) *Switchboard {
	// The upgrader keeps little for each connection. It reads from the reader that
	// boxed gives it.
	upgrader := websocket.Upgrader{Subprotocols: []string{c.Subprotocol}, WriteBufferSize: writeBuffer, WriteBufferPool: &sync.Pool{}}
	return &Switchboard{Config: c, parking: newParking(), upgrader: upgrader,
		slow: Framed(websocket.CloseMessage, websocket.FormatCloseMessage(c.Slow.Code, c.Slow.Why))}
}

// Run wakes idle connections that say something, until the switchboard is closed.
func (b *Switchboard) Run() { b.parking.run() }

// Close has no connection wait without a goroutine any more.
func (b *Switchboard) Close() { b.parking.close() }

// Conn is one connection. Its reader hands on the frames as they are, and is
// there only while something is being read: idle connections are parked.
type Conn struct {
	from   string
	heard  atomic.Int64
	board  *Switchboard
	to     Listener
	out    *outbox // what ws writes to
	ws     *websocket.Conn
	in     *bufio.Reader // what ws reads from
	tally  *tally        // of the frames in it; the reader's
	stays  atomic.Bool   // its reader, in place of parking
	ticket int32         // of the parking; 0 before it was first there
}

// Upgrade makes a request a connection, and counts it out of Open when it has
// ended: the caller has counted it in. Where it fails, the request is answered.
// What served the request is freed once the caller returns.
func (b *Switchboard) Upgrade(w http.ResponseWriter, r *http.Request) (*Conn, bool) {
	box := &boxed{ResponseWriter: w, board: b}
	ws, err := b.upgrader.Upgrade(box, r, nil) // answers a foreign origin with 403
	if err != nil {
		b.Open.Done()
		return nil, false
	}
	ws.SetReadLimit(longestFrame)
	c := &Conn{from: r.RemoteAddr, board: b, out: box.out, ws: ws, in: box.in, tally: box.tally}
	c.heard.Store(int64(b.Clock()))
	pong := ws.PingHandler()
	ws.SetPingHandler(func(data string) error {
		c.handOn(nil, 0)
		return pong(data)
	})
	return c, true
}

// Remote is the address and port of the phone, also where another hub forwards it.
func (c *Conn) Remote() string { return c.from }

// LastHeard is when something came last, on the switchboard's clock.
func (c *Conn) LastHeard() time.Duration { return time.Duration(c.heard.Load()) }

// Listen has what is said from now on handed to a listener.
func (c *Conn) Listen(to Listener) {
	c.to = to
	go c.read()
}

// TurnAway ends a connection that nobody has listened to.
func (c *Conn) TurnAway(bye Goodbye) {
	c.say(bye)
	c.out.linger()
	c.ws.Close()
	c.board.Open.Done()
}

// Send writes whole frames and never waits. Where it fails, the reader ends.
func (c *Conn) Send(frames []byte) { c.out.Write(frames) }

// Close says goodbye after what was sent before. The reader then comes to its
// end by itself.
func (c *Conn) Close(bye Goodbye) {
	c.say(bye)
	c.out.finish()
	c.Wake()
}

// Drop ends a connection that nobody reads at its other end.
func (c *Conn) Drop() {
	c.out.Conn.SetReadDeadline(time.Now())
	c.Wake()
}

// Wake has a parked connection read, so that it notices its end.
func (c *Conn) Wake() { c.board.parking.wake(c) }

// Stay keeps the reader, in place of parking: it answers a little sooner.
func (c *Conn) Stay() { c.stays.Store(true) }

// Allow sets how many bytes may wait to be sent. At first these are 64 kB.
func (c *Conn) Allow(most int) { c.out.allow(most) }

// TooSlow tells whether the connection was ended because it fell behind.
func (c *Conn) TooSlow() bool { return c.out.tooSlow() }

// Over tells whether nothing more is sent.
func (c *Conn) Over() bool { return c.out.over() }

func (c *Conn) say(bye Goodbye) {
	c.ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(bye.Code, bye.Why), time.Now().Add(time.Second))
}

// Frame is what was sent, as it is. Frames are used again and again.
type Frame struct {
	Kind int
	Data []byte
}

var frames = sync.Pool{New: func() any { return &Frame{Data: make([]byte, 0, ShortFrame)} }}

// Release gives a frame back, unless it has grown.
func (f *Frame) Release() {
	if cap(f.Data) == ShortFrame {
		frames.Put(f)
	}
}

// read hands frames on until nothing more is there, or the connection ends.
func (c *Conn) read() {
	for {
		f, stamp, err := c.next()
		if err != nil {
			c.end(err)
			return
		}
		c.heard.Store(int64(c.board.Clock()))
		c.handOn(f, stamp)
		if c.in.Buffered() == 0 && !c.stays.Load() && c.board.parking.park(c) {
			return // the connection is the parking's now
		}
	}
}

// handOn tells the listener of a frame, of a pong's stamp, and of how many frames
// have come since, those that say nothing too.
func (c *Conn) handOn(f *Frame, stamp uint64) {
	if n := c.tally.take(); f != nil || stamp != 0 || n > 0 {
		c.tell(Heard{Frame: f, Pong: stamp, Frames: n, At: c.board.Clock()})
	}
}

// tell tells the listener, or says goodbye where there is none any more.
func (c *Conn) tell(h Heard) {
	if !c.to.Hear(h) {
		c.say(c.board.Unheard)
		c.out.finish()
	}
}

// next waits for a frame, or for a pong and then returns its stamp.
func (c *Conn) next() (f *Frame, stamp uint64, err error) {
	stamp, pong := c.skipPong()
	if !pong {
		f, err = c.receive()
	}
	return f, stamp, err
}

// skipPong takes the answer to a ping out of the stream. The library would do
// that too, but then waits for the next message with a goroutine. The stamp is
// that of a ping which bore one, or 0.
func (c *Conn) skipPong() (stamp uint64, ok bool) {
	head, err := c.in.Peek(2)
	if err != nil || head[0] != final|websocket.PongMessage || head[1] < masked || head[1] > masked|mostControl {
		return 0, false
	}
	whole, err := c.in.Peek(2 + 4 + int(head[1]&^masked)) // header, mask, payload
	if err != nil {
		return 0, false
	}
	if payload := whole[6:]; len(payload) == 8 {
		mask := uint64(binary.BigEndian.Uint32(whole[2:]))
		stamp = binary.BigEndian.Uint64(payload) ^ (mask<<32 | mask)
	}
	c.in.Discard(len(whole)) // it is there
	return stamp, true
}

// end is the reader's last step.
func (c *Conn) end(err error) {
	if errors.Is(err, websocket.ErrReadLimit) {
		c.out.linger() // the library has said why
	}
	if errors.Is(err, errPieces) {
		c.say(c.board.Flood)
		c.out.linger()
	}
	c.ws.Close()
	c.tell(Heard{Gone: true})
	c.board.Open.Done()
}

// receive reads the next frame.
func (c *Conn) receive() (*Frame, error) {
	kind, r, err := c.ws.NextReader()
	if err != nil {
		return nil, err
	}
	f := frames.Get().(*Frame)
	f.Kind, f.Data = kind, f.Data[:0]
	for {
		if len(f.Data) == cap(f.Data) {
			f.Data = append(f.Data, 0)[:len(f.Data)]
		}
		n, err := r.Read(f.Data[len(f.Data):cap(f.Data)])
		f.Data = f.Data[:len(f.Data)+n]
		switch {
		case err == io.EOF:
			return f, nil
		case err != nil:
			f.Release()
			return nil, err
		}
	}
}
