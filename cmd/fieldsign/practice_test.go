package main

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"fieldsign/hub/lab/soak"
)

// text is what an expression gives.
func (p *page) text(expression string) string {
	p.Helper()
	s, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](expression))
	if err != nil {
		p.Fatalf("%s: %s: %v", p.name, expression, err)
	}
	return s
}

// awaited evaluates an expression that gives a promise of true or false.
func (p *page) awaited(what, promise string) {
	p.Helper()
	p.js("globalThis.came = undefined, (" + promise + ").then((v) => { globalThis.came = v; }), true")
	p.wait(what, "globalThis.came === true")
}

// The memory of the practice page, with a clock and dice of the checks' own.
func TestPracticeMemory(t *testing.T) {
	t.Parallel()
	need(t, headless)
	p := newBrowser(t, fmt.Sprintf("http://localhost:%d", withGallery(t, 0))).open("memory", "/memory-test", 800, 600)
	p.wait("the checks' end", "!!document.body?.dataset.ran")
	if failures := p.text("document.body.dataset.failures"); failures != "[]" {
		t.Errorf("%s", failures)
	}
	t.Logf("%s checks ran; two weeks of 20 questions a day with one animal always missed: %s", p.text("document.body.dataset.ran"), p.text("document.body.dataset.times"))
}

// fewAnimals is a roster of eight: a ready one's practice takes three times as long to make.
func fewAnimals(t *testing.T) (file string) {
	t.Helper()
	return rosterOf(t, append(slices.Clone(few), "Vulpes vulpes,skull;track;scat", "Canis latrans,skull;track;scat", "Lynx rufus,skull;track;scat")...)
}

