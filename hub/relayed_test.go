//go:build unix

package hub_test

import (
	"context"
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

// Hubs that reach Redis and not each other share a game all the same: phones
// play, and only what pages fetch beside the socket has to wait.
func TestHubsThatDontReachEachOther(t *testing.T) {
	ctx := minute(t)
	address := redistest.Start(t).URL()
	owner, next := openMember(t, ctx, address, func(s store.Shared) store.Store { return misplaced{s} }), openMember(t, ctx, address)
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
	host.act("rule", "right", true)
	checkScores(t, host.phase("revealed"), 100, 0)
	if status, _ := get(t, next.url+"/find?code="+owner.code); status != http.StatusServiceUnavailable {
		t.Errorf("/find by a hub that can't ask the owner: %d", status)
	}
}

// The hub by which a phone came is cut off for a moment: the phone stays, what
// it said meanwhile counts once and is answered once.
func TestARelayIsCutOff(t *testing.T) {
	ctx := minute(t)
	server := redistest.Start(t)
	wire := wireTo(t, server)
	owner, next := openMember(t, ctx, server.URL()), openMember(t, ctx, "redis://"+wire.Addr())
	owner.create()
	next.code = owner.code
	host, a := owner.host(), next.join("Wrens")
	owner.join("Otters") // never answers, so that the question stays open
	host.act("plan", "plan", plan(round("open", 2)))
	host.act("next")
	q := a.phase("asking").Question.ID
	wire.Cut()
	a.send(map[string]any{"type": "answer", "id": "once", "question": q, "option": 0})
	time.Sleep(testLease / 4)
	wire.Heal()
	a.until("the answer", func(f bot.Frame) bool { return f.Type == "done" && f.ID == "once" })
	host.act("close")
	a.until("the reveal", func(f bot.Frame) bool {
		if f.Type == "done" && f.ID == "once" {
			t.Error("one command was answered twice")
		}
		return f.Phase == "revealed"
	})
}
