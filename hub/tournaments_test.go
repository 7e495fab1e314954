package hub_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"fieldsign/game/tournament"
	"fieldsign/hub/bot"
	"fieldsign/hub/store"
)

// cupSeen is what these tests read of a tournament.
type cupSeen struct {
	Seq      uint64
	Phase    string
	Entrants []tournament.Entrant
	Order    []int
	Columns  []tournament.Column
	Ranking  []tournament.Standing
	Ready    []int
	Voided   []int
	Games    map[string]struct {
		Code, Phase string
		Scores      []int
		Sides       []string
		PlayOff     bool
		Recorded    bool
	}
	Left tournament.Forecast
	May  struct {
		Draw, Next, Finish, Rating bool
		Undo, Redo                 string
	}
	Boards        int
	At            []int
	Seats         map[string]uint64
	JoinAt        string
	Code, Message string // of a refusal, or of the tournament
}

func (s *cupSeen) match(n int) *tournament.Match {
	for _, c := range s.Columns {
		for _, m := range c.Matches {
			if m.ID == n {
				return &m
			}
		}
	}
	return &tournament.Match{}
}

// cupHost is a host's page of a tournament, without the page.
type cupHost struct {
	*place
	cup string
}

func (p *place) request(method, path string, body any) (int, http.Header, cupSeen) {
	p.Helper()
	data, _ := json.Marshal(body)
	r, err := http.NewRequestWithContext(p.ctx, method, p.url+path, bytes.NewReader(data))
	if err != nil {
		p.Fatal(err)
	}
	r.Header.Set("Authorization", "Bearer "+hostKey)
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		p.Fatal(err)
	}
	defer a.Body.Close()
	var seen cupSeen
	if err := json.NewDecoder(a.Body).Decode(&seen); err != nil && err != io.EOF {
		p.Fatalf("%s %s: %v", method, path, err)
	}
	return a.StatusCode, a.Header, seen
}

func (p *place) cup(settings tournament.Settings, teams ...string) *cupHost {
	p.Helper()
	status, _, made := p.request("POST", "/tournaments", map[string]any{"name": "Term cup", "settings": settings})
	if status != http.StatusCreated {
		p.Fatalf("no tournament: %d %+v", status, made)
	}
	c := &cupHost{p, made.Code}
	c.do("enter", "names", teams)
	return c
}

// try gives a command and returns what the hub answers.
func (c *cupHost) try(kind string, more ...any) (int, cupSeen) {
	c.Helper()
	frame := map[string]any{"type": kind, "id": fmt.Sprintf("k%d", commands.Add(1))}
	for i := 0; i < len(more); i += 2 {
		frame[more[i].(string)] = more[i+1]
	}
	status, _, seen := c.request("POST", "/tournaments/"+c.cup+"/commands", frame)
	return status, seen
}

func (c *cupHost) do(kind string, more ...any) cupSeen {
	c.Helper()
	status, seen := c.try(kind, more...)
	if status != http.StatusOK {
		c.Fatalf("%s was refused with %d: %s", kind, status, seen.Message)
	}
	return seen
}

func (c *cupHost) refused(code, kind string, more ...any) {
	c.Helper()
	if status, seen := c.try(kind, more...); status < 400 || status > 499 || seen.Code != code {
		c.Errorf("%s was answered with %d %s %q, want %s", kind, status, seen.Code, seen.Message, code)
	}
}

func (c *cupHost) see() cupSeen {
	c.Helper()
	_, _, seen := c.request("GET", "/tournaments/"+c.cup, nil)
	return seen
}

