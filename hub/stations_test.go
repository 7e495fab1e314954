package hub_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/bot"
)

// stationPlan has a station round of three stations with two questions each, at
// the second of which the teacher's own beaver skull lies.
func stationPlan(seconds int) map[string]any {
	round := map[string]any{"name": "Bench", "kind": "station", "subjects": []string{"skull", "track"}, "count": 2, "seconds": seconds, "points": 10,
		"station": map[string]any{"stations": 3, "walk": 1, "replicas": []any{map[string]any{"station": 2, "animal": "american beaver", "subject": "skull"}}}}
	return map[string]any{"title": "T", "roster": "furbearers", "seed": 6, "rounds": []any{round}}
}

// specimen is a station as the host is told of it.
type specimen struct {
	Station   int
	Animal    string
	Replica   bool
	Plate     string
	Questions []struct {
		ID, Prompt, Reason string
		Options            []string
		Key                int
		Picks              []int
	}
}

// hosted is what the tests read of a host's frame.
type hosted struct {
	Phase string
	Host  struct {
		Plan struct {
			Rounds []struct {
				Count   int
				Station struct {
					Stations, Walk int
					Replicas       []struct{ Station int }
				}
			}
		}
		Teams    []bot.HostTeam
		Stations []specimen
	}
}

func read(t testing.TB, f bot.Frame) (h hosted) {
	t.Helper()
	if err := errors.Join(json.Unmarshal(f.Raw, &h), json.Unmarshal(f.Host.Plan, &h.Host.Plan)); err != nil {
		t.Fatal(err)
	}
	h.Host.Teams = f.Host.Teams
	return h
}

func (c *client) must(frame map[string]any) {
	c.p.Helper()
	if f := c.do(frame); f.Type != "done" {
		c.p.Fatalf("%v: %s", frame, f.Raw)
	}
}

func action(name string, fields ...any) map[string]any {
	frame := map[string]any{"type": "do", "action": name}
	for i := 0; i < len(fields); i += 2 {
		frame[fields[i].(string)] = fields[i+1]
	}
	return frame
}

// visit waits until a team's own frame has the questions of a rotation.
func (c *client) visit(turn int) *bot.Station {
	c.p.Helper()
	f := c.until(fmt.Sprint("rotation ", turn), func(f bot.Frame) bool {
		return f.Type == "you" && f.Station != nil && f.Station.Turn == turn && len(f.Station.Questions) > 0
	})
	return f.Station
}

// A whole round by hand: no frame to a phone has another station's question, or
// any key, before the round is marked.
func TestStationRound(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, board := p.host(), p.dial(map[string]any{"type": "board"})
	phones := []*client{p.join("Wrens"), p.join("Otters")}
	host.must(action("plan", "plan", stationPlan(600)))
	host.must(action("next"))
	opened := read(t, host.until("the opened round", func(f bot.Frame) bool { return f.Phase == "walk" }))
	stations := opened.Host.Stations
	if len(stations) != 3 || !stations[1].Replica || stations[1].Plate != "" || stations[0].Plate == "" || stations[1].Animal != "American beaver" {
		t.Fatalf("stations %+v", stations)
	}
	if r := opened.Host.Plan.Rounds[0]; r.Count != 2 || r.Station.Stations != 3 || r.Station.Walk != 1 || len(r.Station.Replicas) != 1 {
		t.Errorf("the form gets %+v", r)
	}
	for turn := 1; turn <= 3; turn++ {
		host.must(action("next"))
		for i, phone := range phones {
			at := phone.visit(turn)
			if want := (i+turn-1)%3 + 1; at.Station != want || at.Replica != (want == 2) || at.Questions[0].ID != stations[want-1].Questions[0].ID || (at.Plate == "") != at.Replica {
				t.Fatalf("turn %d, phone %d: %+v", turn, i, at)
			}
			if at.Plate != "" {
				if status, body := p.get(at.Plate); status != 200 || !strings.Contains(body, "<svg") {
					t.Errorf("the plate of station %d: %d", at.Station, status)
				}
			}
			for n, q := range at.Questions {
				phone.must(map[string]any{"type": "answer", "question": q.ID, "option": (stations[at.Station-1].Questions[n].Key + i) % len(q.Options)})
			}
			other := stations[at.Station%3].Questions[0].ID
			if f := phone.do(map[string]any{"type": "answer", "question": other, "option": 0}); f.Code != "not_here" {
				t.Errorf("an answer at another station: %s", f.Raw)
			}
		}
		if turn < 3 {
			host.must(action("close"))
		}
	}
	leaks(t, phones, stations)
	host.must(action("correct", "question", stations[2].Questions[1].ID, "option", -1))
	host.must(action("mark"))
	marked := phones[0].until("the marks", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "marked" })
	if !strings.Contains(string(marked.Raw), stations[0].Questions[0].Reason[:20]) {
		t.Errorf("the marks don't tell the reason: %s", marked.Raw)
	}
	board.until("the marks", func(f bot.Frame) bool { return f.Phase == "marked" })
	after := read(t, host.until("the marks", func(f bot.Frame) bool { return f.Phase == "marked" }))
	if after.Host.Teams[0].Score != 50 || after.Host.Teams[1].Score != 0 {
		t.Errorf("teams %+v", after.Host.Teams)
	}
	host.must(action("next"))
	host.phase("ended")
}

