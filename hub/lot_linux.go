package hub

import (
	"os"
	"sync"
	"syscall"
)

// lot is where idle connections wait without a goroutine: the kernel says when
// one of them has something to read, and its reader is started again. A client
// belongs either to the lot or to its reader. It is safe for concurrent use.
type lot struct {
	epoll *os.File // nil where the kernel has none left
	fd    int      // epoll's, good until closed; File.Fd would have it block

	mu     sync.Mutex        // also of the clients' tickets
	parked map[int32]*client // by ticket
	last   int32             // ticket
	closed bool
}

func newLot() *lot {
	l := &lot{parked: map[int32]*client{}}
	if fd, err := syscall.EpollCreate1(syscall.EPOLL_CLOEXEC); err == nil {
		syscall.SetNonblock(fd, true) // so that waiting for it takes no thread
		l.fd = fd
		l.epoll = os.NewFile(uintptr(fd), "epoll")
	}
	return l
}

// park takes the place of the client's reader, which has to return. False says
// that it can't be: the reader goes on.
func (l *lot) park(c *client) bool {
	if l.epoll == nil {
		return false
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return false
	}
	change := syscall.EPOLL_CTL_MOD
	if c.ticket == 0 {
		l.last++
		c.ticket, change = l.last, syscall.EPOLL_CTL_ADD
	}
	wanted := syscall.EpollEvent{Events: syscall.EPOLLIN | syscall.EPOLLRDHUP | syscall.EPOLLONESHOT, Fd: c.ticket}
	if !c.out.use(func(fd int) error { return syscall.EpollCtl(l.fd, change, fd, &wanted) }) {
		return false
	}
	l.parked[c.ticket] = c
	return true
}

// wake starts the client's reader, if it is parked.
func (l *lot) wake(c *client) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.start(c.ticket)
}

func (l *lot) start(ticket int32) {
	if c := l.parked[ticket]; c != nil {
		delete(l.parked, ticket)
		go c.read()
	}
}

// run starts readers as the kernel says, until the lot is closed.
func (l *lot) run() {
	if l.epoll == nil {
		return
	}
	raw, err := l.epoll.SyscallConn()
	var events [128]syscall.EpollEvent
	for err == nil {
		n := 0
		err = raw.Read(func(fd uintptr) bool {
			n, _ = syscall.EpollWait(int(fd), events[:], 0)
			return n > 0
		})
		l.mu.Lock()
		for _, e := range events[:max(n, 0)] {
			l.start(e.Fd)
		}
		l.mu.Unlock()
	}
}

// close starts all readers, and parks none any more.
func (l *lot) close() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return
	}
	l.closed = true
	if l.epoll != nil {
		l.epoll.Close()
	}
	for _, c := range l.parked {
		go c.read()
	}
	clear(l.parked)
}
