package relay

import (
	"context"
	"errors"
	"net"
	"sync"
	"time"

	"fieldsign/hub/store"
)

// Desk takes the sockets that other hubs relay to the owner of a game. It is
// safe for concurrent use.
type Desk struct {
	Config
	token  uint64
	calls  chan net.Conn
	ready  chan struct{} // something is due
	last   chan struct{} // closed when only what is due is left to say
	told   chan struct{} // closed when nothing is told any more
	ctx    context.Context
	cancel context.CancelFunc
	wait   sync.WaitGroup
	once   sync.Once

	mu    sync.Mutex
	lines map[uint64]*called
	due   []*parcel
	size  int // of what is due, in bytes
	over  bool
}

// called is a line as its owner knows it. Only hear's goroutine uses what is
// not guarded by the desk's lock.
type called struct {
	id    uint64
	hub   string
	next  uint64 // batch
	heard time.Time

	sockets map[uint64]*Socket // guarded
	parcel  *parcel            // guarded: the last that is due, or nil
}

// Listen opens the desk of the game's owner under a lease.
func Listen(c Config, token uint64) *Desk {
	d := &Desk{Config: c, token: token, calls: make(chan net.Conn), ready: make(chan struct{}, 1), last: make(chan struct{}), told: make(chan struct{}), lines: map[uint64]*called{}}
	d.ctx, d.cancel = context.WithCancel(context.Background())
	d.wait.Go(d.hear)
	d.wait.Go(d.speak)
	return d
}

// Accept waits for the next socket.
func (d *Desk) Accept() (net.Conn, error) {
	select {
	case c := <-d.calls:
		return c, nil
	case <-d.ctx.Done():
		return nil, net.ErrClosed
	}
}

// Close says what is due, and ends all sockets.
func (d *Desk) Close() error {
	d.once.Do(func() {
		late := time.AfterFunc(lastCall, d.cancel)
		close(d.last)
		<-d.told
		late.Stop()
		d.cancel()
	})
	d.wait.Wait()
	return nil
}

// Addr is the game's code.
func (d *Desk) Addr() net.Addr { return address(d.Game) }

// address is a net.Addr of whatever it says.
type address string

func (a address) Network() string { return "relay" }
func (a address) String() string  { return string(a) }

// hear takes what phones say out of the mailbox, until the desk is closed.
func (d *Desk) hear() {
	defer d.part()
	wake, err := d.Store.Subscribe(d.ctx, d.Game, store.OnIn)
	if err != nil {
		d.Log.Warn("a game can't be reached by other hubs", "error", err)
		return
	}
	look := time.NewTicker(d.Lease / 3) // whatever becomes of wake-ups
	defer look.Stop()
	for {
		select {
		case _, open := <-wake:
			if !open {
				return
			}
		case <-look.C:
		}
		for d.empty() {
		}
		d.dropQuiet()
	}
}

// empty takes a page out of the mailbox; false says that there is no other.
func (d *Desk) empty() bool {
	frames, err := d.Store.Waiting(d.ctx, d.Game)
	if err != nil || len(frames) == 0 {
		return false // where the lease is over too, its keeper finds out
	}
	for _, f := range frames {
		var u up
		if err := d.open(f.Data, &u); err != nil {
			d.Log.Warn("what another hub relays can't be read", "hub", f.Hub, "error", err)
			continue
		}
		d.take(f.Hub, u)
	}
	return d.Store.Handled(d.ctx, d.Game, d.token, frames) == nil
}

// take acts on a batch, unless it came before or was for another owner.
func (d *Desk) take(hub string, u up) {
	if u.Token != d.token {
		return
	}
	c := d.lines[u.Line]
	switch {
	case c == nil && u.Over:
		return
	case c == nil:
		c = &called{id: u.Line, hub: hub, sockets: map[uint64]*Socket{}}
		d.mu.Lock()
		d.lines[u.Line] = c
		d.mu.Unlock()
	}
	c.heard = time.Now()
	switch {
	case u.N < c.next:
		return // it came twice
	case u.N > c.next:
		d.drop(c, "batches were missed")
		return
	case u.Over:
		d.drop(c, "")
		return
	}
	c.next++
	for _, p := range u.Parts {
		d.pass(c, p)
	}
}

