package coach

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"reflect"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	ical "github.com/emersion/go-ical"

	"fieldsign/game"
	"fieldsign/game/debrief"
	meetings "fieldsign/game/season"
	"fieldsign/hub/plan"
	"fieldsign/hub/season"
	"fieldsign/hub/store"
	"fieldsign/hub/store/memory"
	"fieldsign/questions/catalogue"
)

// desk is a coach with a planner of the real catalogue, and the games that were
// opened.
type desk struct {
	*Coach
	opened  []plan.Wish
	games   []string
	erased  []string
	printed []game.Plan
}

func newDesk(t *testing.T) *desk {
	t.Helper()
	kept := memory.New()
	t.Cleanup(func() { kept.Close() })
	log := slog.New(slog.NewTextHandler(io.Discard, nil))
	p := plan.New(catalogue.Builtin(), "", func(string) (debrief.Advice, error) { return debrief.Advice{}, nil })
	d := &desk{}
	d.Coach = &Coach{Seasons: season.New(t.Context(), kept, nil, log), Store: kept, Planner: p, Log: log}
	d.Print = func(planned game.Plan, kind, size string) ([]byte, error) {
		d.printed = append(d.printed, planned)
		return []byte(kind + " on " + size), nil
	}
	d.Open = func(_ context.Context, w plan.Wish) (string, error) {
		if _, err := p.Make(w, game.Plan{}); err != nil {
			return "", err
		}
		d.opened = append(d.opened, w)
		d.games = append(d.games, "game-"+string(rune('a'+len(d.games))))
		return d.games[len(d.games)-1], nil
	}
	d.Erase = func(_ context.Context, codes ...string) error {
		d.erased = append(d.erased, codes...)
		return nil
	}
	return d
}

func usual() Wish {
	return Wish{Contest: "2027-04-10", From: "2027-01-04", Week: []Weekly{{2, "16:00", 45}}, Off: []string{"2027-02-16", "2027-03-22/2027-03-26"},
		Roster: "furbearers", Subjects: []string{"skull", "track"}, New: 180, Review: 60}
}

func (d *desk) ask(t *testing.T, serve http.HandlerFunc, method, query string, body, into any) int {
	t.Helper()
	sent, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	w := httptest.NewRecorder()
	serve(w, httptest.NewRequest(method, "/?"+query, bytes.NewReader(sent)))
	if into != nil {
		if err := json.Unmarshal(w.Body.Bytes(), into); err != nil {
			t.Fatal(err)
		}
	}
	return w.Code
}

func (d *desk) plan(t *testing.T, w Wish) {
	t.Helper()
	var said map[string]string
	if code := d.ask(t, d.postPlan, "POST", "today=2027-01-01", map[string]any{"season": "Spring", "wish": w}, &said); code != http.StatusOK {
		t.Fatalf("%d: %v", code, said)
	}
}

func (d *desk) view(t *testing.T, today string) *planView {
	t.Helper()
	var v view
	if code := d.ask(t, d.getPlan, "GET", "season=Spring&today="+today, nil, &v); code != http.StatusOK || v.Plan == nil {
		t.Fatalf("%d: %+v", code, v)
	}
	return v.Plan
}

func (v *planView) at(state string) (out []meetingView) {
	for _, m := range v.Meetings {
		if m.State == state {
			out = append(out, m)
		}
	}
	return out
}

func TestMeetingsKeepToWeekdaysAndHolidays(t *testing.T) {
	d := newDesk(t)
	d.plan(t, usual())
	v := d.view(t, "2027-01-01")
	for _, m := range v.Meetings {
		day, err := time.Parse(time.DateOnly, m.Date)
		if err != nil || day.Weekday() != time.Tuesday || m.Time != "16:00" || m.Minutes != 45 {
			t.Errorf("%+v", m)
		}
		if m.Date == "2027-02-16" || m.Date == "2027-03-23" || m.Date >= "2027-04-10" || m.Date < "2027-01-04" {
			t.Errorf("%s is no day for a meeting", m.Date)
		}
	}
	if len(v.Meetings) != 12 { // Tuesdays from 5 January to 6 April are 14; two are off
		t.Errorf("%d meetings", len(v.Meetings))
	}
}

