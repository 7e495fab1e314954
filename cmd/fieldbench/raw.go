//go:build linux

package main

import (
	"bufio"
	"bytes"
	"net"
	"net/http"
)

// serveRaw is the floor: TCP connections, one goroutine that reads each, and a
// frame's bytes written to them in turn. It answers the upgrade so that the
// phones take it for a WebSocket server, and looks into frames without
// decoding them: the phones mask with zeros.
func serveRaw(l net.Listener, games int, _ string) ([]string, error) {
	p := newPeer(games, func(_ int, to []*net.TCPConn, frame []byte) {
		b := textFrame(frame)
		for _, c := range to {
			c.Write(b)
		}
	})
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				fail(err)
			}
			go serveRawPhone(p, c.(*net.TCPConn))
		}
	}()
	return numbers(games), nil
}

func serveRawPhone(p *peer[net.TCPConn], c *net.TCPConn) {
	r, err := shakeHands(c)
	if err != nil {
		return
	}
	buffer := make([]byte, 256)
	p.listen(r, c, func() ([]byte, error) {
		n, err := c.Read(buffer)
		return bytes.Clone(buffer[:n]), err
	})
}

// shakeHands lets go of its buffer when it returns.
func shakeHands(c *net.TCPConn) (*http.Request, error) {
	r, err := http.ReadRequest(bufio.NewReaderSize(c, 1024))
	if err != nil {
		return nil, err
	}
	_, err = c.Write([]byte("HTTP/1.1 101 Switching Protocols\r\n\r\n"))
	// Only the address is kept: the rest would count as the phone's bytes.
	return &http.Request{URL: r.URL}, err
}

// textFrame is a server's frame around at most 64 kB.
func textFrame(payload []byte) []byte {
	if len(payload) < 126 {
		return append([]byte{0x81, byte(len(payload))}, payload...)
	}
	return append([]byte{0x81, 126, byte(len(payload) >> 8), byte(len(payload))}, payload...)
}
