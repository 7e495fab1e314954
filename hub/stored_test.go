package hub_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fieldsign/game"
	"fieldsign/hub"
	"fieldsign/hub/bot"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/questions/catalogue"
)

// Logs with right checksums that no game or tournament of this version ever
// was: each would take the rules down.
var unfitLogs = map[string][]string{
	"bad-log-11":            {`{"type":"created","code":"bad-log-11","plan":{"rounds":[]}}`, `{"type":"opened","number":99}`},
	"bad-log-22":            {`{"type":"created","code":"bad-log-22","plan":{"rounds":[]}}`, `{"type":"answered","team":"t7"}`},
	"bad-log-33":            {`{"type":"created","code":"bad-log-33"}`},
	"bad-log-44":            {`{"type":["created"]}`},
	"bad-log-55":            {`{"type":"created","code":"bad-log-55","plan":{"rounds":[]}}`, `{"type":"undone"}`},
	"Tournament bad-cup-66": {`{"type":"created","code":"bad-cup-66","settings":{"format":"single elimination"}}`, `{"type":"recorded","match":9,"result":{}}`},
}

func storeUnfit(t *testing.T, s store.Store) {
	t.Helper()
	for id, lines := range unfitLogs {
		b := store.Batch{Game: id}
		for i, line := range lines {
			b.Records = append(b.Records, store.Record{Seq: uint64(i + 1), Data: []byte(strings.Replace(line, "{", fmt.Sprintf(`{"seq":%d,`, i+1), 1))})
		}
		if err := s.Append(t.Context(), b); err != nil {
			t.Fatal(err)
		}
	}
}

// heldLog is a log that several goroutines write.
type heldLog struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *heldLog) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *heldLog) count(text string) int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return strings.Count(l.b.String(), text)
}

// Games whose logs don't fit are set aside with a message, and all others play.
func TestGamesThatDoNotFitAreSetAside(t *testing.T) {
	t.Parallel()
	s, err := bolt.Open(filepath.Join(t.TempDir(), "games.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	before := openOn(t, s)
	phone := before.join("Wrens")
	token := phone.log[len(phone.log)-1].Token
	before.stop()
	storeUnfit(t, s)
	log := &heldLog{}
	p := openWith(t, hub.Config{Store: s, Catalogue: catalogue.Builtin(), HostKey: hostKey, Roster: "furbearers", Address: "http://test.example", Log: slog.New(slog.NewTextHandler(log, nil))})
	defer p.stop()
	if p.code != before.code {
		t.Fatalf("the hub goes on with %q, not with %q", p.code, before.code)
	}
	p.dial(map[string]any{"type": "resume", "token": token}).until("its seat", func(f bot.Frame) bool { return f.Type == "welcome" })
	p.expectAside(t)
	if n := log.count("is set aside"); n != len(unfitLogs)-1 { // a tournament is told of when it is asked for
		t.Errorf("the log tells of %d games: %s", n, log.b.String())
	}
	found, err := retention.Unfit(t.Context(), s)
	if err != nil || len(found) != len(unfitLogs) {
		t.Errorf("unfit are %v, %v", found, err)
	}
	for _, err := range found {
		if !errors.Is(err, game.ErrMisfit) {
			t.Error(err)
		}
	}
	if status, _ := p.ask("DELETE", "/games/bad-log-11", hostKey, ""); status != http.StatusNoContent {
		t.Errorf("erasing one: %d", status)
	}
	if status, _ := p.ask("DELETE", "/tournaments/bad-cup-66", hostKey, ""); status != http.StatusNoContent {
		t.Errorf("erasing a tournament: %d", status)
	}
	if status, _ := p.get("/find?code=bad-log-11"); status != http.StatusNotFound {
		t.Errorf("one that was erased: %d", status)
	}
}

// expectAside asks for the unfit logs, each more than once.
func (p *place) expectAside(t *testing.T) {
	t.Helper()
	for id := range unfitLogs {
		path := "/find?code=" + id
		if code, ok := strings.CutPrefix(id, "Tournament "); ok {
			path = "/tournaments/" + code
		}
		for range 2 {
			var said struct{ Code string }
			status, body := p.get(path)
			if err := json.Unmarshal([]byte(body), &said); status != http.StatusInternalServerError || said.Code != "set_aside" {
				t.Errorf("%s: %d %s, %v", path, status, body, err)
			}
		}
		if path[1] == 'f' {
			conn, err := bot.Dial(p.ctx, p.url, id)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := conn.Receive(p.ctx); bot.CloseCode(err) != 4100 {
				t.Errorf("a socket for %s: %v", id, err)
			}
			if status, body := p.ask("GET", "/debrief.json?game="+id, hostKey, ""); status != http.StatusInternalServerError || !strings.Contains(body, "set_aside") {
				t.Errorf("the debrief of %s: %d %s", id, status, body)
			}
		}
	}
	if status, body := p.ask("GET", "/tournaments", hostKey, ""); status != http.StatusOK {
		t.Errorf("the tournaments: %d %s", status, body)
	}
}
