package main

import (
	"context"
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"fieldsign/game/tournament"
	"fieldsign/hub/lab/soak"
)

// axe-core 4.14.1, as its makers publish it.
//
//go:embed testdata/axe-core/axe.min.js
var axe string

// languages are what the pages speak, as a browser asks for them.
var languages = []string{"en", "es"}

// The gallery has every screen in every state. Each is judged by axe-core
// against WCAG 2.2 AA, its rule on contrast of 7:1 and its authors' good
// practice; keys must reach each control and show where they are; and it must
// reflow: the narrow width is that of a phone of 320 px, or of a screen at
// 200 % zoom. Make test does so with a handful of the first language, and goes
// through few of them by keys.
func TestEveryScreenIsAccessible(t *testing.T) {
	t.Parallel()
	need(t, headless)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", withGallery(t, 0)))
	for _, language := range languages[:soak.Size(1, len(languages))] {
		t.Run(language, func(t *testing.T) { everyScreen(t, b.blank(language, 1280, 900).of(t)) })
	}
}

func everyScreen(t *testing.T, p *page) {
	t.Helper()
	p.speak(p.name)
	p.visit("/gallery")
	p.wait("the list of screens", "document.querySelectorAll('[data-screen]').length > 50")
	screens := read[[]string](p, `[...document.querySelectorAll('[data-screen]')].map((a) => a.dataset.screen)`)
	if !soak.Long() {
		screens = slices.DeleteFunc(screens, func(name string) bool { return !slices.Contains(handful, name) })
		if len(screens) < len(handful) {
			t.Errorf("of %v the gallery has only %v", handful, screens)
		}
	}
	walked := soak.Size(4, 1) // one of so many
	for i, name := range screens {
		t.Run(name, func(t *testing.T) {
			p := p.of(t)
			if i%walked == 0 {
				p.visit("/gallery?screen=" + name) // so that the keys begin at its top
			} else {
				p.screen(name)
			}
			p.fits(t, name)
			p.judge(t, name)
			if i%walked == 0 {
				p.walk(t, name)
			}
		})
	}
}

// of is the same page for a part of the test, which can then be run by itself.
func (p *page) of(t *testing.T) *page {
	return &page{&browser{T: t, ctx: p.browser.ctx, base: p.base, artifacts: p.artifacts}, p.name, p.ctx}
}

// handful are screens of each device: before a question, while it is open and
// after its reveal, and what a host plans and learns.
var handful = []string{"host-open", "team-open", "board-revealed", "team-wrong", "practice-wrong", "plan-questions", "team-station", "debrief", "bracket-pools", "season"}

// The pages as they are first met, outside any game. What axe finds in one
// language it finds in the other, and make test looks at one page in four of one.
func TestEveryPageIsAccessible(t *testing.T) {
	t.Parallel()
	need(t, headless)
	port := freePort(t)
	hub := start(t, t.TempDir()+"/games.db", port)
	cup := newCup(hub, "Autumn cup", 8, tournament.Settings{Format: tournament.Double})
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", withGallery(t, port)))
	for _, language := range languages[:soak.Size(1, len(languages))] {
		t.Run(language, func(t *testing.T) { everyPage(t, b.blank(language, 1280, 900).of(t), hub.code, cup.cup) })
	}
}

func everyPage(t *testing.T, p *page, game, cup string) {
	t.Helper()
	p.speak(p.name)
	looked := soak.Size(4, 1) // one of so many
	look := func(path string) {
		p.fits(t, path)
		p.judge(t, path)
	}
	for n, path := range []string{"/", "/team", "/team?game=" + game, "/board", "/board?game=" + game, "/host", "/practice", "/debrief", "/gallery",
		"/season", "/season/board?season=2026", "/season-plan", "/fair-teams", "/trends", "/tournament", "/tournament/board", "/tournament/board?id=" + cup,
		"/tournament/team?id=" + cup, "/tournament/follow?id=" + cup, "/tournament/follow?id=" + cup + "&board=9"} {
		if n%looked == 1%looked {
			p.visit(path)
			look(path)
		}
	}
	// What the host's pages show once they have the key, which this tab then keeps.
	for n, path := range []string{"/host#key=" + testKey, "/season", "/season-plan", "/fair-teams", "/trends", "/tournament", "/tournament?id=" + cup} {
		if n%looked == 0 {
			p.visit(path)
			p.wait("that the key is taken", "!document.getElementById('key') && !!document.querySelector('#page h1')")
			look(path)
		}
	}
}

// speak has the page's browser ask for a language, and for little motion.
func (p *page) speak(language string) {
	p.Helper()
	agent := read[string](p, "navigator.userAgent")
	_, err := chromedp.Run(p.ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{UserAgent: agent, AcceptLanguage: language}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}})
		return err
	}))
	if err != nil {
		p.Fatal(err)
	}
}

