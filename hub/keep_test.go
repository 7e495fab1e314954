package hub_test

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
)

// asHost sends a request with a key, and returns the status and the body.
func (p *place) asHost(method, path, key string) (int, []byte) {
	p.Helper()
	r, err := http.NewRequestWithContext(p.ctx, method, p.url+path, nil)
	if err != nil {
		p.Fatal(err)
	}
	r.Header.Set("Authorization", "Bearer "+key)
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		p.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		p.Fatal(err)
	}
	return resp.StatusCode, body
}

func (p *place) codes() string {
	p.Helper()
	games, err := p.store.Games(p.ctx)
	if err != nil {
		p.Fatal(err)
	}
	var codes []string
	for _, g := range games {
		codes = append(codes, g.ID)
	}
	return strings.Join(codes, " ")
}

const month = 30 * 24 * time.Hour

func TestOldGamesAreForgotten(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, wrens := p.host(), p.join("Wrens")
	now := time.Now()
	p.hub.Purge(month, now.Add(2*month))
	if p.codes() != p.code {
		t.Fatal("a game that is looked at was forgotten")
	}
	lobby, err := p.hub.CreateGame(p.ctx)
	if err != nil {
		t.Fatal(err)
	}
	p.hub.Purge(month, now.Add(month-time.Hour))
	if !strings.Contains(p.codes(), lobby) {
		t.Fatal("a lobby was forgotten before its time")
	}
	p.hub.Purge(month, now.Add(month+time.Hour))
	if p.codes() != p.code {
		t.Errorf("an abandoned lobby is still there: %s", p.codes())
	}
	host.act("end")
	host.conn.Drop()
	wrens.conn.Drop()
	p.Eventually("nobody looks at the ended game", func() bool {
		p.hub.Purge(1, time.Now().Add(time.Second)) // kept till its end
		return p.codes() == ""
	})
	p.hub.Purge(0, now.Add(100*month)) // for ever
	if len(p.hub.Unfinished()) != 0 {
		t.Errorf("the hub still runs %v", p.hub.Unfinished())
	}
}

