package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/lab/soak"
)

// The pages on many games, in a browser: in each state of the gallery, and as a
// host uses them after a rehearsed game.

var clubScreens = []string{"season", "season-32", "season-none", "season-empty", "season-refused", "season-plan", "season-plan-none", "season-plan-over", "fair-teams", "fair-teams-rated", "fair-teams-lot", "trends", "trends-one-date", "trends-none"}

// TestClubScreensFit: every screen is as wide as the device, its controls are
// large enough, and its tables and pictures can be understood without eyes.
func TestClubScreensFit(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	port := withGallery(t, hub.port)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", port))
	desk, phone := b.open("desk", "/gallery", 1920, 1080), b.open("phone", "/gallery", phoneWidth, 2400)
	for _, screen := range clubScreens {
		for _, p := range []*page{desk, phone} {
			p.screen(screen)
			p.wait(screen, "!!document.querySelector('main h1')")
			for what, expression := range map[string]string{
				"is as wide as the screen":        "document.documentElement.scrollWidth <= innerWidth",
				"has large enough controls":       "[...document.querySelectorAll('button, select, input, textarea, summary, .check')].every(e => e.closest('.check') && e.type == 'checkbox' || e.offsetParent === null || e.getBoundingClientRect().height >= 47.5)",
				"has controls with names":         "[...document.querySelectorAll('input, select, textarea')].every(e => e.labels.length > 0 || e.ariaLabel)",
				"has tables with caption, heads":  "[...document.querySelectorAll('.figures')].every(t => t.caption && t.querySelector('th[scope=col]') && t.querySelector('th[scope=row]'))",
				"has pictures that say something": "[...document.querySelectorAll('svg.picture')].every(s => s.getAttribute('aria-label').length > 20)",
			} {
				if !p.js(expression) {
					t.Errorf("%s on the %s: not so that it %s", screen, p.name, what)
				}
			}
			p.shot("club-" + screen + "-" + p.name)
		}
	}
	board := b.open("board", "/gallery", 1920, 1080)
	for _, screen := range []string{"season-board", "season-board-32", "season-board-ratings", "season-board-empty", "season-board-closed"} {
		board.screen(screen)
		board.wait(screen, "!!document.querySelector('main h1')")
		if !board.js("document.documentElement.scrollWidth <= innerWidth && document.documentElement.scrollHeight <= innerHeight") {
			t.Errorf("%s does not fit the projector", screen)
		}
		if !board.js("[...document.querySelectorAll('td, th, p, h1')].every(e => parseFloat(getComputedStyle(e).fontSize) >= 0.04 * innerHeight)") {
			t.Errorf("%s has letters too small for the back row", screen)
		}
		board.shot("club-" + screen)
	}
	b.check(port)
}

func TestASeasonInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	rehearsed(t, hub, 4)
	console := b.open("console", "/host?game="+hub.code+"#key="+testKey, 1280, 900)
	console.set("count-season", "Spring 2026")
	console.press("Count in season")
	console.wait("that it is counted", says("Counted in the season Spring 2026"))
	console.shot("season-console")

	keyless := b.open("keyless", "/season", 1280, 800)
	keyless.set("key", "a guess")
	keyless.press("Use this key")
	keyless.wait("that the key is wrong", says("does not know this key"))
	anyone := b.open("anyone", "/season/board?season=Spring%202026", 1920, 1080)
	anyone.wait("that it is closed", says("not open"))

	host := console
	host.visit("/season#key=" + testKey)
	host.wait("four teams", "document.querySelectorAll('.standing tbody tr').length == 4")
	if host.js("location.hash.includes('key')") {
		t.Error("the key stays in the address")
	}
	host.wait("the box", `(() => { const i = document.getElementById('show-open'); if (!i || i.disabled) return false; i.click(); return true; })()`)
	host.wait("the way to the board", says("Open the season’s board"))
	anyone.visit("/season/board?season=Spring%202026")
	anyone.wait("the table", "document.querySelectorAll('.leaders tbody tr').length == 4 && !"+says("Rating"))
	anyone.shot("season-board-real")
	host.wait("the second box", `(() => { const i = document.getElementById('show-ratings'); if (!i || i.disabled) return false; i.click(); return true; })()`)
	host.wait("that it holds", "document.getElementById('show-ratings').checked")
	anyone.visit("/season/board?season=Spring%202026")
	anyone.wait("the ratings", says("Rating"))

	host.wait("a team to erase", `(() => { const b = [...document.querySelectorAll('.erasing button')].find((b) => b.textContent === 'Erase Bots 1'); if (!b) return false; b.closest('details').open = true; b.click(); return true; })()`)
	host.confirm("Erase it")
	host.wait("three teams", "document.querySelectorAll('.standing tbody tr').length == 3 && !"+says("Bots 1"))
	host.shot("season-real")

	fair := keyless
	fair.resize(phoneWidth, 1800)
	fair.visit("/fair-teams#key=" + testKey)
	fair.set("names", "Bots 2\nBots 3\nBots 4\nAsh\nBirch\nCedar\nElm")
	fair.set("teams", "2")
	fair.press("Make the teams")
	fair.wait("two teams", "document.querySelectorAll('.fair-teams tbody tr').length == 2 && "+says("newcomer"))
	fair.shot("fair-teams-real")
	if fair.js("JSON.stringify({...localStorage}).includes('Cedar')") {
		t.Error("the list is kept without having been asked")
	}

	trends := keyless
	trends.resize(1280, 2000)
	trends.visit("/trends#key=" + testKey)
	trends.wait("a picture of the one date, and the traits as a table", "document.querySelectorAll('svg.trend').length == 2 && document.querySelectorAll('details[open] tbody tr').length > 10")
	trends.shot("trends-real")
	for _, name := range []string{"Bots 2", "Bots 3"} {
		if trends.js(says(name)) {
			t.Errorf("the trends name %s", name)
		}
	}

	host.press("Erase this season")
	host.confirm("Erase it")
	host.wait("that there is none", says("There is no season yet"))
	b.mu.Lock()
	b.faults = slices.DeleteFunc(b.faults, func(f string) bool { return strings.Contains(f, "403") || strings.Contains(f, "404") }) // the guess and the closed board, refused
	b.mu.Unlock()
	b.check(hub.port)
	if left := seasonsOf(t, hub); len(left) != 0 {
		t.Errorf("left: %v", left)
	}
}

// confirm presses a button of the box that asks, once it is open.
func (p *page) confirm(text string) {
	p.Helper()
	p.wait("the box that asks", "!!document.querySelector('dialog[open]')")
	p.press(text)
}

func seasonsOf(t *testing.T, hub *program) []string {
	t.Helper()
	r, err := http.NewRequest("GET", hub.url()+"/season.json", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Authorization", "Bearer "+testKey)
	client := &http.Client{Timeout: time.Minute}
	answer, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	var view struct{ Seasons []string }
	if err := json.NewDecoder(answer.Body).Decode(&view); err != nil {
		t.Fatal(err)
	}
	return view.Seasons
}
