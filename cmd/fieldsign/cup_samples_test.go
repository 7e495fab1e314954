package main

import (
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fieldsign/game/tournament"
)

var update = flag.Bool("update", false, "write static/gallery/tournament-states.mjs anew")

const cupStates = "../../static/gallery/tournament-states.mjs"

// The gallery's tournaments are those that the hub makes: each is played here,
// and what the hub shows of it is what the gallery has.
func TestTheGalleryHasTournamentsAsTheHubShowsThem(t *testing.T) {
	t.Parallel()
	shown := tournamentsShown(t)
	if *update {
		if err := os.WriteFile(cupStates, []byte(shown), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(cupStates)
	if err != nil {
		t.Fatal(err)
	}
	if string(kept) != shown {
		t.Errorf("%s is not what the hub shows now: run this test with -update, then look at the gallery", cupStates)
	}
}

// tournamentsShown is the gallery's module, of tournaments played in a hub of their own.
func tournamentsShown(t *testing.T) string {
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	var out strings.Builder
	out.WriteString("// Tournaments as the hub shows them, for the gallery. Written by\n// go test ./cmd/fieldsign -run TheGalleryHasTournaments -update\n\nexport const tournaments = {\n")
	for _, s := range []struct {
		name           string
		teams, results int
		settings       tournament.Settings
	}{
		{"double", 8, 9, tournament.Settings{Format: tournament.Double}},
		{"double-ended", 8, 15, tournament.Settings{Format: tournament.Double}},
		{"single-32", 32, 18, tournament.Settings{Format: tournament.Single, Third: true}},
		{"robin", 8, 17, tournament.Settings{Format: tournament.RoundRobin}},
		{"swiss", 16, 26, tournament.Settings{Format: tournament.Swiss, Rounds: 5}},
		{"pools", 16, 20, tournament.Settings{Format: tournament.Pools, Pools: 4, Advance: 2, Then: tournament.Single}},
		{"pools-drawn", 12, 16, tournament.Settings{Format: tournament.Pools, Pools: 4, Advance: 2, Then: tournament.Single, Third: true}},
	} {
		s.settings.Seed = 4711 // the hub's own lot would be another each time
		c := newCup(hub, "Autumn cup", s.teams, s.settings)
		c.do("boards", "boards", 2)
		c.sit(1, s.teams-1)
		if v := c.playUntil(s.results); len(v.Ready) > 0 {
			c.do("start", "match", v.Ready[0])
		} else {
			c.do("finish")
		}
		fmt.Fprintf(&out, "%q: %s,\n", s.name, c.sample())
	}
	c := &cupClient{program: hub}
	c.cup = c.ask("POST", "/tournaments", map[string]any{"name": "Autumn cup", "settings": tournament.Settings{Format: tournament.Double, Seed: 4711}}).Code
	c.do("enter", "names", teamNames(8))
	c.do("boards", "boards", 2)
	c.sit(1, 5)
	fmt.Fprintf(&out, "%q: %s,\n};\n", "entry", c.sample())
	return out.String()
}

var (
	gameCode = regexp.MustCompile(`"code":"[^"]*","phase":"lobby"`)
	played   = regexp.MustCompile(`"game":"[^"]*"`)
	joinedAt = regexp.MustCompile(`"joinAt":"[^"]*"`)
	began    = regexp.MustCompile(`"began":"[^"]*"`)
)

// sit has the phones of some entrants sign in.
func (c *cupClient) sit(from, to int) {
	for entrant := from; entrant <= to; entrant++ {
		c.ask("POST", "/tournaments/"+c.cup+"/sit", map[string]any{"entrant": entrant, "token": fmt.Sprintf("%032x", entrant)})
	}
}

// sample is what the hub shows of the tournament, without the codes that are
// drawn and what the clock tells.
func (c *cupClient) sample() string {
	c.Helper()
	answer, err := http.Get(c.url() + "/tournaments/" + c.cup + "?minutes=10")
	if err != nil {
		c.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		c.Fatal(err)
	}
	text := strings.ReplaceAll(strings.TrimSpace(string(body)), c.cup, "alder-run-27")
	text = gameCode.ReplaceAllString(text, `"code":"otter-burrow-42","phase":"lobby"`)
	text = played.ReplaceAllString(text, `"game":"otter-burrow-42"`)
	text = began.ReplaceAllString(text, `"began":"2026-05-09"`)
	text = joinedAt.ReplaceAllString(text, `"joinAt":"192.168.1.20:7600"`)
	return strings.ReplaceAll(text, `{"part":`, "\n  {\"part\":")
}
