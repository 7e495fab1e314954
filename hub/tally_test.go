package hub_test

import (
	"bytes"
	"testing"

	"fieldsign/hub/bot"
)

// Pings, pongs and the pieces of a message count as frames do: a few are as
// they should be, and who floods with them is sent away.
func TestControlFramesArePaced(t *testing.T) {
	t.Parallel()
	p := begin(t)
	many := func(n int, frame []byte) []byte { return bytes.Repeat(frame, n) }
	for name, sent := range map[string]func(n int) []byte{
		"pings":          func(n int) []byte { return many(n, masked(0x89, "x")) },
		"pongs":          func(n int) []byte { return many(n, masked(0x8a, "x")) },
		"stamped pongs":  func(n int) []byte { return many(n, masked(0x8a, "12345678")) },
		"a pong of many": func(n int) []byte { return many(n, masked(0x8a, "")) },
		"empty pieces": func(n int) []byte {
			return append(append(masked(0x01, "{"), many(n, masked(0x00, ""))...), masked(0x80, "}")...)
		},
		"pieces without an end": func(n int) []byte { return append(masked(0x01, "{}"), many(n, masked(0x00, ""))...) },
	} {
		few, flood := p.raw(`{"type":"board"}`), p.raw(`{"type":"board"}`)
		if name != "pieces without an end" {
			few.Write(append(sent(20), masked(0x81, endMark)...))
			if got, err := few.fate(); got != alive || err != nil {
				t.Errorf("a few %s: %d, %v, want it to go on", name, got, err)
			}
		}
		flood.Write(append(sent(400), masked(0x81, endMark)...))
		if got, err := flood.fate(); got != 4102 || err != nil {
			t.Errorf("a flood of %s: %d, %v, want 4102", name, got, err)
		}
		few.Close()
		flood.Close()
	}
}

// An answer or a correction whose option was left out is not one of the first.
func TestAnAnswerSaysItsOption(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, a := p.host(), p.join("Wrens")
	host.act("plan", "plan", plan(round("open", 1)))
	host.act("next")
	q := host.phase("asking").Question.ID
	for _, frame := range []map[string]any{{"type": "answer", "question": q}, {"type": "answer", "question": q, "option": nil}} {
		if f := a.do(frame); f.Type != "refused" || f.Code != "bad_frame" {
			t.Errorf("%v got %s %q", frame, f.Type, f.Code)
		}
	}
	if f := host.do(map[string]any{"type": "do", "action": "correct", "question": q}); f.Code != "bad_frame" {
		t.Errorf("a correction without its option got %q", f.Code)
	}
	if f := a.do(map[string]any{"type": "answer", "question": q, "option": 0}); f.Type != "done" {
		t.Errorf("the answer itself got %q", f.Code)
	}
	a.until("its own view", func(f bot.Frame) bool { return f.Type == "you" && f.Option != nil && *f.Option == 0 })
}
