package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"fieldsign/game/tournament"
	"fieldsign/hub/lab/soak"
)

// listen has the page keep all that its live regions say, from now on.
func (p *page) listen() {
	p.Helper()
	p.wait("its live regions", `(() => {
		window.heard = new Set();
		const note = () => document.querySelectorAll('[role=status], [role=alert], [aria-live]').forEach((e) => e.textContent.trim() && window.heard.add(e.textContent.trim()));
		new MutationObserver(note).observe(document.body, {subtree: true, childList: true, characterData: true});
		note();
		return true;
	})()`)
}

func (p *page) hears(text string) {
	p.Helper()
	p.wait(fmt.Sprintf("that a screen reader is told %q", text), fmt.Sprintf("[...window.heard].some((t) => t.includes(%q))", text))
}

// neverHeard holds what was said so far against what must not have been.
func (p *page) neverHeard(secrets ...string) {
	p.Helper()
	all := read[[]string](p, "[...window.heard]")
	if len(all) == 0 {
		p.Errorf("nothing was said to %s: the test hears nothing", p.name)
	}
	for _, secret := range secrets {
		if i := slices.IndexFunc(all, func(t string) bool { return strings.Contains(strings.ToLower(t), strings.ToLower(secret)) }); i >= 0 {
			p.Errorf("before the reveal %s was told %q, which has %q in it", p.name, all[i], secret)
		}
	}
}

// secrets are the key and the reason of the question that the console shows.
func (p *page) secrets() []string {
	p.Helper()
	p.wait("the key", keyShown)
	return []string{
		p.text("document.querySelector('.options .row.key .text, .options .row.key img').innerText || document.querySelector('.options .row.key img').alt"),
		p.text("document.querySelector('.reason [lang], .reason span').innerText"),
	}
}

// entered are the phones of some teams and the board, all of them listening.
func entered(b *browser, hub *program, names ...string) []*page {
	b.Helper()
	var all []*page
	for _, name := range names {
		p := b.open(name, "/team?game="+hub.code, phoneWidth, phoneHeight)
		p.set("name", name)
		p.press("Join")
		p.wait("its name", says(name))
		all = append(all, p)
	}
	all = append(all, b.open("board", "/board?game="+hub.code, boardWidth, boardHeight))
	for _, p := range all {
		p.wait("the game", "!!document.querySelector('[role=status]')")
		p.listen()
	}
	return all
}

// The phases of a station round are told, and no animal or key before it is marked.
func TestScreenReadersFollowAStationRound(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", "furbearers")
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 900)
	heard := entered(b, hub, "Marsh Wrens", "Pine Martens")
	planStations(host)
	all := func(text string) {
		for _, p := range heard {
			p.hears(text)
		}
	}
	all("Go to your start station.")
	host.press("Begin the first rotation")
	all("Rotation 1 of 3 has begun.")
	heard[0].pickAt(0, 1)
	heard[0].hears("1 of 2 answered")
	host.press("Give the signal now")
	all("The signal: walk to the next station.")
	host.press("Begin the next rotation now")
	all("Rotation 2 of 3 has begun.")
	secrets := read[[]string](host, "[...document.querySelectorAll('.benches summary')].map((e) => e.innerText.replace(/^\\d+\\s+/, '').split(',')[0])")
	secrets = append(secrets, read[[]string](host, "[...document.querySelectorAll('.benches .reason')].map((e) => e.textContent)")...)
	for _, p := range heard {
		p.neverHeard(secrets...)
	}
	host.press("End the round and mark it")
	host.press("End and mark")
	all("The round is over and marked.")
	b.check(hub.port)
}

// The public page of a tournament tells what begins and how it ends.
func TestScreenReadersFollowATournament(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	c := newCup(hub, "Autumn cup", 2, tournament.Settings{Format: tournament.Single})
	p := b.open("public", "/tournament/board?id="+c.cup, boardWidth, boardHeight)
	p.wait("the tournament", "!!document.querySelector('[role=status]')")
	p.listen()
	p.hears("Being played")
	c.do("start", "match", 1)
	p.hears("Match 1 now: Marsh Wrens – Alder Voles")
	c.do("record", "match", 1, "outcome", "played", "home", 300, "away", 200)
	c.do("finish")
	p.hears("First place: Marsh Wrens")
	b.check(hub.port)
}

// marksNeedNoColour: right and wrong are told by signs and words. Seen without any colour,
// each marked row has its own, on so many screens, and there are so many marks or more.
func (p *page) marksNeedNoColour(looked, least int) {
	p.Helper()
	p.resize(1280, 900)
	p.seeNoColour()
	marked := 0
	screens := []string{
		"team-wrong", "board-revealed", "host-revealed", "bracket-double-ended", "team-station-marked",
		"team-right", "team-wrong-penalty", "team-none", "team-pictured-revealed", "practice-right", "practice-wrong", "board-pictured-revealed",
		"board-buzz-revealed", "host-open", "host-station-marked", "plan-questions", "debrief", "bracket-pools",
	}
	for _, screen := range screens[:looked] {
		p.screen(screen)
		p.wait(screen, "!!document.querySelector('#page > *')")
		marks := read[[]string](p, `[['.row.key', '✓'], ['.row.miss', '✗'], ['.picks .key', '✓'], ['.bracket .won', '✓'], ['.tournament-table .goes', '✓']]
			.flatMap(([rows, sign]) => [...document.querySelectorAll(rows)].map((e) => (e.textContent.includes(sign) ? '' : e.outerHTML.slice(0, 160))))`)
		marked += len(marks)
		for _, bare := range marks {
			if bare != "" {
				p.Errorf("%s: only colour marks %s", screen, bare)
			}
		}
		p.shot("grey-" + screen)
	}
	if marked < least {
		p.Errorf("%d marks were found: the screens no longer fit the test", marked)
	}
}

func (p *page) seeNoColour() {
	p.Helper()
	_, err := chromedp.Run(p.ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedVisionDeficiency, emulation.SetEmulatedVisionDeficiencyParams{Type: emulation.SetEmulatedVisionDeficiencyTypeAchromatopsia})
		return err
	}))
	if err != nil {
		p.Fatal(err)
	}
}
