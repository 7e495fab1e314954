package hub_test

import (
	"net/http"
	"strings"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/wire"
)

// A page of another origin may not open a socket, whatever it calls itself.
func TestOrigins(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := strings.TrimPrefix(p.url, "http://")
	name, port, _ := strings.Cut(host, ":")
	for origin, want := range map[string]int{
		p.url:                                  http.StatusSwitchingProtocols,
		"HTTP://" + host:                       http.StatusSwitchingProtocols,
		"":                                     http.StatusSwitchingProtocols, // no browser: it needs no page to lie
		"null":                                 http.StatusForbidden,
		"http://elsewhere.example":             http.StatusForbidden,
		"http://" + host + ".evil.example":     http.StatusForbidden, // suffix
		"http://evil.example/" + host:          http.StatusForbidden,
		"http://evil.example#" + host:          http.StatusForbidden,
		"http://" + host + "@evil.example":     http.StatusForbidden,
		"http://evil" + host:                   http.StatusForbidden, // prefix
		"http://" + name:                       http.StatusForbidden, // port
		"http://" + name + ":1" + port:         http.StatusForbidden,
		"http://localhost:" + port:             http.StatusForbidden, // the same machine by another name
		"file://":                              http.StatusForbidden,
		"http://%zz":                           http.StatusForbidden,
		"http://elsewhere.example\t" + host:    http.StatusForbidden,
		"chrome-extension://" + "abcdefghijkl": http.StatusForbidden,
	} {
		for _, said := range []string{"", "none"} { // the second is for the upgrade's own check, which goes by Origin alone
			r, _ := http.NewRequest("GET", p.url+"/socket?game="+p.code, nil)
			for k, v := range map[string]string{"Connection": "Upgrade", "Upgrade": "websocket", "Sec-WebSocket-Version": "13", "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==", "Sec-WebSocket-Protocol": wire.Subprotocol} {
				r.Header.Set(k, v)
			}
			if said != "" {
				r.Header.Set("Sec-Fetch-Site", said)
			}
			if origin != "" {
				r.Header.Set("Origin", origin)
			}
			resp, err := http.DefaultClient.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			if resp.Body.Close(); resp.StatusCode != want {
				t.Errorf("origin %q, %q: %s, want %d", origin, said, resp.Status, want)
			}
		}
	}
}

// What each role gets for each type of frame: the type of the first answer that
// is not a state, the code of the refusal, or the close code.
var matrix = []struct {
	frame                   map[string]any
	none, team, board, host string
}{
	{map[string]any{"type": "join", "name": "Otters"}, "welcome team", "bad_frame", "bad_frame", "bad_frame"},
	{map[string]any{"type": "resume", "token": "nonsense"}, "4107", "bad_frame", "bad_frame", "bad_frame"},
	{map[string]any{"type": "board"}, "welcome board", "bad_frame", "bad_frame", "bad_frame"},
	{map[string]any{"type": "host", "key": hostKey}, "welcome host", "bad_frame", "bad_frame", "bad_frame"},
	{map[string]any{"type": "host", "key": "guess"}, "wrong_key", "bad_frame", "bad_frame", "bad_frame"},
	{map[string]any{"type": "clock", "t1": 5}, "clock", "clock", "clock", "clock"},
	{map[string]any{"type": "answer", "question": "q", "option": 0}, "bad_frame", "too_late", "bad_frame", "bad_frame"},
	{map[string]any{"type": "buzz", "question": "q"}, "bad_frame", "too_late", "bad_frame", "bad_frame"},
	{map[string]any{"type": "dance"}, "bad_frame", "bad_frame", "bad_frame", "bad_frame"},
	{map[string]any{}, "bad_frame", "bad_frame", "bad_frame", "bad_frame"},
	{map[string]any{"type": "do", "action": "dance"}, "bad_frame", "not_host", "not_host", "bad_frame"},
	{map[string]any{"type": "do", "action": "plan", "plan": plan(round("open", 1))}, "bad_frame", "not_host", "not_host", "done"},
	{map[string]any{"type": "do", "action": "next"}, "bad_frame", "not_host", "not_host", "done"},
	{map[string]any{"type": "do", "action": "pause"}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "resume"}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "close"}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "skip"}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "rule", "right": true}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "undo"}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "start"}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "extend", "team": "t1", "extra": 25}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "adjust", "seconds": 5}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "correct", "question": "q", "option": 0}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "mark", "question": "q", "option": 0}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "strike", "round": 0, "question": "q"}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "replace", "round": 0, "question": "q"}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "move", "round": 0, "question": "q", "to": 0}, "bad_frame", "not_host", "not_host", "*"},
	{map[string]any{"type": "do", "action": "rename", "team": "t1", "name": "Efts"}, "bad_frame", "not_host", "not_host", "done"},
	{map[string]any{"type": "do", "action": "remove", "team": "t1"}, "bad_frame", "not_host", "not_host", "done"},
	{map[string]any{"type": "do", "action": "end"}, "bad_frame", "not_host", "not_host", "done"},
}

// TestRoles asserts every cell, each in a game of its own. A * is a command of
// the host's that the rules may refuse here, but not for who sent it.
func TestRoles(t *testing.T) {
	t.Parallel()
	p := begin(t)
	enter := map[string]func() *client{
		"none":  func() *client { return p.dial(map[string]any{"type": "clock", "t1": 1}) },
		"team":  func() *client { return p.join("Herons") },
		"board": func() *client { return p.dial(map[string]any{"type": "board"}) },
		"host":  p.host,
	}
	for _, row := range matrix {
		for who, want := range map[string]string{"none": row.none, "team": row.team, "board": row.board, "host": row.host} {
			var err error
			if p.code, err = p.hub.CreateGame(p.ctx); err != nil {
				t.Fatal(err)
			}
			seated := p.join("Wrens") // t1
			c := enter[who]()
			c.until("a start", func(f bot.Frame) bool { return f.Type == "state" || f.Type == "clock" })
			frame := map[string]any{"id": "x"}
			for k, v := range row.frame {
				frame[k] = v
			}
			c.send(frame)
			got := c.outcome()
			if got != want && !(want == "*" && got != "not_host" && got != "bad_frame" && got != "") {
				t.Errorf("%v from %s: %q, want %q", row.frame, who, got, want)
			}
			c.conn.Drop()
			seated.conn.Drop()
		}
	}
}

// outcome is what a client is told next, beside the state.
func (c *client) outcome() string {
	for {
		f, err := c.conn.Receive(c.p.ctx)
		switch {
		case err != nil && bot.CloseCode(err) == 4107:
			return "4107"
		case err != nil:
			return err.Error()
		case f.Type == "refused":
			return f.Code
		case f.Type == "welcome":
			return "welcome " + f.Role
		case f.Type != "state" && f.Type != "you":
			return f.Type
		}
	}
}
