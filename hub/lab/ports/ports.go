// Package ports gives out ports on loopback that stay free: a server of a test
// has to get its own again when it is started anew. They are below those that the
// system gives to connections, 32768 and on by default, and each is given out
// once, whatever other test programs run.
package ports

import (
	"net"
	"strconv"
	"sync"
	"testing"
)

// A test program holds a block of ports by listening on the first for as long as
// it runs. The others are its own.
const (
	first = 20_000
	last  = 32_000
	block = 100
)

var (
	mu    sync.Mutex
	next  = first
	ends  = first        // of the block that next is in
	holds []net.Listener // a listener that is collected is closed
)

// Free is a port that nothing listens on.
func Free(t testing.TB) int {
	t.Helper()
	mu.Lock()
	defer mu.Unlock()
	for next < last {
		port := next
		next++
		l, err := net.Listen("tcp", "127.0.0.1:"+strconv.Itoa(port))
		switch {
		case port < ends && err == nil:
			l.Close()
			return port
		case port < ends: // somebody else's
		case err == nil:
			holds, ends = append(holds, l), port+block
		default: // a block of another program
			next = port + block
			ends = next
		}
	}
	t.Fatalf("no free port from %d to %d", first, last)
	return 0
}
