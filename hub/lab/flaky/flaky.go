// Package flaky is a flaky stretch of network for tests: a TCP proxy on the
// loopback that delays, freezes and cuts. It knows nothing of what it forwards.
//
// As in TCP, bytes keep their order: a delayed piece delays those behind it.
package flaky

import (
	"context"
	"math/rand/v2"
	"net"
	"sync"
	"time"
)

// Way is how long a piece of data takes in one direction: Delay, and up to
// Jitter more, evenly spread.
type Way struct{ Delay, Jitter time.Duration }

// Proxy forwards connections to one address. Its methods may be called from
// any goroutine. It has to be closed.
type Proxy struct {
	listener net.Listener
	target   string
	seed     uint64
	ctx      context.Context // till Close
	stop     context.CancelFunc
	running  sync.WaitGroup

	mu       sync.Mutex
	up, down Way
	cut      bool
	thawed   chan struct{} // closed while data flows
	links    map[*link]bool
	accepted uint64
}

// Listen starts a proxy to an address, at first without any delay. With the
// same seed the Nth connection meets the same row of delays again.
func Listen(target string, seed uint64) (*Proxy, error) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	p := &Proxy{listener: listener, target: target, seed: seed, thawed: make(chan struct{}), links: map[*link]bool{}}
	close(p.thawed)
	p.ctx, p.stop = context.WithCancel(context.Background())
	p.running.Go(p.accept)
	return p, nil
}

// Addr is where the proxy listens.
func (p *Proxy) Addr() string { return p.listener.Addr().String() }

// Set sets what each direction takes from now on: up to the target, down to the client.
func (p *Proxy) Set(up, down Way) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.up, p.down = up, down
}

// Cut drops all connections, and new ones as they come, until Heal.
func (p *Proxy) Cut() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.cut = true
	for l := range p.links {
		l.drop()
	}
}

// Freeze lets connections stand half-open until Heal: what comes in is not
// lost, but not passed on either.
func (p *Proxy) Freeze() {
	p.mu.Lock()
	defer p.mu.Unlock()
	select {
	case <-p.thawed:
		p.thawed = make(chan struct{})
	default:
	}
}

// Heal ends a cut and a freeze.
func (p *Proxy) Heal() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.cut = false
	select {
	case <-p.thawed:
	default:
		close(p.thawed)
	}
}

// Close drops everything, and returns once no goroutine of the proxy is left.
func (p *Proxy) Close() error {
	p.stop()
	err := p.listener.Close()
	p.Cut()
	p.running.Wait()
	return err
}

func (p *Proxy) accept() {
	for {
		conn, err := p.listener.Accept()
		if err != nil {
			return // closed
		}
		p.running.Go(func() { p.serve(conn) })
	}
}

// serve carries one connection to its end.
func (p *Proxy) serve(client net.Conn) {
	defer client.Close()
	target, err := new(net.Dialer).DialContext(p.ctx, "tcp", p.target)
	if err != nil {
		return // the client sees its connection end, as it would without a proxy
	}
	defer target.Close()
	l := &link{client: client, target: target, dropped: make(chan struct{})}
	number, ok := p.add(l)
	if !ok {
		return
	}
	defer p.remove(l)
	dice := func(direction uint64) *rand.Rand { return rand.New(rand.NewPCG(p.seed, 2*number+direction)) }
	var both sync.WaitGroup
	both.Go(func() { p.carry(l, client, target, dice(0), &p.up) })
	both.Go(func() { p.carry(l, target, client, dice(1), &p.down) })
	both.Wait()
}

func (p *Proxy) add(l *link) (number uint64, ok bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.cut {
		return 0, false
	}
	p.accepted++
	p.links[l] = true
	return p.accepted, true
}

func (p *Proxy) remove(l *link) {
	p.mu.Lock()
	defer p.mu.Unlock()
	delete(p.links, l)
}

// takes draws how long a piece takes on one of the proxy's two ways.
func (p *Proxy) takes(way *Way, dice *rand.Rand) time.Duration {
	p.mu.Lock()
	defer p.mu.Unlock()
	if way.Jitter <= 0 {
		return way.Delay
	}
	return way.Delay + time.Duration(dice.Int64N(int64(way.Jitter)))
}

func (p *Proxy) flows() <-chan struct{} {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.thawed
}
