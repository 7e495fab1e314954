//go:build unix

package hub_test

import (
	"context"
	"net/http"
	"testing"
	"time"

	"fieldsign/game/tournament"
	"fieldsign/hub/store/redis/redistest"
)

// A tournament is led from any hub, and a match that one hub runs is seen and
// counted by the other.
func TestATournamentOnSeveralHubs(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t, redistest.Durable...)
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	one, other := openMember(t, ctx, server.URL()), openMember(t, ctx, server.URL())
	c := one.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters", "Stoats", "Voles")
	c.do("draw")
	elsewhere := &cupHost{other.place, c.cup}
	code := elsewhere.do("start", "match", 1, "plan", short("open")).Games["1"].Code
	at, host := c.game(code) // by the hub that does not run it
	wrens := at.join("Wrens")
	at.join("Voles")
	at.oneQuestion(host, wrens)
	c.until("the result", func(s cupSeen) bool { return s.match(1).Done() })
	seen := elsewhere.do("record", "match", 2, "outcome", "forfeit", "winner", 2)
	if m := seen.match(1); m.Result.Winner != 1 || m.Result.Home != 100 || len(seen.Ready) != 1 {
		t.Errorf("seen by the other hub: %+v, ready %v", m.Result, seen.Ready)
	}
	// A hub that is gone takes no tournament with it.
	other.kill()
	if seen := c.do("record", "match", 3, "outcome", "walkover", "winner", 1); !seen.match(3).Done() {
		t.Error("the final has no result")
	}
}

// A phone that has signed in at one hub is known in the match that another runs.
func TestSeatsOnSeveralHubs(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t, redistest.Durable...)
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	one, other := openMember(t, ctx, server.URL()), openMember(t, ctx, server.URL())
	c := one.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters")
	seat := c.sits(1, tokens[0])
	c.do("draw")
	elsewhere := &cupHost{other.place, c.cup}
	seen := elsewhere.do("start", "match", 1)
	if seen.Seats["1"] != seat {
		t.Errorf("the other hub has the seats %v", seen.Seats)
	}
	c.goes(seen.Games["1"].Code, "Wrens", tokens[0]).welcomedAs("Wrens")
	elsewhere.sits(2, tokens[1])
	c.goes(seen.Games["1"].Code, "Otters", tokens[1]).welcomedAs("Otters")
}

// A tournament's log expires as a game's does, and one that a hub has erased is
// gone from the others too.
func TestATournamentGoesFromRedis(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t, redistest.Durable...)
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	one, other := openMember(t, ctx, server.URL()), openMember(t, ctx, server.URL())
	c := one.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters")
	c.do("draw")
	left := func() time.Duration {
		ms, err := time.ParseDuration(server.Do("pttl", "fieldsign:{Tournament+"+c.cup+"}:log") + "ms")
		if err != nil {
			t.Fatal(err)
		}
		return ms
	}
	if keep := left(); keep <= 6*24*time.Hour || keep > 7*24*time.Hour {
		t.Errorf("one under way is kept for %v", keep)
	}
	elsewhere := &cupHost{other.place, c.cup}
	match := elsewhere.do("start", "match", 1).Games["1"].Code
	elsewhere.do("record", "match", 1, "outcome", "walkover", "winner", 1)
	c.do("finish")
	if keep := left(); keep <= 0 || keep > 24*time.Hour {
		t.Errorf("an ended one is kept for %v", keep)
	}
	if status, body := one.asHost("DELETE", "/tournaments/"+c.cup, hostKey); status != http.StatusNoContent {
		t.Fatalf("%d %s", status, body)
	}
	if status, _, _ := other.request("GET", "/tournaments/"+c.cup, nil); status != http.StatusNotFound {
		t.Errorf("the other hub still shows it: %d", status)
	}
	if one.codes() != "" {
		t.Errorf("stored yet: %s, with the match's game %s", one.codes(), match)
	}
}
