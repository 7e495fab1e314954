package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/coder/websocket"

	"fieldsign/game/tournament"
	"fieldsign/hub/wire"
)

// What a phone might leave behind, each unlike anything else.
const (
	canaryName  = "Zanzibar Quokkas"
	canaryIP    = "127.77.66.55" // Linux takes any address of 127/8 for its own
	canaryAgent = "CanaryBrowser/77.66"
)

// safeBuffer is a log that is read while it is written.
type safeBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// canaryPhone is a client that comes from the canary's address.
func canaryPhone() *http.Client {
	from := &net.Dialer{LocalAddr: &net.TCPAddr{IP: net.ParseIP(canaryIP)}}
	return &http.Client{Transport: bearing{&http.Transport{DialContext: from.DialContext}}}
}

// bearing says in each request which browser it comes from.
type bearing struct{ http.RoundTripper }

func (m bearing) RoundTrip(r *http.Request) (*http.Response, error) {
	r.Header.Set("User-Agent", canaryAgent)
	return m.RoundTripper.RoundTrip(r)
}

// canarySocket opens a socket as the phone's page does, and says who it is.
func canarySocket(t *testing.T, p *program, first map[string]any) *websocket.Conn {
	t.Helper()
	c, _, err := websocket.Dial(t.Context(), p.url()+"/socket?game="+p.code, &websocket.DialOptions{HTTPClient: canaryPhone(), Subprotocols: []string{wire.Subprotocol}})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.CloseNow() })
	canarySend(t, c, first)
	return c
}

func canarySend(t *testing.T, c *websocket.Conn, frame map[string]any) {
	t.Helper()
	data, err := json.Marshal(frame)
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Write(t.Context(), websocket.MessageText, data); err != nil {
		t.Fatal(err)
	}
}

// canaryHears reads until a frame holds a text.
func canaryHears(t *testing.T, c *websocket.Conn, text string) {
	t.Helper()
	for {
		_, data, err := c.Read(t.Context())
		if err != nil {
			t.Fatalf("waiting for %s: %v", text, err)
		}
		if bytes.Contains(data, []byte(text)) {
			return
		}
	}
}

// lay has the phone play a game, and do wrong whatever may be logged.
func lay(t *testing.T, p *program) {
	t.Helper()
	phone := canarySocket(t, p, map[string]any{"type": "join", "name": canaryName})
	canaryHears(t, phone, `"welcome"`)
	canarySocket(t, p, map[string]any{"type": "host", "key": "a guess"})
	canarySocket(t, p, map[string]any{"type": "resume", "token": "nonsense"})
	canarySend(t, phone, map[string]any{"type": "dance"})
	canarySend(t, phone, map[string]any{"type": "do", "id": "x", "action": "end"})
	for _, path := range []string{"/", "/team", "/find?code=no-such-00", "/find?code=" + p.code, "/nowhere", "/games", "/practice.json?roster=few"} {
		resp, err := canaryPhone().Get(p.url() + path)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
	}
	desk := deskOf(t, p)
	desk.act("next", nil)
	canaryHears(t, phone, `"asking"`)
	desk.act("close", nil)
	desk.act("end", nil)
	desk.Close()
	if raw, err := net.Dial("tcp", strings.TrimPrefix(p.url(), "http://")); err == nil { // no HTTP at all
		fmt.Fprintf(raw, "GET / HTTP/1.1\r\nHost: x\r\nBad Header\r\n\r\n")
		io.Copy(io.Discard, raw)
		raw.Close()
	}
}

// wantHits counts a canary in what the hub has written and tells.
func wantHits(t *testing.T, when, canary string, texts map[string]string, want map[string]bool) {
	t.Helper()
	for what, text := range texts {
		if n := strings.Count(text, canary); (n > 0) != want[what] {
			t.Errorf("%s: %q is in the %s %d times", when, canary, what, n)
		}
	}
}

