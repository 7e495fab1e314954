package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	paper "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"fieldsign/game/tournament"
	"fieldsign/hub/lab/soak"
)

const boardWidth, boardHeight = 1920, 1080

// TestTournamentPictures has the public page of each format drawn for a
// projector and for paper.
func TestTournamentPictures(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	all := []struct {
		name             string
		teams, results   int
		settings         tournament.Settings
		shows            string
		playing, fitsAll bool
	}{
		{"single-32", 32, 18, tournament.Settings{Format: tournament.Single, Third: true}, "svg.bracket .match", true, true},
		{"single-13", 13, 4, tournament.Settings{Format: tournament.Single}, "svg.bracket .match", false, true},
		{"double-8", 8, 9, tournament.Settings{Format: tournament.Double}, "svg.bracket .match", true, true},
		{"robin-8", 8, 17, tournament.Settings{Format: tournament.RoundRobin}, ".tournament-table tbody tr", true, true},
		{"swiss-16", 16, 26, tournament.Settings{Format: tournament.Swiss, Rounds: 5}, ".tournament-table tbody tr", true, true},
		{"pools-16", 16, 20, tournament.Settings{Format: tournament.Pools, Pools: 4, Advance: 2, Then: tournament.Single}, ".tournament-table tbody tr", true, true},
		{"pools-drawn", 12, 16, tournament.Settings{Format: tournament.Pools, Pools: 4, Advance: 2, Then: tournament.Single, Third: true}, "svg.bracket .match", false, false},
	}
	for _, f := range all[:soak.Size(1, len(all))] {
		t.Run(f.name, func(t *testing.T) {
			c := newCup(hub, "Autumn cup", f.teams, f.settings)
			v := c.playUntil(f.results)
			if f.playing && len(v.Ready) > 0 {
				c.do("start", "match", v.Ready[0])
			}
			p := b.open(f.name, "/tournament/board?id="+c.cup+"&boards=4&minutes=10", boardWidth, boardHeight)
			p.wait("the matches", "document.querySelectorAll("+fmt.Sprintf("%q", f.shows)+").length > 0")
			p.shot("bracket-" + f.name)
			if f.fitsAll && !p.js("document.documentElement.scrollHeight <= innerHeight && document.documentElement.scrollWidth <= innerWidth") {
				t.Errorf("%s does not fit the projector", f.name)
			}
			p.wait("its faces", facesAreHere)
			if !p.js(stretchesNothing) {
				t.Errorf("%s stretches a name", f.name)
			}
			if pages := p.print("print-" + f.name); pages != 1 {
				t.Errorf("%s is printed on %d pages", f.name, pages)
			}
			if err := chromedp.Do(p.ctx, chromedp.EmulateViewport(phoneWidth, phoneHeight)); err != nil {
				t.Fatal(err)
			}
			p.wait("that it fits a phone", "document.documentElement.scrollWidth <= innerWidth")
			p.shot("phone-" + f.name)
		})
	}
	b.check(hub.port)
}

// stretchesNothing: a text is squeezed where it is too long, and never made longer.
const stretchesNothing = `[...document.querySelectorAll('svg.bracket text[lengthAdjust]')].every((e) => {
	const own = e.cloneNode(true);
	own.removeAttribute('textLength');
	e.after(own);
	const length = own.getComputedTextLength();
	own.remove();
	return !e.hasAttribute('textLength') || Number(e.getAttribute('textLength')) <= length;
})`

// asStyled has the page's own sheet choose the paper.
func asStyled(p *paper.PrintToPDFParams) { p.PreferCSSPageSize = new(true) }

// print prints to PDF, counts the pages and draws the first.
func (p *page) print(name string) (pages int) {
	p.Helper()
	pdftoppm := need(p.T, "pdftoppm")
	pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(asStyled))
	file := filepath.Join(p.artifacts, name+".pdf")
	if err == nil {
		err = os.WriteFile(file, pdf, 0o644)
	}
	if err != nil {
		p.Fatalf("no PDF %s: %v", name, err)
	}
	if out, err := exec.Command(pdftoppm, "-png", "-r", "100", file, strings.TrimSuffix(file, ".pdf")).CombinedOutput(); err != nil {
		p.Fatalf("pdftoppm: %v: %s", err, out)
	}
	drawn, _ := filepath.Glob(strings.TrimSuffix(file, ".pdf") + "-*.png")
	return len(drawn)
}

