package main

import (
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

// A hub that is told to stop in the middle of a round loses nothing: everyone
// hears 4000 and why, and after the restart the game is paused with the same
// question, answers, scores and time left, for two stops in a row, in the long run ten.
func TestStoppedInARound(t *testing.T) {
	t.Parallel()
	data, port := filepath.Join(t.TempDir(), "games.db"), freePort(t)
	p := start(t, data, port)
	tokens := []string{}
	for _, name := range []string{"Wrens", "Otters", "Voles"} {
		phone := dialed(t, p, map[string]any{"type": "join", "name": name})
		tokens = append(tokens, awaited(t, phone, "a seat", func(f bot.Frame) bool { return f.Type == "welcome" }).Token)
	}
	desk := deskOf(t, p)
	round := map[string]any{"name": "R", "kind": "open", "subjects": []string{"skull"}, "count": 2, "seconds": 600, "points": 100}
	desk.act("plan", map[string]any{"plan": map[string]any{"title": "T", "seed": 9, "rounds": []any{round}}})
	desk.act("next", nil)
	asking := awaited(t, desk.Conn, "the question", func(f bot.Frame) bool { return f.Phase == "asking" })
	phone := back(t, p, tokens[0])
	answerTo(t, phone, asking, asking.Host.Key)
	left := asking.Left
	for i := range soak.Size(2, 10) {
		p.terminate()
		for who, c := range map[string]*bot.Conn{"the console": desk.Conn, "a phone": phone} {
			if code, why := ended(t, c); code != 4000 || !strings.Contains(why, "come back") {
				t.Fatalf("stop %d: %s is told %d, %q", i, who, code, why)
			}
		}
		p = start(t, data, port)
		desk, phone = deskOf(t, p), back(t, p, tokens[0])
		f := awaited(t, desk.Conn, "the state", func(f bot.Frame) bool { return f.Type == "state" })
		if !f.Paused || !strings.Contains(f.Notice, "restarted") || f.Phase != "asking" || f.Question.ID != asking.Question.ID || f.Answered != 1 || f.Teams != 3 {
			t.Fatalf("after stop %d: %s", i, f.Raw)
		}
		if f.Left > left || f.Left < left-60_000 {
			t.Fatalf("after stop %d there are %d ms left, before %d", i, f.Left, left)
		}
		left = f.Left
		desk.n = 10 * (i + 1) // an id that was used does nothing
		desk.act("resume", nil)
	}
	for _, token := range tokens[1:] {
		answerTo(t, back(t, p, token), asking, wrong(asking.Host.Key))
	}
	awaited(t, desk.Conn, "the reveal", func(f bot.Frame) bool { return f.Phase == "revealed" })
	if err := desk.Send(t.Context(), map[string]any{"type": "do", "id": "end", "action": "end"}); err != nil {
		t.Fatal(err)
	}
	f := awaited(t, desk.Conn, "the ranking", func(f bot.Frame) bool { return f.Phase == "ended" })
	if f.Leaders[0].Score != 100 || f.Leaders[1].Score != 0 {
		t.Errorf("leaders %+v", f.Leaders)
	}
}

// back is a phone that comes back to its seat.
func back(t *testing.T, p *program, token string) *bot.Conn {
	t.Helper()
	c := dialed(t, p, map[string]any{"type": "resume", "token": token})
	awaited(t, c, "its seat", func(f bot.Frame) bool { return f.Type == "welcome" })
	return c
}

func answerTo(t *testing.T, c *bot.Conn, asked bot.Frame, option int) {
	t.Helper()
	if err := c.Send(t.Context(), map[string]any{"type": "answer", "id": "a", "question": asked.Question.ID, "option": option}); err != nil {
		t.Fatal(err)
	}
	if f := awaited(t, c, "that it is in", func(f bot.Frame) bool { return f.ID == "a" }); f.Type != "done" {
		t.Fatalf("the answer was refused: %s", f.Raw)
	}
}

// ended is the close code that a client hears, and the reason.
func ended(t *testing.T, c *bot.Conn) (int, string) {
	t.Helper()
	for {
		if _, err := c.Receive(t.Context()); err != nil {
			return bot.CloseCode(err), err.Error()
		}
	}
}
