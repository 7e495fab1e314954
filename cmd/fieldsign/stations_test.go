package main

import (
	"fmt"
	"path/filepath"
	"testing"

	"fieldsign/hub/bot"
)

// benches is a plan with a station round of two stations.
func benches(seconds int) map[string]any {
	round := map[string]any{"name": "Bench", "kind": "station", "subjects": []string{"skull"}, "count": 2, "seconds": seconds, "points": 100,
		"station": map[string]any{"stations": 2, "walk": 20, "replicas": []any{}}}
	return map[string]any{"title": "T", "roster": "furbearers", "seed": 9, "rounds": []any{round}}
}

// Killed at each step of a station round, the next start has the same stations
// and every acknowledged answer, and no team has lost time.
func TestKilledInAStationRound(t *testing.T) {
	t.Parallel()
	data, port := filepath.Join(t.TempDir(), "games.db"), freePort(t)
	p := start(t, data, port)
	host := dialed(t, p, map[string]any{"type": "host", "key": testKey})
	wrens := dialed(t, p, map[string]any{"type": "join", "name": "Wrens"})
	token := awaited(t, wrens, "welcome", func(f bot.Frame) bool { return f.Type == "welcome" }).Token
	host.Send(t.Context(), map[string]any{"type": "do", "id": "plan", "action": "plan", "plan": benches(60)})
	awaited(t, host, "the plan", done("plan"))

	n := 0
	do := func(action string) {
		t.Helper()
		n++
		id := fmt.Sprint("do", n)
		host.Send(t.Context(), map[string]any{"type": "do", "id": id, "action": action})
		awaited(t, host, action, done(id))
	}
	// again kills the hub, and returns what the team and the host are shown then.
	again := func() (team *bot.Conn, at *bot.Station, state bot.Frame) {
		t.Helper()
		p.kill()
		p = start(t, data, port)
		team = dialed(t, p, map[string]any{"type": "resume", "token": token})
		state = awaited(t, team, "the state", func(f bot.Frame) bool { return f.Type == "state" })
		at = awaited(t, team, "its own", func(f bot.Frame) bool { return f.Type == "you" }).Station
		host = dialed(t, p, map[string]any{"type": "host", "key": testKey})
		awaited(t, host, "welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
		return team, at, state
	}
	write := func(team *bot.Conn, id, question string, option int) {
		t.Helper()
		team.Send(t.Context(), map[string]any{"type": "answer", "id": id, "question": question, "option": option})
		awaited(t, team, "the answer", done(id))
	}

	do("next")
	if _, at, state := again(); at == nil || at.Station != 1 || at.Turn != 0 || state.Phase != "walk" || !state.Paused {
		t.Fatalf("before the first rotation: %+v in %s", at, state.Raw)
	}
	do("resume")
	do("next")
	team, first, _ := again()
	if first == nil || len(first.Questions) != 2 || first.Turn != 1 {
		t.Fatalf("in the first rotation: %+v", first)
	}
	do("resume")
	write(team, "a", first.Questions[0].ID, 1)
	write(team, "b", first.Questions[0].ID, 2)
	team, back, state := again()
	if back.Options[0] != 2 || back.Options[1] != -1 || state.Left < 20_000 || state.Notice == "" {
		t.Fatalf("after the answers: %+v in %s", back, state.Raw)
	}
	do("resume")
	write(team, "b", first.Questions[0].ID, 2) // repeated, it changes nothing
	do("close")
	if _, at, state := again(); at.Station != 2 || len(at.Questions) != 0 || state.Phase != "walk" || state.Left == 0 {
		t.Fatalf("on the walk: %+v in %s", at, state.Raw)
	}
	do("resume")
	do("next")
	do("close") // the last signal
	_, marked, state := again()
	if state.Phase != "marked" || fmt.Sprint(marked.Sheet) != "[2 -1 -1 -1]" {
		t.Fatalf("after the marks: %+v in %s", marked, state.Raw)
	}
}
