//go:build unix

package main

import (
	"path/filepath"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/store/redis/redistest"
)

// Two programs on one Redis: a phone of the one's game comes in by the other,
// which goes on with the game when the first is killed.
func TestTwoHubsOnRedis(t *testing.T) {
	t.Parallel()
	const lease = 6 * time.Second // the program's own
	server := redistest.Start(t, redistest.Durable...)
	hub := func() *program {
		return start(t, filepath.Join(t.TempDir(), "unused.db"), freePort(t), "--redis", server.URL())
	}
	first, second := hub(), hub()
	second.code = first.code
	phone := dialed(t, second, map[string]any{"type": "join", "name": "Wrens"})
	welcome := awaited(t, phone, "a seat", func(f bot.Frame) bool { return f.Type == "welcome" })
	first.kill()
	killed := time.Now()
	for {
		c, err := bot.Dial(t.Context(), second.url(), second.code)
		if err == nil {
			phone = c
			break
		}
		if time.Since(killed) > lease+time.Minute {
			t.Fatalf("nobody took the game over: %v", err)
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Logf("lease %v: taken over after %v", lease, time.Since(killed))
	if err := phone.Send(t.Context(), map[string]any{"type": "resume", "token": welcome.Token}); err != nil {
		t.Fatal(err)
	}
	awaited(t, phone, "the same seat", func(f bot.Frame) bool { return f.Type == "welcome" && f.Team == welcome.Team })
}
