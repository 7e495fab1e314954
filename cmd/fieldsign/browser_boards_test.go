package main

import (
	"fmt"
	"net/url"
	"path/filepath"
	"strings"
	"testing"

	"fieldsign/game/tournament"
	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

// stayed is a mark that a page loses when it is loaded anew.
const stayed = "window.stayed === true"

// hall is a tournament whose two boards and phones stay open throughout.
type hall struct {
	*browser
	hub    *program
	cup    *cupClient
	host   *page
	boards []*page
	phones map[string]*page
}

// Two boards and a phone for each team stay open through a double elimination. A
// phone scans once, the host opens each match with one press, or two where a side is
// missing, and all else goes by itself. With eight teams it takes 14 matches: that is
// left to make soak, in make test four teams play 6.
func TestATournamentOnTwoBoards(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	teams := soak.Size(4, 8)
	h := &hall{browser: newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port)), hub: hub, phones: map[string]*page{}}
	h.cup = &cupClient{program: hub}
	h.cup.cup = h.cup.ask("POST", "/tournaments", map[string]any{"name": "Autumn cup", "settings": tournament.Settings{Format: tournament.Double}}).Code
	h.cup.do("enter", "names", teamNames(teams))
	h.host = h.open("host", "/tournament?id="+h.cup.cup+"#key="+testKey, 1280, 800)
	h.host.set("plan-open", "1")
	h.host.set("plan-buzz", "0")
	h.host.set("boards", "2")
	h.boards = []*page{h.open("board 1", "/tournament/follow?id="+h.cup.cup+"&board=1", boardWidth, boardHeight), h.open("board 2", "/tournament/follow?id="+h.cup.cup+"&board=2", 1024, 768)}
	address := h.scanned()
	names := teamNames(teams)
	late := names[teams-1]
	for _, name := range names[:teams-1] {
		h.signIn(name, address)
	}
	h.boards[0].wait("who is in", fmt.Sprintf("document.querySelectorAll('.names .sign').length == %d", teams-1))
	h.boards[0].shot("tournament-board-entry")
	for _, p := range h.boards {
		p.mark()
	}
	h.host.shot("tournament-host-entry")
	h.host.press("Make the draw")
	h.host.wait("the question", confirmed)
	h.host.wait("matches", "document.querySelectorAll('li[data-match] .at').length == 2")

	h.phones[names[0]].shotWhen("tournament-phone-called", says("Go to board 1"))

	played := 0
	for h.playRound(late, address) {
		played++
	}
	h.host.press("Finish")
	for name, p := range h.phones {
		p.wait("that it is over", says("Your tournament is over")+"||"+says("First place"))
		if !p.js(stayed) || !p.js("performance.getEntriesByType('navigation').length == 1") {
			t.Errorf("the phone of %s was loaded more than once", name)
		}
		if name == names[0] {
			p.shot("tournament-phone-over")
		}
	}
	for i, p := range h.boards {
		p.wait("who is first", says("First place"))
		p.shot(fmt.Sprintf("tournament-board-%d-ended", i+1))
		if !p.js(stayed) {
			t.Errorf("%s was loaded anew", p.name)
		}
	}
	if played < 2*teams-2 || played > 2*teams-1 {
		t.Errorf("%d matches were played by %d teams", played, teams)
	}
	t.Logf("%d teams, %d matches, one page load for each phone", teams, played)
	h.check(hub.port)
}

func (p *page) mark() {
	p.Helper()
	p.js("(window.stayed = true)")
}

// scanned is the path that an independent reader reads from the board.
func (h *hall) scanned() string {
	h.Helper()
	board := h.boards[0]
	board.wait("the QR code", "document.querySelector('img.qr')?.complete && document.querySelector('img.qr').naturalWidth > 0")
	board.shot("tournament-board-scan")
	read := board.scanned("tournament-board-scan")
	at, err := url.Parse(read)
	if err != nil || at.Path != "/tournament/team" {
		h.Fatalf("the board's code reads %q: %v", read, err)
	}
	return at.RequestURI()
}

