//go:build unix

package hub_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fieldsign/hub"
	"fieldsign/hub/bot"
	"fieldsign/hub/lab/flaky"
	"fieldsign/hub/lab/soak"
	"fieldsign/hub/store"
	"fieldsign/hub/store/redis"
	"fieldsign/hub/store/redis/redistest"
	"fieldsign/questions/catalogue"
)

// Several hubs on a real Redis, each with its own connections to it.

// testLease is long enough for a hub on a crowded machine to renew it.
const testLease = 3 * time.Second

// held is a hub's store that leaves a lease alone: to run out, as that of a
// frozen hub, or of a killed one; stuck, it doesn't come back from renewing it.
type held struct {
	store.Shared
	frozen, killed, stuck atomic.Bool
}

func (s *held) Renew(ctx context.Context, game string, token uint64, ttl time.Duration) error {
	for s.stuck.Load() && ctx.Err() == nil {
		time.Sleep(time.Millisecond)
	}
	if s.frozen.Load() {
		return nil
	}
	return s.Shared.Renew(ctx, game, token, ttl)
}

func (s *held) Release(ctx context.Context, game string, token uint64) error {
	if s.killed.Load() {
		return nil
	}
	return s.Shared.Release(ctx, game, token)
}

// member is one of several hubs.
type member struct {
	*place
	held   *held
	server *httptest.Server
}

// openMember starts a hub that has no game yet; between may stand between it
// and its store.
func openMember(t testing.TB, ctx context.Context, address string, between ...func(store.Shared) store.Store) *member {
	t.Helper()
	return openLeased(t, ctx, address, testLease, between...)
}

