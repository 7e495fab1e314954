package hub_test

import (
	"encoding/json"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/hub/bot"
)

type taught struct {
	Reveal struct {
		Key    int
		Picks  []int
		Lesson struct {
			Parts []string
			Sides []struct {
				Option              int
				Animal, Says, Plate string
			}
		}
		Others []struct {
			Name  string
			Picks int
		}
	}
}

// A reveal sets the key's animal beside the one that most teams took for it,
// each with its drawing. Those are served while the reveal is shown, and not
// before, not even to whoever knew their address.
func TestRevealTeaches(t *testing.T) {
	p := open(t, filepath.Join(t.TempDir(), "games.db"))
	host, a, b := p.host(), p.join("Wrens"), p.join("Otters")
	r := round("open", 60)
	r["subjects"], r["drawings"] = []string{"skull"}, "none"
	host.act("plan", "plan", plan(r))
	host.act("next")
	told := host.phase("asking")
	for !strings.HasPrefix(told.Question.Prompt, "Which animal") {
		host.act("skip")
		host.act("next")
		told = host.phase("asking")
	}
	early := p.hub.LessonAddresses(p.code)
	for _, address := range early {
		if status, _ := p.get(address); status != http.StatusNotFound {
			t.Errorf("before the reveal a drawing of it is served: %d", status)
		}
	}
	wrong := (told.Host.Key + 1) % len(told.Question.Options)
	for _, c := range []*client{a, b} {
		c.until("the question", func(f bot.Frame) bool { return f.Question != nil && f.Question.ID == told.Question.ID })
		c.send(map[string]any{"type": "answer", "id": "mistaken", "question": told.Question.ID, "option": wrong})
	}
	a.noLeak("phone")
	var got taught
	shown := a.until("the reveal", func(f bot.Frame) bool { return f.Phase == "revealed" && f.Question.ID == told.Question.ID })
	if err := json.Unmarshal(shown.Raw, &got); err != nil {
		t.Fatal(err)
	}
	sides := got.Reveal.Lesson.Sides
	if len(sides) != 2 || sides[0].Option != told.Host.Key || sides[1].Option != wrong || sides[0].Animal != told.Question.Options[told.Host.Key] || sides[1].Animal != told.Question.Options[wrong] {
		t.Fatalf("the key is %d, %d was taken for it, and the reveal teaches %s", told.Host.Key, wrong, shown.Raw)
	}
	for i, s := range sides {
		if s.Says == "" || s.Plate == "" {
			t.Errorf("%+v has no words or no drawing", s)
			continue
		}
		if s.Plate != early[i] {
			t.Errorf("the drawing is at %s, not at %s", s.Plate, early[i])
		}
		if status, svg := p.get(s.Plate); status != http.StatusOK || !strings.HasPrefix(svg, "<svg") {
			t.Errorf("%s: %d %.40s", s.Plate, status, svg)
		}
	}
	host.servesUntilTheNextReveal(early)
}

// Of a typed question the reveal names what else was typed.
func TestRevealOfTypedNames(t *testing.T) {
	p := open(t, filepath.Join(t.TempDir(), "games.db"))
	host, a := p.host(), p.join("Wrens")
	r := round("open", 3)
	r["typed"] = true
	host.act("plan", "plan", plan(r))
	host.act("next")
	q := a.phase("asking").Question
	typed := "red fox"
	a.send(map[string]any{"type": "answer", "id": "typed", "question": q.ID, "text": typed})
	shown := a.phase("revealed")
	var got taught
	if err := json.Unmarshal(shown.Raw, &got); err != nil {
		t.Fatal(err)
	}
	key := shown.Question.Options[0]
	sides := got.Reveal.Lesson.Sides
	if len(sides) == 0 || sides[0].Animal != key || sides[0].Plate == "" {
		t.Fatalf("the key is %s, and the reveal teaches %s", key, shown.Raw)
	}
	if key != typed && (len(got.Reveal.Others) != 1 || got.Reveal.Others[0].Name != typed || got.Reveal.Others[0].Picks != 1 || len(sides) != 2 || sides[1].Animal != typed) {
		t.Errorf("%s was typed for %s: %s", typed, key, shown.Raw)
	}
}
