// Package audience is the clients of a table: teams' phones, boards and the host's
// console. It reads what they send, counts it, and writes to each of them once a
// turn. It knows nothing of the rules.
package audience

import (
	"fmt"
	"time"

	"github.com/gorilla/websocket"
	"github.com/prometheus/client_golang/prometheus"

	"fieldsign/hub/socket"
	"fieldsign/hub/wire"
)

const (
	inboxLength = 1024
	sweepEvery  = time.Second     // for pings that are due
	lateSweep   = 5 * time.Second // after the one before: the table stood still, as where its store or its machine did
)

// Message is what reaches a table: that a client has come, what it says, its end, or a call.
type Message struct {
	Client *Client
	socket.Heard
	Call func()
}

// Comes tells that the client is new.
func (m Message) Comes() bool {
	return m.Client != nil && m.Heard == (socket.Heard{}) && m.Call == nil
}

// Audience is all clients of a table. Post and Turn are safe for concurrent use; all
// else is for the table's goroutine.
type Audience struct {
	Inbox   chan Message
	Ended   chan struct{} // closed when nothing more is taken from the inbox
	Clients []*Client     // in no order
	Console *Client

	metrics *Metrics
	phones  []*Client // by the team's place, which stays; there may be more than teams
	owing   []*Client // that are told something at the end of this turn
	swept   time.Duration
}

func New(m *Metrics) *Audience {
	return &Audience{Inbox: make(chan Message, inboxLength), Ended: make(chan struct{}), metrics: m}
}

// Post hands a message to the table; false says that the table has ended.
func (a *Audience) Post(m Message) bool {
	select {
	case a.Inbox <- m:
	case <-a.Ended:
	}
	select {
	case <-a.Ended: // perhaps before it was taken
		return false
	default:
		return true
	}
}

// Turn runs f in the table's goroutine and waits for it, or for the table's end.
func (a *Audience) Turn(f func()) {
	finished := make(chan struct{})
	a.Post(Message{Call: func() { f(); close(finished) }})
	select {
	case <-finished:
	case <-a.Ended:
	}
}

// Sit has the table take a connection up as a client at a time on the hub's clock;
// false says that the table has ended.
func (a *Audience) Sit(conn Conn, now time.Duration) (*Client, bool) {
	c := &Client{Conn: conn, among: a, dueAt: now + firstFrame}
	return c, a.Post(Message{Client: c})
}

// Add and Remove keep the clients in a row.
func (a *Audience) Add(c *Client) {
	c.place = len(a.Clients)
	a.Clients = append(a.Clients, c)
}

// Remove takes out a client whose connection has ended.
func (a *Audience) Remove(c *Client) {
	end := len(a.Clients) - 1
	a.Clients[c.place] = a.Clients[end]
	a.Clients[c.place].place = c.place
	a.Clients[end] = nil
	a.Clients = a.Clients[:end]
	if c.Role == Team || c.Role == Board || c.Role == Host {
		a.metrics.connections.WithLabelValues(string(c.Role)).Dec()
	}
	if c.TooSlow() {
		c.code = wire.CloseSlow
	}
	if c.code != 0 {
		a.metrics.drops.WithLabelValues(wire.DropReasons[c.code]).Inc()
	}
	if a.Console == c {
		a.Console = nil
	}
	if c.Role == Team && a.phones[c.Seat] == c {
		a.phones[c.Seat] = nil
	}
}

// Admit gives a client its role, which it keeps.
func (a *Audience) Admit(c *Client, r Role) {
	c.Role = r
	a.metrics.connections.WithLabelValues(string(r)).Inc()
	if r != Team {
		c.Allow(listBacklog)
	}
}

// Seat makes a client the phone of a team.
func (a *Audience) Seat(c *Client, team string, place int) {
	if more := place + 1 - len(a.phones); more > 0 {
		a.phones = append(a.phones, make([]*Client, more)...)
	}
	c.Team, c.Seat, a.phones[place] = team, place, c
}

// Phone is that of the team at a place, or nil.
func (a *Audience) Phone(place int) *Client {
	if place < 0 || place >= len(a.phones) {
		return nil
	}
	return a.phones[place]
}

// Has tells whether a client has not left.
func (a *Audience) Has(c *Client) bool { return c.place < len(a.Clients) && a.Clients[c.place] == c }

// Flush writes what clients are owed.
func (a *Audience) Flush() {
	for _, c := range a.owing {
		c.Flush()
	}
	clear(a.owing)
	a.owing = a.owing[:0]
}

// SendAway sends everyone away.
func (a *Audience) SendAway(bye socket.Goodbye) {
	for _, c := range a.Clients {
		c.SendAway(bye.Code, bye.Why)
	}
}

// Sweep pings who has been silent for a while, and ends the connections of
// those who stay silent, don't say who they are or have been sent away. Each is
// due by its own time, so that they are not all pinged at once.
func (a *Audience) Sweep(now time.Duration) {
	if now-a.swept < sweepEvery {
		return
	}
	late := now-a.swept > lateSweep
	a.swept = now
	if late { // who was not listened to has not been silent
		return
	}
	for _, c := range a.Clients {
		switch quiet := now - c.LastHeard(); {
		case c.Role == "" && c.code == 0 && now > c.dueAt && len(a.Inbox) == 0: // in which its first frame could wait
			c.SendAway(wire.CloseNameless, nameless)
		case quiet > silence:
			c.code = wire.CloseSilent
			c.Drop()
		case c.Over():
			c.Wake()
		case quiet > pingEvery && now >= c.dueAt:
			c.dueAt = now + pingEvery
			c.Send(ping)
		}
	}
}

var (
	ping     = socket.Framed(websocket.PingMessage, nil)
	nameless = fmt.Sprintf("nobody said within %.0f seconds who is there: the first frame is join, resume, board or host", firstFrame.Seconds())
)

// UntilSweep is how long the next sweep may wait.
func (a *Audience) UntilSweep(now time.Duration) time.Duration {
	if len(a.Clients) == 0 {
		return time.Hour
	}
	return max(sweepEvery-(now-a.swept), 0)
}

// Metrics count connections and frames. No label names a team or a game.
type Metrics struct {
	connections *prometheus.GaugeVec   // by role
	drops       *prometheus.CounterVec // connections that a table has ended, by reason
	refused     *prometheus.CounterVec // frames, by the refusal's code
}

// NewMetrics makes them and has a registry collect them.
func NewMetrics(r prometheus.Registerer) *Metrics {
	counter := func(name, help, label string) *prometheus.CounterVec {
		return prometheus.NewCounterVec(prometheus.CounterOpts{Namespace: "fieldsign", Name: name, Help: help}, []string{label})
	}
	m := &Metrics{
		connections: prometheus.NewGaugeVec(prometheus.GaugeOpts{Namespace: "fieldsign", Name: "connections", Help: "Open connections by role."}, []string{"role"}),
		drops:       counter("drops_total", "Connections that the hub has ended, by reason.", "reason"),
		refused:     counter("frames_refused_total", "Frames from clients that had no effect, by code.", "code"),
	}
	r.MustRegister(m.connections, m.drops, m.refused)
	return m
}