// TestATournamentInRealPages has eight teams of bots play a double elimination,
// led from the host's page: level matches are played off there, and results
// advance the bracket by themselves.
func TestATournamentInRealPages(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/tournament#key="+testKey, 1280, 900)
	host.set("tournament-name", "Autumn cup")
	host.choose("tournament-format", "double elimination")
	host.shot("tournament-make")
	host.press("Make it")
	host.set("names", strings.Join(teamNames(8), "\n"))
	host.press("Enter these teams")
	host.wait("eight teams", says("8 teams"))
	host.press("Order by lot")
	host.shot("tournament-entry")
	host.set("plan-open", "1")
	host.set("plan-buzz", "0")
	host.press("Make the draw")
	host.wait("the question", "!!document.querySelector('dialog[open] button.main')")
	host.wait("the answer", "(() => { document.querySelector('dialog[open] button.main').click(); return true; })()")
	host.wait("matches to start", "document.querySelectorAll('li[data-match] button.main').length == 4")
	cup := host.value("new URLSearchParams(location.search).get('id')")
	public := b.open("public", "/tournament/board?id="+cup+"&boards=2&minutes=8", boardWidth, boardHeight)

	host.press("Open")
	code := host.value("document.querySelector('li[data-game]').dataset.game")
	host.shot("tournament-play")
	sides(b, hub, code)
	played := map[string]bool{code: true}
	for !host.js("document.querySelectorAll('li[data-match] button').length > 0 && document.querySelectorAll('li[data-game]').length == 0 && ![...document.querySelectorAll('button')].some(b => b.innerText == 'Open')") {
		if len(played) == 9 {
			public.shot("bracket-half")
		}
		playNext(host, hub, played)
	}
	host.press("Finish")
	public.wait("who is first", says("First place"))
	public.shot("bracket-final")
	public.print("print-final")
	host.shot("tournament-ended")
	if n := len(played); n < 14 {
		t.Errorf("%d games were played, want the 14 of a double elimination for eight", n)
	}
	phone := b.open("narrow", "/tournament?id="+cup+"#key="+testKey, phoneWidth, phoneHeight)
	phone.shotWhen("tournament-phone", says("Autumn cup"))
	if !phone.js("document.documentElement.scrollWidth <= innerWidth") {
		t.Error("the host's page is wider than a phone")
	}
	b.check(hub.port)
}

// value is what an expression gives, once that is something.
func (p *page) value(expression string) string {
	p.Helper()
	p.wait(expression, "!!("+expression+")")
	return p.text(expression)
}

// sides has both sides of a match come by real phones, in the match's console.
func sides(b *browser, hub *program, code string) {
	b.Helper()
	console := b.open("console", "/host?game="+code+"#key="+testKey, 1280, 900)
	var phones []*page
	for i := range 2 {
		p := b.open(fmt.Sprint("side ", i+1), "/team?game="+code, phoneWidth, phoneHeight)
		p.wait("the sides", "document.querySelectorAll('main button.main').length == "+fmt.Sprint(2-i))
		p.shot(fmt.Sprint("phone-side-", i+1))
		p.wait("its own side", "(() => { document.querySelector('main button.main').click(); return true; })()")
		p.wait("that it is in", "!!document.querySelector('header.strip b')")
		phones = append(phones, p)
	}
	console.press("Start the game")
	console.press("Begin round 1")
	phones[0].wait("a question", "document.querySelectorAll('.options button').length >= 2")
	key := console.key()
	phones[0].pick(key)
	phones[1].pick(wrong(key))
	console.wait("the reveal", "document.body.innerText.includes('picked by')")
	console.press("Next")
	console.wait("the end", says("Download")+"||!!document.querySelector('.leaders')")
}

// playNext plays a match that is under way, or else starts one.
func playNext(host *page, hub *program, played map[string]bool) {
	host.Helper()
	next := `(() => {
		const running = [...document.querySelectorAll('li[data-game]')];
		const game = running.find(li => !li.innerText.includes('has ended'));
		if (game) return 'game ' + game.dataset.game + ' ' + game.querySelector('b:not(.at)').innerText;
		const button = [...document.querySelectorAll('li[data-match] button.main')].find(b => b.innerText == 'Open' || b.innerText.startsWith('Level'));
		if (button) { button.click(); button.click(); } // a double tap is one press
		return 'pressed';
	})()`
	what := host.text(next)
	if what == "pressed" {
		time.Sleep(100 * time.Millisecond)
		return
	}
	parts := strings.SplitN(what, " ", 3)
	if played[parts[1]] {
		time.Sleep(100 * time.Millisecond) // the page has not yet heard of its end
		return
	}
	played[parts[1]] = true
	match := *hub
	match.code = parts[1]
	playedByBots(host.T, &match, strings.Split(parts[2], " – "), 100*time.Millisecond)
}