// leaks looks for what a phone may not know through all that it was sent.
func leaks(t *testing.T, phones []*client, stations []specimen) {
	t.Helper()
	key := regexp.MustCompile(`"(key|reason|told|picks|about)":("[^"]|[0-9\[{])`)
	for i, phone := range phones {
		for _, f := range phone.log {
			raw := string(f.Raw)
			if key.MatchString(raw) {
				t.Errorf("phone %d was told a key: %s", i, raw)
			}
			for _, st := range stations {
				here := f.Type == "you" && f.Station != nil && f.Station.Station == st.Station
				for _, q := range st.Questions {
					answered := f.Type == "done" || f.Type == "refused"
					if strings.Contains(raw, q.ID) && !here && !answered {
						t.Errorf("phone %d has question %s of station %d: %s", i, q.ID, st.Station, raw)
					}
				}
				if st.Plate != "" && strings.Contains(raw, st.Plate[strings.LastIndex(st.Plate, "=")+1:]) && !here {
					t.Errorf("phone %d has the plate of station %d: %s", i, st.Station, raw)
				}
			}
		}
	}
}

// Bots play a station round by the clock, among them one that comes late.
func TestBotsAtStations(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	host.must(action("plan", "plan", stationPlan(3)))
	played := make(chan error, 4)
	play := func(name string) {
		player := &bot.Player{Hub: p.url, Code: p.code, Name: name, Dice: rand.New(rand.NewPCG(1, uint64(len(name)))), Think: 300 * time.Millisecond}
		go func() { played <- player.Play(p.ctx) }()
		host.until(name, func(f bot.Frame) bool { return f.Type == "state" && strings.Contains(string(f.Raw), name) })
	}
	play("Wrens")
	play("Martens")
	play("Herons")
	host.must(action("next"))
	host.must(action("next"))
	play("Lynxes")
	marked := read(t, host.until("the marks", func(f bot.Frame) bool { return f.Phase == "marked" }))
	picks := 0
	for _, st := range marked.Host.Stations {
		for _, q := range st.Questions {
			for _, n := range q.Picks {
				picks += n
			}
		}
	}
	if picks < 9 { // of 24; the machine may be slow
		t.Errorf("the bots gave %d answers", picks)
	}
	host.must(action("next"))
	for range 4 {
		if err := <-played; err != nil {
			t.Errorf("a bot: %v", err)
		}
	}
}

func TestStationPlansRefused(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	for want, spoil := range map[string]func(round, station map[string]any){
		"how many stations": func(r, _ map[string]any) { delete(r, "station") },
		"2 to 20":           func(_, st map[string]any) { st["stations"] = 21 },
		"1 to 5":            func(r, _ map[string]any) { r["count"] = 6 },
		"time to walk":      func(_, st map[string]any) { st["walk"] = -1 },
		"is called": func(_, st map[string]any) {
			st["replicas"] = []any{map[string]any{"station": 1, "animal": "unicorn", "subject": "skull"}}
		},
	} {
		plan := stationPlan(60)
		round := plan["rounds"].([]any)[0].(map[string]any)
		spoil(round, round["station"].(map[string]any))
		if f := host.do(action("plan", "plan", plan)); f.Code != "bad_plan" || !strings.Contains(f.Message, want) {
			t.Errorf("%s: %s", want, f.Raw)
		}
	}
}
