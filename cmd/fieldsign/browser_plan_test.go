package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/soak"
)

// cards is how many planned questions are on the screen, all of them whole.
func cards(n int) string {
	return fmt.Sprintf(`(() => { const c = [...document.querySelectorAll('.planned > li')];
		return c.length === %d && c.every(c => c.querySelector('.prompt').innerText && c.querySelector('.row.key') && c.querySelector('.reason b').innerText.startsWith('Key: ')); })()`, n)
}

// cardsAsked is what each planned question asks: its prompt and its options.
const cardsAsked = `[...document.querySelectorAll('.planned > li')].map((c) => [c.querySelector('.prompt'), ...c.querySelectorAll('.row .text')].map((e) => e.innerText).join(' | '))`

// planned are the prompts and options on the screen, in their order.
func (p *page) planned() []string {
	p.Helper()
	var out []string
	list := p.text("JSON.stringify(" + cardsAsked + ")")
	if err := json.Unmarshal([]byte(list), &out); err != nil {
		p.Fatal(err)
	}
	return out
}

// focused is the label of what has the focus.
func focused(label string) string {
	return fmt.Sprintf("(e => (e.ariaLabel ?? e.innerText).startsWith(%q))(document.activeElement)", label)
}

// settled waits until the last change of the questions is on the screen.
func (p *page) settled() {
	p.Helper()
	p.wait("that the questions are settled", "document.querySelector('.planned').ariaBusy !== 'true'")
}

// act focuses a question's button and presses it by key.
func (p *page) act(question int, act string) {
	p.Helper()
	p.settled()
	p.wait(act, fmt.Sprintf(`(() => { const b = document.querySelectorAll('.planned > li')[%d]?.querySelector('[data-act=%s]'); if (!b || b.disabled) return false; b.focus(); return true; })()`, question-1, act))
	p.strike("\r")
}

