package hub_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fieldsign/game/tournament"
	"fieldsign/hub/bot"
)

// seatSeen is what a phone is answered that sits down or stands up.
type seatSeen struct {
	Entrant       int
	Seat          uint64
	Code, Message string // of a refusal
}

// phoneSays has a phone sit or stand, without the host's key.
func (c *cupHost) phoneSays(what string, entrant int, token string) (status int, seen seatSeen) {
	c.Helper()
	body, _ := json.Marshal(map[string]any{"entrant": entrant, "token": token})
	a, err := http.Post(c.url+"/tournaments/"+c.cup+"/"+what, "application/json", strings.NewReader(string(body)))
	if err != nil {
		c.Fatal(err)
	}
	defer a.Body.Close()
	if err := json.NewDecoder(a.Body).Decode(&seen); err != nil {
		c.Fatal(err)
	}
	return a.StatusCode, seen
}

func (c *cupHost) sits(entrant int, token string) uint64 {
	c.Helper()
	status, seen := c.phoneSays("sit", entrant, token)
	if status != http.StatusOK || seen.Seat == 0 {
		c.Fatalf("no seat: %d %+v", status, seen)
	}
	return seen.Seat
}

// goes is a phone that goes to a match by the token of its seat.
func (c *cupHost) goes(code, name, token string) *client {
	c.Helper()
	at := *c.place
	at.code = code
	return at.dial(map[string]any{"type": "join", "name": name, "token": token})
}

func (c *client) welcomedAs(name string) *client {
	c.p.Helper()
	if f := c.until("a welcome", func(f bot.Frame) bool { return f.Type == "welcome" }); f.Name != name {
		c.p.Fatalf("welcomed as %q, want %q", f.Name, name)
	}
	return c
}

var tokens = []string{strings.Repeat("0a", 16), strings.Repeat("1b", 16), strings.Repeat("2c", 16), strings.Repeat("3d", 16)}

// A phone signs in once. The match's game knows it when it comes, also under the
// name that its team had before; a late one takes its seat there by itself.
func TestAPhoneSignsInOnceForAllMatches(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters", "Stoats", "Voles")
	seat := c.sits(1, tokens[0])
	if again := c.sits(1, tokens[0]); again != seat {
		t.Errorf("the same phone has seat %d, then %d", seat, again)
	}
	if status, seen := c.phoneSays("sit", 1, tokens[1]); status != http.StatusConflict || seen.Code != "seat_taken" {
		t.Errorf("another phone for a team that has one: %d %+v", status, seen)
	}
	if status, seen := c.phoneSays("sit", 9, tokens[1]); status != http.StatusConflict || seen.Code != "unknown_entrant" {
		t.Errorf("a phone for nobody: %d %+v", status, seen)
	}
	if status, seen := c.phoneSays("sit", 2, "mine"); status != http.StatusUnprocessableEntity || seen.Code != "bad_command" {
		t.Errorf("a phone without a token: %d %+v", status, seen)
	}
	c.do("boards", "boards", 2)
	if seen := c.do("draw"); seen.Seats["1"] != seat || !slices.Equal(seen.At, []int{1, 2}) || seen.Boards != 2 || seen.JoinAt != "test.example" {
		t.Fatalf("seats %v, at %d boards matches %v, joined at %q", seen.Seats, seen.Boards, seen.At, seen.JoinAt)
	}
	game := c.do("start", "match", 1, "plan", short("open")).Games["1"]
	if !slices.Equal(game.Sides, []string{"Wrens", "Voles"}) {
		t.Errorf("the sides are %v", game.Sides)
	}
	c.do("rename", "entrant", 1, "name", "Marsh Wrens")

	p.stop()
	c.place = open(t, file)
	if seen := c.see(); seen.Seats["1"] != seat {
		t.Errorf("after a restart the seats are %v", seen.Seats)
	}
	c.sits(4, tokens[3]) // late
	at, host := c.game(game.Code)
	wrens := c.goes(game.Code, "Marsh Wrens", tokens[0]).welcomedAs("Wrens")
	c.goes(game.Code, "Voles", tokens[3]).welcomedAs("Voles")
	at.oneQuestion(host, wrens)
	seen := c.until("the result", func(s cupSeen) bool { return s.match(1).Done() })
	if r := seen.match(1).Result; r.Winner != 1 || !slices.Equal(seen.At, []int{0, 2}) {
		t.Errorf("the result is %+v, at the boards are %v", r, seen.At)
	}
	// For the next match nobody signs in.
	c.do("record", "match", 2, "outcome", "walkover", "winner", 2)
	final := c.do("start", "match", 3).Games["3"]
	c.goes(final.Code, "whatever", tokens[0]).welcomedAs("Marsh Wrens")
}