// until looks again and again until what is seen fits.
func (c *cupHost) until(what string, fits func(cupSeen) bool) cupSeen {
	c.Helper()
	for {
		if seen := c.see(); fits(seen) {
			return seen
		}
		select {
		case <-c.ctx.Done():
			c.Fatalf("the tournament does not show %s: %+v", what, c.see())
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func short(kind string) map[string]any {
	return map[string]any{"roster": "furbearers", "rounds": []any{round(kind, 1)}}
}

func TestATournamentIsPlayed(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters", "Stoats", "Voles")
	c.refused("name_refused", "enter", "names", []string{"Herons", "sh1t"})
	c.refused("name_taken", "enter", "name", "wrens")
	seen := c.see()
	if len(seen.Order) != 5 || !seen.May.Draw {
		t.Fatalf("entered %+v, may %+v", seen.Order, seen.May)
	}
	c.do("withdraw", "entrant", 5)
	seen = c.do("draw")
	if !slices.Equal(seen.Ready, []int{1, 2}) {
		t.Fatalf("ready are %v", seen.Ready)
	}
	// Both at once, on two boards.
	first, second := c.do("start", "match", 1, "plan", short("open")), c.do("start", "match", 2)
	if first.Games["1"].Code == "" || second.Games["2"].Code == "" || first.Games["1"].Code == second.Games["2"].Code {
		t.Fatalf("games %+v and %+v", first.Games, second.Games)
	}
	c.playedByWrens(first.Games["1"].Code)
	seen = c.until("the first result", func(s cupSeen) bool { return s.match(1).Done() })
	if m := seen.match(1); m.Result.Winner != m.Home.Entrant || m.Result.Home != 100 || m.Result.Away != 0 {
		t.Fatalf("the first match: %+v", m)
	}
	c.refused("level", "record", "match", 2, "outcome", "played", "home", 5, "away", 5)
	seen = c.do("record", "match", 2, "outcome", "walkover", "winner", 2)
	if !slices.Equal(seen.Ready, []int{3}) || seen.May.Undo != "recorded" {
		t.Fatalf("after the semi-finals: ready %v, undo %q", seen.Ready, seen.May.Undo)
	}
	c.do("start", "match", 3)
	seen = c.do("correct", "match", 2, "outcome", "walkover", "winner", 3)
	if !slices.Equal(seen.Voided, []int{3}) || len(seen.Games) != 0 || seen.match(3).Away.Entrant != 3 {
		t.Fatalf("after the correction: %v lost, games %v, the final %+v", seen.Voided, seen.Games, seen.match(3))
	}
	if seen = c.do("undo"); len(seen.Games) != 1 || len(seen.Voided) != 0 {
		t.Fatalf("the correction undone: games %v", seen.Games)
	}
	seen = c.do("withdraw", "entrant", 2)
	if r := seen.match(3).Result; r.Winner != 1 || r.Outcome != tournament.Forfeit || seen.Left.Matches != 0 {
		t.Fatalf("after a withdrawal: %+v, %d matches left", r, seen.Left.Matches)
	}
}

// playedByWrens plays the game of two sides, of which the first answers rightly.
func (c *cupHost) playedByWrens(code string) {
	c.Helper()
	at := *c.place
	at.code = code
	host := at.host()
	stranger := at.dial(map[string]any{"type": "join", "name": "Herons"})
	if f := stranger.until("a refusal", func(f bot.Frame) bool { return f.Type == "refused" }); f.Code != "not_a_side" {
		c.Errorf("a stranger's join was answered with %s", f.Code)
	}
	home, away := at.join("Wrens"), at.join("Voles")
	at.oneQuestion(host, home)
	away.phase("ended")
}

// oneQuestion plays a game of one question that some answer rightly.
func (p *place) oneQuestion(host *client, right ...*client) {
	p.Helper()
	host.act("next")
	shown := host.phase("asking")
	for _, phone := range right {
		phone.do(map[string]any{"type": "answer", "question": shown.Question.ID, "option": shown.Host.Key})
	}
	if len(right) < shown.Teams { // or else it has closed by itself
		host.act("close")
	}
	host.phase("revealed")
	host.act("next")
	host.phase("ended")
}

func (c *cupHost) game(code string) (*place, *client) {
	c.Helper()
	at := *c.place
	at.code = code
	return &at, at.host()
}

// playOff plays the question after the first match, which the first side wins.
func (c *cupHost) playOff(code, first, other string) cupSeen {
	c.Helper()
	at, host := c.game(code)
	winner := at.join(first)
	at.join(other)
	host.act("next")
	shown := host.phase("asking")
	winner.until("the question", func(f bot.Frame) bool { return f.Question != nil })
	winner.do(map[string]any{"type": "buzz", "question": shown.Question.ID})
	host.phase("buzzed")
	host.act("rule", "right", true)
	host.phase("revealed")
	host.act("next")
	return c.until("the result", func(s cupSeen) bool { return s.match(1).Done() })
}

// A match asks questions of its own, whatever game the plan was chosen for.
func TestAMatchIsAskedAnew(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters")
	c.do("draw")
	chosen := round("open", 1)
	chosen["set"] = "of-another-game"
	if g := c.do("start", "match", 1, "plan", map[string]any{"roster": "furbearers", "rounds": []any{chosen}}).Games["1"]; g.Phase != "lobby" {
		t.Errorf("the match is %+v", g)
	}
}

func TestALevelMatchIsPlayedOff(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters")
	c.do("draw")
	first := c.do("start", "match", 1, "plan", short("open")).Games["1"].Code
	at, host := c.game(first)
	at.oneQuestion(host, at.join("Wrens"), at.join("Otters"))
	seen := c.until("a level game", func(s cupSeen) bool { return s.Games["1"].Phase == "ended" })
	if m := seen.match(1); m.Done() || !slices.Equal(seen.Games["1"].Scores, []int{100, 100}) {
		t.Fatalf("a level match of a bracket: %+v, %+v", m, seen.Games)
	}
	second := c.do("start", "match", 1, "plan", short("open")).Games["1"]
	if second.Code == first || !second.PlayOff {
		t.Fatalf("the play-off: %+v", second)
	}
	seen = c.playOff(second.Code, "Otters", "Wrens")
	if r := seen.match(1).Result; r.Winner != 2 || r.Home != 100 || r.Away != 100 {
		t.Fatalf("after the play-off: %+v", r)
	}
}

// A game's end counts even if the hub is gone before it is recorded, and a
// result that the host takes back is not taken over again.
func TestAResultIsTakenOverOnce(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Otters")
	c.do("draw")
	at, host := c.game(c.do("start", "match", 1, "plan", short("open")).Games["1"].Code)
	at.oneQuestion(host, at.join("Wrens"))
	// Only one side came: the host decides.
	if seen := c.see(); seen.Games["1"].Phase != "ended" || seen.Games["1"].Scores != nil {
		t.Fatalf("a match without one side: %+v", seen.Games)
	}
	at, host = c.game(c.do("start", "match", 1, "plan", short("open")).Games["1"].Code)
	wrens := at.join("Wrens")
	at.join("Otters")
	at.oneQuestion(host, wrens)
	c.until("the result", func(s cupSeen) bool { return s.match(1).Done() })
	seen := c.do("undo")
	for range 3 {
		seen = c.see()
	}
	if m := seen.match(1); m.Done() || !seen.Games["1"].Recorded {
		t.Fatalf("a result that was taken back: %+v, %+v", m, seen.Games)
	}
	p.stop()
	p = open(t, file)
	c.place = p
	if again := c.see(); again.Seq != seen.Seq || again.match(1).Done() {
		t.Fatalf("after a restart: event %d, was %d", again.Seq, seen.Seq)
	}
	c.do("redo")
	seen = c.do("finish")
	if seen.Phase != "ended" || seen.Ranking[0].Name != "Wrens" {
		t.Fatalf("at the end: %s, %+v", seen.Phase, seen.Ranking)
	}
}

func TestWhoMaySeeATournament(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.Swiss}, "Wrens", "Otters", "Stoats")
	path := p.url + "/tournaments/" + c.cup
	for what, asked := range map[string]struct {
		method, path string
		want         int
	}{
		"the public":            {"GET", path, http.StatusOK},
		"a guess":               {"GET", p.url + "/tournaments/otter-den-00", http.StatusNotFound},
		"a command without key": {"POST", path + "/commands", http.StatusForbidden},
		"a new one without key": {"POST", p.url + "/tournaments", http.StatusForbidden},
		"the list without key":  {"GET", p.url + "/tournaments", http.StatusForbidden},
		"its log as a game":     {"GET", p.url + "/find?code=Tournament%20" + c.cup, http.StatusNotFound},
	} {
		r, _ := http.NewRequestWithContext(p.ctx, asked.method, asked.path, nil)
		a, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		a.Body.Close()
		if a.StatusCode != asked.want {
			t.Errorf("%s: %d, want %d", what, a.StatusCode, asked.want)
		}
		if tag := a.Header.Get("ETag"); tag != "" {
			r.Header.Set("If-None-Match", tag)
			if a, err = http.DefaultClient.Do(r); err != nil {
				t.Fatal(err)
			}
			a.Body.Close()
			if a.StatusCode != http.StatusNotModified {
				t.Errorf("%s, again: %d", what, a.StatusCode)
			}
		}
	}
	if err := p.listed(); err != nil {
		t.Error(err)
	}
}

// listed checks the host's list of one tournament.
func (p *place) listed() error {
	r, err := http.NewRequestWithContext(p.ctx, "GET", p.url+"/tournaments", nil)
	if err != nil {
		return err
	}
	r.Header.Set("Authorization", "Bearer "+hostKey)
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		return err
	}
	defer a.Body.Close()
	var list []struct{ Code, Name, Phase string }
	if err := json.NewDecoder(a.Body).Decode(&list); err != nil {
		return err
	}
	if len(list) != 1 || list[0].Name != "Term cup" || list[0].Phase != "entry" {
		return fmt.Errorf("the list is %+v", list)
	}
	return nil
}