// A season from plan to third debrief: each meeting is opened once, its game
// asks what is planned, and what was missed comes back at the next one.
func TestASeasonTakesDebriefsOver(t *testing.T) {
	d := newDesk(t)
	d.plan(t, usual())
	var missed []meetings.Item
	for n := range 3 {
		v := d.view(t, "2027-01-01")
		next := v.at("next")
		if len(next) != 1 || len(v.at("held")) != n {
			t.Fatalf("before meeting %d: %d next, %d held", n+1, len(next), len(v.at("held")))
		}
		for _, i := range missed {
			if !slices.Contains(next[0].Agenda.Review, i) {
				t.Errorf("%v was missed by all, and meeting %d does not review it", i, n+1)
			}
		}
		var first, again struct{ Code string }
		for _, into := range []any{&first, &again} {
			if code := d.ask(t, d.postGame, "POST", "today=2027-01-01", map[string]string{"season": "Spring", "date": next[0].Date}, into); code != http.StatusCreated {
				t.Fatalf("meeting %d: %d", n+1, code)
			}
		}
		if first.Code == "" || first.Code != again.Code || len(d.opened) != n+1 {
			t.Fatalf("two presses give %q and %q, %d games", first.Code, again.Code, len(d.opened))
		}
		asked := slices.Concat(next[0].Agenda.New, next[0].Agenda.Review, next[0].Agenda.Extra)
		d.checkRounds(t, asked)
		missed = d.played(t, first.Code, asked)
	}
	if held := d.view(t, "2027-01-01").at("held"); held[0].Of == 0 || held[0].Right >= held[0].Of || held[0].Game != "game-a" {
		t.Errorf("%+v", held[0])
	}
}

// However many press at once, the meeting has one game: those of the others are erased.
func TestPressesAtOnceGiveOneGame(t *testing.T) {
	d := newDesk(t)
	d.plan(t, usual())
	date := d.view(t, "2027-01-01").at(next)[0].Date
	const presses = 2
	codes := []string{"game-a", "game-b"}
	var opened atomic.Int32
	all := make(chan struct{})
	d.Open = func(context.Context, plan.Wish) (string, error) {
		n := opened.Add(1)
		if n == presses {
			close(all)
		}
		<-all // none is kept before all have made theirs
		return codes[n-1], nil
	}
	var given [presses]struct{ Code string }
	var pressing sync.WaitGroup
	for i := range given {
		pressing.Go(func() {
			d.ask(t, d.postGame, "POST", "today=2027-01-01", map[string]string{"season": "Spring", "date": date}, &given[i])
		})
	}
	pressing.Wait()
	lost := slices.DeleteFunc(codes, func(code string) bool { return code == given[0].Code })
	if given[0] != given[1] || !slices.Equal(d.erased, lost) {
		t.Errorf("they give %v, and %v is erased", given, d.erased)
	}
}

// checkRounds compares the last opened game with what it is for.
func (d *desk) checkRounds(t *testing.T, asked []meetings.Item) {
	t.Helper()
	opened := d.opened[len(d.opened)-1]
	if opened.Season != "Spring" {
		t.Errorf("it counts in %q", opened.Season)
	}
	var got []meetings.Item
	for _, r := range opened.Rounds {
		for _, animal := range r.Animals {
			got = append(got, meetings.Item{Animal: animal, Subject: r.Subjects[0]})
		}
	}
	for _, i := range asked {
		if !slices.Contains(got, i) {
			t.Errorf("%v is not in the game", i)
		}
	}
	opened.Seed = uint64(len(d.opened)) // any other is drawn
	made, err := d.Planner.Make(opened, game.Plan{})
	if err != nil {
		t.Fatal(err)
	}
	about := 0
	for _, r := range made.Rounds {
		keys := map[string]bool{}
		for _, q := range r.Questions {
			for _, animal := range append(q.About.Animals, keyed(q.About.Species, q.Key)...) {
				keys[animal] = true
			}
		}
		for _, animal := range r.Animals {
			if keys[animal] {
				about++
			}
		}
	}
	if 20*about < 17*len(asked) { // what an earlier question told is not asked
		t.Errorf("of %d items only %d are asked about", len(asked), about)
	}
}

func keyed(species []string, key int) []string {
	if len(species) == 0 {
		return nil
	}
	return species[key : key+1]
}

