//go:build unix

package hub_test

import (
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/store/redis/redistest"
)

// A hub that wakes past its lease, before it has found out, shows nobody the
// game as if it were still true: another hub has gone on with it.
func TestNothingStaleIsShown(t *testing.T) {
	t.Parallel()
	ctx := patient(t)
	address := redistest.Start(t).URL()
	stale, next := openMember(t, ctx, address), openMember(t, ctx, address)
	stale.create()
	next.code = stale.code
	host, a := stale.host(), stale.join("Wrens")
	host.act("plan", "plan", plan(round("buzz", 1)))
	host.act("next")
	q := a.phase("asking").Question.ID
	stale.held.stuck.Store(true)
	next.lapsed()
	b := next.back(token(a))
	if f := b.do(map[string]any{"type": "buzz", "question": q}); f.Type != "done" {
		t.Fatalf("the buzz at the new owner got %s", f.Raw)
	}
	board := stale.back(map[string]any{"type": "board"})
	if f := board.until("a state", func(f bot.Frame) bool { return f.Type == "state" }); f.Phase == "asking" && !f.Paused {
		t.Errorf("the stale owner shows an open question: %s", f.Raw)
	}
	stale.held.stuck.Store(false)
}