// judge looks at one screen at the size that it is for.
func (p *page) judge(t *testing.T, name string) {
	t.Helper()
	// As high as the page: what a bar at the screen's end covers, scrolling shows,
	// and which row that is, the machine's typefaces decide. walk holds that the
	// keys are never under it.
	size := read[[3]int64](p, "[innerWidth, innerHeight, document.documentElement.scrollHeight]")
	if size[2] > size[1] {
		p.resize(size[0], size[2])
		defer p.resize(size[0], size[1])
	}
	for _, fault := range p.faultsByAxe() {
		t.Errorf("%s, %s: %s", name, p.name, fault)
	}
	if n := read[int](p, "document.getAnimations().filter((a) => a.playState === 'running').length"); n > 0 {
		t.Errorf("%s, %s: %d things move though little motion is asked for", name, p.name, n)
	}
}

// fits looks whether a screen needs no more width than there may be, and leaves
// it at the size that it is for.
func (p *page) fits(t *testing.T, name string) {
	t.Helper()
	p.wait("the screen "+name, "!!document.querySelector('#page > *')")
	wide, high, narrow := int64(1280), int64(900), int64(640)
	class := read[string](p, "document.documentElement.className")
	switch {
	case strings.Contains(class, "team"):
		wide, high, narrow = phoneWidth, phoneHeight, 320
	case strings.Contains(class, "board"):
		wide, high, narrow = boardWidth, boardHeight, 960
	case strings.Contains(class, "tournament-public"):
		wide, high, narrow = boardWidth, boardHeight, 320 // phones show it, too
	}
	p.resize(narrow, high)
	if over := read[int](p, "document.documentElement.scrollWidth - document.documentElement.clientWidth"); over > 0 {
		t.Errorf("%s, %s: %d px wide, it overflows by %d px", name, p.name, narrow, over)
		p.shot("overflows-" + p.name + "-" + strings.Trim(strings.NewReplacer("/", "", "?", "-", "=", "-").Replace(name), "-"))
	}
	p.resize(wide, high)
}

// resize waits until the page is drawn anew: a board measures its own text then.
func (p *page) resize(width, height int64) {
	p.Helper()
	if err := chromedp.Do(p.ctx, chromedp.EmulateViewport(width, height)); err != nil {
		p.Fatal(err)
	}
	read[bool](p, "new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(() => drawn(true))))")
}

// faultsByAxe runs axe-core, which the pages' policy keeps out unless a
// debugger brings it.
func (p *page) faultsByAxe() []string {
	p.Helper()
	if !p.js("!!window.axe") {
		read[bool](p, axe+"; true")
	}
	return read[[]string](p, `axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'], rules: {'color-contrast-enhanced': {enabled: true}}, resultTypes: ['violations']})
		.then((r) => r.violations.map((v) => v.id + ' (' + v.help + '): ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + ' ' + n.any.concat(n.all).map((c) => c.message).join('; ')).join(' | ')))`)
}

// read gives the value of an expression, or of what it promises.
func read[T any](p *page, expression string) T {
	p.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatalf("%s: %v", p.name, err)
	}
	return v
}

// walk goes through a screen by the tabulator key.
func (p *page) walk(t *testing.T, name string) {
	t.Helper()
	// A group of radio buttons is one stop; what a closed dialog or details holds is none.
	controls := read[int](p, `(() => {
		const shown = [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex="0"]')]
			.filter((e) => !e.disabled && e.tabIndex >= 0 && e.checkVisibility({visibilityProperty: true}) && !(document.querySelector('dialog:modal') && !e.closest('dialog')));
		window.stops = new Set(shown.map((e) => (e.type === 'radio' ? e.name : e)));
		document.activeElement?.blur();
		const parts = 4 * shown.filter((e) => e.type === 'date' || e.type === 'time').length; // the keys go through a date's parts
		return window.stops.size + parts;
	})()`)
	for range controls + 8 { // a scrolled region and the page itself are stops too
		if err := chromedp.Do(p.ctx, chromedp.KeyEvent(kb.Tab)); err != nil {
			t.Fatal(err)
		}
		if bare := read[string](p, `(() => {
			const e = document.activeElement;
			window.stops.delete(e.type === 'radio' ? e.name : e);
			const s = getComputedStyle(e);
			return e === document.body || s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) > 0 ? '' : e.outerHTML.slice(0, 120);
		})()`); bare != "" {
			t.Errorf("%s, %s: nothing shows that the keys are at %s", name, p.name, bare)
		}
		if covered := read[string](p, `(() => {
			const e = document.activeElement;
			const r = e.getBoundingClientRect();
			const own = e.closest('label') ?? e;
			const seen = [r.top + 2, (r.top + r.bottom) / 2, r.bottom - 2].some((y) => {
				const at = document.elementFromPoint((r.left + r.right) / 2, y);
				return at && (own.contains(at) || at.contains(e));
			});
			return e === document.body || seen ? '' : e.outerHTML.slice(0, 120);
		})()`); covered != "" {
			t.Errorf("%s, %s: the keys are at what is covered: %s", name, p.name, covered)
		}
	}
	for _, missed := range read[[]string](p, `[...window.stops].map((e) => (e.outerHTML ?? e).slice(0, 120))`) {
		t.Errorf("%s, %s: keys don't reach %s", name, p.name, missed)
	}
}
