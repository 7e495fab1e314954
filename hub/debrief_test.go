package hub_test

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"net/http"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/bot"
	"fieldsign/hub/store"
	"fieldsign/hub/store/memory"
)

// ask sends a request with a host key.
func (p *place) ask(method, path, key, body string) (int, string) {
	p.Helper()
	r, err := http.NewRequestWithContext(p.ctx, method, p.url+path, strings.NewReader(body))
	if err != nil {
		p.Fatal(err)
	}
	r.Header.Set("Authorization", "Bearer "+key)
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		p.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		p.Fatal(err)
	}
	return answer.StatusCode, string(text)
}

// playOpen plays an open round in which team i is right where right(i, n) is.
func (p *place) playOpen(teams, questions int, right func(team, question int) bool) (*client, []*client) {
	host := p.host()
	host.act("plan", "plan", plan(map[string]any{"name": "R", "kind": "open", "subjects": []string{"skull", "track", "scat"}, "count": questions, "seconds": 60, "points": 100}))
	var phones []*client
	for i := range teams {
		phones = append(phones, p.join("Team "+strconv.Itoa(i+1)))
	}
	for n := range questions {
		host.act("next")
		shown := host.until("the question", func(f bot.Frame) bool { return f.Phase == "asking" && f.Question.N == n+1 && f.Host.Key >= 0 })
		for i, c := range phones {
			option := wrong(shown.Host.Key)
			if right(i, n) {
				option = shown.Host.Key
			}
			c.until("the question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == shown.Question.ID })
			if got := c.do(map[string]any{"type": "answer", "question": shown.Question.ID, "option": option}); got.Type != "done" {
				p.Fatalf("an answer was refused: %s", got.Message)
			}
		}
		host.phase("revealed")
	}
	return host, phones
}

func TestDebrief(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "games.db")
	p := open(t, file)
	host, phones := p.playOpen(4, 6, func(team, n int) bool { return n%(team+1) == 0 && n != 5 })
	at := "?game=" + p.code
	for _, path := range []string{"/debrief.json", "/results.csv"} {
		if status, _ := p.ask("GET", path+at, "guess", ""); status != http.StatusForbidden {
			t.Errorf("%s without the host key: %d", path, status)
		}
		if status, _ := p.ask("GET", path+"?game=otter-den-99", hostKey, ""); status != http.StatusNotFound {
			t.Errorf("%s of no game: %d", path, status)
		}
	}
	if got := p.debrief(); got.Ended || len(got.Questions) != 6 {
		t.Errorf("in the game: ended %v, %d questions", got.Ended, len(got.Questions))
	}
	host.act("end")
	for _, c := range phones {
		c.noLeak("phone")
	}
	p.sameAsCSV(p.debrief())

	p.stop() // the next hub has no table for an ended game
	p = openAt(t, file, p.code)
	got := p.debrief()
	if !got.Ended || len(got.Teams) != 4 {
		t.Errorf("from the store: ended %v, %d teams", got.Ended, len(got.Teams))
	}
	p.sameAsCSV(got)
	told := func(of string, list []debrief.Topic) {
		if len(list) == 0 || strings.Contains(list[0].Name, "_") {
			t.Errorf("%s: %+v", of, list)
		}
	}
	told("traits", got.Topics.Traits)
	told("species", got.Topics.Species)
	told("templates", got.Topics.Templates)
}

// openAt has the place talk of an ended game.
func openAt(t *testing.T, file, code string) *place {
	p := open(t, file)
	p.code = code
	return p
}

func (p *place) debrief() debrief.Report {
	p.Helper()
	status, text := p.ask("GET", "/debrief.json?game="+p.code, hostKey, "")
	var r debrief.Report
	if err := json.Unmarshal([]byte(text), &r); err != nil || status != http.StatusOK {
		p.Fatalf("debrief: %d, %v: %s", status, err, text)
	}
	return r
}

