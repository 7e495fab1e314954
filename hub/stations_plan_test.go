package hub_test

import (
	"net/http"
	"reflect"
	"strings"
	"testing"

	"fieldsign/hub/bot"
)

// editStations strikes a question of the first station, and has one of each
// other replaced: whose it is at the second, another at the third.
func editStations(p *place, host *client) {
	first := p.planned(0).Questions
	host.act("strike", "round", 0, "question", first[1].ID)
	host.act("replace", "round", 0, "question", first[2].ID)
	host.act("replace", "round", 0, "question", first[5].ID)
}

func (p planned) stations() (out []int) {
	for _, q := range p.Questions {
		out = append(out, q.Station)
	}
	return out
}

// A planned station round is looked at, changed question by question, saved,
// and loaded into another game, which plays what was chosen.
func TestAStationPlanIsChosenSavedAndLoaded(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	host.act("plan", "plan", stationPlan(60))
	before := p.planned(0)
	if got := before.stations(); !reflect.DeepEqual(got, []int{1, 1, 2, 2, 3, 3}) {
		t.Errorf("the questions are at %v", got)
	}
	for i, q := range before.Questions { // the second station has a replica
		if shown := q.Plate != nil; shown != (i == 0 || i == 4) {
			t.Errorf("question %d: a drawing is shown: %v", i+1, shown)
		}
	}
	editStations(p, host)
	after := p.planned(0)
	if got := after.stations(); !reflect.DeepEqual(got, []int{1, 2, 2, 3, 3}) {
		t.Fatalf("the questions are at %v", got)
	}
	was, is := before.prompts(), after.prompts()
	if is[0] != was[0] || is[1] == was[2] || is[2] != was[3] || is[3] != was[4] || is[4] == was[5] || after.Questions[1].Options[after.Questions[1].Key] != "American beaver" {
		t.Errorf("before %q\nafter %q", was, is)
	}
	for action, code := range map[string]string{"strike": "last_at_station", "move": "at_station"} {
		if f := host.do(map[string]any{"type": "do", "action": action, "round": 0, "question": after.Questions[0].ID}); f.Code != code {
			t.Errorf("%s: %s", action, f.Raw)
		}
	}
	other := begin(t)
	again := other.host()
	again.act("plan", "plan", stationPlan(60))
	editStations(other, again)
	if got := other.planned(0).prompts(); !reflect.DeepEqual(got, is) {
		t.Errorf("the same edits give %q, want %q", got, is)
	}

	host.conn.Close()
	host = p.host()
	set := host.plan().Rounds[0].Set
	wish := stationPlan(90)
	round := wish["rounds"].([]any)[0].(map[string]any)
	round["set"], round["station"].(map[string]any)["walk"] = set, 7
	host.act("plan", "plan", wish)
	if got := p.planned(0).prompts(); set == "" || !reflect.DeepEqual(got, is) {
		t.Errorf("with another time: %q, want %q", got, is)
	}
	round["kind"] = "open"
	if f := host.do(action("plan", "plan", wish)); f.Code != "stale_plan" {
		t.Errorf("chosen for stations, asked without: %s", f.Raw)
	}

	status, file := p.ask("GET", "/set?name=Bench&game="+p.code, hostKey, "")
	if status != http.StatusOK {
		t.Fatalf("%d: %s", status, file)
	}
	for name, tc := range map[string]struct{ body, says string }{
		"no stations":        {strings.Replace(file, `"stations":[{`, `"benches":[{`, 1), "not both"},
		"played without":     {strings.Replace(file, `"kind":"station"`, `"kind":"open"`, 1), "not both"},
		"a moved key":        {movedKey(file), "by the catalogue"},
		"another's specimen": {strings.Replace(file, `"species":"Castor canadensis","subject"`, `"species":"Lynx rufus","subject"`, 1), "station 2"},
	} {
		if status, body := other.ask("POST", "/set?game="+other.code, hostKey, tc.body); status != http.StatusUnprocessableEntity || !strings.Contains(body, tc.says) {
			t.Errorf("%s: %d %s, want something on %q", name, status, body, tc.says)
		}
	}
	if status, body := other.ask("POST", "/set?game="+other.code, hostKey, file); status != http.StatusOK {
		t.Fatalf("%d: %s", status, body)
	}
	if got := other.planned(0); !reflect.DeepEqual(got.prompts(), is) || !reflect.DeepEqual(got.stations(), after.stations()) {
		t.Errorf("loaded: %q, want %q", got.prompts(), is)
	}
	other.playsStations(again, is)
}

// playsStations plays the loaded plan with one team, which is asked what was chosen.
func (p *place) playsStations(host *client, prompts []string) {
	p.Helper()
	phone := p.join("Wrens")
	host.must(action("next"))
	opened := read(p.TB, host.until("the round", func(f bot.Frame) bool { return f.Phase == "walk" }))
	if r := opened.Host.Plan.Rounds[0]; r.Station.Walk != 7 || r.Station.Stations != 3 || len(r.Station.Replicas) != 1 || !opened.Host.Stations[1].Replica {
		p.Errorf("the plan is %+v", r)
	}
	asked := 0
	for turn := 1; turn <= 3; turn++ {
		host.must(action("next"))
		at := phone.visit(turn)
		for n, q := range at.Questions {
			if !strings.HasPrefix(prompts[asked], q.Prompt) {
				p.Errorf("station %d asks %q, want %q", at.Station, q.Prompt, prompts[asked])
			}
			asked++
			phone.must(map[string]any{"type": "answer", "question": q.ID, "option": opened.Host.Stations[at.Station-1].Questions[n].Key})
		}
		host.must(action("close"))
	}
	marked := read(p.TB, host.until("the marks", func(f bot.Frame) bool { return f.Phase == "marked" }))
	if asked != 5 || marked.Host.Teams[0].Score != 50 {
		p.Errorf("%d questions were asked, and the team has %d points", asked, marked.Host.Teams[0].Score)
	}
}

// movedKey is a set file whose first question has another option for its key.
func movedKey(file string) string {
	at := strings.Index(file, `"key":`) + len(`"key":`)
	to := "0"
	if file[at] == '0' {
		to = "1"
	}
	return file[:at] + to + file[at+1:]
}
