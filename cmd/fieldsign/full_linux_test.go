package main

import (
	"net/http"
	"path/filepath"
	"testing"

	"golang.org/x/sys/unix"

	"fieldsign/hub/bot"
)

// The disk takes no more bytes in the middle of a question: nothing is
// acknowledged from then on, room or not, and the hub says that it is not
// ready. Started anew, it has all that it had acknowledged.
func TestDiskFullInAQuestion(t *testing.T) {
	t.Parallel()
	data, port := filepath.Join(t.TempDir(), "games.db"), freePort(t)
	p := start(t, data, port)
	ready := func() int {
		r, err := http.Get(p.url() + "/readyz")
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		return r.StatusCode
	}
	host := dialed(t, p, map[string]any{"type": "host", "key": testKey})
	wrens := dialed(t, p, map[string]any{"type": "join", "name": "Wrens"})
	token := awaited(t, wrens, "welcome", func(f bot.Frame) bool { return f.Type == "welcome" }).Token
	otters := dialed(t, p, map[string]any{"type": "join", "name": "Otters"})
	awaited(t, otters, "welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	round := map[string]any{"name": "R", "kind": "open", "subjects": []string{"skull"}, "count": 2, "seconds": 60, "points": 100}
	host.Send(t.Context(), map[string]any{"type": "do", "id": "1", "action": "plan", "plan": map[string]any{"title": "T", "seed": 9, "rounds": []any{round}}})
	awaited(t, host, "the plan", done("1"))
	host.Send(t.Context(), map[string]any{"type": "do", "id": "2", "action": "next"})
	q := awaited(t, wrens, "the question", func(f bot.Frame) bool { return f.Phase == "asking" }).Question.ID
	answer := map[string]any{"type": "answer", "id": "a", "question": q, "option": 0}
	wrens.Send(t.Context(), answer)
	awaited(t, wrens, "its effect", done("a"))
	if status := ready(); status != http.StatusOK {
		t.Errorf("before: %d", status)
	}
	limit := func(bytes uint64) {
		if err := unix.Prlimit(p.cmd.Process.Pid, unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: bytes, Max: unix.RLIM_INFINITY}, nil); err != nil {
			t.Fatal(err)
		}
	}
	for id, bytes := range []uint64{0, unix.RLIM_INFINITY} { // no room, and room again: it stays read-only
		limit(bytes)
		answer["id"] = string(rune('b' + id))
		otters.Send(t.Context(), answer)
		if f := awaited(t, otters, "an answer", func(f bot.Frame) bool { return f.ID == answer["id"] }); f.Code != "not_stored" {
			t.Errorf("on a full disk: %s", f.Raw)
		}
		if status := ready(); status != http.StatusServiceUnavailable {
			t.Errorf("on a full disk /readyz says %d", status)
		}
	}
	p.kill()
	p = start(t, data, port)
	if status := ready(); status != http.StatusOK {
		t.Errorf("started anew: %d", status)
	}
	back := dialed(t, p, map[string]any{"type": "resume", "token": token})
	if f := awaited(t, back, "the state", func(f bot.Frame) bool { return f.Type == "state" }); f.Answered != 1 || f.Question == nil || f.Question.ID != q {
		t.Errorf("started anew: %s", f.Raw)
	}
}