// openLeased is openMember with a lease of another length.
func openLeased(t testing.TB, ctx context.Context, address string, lease time.Duration, between ...func(store.Shared) store.Store) *member {
	t.Helper()
	s, err := redis.Open(address, redis.Options{})
	if err != nil {
		t.Fatal(err)
	}
	m := &member{held: &held{Shared: s}}
	var kept store.Store = m.held
	for _, wrap := range between {
		kept = wrap(m.held)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	at := "http://" + listener.Addr().String()
	h, err := hub.New(hub.Config{Store: kept, Catalogue: catalogue.Builtin(), HostKey: hostKey, Roster: "furbearers", Address: "http://test.example",
		HubAddress: at, Lease: lease, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err != nil {
		t.Fatal(err)
	}
	m.server = httptest.NewUnstartedServer(h.Handler())
	m.server.Listener.Close()
	m.server.Listener = listener
	m.server.Start()
	m.place = &place{TB: t, ctx: ctx, hub: h, url: at, store: m.held}
	m.stop = func() { h.Close(); m.server.Close(); s.Close() }
	t.Cleanup(m.stop)
	return m
}

// wireTo is a way to Redis that can be cut.
func wireTo(t *testing.T, server *redistest.Server) *flaky.Proxy {
	t.Helper()
	wire, err := flaky.Listen(server.Addr(), 1)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { wire.Close() })
	return wire
}

func (m *member) create() {
	m.Helper()
	code, err := m.hub.CreateGame(m.ctx)
	if err != nil {
		m.Fatal(err)
	}
	m.code = code
}

// lapsed waits until the lease on the game is over.
func (m *member) lapsed() {
	m.Helper()
	for {
		lease, err := m.held.Owner(m.ctx, m.code)
		if err == nil && lease.Left <= 0 {
			return
		}
		select {
		case <-m.ctx.Done():
			m.Fatalf("the lease does not end: %+v, %v", lease, err)
		case <-time.After(max(lease.Left, time.Millisecond)):
		}
	}
}

// kill ends the hub with its leases left to run out.
func (m *member) kill() {
	m.held.killed.Store(true)
	m.stop()
}

// back has a client come again until it is let in, as a page does.
func (m *member) back(first map[string]any) *client {
	m.Helper()
	for {
		c, err := m.enter(first)
		if err == nil {
			return c
		}
		select {
		case <-m.ctx.Done():
			m.Fatalf("not let in: %v", err)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func (m *member) enter(first map[string]any) (*client, error) {
	conn, err := bot.Dial(m.ctx, m.url, m.code)
	if err != nil {
		return nil, err
	}
	if err := conn.Send(m.ctx, first); err != nil {
		return nil, err
	}
	c := &client{p: m.place, conn: conn}
	for {
		f, err := conn.Receive(m.ctx)
		if err != nil {
			return nil, err
		}
		c.log = append(c.log, f)
		if f.Type == "welcome" {
			return c, nil
		}
	}
}

var asHost = map[string]any{"type": "host", "key": hostKey, "takeOver": true}

func token(c *client) map[string]any {
	for _, f := range c.log {
		if f.Type == "welcome" {
			return map[string]any{"type": "resume", "token": f.Token}
		}
	}
	return nil
}

func patient(t testing.TB) context.Context {
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// A game outlives each of its hubs in turn. Its phones come in by a hub that
// does not own it; that hub takes it over when the owner is killed between a
// buzz and its ruling.
func TestHubsTakeOver(t *testing.T) {
	t.Parallel()
	kills := soak.Size(3, 8)
	ctx := patient(t)
	address := redistest.Start(t, redistest.Durable...).URL()
	owner, next := openMember(t, ctx, address), openMember(t, ctx, address)
	owner.create()
	next.code = owner.code
	host, a, b := next.host(), next.join("Wrens"), next.join("Otters")
	host.act("plan", "plan", plan(round("buzz", kills)))
	asA, asB := token(a), token(b)
	var took []time.Duration
	for n := range kills {
		host.act("next")
		q := a.until("the question", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "asking" && f.Question.N == n+1 }).Question.ID
		first := a
		if n%2 == 1 {
			first = b
		}
		if f := first.do(map[string]any{"type": "buzz", "question": q}); f.Type != "done" {
			t.Fatalf("the buzz was refused: %s", f.Message)
		}
		holder := host.phase("buzzed").Buzz.Team
		third := openMember(t, ctx, address)
		third.code = owner.code
		killed := time.Now()
		owner.kill()
		a = next.back(asA)
		took = append(took, time.Since(killed))
		b, host = next.back(asB), next.back(asHost)
		f := host.until("the state", func(f bot.Frame) bool { return f.Type == "state" })
		if f.Phase != "buzzed" || f.Buzz.Team != holder || f.Paused {
			t.Fatalf("after take-over %d: %s", n+1, f.Raw)
		}
		host.act("rule", "right", true)
		checkScores(t, host.phase("revealed"), (n/2+1)*100, (n+1)/2*100)
		owner, next = next, third
		host.conn.Drop()
		a.conn.Drop()
		b.conn.Drop()
		host, a, b = next.back(asHost), next.back(asA), next.back(asB)
	}
	t.Logf("lease %v, %d kills: from the kill until the first phone is back: %v", testLease, kills, took)
}

// checkScores wants what t1 and t2 have.
func checkScores(t *testing.T, f bot.Frame, wrens, otters int) {
	t.Helper()
	want := map[string]int{"t1": wrens, "t2": otters}
	for _, l := range f.Host.Teams {
		if l.Score != want[l.Team] {
			t.Errorf("%s has %d, want %d", l.Team, l.Score, want[l.Team])
		}
		delete(want, l.Team)
	}
	if len(want) > 0 {
		t.Errorf("no score of %v in %s", want, f.Raw)
	}
}

// A hub that closes gives its games up: nobody waits for its lease to run out.
func TestAHubLeaves(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t).URL()
	owner, next := openLeased(t, ctx, address, time.Hour), openMember(t, ctx, address)
	owner.create()
	next.code = owner.code
	a, b := owner.join("Wrens"), next.join("Otters") // forwarded
	go owner.stop()
	a.closed(4000)
	b.closed(4000)
	next.back(token(a))
}

// A hub that sleeps past its lease and wakes is refused, and sends its phones
// to the hub that has the game now.
func TestAStaleOwner(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t).URL()
	stale, next := openMember(t, ctx, address), openMember(t, ctx, address)
	stale.create()
	next.code = stale.code
	a, host := stale.join("Wrens"), stale.host()
	stale.held.frozen.Store(true)
	next.lapsed()
	b := next.join("Otters")
	if f := host.do(map[string]any{"type": "do", "action": "next"}); f.Code != "not_stored" {
		t.Errorf("a command to the stale owner got %s", f.Raw)
	}
	host.closed(4000)
	a.closed(4000)
	host, a = stale.back(asHost), stale.back(token(a)) // now forwarded
	host.act("next")
	b.phase("asking")
	a.phase("asking")
}

// The owner is cut off from Redis, with a write on its way, while the others
// are not: one of them goes on with the game. When the cut heals the late write
// is refused, and the owner sends its phones there.
func TestAnOwnerIsCutOff(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	server := redistest.Start(t)
	wire := wireTo(t, server)
	owner, next := openMember(t, ctx, "redis://"+wire.Addr()), openMember(t, ctx, server.URL())
	owner.create()
	next.code = owner.code
	host, a, b := owner.host(), owner.join("Wrens"), owner.join("Otters")
	host.act("plan", "plan", plan(round("buzz", 1)))
	host.act("next")
	q := a.phase("asking").Question.ID
	wire.Freeze()
	if f := a.do(map[string]any{"type": "buzz", "question": q}); f.Code != "not_stored" {
		t.Errorf("a buzz without Redis got %s", f.Raw)
	}
	host.until("the notice", func(f bot.Frame) bool { return f.Type == "state" && f.Paused && f.Notice != "" })
	next.lapsed() // till then it would hand the phone on to the owner
	b2 := next.back(token(b))
	if f := b2.do(map[string]any{"type": "buzz", "question": q}); f.Type != "done" {
		t.Errorf("the buzz at the new owner got %s", f.Raw)
	}
	wire.Heal()
	host.closed(4000)
	a.closed(4000)
	host = owner.back(asHost) // now forwarded
	if f := host.until("the state", func(f bot.Frame) bool { return f.Type == "state" }); f.Phase != "buzzed" || f.Buzz.Team != "t2" {
		t.Errorf("at the new owner: %s", f.Raw)
	}
}

// Redis is killed in a round and comes back from its file: what was
// acknowledged is there, what was refused can be said again, and the game goes
// on by itself.
func TestRedisIsKilled(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	server := redistest.Start(t, redistest.Durable...)
	owner, next := openMember(t, ctx, server.URL()), openMember(t, ctx, server.URL())
	owner.create()
	next.code = owner.code
	host, a, b := owner.host(), owner.join("Wrens"), next.join("Otters")
	host.act("plan", "plan", plan(round("open", 2)))
	host.act("next")
	shown := host.phase("asking")
	a.phase("asking")
	b.phase("asking")
	right := map[string]any{"type": "answer", "question": shown.Question.ID, "option": shown.Host.Key}
	if f := a.do(right); f.Type != "done" {
		t.Fatalf("an answer was refused: %s", f.Raw)
	}
	b.until("the count", func(f bot.Frame) bool { return f.Answered == 1 })
	server.Kill()
	host.send(map[string]any{"type": "do", "action": "close", "id": "x"})
	host.until("the refusal", func(f bot.Frame) bool { return f.Code == "not_stored" })
	for _, c := range []*client{a, b} { // the forwarded one too
		gone := c.until("the notice", func(f bot.Frame) bool {
			return f.Type == "state" && f.Paused && strings.Contains(f.Notice, "use its store")
		})
		if gone.Phase != "asking" || gone.Answered != 1 {
			t.Errorf("without Redis: %s", gone.Raw)
		}
	}
	if status, _ := get(t, next.url+"/readyz"); status != http.StatusServiceUnavailable {
		t.Errorf("/readyz without Redis: %d", status)
	}
	time.Sleep(testLease) // so that the lease is over too
	server.Restart()
	a.until("play", func(f bot.Frame) bool { return f.Type == "state" && !f.Paused })
	b.until("play", func(f bot.Frame) bool { return f.Type == "state" && !f.Paused })
	for b.do(right).Type != "done" {
		time.Sleep(50 * time.Millisecond)
	}
	end := host.phase("revealed")
	checkScores(t, end, 100, 100)
}

// Redis comes back as it was a while ago: the game is paused and says why, and
// a team that joined later has to join anew.
func TestRedisLosesTheEnd(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	server := redistest.Start(t)
	owner := openMember(t, ctx, server.URL())
	owner.create()
	host, a := owner.host(), owner.join("Wrens")
	host.act("plan", "plan", plan(round("open", 2)))
	host.act("next")
	a.phase("asking")
	server.Do("save")
	b := owner.join("Otters")
	server.Kill()
	server.Restart()
	host.send(map[string]any{"type": "do", "action": "close", "id": "x"}) // a loss shows with the next write
	for _, c := range []*client{host, a, b} {
		c.closed(4000)
	}
	host = owner.back(asHost)
	if f := host.until("the state", func(f bot.Frame) bool { return f.Type == "state" }); f.Phase != "asking" || !f.Paused || !strings.Contains(f.Notice, "lost") {
		t.Errorf("after the loss: %s", f.Raw)
	}
	owner.back(token(a))
	owner.dial(token(b)).closed(4107)
	host.act("resume")
}

// Redis loses the end, and the hub that would know it is dead: the console tells
// the next one. Nobody else is believed.
func TestAConsoleKnowsOfALoss(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	server := redistest.Start(t)
	owner, next := openMember(t, ctx, server.URL()), openMember(t, ctx, server.URL())
	owner.create()
	next.code = owner.code
	host, a := owner.host(), owner.join("Wrens")
	host.act("plan", "plan", plan(round("open", 2)))
	host.act("next")
	q := a.phase("asking").Question.ID
	server.Do("save")
	a.do(map[string]any{"type": "answer", "question": q, "option": 0}) // all have, so the question closes
	seen := host.phase("revealed").Seq
	server.Kill()
	owner.kill()
	server.Restart()
	again := token(a)
	again["seen"] = seen
	next.back(again)
	host = next.back(asHost)
	shown := func() bot.Frame { return host.until("the state", func(f bot.Frame) bool { return f.Type == "state" }) }
	if f := shown(); f.Phase != "asking" || f.Paused {
		t.Errorf("before the console has told what it saw: %s", f.Raw)
	}
	host = next.back(map[string]any{"type": "host", "key": hostKey, "takeOver": true, "seen": seen})
	if f := shown(); f.Phase != "asking" || !f.Paused || !strings.Contains(f.Notice, "lost") {
		t.Errorf("after it has: %s", f.Raw)
	}
	host.act("resume")
}

// Redis comes back empty: no game has the join code.
func TestRedisLosesAll(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	server := redistest.Start(t)
	owner := openMember(t, ctx, server.URL())
	owner.create()
	a := owner.join("Wrens")
	server.Kill()
	server.Restart()
	a.closed(4100)
	owner.dial(token(a)).closed(4100)
}

func get(t *testing.T, address string) (int, []byte) {
	t.Helper()
	r, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, body
}

// What names a game is served by any hub; a request is forwarded once at most.
func TestForwarding(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t, redistest.Durable...).URL()
	owner, next := openMember(t, ctx, address), openMember(t, ctx, address)
	owner.create()
	for path, want := range map[string]int{"/find?code=" + owner.code: 200, "/qr.svg?game=" + owner.code: 200, "/find?code=no-such-00": 404, "/plate?id=x&game=" + owner.code: 404} {
		if status, body := get(t, next.url+path); status != want {
			t.Errorf("%s: %d %s", path, status, body)
		}
	}
	r, err := http.Get(next.url + "/find?code=" + owner.code)
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if csp := r.Header.Values("Content-Security-Policy"); len(csp) != 1 {
		t.Errorf("%d policies: %q", len(csp), csp)
	}
	again, _ := http.NewRequest("GET", next.url+"/find?code="+owner.code, nil)
	again.Header.Set("Fieldsign-Forwarded-By", "http://elsewhere.example")
	r, err = http.DefaultClient.Do(again)
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("forwarded twice: %d", r.StatusCode)
	}
	var ready struct {
		Ready, Shared bool
		Store         store.Durability
	}
	status, body := get(t, next.url+"/readyz")
	if err := json.Unmarshal(body, &ready); err != nil || status != 200 || !ready.Ready || ready.Store.Fsync != "always" || ready.Store.Promise == "" {
		t.Errorf("/readyz: %d %s %v", status, body, err)
	}
	foreign := fmt.Sprintf("%s/socket?game=%s", next.url, owner.code)
	upgrade, _ := http.NewRequest("GET", foreign, nil)
	for name, value := range map[string]string{"Connection": "Upgrade", "Upgrade": "websocket", "Sec-WebSocket-Version": "13",
		"Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==", "Sec-WebSocket-Protocol": "fieldsign.v1", "Origin": "http://elsewhere.example"} {
		upgrade.Header.Set(name, value)
	}
	if r, err = http.DefaultClient.Do(upgrade); err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusForbidden {
		t.Errorf("a forwarded socket of a foreign origin: %d", r.StatusCode)
	}
}
