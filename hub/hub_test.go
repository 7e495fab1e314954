package hub_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fieldsign/hub"
	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/hub/store/memory"
	"fieldsign/questions/catalogue"
)

const hostKey = "the-host-key-of-the-tests"

// place is a hub on loopback with one game.
type place struct {
	testing.TB
	ctx   context.Context
	hub   *hub.Hub
	url   string
	code  string
	store store.Store
	stop  func()
	later *atomic.Int64 // by how much the hub's clock has been put forward
}

func open(t testing.TB, file string) *place {
	t.Helper()
	s, err := bolt.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	p := openOn(t, s)
	stop := p.stop
	p.stop = func() { stop(); s.Close() }
	t.Cleanup(p.stop)
	return p
}

// begin is open where nothing has to outlive the hub.
func begin(t testing.TB) *place {
	t.Helper()
	p := openOn(t, memory.New())
	t.Cleanup(p.stop)
	return p
}

// beginStill is begin on a clock that only the test puts forward: however long a
// busy machine takes, nobody falls silent.
func beginStill(t testing.TB) *place {
	t.Helper()
	p := openBy(t, usual(memory.New()), func() time.Duration { return 0 })
	t.Cleanup(p.stop)
	return p
}

func openOn(t testing.TB, s store.Store) *place {
	t.Helper()
	return openWith(t, usual(s))
}

func usual(s store.Store) hub.Config {
	return hub.Config{Store: s, Catalogue: catalogue.Builtin(), HostKey: hostKey, Roster: "furbearers", Address: "http://test.example", Log: slog.New(slog.NewTextHandler(io.Discard, nil))}
}

func openWith(t testing.TB, c hub.Config) *place {
	t.Helper()
	began := time.Now()
	return openBy(t, c, func() time.Duration { return time.Since(began) })
}

func openBy(t testing.TB, c hub.Config, passed func() time.Duration) *place {
	t.Helper()
	later := new(atomic.Int64)
	c.Clock = func() time.Duration { return passed() + time.Duration(later.Load()) }
	h, err := hub.New(c)
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(h.Handler())
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	p := &place{TB: t, ctx: ctx, hub: h, url: server.URL, store: c.Store, later: later}
	t.Cleanup(cancel)
	p.stop = func() { h.Close(); server.Close() }
	if codes := h.Unfinished(); len(codes) > 0 {
		p.code = codes[0]
	} else if p.code, err = h.CreateGame(ctx); err != nil {
		t.Fatal(err)
	}
	return p
}

// age has so much time pass for the game and its connections. Whoever is due then
// has been looked after when it returns: the board that comes is greeted in a turn
// that ends so.
func (p *place) age(by time.Duration) {
	p.Helper()
	p.later.Add(int64(by))
	c := p.dial(map[string]any{"type": "board"})
	c.until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	c.do(map[string]any{"type": "dance"})
	c.conn.Drop()
}

// client is a connection with what it was sent.
type client struct {
	p    *place
	conn *bot.Conn
	log  []bot.Frame
}

var commands atomic.Int64 // their ids are unlike over all clients of a test

func (p *place) dial(first map[string]any) *client {
	p.Helper()
	conn, err := bot.Dial(p.ctx, p.url, p.code)
	if err != nil {
		p.Fatal(err)
	}
	c := &client{p: p, conn: conn}
	c.send(first)
	return c
}

func (p *place) join(name string) *client {
	p.Helper()
	c := p.dial(map[string]any{"type": "join", "name": name})
	c.until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	return c
}

func (p *place) host() *client {
	p.Helper()
	c := p.dial(map[string]any{"type": "host", "key": hostKey, "takeOver": true})
	c.until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	return c
}

func (c *client) send(frame map[string]any) {
	c.p.Helper()
	if err := c.conn.Send(c.p.ctx, frame); err != nil {
		c.p.Fatal(err)
	}
}

