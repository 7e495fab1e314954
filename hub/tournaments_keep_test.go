package hub_test

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fieldsign/game/tournament"
)

// A match's sides are named in its plan too: a name that is erased goes from
// there, from the debrief and from the file, and the other side's stays.
func TestASidesNameIsForgotten(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Zanzibar Quokkas", "Otters")
	c.do("draw")
	at, host := c.game(c.do("start", "match", 1, "plan", short("open")).Games["1"].Code)
	quokkas := at.join("Zanzibar Quokkas")
	at.join("Otters")
	at.oneQuestion(host, quokkas)
	c.until("the result", func(s cupSeen) bool { return s.match(1).Done() })
	if status, body := p.asHost("DELETE", "/games/"+at.code+"/teams/t1/name", hostKey); status != http.StatusNoContent {
		t.Fatalf("%d %s", status, body)
	}
	if _, body := p.asHost("GET", "/debrief.json?game="+at.code, hostKey); bytes.Contains(body, []byte("Quokkas")) || !bytes.Contains(body, []byte("Otters")) {
		t.Errorf("the debrief: %s", body)
	}
	if status, body := p.asHost("DELETE", "/tournaments/"+c.cup, hostKey); status != http.StatusNoContent {
		t.Fatalf("erasing the tournament: %d %s", status, body)
	}
	if data, err := os.ReadFile(file); err != nil || bytes.Contains(data, []byte("Quokkas")) {
		t.Errorf("the name is in the file yet, or %v", err)
	}
}

// The hub remembers no name that is erased from a game which it does not run any more.
func TestAnEndedMatchForgetsAName(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Zanzibar Quokkas", "Otters")
	c.do("draw")
	at, host := c.game(c.do("start", "match", 1, "plan", short("open")).Games["1"].Code)
	at.join("Zanzibar Quokkas")
	host.act("end") // with nothing asked, the match waits for its host
	p.stop()
	again := open(t, file)
	c.place = again
	sides := func() []string { return c.see().Games["1"].Sides }
	if got := sides(); !slices.Contains(got, "Zanzibar Quokkas") {
		t.Fatalf("the match is between %v", got)
	}
	if status, body := again.asHost("DELETE", "/games/"+at.code+"/teams/t1/name", hostKey); status != http.StatusNoContent {
		t.Fatalf("%d %s", status, body)
	}
	if got := sides(); len(got) != 2 || slices.Contains(got, "Zanzibar Quokkas") {
		t.Errorf("once the name is erased, the match is between %v", got)
	}
}

// A tournament is in the list of what is stored, and goes with its matches'
// games; other games stay.
func TestATournamentIsErased(t *testing.T) {
	t.Parallel()
	p := begin(t)
	other := p.code
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters", "Stoats", "Voles")
	c.do("draw")
	match := c.do("start", "match", 1).Games["1"].Code
	at, _ := c.game(match)
	phone := at.join("Wrens")
	var list []struct {
		Code       string
		Tournament bool
	}
	if _, body := p.asHost("GET", "/games", hostKey); json.Unmarshal(body, &list) != nil || len(list) != 3 {
		t.Fatalf("stored: %s", body)
	}
	for _, g := range list {
		if g.Tournament != (g.Code == c.cup) {
			t.Errorf("listed as %+v", g)
		}
	}
	if status, _ := p.asHost("DELETE", "/tournaments/"+match, hostKey); status != http.StatusNotFound {
		t.Errorf("a game's code was answered with %d", status)
	}
	if status, body := p.asHost("DELETE", "/tournaments/"+c.cup, "a guess"); status != http.StatusForbidden {
		t.Errorf("with a wrong key: %d %s", status, body)
	}
	if status, body := p.asHost("DELETE", "/tournaments/"+c.cup, hostKey); status != http.StatusNoContent {
		t.Fatalf("%d %s", status, body)
	}
	phone.closed(4100)
	if p.codes() != other {
		t.Errorf("stored yet: %s", p.codes())
	}
	for range 2 {
		if status, _, _ := p.request("GET", "/tournaments/"+c.cup, nil); status != http.StatusNotFound {
			t.Errorf("it is seen yet: %d", status)
		}
		c = p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters")
		if status, _ := p.asHost("DELETE", "/games", hostKey); status != http.StatusNoContent || p.codes() != "" {
			t.Errorf("after everything is erased: %d, %s", status, p.codes())
		}
	}
}

