package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

// ex is the height of the small letters of what a selector finds, the least of
// them, in percent of the screen's height; 100 where there is none.
func ex(selector string) string {
	return fmt.Sprintf(`((found) => Math.min(100, ...found.map((e) => {
		const x = document.createElement('span');
		x.style.cssText = 'display:inline-block;width:10ex';
		e.append(x);
		const high = x.getBoundingClientRect().width / 10;
		x.remove();
		return 100 * high / innerHeight;
	})))([...document.querySelectorAll(%q)])`, selector)
}

// drawnAll: each drawing of a reveal is there and can be seen.
const drawnAll = `[...document.querySelectorAll('.drawing')].every((d) => ((r) => r && r.width > 40 && r.height > 20)(d.querySelector('svg')?.getBoundingClientRect()))`

const whole = `((m) => m && m.scrollHeight <= m.clientHeight + 2 && m.scrollWidth <= m.clientWidth + 2 && document.documentElement.scrollHeight <= innerHeight
	&& [...m.querySelectorAll('.row, .says, .reason, footer, .drawing, h1')].every((e) => ((r) => r.bottom <= innerHeight + 2 && r.right <= innerWidth + 2)(e.getBoundingClientRect())))(document.querySelector('main.fit'))`

// allKinds is a hub with two teams who mostly take a wrong answer, for tests that
// look at questions of all kinds.
type allKinds struct {
	*desk
	hub   *program
	teams []*bot.Conn
}

func ofAllKinds(t *testing.T, rounds ...map[string]any) *allKinds {
	t.Helper()
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", fewAnimals(t)) // whose practice is soon made
	e := &allKinds{desk: deskOf(t, hub), hub: hub}
	for _, name := range []string{"Marsh Wrens", "Alder Voles"} {
		e.teams = append(e.teams, dialed(t, hub, map[string]any{"type": "join", "name": name}))
	}
	var plan []any
	for _, r := range rounds {
		round := map[string]any{"name": "Round", "kind": "open", "subjects": []string{"skull", "track", "scat"}, "count": 20, "seconds": 600, "points": 100}
		maps.Copy(round, r)
		plan = append(plan, round)
	}
	e.act("plan", map[string]any{"plan": map[string]any{"title": "All kinds", "seed": 5, "roster": "everything", "rounds": plan}})
	return e
}

// next opens the next question; false at the end.
func (e *allKinds) next() (bot.Frame, bool) {
	e.t.Helper()
	for {
		e.act("next", nil)
		f := awaited(e.t, e.Conn, "the state", func(f bot.Frame) bool { return f.Type == "state" && f.Phase != "revealed" && f.Phase != "lobby" })
		if f.Phase == "asking" || f.Phase == "ended" {
			return f, f.Phase == "asking"
		}
	}
}

// reveal has both teams take the option after the key, and closes the question.
func (e *allKinds) reveal(f bot.Frame) {
	e.t.Helper()
	for i, c := range e.teams {
		answer := map[string]any{"type": "answer", "id": fmt.Sprint(f.Question.ID, i), "question": f.Question.ID, "option": (f.Host.Key + 1) % len(f.Question.Options)}
		if len(f.Question.Options) == 1 { // the key of one that is typed
			answer["text"] = []string{"red fox", "coyote"}[i]
		}
		c.Send(e.t.Context(), answer)
	}
	f = awaited(e.t, e.Conn, "the reveal", func(g bot.Frame) bool { return g.Type == "state" && (g.Phase == "revealed" || g.Answered == 2) })
	if f.Phase != "revealed" {
		e.act("close", nil)
	}
}

var projectors = []size{{1920, 1080}, {1024, 768}}

// A board's options are read from the back row, and so is the reason, over
// questions of all kinds and at both shapes of screen; nothing leaves it.
func TestBoardFillsItsHeight(t *testing.T) {
	t.Parallel()
	need(t, headless)
	each := soak.Size(2, 9)
	e := ofAllKinds(t, map[string]any{"drawings": "none", "count": each}, map[string]any{"drawings": "all", "count": each}, map[string]any{"typed": true, "count": 2, "subjects": []string{"skull"}})
	defer e.Close()
	board := newBrowser(t, fmt.Sprintf("http://localhost:%d", e.hub.port)).open("board", "/board?game="+e.hub.code, 1920, 1080)
	board.wait("the lobby", says("All kinds"))
	seen := map[string][]float64{}
	look := func(name string, n int, selector string) {
		for _, s := range projectors {
			board.resize(s.wide, s.high)
			board.wait("that all is on the screen", "document.fonts.status === 'loaded' && [...document.images].every((i) => i.complete) && "+drawnAll+" && "+whole)
			if n%3 == 1 {
				board.shot(fmt.Sprintf("fills-%02d-%s-%dx%d", n, name, s.wide, s.high))
			}
			high := read[float64](board, ex(selector))
			kind := fmt.Sprintf("%s %dx%d", name, s.wide, s.high)
			seen[kind] = append(seen[kind], high)
		}
	}
	for n := 1; ; n++ {
		f, on := e.next()
		if !on {
			break
		}
		board.wait("the question", says(fmt.Sprintf("Question %d of", f.Question.N))+"&&!!document.querySelector('.fit.question footer')")
		look("open", n, ".options .text")
		e.reveal(f)
		board.wait("the reveal", "!!document.querySelector('.tally .row.key')")
		look("reason", n, ".says, .reason")
	}
	board.wait("the end", "!!document.querySelector('.leaders')")
	for _, s := range projectors {
		board.resize(s.wide, s.high)
		board.wait("the ranking", whole)
		board.shot(fmt.Sprintf("fills-ended-%dx%d", s.wide, s.high))
	}
	for kind, list := range seen {
		slices.Sort(list)
		most := map[bool]float64{true: 3, false: 2.5}[strings.HasPrefix(kind, "open")]
		if i := slices.IndexFunc(list, func(x float64) bool { return x >= most }); i > max(1, len(list)/10) || list[0] < most-.4 {
			t.Errorf("%s: %d of %d x-heights are under %.1f %% of the screen, the least %.1f", kind, i, len(list), most, list[0])
		}
		t.Logf("%s: x-heights of %.1f to %.1f %% of the screen, half over %.1f (%d)", kind, list[0], list[len(list)-1], list[len(list)/2], len(list))
	}
}

