package hub_test

import (
	"strings"
	"testing"
	"time"

	"fieldsign/game/tournament"
	"fieldsign/hub/bot"
)

// A later round is named with its rule, and waits, as the first one does. A buzz
// that nobody answers in time is told as that.
func TestALaterRoundWaits(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, board := p.host(), p.dial(map[string]any{"type": "board"})
	host.act("plan", "plan", plan(round("open", 1), round("buzz", 1)))
	a := p.join("Wrens")
	p.join("Otters")
	host.act("next")
	shown := host.phase("asking")
	a.do(map[string]any{"type": "answer", "question": shown.Question.ID, "option": shown.Host.Key})
	host.act("close")
	host.act("next")
	host.act("start")
	f := board.phase("ready")
	if raw := string(f.Raw); f.Question != nil || !strings.Contains(raw, `"kind":"buzz"`) || !strings.Contains(raw, `"points":100`) {
		t.Errorf("what is to come is told as %s", raw)
	}

	if f := host.do(map[string]any{"type": "do", "action": "undo"}); f.Code != "nothing_to_undo" {
		t.Errorf("taking a verdict back was answered with %q, %s", f.Code, f.Type)
	}
	host.act("next")
	q := host.phase("asking").Question.ID
	a.until("the question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == q })
	a.do(map[string]any{"type": "buzz", "question": q})
	board.phase("buzzed")
	p.age(11 * time.Second)
	you := a.until("that its time ran out", func(f bot.Frame) bool { return f.Type == "you" && f.Locked })
	if you.Verdict != "late" {
		t.Errorf("the verdict is %q", you.Verdict)
	}
	if raw := string(board.phase("asking").Raw); !strings.Contains(raw, `"late":["Wrens"]`) || strings.Contains(raw, `"out"`) {
		t.Errorf("the board is told %s", raw)
	}
}

// Before a match's rounds all are told who plays.
func TestAMatchNamesItsSides(t *testing.T) {
	t.Parallel()
	p := begin(t)
	c := p.cup(tournament.Settings{Format: tournament.Single}, "Wrens", "Otters")
	c.do("draw")
	at, host := c.game(c.do("start", "match", 1, "plan", short("open")).Games["1"].Code)
	at.join("Wrens")
	host.act("start")
	if raw := string(host.phase("ready").Raw); !strings.Contains(raw, `"sides":["Wrens","Otters"]`) {
		t.Errorf("the sides are not in %s", raw)
	}
	host.act("next")
	if raw := string(host.phase("asking").Raw); strings.Contains(raw, `"sides"`) {
		t.Errorf("the sides are still in %s", raw)
	}
}