func TestOldTournamentsAreForgotten(t *testing.T) {
	t.Parallel()
	p := begin(t)
	p.hub.Purge(1, time.Now().Add(month)) // the game that open has made
	now := time.Now()
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters")
	c.do("draw")
	p.hub.Purge(month, now.Add(month-time.Hour))
	p.hub.Purge(1, now.Add(23*time.Hour)) // kept till its end
	if !strings.Contains(p.codes(), c.cup) {
		t.Fatal("a tournament was forgotten before its time")
	}
	c.do("record", "match", 1, "outcome", "walkover", "winner", 1)
	c.do("finish")
	p.hub.Purge(month, now.Add(month-time.Hour))
	if !strings.Contains(p.codes(), c.cup) {
		t.Fatal("a tournament that has ended was forgotten before its time")
	}
	p.hub.Purge(month, now.Add(month+time.Hour))
	if p.codes() != "" {
		t.Errorf("still stored: %s", p.codes())
	}
}

// A match goes on where its game was forgotten: it can be started anew.
func TestAMatchOutlivesItsGame(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters")
	c.do("draw")
	code := c.do("start", "match", 1).Games["1"].Code
	if status, body := p.asHost("DELETE", "/games/"+code, hostKey); status != http.StatusNoContent {
		t.Fatalf("%d %s", status, body)
	}
	if g := c.see().Games["1"]; g.Phase != "ended" || g.Scores != nil {
		t.Errorf("the match without its game: %+v", g)
	}
	if g := c.do("start", "match", 1).Games["1"]; g.Phase != "lobby" || g.Code == code {
		t.Errorf("started anew: %+v", g)
	}
}

// Games that no match names are ended once a day, those that one does are not.
func TestStrayGamesAreEnded(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters", "Stoats", "Voles")
	c.do("draw")
	named, voided := c.do("start", "match", 1).Games["1"].Code, c.do("start", "match", 2).Games["2"].Code
	c.do("undo")
	again := c.do("start", "match", 2)
	byHand := again.Games["2"].Code
	c.do("record", "match", 2, "outcome", "walkover", "winner", again.match(2).Home.Entrant)
	phases := func() string {
		p.Helper()
		var all []string
		for _, code := range []string{named, byHand, voided} {
			var d struct{ Ended bool }
			if status, body := p.asHost("GET", "/debrief.json?game="+code, hostKey); status != http.StatusOK || json.Unmarshal(body, &d) != nil {
				t.Fatalf("%d %s", status, body)
			}
			all = append(all, map[bool]string{true: "ended", false: "open"}[d.Ended])
		}
		return strings.Join(all, " ")
	}
	p.hub.EndStray(time.Now())
	if got := phases(); got != "open open open" {
		t.Errorf("at once: %s", got)
	}
	later := time.Now().Add(2 * time.Hour)
	_, host := c.game(voided)
	p.hub.EndStray(later)
	if got := phases(); got != "open ended open" {
		t.Errorf("while the host looks at the voided one: %s", got)
	}
	host.conn.Drop()
	p.Eventually("the voided game is ended", func() bool {
		p.hub.EndStray(later)
		return phases() == "open ended ended"
	})
}

// What reads all that is stored takes no tournament for a game.
func TestTournamentsAreNoGames(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	p.playSeason("2026", []string{"Wrens", "Otters"}, func(i int) int { return i })
	p.counted("2026", 1)
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters")
	c.do("draw")
	match := c.do("start", "match", 1).Games["1"].Code
	c.do("record", "match", 1, "outcome", "walkover", "winner", 1)
	c.do("finish")
	p.stop()
	p = open(t, file)
	for _, code := range p.hub.Unfinished() {
		if code == match || strings.Contains(code, c.cup) {
			t.Errorf("%s is offered to be gone on with", code)
		}
	}
	if v := p.counted("2026", 1); len(v.Games) != 1 {
		t.Errorf("the season has %+v", v.Games)
	}
	for _, query := range []string{"", "?season=2026"} {
		var v struct {
			Games  []struct{ Game string }
			Unread int
		}
		if status, body := p.asHost("GET", "/trends.json"+query, hostKey); status != http.StatusOK || json.Unmarshal(body, &v) != nil || len(v.Games) != 1 || v.Unread != 0 {
			t.Errorf("trends%s: %d %s", query, status, body)
		}
	}
}