// Eventually waits till something holds.
func (p *place) Eventually(what string, holds func() bool) {
	p.Helper()
	for !holds() {
		select {
		case <-p.ctx.Done():
			p.Fatalf("waited in vain until %s", what)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func TestErase(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, wrens := p.host(), p.join("Wrens")
	other, err := p.hub.CreateGame(p.ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"", "wrong"} {
		if status, _ := p.asHost("DELETE", "/games/"+p.code, key); status != http.StatusForbidden {
			t.Errorf("with the key %q: %d", key, status)
		}
	}
	if status, _ := p.asHost("DELETE", "/games/no-such-00", hostKey); status != http.StatusNotFound {
		t.Errorf("an unknown game: %d", status)
	}
	var list []struct{ Code, Written string }
	if status, body := p.asHost("GET", "/games", hostKey); status != http.StatusOK || json.Unmarshal(body, &list) != nil || len(list) != 2 || list[0].Written == "" {
		t.Errorf("the list: %d %s", status, body)
	}
	if status, body := p.asHost("DELETE", "/games/"+p.code, hostKey); status != http.StatusNoContent {
		t.Fatalf("erasing: %d %s", status, body)
	}
	wrens.closed(4100)
	host.closed(4100)
	if p.codes() != other {
		t.Errorf("stored: %s, want %s", p.codes(), other)
	}
	p.dial(map[string]any{"type": "board"}).closed(4100)
	photo := store.Photo{PhotoInfo: store.PhotoInfo{ID: "p", Species: "Lontra canadensis", Subject: "skull"}, JPEG: []byte("x")}
	if err := p.store.PutPhoto(p.ctx, photo); err != nil {
		t.Fatal(err)
	}
	p.hub.SeePhotos()
	if status, body := p.asHost("DELETE", "/games", hostKey); status != http.StatusNoContent {
		t.Fatalf("erasing all: %d %s", status, body)
	}
	if photos, err := p.store.Photos(p.ctx); p.codes() != "" || err != nil || len(photos) > 0 {
		t.Errorf("still stored: %s, photos %v, %v", p.codes(), photos, err)
	}
}

// A nickname of a finished game goes from the screens, the debrief and the file.
func TestANicknameIsForgotten(t *testing.T) {
	t.Parallel()
	const nickname = "Zanzibar Quokkas"
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	host, board := p.host(), p.dial(map[string]any{"type": "board"})
	p.join(nickname)
	p.join("Otters")
	address := "/games/" + p.code + "/teams/t1/name"
	if status, body := p.asHost("DELETE", address, hostKey); status != http.StatusConflict {
		t.Errorf("while the team plays: %d %s", status, body)
	}
	host.act("rename", "team", "t2", "name", "River Otters")
	host.act("end")
	board.phase("ended")
	forgotten := func(team string) {
		t.Helper()
		if status, body := p.asHost("DELETE", "/games/"+p.code+"/teams/"+team+"/name", hostKey); status != http.StatusNoContent {
			t.Fatalf("forgetting %s: %d %s", team, status, body)
		}
	}
	forgotten("t1")
	board.until("the ranking without it", func(f bot.Frame) bool {
		return f.Type == "state" && strings.Contains(string(f.Raw), "removed team") && !strings.Contains(string(f.Raw), nickname)
	})
	if status, body := p.asHost("GET", "/debrief.json?game="+p.code, hostKey); status != http.StatusOK || bytes.Contains(body, []byte(nickname)) || !bytes.Contains(body, []byte("River Otters")) {
		t.Errorf("the debrief: %d %s", status, body)
	}
	if data, err := os.ReadFile(file); err != nil || bytes.Contains(data, []byte(nickname)) {
		t.Errorf("the nickname is in the file yet, or %v", err)
	}
	p.stop()
	code := p.code
	p = open(t, file) // where the game has no table any more
	p.code = code
	forgotten("t2")
	if data, err := os.ReadFile(file); err != nil || bytes.Contains(data, []byte("Otters")) {
		t.Errorf("a name, present or former, is in the file yet, or %v", err)
	}
}

func TestTheHostKeyIsChanged(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	if status, _ := p.asHost("POST", "/key", "a guess"); status != http.StatusForbidden {
		t.Errorf("with a wrong key: %d", status)
	}
	var changed struct{ Key string }
	if status, body := p.asHost("POST", "/key", hostKey); status != http.StatusOK || json.Unmarshal(body, &changed) != nil || len(changed.Key) < 20 {
		t.Fatalf("%d %s", status, body)
	}
	host.closed(4104)
	p.dial(map[string]any{"type": "host", "key": hostKey}).closed(4104)
	if status, _ := p.asHost("GET", "/games", hostKey); status != http.StatusForbidden {
		t.Errorf("the old key still opens: %d", status)
	}
	p.dial(map[string]any{"type": "host", "key": changed.Key}).until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
}

func TestBackupOfARunningHub(t *testing.T) {
	t.Parallel()
	p := open(t, filepath.Join(t.TempDir(), "games.db"))
	p.host()
	p.join("Wrens")
	if status, _ := p.asHost("GET", "/backup", "a guess"); status != http.StatusForbidden {
		t.Errorf("with a wrong key: %d", status)
	}
	status, body := p.asHost("GET", "/backup", hostKey)
	copied := filepath.Join(t.TempDir(), "copy.db")
	found, err := bolt.Restore(t.Context(), bytes.NewReader(body), copied)
	if status != http.StatusOK || err != nil || found.Games != 1 || found.Events < 2 {
		t.Fatalf("%d, %+v, %v", status, found, err)
	}
	again := open(t, copied)
	if again.code != p.code {
		t.Errorf("the copy has game %s, not %s", again.code, p.code)
	}
}

// The hub keeps a question open for the team with extra time alone, and tells
// nobody else of it.
func TestExtraTimeOnTheWire(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, slow, quick := p.host(), p.join("Wrens"), p.join("Otters")
	host.act("extend", "team", "t1", "extra", 100)
	if f := slow.until("its extra time", func(f bot.Frame) bool { return f.Type == "you" && f.Extra == 100 }); f.Team != "t1" {
		t.Errorf("%s", f.Raw)
	}
	if f := quick.do(map[string]any{"type": "do", "action": "extend", "team": "t2", "extra": 100}); f.Code != "not_host" {
		t.Errorf("a team gives itself time: %s", f.Raw)
	}
	short := round("open", 1)
	short["seconds"] = 5
	host.act("plan", "plan", plan(short))
	host.act("next")
	shown := host.phase("asking")
	p.age(5200 * time.Millisecond)
	if f := quick.do(map[string]any{"type": "answer", "question": shown.Question.ID, "option": shown.Host.Key}); f.Code != "too_late" {
		t.Errorf("the quick team after its time: %s", f.Raw)
	}
	if f := slow.do(map[string]any{"type": "answer", "question": shown.Question.ID, "option": shown.Host.Key}); f.Type != "done" {
		t.Errorf("the slow team in its time: %s", f.Raw)
	}
	host.phase("revealed")
	for _, f := range quick.log {
		if strings.Contains(string(f.Raw), `"extra"`) {
			t.Errorf("another team is told: %s", f.Raw)
		}
	}
}
