package hub_test

import (
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/bot"
)

// metric is the value of a line of the hub's figures.
func (p *place) metric(name string) string {
	r := httptest.NewRecorder()
	p.hub.Metrics().ServeHTTP(r, httptest.NewRequest("GET", "/metrics", nil))
	_, rest, found := strings.Cut(r.Body.String(), "\n"+name+" ")
	if !found {
		return "none"
	}
	value, _, _ := strings.Cut(rest, "\n")
	return value
}

// awaitMetric waits until a figure has come to be so much.
func (p *place) awaitMetric(name, want string) {
	p.Helper()
	for got := p.metric(name); got != want; got = p.metric(name) {
		select {
		case <-p.ctx.Done():
			p.Fatalf("%s is %s, want %s", name, got, want)
		case <-time.After(5 * time.Millisecond):
		}
	}
}

func TestMetrics(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a, b := p.host(), p.join("Wrens"), p.join("Otters")
	p.dial(map[string]any{"type": "board"}).phase("lobby")
	host.act("plan", "plan", plan(round("buzz", 2)))
	host.act("next")
	q := a.phase("asking").Question.ID
	a.do(map[string]any{"type": "buzz", "question": q})
	b.until("who holds the buzz", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "buzzed" })
	b.do(map[string]any{"type": "buzz", "question": q})
	host.act("remove", "team", "t2")
	b.closed(4101)
	host.until("that it is gone", func(f bot.Frame) bool { return f.Type == "state" })
	host.act("rule", "right", true)
	p.awaitMetric(`fieldsign_connections{role="team"}`, "1")
	r := httptest.NewRecorder()
	p.hub.Metrics().ServeHTTP(r, httptest.NewRequest("GET", "/metrics", nil))
	text := r.Body.String()
	for _, line := range []string{
		`fieldsign_connections{role="board"} 1`, `fieldsign_connections{role="host"} 1`, `fieldsign_connections{role="team"} 1`, "fieldsign_games 1", "fieldsign_forwarded 0",
		`fieldsign_drops_total{reason="removed"} 1`, `fieldsign_frames_refused_total{code="beaten"} 1`,
		"fieldsign_buzz_seconds_count 1", "fieldsign_fanout_seconds_count ", "fieldsign_store_append_seconds_count ", "go_goroutines ",
	} {
		if !strings.Contains(text, "\n"+line) {
			t.Errorf("the figures have no line %s", line)
		}
	}
	if strings.Contains(text, "Wrens") || strings.Contains(text, p.code) {
		t.Error("the figures name a team or a game")
	}
}
