//go:build unix

package main

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
	"fieldsign/hub/store/redis/redistest"
)

// TestTakeOverTimes measures how long a phone is without its game when the
// owner is killed at a moment of chance between two renewals of its lease.
// FIELDSIGN_TAKEOVER is how many kills, for each of two leases.
func TestTakeOverTimes(t *testing.T) {
	kills, leases := 2, []time.Duration{time.Second}
	if n, err := strconv.Atoi(os.Getenv("FIELDSIGN_TAKEOVER")); err != nil {
		soak.Only(t)
	} else {
		kills, leases = n, []time.Duration{time.Second, 6 * time.Second}
	}
	for _, lease := range leases {
		took := takeOvers(t, lease, kills)
		slices.Sort(took)
		at := func(q float64) time.Duration {
			return took[int(q*float64(len(took)-1)+.5)].Round(10 * time.Millisecond)
		}
		t.Logf("lease %v, %d kills: least %v, median %v, p90 %v, most %v", lease, kills, at(0), at(.5), at(.9), at(1))
		if most := at(1); most > lease+20*time.Second {
			t.Errorf("lease %v: one take-over took %v", lease, most)
		}
	}
}

func takeOvers(t *testing.T, lease time.Duration, kills int) (took []time.Duration) {
	server := redistest.Start(t, redistest.Durable...)
	hub := func(port int) *program {
		return start(t, filepath.Join(t.TempDir(), "unused.db"), port, "--redis", server.URL(), "--lease", lease.String())
	}
	hubs := []*program{hub(freePort(t)), hub(freePort(t)), hub(freePort(t))}
	code := hubs[0].code
	phone := dialed(t, hubs[0], map[string]any{"type": "join", "name": "Wrens"})
	token := awaited(t, phone, "a seat", func(f bot.Frame) bool { return f.Type == "welcome" }).Token
	for n := range kills {
		owner, next := hubs[n%3], hubs[(n+1)%3]
		next.code = code
		time.Sleep(lease/3 + rand.N(lease)) // so that it was renewed at least once
		owner.kill()
		killed := time.Now()
		for {
			c, err := bot.Dial(t.Context(), next.url(), code)
			if err == nil {
				c.Send(t.Context(), map[string]any{"type": "resume", "token": token})
				awaited(t, c, "the seat", func(f bot.Frame) bool { return f.Type == "welcome" })
				break
			}
			if time.Since(killed) > lease+30*time.Second {
				t.Fatalf("nobody took the game over: %v", err)
			}
			time.Sleep(10 * time.Millisecond)
		}
		took = append(took, time.Since(killed))
		hubs[n%3] = hub(owner.port)
	}
	return took
}