// A host plans: looks at every question, chooses, saves a set, and loads it
// into another game, which then asks what was chosen.
func TestPlanningInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", "furbearers")
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 800)
	board := b.open("board", "/board?game="+hub.code, 1920, 1080)
	phone := dialed(t, hub, map[string]any{"type": "join", "name": "Marsh Wrens"})

	host.wait("how long it takes", says("About 5 to 19 minutes in all."))
	const guessable = "try out every seed as small as this"
	if host.js(says(guessable)) {
		t.Error("the console warns of a seed that the hub has drawn")
	}
	host.set("seed", "12")
	host.wait("that a typed seed can be guessed", says(guessable))
	host.set("round-1-count", "6")
	host.set("round-1-seconds", "90")
	host.wait("how long it takes now", says("About 6 to 23 minutes in all."))
	for _, name := range []string{"Skulls, tracks, scat and signs", "Skulls, tracks and scat"} {
		host.js("document.getElementById('round-1-subjects-sign').click(), true")
		host.wait("the round's name by its subjects", fmt.Sprintf("document.getElementById('round-1-name').value == %q", name))
	}
	if host.js("!!document.querySelector('.planned')") || host.js(says("Key:")) {
		t.Error("keys are shown before the host asks for them")
	}
	host.js("document.querySelector('.looking').scrollIntoView(), true")
	host.shot("host-plan-warning")
	host.press("Save the plan, then show")
	host.wait("six questions", cards(6))
	host.wait("a drawing", "!!document.querySelector('.planned div.plate svg, .planned .thumb svg')")
	host.wait("the warning", says("Keys are on this screen"))
	first := host.planned()
	host.js("document.querySelector('.looking').scrollIntoView(), true")
	host.shot("host-plan-questions")
	host.js("document.querySelector('.planned > li.drawn, .planned > li:has(.thumb)').scrollIntoView(), true")
	host.shot("host-plan")
	host.chooseByKeyboard(first)
	chosen := host.planned()
	board.wait("the lobby", says("1 team"))
	for _, q := range append(first, chosen...) {
		if board.js(says(strings.Split(q, " | ")[0])) {
			t.Errorf("the board shows %s", q)
		}
	}
	dialed(t, hub, map[string]any{"type": "join", "name": "Pine Martens"})
	awaited(t, phone, "the second team", func(f bot.Frame) bool {
		for _, q := range append(first, chosen...) {
			if strings.Contains(string(f.Raw), strings.Split(q, " | ")[0]) {
				t.Errorf("a phone is sent %s", q)
			}
		}
		return f.Type == "state" && f.Teams == 2
	})

	hub.kill()
	host.wait("that the hub is gone", "!!document.querySelector('.banner.urgent')")
	start(t, hub.data, hub.port, "--roster", "furbearers")
	host.wait("that it is back", "!document.querySelector('.banner.urgent')")
	host.visit("/host?game=" + hub.code)
	host.press("Show the questions")
	host.wait("the questions again", cards(5))
	if got := host.planned(); !reflect.DeepEqual(got, chosen) {
		t.Errorf("after the kill:\n%q\nwant\n%q", got, chosen)
	}
	host.set("round-1-seconds", "45")
	host.press("Save the plan, then show")
	host.wait("the questions with another time", cards(5))
	if got := host.planned(); !reflect.DeepEqual(got, chosen) {
		t.Errorf("with another time:\n%q\nwant\n%q", got, chosen)
	}
	host.set("seed", "13")
	host.wait("what would be lost", says("Saving gives up questions that you have chosen"))
	host.set("seed", "12")
	host.wait("that nothing is lost", "!"+says("Saving gives up")+" && !"+says("Not saved yet."))

	file := host.saveSet("Spring evening")
	onPaper := strings.Join(onPaper(t, "--kind quiz --round 1 --set "+file), " ")
	for i, q := range chosen {
		if stem := fmt.Sprintf("%d %s", i+1, strings.Split(q, " | ")[0]); !strings.Contains(onPaper, stem) {
			t.Errorf("paper does not ask %q", stem)
		}
	}
	other := host.another()
	other.loadSet(file)
	other.wait("its title", "document.getElementById('title').value === 'Spring evening'")
	other.press("Show the questions")
	other.wait("the loaded questions", cards(5))
	if got := other.planned(); !reflect.DeepEqual(got, chosen) {
		t.Errorf("loaded:\n%q\nwant\n%q", got, chosen)
	}
	other.targets()
	other.js("document.querySelector('.looking').scrollIntoView(), true")
	other.shot("host-plan-phone")
	other.js("document.querySelector('.planned > li.drawn, .planned > li:has(.thumb)').scrollIntoView(), true")
	other.shot("host-plan-phone-question")

	at := *hub
	at.code = other.text("new URLSearchParams(location.search).get('game')")
	late := dialed(t, &at, map[string]any{"type": "join", "name": "Wood Ducks"})
	other.wait("the team", says("Wood Ducks"))
	other.press("Start the game")
	other.press("Begin round 1")
	for i, q := range chosen {
		f := awaited(t, late, "question "+fmt.Sprint(i+1), func(f bot.Frame) bool { return f.Type == "state" && f.Phase == "asking" && f.Question.N == i+1 })
		if f.Question.Prompt != strings.Split(q, " | ")[0] {
			t.Errorf("question %d is %q, and chosen was %q", i+1, f.Question.Prompt, q)
		}
		other.press("Skip")
		other.wait("the last word", "!!document.querySelector('dialog[open] button.main') && (document.querySelector('dialog[open] button.main').click(), true)")
		other.press("Next")
	}
	b.checkSaved(hub.port)
}

// another is the console of a new game, on a phone.
func (p *page) another() *page {
	p.Helper()
	p.resize(phoneWidth, phoneHeight)
	p.visit("/host")
	p.press("New game")
	p.wait("its plan", "!!document.getElementById('title')")
	return p
}

