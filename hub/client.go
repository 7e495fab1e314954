package hub

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/hub/link"
	"fieldsign/hub/socket"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// Bounds of a connection.
const (
	phoneFrame   = socket.ShortFrame // bytes
	listBacklog  = 4 << 20           // bytes that may wait for those who are told of every team
	pingEvery    = 25 * time.Second  // while nothing is heard
	silence      = 60 * time.Second  // without a frame or a pong
	firstFrame   = 10 * time.Second  // to say who it is, whatever else is sent meanwhile
	framesPerSec = 20
	frameBurst   = 40
	maxOffences  = 100 // refused frames before the connection goes
)

const (
	joining role = "joining" // not greeted yet: what was decided before it, or its own joining, is not stored
	team    role = "team"
	board   role = "board"
	host    role = "host"
)

// client is a connection, and what its table knows of it. The table's goroutine
// has the fields below to itself.
type client struct {
	*socket.Conn
	table *table
	role  role
	due   []byte // frames that it gets with the next write
	seat  int    // the team's place

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

// sit makes a connection a client of the table.
func (t *table) sit(conn *socket.Conn) {
	c := &client{Conn: conn, table: t, dueAt: t.hub.now() + firstFrame}
	if !t.post(message{client: c}) {
		conn.TurnAway(wire.Stopping)
		return
	}
	conn.Listen(c)
}

// Hear hands what the connection says to the table.
func (c *client) Hear(h socket.Heard) bool { return c.table.post(message{client: c, Heard: h}) }

// close says goodbye after what was sent before; the first reason stands. The
// reader then comes to its end by itself.
func (c *client) close(code int, why string) {
	if c.code == 0 {
		c.code = code
	}
	c.flush()
	c.Close(socket.Goodbye{Code: code, Why: why})
}

// tell says something to this client alone, at the end of the table's turn: all
// that a client is told in a turn is one write.
func (c *client) tell(v any) {
	if r, ok := v.(wire.Refused); ok {
		c.table.hub.metrics.refused.WithLabelValues(r.Code).Inc()
	}
	if len(c.due) == 0 {
		c.table.owing = append(c.table.owing, c)
	}
	c.due = socket.AppendFrame(c.due, websocket.TextMessage, wire.Encode(v))
}

// refuse says why something that the client sent had no effect.
func (c *client) refuse(id string, err error) { c.tell(wire.AsRefused(id, err)) }

// flush writes what is due, before the turn has ended.
func (c *client) flush() {
	if len(c.due) > 0 {
		c.Send(c.due)
		c.due = nil
	}
}

// parse understands a frame, or says why not.
func (c *client) parse(f *socket.Frame, received time.Duration, frames int) (in wire.Inbound, err error) {
	if !c.pace(received, frames) {
		return in, refusal.New(refusal.TooFast, fmt.Sprintf("At most %d frames a second.", framesPerSec))
	}
	if f.Kind != websocket.TextMessage {
		return in, refusal.New(refusal.BadFrame, "Frames are JSON text.")
	}
	if err := json.Unmarshal(f.Data, &in); err != nil {
		return wire.Inbound{}, refusal.New(refusal.BadFrame, "This frame is not a JSON object of the protocol: "+plain(err))
	}
	if len(f.Data) > phoneFrame && in.Action != "plan" {
		return in, refusal.New(refusal.BadFrame, fmt.Sprintf("A frame has at most %d bytes; only a plan may be longer.", phoneFrame))
	}
	if len(in.ID) > 40 {
		return wire.Inbound{}, refusal.New(refusal.BadFrame, "An id has at most 40 bytes.")
	}
	in.Received = received
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
		c.close(wire.CloseBadFrame, tooMany)
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

var nameless = fmt.Sprintf("nobody said within %.0f seconds who is there: the first frame is join, resume, board or host", firstFrame.Seconds())

// role is what a connection has shown itself to be; "" before its first frame.
type role string
