package socket

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/gorilla/websocket"
)

// The frames that are put together here are those that the library reads.
func TestFramedIsRead(t *testing.T) {
	t.Parallel()
	lengths := []int{0, 1, 125, 126, 127, 0xffff, 0x10000, 100_000}
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		conn, err := (&websocket.Upgrader{}).Upgrade(w, r, nil)
		if err != nil {
			t.Error(err)
			return
		}
		defer conn.Close()
		for _, n := range lengths {
			conn.NetConn().Write(AppendFrame(Framed(websocket.PingMessage, []byte("hum")), websocket.TextMessage, bytes.Repeat([]byte{'x'}, n)))
		}
	}))
	defer site.Close()
	conn, _, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(site.URL, "http"), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	pings := 0
	conn.SetPingHandler(func(string) error { pings++; return nil })
	for _, n := range lengths {
		kind, got, err := conn.ReadMessage()
		if err != nil || kind != websocket.TextMessage || len(got) != n {
			t.Fatalf("a frame of %d bytes came as kind %d with %d: %v", n, kind, len(got), err)
		}
	}
	if _, _, err := conn.NextReader(); err == nil || pings != len(lengths) {
		t.Errorf("after the last frame: %v, %d pings", err, pings)
	}
}

// Nothing follows a close, whoever has said it.
func TestNothingFollowsAClose(t *testing.T) {
	t.Parallel()
	o, far := boxes(t, true)
	goodbye := Framed(websocket.CloseMessage, websocket.FormatCloseMessage(1000, ""))
	o.Write(Framed(websocket.TextMessage, []byte("one")))
	o.Write(goodbye)
	if _, err := o.Write(Framed(websocket.TextMessage, []byte("two"))); err == nil {
		t.Error("a frame was taken after a close")
	}
	o.finish()
	if got, err := io.ReadAll(far); err != nil || !bytes.HasSuffix(got, goodbye) {
		t.Errorf("came: %q, %v", got, err)
	}
}