// pass hands on what a phone said.
func (d *Desk) pass(c *called, p part) {
	d.mu.Lock()
	s := c.sockets[p.Socket]
	if s == nil && p.From != "" && !d.over {
		near, far := net.Pipe()
		s = &Socket{Conn: near, far: far, desk: d, line: c, id: p.Socket, from: address(p.From)}
		c.sockets[p.Socket] = s
	}
	d.mu.Unlock()
	if s == nil {
		return // it has ended here
	}
	if p.From != "" {
		select {
		case d.calls <- s:
		case <-d.ctx.Done():
			return
		}
	}
	if len(p.Data) > 0 {
		s.far.SetWriteDeadline(time.Now().Add(stuck))
		if _, err := s.far.Write(p.Data); err != nil {
			s.far.Close()
		}
	}
	if p.End {
		d.mu.Lock()
		delete(c.sockets, s.id)
		d.mu.Unlock()
		s.far.Close()
	}
}

// dropQuiet ends the lines of hubs that are gone.
func (d *Desk) dropQuiet() {
	for _, c := range d.lines {
		if time.Since(c.heard) > d.Lease {
			d.drop(c, "the hub is not heard any more")
		}
	}
}

// drop ends a line; with a reason, its hub is told so.
func (d *Desk) drop(c *called, why string) {
	d.mu.Lock()
	delete(d.lines, c.id)
	if why != "" && !d.over {
		if len(c.sockets) > 0 {
			d.Log.Warn("a line to another hub has ended", "hub", c.hub, "phones", len(c.sockets), "reason", why)
		}
		d.due = append(d.due, &parcel{down: down{Line: c.id, Over: true}, hub: c.hub})
		d.wake()
	}
	sockets := c.sockets
	c.sockets = nil
	d.mu.Unlock()
	for _, s := range sockets {
		s.far.Close()
	}
}

// part ends all lines.
func (d *Desk) part() {
	d.mu.Lock()
	d.over = true
	d.mu.Unlock()
	for _, c := range d.lines {
		d.drop(c, "")
	}
}

func (d *Desk) wake() {
	select {
	case d.ready <- struct{}{}:
	default:
	}
}

// say has something told to a phone with the next batch.
func (d *Desk) say(s *Socket, said []byte, end bool) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	c := s.line
	if d.over || c.sockets[s.id] != s {
		return net.ErrClosed
	}
	if d.size > mostDue {
		return errors.New("the store does not take what phones are told")
	}
	if c.parcel == nil || c.parcel.size > fullParcel {
		c.parcel = &parcel{down: down{Line: c.id}, hub: c.hub, places: map[string]int{}}
		d.due = append(d.due, c.parcel)
	}
	before := c.parcel.size
	c.parcel.add(s.id, said, end)
	d.size += c.parcel.size - before
	if end {
		delete(c.sockets, s.id)
	}
	d.wake()
	return nil
}

// batch is what is due.
func (d *Desk) batch() (frames []store.Frame) {
	d.mu.Lock()
	due := d.due
	d.due, d.size = nil, 0
	for _, c := range d.lines {
		c.parcel = nil
	}
	d.mu.Unlock()
	for _, p := range due {
		frames = append(frames, store.Frame{Hub: p.hub, Data: d.seal(p.down)})
	}
	return frames
}

// speak tells what is due, until the lease is over or the desk is closed.
func (d *Desk) speak() {
	defer close(d.told)
	at := store.Position{Token: d.token}
	for ending := false; !ending; {
		select {
		case <-d.ready:
		case <-d.last:
			ending = true
		case <-d.ctx.Done():
			return
		}
		frames := d.batch()
		for len(frames) > 0 {
			next, err := d.Store.Tell(d.ctx, d.Game, at, frames)
			switch {
			case err == nil:
				at, frames = next, nil
			case !errors.Is(err, store.ErrUnavailable):
				d.cancel() // the lease is over
				return
			default:
				select {
				case <-time.After(retryEvery):
				case <-d.ctx.Done():
					return
				}
			}
		}
	}
}

// Socket is a phone's connection at another hub, as the owner has it. Write
// never waits: it fails where the store has not taken what was written before.
type Socket struct {
	net.Conn // for reading
	far      net.Conn
	desk     *Desk
	line     *called
	id       uint64
	from     address
}

func (s *Socket) Write(p []byte) (int, error) {
	if err := s.desk.say(s, p, false); err != nil {
		return 0, err
	}
	return len(p), nil
}

// Close ends the phone's connection once it has been told what was written.
func (s *Socket) Close() error {
	_ = s.desk.say(s, nil, true) // the phone is gone already, or the desk
	return s.Conn.Close()
}

// RemoteAddr is the phone's, as its own hub sees it.
func (s *Socket) RemoteAddr() net.Addr { return s.from }
