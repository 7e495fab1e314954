package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
)

// The pictures of docs/guide.md and docs/tour.md: one evening, played as the guide
// tells it. `make guide` takes them from FIELDSIGN_ARTIFACTS.

// evening is a hub and the devices around it.
type evening struct {
	*browser
	hub         *program
	host, board *page
	phones      []*page
}

func TestTheGuideInPictures(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", "furbearers")
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	e := &evening{browser: b, hub: hub}
	e.host = b.open("host", "/host#key="+testKey, 1100, 800)
	e.host.shotWhen("guide-first-page", says("Over many games"))
	e.host.visit("/host?game=" + hub.code)
	e.plans()
	e.gathers()
	e.asksAll()
	e.losesTheHub()
	e.buzzes()
	e.types()
	e.walks()
	e.looksBack()
	e.countsASeason()
	e.practises()
	e.prints()
	e.holdsATournament()
	e.closesDown()
	b.mu.Lock()
	b.faults = slices.DeleteFunc(b.faults, func(f string) bool {
		return strings.Contains(f, "ERR_") || strings.Contains(f, "should be served over HTTPS") // the hub that was stopped; the set, on plain HTTP
	})
	b.mu.Unlock()
	b.check(hub.port)
}

// show scrolls to what a picture is of, and takes it.
func (p *page) show(name, selector string) {
	p.Helper()
	p.wait(name, fmt.Sprintf("(e => { e?.scrollIntoView(); return !!e; })(document.querySelector(%q))", selector))
	p.shot("guide-" + name)
}

func (e *evening) plans() {
	e.host.set("title", "Spring evening")
	e.host.set("seed", "12")
	e.host.set("season", "Spring")
	e.host.set("round-1-count", "3")
	e.host.set("round-1-seconds", "90")
	e.host.set("round-2-count", "1")
	e.host.set("round-2-seconds", "60")
	e.host.press("Add a round")
	e.host.set("round-3-name", "Name it")
	e.host.set("round-3-count", "1")
	e.host.set("round-3-seconds", "90")
	e.host.wait("typed names", "(c => { c?.click(); return !!c?.checked; })(document.getElementById('round-3-typed'))")
	e.host.press("Add a round")
	e.host.choose("round-4-kind", "station")
	e.host.set("round-4-name", "Stations")
	e.host.set("round-4-stations", "4")
	e.host.set("round-4-count", "2")
	e.host.press("Add a replica")
	e.host.set("round-4-replica-0-station", "3")
	e.host.set("round-4-replica-0-animal", "American beaver")
	e.host.press("Save the plan, then show")
	e.host.wait("the questions", cards(3))
	e.host.show("plan", "form.plan")
	e.host.js("[...document.querySelectorAll('details.round')].forEach((d, i) => { d.open = i === 3; }), true")
	e.host.show("plan-stations", "details.round[open]")
	e.host.show("plan-questions", ".planned")
	e.host.wait("the sets", "(d => { d.open = true; return true; })(document.querySelector('.sets:not(.papers)'))")
	e.host.set("set-name", "Spring evening")
	e.host.show("plan-sets", ".sets:not(.papers)")
	e.host.press("Hide them")
	e.host.showPhotos()
	e.host.addPhoto("American beaver", snapshot(e.T))
	e.host.wait("the photo", says("Added: American beaver"))
	e.host.show("photos", "details.photos")
	e.host.js("document.querySelector('details.photos').open = false, true")
}

