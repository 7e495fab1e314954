//go:build unix

package hub_test

import (
	"context"
	"encoding/json"
	"net/http"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

// misplaced names a hub in its leases where nobody answers.
type misplaced struct{ store.Shared }

func (s misplaced) Acquire(ctx context.Context, game, _ string, ttl time.Duration) (store.Lease, error) {
	return s.Shared.Acquire(ctx, game, "http://127.0.0.1:1", ttl)
}

// A hub that can't reach the owner of a game says so, to sockets and to plain
// requests, and does not take the game from an owner whose lease is running.
func TestHubsThatDontReachEachOther(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t).URL()
	owner, next := openMember(t, ctx, address, func(s store.Shared) store.Store { return misplaced{s} }), openMember(t, ctx, address)
	owner.create()
	a := owner.join("Wrens")
	for _, upgrade := range []string{"", "websocket"} {
		path := "/find?code=" + owner.code
		if upgrade != "" {
			path = "/socket?game=" + owner.code
		}
		r := answered(t, next.url+path, upgrade)
		var why struct{ Code, Message string }
		if err := json.NewDecoder(r.Body).Decode(&why); err != nil || r.StatusCode != http.StatusServiceUnavailable || why.Code != "come_back" || why.Message == "" || r.Header.Get("Retry-After") == "" {
			t.Errorf("%s by a hub that can't reach the owner: %s %v %+v (%v)", path, r.Status, r.Header, why, err)
		}
		if csp := r.Header.Values("Content-Security-Policy"); len(csp) != 1 {
			t.Errorf("%s: %d policies: %q", path, len(csp), csp)
		}
	}
	host := owner.host()
	host.act("plan", "plan", plan(round("buzz", 1)))
	host.act("next")
	a.phase("asking")
}

// answered is the answer to a request, for an upgrade where one is named.
func answered(t *testing.T, address, upgrade string) *http.Response {
	t.Helper()
	r, err := http.NewRequest("GET", address, nil)
	if err != nil {
		t.Fatal(err)
	}
	if upgrade != "" {
		for name, value := range map[string]string{"Connection": "Upgrade", "Upgrade": upgrade, "Sec-WebSocket-Version": "13",
			"Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==", "Sec-WebSocket-Protocol": "fieldsign.v1"} {
			r.Header.Set(name, value)
		}
	}
	got, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { got.Body.Close() })
	return got
}

// A phone at a hub that doesn't run its game plays as one at the hub that does,
// and each hub counts it once. When the hub it came to stops, it comes back by the other.
func TestAPhoneAtAnotherHub(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t).URL()
	owner, next := openMember(t, ctx, address), openMember(t, ctx, address)
	owner.create()
	next.code = owner.code
	host, a, b := next.host(), next.join("Wrens"), owner.join("Otters")
	host.act("plan", "plan", plan(round("buzz", 1)))
	host.act("next")
	q := a.phase("asking").Question.ID
	if f := a.do(map[string]any{"type": "buzz", "question": q}); f.Type != "done" {
		t.Fatalf("the buzz was refused: %s", f.Message)
	}
	for _, c := range []*client{a, b, host} {
		if f := c.phase("buzzed"); f.Buzz.Team != "t1" {
			t.Errorf("the buzz is %s's", f.Buzz.Team)
		}
	}
	if n := next.metric("fieldsign_forwarded"); n != "2" {
		t.Errorf("%s sockets are forwarded, want 2", n)
	}
	next.stop()
	for err := error(nil); err == nil; {
		_, err = a.conn.Receive(ctx)
	}
	if ctx.Err() != nil {
		t.Fatal("a hub that has stopped holds on to its phones")
	}
	back := owner.back(token(a))
	back.until("the buzz", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "buzzed" && f.Buzz.Team == "t1" })
}

// A photo that comes in at one hub is shown by the others at once.
func TestHubsHearOfPhotos(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t).URL()
	one, other := openMember(t, ctx, address), openMember(t, ctx, address)
	photos := func(m *member) int { return len(m.photos("GET", "/photos", hostKey, nil).Photos) }
	if n := photos(other); n != 0 {
		t.Fatalf("%d photos at first", n)
	}
	if got := one.upload("red fox", snapshot(t)); got.status != http.StatusCreated {
		t.Fatalf("the photo got %d %s", got.status, got.Message)
	}
	began := time.Now()
	for photos(other) != 1 {
		if time.Since(began) > 20*time.Second { // it looks by itself after 30
			t.Fatal("the other hub has not heard of the photo")
		}
		time.Sleep(10 * time.Millisecond)
	}
}