// sameAsCSV works the report's figures out anew, from the exported results alone.
func (p *place) sameAsCSV(r debrief.Report) {
	p.Helper()
	status, text := p.ask("GET", "/results.csv?game="+p.code, hostKey, "")
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || status != http.StatusOK || len(rows) != 1+len(r.Teams)*len(r.Questions) {
		p.Fatalf("results: %d, %v, %d rows", status, err, len(rows))
	}
	column := func(row []string, name string) string { return row[slices.Index(rows[0], name)] }
	marks, totals, times, picks := map[string]map[string]float64{}, map[string]float64{}, map[string][]float64{}, map[string]map[string]int{}
	for _, row := range rows[1:] {
		q, team := column(row, "question"), column(row, "team")
		if marks[q] == nil {
			marks[q], picks[q] = map[string]float64{}, map[string]int{}
		}
		right, _ := strconv.ParseFloat(column(row, "right"), 64)
		ms, _ := strconv.ParseFloat(column(row, "ms"), 64)
		marks[q][team] = right
		totals[team] += right
		times[q] = append(times[q], ms)
		picks[q][column(row, "option")]++
	}
	near := func(what string, got debrief.Figure, want float64) {
		if got.Defined() == math.IsNaN(want) || got.Defined() && math.Abs(float64(got)-want) > 1e-9 {
			p.Errorf("%s is %v, but %v by the CSV", what, got, want)
		}
	}
	kr20 := 0.0
	for _, q := range r.Questions {
		var own, rest []float64
		for _, team := range r.Teams {
			own, rest = append(own, marks[q.ID][team.Name]), append(rest, totals[team.Name]-marks[q.ID][team.Name])
		}
		share := mean(own)
		kr20 += share * (1 - share)
		slices.Sort(times[q.ID])
		near("difficulty", q.Share.P, share)
		near("discrimination", q.Corrected, pearson(own, rest))
		near("median time", q.Time.Median, (times[q.ID][1]+times[q.ID][2])/2) // of four teams
		for o, text := range q.Options {
			if q.Picks[o] != picks[q.ID][text] {
				p.Errorf("%s: %d picks of %q, %d by the CSV", q.ID, q.Picks[o], text, picks[q.ID][text])
			}
		}
	}
	var all []float64
	for _, team := range r.Teams {
		all = append(all, totals[team.Name])
	}
	k := float64(len(r.Questions))
	near("KR-20", r.Test.KR20, k/(k-1)*(1-kr20/covariance(all, all)))
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func covariance(x, y []float64) float64 {
	product := make([]float64, len(x))
	for i := range x {
		product[i] = x[i] * y[i]
	}
	return mean(product) - mean(x)*mean(y)
}

func pearson(x, y []float64) float64 {
	return covariance(x, y) / math.Sqrt(covariance(x, x)*covariance(y, y))
}

// counting counts how often a log is read from its beginning.
type counting struct {
	store.Store
	reads *atomic.Int32
}

func (s counting) Read(ctx context.Context, id string, after uint64, each func(store.Record) error) error {
	if after == 0 {
		s.reads.Add(1)
	}
	return s.Store.Read(ctx, id, after, each)
}

// A long log is read once for each look at a debrief.
func TestADebriefReadsItsLogOnce(t *testing.T) {
	t.Parallel()
	s := counting{memory.New(), new(atomic.Int32)}
	p := openOn(t, s)
	t.Cleanup(p.stop)
	p.playOpen(2, 1, func(team, _ int) bool { return team == 0 })
	before := s.reads.Load()
	if status, body := p.ask("GET", "/debrief.json?game="+p.code, hostKey, ""); status != http.StatusOK || !strings.Contains(body, `"mixed":[`) {
		t.Fatalf("%d %s", status, body)
	}
	if n := s.reads.Load() - before; n != 1 {
		t.Errorf("the log was read %d times", n)
	}
}

func TestNextGame(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, _ := p.playOpen(3, 6, func(team, n int) bool { return n%2 == 0 })
	host.act("end")
	for body, want := range map[string]int{`{"from": "otter-den-99"}`: http.StatusNotFound, `{"from": 7}`: http.StatusBadRequest, "": http.StatusCreated} {
		if status, text := p.ask("POST", "/games", hostKey, body); status != want {
			t.Errorf("%s: %d, want %d: %s", body, status, want, text)
		}
	}
	if status, text := p.ask("POST", "/games", hostKey, `{"from": "`+p.ofARosterGone()+`"}`); status != http.StatusUnprocessableEntity || !strings.Contains(text, "bad_plan") {
		t.Errorf("after a game whose roster is gone: %d %s", status, text)
	}
	status, text := p.ask("POST", "/games", hostKey, `{"from": "`+p.code+`"}`)
	var made struct{ Code string }
	if err := json.Unmarshal([]byte(text), &made); err != nil || status != http.StatusCreated {
		t.Fatalf("%d, %v: %s", status, err, text)
	}
	from := p.code
	p.code = made.Code
	next := p.host()
	var shown struct {
		Host struct {
			Plan map[string]any
		}
	}
	lobby := next.until("the lobby", func(f bot.Frame) bool { return f.Type == "state" && f.Host != nil })
	if err := json.Unmarshal(lobby.Raw, &shown); err != nil {
		t.Fatal(err)
	}
	if shown.Host.Plan["from"] != from || shown.Host.Plan["title"] != "Test" {
		t.Errorf("the next game's plan is %v", shown.Host.Plan)
	}
	next.act("plan", "plan", shown.Host.Plan) // as the form sends it back
}

// ofARosterGone is the code of a stored game whose roster this hub doesn't have.
func (p *place) ofARosterGone() string {
	p.Helper()
	const code = "otter-bog-17"
	plan := game.Plan{Title: "Old", Roster: "gone.csv", Rounds: []game.Round{}}
	events, err := game.Decide(game.State{}, game.Command{Type: game.Create, By: "hub", Code: code, Began: "2026-05-09T10:00:00Z", Plan: plan}, 0)
	if err != nil {
		p.Fatal(err)
	}
	data, err := json.Marshal(events[0])
	if err != nil {
		p.Fatal(err)
	}
	if err := p.store.Append(p.ctx, store.Batch{Game: code, Records: []store.Record{{Seq: 1, Data: data}}}); err != nil {
		p.Fatal(err)
	}
	return code
}