// rosterOf is the roster few of some rows.
func rosterOf(t *testing.T, rows ...string) (file string) {
	t.Helper()
	file = filepath.Join(t.TempDir(), "few.csv")
	if err := os.WriteFile(file, []byte("species,subjects\n"+strings.Join(rows, "\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

const (
	started  = "!!document.querySelector('#roster')"
	asking   = "document.querySelectorAll('.options button[aria-disabled=false]').length >= 2"
	answered = "!!document.querySelector('.row.key') && !!document.querySelector('.told .title')"
)

// practise answers a question and looks at what came of it.
func (p *page) practise() {
	p.Helper()
	p.press("Start")
	p.wait("a question", asking)
	p.pick(0)
	p.wait("whether it was right, and why", answered+" && "+says("Reason:")+" && ("+says("✓ Right")+" || "+says("✗ Not right")+")")
}

// On localhost, which browsers trust as they trust TLS; practice_tls_test.go
// does the same over TLS.
func TestPracticeWithTheHubStopped(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", fewAnimals(t))
	save(t, hub.url()+"/practice.json", filepath.Join(t.TempDir(), "questions.json")) // computed now: on a busy machine no page would wait for it
	b := newBrowser(t, fmt.Sprintf("http://localhost:%d", hub.port))
	p := b.open("practice", "/", phoneWidth, phoneHeight)
	p.wait("the way to practice", "!!document.querySelector('a[href=\"/practice\"]')")
	p.awaited("an old cache", `caches.open('fieldsign-practice-shell-old').then(() => true)`)
	p.js(`document.querySelector('a[href="/practice"]').click(), true`)
	p.wait("the practice page", started)
	if !p.js("isSecureContext") {
		t.Fatal("localhost is no secure context: the test shows nothing")
	}
	p.wait("that it is kept", says("opens without the hub"))
	p.awaited("an active worker", `navigator.serviceWorker.getRegistration('/practice').then((r) => r?.active?.state === 'activated')`)
	p.awaited("only the newest cache", `caches.keys().then((keys) => keys.filter((k) => k.startsWith('fieldsign-practice-shell-')).length === 1 && !keys.includes('fieldsign-practice-shell-old'))`)
	p.shot("practice-start")
	const loads = "String(performance.getEntriesByType('resource').length)"
	before := p.text(loads)
	p.practise()
	if after := p.text(loads); after != before {
		t.Errorf("%s things were loaded at the start, %s after a question", before, after)
	}
	p.press("Stop")
	p.wait("what was learned", "document.querySelectorAll('.leaders tbody tr').length >= 1")

	hub.kill()
	p.visit("/practice")
	p.wait("the page without its hub", started)
	p.wait("what was learned before", "document.querySelectorAll('.leaders tbody tr').length >= 1")
	p.practise()
	p.wait("nothing wider than the screen", "document.documentElement.scrollWidth <= innerWidth")
	p.shot("practice-offline")
	p.press("Next")
	p.wait("another question", asking+" && document.activeElement.tagName === 'H1'")
	b.onlyAsked(fmt.Sprintf("localhost:%d", hub.port))
}

// Practising is done with keys alone, and forgetting is asked about first.
func TestPracticeByKeyboard(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", fewAnimals(t))
	save(t, hub.url()+"/practice.json", filepath.Join(t.TempDir(), "questions.json")) // computed now: on a busy machine no page would wait for it
	p := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port)).open("practice", "/practice", phoneWidth, phoneHeight)
	p.wait("the practice page", started)
	if p.js("isSecureContext") || p.js(says("opens without the hub")) {
		t.Error("a page on the plain network says that it opens without the hub")
	}
	p.wait("the way to save it", `document.querySelector('a[download]')?.getAttribute('href') === '/practice/save?roster=few'`)
	p.wait("the ready rosters, by their titles", `[...document.querySelectorAll('#roster option')].some((o) => o.innerText.startsWith('Furbearers'))`)
	// Dice that repeat, and the keys: two of three questions are answered right.
	p.js(`Math.random = (() => { let n = 7; return () => (n = (n * 16807) % 2147483647) / 2147483647; })(), true`)
	p.awaited("the keys", `fetch('/practice.json').then((a) => a.json()).then((e) => { globalThis.questions = e.questions; globalThis.plates = e.plates; return true; })`)
	const letter = `(() => {
		const rows = [...document.querySelectorAll('.options .text, .options .thumb')].map((r) => r.getAttribute('aria-label') ?? r.innerText).join();
		const q = questions.find((q) => q.prompt === document.querySelector('h1').innerText && (q.plates?.map((at) => plates[at].alt) ?? q.options).join() === rows);
		return 'abcde'[q.key];
	})()`
	p.press("Start")
	plates := 0
	for n := range soak.Size(10, 40) {
		p.wait("a question", asking+" && document.activeElement.tagName === 'H1'")
		drawn := p.js("!!document.querySelector('.plate svg')")
		if drawn {
			plates++
			p.wait("a drawing that is described", "document.querySelector('.plate').getAttribute('aria-label').length > 20 && document.querySelector('.plate svg').getBoundingClientRect().height > 100")
		}
		if drawn && plates == 1 {
			p.shot("practice")
		}
		key, verdict := p.text(letter), "✓ Right"
		if n%3 == 2 {
			key, verdict = string("abcde"[wrong(int(key[0]-'a'))]), "✗ Not right"
		}
		p.strike(key)
		p.wait("the verdict", answered+" && document.activeElement.innerText.startsWith('Next') && "+says(verdict))
		p.targets()
		if drawn && plates == 1 {
			p.shot("practice-verdict")
		}
		p.strike("\r")
		if n%10 == 9 {
			p.wait("the summary of ten", "document.querySelectorAll('.missed li').length >= 3")
			p.press("Ten more")
		}
	}
	if plates == 0 {
		t.Error("no drawing in all questions")
	}
	p.press("Stop")
	p.wait("the table", "document.querySelectorAll('.leaders tbody tr').length > 5")
	p.js("document.querySelector('.leaders').scrollIntoView(), true")
	p.shot("practice-known")
	p.targets()
	p.press("Forget all")
	p.wait("the question back", "!!document.querySelector('dialog[open]')")
	p.press("Cancel")
	p.wait("everything still there", "!document.querySelector('dialog') && document.querySelectorAll('.leaders tbody tr').length > 5")
	p.press("Forget all")
	p.press("Forget it all")
	p.wait("an empty memory", says("Nothing answered yet")+" && !localStorage.getItem('fieldsign.practice.fsrs') && !localStorage.getItem('fieldsign.practice')")
	p.carriesOver()
}

// carriesOver checks that what a phone learned before practice took its model
// from a library is still there, and is stored in the new form with the next
// answer. The page has its questions in globalThis.questions.
func (p *page) carriesOver() {
	p.Helper()
	p.js(`(() => {
		const facts = [...new Set(questions.flatMap((q) => q.facts))].slice(0, 3);
		const known = { half: 4 * 86_400_000, at: Date.now() - 86_400_000, ok: true, answers: 0 };
		localStorage.setItem('fieldsign.practice', JSON.stringify({ answers: 3, facts: Object.fromEntries(facts.map((f) => [f, known])) }));
	})(), true`)
	p.visit("/practice")
	p.wait("what was learned before", started+" && "+says("3 known for now")+" && "+says("fair, 4 days"))
	p.practise()
	p.wait("it in the new form", `(() => {
		const kept = Object.values(JSON.parse(localStorage.getItem('fieldsign.practice.fsrs')).facts);
		return kept.length > 3 && kept.some((k) => k.stability === 4) && kept.every((k) => k.difficulty >= 1 && !('half' in k));
	})()`)
	p.js("localStorage.setItem('fieldsign.practice', JSON.stringify({ answers: 0, facts: {} })), true") // as a tab of the old page does
	p.visit("/practice")
	p.wait("all of it after an old page has stored", started+" && !"+says("Nothing answered yet"))
}

// Every screen of practice fits a phone, in every state of the gallery.
func TestPracticeScreens(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	port := withGallery(t, hub.port)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", port))
	p := b.open("gallery", "/gallery", phoneWidth, phoneHeight)
	p.wait("the list", "document.querySelectorAll('[data-screen^=practice-]').length > 5")
	for screen := range strings.SplitSeq(p.text("[...document.querySelectorAll('[data-screen^=practice-]')].map((a) => a.dataset.screen).join()"), ",") {
		p.screen(screen)
		p.wait(screen, "!!document.querySelector('main h1')")
		p.targets()
	}
	b.onlyAsked(fmt.Sprintf("fieldsign.test:%d", port))
}

// facesAreHere: until then texts stand in others, which may be broader.
const facesAreHere = "document.fonts.status === 'loaded'"

// targets checks that what is to be touched is big enough, and nothing runs off the side.
func (p *page) targets() {
	p.Helper()
	p.wait("its faces", facesAreHere)
	small := p.text(`[...document.querySelectorAll('button, a, select, label.check')].filter((e) => { const r = e.getBoundingClientRect(); return r.width > 0 && (r.height < 48 || r.right > innerWidth || r.width < 48); }).map((e) => e.innerText).join(' | ')`)
	if small != "" {
		p.Errorf("%s: smaller than 48 px, or off the screen: %s", p.name, small)
	}
	if p.js("document.documentElement.scrollWidth > innerWidth") {
		p.Errorf("%s scrolls sideways: %s", p.name, p.text(`[...document.querySelectorAll('*')].filter((e) => e.getBoundingClientRect().right > innerWidth).map((e) => e.tagName + '.' + e.className + ' ' + e.id).slice(-3).join(', ')`))
	}
}

// strike presses and lets go of a key.
func (p *page) strike(key string) {
	p.Helper()
	if err := chromedp.Do(p.ctx, chromedp.KeyEvent(key)); err != nil {
		p.Fatal(err)
	}
}

// The saved page is opened as a file, with no hub anywhere.
func TestPracticeFromAFile(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", fewAnimals(t))
	file := filepath.Join(t.TempDir(), "practice.html")
	save(t, hub.url()+"/practice/save?roster=few", file)
	hub.kill()
	b := newBrowser(t, "file://")
	p := b.open("saved", file, phoneWidth, phoneHeight)
	p.wait("its start", says("Practise alone")+" && "+says("Animals: few"))
	p.shot("practice-saved")
	p.practise()
	p.targets()
	p.press("Stop")
	if p.js(says("keeps nothing")) {
		t.Error("it says that nothing is kept")
	}
	p.visit(file)
	p.wait("what was learned before", "document.querySelectorAll('.leaders tbody tr').length >= 1")
	b.onlyAsked()
	if p.js(`(() => { const s = document.createElement('script'); s.textContent = 'globalThis.ran = true'; document.head.append(s); return !!globalThis.ran; })()`) {
		t.Error("its policy lets a foreign script run")
	}
}

// onlyAsked is what must hold of every page: no other host, no fault.
func (b *browser) onlyAsked(hosts ...string) {
	b.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for host := range b.requests {
		if !slices.Contains(hosts, host) {
			b.Errorf("a page asked %s", host)
		}
	}
	for _, f := range b.faults {
		b.Errorf("console: %s", f)
	}
}

func save(t *testing.T, address, file string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), "GET", address, nil)
	if err != nil {
		t.Fatal(err)
	}
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	out, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if _, err := out.ReadFrom(a.Body); err != nil || a.StatusCode != 200 {
		t.Fatalf("%s: %s, %v", address, a.Status, err)
	}
}
