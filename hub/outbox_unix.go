//go:build unix

package hub

import (
	"sync"
	"syscall"
)

// attempt is one try to write. Its function is bound once and for all, so that
// a write allocates nothing.
type attempt struct {
	p   []byte
	n   int
	err error
	try func(fd uintptr) bool
}

var attempts = sync.Pool{New: func() any {
	a := &attempt{}
	a.try = a.write
	return a
}}

func (a *attempt) write(fd uintptr) bool {
	for {
		if a.n, a.err = syscall.Write(int(fd), a.p); a.err != syscall.EINTR {
			return true // whatever came of it: don't wait and call again
		}
	}
}

// writeNow writes what the kernel takes without waiting, which may be nothing.
func writeNow(raw syscall.RawConn, p []byte) (int, error) {
	a := attempts.Get().(*attempt)
	a.p = p
	err := raw.Write(a.try)
	n, failed := a.n, a.err
	a.p = nil
	attempts.Put(a)
	switch {
	case err != nil:
		return 0, err
	case failed == syscall.EAGAIN:
		return 0, nil
	case failed != nil:
		return 0, failed
	}
	return n, nil
}