// A phone shows all of a question without scrolling, whatever is asked; what
// has to be read after it, is below its drawings at the reveal.
func TestQuestionsOfAllKindsFitAPhone(t *testing.T) {
	t.Parallel()
	need(t, headless)
	open, buzz := soak.Size(3, 20), soak.Size(1, 10)
	e := ofAllKinds(t, map[string]any{"drawings": "none", "count": open}, map[string]any{"drawings": "all", "count": open}, map[string]any{"kind": "buzz", "drawings": "all", "count": buzz},
		map[string]any{"kind": "buzz", "drawings": "none", "count": buzz}, map[string]any{"typed": true, "count": 2, "subjects": []string{"skull"}})
	defer e.Close()
	phone := newBrowser(t, fmt.Sprintf("http://localhost:%d", e.hub.port)).open("phone", "/team?game="+e.hub.code, phoneWidth, phoneHeight)
	phone.set("name", "Pond Herons")
	phone.press("Join")
	phone.wait("its name", says("Pond Herons is on the list"))
	asked, hidden := 0, map[string]int{}
	for {
		f, on := e.next()
		if !on {
			break
		}
		asked++
		phone.wait("the question", fmt.Sprintf("document.querySelector('.where')?.innerText.includes('Question %d of') && !!document.querySelector('.asked')", f.Question.N)+" && [...document.images].every((i) => i.complete)")
		for _, s := range []size{{360, 640}, {390, 664}, {360, 740}, {412, 732}} {
			phone.resize(s.wide, s.high)
			if !phone.js("document.documentElement.scrollHeight <= innerHeight && [...document.querySelectorAll('.row, .reach button, form button')].every((e) => e.getBoundingClientRect().bottom <= innerHeight)") {
				kind := fmt.Sprintf("%dx%d", s.wide, s.high)
				if hidden[kind]++; hidden[kind] == 1 {
					phone.shot("hidden-" + kind)
				}
				t.Errorf("%s: %q does not fit", kind, f.Question.Prompt)
			}
		}
		if f.Round.Kind == "buzz" {
			e.act("close", nil)
		} else {
			e.reveal(f)
		}
		phone.wait("what it missed, kept", fmt.Sprintf("JSON.parse(localStorage.getItem('fieldsign.missed.%s'))?.length === %d", e.hub.code, min(asked, 30)))
		if asked%6 == 1 {
			phone.wait("the reveal", "!!document.querySelector('.tally .row.key') && "+drawnAll)
			phone.resize(390, 844)
			phone.shot(fmt.Sprintf("phone-reveal-%02d", asked))
		}
	}
	t.Logf("%d questions at four sizes; hidden: %v", asked, hidden)
	phone.wait("what to go over", "document.querySelector('a.again')?.href.endsWith('#game="+e.hub.code+"')")
	phone.shot("phone-over")
	goneOver(t, phone, e.hub.code, asked)
}

// goneOver practises what the phone missed, which was all: each question once, with
// its drawings, to the end.
func goneOver(t *testing.T, phone *page, code string, asked int) {
	t.Helper()
	want := min(asked, 30) // as many as a phone keeps
	phone.visit("/practice#game=" + code)
	phone.wait("how many there are", says(fmt.Sprintf("Go over what you missed (%d)", want)))
	phone.press(fmt.Sprintf("Go over what you missed (%d)", want))
	seen := map[string]bool{}
	for n := 1; n <= want; n++ {
		phone.wait("the question", fmt.Sprintf("document.querySelector('.sitting .where')?.innerText.startsWith('Question %d of %d')", n, want))
		if !phone.js("[...document.querySelectorAll('.row button')].length >= 2") {
			t.Errorf("%q has no options", phone.text("document.querySelector('h1').innerText"))
		}
		seen[phone.text("document.querySelector('h1').innerText + document.querySelector('.options').innerHTML")] = true
		phone.js("document.querySelector('.row button').click(), true")
		phone.wait("what became of it", "!!document.querySelector('.told .title')")
		phone.wait("a drawing on each card", "[...document.querySelectorAll('.likeness')].every((e) => e.querySelector('svg'))")
		if n%5 == 1 {
			phone.shot(fmt.Sprintf("phone-again-%02d", n))
		}
		phone.press("Next")
	}
	if len(seen) != want {
		t.Errorf("%d of %d questions were asked", len(seen), want)
	}
	phone.wait("the end", fmt.Sprintf("document.querySelector('h1').innerText.includes('of %d')", want))
}
