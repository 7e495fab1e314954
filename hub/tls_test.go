package hub_test

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"fieldsign/hub/wire"

	"github.com/gorilla/websocket"
)

// Behind TLS no write can be tried, and all go by the backlog, in order.
func TestTLS(t *testing.T) {
	t.Parallel()
	p := begin(t)
	server := httptest.NewTLSServer(p.hub.Handler())
	t.Cleanup(server.Close)
	dialer := websocket.Dialer{TLSClientConfig: server.Client().Transport.(*http.Transport).TLSClientConfig, Subprotocols: []string{wire.Subprotocol}}
	conn, _, err := dialer.Dial(strings.Replace(server.URL, "https", "wss", 1)+"/socket?game="+p.code, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	conn.WriteJSON(map[string]any{"type": "join", "name": "Wrens"})
	for _, want := range []string{`"welcome"`, `"state"`, `"you"`} {
		if _, frame, err := conn.ReadMessage(); err != nil || !bytes.Contains(frame, []byte(want)) {
			t.Fatalf("got %s, %v, want %s", frame, err, want)
		}
	}
	for i := range 30 {
		conn.WriteJSON(map[string]any{"type": "clock", "t1": i + 1})
	}
	for next := 1; next <= 30; {
		var f struct {
			Type string
			T1   int
		}
		if err := conn.ReadJSON(&f); err != nil {
			t.Fatal(err)
		}
		if f.Type == "clock" {
			if f.T1 != next {
				t.Fatalf("clock %d came as number %d", f.T1, next)
			}
			next++
		}
	}
	p.hub.Close()
	for err == nil {
		_, _, err = conn.ReadMessage()
	}
	if !websocket.IsCloseError(err, 4000) {
		t.Errorf("at the end: %v", err)
	}
}
