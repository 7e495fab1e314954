//go:build linux

package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
	"time"
)

// hostileVariable has the program started again be the hostile clients: it
// names the server's address and the game's code.
const hostileVariable = "FIELDBENCH_HOSTILE"

// hostileClients are so many of each trick in turn.
const hostileClients = 50

// What a hostile client does between two of its deeds, and for how long at most
// on one connection. A phone on a school's network gets no more through.
const (
	floodPause = 10 * time.Millisecond // between bursts of floodBurst frames
	floodBurst = 10
	stormPause = 50 * time.Millisecond // between connections
	halfPause  = time.Second
)

// tricks are what a connection is misused for. Each returns when it has ended.
var tricks = []func(h *hostile) error{(*hostile).flood, (*hostile).stall, (*hostile).halves, (*hostile).storm}

// hostile is a client that means no good. It belongs to one goroutine.
type hostile struct {
	number        int
	address, code string
	fd            int
	buffer        [4096]byte
}

// serveAsHostile plays tricks until its standard input ends.
func serveAsHostile(target string) {
	address, code, _ := strings.Cut(target, " ")
	for n := range hostileClients {
		h := &hostile{number: n, address: address, code: code}
		go h.run(tricks[n%len(tricks)])
	}
	io.Copy(io.Discard, os.Stdin)
}

func (h *hostile) run(trick func(*hostile) error) {
	for {
		if err := trick(h); err != nil {
			time.Sleep(stormPause)
		}
		syscall.Close(h.fd)
	}
}

// enter connects as a team, the same one each time.
func (h *hostile) enter(stalled bool) (err error) {
	h.fd = -1
	fd, err := dial(h.address, h.code, "phone", stalled)
	if err != nil {
		return err
	}
	h.fd = fd
	return h.write(masked(fmt.Sprintf(`{"type":"join","id":"j","name":"Hostile %d","token":"%032x"}`, h.number, h.number+1)))
}

// masked is a text frame that is masked with zeros.
func masked(payload string) []byte {
	b := textFrame([]byte(payload))
	head := len(b) - len(payload)
	b[1] |= 0x80
	return append(append(b[:head:head], 0, 0, 0, 0), payload...)
}

// write is tried once, and reads what has come.
func (h *hostile) write(b []byte) error {
	if n, err := syscall.Read(h.fd, h.buffer[:]); n == 0 && err == nil {
		return io.EOF
	}
	if _, err := syscall.Write(h.fd, b); err != nil && !errors.Is(err, syscall.EAGAIN) {
		return err
	}
	return nil
}

// flood sends far more than the pace allows, good frames and bad.
func (h *hostile) flood() error {
	var burst []byte
	for i := range floodBurst {
		burst = append(burst, masked([]string{`{"type":"clock","t1":1}`, `{"type":"buzz","id":"b","question":"q"}`, `{"type":`, `{"type":"do","action":"end","id":"x"}`}[i%4])...)
	}
	for err := h.enter(false); ; err = h.write(burst) {
		if err != nil {
			return err
		}
		time.Sleep(floodPause)
	}
}

// stall never reads.
func (h *hostile) stall() error {
	for err := h.enter(true); ; _, err = syscall.Write(h.fd, masked(`{"type":"clock","t1":1}`)) {
		if err != nil {
			return err
		}
		time.Sleep(time.Second)
	}
}

// halves leaves frames, messages and handshakes unended.
func (h *hostile) halves() error {
	frame := masked(`{"type":"clock","t1":1}`)
	for _, part := range [][]byte{frame[:len(frame)/2], append([]byte{0x01}, frame[1:]...)} { // half a frame; a message's first part
		if err := h.enter(false); err != nil {
			return err
		}
		err := h.write(part)
		time.Sleep(halfPause)
		if err != nil {
			return err
		}
		syscall.Close(h.fd)
	}
	fd, err := syscall.Socket(syscall.AF_INET, syscall.SOCK_STREAM|syscall.SOCK_CLOEXEC, 0)
	if h.fd = fd; err == nil {
		err = connect(fd, h.address)
	}
	if err == nil {
		_, err = syscall.Write(fd, []byte("GET /socket?game="+h.code+" HTTP/1.1\r\nHo"))
		time.Sleep(halfPause)
	}
	return err
}

// storm comes and goes.
func (h *hostile) storm() error {
	err := h.enter(false)
	time.Sleep(stormPause)
	return err
}
