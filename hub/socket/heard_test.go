package socket

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// ears hears all, and minds nothing.
type ears struct{ gone chan struct{} }

func (e ears) Hear(h Heard) bool {
	if h.Gone {
		close(e.gone)
	}
	return true
}

// A pong alone counts as being heard of, though nobody is told of one that nobody
// has asked for by its stamp.
func TestAPongIsHeard(t *testing.T) {
	t.Parallel()
	var open sync.WaitGroup
	var now atomic.Int64
	board := New(Config{Clock: func() time.Duration { return time.Duration(now.Load()) }, Subprotocol: "test", Open: &open, Pieces: 10})
	open.Go(board.Run)
	conns := make(chan *Conn, 1)
	listener := ears{make(chan struct{})}
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		open.Add(1)
		if c, ok := board.Upgrade(w, r); ok {
			c.Listen(listener)
			conns <- c
		}
	}))
	defer site.Close()
	far, _, err := (&websocket.Dialer{Subprotocols: []string{"test"}}).Dial("ws"+strings.TrimPrefix(site.URL, "http"), nil)
	if err != nil {
		t.Fatal(err)
	}
	c := <-conns
	now.Store(int64(time.Minute))
	if err := far.WriteControl(websocket.PongMessage, nil, time.Now().Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	for range 60_000 { // a minute at most
		if c.LastHeard() == time.Minute {
			break
		}
		time.Sleep(time.Millisecond)
	}
	if got := c.LastHeard(); got != time.Minute {
		t.Errorf("after a pong it was heard of at %v", got)
	}
	far.Close()
	<-listener.gone
	board.Close()
	open.Wait()
}
