package audience

import (
	"encoding/binary"
	"math"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/hub/socket"
	"fieldsign/hub/wire"
)

// exchange answers a clock frame with RFC 5905's time stamps. The frame before
// it was answered likewise, and so makes a whole exchange as seen from here. A
// ping goes along: the browser answers that by itself.
func (c *Client) exchange(in wire.Inbound, clock func() time.Duration) {
	stamped, ok := OfMillis(in.T1)
	if c.replied > 0 && ok {
		c.Link.Sample(c.replied, stamped, in.Received)
	}
	c.replied = clock()
	frames := wire.Text(wire.Clock{Type: "clock", T1: in.T1, T2: millis(in.Received), T3: millis(c.replied)})
	if c.Role == Team {
		c.pinged = clock()
		frames = socket.AppendFrame(frames, websocket.PingMessage, binary.BigEndian.AppendUint64(nil, uint64(c.pinged)))
	}
	c.Send(frames) // now: the time of sending is in it
}

// pong takes the answer to the last ping; any other is not believed.
func (c *Client) pong(stamp uint64, received time.Duration) {
	if c.pinged > 0 && stamp == uint64(c.pinged) {
		c.Link.Trip(received-c.pinged, received)
		c.pinged = 0
	}
}

func millis(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

// OfMillis is a time of a page's clock; ok is false where it can't be one.
func OfMillis(ms float64) (d time.Duration, ok bool) {
	const tooFar = 1e12 // ms, some thirty years
	return time.Duration(ms * float64(time.Millisecond)), math.Abs(ms) < tooFar
}
