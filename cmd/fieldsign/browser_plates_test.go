package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

// desk is a host without a page.
type desk struct {
	*bot.Conn
	t *testing.T
	n int
}

func deskOf(t *testing.T, p *program) *desk {
	t.Helper()
	return &desk{dialed(t, p, map[string]any{"type": "host", "key": testKey, "takeOver": true}), t, 0}
}

// act waits until the hub has done it; it takes only so many frames a second.
func (d *desk) act(action string, more map[string]any) {
	d.t.Helper()
	d.n++
	frame := map[string]any{"type": "do", "id": fmt.Sprint("act", d.n), "action": action}
	maps.Copy(frame, more)
	for {
		d.Send(d.t.Context(), frame)
		f := awaited(d.t, d.Conn, action, func(f bot.Frame) bool { return f.Type == "done" || f.Type == "refused" })
		if f.Code != "too_fast" {
			return
		}
		time.Sleep(200 * time.Millisecond)
	}
}

// kindsOfPlates are the questions that a drawing makes, by subject and the
// beginning of the prompt.
var kindsOfPlates = map[string]string{
	"track Which of these is the ": "four-prints", "skull Which of these is the ": "four-skulls", "scat Which of these is the ": "four-scats",
	"skull What does the question mark ": "label", "track Could the same kind of animal ": "pair",
}

// A drawing of each subject is seen on a phone and from the back row, and so is each kind
// of question on drawings, before and after the reveal.
func TestPlatesInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	phone := b.open("phone", "/team?game="+hub.code, phoneWidth, phoneHeight)
	phone.set("name", "Marsh Wrens")
	phone.press("Join")
	phone.wait("its name", says("Marsh Wrens"))
	board := b.open("board", "/board?game="+hub.code, 1920, 1080)
	dialed(t, hub, map[string]any{"type": "join", "name": "Idle Herons"}) // a question stays open while it is waited for
	kinds := maps.Clone(kindsOfPlates)
	desk := deskOf(t, hub)
	defer desk.Close()
	all := []string{"track", "skull", "scat", "sign"}
	subjects := all[:soak.Size(1, 4)]
	maps.DeleteFunc(kinds, func(kind, _ string) bool {
		subject, _, _ := strings.Cut(kind, " ")
		return !slices.Contains(subjects, subject)
	})
	var rounds []any
	drawn := map[string]string{} // by the name of a round in which drawings stand alone
	for _, s := range all {
		name := "plates of " + s
		drawn[name] = s
		rounds = append(rounds, map[string]any{"name": name, "kind": "open", "subjects": []string{s}, "count": soak.Size(3, 12), "drawings": "all", "seconds": 600, "points": 100})
	}
	for _, s := range subjects {
		rounds = append(rounds, map[string]any{"name": s, "kind": "open", "subjects": []string{s}, "count": soak.Size(15, 40), "seconds": 600, "points": 100})
	}
	desk.act("plan", map[string]any{"plan": map[string]any{"title": "Plates", "seed": 1, "rounds": rounds, "roster": "everything"}})
	for len(kinds)+len(drawn) > 0 {
		desk.act("next", nil)
		f := awaited(t, desk.Conn, "the state", func(f bot.Frame) bool { return f.Type == "state" && f.Phase != "revealed" && f.Phase != "lobby" })
		switch {
		case f.Phase == "ended":
			t.Fatalf("these did not come up: %v %v", kinds, drawn)
		case f.Phase != "asking":
			continue
		}
		name := ""
		for kind, short := range kinds {
			if strings.HasPrefix(f.Round.Name+" "+f.Question.Prompt, kind) {
				name = short
				delete(kinds, kind)
			}
		}
		if subject := drawn[f.Round.Name]; subject != "" && f.Question.Plate != "" {
			name = "plate-" + subject
			delete(drawn, f.Round.Name)
		}
		if name == "" {
			desk.act("skip", nil)
			continue
		}
		showPlates(phone, board, name)
		desk.act("close", nil)
		for _, p := range []*page{phone, board} {
			p.shotWhen(p.name+"-"+name+"-reveal", "!!document.querySelector('.row.key')")
		}
		if board.js("document.documentElement.scrollHeight > innerHeight") {
			t.Errorf("the board's reveal of %s does not fit the screen", name)
		}
	}
	b.check(hub.port)
}

const (
	allDrawn    = "(i => i.length > 0 && i.every(x => x.complete && x.naturalWidth > 0 && x.alt.length > 40))([...document.querySelectorAll('img.plate, img.thumb')])"
	allTargets  = "[...document.querySelectorAll('.options button:not(.larger)')].every(b => b.offsetHeight >= 48 && b.offsetWidth >= 48)"
	middleShown = "(d => !!d && (p => Math.abs(p.scrollLeft - (p.scrollWidth - p.clientWidth) / 2) < 2)(d.querySelector('.pan')) && (b => b.top > 0 && b.bottom <= innerHeight && b.height >= 48)(d.querySelector('.main').getBoundingClientRect()))(document.querySelector('dialog.large'))"
	twoByTwo    = "(c => c.length != 4 || c[0].top == c[1].top && c[2].top == c[3].top && c[0].left == c[2].left && c[0].top < c[2].top && c[3].bottom <= innerHeight)([...document.querySelectorAll('.pictured .row > :not(.larger)')].map(r => r.getBoundingClientRect()))"
)

// showPlates looks at an open question on the phone and the board.
func showPlates(phone, board *page, name string) {
	phone.Helper()
	for _, p := range []*page{phone, board} {
		p.shotWhen(p.name+"-"+name, allDrawn)
		if p.js("document.documentElement.scrollWidth > innerWidth") {
			p.Errorf("%s: %s scrolls sideways", p.name, name)
		}
	}
	if !phone.js(allTargets) || !phone.js(twoByTwo) {
		phone.Errorf("%s: a target is too small, or the drawings do not stand two by two within the screen", name)
	}
	if board.js("document.documentElement.scrollHeight > innerHeight") {
		board.Errorf("the board's %s does not fit the screen", name)
	}
	if phone.js("!!document.querySelector('button.larger') && (document.querySelector('button.larger').click(), true)") {
		phone.shotWhen(phone.name+"-"+name+"-large", middleShown)
		phone.js("document.querySelector('dialog.large .main').click()")
		phone.wait("the question again", "!document.querySelector('dialog.large')")
	}
	phone.pick(1)
	phone.shotWhen(phone.name+"-"+name+"-sent", "!!document.querySelector('.row.own')")
}
