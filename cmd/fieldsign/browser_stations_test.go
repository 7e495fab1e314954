package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

// choose sets a select of a form.
func (p *page) choose(id, value string) {
	p.Helper()
	p.wait("a choice "+id, fmt.Sprintf(`(() => { const s = document.getElementById(%q); if (!s) return false; s.value = %q; s.dispatchEvent(new Event('change', {bubbles: true})); return true; })()`, id, value))
}

// pickAt presses an option of the n-th question at a phone's station.
func (p *page) pickAt(question, option int) {
	p.Helper()
	p.wait("the options", fmt.Sprintf(`(() => { const b = document.querySelectorAll('.asked')[%d]?.querySelectorAll('.options button[aria-disabled=false]')[%d]; if (!b) return false; b.click(); return true; })()`, question, option))
	p.wait("its answer", fmt.Sprintf(`document.querySelectorAll('.asked')[%d].querySelectorAll('.row')[%d].innerText.includes('your answer')`, question, option))
}

// A station round of four teams in real pages: host, board and two phones, in make soak
// four; the other teams are in it without a page. The host plans it, begins it, gives a signal by hand, and the clock gives the other.
func TestAStationRoundInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", "furbearers")
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 900)
	board := b.open("board", "/board?game="+hub.code, 1920, 1080)
	var phones []*page
	paged := soak.Size(2, 4)
	for i, name := range []string{"Marsh Wrens", "Pine Martens", "Wood Ducks", "Red Efts"} {
		if i >= paged {
			awaited(t, dialed(t, hub, map[string]any{"type": "join", "name": name}), "its welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
			continue
		}
		p := b.open("phone "+name, "/team?game="+hub.code, phoneWidth, phoneHeight)
		p.set("name", name)
		p.press("Join")
		p.wait("its name", says(name))
		phones = append(phones, p)
	}
	planStations(host)
	for i, p := range phones { // three stations: the fourth team shares the first
		p.wait("its start station", says(fmt.Sprintf("Station %d", i%3+1))+"&&"+says("start station"))
		p.targets()
	}
	phones[1].shot("phone-station-start")
	board.wait("who is where", "document.querySelectorAll('.places li').length == 3 && "+says("Marsh Wrens, Red Efts"))
	board.js(`(() => { const note = OscillatorNode; window.notes = 0; window.OscillatorNode = class extends note { constructor(...a) { super(...a); window.notes++; } }; return true; })()`)
	board.press("Sound: off")
	board.wait("that the sound is on", says("Sound: on"))
	board.shot("board-station-start")

	host.press("Begin the first rotation")
	visit(b, phones, board, host)
	board.wait("the note of the beginning, after the one of the switch", "window.notes == 2")
	host.press("Give the signal now")
	board.wait("the two notes of the signal", "window.notes == 4")
	for i, p := range phones {
		p.wait("where to go", says("Go to")+"&&"+says(fmt.Sprintf("Station %d", (i+1)%3+1))+"&&"+says("locked"))
		p.targets()
	}
	board.wait("the signal", "!!document.querySelector('.rotation.signal')&&"+says("Stop."))
	board.shot("board-station-walk")
	phones[0].shot("phone-station-walk")

	host.press("Begin the next rotation now")
	phones[1].wait("its second station", "document.querySelectorAll('.asked').length == 2 && "+says("Rotation 2 of 3"))
	phones[0].wait("the replica", says("The specimen lies at the station")+"&& !document.querySelector('img.plate')")
	phones[0].shot("phone-station-replica")
	for range 4 { // to nothing: then the walk, and the last rotation
		host.press("30 s less")
	}
	host.wait("the walk", `[...document.querySelectorAll('button')].some(b => b.innerText.startsWith("Begin the next rotation now") && b.getAttribute('aria-disabled') != 'true')`)
	host.press("30 s less")
	host.press("30 s less")
	phones[0].wait("its third station by the clock", "document.querySelectorAll('.asked').length == 2 && "+says("Rotation 3 of 3"))
	board.wait("the third rotation", says("Rotation 3 of 3"))
	host.press("Give the signal now")
	marked(b, phones, board, host)
	b.check(hub.port)
}

