//go:build linux

package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"net"
	"os"
	"syscall"
	"time"
)

// conn is one client of the server: a phone or a console.
type conn struct {
	fd      int
	game    int
	console bool
	part    []byte // the beginning of a frame that has not come whole
	skip    int    // bytes still to come of a frame too big to look at
	counted int    // the last wait that has counted it
	asked   string // soak: the question it has seen last
}

// crowd is all clients of a server, on one epoll. It belongs to one goroutine.
type crowd struct {
	epoll  int
	conns  map[int32]*conn
	events []syscall.EpollEvent
	buffer []byte
	each   func(*conn, []byte) // gets every text frame short enough to look at

	waits        int
	frames       int   // to phones
	phoneBytes   int64 // likewise
	consoleBytes int64 // to consoles
	drops        int   // connections that the server has ended
	lastDrop     string
	refusal      string // the last that a console has got
}

// Opcodes of RFC 6455.
const (
	opText  = 1
	opClose = 8
	opPing  = 9
	opPong  = 10
)

// biggest is how much of a frame is assembled; only consoles get longer ones.
const biggest = 16 << 10

func newCrowd() (*crowd, error) {
	epoll, err := syscall.EpollCreate1(syscall.EPOLL_CLOEXEC)
	if err != nil {
		return nil, os.NewSyscallError("epoll_create1", err)
	}
	return &crowd{epoll: epoll, conns: map[int32]*conn{}, events: make([]syscall.EpollEvent, 256), buffer: make([]byte, 64<<10)}, nil
}

func (c *crowd) close() {
	for _, k := range c.conns {
		syscall.Close(k.fd)
	}
	syscall.Close(c.epoll)
}

// dial opens a socket and shakes hands, for the time being blocking. A stalled
// one gets the smallest buffer and segments there are, so that the server's
// buffers for it are small as well.
func dial(address, code, as string, stalled bool) (int, error) {
	fd, err := syscall.Socket(syscall.AF_INET, syscall.SOCK_STREAM|syscall.SOCK_CLOEXEC, 0)
	if err != nil {
		return 0, os.NewSyscallError("socket", err)
	}
	if stalled {
		syscall.SetsockoptInt(fd, syscall.SOL_SOCKET, syscall.SO_RCVBUF, 1)
		syscall.SetsockoptInt(fd, syscall.IPPROTO_TCP, syscall.TCP_MAXSEG, 88)
	}
	syscall.SetsockoptInt(fd, syscall.IPPROTO_TCP, syscall.TCP_NODELAY, 1)
	if err := connect(fd, address); err != nil {
		syscall.Close(fd)
		return 0, err
	}
	if err := shake(fd, address, code, as); err != nil {
		syscall.Close(fd)
		return 0, err
	}
	return fd, nil
}

func connect(fd int, address string) error {
	to, err := net.ResolveTCPAddr("tcp4", address)
	if err != nil {
		return err
	}
	return os.NewSyscallError("connect", syscall.Connect(fd, &syscall.SockaddrInet4{Port: to.Port, Addr: [4]byte(to.IP.To4())}))
}

func shake(fd int, address, code, as string) error {
	request := fmt.Sprintf("GET /socket?game=%s&as=%s HTTP/1.1\r\nHost: %s\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n"+
		"Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\nSec-WebSocket-Protocol: fieldsign.v1\r\n\r\n", code, as, address)
	if _, err := syscall.Write(fd, []byte(request)); err != nil {
		return os.NewSyscallError("write", err)
	}
	// Byte by byte, so that nothing of a first frame is taken.
	var answer []byte
	var one [1]byte
	for !bytes.HasSuffix(answer, []byte("\r\n\r\n")) {
		if n, err := syscall.Read(fd, one[:]); n < 1 {
			return fmt.Errorf("the server ended the handshake after %q: %v", answer, err)
		}
		answer = append(answer, one[0])
	}
	if !bytes.Contains(answer, []byte(" 101 ")) {
		return fmt.Errorf("the server refused the handshake: %q", answer)
	}
	return syscall.SetNonblock(fd, true)
}

// add takes a client in.
func (c *crowd) add(k *conn) error {
	c.conns[int32(k.fd)] = k
	return os.NewSyscallError("epoll_ctl", syscall.EpollCtl(c.epoll, syscall.EPOLL_CTL_ADD, k.fd, &syscall.EpollEvent{Events: syscall.EPOLLIN, Fd: int32(k.fd)}))
}

// send writes one frame, masked with zeros, which leaves it as it is.
func (c *crowd) send(k *conn, op byte, payload string) error {
	b := []byte{0x80 | op, 0x80 | byte(len(payload))}
	if len(payload) > 125 {
		b = binary.BigEndian.AppendUint16([]byte{0x80 | op, 0x80 | 126}, uint16(len(payload)))
	}
	b = append(append(b, 0, 0, 0, 0), payload...)
	if n, err := syscall.Write(k.fd, b); err != nil || n < len(b) {
		return fmt.Errorf("a client's frame of %d bytes was written to %d: %v", len(b), n, err)
	}
	return nil
}