// signIn is the one scan of a team.
func (h *hall) signIn(name, address string) {
	h.Helper()
	p := h.open(name, address, 390, 664)
	p.wait("the teams", "document.querySelectorAll('main.sides button.main').length > 0")
	p.mark()
	if len(h.phones) == 2 {
		p.shot("tournament-phone-choose")
	}
	p.press(name)
	p.wait("that it is signed in", says(name+": this phone is signed in")+"||"+says(name+" is on the list")) // in its match at once
	h.phones[name] = p
}

// called tells which match a board waits for: its number and its sides, or nothing.
const called = `(() => { const h = document.querySelector('.interval .call h1'), w = document.querySelector('.interval .which');
	return w?.innerText.startsWith('Here: match') ? w.innerText.replace(/\D/g, '') + '\n' + [...h.querySelectorAll('.team')].map((t) => [...t.childNodes].map((n) => n.data ?? '').join('').replace('–', '').trim()).join('\n') : ''; })()`

// match is one at a board.
type match struct {
	board *page
	id    string
	sides []string
	desk  *desk
	code  string
}

// playRound opens what the boards call, with one press each, and plays one of them
// to its end; false says that all is played.
func (h *hall) playRound(late, address string) bool {
	h.Helper()
	over := "![...document.querySelectorAll('li[data-match] button, li[data-game] a')].some((b) => ['Open', 'Lead this match'].includes(b.innerText))"
	h.host.wait("what is to be done", over+"||document.querySelectorAll('li[data-match] .at').length > 0")
	if h.host.js(over) {
		return false
	}
	for {
		if p := h.host.text("[...document.querySelectorAll('li[data-match]:not([data-game]) .at')][0]?.closest('li').dataset.match ?? ''"); p == "" {
			break
		} else {
			h.host.wait("its button", fmt.Sprintf("(b => { b?.click(); return !!b; })(document.querySelector('li[data-match=\"%s\"] button.main'))", p))
			opened := fmt.Sprintf("!!document.querySelector('li[data-match=\"%s\"][data-game] .at')", p)
			h.host.wait("the match, or a question", opened+"||!!document.querySelector('dialog[open]')")
			if h.host.js("!!document.querySelector('dialog[open]')") {
				if h.phones[late] != nil || !h.host.js(fmt.Sprintf("document.querySelector('dialog[open]').innerText.includes(%q)", late)) {
					h.Error("the host is asked though both sides have signed in")
				}
				h.host.wait("the question", confirmed)
			}
			h.host.wait("the match, opened", opened)
		}
	}
	h.play(late, address)
	return true
}

func (h *hall) play(late, address string) {
	h.Helper()
	first := strings.Split(h.host.text("(l => [l.dataset.match, l.dataset.game, l.querySelector('.at').innerText, l.querySelector('b:not(.at)').innerText].join('|'))([...document.querySelectorAll('li[data-game]')].find(l => l.querySelector('a')))"), "|")
	m := match{id: first[0], code: first[1], board: h.boards[int(first[2][len(first[2])-1]-'1')], sides: strings.Split(first[3], " – ")}
	m.board.wait("whom it waits for", fmt.Sprintf("%s == %q", called, m.id+"\n"+strings.Join(m.sides, "\n")))
	for _, name := range m.sides {
		if h.phones[name] == nil && name == late { // it comes when its match is open already
			h.signIn(name, address)
		}
		h.phones[name].wait("its match", "!!document.querySelector('header.strip') && "+says(name+" is on the list"))
	}
	if m.id == "1" {
		m.board.shot("tournament-board-called")
		h.host.shot("tournament-host-play")
	}
	at := *h.hub
	at.code = m.code
	m.desk = deskOf(h.T, &at)
	awaited(h.T, m.desk.Conn, "both sides", func(f bot.Frame) bool { return f.Type == "state" && f.Teams == 2 })
	m.desk.act("next", nil)
	asked := awaited(h.T, m.desk.Conn, "the question", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "asking" && f.Host != nil })
	m.board.wait("the question", "!!document.querySelector('.fit.question')")
	for i, name := range m.sides {
		option := asked.Host.Key
		if i == 1 {
			option = wrong(option)
		}
		h.phones[name].pick(option)
	}
	awaited(h.T, m.desk.Conn, "the reveal", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "revealed" })
	m.board.wait("the reveal", says("picked by")+"||!!document.querySelector('.tally')")
	m.desk.act("next", nil)
	for _, name := range m.sides {
		h.phones[name].wait("its matches", "!!document.querySelector('.calls .past li:last-child')?.innerText.includes("+fmt.Sprintf("%q", "Match "+m.id)+")")
	}
	m.board.wait("the bracket", "!!document.querySelector('.interval svg.bracket') && "+says("Match "+m.id+" ended:"))
	h.host.wait("the result", fmt.Sprintf("!document.querySelector('li[data-match=\"%s\"][data-game]')", m.id))
	m.desk.Close()
	if m.id == "3" {
		h.phones[m.sides[0]].shot("tournament-phone-way")
		h.boards[0].shot("tournament-board-1-between")
		h.boards[1].shot("tournament-board-2-between")
	}
}