// The host frees a seat that the wrong phone has taken, in the match that is being
// played too; and a phone that was wrong stands up by itself.
func TestAPhonesSeatIsFreed(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters")
	c.sits(1, tokens[0])
	c.phoneSays("stand", 1, tokens[1]) // another's: nothing happens
	if c.see().Seats["1"] == 0 {
		t.Error("a phone has freed another's seat")
	}
	c.phoneSays("stand", 1, tokens[0])
	c.sits(2, tokens[0])
	c.do("draw")
	game := c.do("start", "match", 1).Games["1"]
	wrongOne := c.goes(game.Code, "Otters", tokens[0]).welcomedAs("Otters")
	if seen := c.do("stand", "entrant", 2); len(seen.Seats) != 0 {
		t.Errorf("after the host has freed a seat: %v", seen.Seats)
	}
	wrongOne.closed(4101)
	c.sits(2, tokens[1])
	c.goes(game.Code, "Otters", tokens[1]).welcomedAs("Otters")
	if seen := c.do("undo"); len(seen.Games) != 0 || seen.Seats["2"] == 0 {
		t.Errorf("undo took a seat back, or not the start: %v, %v", seen.Seats, seen.Games)
	}
}

// Whoever types a tournament's code is led to it, and its drawing leads there.
func TestATournamentIsFoundByItsCode(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters")
	for path, want := range map[string]int{
		"/find?code=" + c.cup:               http.StatusOK,
		"/qr.svg?tournament=" + c.cup:       http.StatusOK,
		"/qr.svg?tournament=otter-burrow-0": http.StatusNotFound,
	} {
		status, body := p.get(path)
		if status != want || want == http.StatusOK && !strings.Contains(body, `"tournament":true`) && !strings.Contains(body, "<svg") {
			t.Errorf("%s: %d %.200s", path, status, body)
		}
	}
	if status, seen := (&cupHost{p, "otter-den-00"}).phoneSays("sit", 1, tokens[0]); status != http.StatusNotFound || seen.Code != "unknown_tournament" {
		t.Errorf("a seat in no tournament: %d %+v", status, seen)
	}
}

// BenchmarkALook is what a phone or a board costs once a second: nothing has changed.
func BenchmarkALook(b *testing.B) {
	p := open(b, filepath.Join(b.TempDir(), "games.db"))
	c := p.cup(tournament.Settings{Format: tournament.Double}, "Wrens", "Otters", "Stoats", "Voles", "Herons", "Hares", "Martens", "Owls")
	c.do("draw")
	c.do("start", "match", 1, "plan", short("open"))
	handler := p.hub.Handler()
	look := func(tag string) *httptest.ResponseRecorder {
		r := httptest.NewRequestWithContext(p.ctx, "GET", "/tournaments/"+c.cup, nil)
		r.Header.Set("If-None-Match", tag)
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		return w
	}
	tag := look("").Header().Get("ETag")
	for b.Loop() {
		if w := look(tag); w.Code != http.StatusNotModified {
			b.Fatalf("answered with %d", w.Code)
		}
	}
}
