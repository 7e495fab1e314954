package hub_test

import (
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"fieldsign/hub"
	"fieldsign/hub/bot"
	"fieldsign/hub/store/bolt"
	"fieldsign/questions/catalogue"
)

// inSpanish is a plan whose questions are asked in Spanish.
func inSpanish(rounds ...map[string]any) map[string]any {
	wish := plan(rounds...)
	wish["language"] = "es"
	return wish
}

func spoken(t *testing.T, f bot.Frame) (language string) {
	t.Helper()
	var state struct{ Language string }
	if err := json.Unmarshal(f.Raw, &state); err != nil {
		t.Fatal(err)
	}
	return state.Language
}

// A game in Spanish asks in Spanish, replaced questions too, and says so to
// whoever comes; what it saves is a Spanish set.
func TestAGameInSpanish(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host, phone := p.host(), p.join("Nutrias")
	first := round("open", 12)
	first["subjects"] = []string{"skull", "track", "scat"}
	host.act("plan", "plan", inSpanish(first))
	spanish := func(what, prompt string) {
		if !strings.HasPrefix(prompt, "¿") && !strings.HasPrefix(prompt, "Un animal tiene") && !strings.Contains(prompt, "¿") {
			t.Errorf("%s is no Spanish: %s", what, prompt)
		}
	}
	old := p.planned(0).Questions[3]
	host.act("replace", "round", 0, "question", old.ID)
	for _, q := range p.planned(0).Questions {
		spanish("a planned question", q.Prompt)
	}
	for _, d := range p.planned(0).Plates {
		if !strings.HasPrefix(d.Alt, "Dibujo de ") {
			t.Errorf("a drawing is described as %s", d.Alt)
		}
	}
	status, set := p.ask("GET", "/set?name=Tarde&game="+p.code, hostKey, "")
	if status != http.StatusOK || strings.Count(set, `"language":"es"`) < 12 {
		t.Errorf("the saved set: %d, %.300s", status, set)
	}
	want := p.wholeRound(0)
	other := begin(t)
	if status, body := other.ask("POST", "/set?game="+other.code, hostKey, set); status != http.StatusOK {
		t.Fatalf("loaded: %d %s", status, body)
	}
	if got := other.wholeRound(0); !reflect.DeepEqual(got, want) {
		t.Errorf("loaded %q, want %q", got, want)
	}
	loaded := other.host().until("the state", func(f bot.Frame) bool { return f.Host != nil })
	if spoken(t, loaded) != "es" {
		t.Error("the loaded game is not in Spanish")
	}
	if status, body := other.ask("POST", "/set?game="+other.code, hostKey, strings.Replace(set, `"language":"es"`, `"language":"fr"`, 1)); status != http.StatusUnprocessableEntity || !strings.Contains(body, "language") {
		t.Errorf("a set in French: %d %s", status, body)
	}

	host.act("next")
	f := phone.phase("asking")
	spanish("what the phone is sent", f.Question.Prompt)
	if spoken(t, f) != "es" {
		t.Errorf("the phone is not told the language: %s", f.Raw)
	}
}

func (p *place) wholeRound(round int) []string { return p.planned(round).prompts() }

func TestLanguagesOfAPlan(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	wish := twoRounds()
	wish["language"] = "fr"
	if f := host.do(map[string]any{"type": "do", "action": "plan", "plan": wish}); f.Code != "bad_plan" || !strings.Contains(f.Message, "en, es") {
		t.Errorf("French: %s", f.Raw)
	}
	// Chosen questions are of one language.
	host.act("plan", "plan", twoRounds())
	choose(p, host)
	host.conn.Close()
	host = p.host()
	wish = twoRounds()
	wish["language"] = "es"
	list := wish["rounds"].([]map[string]any)
	list[0]["set"], list[0]["count"] = host.plan().Rounds[0].Set, 5
	if f := host.do(map[string]any{"type": "do", "action": "plan", "plan": wish}); f.Code != "stale_plan" {
		t.Errorf("English questions kept in a Spanish plan: %s", f.Raw)
	}
	wish["language"] = "en"
	host.act("plan", "plan", wish)
}

// Names may be typed in either language.
func TestTypedNamesInSpanish(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	typed := round("open", 1)
	typed["typed"] = true
	host.act("plan", "plan", inSpanish(typed))
	key := p.planned(0).Questions[0].Options[0]
	english := ""
	for _, s := range catalogue.Builtin().Species {
		if s.Spanish == key {
			english = s.Vernacular
		}
	}
	if english == "" {
		t.Fatalf("%q is no Spanish name", key)
	}
	one, two := p.join("Wrens"), p.join("Owls")
	host.act("next")
	for c, name := range map[*client]string{one: key, two: english} {
		f := c.phase("asking")
		if reply := c.do(map[string]any{"type": "answer", "question": f.Question.ID, "text": name}); reply.Type != "done" {
			t.Errorf("%q: %s", name, reply.Raw)
		}
		c.until("the answer in Spanish", func(f bot.Frame) bool {
			return f.Type == "you" && strings.Contains(string(f.Raw), `"answer":"`+key+`"`)
		})
	}
}

// A catalogue of one's own without Spanish words plays in English, and is
// refused for Spanish with what it lacks.
func TestACatalogueWithoutSpanish(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../questions/catalogue/sheets/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	sheets := fstest.MapFS{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if name := filepath.Base(file); name != "traits_es.csv" {
			sheets[name] = &fstest.MapFile{Data: text}
		}
	}
	own, err := catalogue.Load(sheets)
	if err != nil {
		t.Fatal(err)
	}
	s, err := bolt.Open(filepath.Join(t.TempDir(), "games.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	p := openWith(t, hub.Config{Store: s, Catalogue: own, HostKey: hostKey, Roster: "furbearers", Address: "http://test.example", Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	t.Cleanup(p.stop)
	host := p.host()
	f := host.until("the state", func(f bot.Frame) bool { return f.Host != nil })
	var state struct{ Host struct{ Languages []string } }
	if err := json.Unmarshal(f.Raw, &state); err != nil || !reflect.DeepEqual(state.Host.Languages, []string{"en"}) {
		t.Errorf("offered: %v, %v", state.Host.Languages, err)
	}
	one := round("open", 1)
	one["subjects"] = []string{"skull"}
	wish := inSpanish(one)
	if f := host.do(map[string]any{"type": "do", "action": "plan", "plan": wish}); f.Code != "bad_plan" || !strings.Contains(f.Message, "traits_es.csv") {
		t.Errorf("in Spanish: %s", f.Raw)
	}
	wish["language"] = "en"
	host.act("plan", "plan", wish)
}
