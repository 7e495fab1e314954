package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/hub/bot"
)

// The paper twin of a live station round has the same stations, questions,
// options and keys, and each team's way through them.
func TestPaperTwinOfAStationRound(t *testing.T) {
	t.Parallel()
	p := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	host := dialed(t, p, map[string]any{"type": "host", "key": testKey})
	awaited(t, dialed(t, p, map[string]any{"type": "join", "name": "Wrens"}), "welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	round := map[string]any{"name": "R", "kind": "station", "subjects": []string{"skull", "track", "scat"}, "count": 3, "seconds": 60, "points": 10,
		"station": map[string]any{"stations": 6, "walk": 20, "replicas": []any{map[string]any{"station": 3, "animal": "red fox", "subject": "scat"}}}}
	host.Send(t.Context(), map[string]any{"type": "do", "id": "1", "action": "plan", "plan": map[string]any{"title": "T", "roster": "furbearers", "seed": 31, "rounds": []any{round}}})
	awaited(t, host, "the plan", done("1"))
	host.Send(t.Context(), map[string]any{"type": "do", "id": "2", "action": "next"})
	var live struct {
		Host struct {
			Stations []struct {
				Station         int
				Animal, Subject string
				Replica         bool
				Questions       []struct {
					N              int
					Prompt, Reason string
					Options        []string
					Key            int
				}
			}
		}
	}
	if err := json.Unmarshal(awaited(t, host, "the round", func(f bot.Frame) bool { return f.Phase == "walk" }).Raw, &live); err != nil {
		t.Fatal(err)
	}

	as := func(kind string) []string {
		return textOf(t, "--roster", "furbearers", "--stations", "6", "--per-station", "3", "--seed", "31", "--teams", "8", "--replicas", "3 scat red fox", "--kind", kind)
	}
	cards, key, sheets := strings.Join(as("cards"), " "), strings.Join(as("key"), " "), as("sheets")
	if len(live.Host.Stations) != 6 || len(sheets) != 8 {
		t.Fatalf("%d stations, %d team sheets", len(live.Host.Stations), len(sheets))
	}
	for _, st := range live.Host.Stations {
		if st.Replica != (st.Station == 3) {
			t.Errorf("station %d: replica is %v", st.Station, st.Replica)
		}
		lies := fmt.Sprintf("Station %d questions %d–%d; ", st.Station, st.Questions[0].N, st.Questions[2].N)
		if !strings.Contains(key, lies) || !strings.Contains(key, ": "+st.Animal+", "+st.Subject) {
			t.Errorf("the key doesn't say %q and %s, %s", lies, st.Animal, st.Subject)
		}
		for _, q := range st.Questions {
			card := fmt.Sprintf("%d %s", q.N, q.Prompt)
			for i, o := range q.Options {
				card += fmt.Sprintf(" %c %s", 'A'+i, o)
			}
			if !strings.Contains(cards, card) {
				t.Errorf("no card reads %q", card)
			}
			if right := fmt.Sprintf("%d %c %s %s", q.N, 'A'+q.Key, q.Prompt, q.Options[q.Key]); !strings.Contains(key, right) {
				t.Errorf("the key doesn't read %q", right)
			}
		}
	}
	for team, sheet := range sheets { // rotation, station, the numbers of its questions
		for turn := range 6 {
			at := (team + turn) % 6
			if line := fmt.Sprintf("%d %d %d %d %d", turn+1, at+1, 3*at+1, 3*at+2, 3*at+3); !strings.Contains(sheet, line) {
				t.Errorf("team %d: its sheet lacks %q: %s", team+1, line, sheet)
			}
		}
		if want := fmt.Sprintf("Start at station %d.", team%6+1); !strings.Contains(sheet, want) {
			t.Errorf("team %d: %q", team+1, sheet)
		}
	}
}

func TestBadPaperStations(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "x.pdf")
	for want, args := range map[string][]string{
		"2 to 20":           {"--stations", "1"},
		"such as 3 skull":   {"--stations", "4", "--replicas", "skull beaver"},
		"is called":         {"--stations", "4", "--replicas", "3 skull unicorn"},
		"not \"bark\"":      {"--stations", "4", "--replicas", "3 bark red fox"},
		"only a station":    {"--kind", "sheets"},
		"without stations":  {"--stations", "4", "--kind", "quiz"},
		"from 1 to 4":       {"--stations", "4", "--replicas", "5 skull red fox"},
		"1 to 5 questions":  {"--stations", "4", "--per-station", "6"},
		"no roster":         {"--stations", "4", "--roster", "zoo"},
		"2 to 20 stations,": {"--replicas", "3 skull red fox"},
	} {
		err := run(t.Context(), append([]string{"paper", "--roster", "furbearers", "--out", out}, args...), &strings.Builder{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want it to say %q", args, err, want)
		}
	}
}