// A seeding by the ratings of a season: newcomers stand between the others.
func TestSeedingByRating(t *testing.T) {
	t.Parallel()
	p := begin(t)
	err := p.hub.CountResult(p.ctx, "2026", store.Result{Game: "alder-vole-10", Title: "Opening", Began: "2026-09-01T15:00:00.000Z", Lines: []store.Line{
		{Name: "Otters", Rank: 1, Points: 300, Right: 3, Of: 3}, {Name: "Stoats", Rank: 2, Points: 100, Right: 1, Of: 3}}})
	if err != nil {
		t.Fatal(err)
	}
	c := p.cup(tournament.Settings{Format: tournament.RoundRobin}, "Wrens", "Stoats", "Otters")
	if seen := c.do("reseed", "seeding", "rating", "season", "2026"); !slices.Equal(seen.Order, []int{3, 1, 2}) {
		t.Errorf("by rating: %v", seen.Order)
	}
	c.refused("bad_seeding", "reseed", "seeding", "whim")
	if seen := c.do("reseed", "seeding", "lot"); len(seen.Order) != 3 {
		t.Errorf("by lot: %v", seen.Order)
	}
}

// A match is a game, and counts in its season as one; what parts a level match
// of a bracket does not count again.
func TestMatchesCountInASeason(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters")
	c.do("draw")
	wish := short("open")
	wish["season"] = "2026"
	at, host := c.game(c.do("start", "match", 1, "plan", wish).Games["1"].Code)
	at.oneQuestion(host, at.join("Wrens"), at.join("Otters"))
	v := p.counted("2026", 1)
	if got := points(v); !same(got, "1 Wrens 100 1/1 1; 1 Otters 100 1/1 1") || v.Games[0].Title != "Term cup: match 1" {
		t.Errorf("the season has %s, of %+v", got, v.Games)
	}
	playOff := c.do("start", "match", 1, "plan", wish).Games["1"]
	if !playOff.PlayOff {
		t.Fatalf("no play-off: %+v", playOff)
	}
	c.playOff(playOff.Code, "Wrens", "Otters")
	if v = p.counted("2026", 1); len(v.Games) != 1 {
		t.Errorf("the play-off counts as well: %+v", v.Games)
	}
	other := p.cup(tournament.Settings{Format: tournament.Single}, "Otters", "Wrens", "Newts")
	other.refused("unknown_season", "reseed", "seeding", "rating", "season", "no such")
}