// until reads frames up to one that fits, and returns it.
func (c *client) until(what string, fits func(bot.Frame) bool) bot.Frame {
	c.p.Helper()
	for {
		f, err := c.conn.Receive(c.p.ctx)
		if err != nil {
			c.p.Fatalf("waiting for %s: %v", what, err)
		}
		c.log = append(c.log, f)
		if fits(f) {
			return f
		}
	}
}

func (c *client) phase(phase string) bot.Frame {
	c.p.Helper()
	return c.until("phase "+phase, func(f bot.Frame) bool { return f.Type == "state" && f.Phase == phase })
}

// do sends a command and waits for its answer. A refusal of the pace names no
// command: the frame was not read.
func (c *client) do(frame map[string]any) bot.Frame {
	c.p.Helper()
	id := fmt.Sprintf("c%d", commands.Add(1))
	frame["id"] = id
	for {
		c.send(frame)
		f := c.until("an answer", func(f bot.Frame) bool {
			return f.Code == "too_fast" || (f.Type == "done" || f.Type == "refused") && f.ID == id
		})
		if f.Code != "too_fast" {
			return f
		}
		time.Sleep(200 * time.Millisecond)
	}
}

func (c *client) act(action string, more ...any) bot.Frame {
	c.p.Helper()
	frame := map[string]any{"type": "do", "action": action}
	for i := 0; i < len(more); i += 2 {
		frame[more[i].(string)] = more[i+1]
	}
	f := c.do(frame)
	if f.Type != "done" {
		c.p.Fatalf("%s was refused: %s", action, f.Message)
	}
	return f
}

// closed waits for the close code.
func (c *client) closed(want int) {
	c.p.Helper()
	for {
		if _, err := c.conn.Receive(c.p.ctx); err != nil {
			if got := bot.CloseCode(err); got != want {
				c.p.Fatalf("closed with %d, want %d: %v", got, want, err)
			}
			return
		}
	}
}

func round(kind string, count int) map[string]any {
	return map[string]any{"name": "R", "kind": kind, "subjects": []string{"skull"}, "count": count, "seconds": 60, "points": 100, "speed": 0, "penalty": 0}
}

func plan(rounds ...map[string]any) map[string]any {
	return map[string]any{"title": "Test", "roster": "furbearers", "seed": 5, "rounds": rounds}
}

