package relay

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math/rand/v2"
	"sync"
	"time"

	"fieldsign/hub/store"
)

const (
	reading  = 1 << 10 // bytes at a time from a phone, whose frames are no longer
	mostSaid = 8 << 10 // bytes of one phone that wait for the store
)

// Phone is a connection at a hub that does not run its game.
type Phone interface {
	io.Reader
	// Tell sends what the owner says, whole WebSocket frames or the answer to
	// the upgrade. It never waits.
	Tell(frames [][]byte)
	// Pause shows that the store is gone for now, or is back.
	Pause(gone bool)
	// End ends the connection when all is sent; in doubt, the phone has to come
	// back.
	End(doubt bool)
}

// Line is a hub's connection to the owner of a game, for all its phones. It
// ends with the last of them. It is safe for concurrent use.
type Line struct {
	Config
	id     uint64
	ready  chan struct{} // something is due
	ctx    context.Context
	cancel context.CancelFunc

	mu     sync.Mutex
	sent   *sync.Cond // some of what was due
	phones map[uint64]*caller
	last   uint64 // phone
	due    []part
	paused bool
	over   bool
}

type caller struct {
	Phone
	due int // bytes that it said and that are not sent
}

// Open returns at once. The line ends with ctx, too; done is called then.
func Open(ctx context.Context, c Config, done func(*Line)) *Line {
	l := &Line{Config: c, id: rand.Uint64(), ready: make(chan struct{}, 1), phones: map[uint64]*caller{}}
	l.sent = sync.NewCond(&l.mu)
	l.ctx, l.cancel = context.WithCancel(ctx)
	go func() {
		defer done(l)
		l.run()
	}()
	return l
}

// Over tells whether the line takes no phone any more.
func (l *Line) Over() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.over
}

// Join takes a phone, with the head of its upgrade. False says that the line was
// over already. Carry has to follow.
func (l *Line) Join(p Phone, from string, head []byte) (socket uint64, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.over {
		return 0, false
	}
	l.last++
	l.phones[l.last] = &caller{Phone: p}
	if l.paused {
		p.Pause(true)
	}
	l.say(part{Socket: l.last, From: from, Data: head})
	return l.last, true
}

// Carry relays what the phone says until either side has ended.
func (l *Line) Carry(id uint64, p Phone) {
	buffer := make([]byte, reading)
	for {
		n, err := p.Read(buffer)
		l.mu.Lock()
		if n > 0 {
			l.say(part{Socket: id, Data: bytes.Clone(buffer[:n])})
		}
		if err != nil {
			l.say(part{Socket: id, End: true})
			l.leave(id)
			l.mu.Unlock()
			return
		}
		for l.phones[id] != nil && l.phones[id].due > mostSaid {
			l.sent.Wait() // for the store, or its end
		}
		l.mu.Unlock()
	}
}

// say has a part sent with the next batch. The caller holds the lock.
func (l *Line) say(p part) {
	c := l.phones[p.Socket]
	if c == nil {
		return
	}
	c.due += len(p.Data)
	l.due = append(l.due, p)
	l.wake()
}

func (l *Line) wake() {
	select {
	case l.ready <- struct{}{}:
	default:
	}
}

// leave is for a phone that has ended. The caller holds the lock.
func (l *Line) leave(id uint64) {
	delete(l.phones, id)
	l.sent.Broadcast()
	if len(l.phones) == 0 {
		l.over = true
		l.cancel()
	}
}

// run keeps the line for as long as it reaches the owner.
func (l *Line) run() {
	var speaking sync.WaitGroup
	defer speaking.Wait()
	defer l.end()
	defer l.cancel()
	wake, err := l.Store.Subscribe(l.ctx, l.Game, store.OnOut)
	if err != nil {
		return
	}
	at, err := l.Store.Told(l.ctx, l.Game, store.Position{}, nil)
	if err != nil {
		return
	}
	token := at.Token
	speaking.Go(func() { l.speak(token) })
	heard, looked, next := time.Now(), time.Time{}, time.Duration(0)
	for {
		select {
		case <-l.ctx.Done():
			return
		case <-wake:
		case <-time.After(next):
		}
		at, err = l.Store.Told(l.ctx, l.Game, at, l.hear)
		if err == nil && time.Since(looked) >= next {
			looked = time.Now()
			next, err = l.look(token)
		}
		switch {
		case err == nil:
			heard = time.Now()
			l.pause(false)
		case errors.Is(err, store.ErrUnavailable) && time.Since(heard) < mostAdrift && l.ctx.Err() == nil:
			l.pause(true)
			looked, next = time.Time{}, retryEvery
		default:
			if l.ctx.Err() == nil {
				l.Log.Info("a line to the owner of a game has ended", "error", err)
			}
			return
		}
	}
}

