package socket

import (
	"os"
	"sync"
	"syscall"
)

// parking is where idle connections wait without a goroutine: the kernel says when
// one of them has something to read, and its reader is started again. A connection
// belongs either to the parking or to its reader. It is safe for concurrent use.
type parking struct {
	epoll *os.File // nil where the kernel has none left
	fd    int      // epoll's, good until closed; File.Fd would have it block

	mu     sync.Mutex      // also of the connections' tickets
	parked map[int32]*Conn // by ticket
	last   int32           // ticket
	closed bool
}

func newParking() *parking {
	p := &parking{parked: map[int32]*Conn{}}
	if fd, err := syscall.EpollCreate1(syscall.EPOLL_CLOEXEC); err == nil {
		syscall.SetNonblock(fd, true) // so that waiting for it takes no thread
		p.fd = fd
		p.epoll = os.NewFile(uintptr(fd), "epoll")
	}
	return p
}

// park takes the place of the connection's reader, which has to return. False says
// that it can't be: the reader goes on.
func (p *parking) park(c *Conn) bool {
	if p.epoll == nil {
		return false
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.closed {
		return false
	}
	change := syscall.EPOLL_CTL_MOD
	if c.ticket == 0 {
		p.last++
		c.ticket, change = p.last, syscall.EPOLL_CTL_ADD
	}
	wanted := syscall.EpollEvent{Events: syscall.EPOLLIN | syscall.EPOLLRDHUP | syscall.EPOLLONESHOT, Fd: c.ticket}
	if !c.out.use(func(fd int) error { return syscall.EpollCtl(p.fd, change, fd, &wanted) }) {
		return false
	}
	p.parked[c.ticket] = c
	return true
}

// wake starts the connection's reader, if it is parked.
func (p *parking) wake(c *Conn) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.start(c.ticket)
}

func (p *parking) start(ticket int32) {
	if c := p.parked[ticket]; c != nil {
		delete(p.parked, ticket)
		go c.read()
	}
}

// run starts readers as the kernel says, until the parking is closed.
func (p *parking) run() {
	if p.epoll == nil {
		return
	}
	raw, err := p.epoll.SyscallConn()
	var events [128]syscall.EpollEvent
	for err == nil {
		n := 0
		err = raw.Read(func(fd uintptr) bool {
			n, _ = syscall.EpollWait(int(fd), events[:], 0)
			return n > 0
		})
		p.mu.Lock()
		for _, e := range events[:max(n, 0)] {
			p.start(e.Fd)
		}
		p.mu.Unlock()
	}
}

// close starts all readers, and parks none any more.
func (p *parking) close() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.closed {
		return
	}
	p.closed = true
	if p.epoll != nil {
		p.epoll.Close()
	}
	for _, c := range p.parked {
		go c.read()
	}
	clear(p.parked)
}
