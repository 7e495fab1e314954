package ports_test

import (
	"net"
	"strconv"
	"testing"

	"fieldsign/hub/lab/ports"
)

// Over more than a block no port comes twice, each can be listened on, and what
// another program holds is passed over.
func TestFree(t *testing.T) {
	start := ports.Free(t)
	other, err := net.Listen("tcp", "127.0.0.1:"+strconv.Itoa(start+1))
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	seen := map[int]bool{start: true, start + 1: true}
	for range 150 {
		port := ports.Free(t)
		if seen[port] || port >= 32_000 {
			t.Fatalf("port %d after %d others", port, len(seen))
		}
		seen[port] = true
		l, err := net.Listen("tcp", "127.0.0.1:"+strconv.Itoa(port))
		if err != nil {
			t.Fatal(err)
		}
		l.Close()
	}
}