// played counts a game in which every fourth item is missed by all.
func (d *desk) played(t *testing.T, code string, asked []meetings.Item) (missed []meetings.Item) {
	t.Helper()
	r := store.Result{Game: code, Began: "2027-06-01T10:00:00.000Z", Lines: []store.Line{{Team: "otters", Name: "Otters", Rank: 1}}}
	for n, i := range asked {
		right := 6
		if n%4 == 0 {
			right, missed = 0, append(missed, i)
		}
		r.Items = append(r.Items, store.Item{Animal: i.Animal, Subject: i.Subject, Right: right, Of: 6})
	}
	if err := d.Store.AddResult(t.Context(), "Spring", r); err != nil {
		t.Fatal(err)
	}
	return missed
}

func TestPastMeetingsWithoutAGameWereMissed(t *testing.T) {
	d := newDesk(t)
	d.plan(t, usual())
	v := d.view(t, "2027-01-20")
	if past := v.at("missed"); len(past) != 3 || past[2].Agenda != nil {
		t.Errorf("%+v", past)
	}
	if next := v.at("next"); len(next) != 1 || next[0].Date != "2027-01-26" {
		t.Errorf("%+v", next)
	}
	var said map[string]any
	if code := d.ask(t, d.postGame, "POST", "today=2027-01-20", map[string]string{"season": "Spring", "date": "2027-02-02"}, &said); code != http.StatusUnprocessableEntity {
		t.Errorf("a later meeting is opened: %d %v", code, said)
	}
}

func TestWhatDoesNotFitIsSaidWithWhatItTakes(t *testing.T) {
	d := newDesk(t)
	w := usual()
	w.Contest = "2027-01-13"
	d.plan(t, w)
	v := d.view(t, "2027-01-01")
	if len(v.Left) == 0 || v.Lacking != 180*len(v.Left) || v.More != (v.Lacking+2699)/2700 {
		t.Errorf("%d left, %d s, %d meetings more", len(v.Left), v.Lacking, v.More)
	}
}

func TestShowingASeasonKeepsItsPlan(t *testing.T) {
	d := newDesk(t)
	d.plan(t, usual())
	if err := d.Store.ChangeSeason(t.Context(), "Spring", func(s *store.Season) { s.Open = true }); err != nil {
		t.Fatal(err)
	}
	d.view(t, "2027-01-01")
	d.plan(t, usual())
	if s, err := d.Seasons.Kept(t.Context(), "Spring"); err != nil || !s.Open {
		t.Errorf("planned anew it is %+v (%v)", s, err)
	}
}

func TestBadWishesAreRefusedAndLoseNothing(t *testing.T) {
	d := newDesk(t)
	d.plan(t, usual())
	for name, spoil := range map[string]func(*Wish){
		"no date":            func(w *Wish) { w.Contest = "soon" },
		"before the start":   func(w *Wish) { w.Contest = "2026-04-10" },
		"years ahead":        func(w *Wish) { w.Contest = "2029-04-10" },
		"no weekday":         func(w *Wish) { w.Week = nil },
		"an eighth day":      func(w *Wish) { w.Week[0].Weekday = 7 },
		"a day twice":        func(w *Wish) { w.Week = append(w.Week, w.Week[0]) },
		"no time":            func(w *Wish) { w.Week[0].Time = "4 pm" },
		"no minutes":         func(w *Wish) { w.Week[0].Minutes = 0 },
		"a holiday of words": func(w *Wish) { w.Off = []string{"Christmas"} },
		"all holidays":       func(w *Wish) { w.Off = []string{"2027-01-01/2027-05-01"} },
		"no roster":          func(w *Wish) { w.Roster = "nowhere" },
		"no subject":         func(w *Wish) { w.Subjects = nil },
		"another subject":    func(w *Wish) { w.Subjects = []string{"song"} },
		"an unknown animal":  func(w *Wish) { w.Double = []string{"unicorn"} },
		"no time for it":     func(w *Wish) { w.New = 0 },
		"no such language":   func(w *Wish) { w.Language = "tlh" },
	} {
		w := usual()
		spoil(&w)
		var said struct{ Code, Message string }
		if code := d.ask(t, d.postPlan, "POST", "", map[string]any{"season": "Spring", "wish": w}, &said); code != http.StatusUnprocessableEntity || said.Message == "" {
			t.Errorf("%s: %d %+v", name, code, said)
		}
	}
	if v := d.view(t, "2027-01-01"); len(v.Meetings) != 12 {
		t.Errorf("afterwards the plan has %d meetings", len(v.Meetings))
	}
}

