package hub

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/hub/link"
	"fieldsign/refusal"
)

// Bounds of a connection.
const (
	phoneFrame   = 1 << 10 // bytes
	hostFrame    = 64 << 10
	readBuffer   = 288 // more than 256, or the library makes its own
	writeBuffer  = 1 << 10
	pingEvery    = 25 * time.Second // while nothing is heard
	silence      = 60 * time.Second // without a frame or a pong
	firstFrame   = 10 * time.Second // to say who it is, whatever else is sent meanwhile
	framesPerSec = 20
	frameBurst   = 40
	maxOffences  = 100 // refused frames before the connection goes
)

// What RFC 6455 says of a frame's first two bytes.
const (
	final       = 0x80
	masked      = 0x80
	mostControl = 125
)

// role is what a connection has shown itself to be; "" before its first frame.
type role string

const (
	joining role = "joining" // not greeted yet: what was decided before it, or its own joining, is not stored
	team    role = "team"
	board   role = "board"
	host    role = "host"
)

// client is one connection. Its reader hands on the frames as they are, and is
// there only while something is being read (see lot); the table's goroutine
// does the rest, and has the fields below to itself.
type client struct {
	out    *outbox // what conn writes to
	role   role
	due    []byte // frames that it gets with the next write
	seat   int    // the team's place
	table  *table
	conn   *websocket.Conn
	from   string        // the address and port of the phone, also where another hub forwards it
	in     *bufio.Reader // what conn reads from
	tally  *tally        // of the frames in it; the reader's
	heard  atomic.Int64  // when its last frame came, on the hub's clock
	stays  atomic.Bool   // its reader, in place of the lot: all wait for what a console says
	ticket int32         // of the lot; 0 before it was first there

	place    int // among the table's clients
	team     string
	paced    time.Duration // when all of the burst may be used again
	dueAt    time.Duration // when it has to have said who it is; from then on, when it may be pinged again
	link     link.Link
	replied  time.Duration // when its last clock frame was answered
	pinged   time.Duration // when it was pinged along with that, till it answers
	offences int
	over     int // frames beyond the pace that no refusal has yet answered
	code     int // why the hub has closed it, or 0
}

func newClient(t *table, from string, conn *websocket.Conn, box *boxed) *client {
	conn.SetReadLimit(hostFrame)
	c := &client{table: t, from: from, conn: conn, in: box.in, tally: box.tally, out: box.out, dueAt: t.hub.now() + firstFrame}
	c.heard.Store(int64(t.hub.now()))
	pong := conn.PingHandler()
	conn.SetPingHandler(func(data string) error {
		c.handOn(nil, 0)
		return pong(data)
	})
	return c
}

// frame is what a client sent, as it is. Frames are used again and again.
type frame struct {
	kind int
	data []byte
}

var frames = sync.Pool{New: func() any { return &frame{data: make([]byte, 0, phoneFrame)} }}

// release gives a frame back, unless it has grown for a plan.
func (f *frame) release() {
	if cap(f.data) == phoneFrame {
		frames.Put(f)
	}
}

// read hands frames to the table until nothing more is there, or the
// connection ends.
func (c *client) read() {
	for {
		f, stamp, err := c.next()
		if err != nil {
			c.end(err)
			return
		}
		c.heard.Store(int64(c.table.hub.now()))
		c.handOn(f, stamp)
		if c.in.Buffered() == 0 && !c.stays.Load() && c.table.hub.lot.park(c) {
			return // the client is the lot's now
		}
	}
}

// handOn tells the table of a frame, of a pong's stamp, and of how many frames
// have come since, those that say nothing too.
func (c *client) handOn(f *frame, stamp uint64) {
	if n := c.tally.take(); f != nil || stamp != 0 || n > 0 {
		c.post(message{client: c, frame: f, pong: stamp, frames: n, received: c.table.hub.now()})
	}
}

// next waits for a frame, or for a pong and then returns its stamp.
func (c *client) next() (f *frame, stamp uint64, err error) {
	stamp, pong := c.skipPong()
	if !pong {
		f, err = c.receive()
	}
	return f, stamp, err
}