func (e *evening) gathers() {
	e.board = e.open("board", "/board?game="+e.hub.code, boardWidth, boardHeight)
	for i, name := range []string{"Marsh Wrens", "Pine Martens", "Wood Ducks", "Red Efts"} {
		p := e.open("phone "+name, "/team?game="+e.hub.code, phoneWidth, phoneHeight)
		p.wait("a field for its name", "!!document.getElementById('name')")
		p.set("name", name)
		if i == 0 {
			p.shot("guide-phone-name")
		}
		p.press("Join")
		p.wait("its name", says(name))
		e.phones = append(e.phones, p)
	}
	e.board.wait("four teams", says("4 teams"))
	e.board.wait("the QR code", "document.querySelector('img')?.complete && document.querySelector('img').naturalWidth > 0")
	e.board.shot("guide-board-lobby")
	e.phones[0].shotWhen("guide-phone-lobby", "document.images.length > 0 && [...document.images].every((i) => i.complete)")
	e.open("landing", "/", phoneWidth, phoneHeight).shotWhen("guide-landing", "document.images.length > 0 && [...document.images].every((i) => i.complete)")
	e.host.wait("a choice of time", `(s => { if (!s) return false; s.value = '50'; s.dispatchEvent(new Event('change', {bubbles: true})); return true; })(document.querySelectorAll('.teams select')[2])`)
	e.host.wait("that it is set", "document.querySelectorAll('.teams select')[2].value == '50'")
	e.host.show("lobby", "header.strip")
	e.host.press("Start the game")
	e.host.press("Begin round 1")
}

func (e *evening) asksAll() {
	e.phones[0].wait("a question", "document.querySelectorAll('.options button').length >= 2")
	key := e.host.key()
	e.phones[0].shot("guide-phone-open")
	e.board.shotWhen("guide-board-open", "document.querySelectorAll('.options .row').length >= 2")
	e.phones[1].pick(wrong(key))
	e.phones[2].pick(key)
	e.phones[3].pick(key)
	e.host.wait("three answers", says("3 of 4 answered"))
	e.host.show("host-open", "header.strip")
	e.phones[0].pick(key)
	e.board.shotWhen("guide-board-reveal", "!!document.querySelector('.row.key') && document.getAnimations().every((a) => a.playState !== 'running') && "+drawnAll)
	e.phones[1].shotWhen("guide-phone-wrong", says("Not right")+" && "+drawnAll)
	e.host.wait("the reveal", says("picked by 3"))
	e.host.press("Next")
}

// losesTheHub has the hub stopped in the middle of a question.
func (e *evening) losesTheHub() {
	e.phones[0].wait("the second question", says("Question 2 of 3"))
	e.hub.terminate()
	e.phones[0].shotWhen("guide-phone-restarting", says("The hub is restarting"))
	start(e.T, e.hub.data, e.hub.port, "--roster", "furbearers")
	for _, p := range append(e.phones[:4:4], e.board, e.host) {
		p.wait("that it is back", "!document.querySelector('.banner.urgent') && "+says("restarted"))
	}
	e.host.show("host-paused", "header.strip")
	e.host.press("Resume")
	for question := 2; question <= 3; question++ {
		e.host.wait("the question", says(fmt.Sprintf("Question %d of 3", question))+" && "+keyShown)
		key := e.host.key()
		for i, p := range e.phones {
			p.wait("the question", says(fmt.Sprintf("Question %d of 3", question)))
			p.pick(key * min(i, 1))
		}
		e.host.press("Next")
	}
	e.board.shotWhen("guide-board-break", "document.querySelectorAll('.leaders tbody tr').length == 4")
	e.host.press("Next round")
	e.board.wait("the rule of the round to come", says("Round 2: ready?")+" && "+says("Buzz first"))
	e.host.press("Begin round 2")
}

// buzzed has a phone's buzz bar pressed.
const buzzed = `(() => { const b = document.querySelector('button.buzz'); if (!b || b.getAttribute('aria-disabled') !== 'false') return false; b.dispatchEvent(new PointerEvent('pointerdown', {bubbles: true})); return true; })()`

func (e *evening) buzzes() {
	e.phones[0].shotWhen("guide-phone-buzz", "!!document.querySelector('button.buzz')")
	e.phones[1].wait("the buzz bar", buzzed)
	e.phones[1].wait("that it holds the buzz", "document.querySelectorAll('.options button').length >= 2")
	e.host.press("Pause")
	e.host.wait("the ruling", says("What they tap is marked at once")+" && document.getAnimations().length === 0")
	e.host.show("host-buzz", "header.strip")
	e.phones[1].shot("guide-phone-holds")
	e.board.shotWhen("guide-board-buzz", says("Answering: Pine Martens"))
	e.host.press("Resume")
	e.host.press("Rule right")
	e.host.wait("the reveal", says("Key revealed"))
	e.host.show("host-undo", "header.strip")
	e.host.press("Next")
	e.host.press("Next round")
	e.host.press("Begin round 3")
}

