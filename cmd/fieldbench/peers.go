//go:build linux

package main

import (
	"bytes"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"sync"

	"github.com/gorilla/websocket"
)

// The peer does what the hub's phones see of it and no more: one goroutine for
// each game, which sends a frame of fixed size to the game's phones when a
// console or a phone asks for it.

// frameSize is about that of a question that the hub shows to phones.
const frameSize = 600

// news is what reaches a peer's game: a phone that has come, or a frame.
type news[C any] struct {
	phone *C
	frame []byte
}

type peer[C any] struct{ games []chan news[C] }

// newPeer starts the games' goroutines; they end with the process.
func newPeer[C any](games int, broadcast func(game int, to []*C, frame []byte)) *peer[C] {
	p := &peer[C]{}
	for g := range games {
		inbox := make(chan news[C], 64)
		p.games = append(p.games, inbox)
		go func() {
			var phones []*C
			number := 0
			for n := range inbox {
				if n.phone != nil {
					phones = append(phones, n.phone)
					continue
				}
				if reply := replyTo(n.frame, &number); reply != nil {
					broadcast(g, phones, reply)
				}
			}
		}()
	}
	return p
}

// replyTo is what everyone is sent upon a frame, or nil.
func replyTo(frame []byte, number *int) []byte {
	phase := ""
	switch {
	case bytes.Contains(frame, []byte(`"next"`)):
		*number++
		phase = asking
	case bytes.Contains(frame, []byte(`"skip"`)):
		phase = revealed
	case bytes.Contains(frame, []byte(`"buzz"`)):
		phase = buzzed
	default:
		return nil
	}
	b := fmt.Appendf(make([]byte, 0, frameSize), `{"type":"state","phase":%q,"question":{"id":"q%d"},"prompt":"`, phase, *number)
	return append(append(b, bytes.Repeat([]byte("x"), frameSize-len(b)-2)...), `"}`...)
}

// enter seats a phone; a console is none. read is called by the connection's
// own goroutine until it fails.
func (p *peer[C]) enter(r *http.Request, c *C) (game chan news[C]) {
	g, _ := strconv.Atoi(r.URL.Query().Get("game"))
	if r.URL.Query().Get("as") == "phone" {
		p.games[g] <- news[C]{phone: c}
	}
	return p.games[g]
}

func (p *peer[C]) listen(r *http.Request, c *C, read func() ([]byte, error)) {
	game := p.enter(r, c)
	for {
		frame, err := read()
		if err != nil {
			return
		}
		game <- news[C]{frame: frame}
	}
}

// serveHTTP serves the handler and names the games by their numbers.
func serveHTTP(l net.Listener, games int, h http.HandlerFunc) ([]string, error) {
	go http.Serve(l, h)
	return numbers(games), nil
}

func numbers(n int) []string {
	var names []string
	for i := range n {
		names = append(names, strconv.Itoa(i))
	}
	return names
}

func serveGorillaDirect(l net.Listener, games int, _ string) ([]string, error) {
	p := newPeer(games, func(_ int, to []*websocket.Conn, frame []byte) {
		m, _ := websocket.NewPreparedMessage(websocket.TextMessage, frame)
		for _, conn := range to {
			conn.WritePreparedMessage(m)
		}
	})
	upgrader := websocket.Upgrader{ReadBufferSize: 256, WriteBufferSize: 1024, WriteBufferPool: &sync.Pool{}}
	return serveHTTP(l, games, func(w http.ResponseWriter, r *http.Request) {
		conn, err := upgrader.Upgrade(w, r, nil)
		if err != nil {
			return
		}
		// The handler returns, and with it the server lets go of its buffers.
		go p.listen(r, conn, func() ([]byte, error) { _, b, err := conn.ReadMessage(); return b, err })
	})
}
