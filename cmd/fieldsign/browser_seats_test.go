package main

import (
	"fmt"
	"path/filepath"
	"testing"

	"fieldsign/game/tournament"
)

// The wrong phone takes a side's seat: the right one is told to ask the host,
// who frees the seat where it stands in the list of teams, in the lobby as in
// play; and the phone that is sent away is told what it was.
func TestAWrongPhoneInASeat(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	code := newCup(hub, "Autumn cup", 2, tournament.Settings{Format: tournament.Single}).do("start", "match", 1).Games["1"].Code
	host := b.open("host", "/host?game="+code+"#key="+testKey, 1280, 900)
	wrongOne, wrens, voles := b.side("wrong", code), b.side("wrens", code), b.side("voles", code)
	wrongOne.press("Marsh Wrens")
	wrongOne.wait("that it is in", says("Marsh Wrens is on the list."))

	wrens.press("Marsh Wrens") // it has not looked since
	wrens.wait("that its seat is taken", says("Another phone has just taken that seat.")+"&&"+says("Ask the host to free its seat"))
	wrens.shot("phone-side-taken")
	host.wait("what to do", says("Has the wrong phone taken a seat? Free it"))
	host.js("document.querySelector('.teams').scrollIntoView(), true")
	host.shot("host-seats")
	host.free("Marsh Wrens")
	wrongOne.wait("that its seat was freed", says("The host has freed this seat"))
	wrongOne.shot("phone-side-freed")
	wrens.press("Look again")
	wrens.wait("that nothing is refused any more", "!"+says("Another phone has just taken")+"&&!"+says("(taken)"))
	wrens.press("Marsh Wrens")
	wrens.wait("that it is in", says("Marsh Wrens is on the list."))
	wrongOne.press("Join again")
	wrongOne.wait("that the seat is not for it", "document.querySelectorAll('main button:disabled').length == 1")

	wrongOne.press("Alder Voles")
	host.wait("both sides", says("2 teams"))
	host.press("Start the game")
	host.press("Begin round 1")
	wrongOne.wait("a question", "document.querySelectorAll('.options button').length >= 2")
	host.free("Alder Voles")
	wrongOne.wait("that its seat was freed in play too", says("The host has freed this seat"))
	voles.press("Look again")
	voles.press("Alder Voles")
	voles.wait("the question", "document.querySelectorAll('.options button').length >= 2")
	b.check(hub.port)
}

// side is a phone that has not yet said which side of a match it is.
func (b *browser) side(name, code string) *page {
	b.Helper()
	p := b.open(name, "/team?game="+code, phoneWidth, phoneHeight)
	p.wait("the sides", "document.querySelectorAll('main button.main').length == 2")
	return p
}

// free has the host's console free a seat.
func (p *page) free(name string) {
	p.Helper()
	p.wait("a button that frees the seat", fmt.Sprintf("(b => { b?.click(); return !!b; })(document.querySelector('button[aria-label=\"Free this seat: %s\"]'))", name))
	p.wait("the question", "(b => { b?.click(); return !!b; })(document.querySelector('dialog[open] button.main'))")
}
