//go:build linux

package main

import (
	"bytes"
	"context"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/centrifugal/centrifuge"
	coder "github.com/coder/websocket"
	"github.com/gorilla/websocket"
	"github.com/lxzan/gws"
)

// The peers do what the hub's phones see of it and no more: one goroutine for
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

// gorillaPhone is a phone of the plain hub: gone once it did not keep up.
type gorillaPhone struct {
	out  chan *websocket.PreparedMessage
	gone bool
}

func (c *gorillaPhone) send(m *websocket.PreparedMessage) {
	if c.gone {
		return
	}
	select {
	case c.out <- m:
	default:
		c.gone = true
		close(c.out)
	}
}

func serveGorilla(l net.Listener, games int, _ string) ([]string, error) {
	p := newPeer(games, func(_ int, to []*gorillaPhone, frame []byte) {
		m, _ := websocket.NewPreparedMessage(websocket.TextMessage, frame) // fails for a bad type only
		for _, c := range to {
			c.send(m)
		}
	})
	var upgrader websocket.Upgrader
	return serveHTTP(l, games, func(w http.ResponseWriter, r *http.Request) {
		conn, err := upgrader.Upgrade(w, r, nil)
		if err != nil {
			return
		}
		c := &gorillaPhone{out: make(chan *websocket.PreparedMessage, 64)}
		go func() {
			defer conn.Close()
			for m := range c.out {
				if conn.WritePreparedMessage(m) != nil {
					return
				}
			}
		}()
		p.listen(r, c, func() ([]byte, error) { _, b, err := conn.ReadMessage(); return b, err })
	})
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

func serveCoder(l net.Listener, games int, _ string) ([]string, error) {
	ctx := context.Background()
	p := newPeer(games, func(_ int, to []*coder.Conn, frame []byte) {
		for _, conn := range to {
			conn.Write(ctx, coder.MessageText, frame)
		}
	})
	return serveHTTP(l, games, func(w http.ResponseWriter, r *http.Request) {
		conn, err := coder.Accept(w, r, nil)
		if err != nil {
			return
		}
		p.listen(r, conn, func() ([]byte, error) { _, b, err := conn.Read(ctx); return b, err })
	})
}

// gwsEvents hands what the library reads to the connection's game.
type gwsEvents struct{ gws.BuiltinEventHandler }

func (gwsEvents) OnMessage(c *gws.Conn, m *gws.Message) {
	defer m.Close()
	game, _ := c.Session().Load("game")
	game.(chan news[gws.Conn]) <- news[gws.Conn]{frame: bytes.Clone(m.Bytes())}
}

func serveGws(l net.Listener, games int, _ string) ([]string, error) {
	p := newPeer(games, func(_ int, to []*gws.Conn, frame []byte) {
		b := gws.NewBroadcaster(gws.OpcodeText, frame)
		defer b.Close()
		for _, conn := range to {
			b.Broadcast(conn)
		}
	})
	upgrader := gws.NewUpgrader(gwsEvents{}, &gws.ServerOption{})
	return serveHTTP(l, games, func(w http.ResponseWriter, r *http.Request) {
		conn, err := upgrader.Upgrade(w, r)
		if err != nil {
			return
		}
		conn.Session().Store("game", p.enter(r, conn))
		go conn.ReadLoop()
	})
}

func serveCentrifuge(l net.Listener, games int, _ string) ([]string, error) {
	node, err := centrifuge.New(centrifuge.Config{})
	if err != nil {
		return nil, err
	}
	p := newPeer(games, func(game int, _ []*centrifuge.Client, frame []byte) {
		if _, err := node.Publish(strconv.Itoa(game), frame); err != nil {
			fail(err)
		}
	})
	node.OnConnecting(func(ctx context.Context, _ centrifuge.ConnectEvent) (centrifuge.ConnectReply, error) {
		who, _ := centrifuge.GetCredentials(ctx)
		if string(who.Info) != "phone" {
			return centrifuge.ConnectReply{}, nil
		}
		return centrifuge.ConnectReply{Subscriptions: map[string]centrifuge.SubscribeOptions{who.UserID: {}}}, nil
	})
	node.OnConnect(func(c *centrifuge.Client) {
		game, _ := strconv.Atoi(c.UserID())
		c.OnMessage(func(e centrifuge.MessageEvent) { p.games[game] <- news[centrifuge.Client]{frame: e.Data} })
	})
	if err := node.Run(); err != nil {
		return nil, err
	}
	// Its pings are frames of their own protocol, and rarer here than a run is long.
	h := centrifuge.NewWebsocketHandler(node, centrifuge.WebsocketConfig{UseWriteBufferPool: true,
		PingPongConfig: centrifuge.PingPongConfig{PingInterval: time.Hour, PongTimeout: time.Minute}})
	return serveHTTP(l, games, func(w http.ResponseWriter, r *http.Request) {
		q := r.URL.Query()
		ctx := centrifuge.SetCredentials(r.Context(), &centrifuge.Credentials{UserID: q.Get("game"), Info: []byte(q.Get("as"))})
		h.ServeHTTP(w, r.WithContext(ctx))
	})
}