func (e *evening) types() {
	for i, p := range e.phones {
		p.wait("a field", "!!document.getElementById('typed')")
		p.set("typed", []string{"American beaver", "bobcat", "raccoon", "coyote"}[i])
		if i == 0 {
			p.shot("guide-phone-typed")
		}
		p.press("Send")
	}
	e.host.press("Next")
	e.host.press("Next round")
}

func (e *evening) walks() {
	e.phones[0].shotWhen("guide-phone-start-station", says("Your start station is"))
	e.host.press("Begin the first rotation")
	for rotation := range e.phones {
		for i, p := range e.phones {
			p.wait("its questions", says(fmt.Sprintf("Rotation %d of 4", rotation+1))+" && document.querySelectorAll('.asked').length == 2 && document.querySelectorAll('.asked .options button').length >= 4")
			p.pickAt(0, (i+rotation)%2)
			p.pickAt(1, i%2)
		}
		if rotation == 0 {
			e.phones[0].shotWhen("guide-phone-station", "!!document.querySelector('img.plate')?.naturalWidth")
			e.board.shotWhen("guide-board-station", "/[01]:\\d\\d/.test(document.querySelector('.station-clock')?.innerText)")
			e.host.show("host-station", "header.strip")
		}
		e.host.press("Give the signal now")
		if rotation == 0 {
			e.board.shotWhen("guide-board-walk", says("Stop."))
		}
		if rotation < 3 {
			e.host.press("Begin the next rotation now")
		}
	}
	e.host.wait("the marks", "document.querySelectorAll('.benches > li').length == 4")
	e.phones[0].shotWhen("guide-phone-station-marked", drawnAll+" && document.getAnimations().every((a) => a.playState !== 'running') && !!document.querySelector('.likeness svg') && !!document.querySelector('.row.key')")
	e.board.shotWhen("guide-board-station-marked", drawnAll+" && !!document.querySelector('.specimen .drawing svg')")
	e.host.js("document.querySelectorAll('.benches details')[0].open = true")
	e.host.show("host-marked", "header.strip")
	e.host.press("Go on")
}

func (e *evening) looksBack() {
	e.board.shotWhen("guide-board-end", says("First place"))
	e.phones[0].shotWhen("guide-phone-end", says("The game is over"))
	e.host.show("host-ended", "header.strip")
	report := e.open("debrief", "/debrief?game="+e.hub.code+"#key="+testKey, 1100, 800)
	report.wait("the pictures", "document.querySelectorAll('svg.picture').length == 2")
	report.shot("guide-debrief")
	report.press("Plan the next game")
	report.wait("the next game's plan", "location.pathname == '/host' && !!document.getElementById('round-1-count')")
	report.show("next-game", "form.plan")
}

// countsASeason shows the game's season as it is, and trends as in the gallery:
// they need several dates, and a test has one.
func (e *evening) countsASeason() {
	season := e.open("season", "/season?season=Spring#key="+testKey, 1100, 800)
	season.wait("the table", "document.querySelectorAll('.standing tbody tr').length == 4")
	season.shot("guide-season")
	season.wait("the box", `(() => { const i = document.getElementById('show-open'); if (!i || i.disabled) return false; i.click(); return true; })()`)
	season.wait("that it is open", says("Open the season’s board"))
	e.board.visit("/season/board?season=Spring")
	e.board.shotWhen("guide-season-board", "document.querySelectorAll('.leaders tbody tr').length == 4")
	fair := e.open("fair", "/fair-teams#key="+testKey, 1100, 1060)
	fair.set("names", "Ash\nBirch\nCedar\nElm\nHazel\nLarch\nMaple\nRowan\nSpruce\nWillow")
	fair.set("teams", "3")
	fair.choose("by", "")
	fair.press("Make the teams")
	fair.wait("three teams", "document.querySelectorAll('.fair-teams tbody tr').length == 3")
	fair.show("fair-teams", "h1")
	gallery := newBrowser(e.T, fmt.Sprintf("http://fieldsign.test:%d", withGallery(e.T, e.hub.port)))
	trends := gallery.open("trends", "/gallery?screen=trends", 1100, 800)
	trends.wait("a picture", "!!document.querySelector('svg.trend')")
	trends.show("trends", "section:has(svg.trend)")
}

