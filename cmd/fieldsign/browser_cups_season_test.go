package main

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"fieldsign/hub/lab/soak"
)

// TestACupInASeasonInRealPages plays a match that counts in a season, after the
// wrong phone was sent from its seat, seeds the next tournament by the ratings,
// and erases the first one.
func TestACupInASeasonInRealPages(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/tournament#key="+testKey, 1280, 900)
	gather := func(name, teams string) string {
		host.set("tournament-name", name)
		host.choose("tournament-format", "double elimination")
		host.press("Make it")
		host.set("names", teams)
		host.press("Enter these teams")
		host.wait("its teams", "document.querySelectorAll('ol.teams li').length >= 2")
		return host.value("new URLSearchParams(location.search).get('id')")
	}
	cup := gather("Autumn cup", "Wrens\nOtters")
	if host.js("document.body.innerText.includes('Order by the ratings')") {
		t.Error("an order by ratings is offered without a season")
	}
	host.set("plan-open", "1")
	host.set("plan-buzz", "0")
	host.set("tournament-season", "2026")
	host.press("Make the draw")
	host.wait("the question", confirmed)
	host.press("Open")
	code := host.value("document.querySelector('li[data-game]').dataset.game")

	console := b.open("console", "/host?game="+code+"#key="+testKey, 1280, 1000)
	takes := func(p *page, side string) {
		p.wait("its side", fmt.Sprintf("(b => { b?.click(); return !!b; })([...document.querySelectorAll('main button.main')].find(b => b.innerText == %q))", side))
		p.wait("that it is in", "!!document.querySelector('header.strip b')")
	}
	other := b.open("the wrong phone", "/team?game="+code, phoneWidth, phoneHeight)
	takes(other, "Otters")
	console.wait("the free seat of the other side", says("its seat is free"))
	console.shot("host-match-seats")
	console.press("Free this seat")
	console.wait("the question", confirmed)
	other.wait("that it is out", says("The host has freed this seat"))
	otters, wrens := b.open("otters", "/team?game="+code, phoneWidth, phoneHeight), b.open("wrens", "/team?game="+code, phoneWidth, phoneHeight)
	takes(otters, "Otters")
	takes(wrens, "Wrens")
	console.press("Start the game")
	console.press("Begin round 1")
	otters.wait("a question", "document.querySelectorAll('.options button').length >= 2")
	wrens.wait("a question", "document.querySelectorAll('.options button').length >= 2")
	key := console.key()
	otters.pick(key)
	wrens.pick(wrong(key))
	console.wait("the reveal", "document.body.innerText.includes('picked by')")
	console.press("Next")
	console.wait("the end", "!!document.querySelector('.leaders')")

	table := b.open("season", "/season?season=2026#key="+testKey, 1280, 900)
	table.wait("the match, counted", says("Autumn cup: match 1")+" && "+says("Otters"))
	table.shot("season-of-a-cup")

	host.wait("the result", "document.querySelectorAll('li[data-game]').length == 0")
	host.wait("all tournaments", "(a => { a.click(); return true; })(document.querySelector('a[href=\"/tournament\"]'))")
	gather("Winter cup", "Wrens\nNewts\nOtters")
	host.set("tournament-season", "2026")
	host.press("Order by the ratings of 2026")
	host.wait("the order by rating", "[...document.querySelectorAll('ol.teams .who')].map(e => e.innerText).join() == 'Otters,Newts,Wrens'")
	host.shot("tournament-by-rating")

	console.wait("what is stored", "(d => { d.open = true; d.scrollIntoView(); return d.querySelectorAll('li').length >= 4; })(document.querySelector('details.keeping'))")
	console.shot("host-keeping-cup")
	console.wait("a button that erases the tournament", fmt.Sprintf("(b => { b?.click(); return !!b; })(document.querySelector('button[aria-label=\"Erase the tournament %s\"]'))", cup))
	console.wait("the question", confirmed)
	console.wait("that its match is gone", says("No game has this join code"))
	gone(t, hub.data, cup)
	b.check(hub.port)
}

// confirmed says yes in the open dialog.
const confirmed = "(b => { b?.click(); return !!b; })(document.querySelector('dialog[open] button.main'))"

// gone waits until a text is nowhere in a file: whoever is in an erased game is
// sent away first, and pages show a name as removed before the file is without it.
func gone(t *testing.T, file, text string) {
	t.Helper()
	for end := time.Now().Add(time.Minute); holds(t, file, text); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%s is in the file yet", text)
		}
	}
}
