package hub_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fieldsign/game/debrief"
	"fieldsign/game/rating"
	"fieldsign/game/tournament"
	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
)

// seasonJSON is what the host's page gets.
type seasonJSON struct {
	Seasons []string
	Season  *store.Season
	Dates   []string
	Table   []store.Leader
	Ratings []struct {
		rating.Member
		Name string
	}
	Games []struct {
		Game, Title, Date string
		Due               bool
		Teams             int
	}
}

// playSeason plays a new game of two questions for a season; right(i) is how
// many of them team i knows.
func (p *place) playSeason(season string, names []string, right func(team int) int) {
	p.Helper()
	code, err := p.hub.CreateGame(p.ctx)
	if err != nil {
		p.Fatal(err)
	}
	p.code = code
	host := p.host()
	defer host.conn.Drop()
	wish := plan(map[string]any{"name": "R", "kind": "open", "subjects": []string{"skull", "track", "scat"}, "count": 2, "seconds": 60, "points": 100})
	wish["season"], wish["title"] = season, "=Review"
	host.act("plan", "plan", wish)
	var phones []*client
	for _, name := range names {
		phones = append(phones, p.join(name))
	}
	for n := range 2 {
		host.act("next")
		shown := host.until("the question", func(f bot.Frame) bool { return f.Phase == "asking" && f.Question.N == n+1 && f.Host.Key >= 0 })
		for i, c := range phones {
			option := wrong(shown.Host.Key)
			if n < right(i) {
				option = shown.Host.Key
			}
			c.until("the question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == shown.Question.ID })
			if got := c.do(map[string]any{"type": "answer", "question": shown.Question.ID, "option": option}); got.Type != "done" {
				p.Fatalf("an answer was refused: %s", got.Message)
			}
		}
		host.phase("revealed")
	}
	host.act("end")
}

func (p *place) season(query string) (v seasonJSON) {
	p.Helper()
	status, text := p.ask("GET", "/season.json"+query, hostKey, "")
	if err := json.Unmarshal([]byte(text), &v); err != nil || status != http.StatusOK {
		p.Fatalf("season: %d, %v: %s", status, err, text)
	}
	return v
}

// counted waits until so many games have been counted in a season.
func (p *place) counted(season string, games int) seasonJSON {
	p.Helper()
	for {
		n := 0
		v := seasonJSON{}
		if _, text := p.ask("GET", "/season.json?season="+url.QueryEscape(season), hostKey, ""); json.Unmarshal([]byte(text), &v) == nil {
			for _, g := range v.Games {
				if g.Teams > 0 {
					n++
				}
			}
			if n == games {
				return v
			}
		}
		select {
		case <-p.ctx.Done():
			p.Fatalf("%d games are counted, want %d: %+v", n, games, v)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func points(v seasonJSON) string {
	var out []string
	for _, l := range v.Table {
		out = append(out, fmt.Sprintf("%d %s %d %d/%d %d", l.Rank, l.Name, l.Points, l.Right, l.Of, l.Games))
	}
	return strings.Join(out, "; ")
}

func TestASeason(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	if v := p.season(""); v.Season != nil || len(v.Seasons) != 0 {
		t.Errorf("before any: %+v", v)
	}
	p.playSeason("Spring  term", []string{"Wrens", "Otters", "Öwls", "Voles"}, func(i int) int { return []int{2, 1, 1, 0}[i] })
	first := p.code
	p.counted("Spring term", 1)
	p.playSeason("Spring term", []string{"OTTERS", "Hares"}, func(i int) int { return 1 })
	p.playSeason("", []string{"Strangers"}, func(int) int { return 2 }) // counts nowhere
	uncounted := p.code
	const want = "1 Wrens 200 2/2 1; 1 OTTERS 200 2/4 2; 3 Hares 100 1/2 1; 3 Öwls 100 1/2 1; 5 Voles 0 0/2 1"
	got := points(p.counted("Spring term", 2))
	if !same(got, want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	p.stop() // the next hub tells nothing twice
	p = open(t, file)
	v := p.season("?season=" + url.QueryEscape("Spring term"))
	if got := points(v); !same(got, want) || len(v.Games) != 2 || len(v.Dates) != 1 || len(v.Ratings) != 5 || v.Ratings[0].Name != "Wrens" && v.Ratings[0].Name != "OTTERS" {
		t.Errorf("after a restart: %s, %+v", got, v)
	}
	p.csvRecomputes("Spring term", v)

	p.post("/seasons/game", `{"season": "Spring term", "game": "`+first+`", "out": true}`, http.StatusOK)
	if got := points(p.counted("Spring term", 1)); !same(got, "1 Hares 100 1/2 1; 1 OTTERS 100 1/2 1") {
		t.Errorf("without the first game: %s", got)
	}
	for range 2 {
		p.post("/seasons/game", `{"season": "Spring term", "game": "`+first+`"}`, http.StatusOK)
		p.post("/seasons/game", `{"season": "Spring term", "game": "`+uncounted+`"}`, http.StatusOK)
	}
	if got := points(p.counted("Spring term", 3)); !same(got, "1 OTTERS 200 2/4 2; 1 Strangers 200 2/2 1; 1 Wrens 200 2/2 1; 4 Hares 100 1/2 1; 4 Öwls 100 1/2 1; 6 Voles 0 0/2 1") {
		t.Errorf("all three: %s", got)
	}
	p.post("/seasons/game", `{"season": "Spring term", "game": "otter-den-99"}`, http.StatusNotFound)
	p.post("/seasons/game", `{"season": " ", "game": "`+first+`"}`, http.StatusUnprocessableEntity)
	running, err := p.hub.CreateGame(p.ctx)
	if err != nil {
		t.Fatal(err)
	}
	p.post("/seasons/game", `{"season": "Spring term", "game": "`+running+`"}`, http.StatusConflict)

	if status, _ := p.ask("DELETE", "/seasons?season="+url.QueryEscape("Spring term")+"&team="+url.QueryEscape("öwls"), hostKey, ""); status != http.StatusNoContent {
		t.Errorf("erasing a team: %d", status)
	}
	if got := points(p.counted("Spring term", 3)); strings.Contains(got, "Öwls") || !strings.Contains(got, "Voles") {
		t.Errorf("with a team erased: %s", got)
	}
	if status, _ := p.ask("DELETE", "/seasons?season="+url.QueryEscape("Spring term"), hostKey, ""); status != http.StatusNoContent {
		t.Errorf("erasing the season: %d", status)
	}
	p.stop()
	p = open(t, file) // and it stays erased
	if v := p.season(""); v.Season != nil {
		t.Errorf("erased: %+v", v)
	}
}

// same compares tables: lines of equal rank may stand in either order of names.
func same(got, want string) bool {
	a, b := strings.Split(got, "; "), strings.Split(want, "; ")
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(a, b)
}

func (p *place) post(path, body string, want int) string {
	p.Helper()
	status, text := p.ask("POST", path, hostKey, body)
	if status != want {
		p.Errorf("POST %s %s: %d, want %d: %s", path, body, status, want, text)
	}
	return text
}

// csvRecomputes has another program read the file and make the table of it.
func (p *place) csvRecomputes(season string, v seasonJSON) {
	p.Helper()
	awk, err := exec.LookPath("awk")
	if err != nil {
		p.Skip("awk is not installed: install it to recompute the table with another program")
	}
	status, text := p.ask("GET", "/season.csv?season="+url.QueryEscape(season), hostKey, "")
	if status != http.StatusOK || !strings.Contains(text, ",'=Review,") {
		p.Fatalf("%d: %s", status, text)
	}
	cmd := exec.Command(awk, "-f", "testdata/season.awk")
	cmd.Stdin = strings.NewReader(text)
	out, err := cmd.CombinedOutput()
	if got := strings.ReplaceAll(strings.TrimSpace(string(out)), "\n", "; "); err != nil || !same(got, points(v)) {
		p.Errorf("recomputed (%v): %s\nthe table:   %s\nof %s", err, out, points(v), text)
	}
}

func TestWhoMaySeeASeason(t *testing.T) {
	t.Parallel()
	p := begin(t)
	for n := range 3 {
		r := store.Result{Game: fmt.Sprint("cup-", n), Title: "Cup", Began: fmt.Sprintf("2026-05-%02dT10:00:00Z", n+1), Lines: []store.Line{{Name: "Wrens", Rank: 1 + n%2, Points: 3}, {Name: "Otters", Rank: 2 - n%2, Points: 1}}}
		for range 2 {
			if err := p.hub.CountResult(p.ctx, "2026", r); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, path := range []string{"GET /season.json", "GET /season.csv?season=2026", "POST /seasons", "DELETE /seasons?season=2026", "POST /seasons/game", "POST /fair-teams.json", "GET /trends.json"} {
		method, path, _ := strings.Cut(path, " ")
		if status, _ := p.ask(method, path, "guess", "{}"); status != http.StatusForbidden {
			t.Errorf("%s %s without the host key: %d", method, path, status)
		}
	}
	board := func() (int, string) { return p.get("/season/board.json?season=2026") }
	if status, _ := board(); status != http.StatusNotFound {
		t.Errorf("the board before it is opened: %d", status)
	}
	p.post("/seasons", `{"id": "2026", "open": true}`, http.StatusOK)
	status, text := board()
	if status != http.StatusOK || !strings.Contains(text, `"name":"Wrens","points":9`) || !strings.Contains(text, `"ratings":[]`) || strings.Contains(text, "deviation") {
		t.Errorf("open: %d %s", status, text)
	}
	p.post("/seasons", `{"id": "2026", "open": true, "ratings": true}`, http.StatusOK)
	if _, text := board(); strings.Count(text, "deviation") != 2 {
		t.Errorf("with ratings: %s", text)
	}
	p.post("/seasons", `{"id": "2026", "ratings": true}`, http.StatusOK)
	if status, _ := board(); status != http.StatusNotFound {
		t.Errorf("the board after it is closed: %d", status)
	}
	order, err := p.hub.Seeding(p.ctx, "2026", []string{"Newcomers", "otters", "WRENS"})
	if err != nil || len(order) != 3 || slices.Index(order, 2) > slices.Index(order, 1) {
		t.Errorf("seeding %v, error %v: the Wrens have won two games of three", order, err)
	}
}

func TestFairTeams(t *testing.T) {
	t.Parallel()
	p := begin(t)
	names := []string{"Ash", "Birch", "Cedar", "Elm", "Fir", "Hazel", "Oak"}
	var lines []store.Line
	for i, name := range names[:4] {
		lines = append(lines, store.Line{Name: name, Rank: i + 1})
	}
	if err := p.hub.CountResult(p.ctx, "2026", store.Result{Game: "a", Began: "2026-05-01", Lines: lines}); err != nil {
		t.Fatal(err)
	}
	var by struct {
		Seed   uint64
		Spread float64
		Teams  []struct {
			Players []struct {
				Name   string
				Rating float64
				Known  bool
			}
			Total, Mean float64
		}
	}
	split := func(season string, seed uint64) string {
		body, _ := json.Marshal(map[string]any{"names": names, "teams": 3, "season": season, "seed": seed})
		text := p.post("/fair-teams.json", string(body), http.StatusOK)
		if err := json.Unmarshal([]byte(text), &by); err != nil {
			t.Fatal(err)
		}
		return text
	}
	for _, season := range []string{"", "2026"} {
		drawn := split(season, 0)
		if again := split(season, by.Seed); again != drawn {
			t.Errorf("the same seed gives other teams: %s, %s", drawn, again)
		}
		seen := map[string]bool{}
		for _, team := range by.Teams {
			if n := len(team.Players); n < 2 || n > 3 {
				t.Errorf("a team of %d: %s", n, drawn)
			}
			total := 0.0
			for _, pl := range team.Players {
				total += pl.Rating
				if pl.Known != (season != "" && slices.Index(names, pl.Name) < 4) {
					t.Errorf("%s: known %v", pl.Name, pl.Known)
				}
				seen[pl.Name] = true
			}
			if total != team.Total {
				t.Errorf("a total of %f, not %f", team.Total, total)
			}
		}
		if len(seen) != len(names) {
			t.Errorf("%d of %d are in a team", len(seen), len(names))
		}
	}
	if by.Spread > 60 {
		t.Errorf("balanced teams are %.0f apart", by.Spread)
	}
	for _, bad := range []string{`{"names": ["A", "a"], "teams": 2}`, `{"names": ["A"], "teams": 2}`, `{"names": ["A", "B"], "teams": 1}`, `{"names": ["A", ""], "teams": 2}`} {
		p.post("/fair-teams.json", bad, http.StatusUnprocessableEntity)
	}
	p.post("/fair-teams.json", `{"names": ["A", "             Wrens             "], "teams": 2}`, http.StatusOK)
	p.post("/fair-teams.json", `[`, http.StatusBadRequest)
	p.post("/fair-teams.json", `{"names": ["A", "B"], "teams": 2, "season": "none"}`, http.StatusNotFound)
}

func TestTrends(t *testing.T) {
	t.Parallel()
	p := begin(t)
	var codes []string
	for n := range 3 {
		p.playSeason([]string{"2026", "2026", ""}[n], []string{"Wrens", "Otters"}, func(i int) int { return n })
		codes = append(codes, p.code)
	}
	p.counted("2026", 2)
	p.cup(tournament.Settings{Format: tournament.Swiss}, "Stoats", "Otters") // which is no game to be read
	trends := func(query string) (shown, chosen int, found debrief.Trends) {
		var v struct {
			Games  []struct{ Chosen bool }
			Unread int
			Trends debrief.Trends
		}
		status, text := p.ask("GET", "/trends.json"+query, hostKey, "")
		if err := json.Unmarshal([]byte(text), &v); err != nil || status != http.StatusOK {
			t.Fatalf("%d, %v: %s", status, err, text)
		}
		if strings.Contains(text, "Wrens") {
			t.Errorf("a team's name in %s", text)
		}
		if v.Unread > 0 {
			t.Errorf("%d logs could not be read", v.Unread)
		}
		for _, g := range v.Games {
			if g.Chosen {
				chosen++
			}
		}
		return len(v.Games), chosen, v.Trends
	}
	if shown, chosen, got := trends(""); shown != 3 || chosen != 3 || len(got.All) != 1 || got.All[0].Share.Right != 6 || got.All[0].Share.Of != 12 || len(got.Traits) == 0 || len(got.Species) == 0 {
		t.Errorf("all: %d shown, %d chosen, %+v", shown, chosen, got.All)
	}
	if shown, chosen, got := trends("?season=2026"); shown != 2 || chosen != 2 || got.All[0].Share.Right != 2 {
		t.Errorf("a season: %d shown, %d chosen, %+v", shown, chosen, got.All)
	}
	if shown, chosen, got := trends("?game=" + codes[2]); shown != 3 || chosen != 1 || got.All[0].Share.Right != 4 {
		t.Errorf("one game: %d shown, %d chosen, %+v", shown, chosen, got.All)
	}
}

// away is a store that can't be reached for a while.
type away struct {
	store.Store
	left atomic.Int32 // calls that fail yet
}

func (s *away) AddResult(ctx context.Context, season string, r store.Result) error {
	if s.left.Add(-1) >= 0 {
		return fmt.Errorf("%w: a test", store.ErrUnavailable)
	}
	return s.Store.AddResult(ctx, season, r)
}

// A game is counted even if the store was away as it ended.
func TestASeasonWaitsForItsStore(t *testing.T) {
	t.Parallel()
	s, err := bolt.Open(filepath.Join(t.TempDir(), "games.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	kept := &away{Store: s}
	kept.left.Store(3)
	p := openOn(t, kept)
	defer p.stop()
	p.playSeason("2026", []string{"Wrens", "Otters"}, func(i int) int { return i })
	if got := points(p.counted("2026", 1)); got != "1 Otters 100 1/2 1; 2 Wrens 0 0/2 1" {
		t.Errorf("got %s", got)
	}
}