func (e *evening) practises() {
	save(e.T, e.hub.url()+"/practice.json", filepath.Join(e.TempDir(), "first.json")) // computes them: a busy machine takes longer than a page waits
	p := e.open("practice", "/practice", phoneWidth, phoneHeight)
	p.wait("the practice page", started)
	p.shot("guide-practice-start")
	p.practise()
	p.shot("guide-practice")
}

// prints draws the first page of what the guide's command prints, small.
func (e *evening) prints() {
	pdftoppm := need(e.T, "pdftoppm")
	for _, kind := range []string{"quiz", "cards", "key"} {
		file := filepath.Join(e.artifacts, "guide-paper-"+kind)
		printed(e.T, "paper", "--roster", "furbearers", "--count", "20", "--seed", "7", "--kind", kind, "--out", file+".pdf")
		if out, err := exec.Command(pdftoppm, "-png", "-r", "60", "-f", "1", "-l", "1", "-singlefile", file+".pdf", file).CombinedOutput(); err != nil {
			e.Fatalf("pdftoppm: %v: %s", err, out)
		}
	}
}

// holdsATournament starts one match by the page; the other results are recorded.
func (e *evening) holdsATournament() {
	lead := e.open("lead", "/tournament#key="+testKey, 1100, 800)
	lead.set("tournament-name", "Autumn cup")
	lead.choose("tournament-format", "double elimination")
	lead.shot("guide-cup-make")
	lead.press("Make it")
	lead.set("names", strings.Join(teamNames(8), "\n"))
	lead.press("Enter these teams")
	lead.wait("eight teams", says("8 teams"))
	lead.set("boards", "2")
	cup := &cupClient{program: e.hub, cup: lead.value("new URLSearchParams(location.search).get('id')")}
	side := e.open("side", "/tournament/team?id="+cup.cup, phoneWidth, phoneHeight)
	side.wait("the teams", "document.querySelectorAll('main.sides button.main').length == 8")
	cup.sit(2, 7)
	side.shotWhen("guide-cup-side", "document.querySelectorAll('main.sides button.main').length == 2")
	side.press(teamNames(1)[0])
	lead.wait("the phones", says("7 of 8 teams signed in"))
	lead.shot("guide-cup-entry")
	lead.press("Make the draw")
	lead.wait("the box that asks", "(b => { b?.click(); return !!b; })(document.querySelector('dialog[open] button.main'))")
	lead.wait("matches to open", "document.querySelectorAll('li[data-match] button.main').length == 4")
	side.shotWhen("guide-cup-call", says("Go to board 1"))
	e.board.visit("/tournament/follow?id=" + cup.cup + "&board=1")
	e.board.shotWhen("guide-cup-board", "document.querySelectorAll('svg.bracket .match').length > 10")
	lead.press("Open")
	lead.wait("the question, for one phone is missing", confirmed)
	lead.wait("the match's game", "!!document.querySelector('li[data-game]')")
	lead.shot("guide-cup-play")
	cup.do("record", "match", 1, "outcome", "played", "home", 350, "away", 200)
	cup.playUntil(6)
	e.board.visit("/tournament/board?id=" + cup.cup + "&minutes=8")
	e.board.shotWhen("guide-cup-bracket", "document.querySelectorAll('svg.bracket .match').length > 10")
	lead.wait("a result to correct", "(b => { b?.click(); return !!b; })([...document.querySelectorAll('li[data-match] button')].find(b => b.innerText == 'Correct'))")
	lead.shotWhen("guide-cup-result", "!!document.querySelector('dialog[open]')")
	cup.playUntil(8) // all that is left
	cup.do("finish")
	e.board.shotWhen("guide-cup-final", says("First place"))
}

func (e *evening) closesDown() {
	e.host.wait("what is stored", "(d => { d.open = true; return !!d.querySelector('li'); })(document.querySelector('details.keeping'))")
	e.host.show("stored", "details.keeping")
}
