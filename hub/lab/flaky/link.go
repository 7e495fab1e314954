package flaky

import (
	"errors"
	"io"
	"math/rand/v2"
	"net"
	"sync"
	"time"
)

const (
	pieceSize = 16 << 10
	underWay  = 256 // pieces in one direction; more have to wait in the sender's socket
)

// link is a connection on both sides of the proxy.
type link struct {
	client, target net.Conn
	dropped        chan struct{}
	once           sync.Once
}

// piece is data under way.
type piece struct {
	data []byte
	due  time.Time
}

// drop ends both sides at once.
func (l *link) drop() {
	l.once.Do(func() {
		close(l.dropped)
		l.client.Close()
		l.target.Close()
	})
}

// wait waits for a time to come; false says that the link was dropped.
func (l *link) wait(until time.Time) bool {
	timer := time.NewTimer(time.Until(until))
	defer timer.Stop()
	select {
	case <-timer.C:
		return true
	case <-l.dropped:
		return false
	}
}

// passes waits until nothing is frozen; false says that the link was dropped.
func (l *link) passes(p *Proxy) bool {
	select {
	case <-p.flows():
		return true
	case <-l.dropped:
		return false
	}
}

// carry moves what comes from one side to the other, each piece in its time.
// The end of the data is passed on behind it; an error drops the link.
func (p *Proxy) carry(l *link, from, to net.Conn, dice *rand.Rand, way *Way) {
	pieces := make(chan piece, underWay)
	var writer sync.WaitGroup
	writer.Go(func() { p.deliver(l, to, pieces) })
	defer writer.Wait()
	defer close(pieces)
	var last time.Time
	for l.passes(p) {
		buffer := make([]byte, pieceSize)
		n, err := from.Read(buffer)
		if n > 0 {
			due := time.Now().Add(p.takes(way, dice))
			if due.Before(last) {
				due = last
			}
			last = due
			select {
			case pieces <- piece{buffer[:n], due}:
			case <-l.dropped:
				return
			}
		}
		if err != nil {
			if !errors.Is(err, io.EOF) {
				l.drop()
			}
			return
		}
	}
}

// deliver hands pieces over when they are due.
func (p *Proxy) deliver(l *link, to net.Conn, pieces <-chan piece) {
	for next := range pieces {
		if !l.wait(next.due) || !l.passes(p) {
			return
		}
		if _, err := to.Write(next.data); err != nil {
			l.drop()
			return
		}
	}
	if tcp, ok := to.(*net.TCPConn); ok {
		tcp.CloseWrite()
	}
}
