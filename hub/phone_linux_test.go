package hub_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net"
	"net/url"
	"syscall"
	"testing"
	"time"

	"fieldsign/hub/wire"
)

// phone is a client that is a file descriptor and nothing else, so that a
// thousand of them leave the memory that is measured to the hub.
type phone struct {
	t    testing.TB
	fd   int
	read int // bytes
}

func (c *phone) close() {
	if c.fd >= 0 {
		syscall.Close(c.fd)
	}
	c.fd = -1 // which may soon be another's
}

// phone connects; receive is the size of its receive buffer, or 0 for the usual.
func (p *place) phone(receive int, first map[string]any) *phone {
	p.Helper()
	at, err := url.Parse(p.url)
	if err != nil {
		p.Fatal(err)
	}
	address, err := net.ResolveTCPAddr("tcp4", at.Host)
	if err != nil {
		p.Fatal(err)
	}
	fd, err := syscall.Socket(syscall.AF_INET, syscall.SOCK_STREAM|syscall.SOCK_CLOEXEC, 0)
	if err != nil {
		p.Fatal(err)
	}
	if receive > 0 {
		syscall.SetsockoptInt(fd, syscall.SOL_SOCKET, syscall.SO_RCVBUF, receive)
	}
	syscall.SetsockoptTimeval(fd, syscall.SOL_SOCKET, syscall.SO_RCVTIMEO, &syscall.Timeval{Sec: 60})
	if err := syscall.Connect(fd, &syscall.SockaddrInet4{Port: address.Port, Addr: [4]byte(address.IP.To4())}); err != nil {
		p.Fatal(err)
	}
	c := &phone{t: p, fd: fd}
	c.write(fmt.Appendf(nil, "GET /socket?game=%s HTTP/1.1\r\nHost: %s\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nSec-WebSocket-Protocol: %s\r\n\r\n", p.code, at.Host, wire.Subprotocol))
	c.await("\r\n\r\n")
	c.send(first)
	c.await(`"welcome"`)
	return c
}

func (c *phone) write(b []byte) {
	c.t.Helper()
	for len(b) > 0 {
		n, err := syscall.Write(c.fd, b)
		if err != nil {
			c.t.Fatal(err)
		}
		b = b[n:]
	}
}

// send writes a text frame, masked with zeros.
func (c *phone) send(v map[string]any) {
	c.t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		c.t.Fatal(err)
	}
	head := []byte{0x81, 0x80 | 126, byte(len(b) >> 8), byte(len(b)), 0, 0, 0, 0}
	if len(b) < 126 {
		head = []byte{0x81, 0x80 | byte(len(b)), 0, 0, 0, 0}
	}
	c.write(append(head, b...))
}

// await reads until some text has come, and returns what has.
func (c *phone) await(text string) []byte {
	c.t.Helper()
	var got []byte
	for !bytes.Contains(got, []byte(text)) {
		var b [4096]byte
		n, err := syscall.Read(c.fd, b[:])
		if err == syscall.EINTR {
			continue
		}
		if n <= 0 {
			c.t.Fatalf("waiting for %s: %v after %q", text, err, got)
		}
		got = append(got, b[:n]...)
		c.read += n
	}
	return got
}

// drain reads what has come.
func (c *phone) drain() {
	var b [16384]byte
	for {
		if n, _, err := syscall.Recvfrom(c.fd, b[:], syscall.MSG_DONTWAIT); n <= 0 || err != nil {
			return
		}
	}
}

// settle drains the phones until nothing more is under way.
func settle(phones []*phone) {
	for range 5 {
		for _, c := range phones {
			c.drain()
		}
		time.Sleep(100 * time.Millisecond)
	}
}
