package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/chromedp/chromedp"

	"fieldsign/hub/lab/soak"
)

// The host gives a team more time, has the hub started anew, changes the key, downloads
// a backup, and erases a name and then the game.
func TestKeepingInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 1000)
	phone := b.open("phone", "/team?game="+hub.code, phoneWidth, phoneHeight)
	phone.set("name", "Marsh Wrens")
	phone.press("Join")
	phone.wait("its name", says("Marsh Wrens"))
	host.wait("a choice of time", `(s => { if (!s) return false; s.value = '100'; s.dispatchEvent(new Event('change', {bubbles: true})); return true; })(document.querySelector('.teams select'))`)
	host.wait("that it is set", `document.querySelector('.teams select').value == '100' && document.querySelector('.teams select').offsetHeight >= 48`)
	host.shot("host-extra-time")
	host.press("Start the game")
	host.press("Begin round 1")
	host.wait("its clock", "!!document.querySelector('.countdown progress')")
	phone.wait("its clock", "!!document.querySelector('.countdown progress')")
	phone.shot("phone-extra-time")
	if all, own := clock(host), clock(phone); own != 2*all || all == 0 {
		t.Errorf("the host's clock runs %v ms, the phone's %v: not twice as long", all, own)
	}
	restarted(hub, host, phone)

	host.press("End the game")
	host.wait("the question", confirmed)
	host.wait("the ranking", "!!document.querySelector('.leaders')")
	host.wait("what is stored", "(d => { d.open = true; d.scrollIntoView(); return !!d.querySelector('li'); })(document.querySelector('details.keeping'))")
	host.shot("host-keeping")
	host.press("New host key")
	host.wait("the question", confirmed)
	host.wait("the new key, and goes on with it", says("The new host key is")+" && !!document.querySelector('.leaders')")
	host.shot("host-new-key")
	host.press("Erase name")
	host.shotWhen("host-erase-name", "!!document.querySelector('dialog[open]')")
	host.wait("the question", confirmed)
	host.wait("that the name is gone", says("removed team")+" && !"+says("Marsh Wrens"))
	gone(t, hub.data, "Marsh Wrens")
	host.wait("what is stored", "(d => { d.open = true; return !!d.querySelector('li'); })(document.querySelector('details.keeping'))")
	host.wait("a button that erases the game", fmt.Sprintf("(b => { b?.click(); return !!b; })(document.querySelector('button[aria-label=\"Erase the game %s\"]'))", hub.code))
	host.wait("the question", confirmed)
	phone.wait("that there is no such game", says("No game has this join code"))
	gone(t, hub.data, hub.code)
	b.mu.Lock()
	b.faults = slices.DeleteFunc(b.faults, func(f string) bool { return strings.Contains(f, "ERR_") }) // requests of plates while no hub was there
	b.mu.Unlock()
	b.check(hub.port)
}

// When the time that all have is up, a phone without extra time says so, takes
// no more taps and tells nothing of the teams that still answer.
func TestTimeIsUpForTheOthers(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 1000)
	phones := entered(b, hub, "Marsh Wrens", "Pine Martens", "Wood Ducks", "Night Herons")
	slow, slower, quick, silent := phones[0], phones[1], phones[2], phones[3]
	for i := range 2 {
		host.wait("a choice of time", fmt.Sprintf(`(s => { if (!s) return false; s.value = '100'; s.dispatchEvent(new Event('change', {bubbles: true})); return true; })(document.querySelectorAll('.teams select')[%d])`, i))
	}
	host.set("round-1-seconds", "18")
	host.press("Start the game")
	host.press("Begin round 1")
	quick.pick(host.key())
	quick.wait("its own answer", says("Answer sent"))
	for _, p := range []*page{quick, silent} {
		p.wait("what it is told", `(say => say && (window.told = [], new MutationObserver(() => window.told.push(say.innerText)).observe(say, {subtree: true, childList: true, characterData: true}), true))(document.querySelector('.say'))`)
	}
	over := says("Time is up") + "&&" + says("Wait for the reveal.") + " && !document.querySelector('.options [aria-disabled=false]')"
	silent.wait("that its time is up", over)
	quick.wait("that its time is up", over+" && document.querySelectorAll('.row.own').length == 1")
	if !slow.js(says("Tap your answer") + " && !!document.querySelector('.options [aria-disabled=false]')") {
		t.Error("the team with extra time can't answer any more")
	}
	slow.pick(host.key())
	slow.wait("its own answer", says("Answer sent"))
	host.wait("the count", says("2 of 4 answered"))
	silent.shot("phone-time-up")
	quick.shot("phone-time-up-sent")
	for _, p := range []*page{quick, silent} {
		p.wait("a tap in vain", "(b => { b.click(); return true; })(document.querySelector('.options button'))")
		if told := read[[]string](p, "window.told.filter((t) => t.includes('Time is up'))"); len(told) != 1 || strings.Contains(told[0], "answered") || p.js("!"+says("Wait for the reveal.")) {
			t.Errorf("%s is told %q", p.name, told)
		}
	}
	slower.pick(host.key())
	silent.wait("the reveal", says("No answer from your team"))
	b.check(hub.port)
}

// clock is the whole time that a page's countdown draws, in ms.
func clock(p *page) float64 {
	p.Helper()
	ms, err := chromedp.Run(p.ctx, chromedp.Evaluate[float64]("document.querySelector('.countdown progress').max"))
	if err != nil {
		p.Fatal(err)
	}
	return ms
}

// restarted holds that the hub, told to stop, says so to the phones, and that the next
// start has the question, paused, with the time that was left.
func restarted(hub *program, host, phone *page) {
	hub.Helper()
	phone.wait("a question", "document.querySelectorAll('.options button').length >= 2")
	hub.terminate()
	phone.shotWhen("phone-restarting", says("The hub is restarting"))
	start(hub.T, hub.data, hub.port)
	phone.wait("that it is back, and paused", "!document.querySelector('.banner.urgent') && "+says("Paused")+" && document.querySelectorAll('.options button').length >= 2")
	host.press("Resume")
	phone.pick(host.key())
	phone.wait("its verdict", says("Right"))
}

// terminate is what a service manager sends; the program ends by itself.
func (p *program) terminate() {
	p.Helper()
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		p.Fatal(err)
	}
	if err := p.cmd.Wait(); err != nil {
		p.Errorf("stopped with %v", err)
	}
}