// The calendar, read by a library that did not write it.
func TestTheCalendarIsReadBackByAnother(t *testing.T) {
	d := newDesk(t)
	w := usual()
	w.Language = "es"
	d.plan(t, w)
	rec := httptest.NewRecorder()
	d.getCalendar(rec, httptest.NewRequest("GET", "/?season=Spring&today=2027-01-20", nil))
	text := rec.Body.String()
	if strings.Count(text, "\n") != strings.Count(text, "\r\n") || rec.Header().Get("Content-Type") != "text/calendar; charset=utf-8" {
		t.Error("a line does not end as RFC 5545 has it, or it is not said what it is")
	}
	for line := range strings.SplitSeq(text, "\r\n") {
		if len(line) > 75 {
			t.Errorf("a line of %d bytes: %s", len(line), line)
		}
	}
	cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	events := cal.Events()
	if len(events) != 10 { // 9 meetings are left, and the contest
		t.Fatalf("%d events", len(events))
	}
	var days []string
	uids := map[string]bool{}
	for _, e := range events {
		uid, _ := e.Props.Text(ical.PropUID)
		uids[uid] = true
		start, err := e.DateTimeStart(time.UTC)
		if err != nil {
			t.Fatal(err)
		}
		end, err := e.DateTimeEnd(time.UTC)
		if err != nil {
			t.Fatal(err)
		}
		days = append(days, start.Format("2006-01-02 15:04 ")+end.Sub(start).String())
	}
	if days[0] != "2027-01-26 16:00 45m0s" || days[9] != "2027-04-10 00:00 24h0m0s" || len(uids) != 10 {
		t.Errorf("%v, %d different ids", days, len(uids))
	}
	if about, _ := events[0].Props.Text(ical.PropDescription); !strings.Contains(about, "Nuevo: ") || !strings.Contains(about, "(Cráneos)") {
		t.Errorf("the first is about %q", about)
	}
}

// withoutIDs is a plan without its questions' ids, which follow from nothing.
func withoutIDs(p game.Plan) game.Plan {
	for _, r := range p.Rounds {
		for i := range r.Questions {
			r.Questions[i].ID = ""
		}
	}
	return p
}

// Each meeting to come has a quiz on its animals, the key to that very quiz, and a study
// sheet of what is new; what is printed stays what it is.
func TestPapersOfAMeeting(t *testing.T) {
	d := newDesk(t)
	d.plan(t, usual())
	v := d.view(t, "2027-01-01")
	first, later := v.at(next)[0], v.at(later)[0]
	get := func(date, kind string) (int, string) {
		w := httptest.NewRecorder()
		d.getPaper(w, httptest.NewRequest("GET", "/?season=Spring&today=2027-01-01&size=letter&date="+date+"&kind="+kind, nil))
		return w.Code, w.Body.String()
	}
	for _, m := range []meetingView{first, later} {
		d.printed = nil
		for _, kind := range []string{"quiz", "key"} {
			if code, body := get(m.Date, kind); code != http.StatusOK || body != kind+" on letter" {
				t.Fatalf("%s %s: %d %s", m.Date, kind, code, body)
			}
		}
		if !reflect.DeepEqual(withoutIDs(d.printed[0]), withoutIDs(d.printed[1])) {
			t.Errorf("%s: the key is to another quiz", m.Date)
		}
		meant := map[string]bool{}
		for _, i := range slices.Concat(m.Agenda.New, m.Agenda.Review, m.Agenda.Extra) {
			meant[i.Animal] = true
		}
		set, _ := plan.QuestionsOf(d.printed[0])
		own := 0
		for _, q := range set {
			if q.About != nil && meant[q.About.Is] || q.About == nil && meant[q.Options[q.Key].Species] {
				own++
			}
		}
		if own < len(set)*3/4 { // the rest are terms, and others where a roster is short
			t.Errorf("%s: %d of %d questions are on its animals", m.Date, own, len(set))
		}
		if code, body := get(m.Date, "study"); code != http.StatusOK || !strings.HasPrefix(body, "%PDF") {
			t.Errorf("%s study sheet: %d", m.Date, code)
		}
	}
	seed := d.printed[0].Seed
	if get(first.Date, "quiz"); d.printed[len(d.printed)-1].Seed == seed {
		t.Error("two meetings have one quiz")
	}
	for _, bad := range [][2]string{{"2027-01-06", "quiz"}, {first.Date, "scores"}, {"x", "quiz"}} {
		if code, body := get(bad[0], bad[1]); code < 400 || code > 499 {
			t.Errorf("%v: %d %s", bad, code, body)
		}
	}
}
