package main

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/bot"
)

// rehearsed plays a whole game with quick bots.
func rehearsed(t *testing.T, hub *program, teams int) {
	t.Helper()
	var names []string
	for i := range teams {
		names = append(names, fmt.Sprintf("Bots %d", i+1))
	}
	playedByBots(t, hub, names, 300*time.Millisecond)
}

// playedByBots plays the game of hub.code from its lobby to its end.
func playedByBots(t *testing.T, hub *program, names []string, think time.Duration) {
	t.Helper()
	for i, name := range names {
		p := &bot.Player{Hub: hub.url(), Code: hub.code, Name: name, Think: think, Dice: rand.New(rand.NewPCG(uint64(i), 7))}
		go p.Play(t.Context())
	}
	teams := len(names)
	hello := map[string]any{"type": "host", "key": testKey}
	host := dialed(t, hub, hello)
	for started := false; ; {
		f, err := host.Receive(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if f.Code == "host_present" { // a page that was left has not gone yet
			time.Sleep(200 * time.Millisecond)
			if err := host.Send(t.Context(), hello); err != nil {
				t.Fatal(err)
			}
		}
		if f.Type != "state" {
			continue
		}
		switch {
		case f.Phase == "ended":
			if err := host.Close(); err != nil {
				t.Log(err)
			}
			return
		case f.Phase == "lobby" && f.Teams == teams && !started, f.Phase == "revealed", f.Phase == "break":
			started = true
			if err := host.Send(t.Context(), map[string]any{"type": "do", "action": "next", "id": fmt.Sprint("n", f.Seq)}); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestTheDebriefInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	rehearsed(t, hub, 6)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))

	console := b.open("console", "/host?game="+hub.code+"#key="+testKey, 1280, 800)
	console.wait("the ranking", "!!document.querySelector('.leaders')")
	console.wait("the way to the debrief", fmt.Sprintf(`document.querySelector('a[href^="/debrief"]')?.href.endsWith("game=%s")`, hub.code))
	console.shot("host-ended-debrief")

	at := "/debrief?game=" + hub.code
	keyless := b.open("keyless", at, 1280, 800)
	keyless.set("key", "a guess")
	keyless.press("Use this key")
	keyless.wait("that the key is wrong", says("does not know this key"))
	keyless.set("key", testKey)
	keyless.press("Use this key")
	keyless.wait("the report", says("Who knew what"))

	p := b.open("debrief", at+"#key="+testKey, 1280, 800)
	for _, s := range []struct {
		name string
		size
	}{{"debrief", size{1280, 800}}, {"debrief-phone", size{phoneWidth, phoneHeight}}, {"debrief-long", size{1280, 2400}}, {"debrief-phone-long", size{phoneWidth, 2400}}} {
		name := s.name
		p.resize(s.wide, s.high)
		p.js("document.querySelectorAll('details').forEach((d) => { d.open = false; }), true")
		p.wait("a row for each question", "document.querySelectorAll('.figures.questions tbody tr').length == 14")
		p.wait("three drawn pairs, or fewer", "document.querySelectorAll('.mixed li').length <= 3 && !!document.querySelector('.sentences li')")
		p.shot(name + "-first")
		if high := read[int](p, "document.documentElement.scrollHeight"); name == "debrief" && high > 3*800 {
			t.Errorf("the debrief is %d px high: more than three screens", high)
		}
		p.js("document.querySelectorAll('details').forEach((d) => { d.open = true; }), true")
		p.wait("both pictures", "document.querySelectorAll('svg.picture').length == 2")
		if narrow := read[[]string](p, "[...document.querySelectorAll('.figures td, .figures tbody th')].filter((e) => e.innerText.length >= 8 && e.getBoundingClientRect().width < 8 * 0.5 * parseFloat(getComputedStyle(e).fontSize)).map((e) => e.innerText)"); len(narrow) > 0 {
			t.Errorf("%s: columns of less than eight letters hold %q", name, narrow)
		}
		if !p.js("document.documentElement.scrollWidth <= innerWidth") {
			t.Errorf("%s is wider than the screen", name)
		}
		if !p.js("[...document.querySelectorAll('table')].every(t => t.caption && t.querySelector('th[scope=col]') && t.querySelector('th[scope=row]'))") {
			t.Errorf("%s: a table lacks a caption or heads", name)
		}
		if p.js("location.hash.includes('key')") {
			t.Errorf("%s leaves the key in the address", name)
		}
		if !p.js("[...document.querySelectorAll('.picks li > :last-child')].every((e) => e.getBoundingClientRect().width >= 8 * parseFloat(getComputedStyle(e).fontSize))") {
			t.Errorf("%s: what was picked is less than 8 em wide", name)
		}
		p.shot(name)
	}

	keyless.press("Plan the next game")
	keyless.wait("the next game's plan", "location.pathname == '/host' && !!document.getElementById('round-1-count')")
	if keyless.js("location.search.includes(" + fmt.Sprintf("%q", hub.code) + ")") {
		t.Error("the next game is the old one")
	}
	b.mu.Lock()
	b.faults = slices.DeleteFunc(b.faults, func(f string) bool { return strings.Contains(f, "403") }) // the guess, refused
	b.mu.Unlock()
	b.check(hub.port)
}
