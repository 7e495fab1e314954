package audience

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"
	"unicode/utf8"

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

// Pieces is how many frames may come before one of them has to make sense.
const Pieces = frameBurst + maxOffences

// TooMany is why a connection goes that sends too many.
const TooMany = "too many bad frames"

// Role is what a connection has shown itself to be; "" before its first frame.
type Role string

const (
	Joining Role = "joining" // not greeted yet: what was decided before it, or its own joining, is not stored
	Team    Role = "team"
	Board   Role = "board"
	Host    Role = "host"
)

// Conn is a client's connection, such as a *socket.Conn. None of its methods waits.
type Conn interface {
	Send(frames []byte)       // whole ones
	Close(socket.Goodbye)     // after what was sent before
	Drop()                    // without a word
	Wake()                    // has it notice its end
	Stay()                    // has it answer sooner, at a goroutine's cost
	Allow(most int)           // bytes that may wait to be sent
	TooSlow() bool            // it was ended because it fell behind
	Over() bool               // nothing more is sent
	LastHeard() time.Duration // on the hub's clock
	Remote() string           // the address and port that it comes from
}

// Client is a connection, and what its table knows of it. All but Hear is for the
// table's goroutine.
type Client struct {
	Conn
	Role Role
	Team string // its id
	Seat int    // the team's place
	Link link.Link

	among    *Audience
	place    int           // among the clients
	due      []byte        // frames that it gets with the next write
	paced    time.Duration // when all of the burst may be used again
	dueAt    time.Duration // when it has to have said who it is; from then on, when it may be pinged again
	replied  time.Duration // when its last clock frame was answered
	pinged   time.Duration // when it was pinged along with that, till it answers
	offences int
	over     int // frames beyond the pace that no refusal has yet answered
	code     int // why the hub has closed it, or 0
}

// Hear hands what the connection says to the table.
func (c *Client) Hear(h socket.Heard) bool { return c.among.Post(Message{Client: c, Heard: h}) }

// SendAway says goodbye after what was sent before; the first reason stands. The
// reader then comes to its end by itself.
func (c *Client) SendAway(code int, why string) {
	if c.code == 0 {
		c.code = code
	}
	c.Flush()
	c.Close(socket.Goodbye{Code: code, Why: why})
}

// Tell says something to this client alone, at the end of the table's turn: all
// that a client is told in a turn is one write.
func (c *Client) Tell(v any) {
	if len(c.due) == 0 {
		c.among.owing = append(c.among.owing, c)
	}
	c.Add(v)
}

// Add has the next write say something, too.
func (c *Client) Add(v any) {
	c.due = socket.AppendFrame(c.due, websocket.TextMessage, wire.Encode(v))
}

// Refuse says why something that the client sent had no effect.
func (c *Client) Refuse(id string, err error) {
	r := wire.AsRefused(id, err)
	c.among.metrics.refused.WithLabelValues(r.Code).Inc()
	c.Tell(r)
}

// Flush writes what is due, before the turn has ended.
func (c *Client) Flush() { c.Write(nil) }

// Write writes frames after what is due, all at once.
func (c *Client) Write(frames []byte) {
	if len(c.due) > 0 {
		frames = append(c.due, frames...)
		c.due = nil
	}
	if len(frames) > 0 {
		c.Send(frames)
	}
}

// Understand reads what a client said; ok is false for what is done with that, or
// was refused.
func (c *Client) Understand(m Message, clock func() time.Duration) (in wire.Inbound, ok bool) {
	switch {
	case m.Frame == nil:
		c.understandControl(m)
		return in, false
	case c.code != 0:
		return in, false
	case m.Frame.Kind == websocket.TextMessage && !utf8.Valid(m.Frame.Data):
		c.SendAway(websocket.CloseInvalidFramePayloadData, "text frames are UTF-8")
		return in, false
	}
	in, err := c.parse(m.Frame, m.At, m.Frames)
	switch {
	case err != nil:
		c.Refuse(in.ID, err)
		if !refusal.Is(err, refusal.TooFast) { // which pace has counted
			c.offences++
		}
		c.bear()
	case in.Type == "clock":
		c.exchange(in, clock)
	default:
		return in, true
	}
	return in, false
}

// understandControl is for pings and pongs, which count as frames do.
func (c *Client) understandControl(m Message) {
	switch {
	case c.code != 0:
	case !c.pace(m.At, m.Frames):
		c.bear()
	case m.Pong != 0:
		c.pong(m.Pong, m.At)
	}
}

// parse understands a frame, or says why not.
func (c *Client) parse(f *socket.Frame, received time.Duration, frames int) (in wire.Inbound, err error) {
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
func (c *Client) pace(now time.Duration, frames int) bool {
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

// bear lets so many offences pass.
func (c *Client) bear() {
	if c.offences > maxOffences {
		c.SendAway(wire.CloseBadFrame, TooMany)
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