// The wrong phone in a side's seat is sent away for good, and the right one
// takes the seat, in the lobby as in play.
func TestASeatIsFreed(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters")
	c.do("draw")
	at, host := c.game(c.do("start", "match", 1, "plan", short("open")).Games["1"].Code)
	seats := func(taken ...bool) {
		t.Helper()
		host.until(fmt.Sprint("seats ", taken), func(f bot.Frame) bool {
			var v struct {
				Host struct{ Seats []struct{ Taken bool } }
			}
			return json.Unmarshal(f.Raw, &v) == nil && len(v.Host.Seats) == 2 && v.Host.Seats[0].Taken == taken[0] && v.Host.Seats[1].Taken == taken[1]
		})
	}
	wrongOne := at.join("Wrens")
	seats(true, false)
	host.act("remove", "team", "t1")
	wrongOne.closed(4101)
	seats(false, false)
	for _, f := range wrongOne.log {
		if f.Type == "welcome" {
			at.dial(map[string]any{"type": "resume", "token": f.Token}).closed(4101)
		}
	}
	wrens, otters := at.join("Wrens"), at.join("Otters")
	seats(true, true)
	host.act("next")
	shown := host.phase("asking")
	host.act("remove", "team", "t3")
	otters.closed(4101)
	at.join("Otters")
	wrens.do(map[string]any{"type": "answer", "question": shown.Question.ID, "option": shown.Host.Key})
	host.act("close")
	host.phase("revealed")
	host.act("next")
	seen := c.until("the result", func(s cupSeen) bool { return s.match(1).Done() })
	if r := seen.match(1).Result; r.Winner != 1 || r.Home != 100 || r.Away != 0 {
		t.Errorf("the result: %+v", r)
	}
}

// A station round is played in a match as any other.
func TestAMatchAtStations(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters")
	c.do("draw")
	at, host := c.game(c.do("start", "match", 1, "plan", short("open")).Games["1"].Code)
	host.act("plan", "plan", stationPlan(60))
	at.join("Wrens")
	at.join("Otters")
	host.act("next")
	host.phase("walk")
	host.act("next")
	host.phase("station")
	host.act("mark")
	host.phase("marked")
	host.act("next")
	seen := c.until("the level game's end", func(s cupSeen) bool { return s.Games["1"].Phase == "ended" })
	if g := seen.Games["1"]; !slices.Equal(g.Scores, []int{0, 0}) {
		t.Fatalf("the game: %+v", g)
	}
	if g := c.do("start", "match", 1, "plan", stationPlan(60)).Games["1"]; !g.PlayOff {
		t.Errorf("the play-off of a match at stations: %+v", g)
	}
}