// planStations makes the first round one of three stations, with a replica at
// the second.
func planStations(host *page) {
	host.Helper()
	host.choose("round-1-kind", "station")
	host.set("round-1-stations", "3")
	host.set("round-1-count", "2")
	host.set("round-1-seconds", "120") // a busy machine takes its time, and the clock must not
	host.set("round-1-walk", "60")
	host.press("Add a replica")
	host.set("round-1-replica-0-station", "2")
	host.set("round-1-replica-0-animal", "American beaver")
	host.targets()
	host.press("Save the plan")
	host.wait("that it is stored", says("Plan saved"))
	host.shot("host-station-plan")
	host.press("Start the game")
}

func visit(b *browser, phones []*page, board, host *page) {
	b.Helper()
	for _, p := range phones {
		p.wait("its questions", "document.querySelectorAll('.asked').length == 2 && document.querySelectorAll('.asked .options button').length >= 6")
		if p.js("!!document.querySelector('.row.key')") {
			b.Errorf("%s shows a key", p.name)
		}
		p.targets()
	}
	phones[0].pickAt(0, 0)
	phones[0].pickAt(0, 1) // the last one counts
	phones[0].pickAt(1, 1)
	phones[1].pickAt(0, 0)
	phones[0].wait("the plate", "!!document.querySelector('img.plate')?.naturalWidth")
	phones[0].shot("phone-station")
	board.wait("the clock", "/[01]:\\d\\d/.test(document.querySelector('.station-clock').innerText)")
	board.shot("board-station")
	host.wait("how far the teams are", says("at station 1, 2 of 2 answered")+"&&"+says("at station 2, 1 of 2 answered"))
	host.shot("host-station")
}

func marked(b *browser, phones []*page, board, host *page) {
	b.Helper()
	for _, p := range phones {
		p.wait("the marks", says("The round is over")+"&& document.querySelectorAll('.row.key').length == 6")
		p.targets()
	}
	phones[0].wait("the drawings, with what decides marked", drawnAll+" && document.querySelectorAll('.likeness .deciding').length > 0")
	phones[0].shot("phone-station-marked")
	board.wait("what lay where", "!!document.querySelector('nav[aria-label=\"What lay at the stations\"]')&&document.querySelectorAll('.keys .answer').length == 2")
	for n := 3; n > 0; n-- {
		board.press(fmt.Sprint(n))
		board.wait("what lay there", fmt.Sprintf("document.querySelector('h1').innerText.startsWith('Station %d: ')&&document.querySelectorAll('.keys .answer').length == 2", n))
		if n == 2 {
			board.wait("the replica", says("Station 2: American beaver, skull"))
			board.shot("board-station-marked")
		}
	}
	host.wait("the marks", "document.querySelectorAll('.benches > li').length == 3")
	host.js("document.querySelectorAll('.benches details')[0].open = true")
	host.choose("key-1", "-1")
	phones[0].wait("the correction", says("Counts for nothing"))
	host.wait("the correction", "document.getElementById('key-1').value == '-1'")
	host.shot("host-station-marked")
	host.press("Go on")
	board.wait("the ranking", "document.querySelectorAll('.leaders tbody tr').length == 4")
}

// Every screen of a station round fits its device, in every state of the gallery.
func TestStationScreens(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	port := withGallery(t, hub.port)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", port))
	for device, size := range map[string][2]int64{"team": {phoneWidth, phoneHeight}, "board": {1920, 1080}, "host": {1280, 900}} {
		p := b.open("gallery of the "+device, "/gallery", size[0], size[1])
		list := fmt.Sprintf("[...document.querySelectorAll('[data-screen^=%s-station]')]", device)
		p.wait("the list", list+".length > 3")
		for screen := range strings.SplitSeq(p.text(list+".map((a) => a.dataset.screen).join()"), ",") {
			p.screen(screen)
			p.wait(screen, "!!document.querySelector('main h1, header h1')")
			p.targets()
			if device == "board" && p.js("document.documentElement.scrollHeight > innerHeight") {
				t.Errorf("%s is longer than the screen", screen)
			}
			p.shot(screen)
		}
	}
	b.onlyAsked(fmt.Sprintf("fieldsign.test:%d", port))
}