// errOver: the owner's lease is over, or another has the game.
var errOver = errors.New("the owner's lease is over")

// look makes sure of the owner, and says when to look again.
func (l *Line) look(token uint64) (time.Duration, error) {
	lease, err := l.Store.Owner(l.ctx, l.Game)
	switch {
	case err != nil:
		return 0, err
	case lease.Token != token || lease.Left <= 0:
		return 0, errOver
	}
	return min(lookEvery, l.Lease/3, lease.Left+time.Millisecond), nil
}

// hear passes on what the owner says to this line's phones.
func (l *Line) hear(f store.Frame) error {
	if f.Hub != l.Hub {
		return nil
	}
	var d down
	if err := l.open(f.Data, &d); err != nil {
		return err
	}
	if d.Line != l.id {
		return nil
	}
	if d.Over {
		return errOver
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, t := range d.To {
		p := l.phones[t.Socket]
		if p == nil {
			continue
		}
		frames := make([][]byte, 0, len(t.Frames))
		for _, i := range t.Frames {
			if i < 0 || i >= len(d.Frames) {
				return errors.New("the owner's batch names a frame that it has not")
			}
			frames = append(frames, d.Frames[i])
		}
		if len(frames) > 0 {
			p.Tell(frames)
		}
		if t.End {
			p.End(false)
			l.leave(t.Socket)
		}
	}
	return nil
}

// pause has all phones told that the store is gone, or is back.
func (l *Line) pause(gone bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.paused == gone {
		return
	}
	l.paused = gone
	for _, p := range l.phones {
		p.Pause(gone)
	}
}

// speak sends what is due, and every while that the line is there.
func (l *Line) speak(token uint64) {
	alive := time.NewTicker(l.Lease / 3)
	defer alive.Stop()
	for n := uint64(0); ; n++ {
		select {
		case <-l.ctx.Done():
			ctx, cancel := context.WithTimeout(context.WithoutCancel(l.ctx), lastCall)
			defer cancel()
			_ = l.Store.Send(ctx, l.Game, l.Hub, l.seal(up{Token: token, Line: l.id, N: n, Over: true})) // else the owner finds out
			return
		case <-l.ready:
		case <-alive.C:
		}
		if !l.send(l.seal(up{Token: token, Line: l.id, N: n, Parts: l.batch()})) {
			l.cancel()
		}
	}
}

// batch is what is due, as much as goes together.
func (l *Line) batch() []part {
	l.mu.Lock()
	defer l.mu.Unlock()
	n := 0
	for size := 0; n < len(l.due) && size < fullParcel; n++ {
		p := l.due[n]
		size += len(p.Data)
		if c := l.phones[p.Socket]; c != nil {
			c.due -= len(p.Data)
		}
	}
	parts := l.due[:n]
	if l.due = l.due[n:]; len(l.due) == 0 {
		l.due = nil
	} else {
		l.wake()
	}
	l.sent.Broadcast()
	return parts
}

// send tries until a batch is in the mailbox. It may be there twice then. It is
// not broken off, or nobody knew whether to count it.
func (l *Line) send(batch []byte) bool {
	for {
		err := l.Store.Send(context.WithoutCancel(l.ctx), l.Game, l.Hub, batch)
		switch {
		case err == nil:
			return true
		case !errors.Is(err, store.ErrUnavailable):
			return false
		}
		select {
		case <-time.After(retryEvery):
		case <-l.ctx.Done():
			return false
		}
	}
}

// end has the phones come back.
func (l *Line) end() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.over = true
	for _, p := range l.phones {
		p.End(true)
	}
	clear(l.phones)
	l.sent.Broadcast()
}

// Phones is how many there are.
func (l *Line) Phones() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return len(l.phones)
}
