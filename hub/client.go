package hub

import (
	"encoding/json"
	"errors"
	"fmt"
	"sync"
	"time"

	"github.com/gorilla/websocket"
	"golang.org/x/time/rate"
)

// Bounds of a connection.
const (
	phoneFrame   = 1 << 10 // bytes
	hostFrame    = 64 << 10
	queueLength  = 64 // frames waiting to be written
	writeTime    = 10 * time.Second
	pingEvery    = 25 * time.Second
	silence      = 60 * time.Second // without a pong
	firstFrame   = 10 * time.Second // to say who it is
	framesPerSec = 20
	frameBurst   = 40
	maxOffences  = 100 // refused frames before the connection goes
)

// role is what a connection has shown itself to be; "" before its first frame.
type role string

const (
	joining role = "joining" // a team that is not stored yet
	team    role = "team"
	board   role = "board"
	host    role = "host"
)

// client is one connection. read runs in the handler's goroutine and write in
// one of its own; role and team belong to the table's goroutine.
type client struct {
	table *table
	conn  *websocket.Conn
	out   chan *websocket.PreparedMessage
	quit  chan struct{}
	once  sync.Once
	code  int // why quit was closed; set before it is
	why   string

	role role
	team string
}

func newClient(t *table, conn *websocket.Conn) *client {
	return &client{table: t, conn: conn, out: make(chan *websocket.PreparedMessage, queueLength), quit: make(chan struct{})}
}

// serve runs the connection until it ends.
func (c *client) serve() {
	written := make(chan struct{})
	go func() {
		defer close(written)
		c.write()
	}()
	c.read()
	c.table.post(message{client: c, gone: true})
	c.close(websocket.CloseNormalClosure, "")
	<-written
}

// close ends the connection with a close code; the first reason stands.
func (c *client) close(code int, why string) {
	c.once.Do(func() {
		c.code, c.why = code, why
		close(c.quit)
	})
}

// send queues a frame and never waits: a client that does not keep up goes.
func (c *client) send(m *websocket.PreparedMessage) {
	select {
	case c.out <- m:
	default:
		c.close(closeSlow, "too slow: come back")
	}
}

// tell sends a frame to this client alone.
func (c *client) tell(v any) { c.send(prepare(v)) }

// prepare encodes a frame once for any number of clients.
func prepare(v any) *websocket.PreparedMessage {
	m, err := websocket.NewPreparedMessage(websocket.TextMessage, encode(v))
	if err != nil {
		panic(err) // only for a bad message type
	}
	return m
}

func (c *client) write() {
	ping := time.NewTicker(pingEvery)
	defer ping.Stop()
	defer c.conn.Close()
	for {
		select {
		case m := <-c.out:
			c.conn.SetWriteDeadline(time.Now().Add(writeTime))
			if c.conn.WritePreparedMessage(m) != nil {
				return
			}
		case <-ping.C:
			if c.conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(writeTime)) != nil {
				return
			}
		case <-c.quit:
			c.drain()
			c.conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(c.code, c.why), time.Now().Add(time.Second))
			return
		}
	}
}

// drain writes what was queued before the end, so that a refusal is read
// before the close that follows it.
func (c *client) drain() {
	c.conn.SetWriteDeadline(time.Now().Add(time.Second))
	for {
		select {
		case m := <-c.out:
			if c.conn.WritePreparedMessage(m) != nil {
				return
			}
		default:
			return
		}
	}
}

func (c *client) read() {
	c.conn.SetReadLimit(hostFrame)
	c.conn.SetReadDeadline(time.Now().Add(firstFrame))
	c.conn.SetPongHandler(func(string) error { return c.conn.SetReadDeadline(time.Now().Add(silence)) })
	limit := rate.NewLimiter(framesPerSec, frameBurst)
	offences := 0
	for {
		kind, data, err := c.conn.ReadMessage()
		if err != nil {
			c.closeAfter(err)
			return
		}
		received := c.table.hub.now()
		c.conn.SetReadDeadline(time.Now().Add(silence))
		refusal := c.take(kind, data, received, limit)
		if refusal == nil {
			continue
		}
		c.tell(refusal)
		if offences++; offences > maxOffences {
			c.close(closeBadFrame, "too many bad frames")
			return
		}
	}
}

func (c *client) closeAfter(err error) {
	if errors.Is(err, websocket.ErrReadLimit) {
		c.close(websocket.CloseMessageTooBig, "frame too big")
	}
}

// take handles one frame, or says why not.
func (c *client) take(kind int, data []byte, received time.Duration, limit *rate.Limiter) *refused {
	var in inbound
	switch {
	case !limit.Allow():
		return &refused{"refused", "", "too_fast", fmt.Sprintf("At most %d frames a second.", framesPerSec)}
	case kind != websocket.TextMessage:
		return &refused{"refused", "", "bad_frame", "Frames are JSON text."}
	}
	if err := json.Unmarshal(data, &in); err != nil {
		return &refused{"refused", "", "bad_frame", "This frame is not a JSON object of the protocol: " + plain(err)}
	}
	switch {
	case len(data) > phoneFrame && in.Action != "plan":
		return &refused{"refused", in.ID, "bad_frame", fmt.Sprintf("A frame has at most %d bytes; only a plan may be longer.", phoneFrame)}
	case len(in.ID) > 40:
		return &refused{"refused", "", "bad_frame", "An id has at most 40 bytes."}
	case in.Type == "clock":
		c.tell(clock{"clock", in.T1, millis(received), millis(c.table.hub.now())})
		return nil
	}
	if !c.table.post(message{client: c, in: in}) {
		c.close(closeStopping, "the hub is stopping: come back")
	}
	return nil
}

// plain tells what is wrong with a frame without Go's type names.
func plain(err error) string {
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return fmt.Sprintf("%q can't be a %s.", wrong.Field, wrong.Value)
	}
	return "it can't be read as JSON."
}

func millis(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
