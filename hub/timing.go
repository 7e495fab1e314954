package hub

import (
	"encoding/binary"
	"math"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/game"
	"fieldsign/hub/socket"
	"fieldsign/hub/wire"
)

// How a table comes to know a phone's clock and link, and what it tells the
// rules of a press.

// exchange answers a clock frame with RFC 5905's time stamps. The frame before
// it was answered likewise, and so makes a whole exchange as seen from here. A
// ping goes along: the browser answers that by itself.
func (t *table) exchange(c *client, in wire.Inbound) {
	stamped, ok := ofMillis(in.T1)
	if c.replied > 0 && ok {
		c.link.Sample(c.replied, stamped, in.Received)
	}
	c.replied = t.hub.now()
	frames := wire.Text(wire.Clock{Type: "clock", T1: in.T1, T2: millis(in.Received), T3: millis(c.replied)})
	if c.role == team {
		c.pinged = t.hub.now()
		frames = socket.AppendFrame(frames, websocket.PingMessage, binary.BigEndian.AppendUint64(nil, uint64(c.pinged)))
	}
	c.Send(frames) // now: the time of sending is in it
}

// pong takes the answer to the last ping; any other is not believed.
func (t *table) pong(c *client, stamp uint64, received time.Duration) {
	if c.pinged > 0 && stamp == uint64(c.pinged) {
		c.link.Trip(received-c.pinged, received)
		c.pinged = 0
	}
}

// timing is what is known of a press, on the game's clock.
func (t *table) timing(c *client, in wire.Inbound) game.Timing {
	known := game.Timing{Got: t.micros(in.Received)}
	if len(t.state.Presses) == 0 {
		known.Wait = t.longestOfOthers(c).Microseconds()
	}
	stamped, told := ofMillis(in.At)
	at, bound, ok := c.link.Hub(stamped, in.Received)
	if !told || !ok || in.At <= 0 {
		known.Pressed = known.Got
		return known
	}
	known.Pressed, known.Bound, known.Back = t.micros(at), bound.Microseconds(), c.link.Longest().Microseconds()
	return known
}

// longestOfOthers is how long a press of another team that may still buzz can
// take to arrive.
func (t *table) longestOfOthers(c *client) time.Duration {
	longest := time.Duration(0)
	for i := range t.state.Teams {
		if other := t.phoneAt(i); other != nil && other != c && !t.state.Teams[i].Removed && !t.state.Teams[i].Locked {
			longest = max(longest, other.link.Longest())
		}
	}
	return longest
}

// micros puts a time of the hub's clock on the game's.
func (t *table) micros(at time.Duration) int64 { return t.base*1000 + (at - t.clock0).Microseconds() }

func millis(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

// ofMillis is a time of a page's clock; ok is false where it can't be one.
func ofMillis(ms float64) (d time.Duration, ok bool) {
	const tooFar = 1e12 // ms, some thirty years
	return time.Duration(ms * float64(time.Millisecond)), math.Abs(ms) < tooFar
}