// skipPong takes the answer to a ping out of the stream. The library would do
// that too, but then waits for the next message with a goroutine. The stamp is
// that of a ping which bore one, or 0.
func (c *client) skipPong() (stamp uint64, ok bool) {
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
func (c *client) end(err error) {
	if errors.Is(err, websocket.ErrReadLimit) {
		c.out.linger() // the library has said why
	}
	if errors.Is(err, errPieces) {
		goodbye(c.conn, closeBadFrame, tooMany)
		c.out.linger()
	}
	c.conn.Close()
	c.post(message{client: c, gone: true})
	c.table.hub.wait.Done()
}

// post hands a message to the table, or says that there is none any more.
func (c *client) post(m message) {
	if !c.table.post(m) {
		goodbye(c.conn, closeStopping, "the hub is stopping: come back")
		c.out.finish()
	}
}

// receive reads the next frame.
func (c *client) receive() (*frame, error) {
	kind, r, err := c.conn.NextReader()
	if err != nil {
		return nil, err
	}
	f := frames.Get().(*frame)
	f.kind, f.data = kind, f.data[:0]
	for {
		if len(f.data) == cap(f.data) {
			f.data = append(f.data, 0)[:len(f.data)]
		}
		n, err := r.Read(f.data[len(f.data):cap(f.data)])
		f.data = f.data[:len(f.data)+n]
		switch {
		case err == io.EOF:
			return f, nil
		case err != nil:
			f.release()
			return nil, err
		}
	}
}

// close says goodbye after what was sent before; the first reason stands. The
// reader then comes to its end by itself.
func (c *client) close(code int, why string) {
	if c.code == 0 {
		c.code = code
	}
	c.flush()
	goodbye(c.conn, code, why)
	c.out.finish()
	c.table.hub.lot.wake(c)
}

func goodbye(conn *websocket.Conn, code int, why string) {
	conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(code, why), time.Now().Add(time.Second))
}

// send writes whole frames and never waits. Where it fails, the reader ends.
func (c *client) send(frames []byte) { c.out.Write(frames) }

// tell says something to this client alone, at the end of the table's turn: all
// that a client is told in a turn is one write.
func (c *client) tell(v any) {
	if r, ok := v.(refused); ok {
		c.table.hub.metrics.refused.WithLabelValues(r.Code).Inc()
	}
	if len(c.due) == 0 {
		c.table.owing = append(c.table.owing, c)
	}
	c.due = appendFrame(c.due, websocket.TextMessage, encode(v))
}

// refuse says why something that the client sent had no effect.
func (c *client) refuse(id string, err error) { c.tell(asRefused(id, err)) }

// flush writes what is due, before the turn has ended.
func (c *client) flush() {
	if len(c.due) > 0 {
		c.send(c.due)
		c.due = nil
	}
}

// parse understands a frame, or says why not.
func (c *client) parse(f *frame, received time.Duration, frames int) (in inbound, err error) {
	if !c.pace(received, frames) {
		return in, refusal.New(refusal.TooFast, fmt.Sprintf("At most %d frames a second.", framesPerSec))
	}
	if f.kind != websocket.TextMessage {
		return in, refusal.New(refusal.BadFrame, "Frames are JSON text.")
	}
	if err := json.Unmarshal(f.data, &in); err != nil {
		return inbound{}, refusal.New(refusal.BadFrame, "This frame is not a JSON object of the protocol: "+plain(err))
	}
	if len(f.data) > phoneFrame && in.Action != "plan" {
		return in, refusal.New(refusal.BadFrame, fmt.Sprintf("A frame has at most %d bytes; only a plan may be longer.", phoneFrame))
	}
	if len(in.ID) > 40 {
		return inbound{}, refusal.New(refusal.BadFrame, "An id has at most 40 bytes.")
	}
	in.received = received
	return in, nil
}

// pace lets a burst of frames pass, and then so many a second. Each takes its
// share of a second from the burst; paced is when all of it is back. What is
// read at once is counted with its first frame, so some come with none; over
// has those refused that were too many.
func (c *client) pace(now time.Duration, frames int) bool {
	const share = time.Second / framesPerSec
	from := max(c.paced, now)
	fit := min(frames, int((now+frameBurst*share-from)/share))
	c.paced = from + time.Duration(fit)*share
	c.over += frames - fit
	c.offences += frames - fit
	if c.over == 0 {
		return true
	}
	c.over--
	return false
}

const tooMany = "too many bad frames"

// bear lets so many offences pass.
func (c *client) bear() {
	if c.offences > maxOffences {
		c.close(closeBadFrame, tooMany)
	}
}

// plain tells what is wrong with a frame without Go's type names.
func plain(err error) string {
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return fmt.Sprintf("%q can't be a %s.", wrong.Field, wrong.Value)
	}
	return "it can't be read as JSON."
}