// checkSaved is check where a set was saved, of which Chromium says that it
// came over plain HTTP.
func (b *browser) checkSaved(port int) {
	b.Helper()
	b.mu.Lock()
	b.faults = slices.DeleteFunc(b.faults, func(f string) bool { return strings.Contains(f, "should be served over HTTPS") })
	b.mu.Unlock()
	b.check(port)
}

// sooner moves the question that has the focus up.
func (p *page) sooner() {
	p.Helper()
	p.settled()
	p.js(`document.activeElement.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowUp', altKey: true, bubbles: true })), true`)
}

// chooseByKeyboard moves, replaces and strikes, and looks at where the focus goes.
func (p *page) chooseByKeyboard(first []string) {
	p.Helper()
	p.act(2, "later")
	p.wait("the second question as the third", fmt.Sprintf("document.querySelectorAll('.planned .prompt')[2].innerText === %q", strings.Split(first[1], " | ")[0])+" && "+focused("Later: ask question 3"))
	p.wait("that it is told", says("Question 2 is now question 3."))
	p.sooner()
	p.wait("the old order", focused("Earlier: ask question 2"))
	for range 2 {
		p.sooner()
		p.wait("it as the first", fmt.Sprintf("document.querySelectorAll('.planned .prompt')[0].innerText === %q", strings.Split(first[1], " | ")[0]))
	}
	before := p.planned()
	p.act(3, "replace")
	p.wait("another third question", fmt.Sprintf("%s[2] !== %q", cardsAsked, before[2])+" && "+says("Question 3 is another one now.")+" && "+focused("Replace question 3"))
	after := p.planned()
	if after[2] == before[2] || after[1] != before[1] || len(after) != 6 {
		p.Errorf("replaced:\n%q\n%q", before, after)
	}
	p.act(6, "strike")
	p.wait("five questions", cards(5)+" && "+says("Question 6 is struck."))
	p.wait("the focus on the last", focused("Strike question 5"))
	p.wait("that they are chosen", says("You have chosen these questions."))
	p.shot("host-plan-chosen")
	p.targets()
}

// A planned station round is looked at, changed, saved, printed, and loaded into
// another game.
func TestPlanningStationsInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--roster", "furbearers")
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 900)
	host.set("seed", "12")
	host.choose("round-1-kind", "station")
	host.set("round-1-stations", "3")
	host.set("round-1-count", "2")
	host.press("Save the plan, then show")
	host.wait("six questions", cards(6))
	host.wait("the drawings of the stations", "document.querySelectorAll('.planned > li.drawn').length == 3")
	if host.js("!!document.querySelector('[data-act=earlier]')") {
		t.Error("a station's question can be moved")
	}
	first := host.planned()
	host.act(2, "strike")
	host.wait("five questions", cards(5)+"&&"+says("Question 2 is struck."))
	if !host.js("document.querySelector('.planned > li [data-act=strike]').disabled") {
		t.Error("a station's last question can be struck")
	}
	host.act(3, "replace")
	host.wait("another question", says("Question 3 is another one now."))
	host.wait("that it is on the screen", fmt.Sprintf("!document.querySelectorAll('.planned > li')[2].innerText.includes(%q)", strings.Split(first[3], " | ")[1]))
	host.wait("what was chosen", says("You have chosen these questions."))
	chosen := host.planned()
	if len(chosen) != 5 || chosen[0] != first[0] || chosen[1] != first[2] || chosen[2] == first[3] || chosen[4] != first[5] {
		t.Errorf("first:\n%q\nchosen:\n%q", first, chosen)
	}
	host.targets()
	host.js("document.querySelector('.looking').scrollIntoView(), true")
	host.shot("host-plan-stations")
	host.set("round-1-walk", "20")
	host.wait("that nothing is lost", says("Not saved yet.")+"&& !"+says("Saving gives up"))
	host.set("round-1-stations", "4")
	host.wait("what would be lost", says("Saving gives up questions that you have chosen"))
	host.set("round-1-stations", "3")
	file := host.saveSet("Spring evening")

	if err := run(t.Context(), []string{"paper", "--set", file, "--out", file + ".pdf"}, io.Discard); err == nil || !strings.Contains(err.Error(), "--round 1") {
		t.Errorf("a station round is printed among others: %v", err)
	}
	printed := strings.Join(onPaper(t, "--kind cards --round 1 --set "+file), " ")
	for i, q := range chosen {
		if stem := fmt.Sprintf("%d %s", i+1, strings.Split(q, " | ")[0]); !strings.Contains(printed, stem) {
			t.Errorf("paper does not ask %q", stem)
		}
	}
	other := host.another()
	other.loadSet(file)
	other.press("Show the questions")
	other.wait("the loaded questions", cards(5))
	if got := other.planned(); !reflect.DeepEqual(got, chosen) {
		t.Errorf("loaded:\n%q\nwant\n%q", got, chosen)
	}
	other.wait("the time to walk", "document.getElementById('round-1-walk').value == '20'")
	other.js("document.querySelectorAll('.planned > li')[1].scrollIntoView(), true")
	other.shot("host-plan-stations-phone")
	b.checkSaved(hub.port)
}

