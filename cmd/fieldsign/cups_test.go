package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fieldsign/game/tournament"
)

// cupClient leads a tournament over HTTP, as the host's page does.
type cupClient struct {
	*program
	cup string
	n   int
}

type cupView struct {
	Code, Message string
	Seq           uint64
	Phase         string
	Entrants      []tournament.Entrant
	Columns       []tournament.Column
	Ranking       []tournament.Standing
	Ready         []int
	Games         map[string]struct {
		Code, Phase string
		Scores      []int
	}
	May struct{ Next bool }
}

func (c *cupClient) ask(method, path string, body any) cupView {
	c.Helper()
	data, _ := json.Marshal(body)
	r, err := http.NewRequestWithContext(c.Context(), method, c.url()+path, bytes.NewReader(data))
	if err != nil {
		c.Fatal(err)
	}
	r.Header.Set("Authorization", "Bearer "+testKey)
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		c.Fatal(err)
	}
	defer a.Body.Close()
	var v cupView
	if err := json.NewDecoder(a.Body).Decode(&v); err != nil || a.StatusCode >= 300 {
		c.Fatalf("%s %s: %d %s %v", method, path, a.StatusCode, v.Message, err)
	}
	return v
}

func (c *cupClient) do(kind string, more ...any) cupView {
	c.Helper()
	c.n++
	command := map[string]any{"type": kind, "id": fmt.Sprint("k", c.n)}
	for i := 0; i < len(more); i += 2 {
		command[more[i].(string)] = more[i+1]
	}
	return c.ask("POST", "/tournaments/"+c.cup+"/commands", command)
}

// newCup makes a tournament whose draw is made.
func newCup(hub *program, name string, teams int, settings tournament.Settings) *cupClient {
	hub.Helper()
	c := &cupClient{program: hub}
	c.cup = c.ask("POST", "/tournaments", map[string]any{"name": name, "settings": settings}).Code
	c.do("enter", "names", teamNames(teams))
	c.do("draw")
	return c
}

// teamNames are as long as names get in a class.
func teamNames(n int) []string {
	places := strings.Fields("Marsh Alder Creek Pond Winter Ridge Meadow Moss Fern Birch Canyon Thicket")
	animals := strings.Fields("Wrens Voles Otters Herons Hares Martens Owls Shrews Salamanders")
	var names []string
	for i := range n {
		names = append(names, places[i%len(places)]+" "+animals[(i+i/len(places))%len(animals)])
	}
	return names
}

// playUntil records results, the better seed's win mostly, while so many
// matches are left to play of those that are ready.
func (c *cupClient) playUntil(results int) cupView {
	c.Helper()
	v := c.ask("GET", "/tournaments/"+c.cup, nil)
	for n := 0; n < results; {
		if len(v.Ready) == 0 {
			if !v.May.Next {
				return v
			}
			v = c.do("next")
			continue
		}
		m := v.Ready[0]
		home, away := 300+50*(m%4), 250+50*(m%3)
		if home == away {
			away -= 50
		}
		v = c.do("record", "match", m, "outcome", "played", "home", home, "away", away)
		n++
	}
	return v
}

// The program is killed in the moment a match's game ends: the next start has
// the tournament as it was, with the match's result.
func TestATournamentSurvivesItsHub(t *testing.T) {
	t.Parallel()
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	c := newCup(hub, "Autumn cup", 3, tournament.Settings{Format: tournament.RoundRobin})
	before := c.do("start", "match", 1)
	match := *hub
	match.code = before.Games["1"].Code
	playedByBots(t, &match, []string{before.name(1, true), before.name(1, false)}, 20*time.Millisecond)
	hub.kill()
	c.program = start(t, hub.data, hub.port)
	after := c.ask("GET", "/tournaments/"+c.cup, nil)
	if m := after.match(1); !m.Done() || m.Game != match.code || after.Seq != before.Seq+1 {
		t.Errorf("event %d, was %d: %+v", after.Seq, before.Seq, m)
	}
	if !slices.Equal(after.Entrants, before.Entrants) || c.program.code == match.code {
		t.Errorf("entrants %v; the program goes on with %s", after.Entrants, c.program.code)
	}
}

func (v *cupView) match(id int) *tournament.Match {
	for _, c := range v.Columns {
		for i := range c.Matches {
			if c.Matches[i].ID == id {
				return &c.Matches[i]
			}
		}
	}
	return &tournament.Match{}
}

func (v *cupView) name(match int, home bool) string {
	m := v.match(match)
	if home {
		return v.Entrants[m.Home.Entrant-1].Name
	}
	return v.Entrants[m.Away.Entrant-1].Name
}