func TestARoundIsPlayedToTheEnd(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, board := p.host(), p.dial(map[string]any{"type": "board"})
	host.act("plan", "plan", plan(round("open", 2), round("buzz", 1)))
	a, b := p.join("Wrens"), p.join("Otters")
	host.act("next")
	for range 2 {
		shown := host.phase("asking")
		q := a.until("the question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == shown.Question.ID })
		b.until("the question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == shown.Question.ID })
		a.do(map[string]any{"type": "answer", "question": q.Question.ID, "option": shown.Host.Key})
		b.do(map[string]any{"type": "answer", "question": q.Question.ID, "option": wrong(shown.Host.Key)})
		if f := host.phase("revealed"); f.Reveal.Key != shown.Host.Key || f.Reveal.Reason == "" {
			t.Fatalf("revealed %+v", f.Reveal)
		}
		host.act("next")
	}
	host.phase("break")
	host.act("next")
	shown := host.phase("asking")
	q := shown.Question.ID
	b.until("the buzz question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == q })
	a.until("the buzz question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == q })
	b.do(map[string]any{"type": "buzz", "question": q})
	if f := a.do(map[string]any{"type": "buzz", "question": q}); f.Code != "beaten" {
		t.Fatalf("the second buzz got %q", f.Code)
	}
	b.do(map[string]any{"type": "answer", "question": q, "option": wrong(shown.Host.Key)})
	if f := b.do(map[string]any{"type": "buzz", "question": q}); f.Code != "locked_out" {
		t.Fatalf("a locked-out team's buzz got %q", f.Code)
	}
	if f := a.do(map[string]any{"type": "buzz", "question": q}); f.Type != "done" {
		t.Fatalf("the rebound was refused: %s", f.Message)
	}
	a.do(map[string]any{"type": "answer", "question": q, "option": shown.Host.Key})
	host.phase("revealed")
	host.act("next")
	end := board.phase("ended")
	if len(end.Leaders) != 2 || end.Leaders[0].Name != "Wrens" || end.Leaders[0].Score != 300 || end.Leaders[1].Score != 0 {
		t.Fatalf("leaderboard %+v", end.Leaders)
	}
	kept, err := p.store.Standings(p.ctx, p.code)
	if err != nil || len(kept) != 2 || kept[0].Score != 300 {
		t.Fatalf("stored standings %+v, %v", kept, err)
	}
	for name, c := range map[string]*client{"phone": a, "board": board} {
		c.noLeak(name)
	}
}

// noLeak: before the reveal nothing that a client was sent tells the key.
func (c *client) noLeak(who string) {
	for _, f := range c.log {
		raw := string(f.Raw)
		if f.Type == "state" && f.Phase != "revealed" && (strings.Contains(raw, `"key"`) || strings.Contains(raw, `"reason"`) || strings.Contains(raw, `"host"`) || strings.Contains(raw, `"picks"`) || strings.Contains(raw, `"about":{`) || strings.Contains(raw, `"traits"`) || strings.Contains(raw, `"lesson"`)) {
			c.p.Errorf("the %s was told before the reveal: %s", who, raw)
		}
	}
}

func TestAPhoneComesBack(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	token := a.log[len(a.log)-1].Token
	host.act("plan", "plan", plan(round("open", 1)))
	host.act("next")
	shown := host.phase("asking")
	p.join("Otters")
	answer := map[string]any{"type": "answer", "id": "same", "question": shown.Question.ID, "option": shown.Host.Key}
	a.send(answer)
	a.conn.Drop()
	back := p.dial(map[string]any{"type": "resume", "token": token})
	back.until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" && f.Team == "t1" })
	back.send(answer) // it can't know whether the first was received
	back.until("done", func(f bot.Frame) bool { return f.Type == "done" && f.ID == "same" })
	host.act("close")
	host.phase("revealed")
	you := back.until("the verdict", func(f bot.Frame) bool { return f.Type == "you" && f.Verdict != "" })
	if you.Verdict != "right" || you.Score != 100 {
		t.Fatalf("after coming back: %+v", you)
	}
	own := strings.Repeat("ab", 16)
	for range 2 { // the answer to the first was lost
		c := p.dial(map[string]any{"type": "join", "name": "Herons", "token": own})
		c.until("the same seat", func(f bot.Frame) bool { return f.Type == "welcome" && f.Team == "t3" && f.Token == own })
		c.conn.Drop()
	}
	second := p.dial(map[string]any{"type": "resume", "token": token})
	second.until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	back.closed(4103)
	p.dial(map[string]any{"type": "resume", "token": "nonsense"}).closed(4107)
}

func TestTheHubComesBack(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	host, a := p.host(), p.join("Wrens")
	token := a.log[len(a.log)-1].Token
	host.act("plan", "plan", plan(round("buzz", 2)))
	host.act("next")
	q := host.phase("asking").Question.ID
	p.join("Otters")
	a.until("the question", func(f bot.Frame) bool { return f.Question != nil })
	a.do(map[string]any{"type": "buzz", "question": q})
	p.stop()
	a.closed(4000)

	p = open(t, file)
	a = p.dial(map[string]any{"type": "resume", "token": token})
	f := a.phase("buzzed")
	if !f.Paused || f.Notice == "" || f.Question.ID != q || f.Buzz.Team != "t1" {
		t.Fatalf("after the restart: %s", f.Raw)
	}
	host = p.host()
	host.act("resume")
	host.act("rule", "right", true)
	if f := host.phase("revealed"); f.Host.Teams[0].Score != 100 {
		t.Fatalf("teams %+v", f.Host.Teams)
	}
}

func TestTypedNames(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a, b := p.host(), p.join("Wrens"), p.join("Otters")
	typed := round("open", 1)
	typed["typed"] = true
	host.act("plan", "plan", plan(typed))
	host.act("next")
	shown := host.phase("asking")
	q := a.phase("asking").Question
	if len(q.Options) != 0 || len(shown.Question.Options) != 1 {
		t.Fatalf("the phone is shown %v, the host %v", q.Options, shown.Question.Options)
	}
	if f := a.do(map[string]any{"type": "answer", "question": q.ID, "text": "griffin"}); f.Code != "unknown_name" {
		t.Errorf("an unknown animal got %q", f.Code)
	}
	name := []rune(shown.Question.Options[0])
	name[len(name)-1], name[len(name)-2] = name[len(name)-2], name[len(name)-1]
	if f := a.do(map[string]any{"type": "answer", "question": q.ID, "text": "the " + strings.ToUpper(string(name))}); f.Type != "done" {
		t.Errorf("with a slip: %s", f.Message)
	}
	if f := b.do(map[string]any{"type": "answer", "question": q.ID, "text": "un zorrillo rayado"}); f.Type != "done" {
		t.Errorf("a Spanish name: %s", f.Message)
	}
	if f := host.phase("revealed"); len(f.Question.Options) != 1 || f.Host.Teams[0].Name != "Wrens" || f.Host.Teams[0].Score != 100 {
		t.Errorf("revealed: %s", f.Raw)
	}
	a.noLeak("phone")
}

// A plate is there while its question is, and tells nobody whose it is.
func TestPlates(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	host.act("plan", "plan", plan(round("open", 40)))
	host.act("next")
	f := host.phase("asking")
	for f.Question.Plate == "" {
		host.act("skip")
		host.act("next")
		f = host.phase("asking")
	}
	shown := a.until("the plate's question", func(g bot.Frame) bool { return g.Question != nil && g.Question.ID == f.Question.ID })
	status, svg := p.get(shown.Question.Plate)
	if status != http.StatusOK || !strings.HasPrefix(svg, "<svg") {
		t.Fatalf("%s: %d %.60s", shown.Question.Plate, status, svg)
	}
	everything := strings.ToLower(svg + string(shown.Raw[:strings.Index(string(shown.Raw), `"options"`)]) + shown.Question.Plate)
	everything = strings.ReplaceAll(everything, p.code, "") // which may be of a bobcat
	for _, s := range catalogue.Builtin().Species {
		for _, name := range []string{s.Name, s.Vernacular} {
			if strings.Contains(everything, strings.ToLower(name)) {
				t.Errorf("the plate's question names %s", name)
			}
		}
	}
	if status, _ := p.get("/plate?game=" + p.code + "&id=" + strings.Repeat("0", 32)); status != http.StatusNotFound {
		t.Errorf("a guessed id got %d", status)
	}
	host.act("skip")
	host.servesUntilTheNextReveal([]string{shown.Question.Plate})
}

func (p *place) get(path string) (int, string) {
	p.Helper()
	r, err := http.Get(p.url + path)
	if err != nil {
		p.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		p.Fatal(err)
	}
	return r.StatusCode, string(body)
}

// fetch asks as browsers do, and leaves the answer as it was sent.
func (p *place) fetch(path string, head ...string) (*http.Response, []byte) {
	p.Helper()
	r, err := http.NewRequestWithContext(p.ctx, "GET", p.url+path, nil)
	if err != nil {
		p.Fatal(err)
	}
	for i := 0; i < len(head); i += 2 {
		r.Header.Set(head[i], head[i+1])
	}
	transport := &http.Transport{DisableCompression: true, DisableKeepAlives: true}
	a, err := transport.RoundTrip(r)
	if err != nil {
		p.Fatal(err)
	}
	defer a.Body.Close()
	body, err := io.ReadAll(a.Body)
	if err != nil {
		p.Fatal(err)
	}
	return a, body
}

func TestTwoConsoles(t *testing.T) {
	t.Parallel()
	p := begin(t)
	first := p.host()
	second := p.dial(map[string]any{"type": "host", "key": hostKey})
	second.until("host_present", func(f bot.Frame) bool { return f.Code == "host_present" })
	second.send(map[string]any{"type": "host", "key": hostKey, "takeOver": true})
	second.until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	first.closed(4103)
	p.dial(map[string]any{"type": "host", "key": "guess"}).closed(4104)
}

func TestBadFrames(t *testing.T) {
	t.Parallel()
	p := begin(t)
	a := p.join("Wrens")
	for raw, code := range map[string]string{
		`{"type":`:          "bad_frame",
		`[]`:                "bad_frame",
		`{"type":5}`:        "bad_frame",
		`{"type":"dance"}`:  "bad_frame",
		`{"type":"answer"}`: "bad_frame", // no id
		`{"type":"answer","id":"x","question":"q","option":1e99}`:                  "bad_frame",
		`{"type":"answer","id":"x1","question":"q","option":1}`:                    "too_late",
		`{"type":"do","id":"x2","action":"next"}`:                                  "not_host",
		`{"type":"buzz","id":"` + strings.Repeat("y", 50) + `"}`:                   "bad_frame",
		`{"type":"buzz","id":"x3","question":"` + strings.Repeat("z", 2000) + `"}`: "bad_frame",
		`{"type":"join","name":"` + strings.Repeat("[", 500) + `","id":"nested"}`:  "bad_frame",
		`{"type":"answer","id":"x4","question":"q","option":"one"}`:                "bad_frame",
	} {
		if err := a.conn.SendRaw(p.ctx, []byte(raw)); err != nil {
			t.Fatal(err)
		}
		f := a.until("a refusal", func(f bot.Frame) bool { return f.Type == "refused" })
		if f.Code != code || f.Message == "" {
			t.Errorf("%.60s: refused with %q %q, want %q", raw, f.Code, f.Message, code)
		}
	}
	a.conn.SendRaw(p.ctx, []byte(`{"type":"`+strings.Repeat("x", 1<<20)+`"}`))
	a.closed(1009)
	if f := p.join("Otters"); f.log[len(f.log)-1].Token == "" {
		t.Error("after all that nobody can join")
	}
}

func TestBadNames(t *testing.T) {
	t.Parallel()
	p := begin(t)
	p.join("Wrens")
	for name, code := range map[string]string{
		strings.Repeat("x", 10_000): "bad_frame", "<b>Wrens</b>": "bad_name", "\u202eWrens": "bad_name", "W\u200bren": "bad_name", "  ": "bad_name",
		strings.Repeat("x", 25): "bad_name", "wrens": "name_taken", "Wr\u0435ns": "name_taken",
	} {
		c := p.dial(map[string]any{"type": "join", "name": name})
		if f := c.until("a refusal", func(f bot.Frame) bool { return f.Type == "refused" }); f.Code != code || f.Message == "" {
			t.Errorf("%.20q: refused with %q, want %q", name, f.Code, code)
		}
	}
}

func TestUnknownCode(t *testing.T) {
	t.Parallel()
	p := begin(t)
	conn, err := bot.Dial(p.ctx, p.url, "no-such-00")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := conn.Receive(p.ctx); bot.CloseCode(err) != 4100 {
		t.Errorf("got %v", err)
	}
	for path, status := range map[string]int{"/find?code=no-such-00": 404, "/find?code=" + strings.ToUpper(p.code): 200, "/qr.svg?game=nope": 404, "/qr.svg?game=" + p.code: 200,
		"/": 200, "/team": 200, "/board": 200, "/host": 200, "/gallery": 404, "/static/style/style.css": 404, "/static/static.go": 404, "/nothing": 404, "/socket": 400} {
		r, err := http.Get(p.url + path)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if r.StatusCode != status {
			t.Errorf("%s: %s, want %d", path, r.Status, status)
		}
		if csp := r.Header.Get("Content-Security-Policy"); !strings.HasPrefix(csp, "default-src 'self'") || strings.Contains(csp, "unsafe") {
			t.Errorf("%s: policy %q", path, csp)
		} else if !strings.Contains(csp, "frame-ancestors 'none'") || !strings.Contains(csp, "base-uri 'none'") {
			t.Errorf("%s: may be framed: %q", path, csp)
		}
		if r.Header.Get("Referrer-Policy") != "no-referrer" || r.Header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: headers %v", path, r.Header)
		}
	}
}

// failing refuses to append once it is told to.
type failing struct {
	store.Store
	broken chan struct{}
}

func (f failing) Append(ctx context.Context, b store.Batch) error {
	select {
	case <-f.broken:
		return fmt.Errorf("disk full")
	default:
		return f.Store.Append(ctx, b)
	}
}

// What the store refuses is never acknowledged, and the game stands as stored.
func TestAFullDisk(t *testing.T) {
	t.Parallel()
	f := failing{memory.New(), make(chan struct{})}
	p := openOn(t, f)
	t.Cleanup(p.stop)
	host, a := p.host(), p.join("Wrens")
	host.act("plan", "plan", plan(round("open", 1)))
	host.act("next")
	q := a.phase("asking").Question.ID
	close(f.broken)
	if r := a.do(map[string]any{"type": "answer", "question": q, "option": 0}); r.Code != "not_stored" {
		t.Errorf("the answer got %q %q", r.Type, r.Code)
	}
	if b := p.dial(map[string]any{"type": "join", "name": "Otters"}); b.until("a refusal", func(f bot.Frame) bool { return f.Type == "refused" }).Code != "not_stored" {
		t.Error("a join was not refused")
	}
}

// Nothing is left running of a game that could not be stored.
func TestAGameThatIsNotStored(t *testing.T) {
	t.Parallel()
	f := failing{memory.New(), make(chan struct{})}
	p := openOn(t, f)
	t.Cleanup(p.stop)
	close(f.broken)
	for range 2 {
		if code, err := p.hub.CreateGame(p.ctx); err == nil {
			t.Errorf("%s was made", code)
		}
	}
	if left := p.hub.Unfinished(); len(left) != 1 {
		t.Errorf("%v can be gone on with", left)
	}
}

func TestBotsPlay(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	for i := range 3 {
		bots := &bot.Player{Hub: p.url, Code: p.code, Name: fmt.Sprintf("Bot %d", i), Dice: dice(i), Think: 20 * time.Millisecond}
		go bots.Play(p.ctx)
	}
	host.act("plan", "plan", plan(round("open", 2), round("buzz", 2)))
	host.until("three teams", func(f bot.Frame) bool {
		var s struct{ Teams int }
		json.Unmarshal(f.Raw, &s)
		return f.Type == "state" && s.Teams == 3
	})
	host.act("next")
	var last uint64
	for {
		f := host.until("a stop", func(f bot.Frame) bool {
			return f.Type == "state" && (f.Phase == "revealed" || f.Phase == "break" || f.Phase == "ended")
		})
		if f.Phase == "ended" {
			return
		}
		if f.Seq > last {
			last = f.Seq
			host.send(map[string]any{"type": "do", "action": "next", "id": fmt.Sprint("n", f.Seq)})
		}
	}
}

func dice(seed int) *rand.Rand { return rand.New(rand.NewPCG(uint64(seed), 1)) }

// wrong is an option that every question has and that is not the key.
func wrong(key int) int {
	if key == 0 {
		return 1
	}
	return 0
}