// A phone that is loaded anew and a hub that is started anew find the match where it
// was; another phone of the team looks on; a result that is taken back is seen; and
// whose seat is freed is asked again.
func TestATournamentsPhonesComeBack(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	cup := newCup(hub, "Autumn cup", 2, tournament.Settings{Format: tournament.RoundRobin})
	address := "/tournament/team?id=" + cup.cup
	h := &hall{browser: b, hub: hub, cup: cup, phones: map[string]*page{}}
	h.signIn("Marsh Wrens", address)
	h.signIn("Alder Voles", address)
	wrens, voles := h.phones["Marsh Wrens"], h.phones["Alder Voles"]
	second := b.open("second", "/", 390, 664)
	second.set("code", cup.cup)
	second.press("Join")
	second.wait("the teams", says("Which team are you?"))
	second.wait("that its team has a phone", "[...document.querySelectorAll('main.sides button:disabled')].some((b) => b.innerText.startsWith('Marsh Wrens'))")
	second.press("Look on with Marsh Wrens")
	second.wait("whom it meets", says("Go to the board")+"&&"+says("You look on with Marsh Wrens"))
	board := b.open("board", "/tournament/follow?id="+cup.cup, 1024, 768)
	board.mark()

	at := *hub
	at.code = cup.do("start", "match", 1, "plan", map[string]any{"rounds": []any{map[string]any{"name": "R", "kind": "open", "subjects": []string{"skull"}, "count": 1, "seconds": 60, "points": 100}}}).Games["1"].Code
	second.wait("that its team plays", says("Your team plays at the board"))
	voles.wait("its match", says("is on the list"))
	d := deskOf(t, &at)
	d.act("next", nil)
	options := "document.querySelectorAll('.options button').length >= 2"
	wrens.wait("the question", options)
	wrens.visit(address)
	wrens.wait("the question again", options)
	hub.terminate()
	board.wait("that the hub is gone", "!!document.querySelector('.banner.urgent')")
	start(t, hub.data, hub.port)
	before := d.n
	d = deskOf(t, &at)
	d.n = before // the hub knows the commands so far
	f := awaited(t, d.Conn, "the question", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "asking" && f.Host != nil })
	wrens.wait("that it is paused", says("Paused"))
	voles.wait("that it is paused", says("Paused"))
	board.wait("that it is back", "!document.querySelector('.banner.urgent') && "+says("Paused"))
	d.act("resume", nil)
	wrens.pick(f.Host.Key)
	voles.pick(wrong(f.Host.Key))
	awaited(t, d.Conn, "the reveal", func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "revealed" })
	d.act("next", nil)
	won := "document.querySelector('.calls .past')?.innerText.includes('won')"
	wrens.wait("that it has won", won)
	second.wait("that its team has won", won)
	if !board.js(stayed) || !voles.js(stayed) {
		t.Error("a page was loaded anew")
	}
	cup.do("undo")
	wrens.wait("that the result is taken back", says("Your match is over")+"&&!"+won)
	cup.do("redo")
	wrens.wait("that it holds again", won)
	cup.do("stand", "entrant", 1)
	wrens.wait("that its seat is free", says("The host has freed your seat")+"&&"+says("Which team are you?"))
	second.press("Choose another team")
	second.press("Marsh Wrens")
	second.wait("that it plays now", says("Marsh Wrens: this phone is signed in"))
}
