package main

import (
	"fmt"
	"path/filepath"
	"testing"
)

// A teacher who has opened the console presses a recipe and Start, and a question
// is open. At the end one press leads the same teams, on the same phones, to
// their next game.
func TestThreePressesAndASecondGame(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", "furbearers")
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 800)
	board := b.open("board", "/board?game="+hub.code, boardWidth, boardHeight)
	var phones []*page
	for _, name := range []string{"Marsh Wrens", "Pine Martens"} {
		p := b.open("phone "+name, "/team?game="+hub.code, phoneWidth, phoneHeight)
		p.set("name", name)
		p.press("Join")
		p.wait("its name", says(name))
		phones = append(phones, p)
	}
	host.wait("both teams", says("2 teams"))
	host.wait("what is played now", "document.querySelector('.recipe[aria-pressed=true]')?.innerText.includes('Mixed review')")
	host.wait("how many animals there are", says("Furbearers · 16"))
	host.wait("the drawings", "[...document.querySelectorAll('.recipe img, .scan')].every((i) => i.complete && i.naturalWidth > 0)")
	host.shot("console-lobby")
	if !host.js("(r => r.bottom <= innerHeight && r.top >= 0)(document.querySelector('button[value=start]').getBoundingClientRect())") {
		t.Error("Start is out of sight")
	}
	host.resize(390, 664)
	host.shot("console-lobby-phone")
	if !host.js("(r => r.bottom <= innerHeight && r.top >= 0)(document.querySelector('button[value=start]').getBoundingClientRect())") {
		t.Error("Start is out of sight on a phone")
	}
	host.resize(1280, 800)

	presses := 0
	press := func(text string) { host.press(text); presses++ }
	press("A short one")
	host.wait("that it is chosen", "document.querySelector('.recipe[aria-pressed=true]')?.innerText.includes('A short one')")
	press("Start the game")
	press("Begin round 1")
	for _, p := range append(phones[:2:2], board) {
		p.wait("the first question", "document.querySelectorAll('.options .row').length >= 2 || !!document.querySelector('main img.plate')")
	}
	if presses > 3 {
		t.Errorf("it took %d presses", presses)
	}
	host.wait("five questions", says("of 5."))
	host.wait("the switch of the key", "document.querySelector('.show-key')?.getAttribute('aria-expanded') === 'false'")
	if host.js("!!document.querySelector('.row.key')") || host.js(says("Key:")) || host.js(says("Up next")) {
		t.Error("the console shows a key that nobody asked for")
	}
	host.shot("console-question")
	host.key()
	host.visit("/host?game=" + hub.code)
	host.wait("that the console remembers to show it", "!!document.querySelector('.row.key') && "+says("Key:"))
	host.shot("console-question-key")
	host.press("Hide the key")
	host.wait("that it is hidden again", "!document.querySelector('.row.key') && !"+says("Key:"))
	phones[1].visit("/") // sleeps while the game ends

	host.press("End the game")
	host.wait("the question back", confirmed)
	host.wait("what comes next", says("Play again with other questions"))
	host.shot("console-ended")
	host.press("Play again")
	host.wait("another game's plan", fmt.Sprintf("!location.search.includes(%q) && !!document.querySelector('.recipe[aria-pressed=true]')", hub.code))
	code := host.text("new URLSearchParams(location.search).get('game')")
	for _, p := range []*page{phones[0], board} {
		p.wait("that it is in the next game", fmt.Sprintf("location.search.includes(%q)", code))
	}
	phones[1].visit("/team?game=" + hub.code)
	phones[1].wait("that it follows when it is back", fmt.Sprintf("location.search.includes(%q) && ", code)+says("Pine Martens"))
	host.wait("the same teams", says("2 teams")+" && "+says("Marsh Wrens")+" && "+says("Pine Martens")+" && !"+says("offline"))
	host.press("Start the game")
	host.press("Begin round 1")
	for _, p := range append(phones[:2:2], board) {
		p.wait("a question of the next game", "document.querySelectorAll('.options .row').length >= 2 || !!document.querySelector('main img.plate')")
	}
	phones[1].visit("/team?game=" + code) // the page itself is opened anew
	phones[1].wait("the question again", "document.querySelectorAll('.options .row').length >= 2 || !!document.querySelector('main img.plate')")
	b.check(hub.port)
}

// consoleCutsNoOption: on a laptop the console shows every option beside the drawing, above
// the bar, with the key shown or hidden. None is filled while a question is open: phones answer, and it ends by itself.
func (p *page) consoleCutsNoOption() {
	p.Helper()
	p.resize(1280, 800)
	const above = "document.querySelector('.options li:last-child').getBoundingClientRect().bottom <= document.querySelector('section.bar').getBoundingClientRect().top"
	for name, filled := range map[string]string{"host-drawn": "none", "host-drawn-held": "none"} {
		p.screen(name)
		for range 2 { // the switch is kept from screen to screen
			p.wait("its options in sight", above)
			p.wait("what is filled", fmt.Sprintf("(l => l.length < 2 && (l[0]?.innerText ?? 'none').startsWith(%q))([...document.querySelectorAll('.controls .main')].filter((b) => b.getAttribute('aria-disabled') === 'false'))", filled))
			p.js("(document.querySelector('.show-key').click(), true)")
		}
		p.shot(name)
	}
}