// poll waits for what comes, at most so long, and hands on the frames.
func (c *crowd) poll(most time.Duration) error {
	n, err := syscall.EpollWait(c.epoll, c.events, int((most+time.Millisecond-1)/time.Millisecond))
	if err != nil && err != syscall.EINTR {
		return os.NewSyscallError("epoll_wait", err)
	}
	for _, e := range c.events[:max(n, 0)] {
		k := c.conns[e.Fd]
		if k == nil {
			continue
		}
		switch n, err := syscall.Read(k.fd, c.buffer); {
		case err == syscall.EAGAIN || err == syscall.EINTR:
		case n <= 0:
			c.drop(k, fmt.Sprintf("end of stream (%v)", err))
		default:
			c.take(k, c.buffer[:n])
		}
	}
	return nil
}

// drop forgets a client whose connection the server has ended.
func (c *crowd) drop(k *conn, why string) {
	if c.conns[int32(k.fd)] != k {
		return
	}
	c.drops++
	c.lastDrop = why
	delete(c.conns, int32(k.fd))
	syscall.Close(k.fd)
}

// take cuts what has been read into frames.
func (c *crowd) take(k *conn, b []byte) {
	if k.console {
		c.consoleBytes += int64(len(b))
	} else {
		c.phoneBytes += int64(len(b))
	}
	over := min(k.skip, len(b))
	k.skip -= over
	b = b[over:]
	if len(k.part) > 0 {
		k.part = append(k.part, b...)
		b = k.part
	}
	for {
		head, length, ok := header(b)
		if !ok {
			break
		}
		if length > biggest {
			over := min(head+length, len(b))
			k.skip = head + length - over
			b = b[over:]
			continue
		}
		if len(b) < head+length {
			break
		}
		c.frame(k, b[0]&15, b[head:head+length])
		b = b[head+length:]
	}
	k.part = append(k.part[:0], b...)
}

// header reads a frame's header, if all of it is there.
func header(b []byte) (head, length int, ok bool) {
	if len(b) < 2 {
		return 0, 0, false
	}
	switch length = int(b[1] & 127); {
	case length < 126:
		return 2, length, true
	case length == 126 && len(b) >= 4:
		return 4, int(binary.BigEndian.Uint16(b[2:])), true
	case length == 127 && len(b) >= 10:
		return 10, int(binary.BigEndian.Uint64(b[2:])), true
	}
	return 0, 0, false
}

func (c *crowd) frame(k *conn, op byte, payload []byte) {
	switch op {
	case opText:
		if !k.console {
			c.frames++
		} else if bytes.HasPrefix(payload, []byte(`{"type":"refused"`)) {
			c.refusal = string(payload)
		}
		if c.each != nil {
			c.each(k, payload)
		}
	case opPing:
		c.send(k, opPong, string(payload))
	case opClose:
		why := "close without a code"
		if len(payload) >= 2 {
			why = fmt.Sprintf("close %d %s", binary.BigEndian.Uint16(payload), payload[2:])
		}
		c.drop(k, why)
	}
}

// lateError says that some did not get what they were to get.
type lateError struct {
	missing int
	limit   time.Duration
}

func (e lateError) Error() string {
	return fmt.Sprintf("%d clients did not get the frame within %v", e.missing, e.limit)
}

// wait takes what comes until so many clients have got a frame that matches,
// each counted once, and returns when the last of them did.
func (c *crowd) wait(want int, limit time.Duration, match func(*conn, []byte) bool) (last time.Time, err error) {
	c.waits++
	c.each = func(k *conn, frame []byte) {
		if k.counted == c.waits || !match(k, frame) {
			return
		}
		k.counted = c.waits
		if want--; want == 0 {
			last = time.Now()
		}
	}
	defer func() { c.each = nil }()
	drops := c.drops
	for until := time.Now().Add(limit); want > 0; {
		left := time.Until(until)
		switch {
		case c.refusal != "":
			return last, fmt.Errorf("the server refused a console's frame: %s", c.refusal)
		case left <= 0:
			return last, lateError{want, limit}
		}
		if err := c.poll(left); err != nil {
			return last, err
		}
		if c.drops > drops {
			return last, fmt.Errorf("the server ended a client's connection: %s", c.lastDrop)
		}
	}
	return last, nil
}

// idle takes what comes until a time.
func (c *crowd) idle(until time.Time) error {
	for left := time.Until(until); left > 0; left = time.Until(until) {
		if err := c.poll(left); err != nil {
			return err
		}
	}
	return nil
}