// After a game nothing of a phone is anywhere but what docs/privacy.md says:
// the nickname in the file of games, until it is erased.
func TestCanary(t *testing.T) {
	dir, log := t.TempDir(), &safeBuffer{}
	inside := freePort(t)
	p := startLogged(t, log, filepath.Join(dir, "games.db"), freePort(t), "--roster", fewAnimals(t), "--log", "json", "--debug", fmt.Sprintf("127.0.0.1:%d", inside))
	lay(t, p)
	traces := func() map[string]string {
		texts := map[string]string{"log": log.String(), "metrics": gotten(t, fmt.Sprintf("http://127.0.0.1:%d/metrics", inside)), "file": "", "other files": ""}
		files, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			what := "other files"
			if f.Name() == "games.db" {
				what = "file"
			}
			texts[what] += readFile(t, filepath.Join(dir, f.Name()))
		}
		return texts
	}
	wantHits(t, "after the game", canaryName, traces(), map[string]bool{"file": true})
	wantHits(t, "after the game", canaryIP, traces(), nil)
	wantHits(t, "after the game", canaryAgent, traces(), nil)
	t.Setenv("FIELDSIGN_HOST_KEY", testKey)
	printed(t, "erase", "--hub", p.url(), "--game", p.code)
	for _, canary := range []string{canaryName, canaryIP, canaryAgent} {
		wantHits(t, "after it is erased", canary, traces(), nil)
	}
	wantHits(t, "after it is erased", testKey, traces(), nil) // nor is the host key anywhere
	after := traces()
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	p.cmd.Wait()
	after["log"], after["file"] = log.String(), readFile(t, p.data)
	wantHits(t, "after the stop", canaryName, after, nil)
	if log.String() == "" {
		t.Error("nothing was logged: the test has looked at nothing")
	}
	for line := range strings.Lines(log.String()) {
		var entry struct{ Time, Level, Msg string }
		if err := json.Unmarshal([]byte(line), &entry); err != nil || entry.Time == "" || entry.Level == "" || entry.Msg == "" {
			t.Errorf("no entry of a structured log: %s", line)
		}
	}
}

// A side's nickname is in the games' file alone too, with its tournament and
// its match, whose export doesn't tell it. Once they are erased it is nowhere.
func TestCanaryOfATournament(t *testing.T) {
	t.Parallel()
	dir, log := t.TempDir(), &safeBuffer{}
	p := startLogged(t, log, filepath.Join(dir, "games.db"), freePort(t), "--roster", fewAnimals(t), "--log", "json")
	c := &cupClient{program: p}
	c.cup = c.ask("POST", "/tournaments", map[string]any{"name": "Autumn cup", "settings": tournament.Settings{Format: tournament.Single}}).Code
	c.do("enter", "names", []string{canaryName, "Marsh Wrens"})
	c.do("draw")
	match := *p
	match.code = c.do("start", "match", 1).Games["1"].Code
	lay(t, &match)
	c.do("record", "match", 1, "outcome", "walkover", "winner", 2)
	c.do("finish")
	traces := func() map[string]string {
		return map[string]string{"log": log.String(), "file": readFile(t, p.data)}
	}
	wantHits(t, "after the match", canaryName, traces(), map[string]bool{"file": true})
	p.terminate()
	for _, names := range [][]string{nil, {"--names"}} {
		got := readFile(t, exported(t, append([]string{"--format", "jsonl", "--data", p.data, "--game", match.code}, names...)...))
		if strings.Contains(got, canaryName) != (names != nil) {
			t.Errorf("an export %v:\n%s", names, got)
		}
	}
	refusedWith(t, "no tournament", "erase", "--data", p.data, "--tournament", match.code)
	refusedWith(t, "no game", "erase", "--data", p.data, "--game", "Tournament "+c.cup)
	refusedWith(t, "no game", "export", "--format", "jsonl", "--data", p.data, "--game", "Tournament "+c.cup, "--out", filepath.Join(dir, "x"))
	printed(t, "erase", "--data", p.data, "--game", match.code, "--team", "t1")
	got := readFile(t, exported(t, "--format", "jsonl", "--data", p.data, "--game", match.code, "--names"))
	if strings.Contains(got, canaryName) || !strings.Contains(got, "Marsh Wrens") {
		t.Errorf("an export after the name is erased:\n%s", got)
	}
	printed(t, "erase", "--data", p.data, "--tournament", c.cup)
	wantHits(t, "after all is erased", canaryName, traces(), nil)
	if holds(t, p.data, match.code) {
		t.Error("the match's game is in the file yet")
	}
}

func gotten(t *testing.T, address string) string {
	t.Helper()
	r, err := http.NewRequestWithContext(context.WithoutCancel(t.Context()), "GET", address, nil)
	if err != nil {
		t.Fatal(err)
	}
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}