// saveSet keeps what the page hands the browser as a file.
func (p *page) saveSet(name string) (file string) {
	p.Helper()
	p.js("document.querySelector('.sets').open = true, true")
	p.js("(() => { const make = URL.createObjectURL; URL.createObjectURL = (blob) => { blob.text().then((text) => { globalThis.kept = text; }); return make(blob); }; return true; })()")
	p.set("set-name", name)
	p.press("Save as a set")
	p.wait("that it is saved", says("in your downloads")+" && !!globalThis.kept")
	p.js("document.querySelector('.sets').scrollIntoView(), true")
	p.shot("host-plan-sets")
	file = filepath.Join(p.T.TempDir(), "set.jsonl")
	if err := os.WriteFile(file, []byte(p.text("globalThis.kept")), 0o644); err != nil {
		p.Fatal(err)
	}
	return file
}

func (p *page) loadSet(file string) {
	p.Helper()
	p.wait("the sets", "(() => { const d = document.querySelector('.sets'); if (d) d.open = true; return !!d; })()")
	p.press("Load this set")
	p.wait("what is missing", says("Choose a file."))
	if err := chromedp.Do(p.ctx, chromedp.SetUploadFiles("#set-file", []string{file})); err != nil {
		p.Fatal(err)
	}
	p.press("Load this set")
	p.wait("the question back", "!!document.querySelector('dialog[open]')")
	p.press("Load it")
	p.wait("that it is loaded", says("Loaded: Spring evening."))
}

// The planned questions, in every state of the gallery, fit the host's laptop
// and a phone.
func TestPlannedScreens(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	port := withGallery(t, hub.port)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", port))
	p := b.open("gallery", "/gallery", phoneWidth, phoneHeight)
	p.wait("the list", "document.querySelectorAll('[data-screen^=plan-]').length == 5")
	screens := p.text("[...document.querySelectorAll('[data-screen^=plan-]')].map((a) => a.dataset.screen).join()")
	laptop := b.open("gallery on a laptop", "/gallery", 1280, 2000)
	for screen := range strings.SplitSeq(screens, ",") {
		for _, at := range []*page{p, laptop} {
			at.screen(screen)
			at.wait(screen, "!!document.querySelector('#looking')")
			if screen == "plan-questions" {
				at.wait("the questions", "document.querySelectorAll('.planned > li').length == 4 && !!document.querySelector('.planned .thumb svg')")
			}
			at.targets()
			if !at.js("[...document.querySelectorAll('input, select, button, [role=img]')].every((e) => e.labels?.length || e.innerText || e.ariaLabel)") {
				t.Errorf("%s: something has no name", screen)
			}
			at.shot(fmt.Sprintf("%s-%s", screen, strings.ReplaceAll(at.name, " ", "-")))
		}
	}
	b.check(port)
}
