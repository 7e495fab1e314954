package main

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"fieldsign/hub/lab/soak"
)

// The browser test plays a game in real pages: host, board and three phones, six in make soak, in
// Chromium, over plain HTTP to a host name that is no secure context.

// headless is Chromium made to have no window, which takes half the time.
const headless = "chromium-headless-shell"

type browser struct {
	*testing.T
	ctx       context.Context
	base      string
	artifacts string

	mu       sync.Mutex
	requests map[string]bool // hosts that pages asked
	sockets  int             // that pages opened
	faults   []string        // errors in a page's console, and keys in addresses
}

// launch starts Chromium, which ends with stop.
func launch(path string, more ...chromedp.ExecAllocatorOption) (ctx context.Context, stop func(), err error) {
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("host-resolver-rules", "MAP fieldsign.test 127.0.0.1"), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-quic", true),
		chromedp.Flag("force-prefers-reduced-motion", !soak.Long())) // a sixth of what pages take is drawing what moves
	allocator, end := chromedp.NewExecAllocator(context.Background(), append(options, more...)...)
	ctx, cancel := chromedp.NewContext(allocator)
	stop = func() { cancel(); end() }
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		stop()
		return nil, nil, fmt.Errorf("the browser does not start: %w", err)
	}
	return ctx, stop, nil
}

// chromium is the one that all tests share: their pages have contexts of their
// own. endChromium ends it where a test has started it.
var (
	endChromium = func() {}
	chromium    = sync.OnceValues(func() (context.Context, error) {
		path, err := exec.LookPath(headless)
		if err != nil {
			return nil, err
		}
		ctx, stop, err := launch(path)
		if err == nil {
			endChromium = stop
		}
		return ctx, err
	})
)

// newBrowser is the shared Chromium, or one of the test's own with more options.
func newBrowser(t *testing.T, base string, more ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	path := need(t, headless)
	var ctx context.Context
	var err error
	if len(more) == 0 {
		ctx, err = chromium()
	} else {
		var stop func()
		if ctx, stop, err = launch(path, more...); err == nil {
			t.Cleanup(stop)
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	b := &browser{T: t, ctx: ctx, base: base, artifacts: os.Getenv("FIELDSIGN_ARTIFACTS"), requests: map[string]bool{}}
	if b.artifacts == "" {
		b.artifacts = t.TempDir()
	}
	return b
}

// page is one device: its own cookies and storage.
type page struct {
	*browser
	name string
	ctx  context.Context
}

func (b *browser) open(name, path string, width, height int64) *page {
	b.Helper()
	p := b.blank(name, width, height)
	p.visit(path)
	return p
}

// blank is a device that has opened nothing.
func (b *browser) blank(name string, width, height int64) *page {
	b.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext(), chromedp.WithListener(b.listen(name)))
	b.Cleanup(cancel)
	p := &page{b, name, ctx}
	if _, err := chromedp.Run(ctx, watching()); err != nil {
		b.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, height)); err != nil {
		b.Fatal(err)
	}
	return p
}

// watching has the page report its requests and its console.
func watching() chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, t, log.Enable, cdp.Empty{})
		return err
	})
}

func (b *browser) listen(name string) func(any) {
	return func(event any) {
		b.mu.Lock()
		defer b.mu.Unlock()
		switch e := event.(type) {
		case *network.EventRequestWillBeSent:
			if u, err := url.Parse(e.Request.URL); err == nil && u.Host != "" {
				b.requests[u.Host] = true
			}
			b.keepsTheKey(name, e.Request.URL, fmt.Sprint(e.Request.Headers["Referer"]))
		case *network.EventWebSocketCreated:
			b.keepsTheKey(name, e.URL)
			b.sockets++
		case *runtime.EventExceptionThrown:
			b.faults = append(b.faults, name+": "+fmt.Sprint(e.ExceptionDetails.Text))
		case *log.EventEntryAdded:
			// A page whose hub was killed says so when it tries again, and one
			// whose plate came too late for its question.
			late := strings.Contains(e.Entry.URL, "/plate")
			if e.Entry.Level == "error" && !late && !strings.Contains(e.Entry.Text, "ERR_CONNECTION_REFUSED") && !strings.Contains(e.Entry.Text, "WebSocket") {
				b.faults = append(b.faults, name+": "+e.Entry.Text+" "+e.Entry.URL)
			}
		}
	}
}

// keepsTheKey holds that the host key is in no address that is asked for, nor
// in one that is told as where the page was. What is behind a # is in neither.
func (b *browser) keepsTheKey(name string, addresses ...string) {
	for _, address := range addresses {
		if strings.Contains(address, testKey) {
			b.faults = append(b.faults, name+": the host key is sent in "+address)
		}
	}
}

func (p *page) visit(path string) {
	p.Helper()
	if err := chromedp.Do(p.ctx, chromedp.Navigate(p.base+path)); err != nil {
		p.Fatalf("%s: %v", p.name, err)
	}
}

// js runs an expression that gives true or false.
func (p *page) js(expression string) bool {
	ctx, cancel := context.WithTimeout(p.ctx, 20*time.Second)
	defer cancel()
	ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool](expression))
	return err == nil && ok
}

// wait waits until an expression holds.
func (p *page) wait(what, expression string) {
	p.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if p.js(expression) {
			return
		}
	}
	p.shot("failed-" + p.name)
	p.Fatalf("%s does not show %s", p.name, what)
}

func says(text string) string {
	return "document.body.innerText.includes(" + strconv.Quote(text) + ")"
}

// press clicks the button whose text begins so, and opens what it is folded in.
func (p *page) press(text string) {
	p.Helper()
	p.wait("a button "+text, fmt.Sprintf(`(() => { const b = [...document.querySelectorAll('button')].find(b => (b.innerText || b.textContent).trim().startsWith(%q) && !b.disabled && b.getAttribute('aria-disabled') !== 'true'); if (!b) return false;
		for (let d = b.closest('details'); d; d = d.parentElement.closest('details')) d.open = true;
		b.click(); return true; })()`, text))
}

// set types into a field.
func (p *page) set(id, value string) {
	p.Helper()
	p.wait("a field "+id, fmt.Sprintf(`(() => { const i = document.getElementById(%q); if (!i) return false; i.value = %q; i.dispatchEvent(new Event('input', {bubbles: true})); return true; })()`, id, value))
}

// pick presses an option's row on a phone.
func (p *page) pick(option int) {
	p.Helper()
	p.wait("the options", fmt.Sprintf(`(() => { const b = document.querySelectorAll('.options button[aria-disabled=false]')[%d]; if (!b) return false; b.click(); return true; })()`, option))
}

// keyShown has a console show the keys, and holds once a question's is there.
const keyShown = `(() => { if (document.querySelector('.options .row.key')) return true; document.querySelector('.show-key[aria-expanded=false]')?.click(); return false; })()`

// key is the key as the host's console marks it.
func (p *page) key() int {
	p.Helper()
	p.wait("the key", keyShown)
	n, err := chromedp.Run(p.ctx, chromedp.Evaluate[int](`[...document.querySelectorAll('.options .row')].findIndex(r => r.classList.contains('key'))`))
	if err != nil {
		p.Fatal(err)
	}
	return n
}

func (p *page) shot(name string) {
	p.Helper()
	png, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if err == nil {
		err = os.WriteFile(filepath.Join(p.artifacts, name+".png"), png, 0o644)
	}
	if err != nil {
		p.Errorf("no screenshot %s: %v", name, err)
	}
}

const phoneWidth, phoneHeight = 360, 740

func TestAGameInRealPages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	data, port := filepath.Join(t.TempDir(), "games.db"), freePort(t)
	hub := start(t, data, port)
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", port))
	host := b.open("host", "/host?game="+hub.code+"#key="+testKey, 1280, 900)
	board := b.open("board", "/board?game="+hub.code, 1920, 1080)
	var phones []*page
	names := []string{"Marsh Wrens", "Pine Martens", "Wood Ducks", "Red Efts", "Night Herons", "Kingfishers"}[:soak.Size(3, 6)]
	for i, name := range names {
		p := b.open("phone "+name, "/team?game="+hub.code, phoneWidth, phoneHeight)
		if i == 0 {
			p.shotWhen("phone-name", "!!document.getElementById('name')")
			if p.js("isSecureContext") {
				t.Error("the pages are in a secure context: the test does not show what phones meet")
			}
		}
		p.set("name", name)
		p.press("Join")
		p.wait("its name", says(name))
		phones = append(phones, p)
	}
	board.wait("all teams", says(fmt.Sprint(len(names), " teams")))
	board.shotWhen("board-lobby", "document.querySelector('img')?.complete && document.querySelector('img').naturalWidth > 0")
	if got, want := board.scanned("board-lobby"), b.base+"/team?game="+hub.code; got != want {
		t.Errorf("the board's code reads %q, want %q", got, want)
	}
	phones[0].shot("phone-lobby")
	host.shot("host-lobby")
	heard := []*page{phones[0], phones[1], board}
	for _, p := range heard {
		p.listen()
	}
	host.set("seed", "12") // whose keys are no words of what is said in any case
	plan(host)

	openQuestion(b, host, board, phones, heard)
	for _, p := range heard {
		p.listen()
	}
	host.press("Next")
	host.wait("the second question", says("question 2")+"||"+says("Question 2"))
	phones[2].visit("/") // wanders off
	phones[2].shotWhen("landing", "!!document.getElementById('code')")
	answerAll(host, append(phones[:2:2], phones[3:]...))
	phones[0].hears("Answer sent")
	for _, p := range heard {
		p.hears("Question 2 is open")
		p.neverHeard(host.secrets()...)
	}
	phones[2].visit("/team?game=" + hub.code)
	phones[2].wait("its own name again", says("Wood Ducks"))
	phones[2].pick(host.key())
	board.wait("the reveal", "!!document.querySelector('.row.key')")
	host.press("Next")
	allLead := fmt.Sprintf("document.querySelectorAll('.leaders tbody tr').length == %d", len(names))
	board.wait("the leaderboard", allLead)
	board.shot("board-break")
	phones[0].shotWhen("phone-break", "!!document.querySelector('.leaders')")

	host.press("Next")
	host.press("Begin round 2")
	buzzQuestion(b, host, board, phones, hub)
	host.press("Next")
	board.wait("the final leaderboard", allLead)
	board.shot("board-ended")
	phones[1].shotWhen("phone-ended", "!!document.querySelector('.leaders')")
	host.shot("host-ended")
	b.check(port)
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.sockets < len(phones)+2 {
		t.Errorf("only %d sockets were seen: the host key could have been in the address of another", b.sockets)
	}
}

func (p *page) shotWhen(name, expression string) {
	p.Helper()
	p.wait("what "+name+" is of", expression)
	p.shot(name)
}

// plan makes the first plan short: two open questions and one to buzz for.
func plan(host *page) {
	host.Helper()
	host.set("round-1-count", "2")
	host.set("round-2-count", "1")
	host.set("round-1-seconds", "60")
	host.set("round-2-seconds", "60")
	host.press("Start the game")
	host.press("Begin round 1")
}

// openQuestion is asked and answered. Screen readers are told its phases, and neither the
// key nor the reason before the reveal, even to who has chosen the key.
func openQuestion(b *browser, host, board *page, phones, heard []*page) {
	b.Helper()
	board.wait("a question", "document.querySelectorAll('.options .row').length >= 2")
	phones[0].wait("a question", "document.querySelectorAll('.options button').length >= 2")
	for _, p := range slices.Concat(phones, []*page{board}) {
		if p.js("!!document.querySelector('.row.key')") {
			b.Errorf("%s shows the key before the reveal", p.name)
		}
	}
	key := host.key()
	phones[0].shot("phone-question")
	board.shot("board-question")
	host.shot("host-question")
	for _, p := range heard {
		p.hears("Question 1 is open")
	}
	phones[0].pick(key)
	phones[0].wait("that the answer is in", says("Answer sent"))
	phones[0].hears("Answer sent")
	for _, p := range heard {
		p.neverHeard(host.secrets()...)
	}
	phones[0].shot("phone-answered")
	for i, p := range phones[1:] {
		p.pick((key + i) % 2) // a question may have two options
	}
	board.wait("the reveal", "!!document.querySelector('.row.key')")
	board.shot("board-reveal")
	for _, p := range heard {
		p.hears("The question is closed.")
	}
	phones[0].shotWhen("phone-right", says("Right"))
	host.shot("host-reveal")
}

func answerAll(host *page, phones []*page) {
	host.Helper()
	key := host.key()
	for _, p := range phones {
		p.pick(key)
	}
}

// places are what stands where among the console's keys.
const places = "[...document.querySelectorAll('.controls button')].map((b) => b.innerText + ' ' + Math.round(b.offsetLeft) + ' ' + Math.round(b.offsetTop)).join()"

// buzzQuestion has the hub killed while a team holds the buzz.
func buzzQuestion(b *browser, host, board *page, phones []*page, hub *program) {
	b.Helper()
	buzz := `(() => { const b = document.querySelector('button.buzz'); if (!b || b.getAttribute('aria-disabled') !== 'false') return false; b.dispatchEvent(new PointerEvent('pointerdown', {bubbles: true})); return true; })()`
	phones[1].wait("the buzz bar", "!!document.querySelector('button.buzz')")
	phones[1].shot("phone-buzz")
	host.wait("the question to buzz for", "document.querySelectorAll('.controls button').length == 7")
	free := host.text(places)
	phones[1].wait("the buzz bar", buzz)
	phones[1].wait("that it holds the buzz", "document.querySelectorAll('.options button').length >= 2")
	host.wait("the ruling", "document.querySelector('.controls .against').getAttribute('aria-disabled') === 'false'")
	if held := host.text(places); held != free {
		b.Errorf("the console's keys stood at %s, and with a buzz at %s", free, held)
	}
	phones[1].shot("phone-holds")
	phones[2].shotWhen("phone-beaten", says("Pine Martens"))
	board.shotWhen("board-buzz", says("Pine Martens"))

	hub.kill()
	phones[0].wait("that the hub is gone", "!!document.querySelector('.banner.urgent')")
	phones[0].shot("phone-lost")
	start(b.T, hub.data, hub.port)
	for _, p := range slices.Concat(phones, []*page{board, host}) {
		p.wait("that it is back, and paused", "!document.querySelector('.banner.urgent') && !!document.querySelector('.banner') && "+says("restarted"))
	}
	phones[1].shot("phone-paused")
	host.press("Resume")
	key := host.key()
	phones[1].pick(wrong(key)) // wrong: locked out, and the rest play on
	phones[1].wait("that it is locked out", says("Not right"))
	phones[1].shot("phone-locked")
	phones[2].wait("the buzz bar", buzz)
	phones[2].pick(key)
	board.wait("the reveal", "!!document.querySelector('.row.key')")
	board.shot("board-buzz-reveal")
}

// check is what must hold of every page over the whole game.
func (b *browser) check(port int) {
	b.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for host := range b.requests {
		if host != fmt.Sprintf("fieldsign.test:%d", port) {
			b.Errorf("a page asked %s", host)
		}
	}
	if len(b.requests) == 0 {
		b.Error("no request was seen at all")
	}
	for _, f := range b.faults {
		b.Errorf("console: %s", f)
	}
}

// scanned is what an independent reader reads from the QR code in a picture of
// the page.
func (p *page) scanned(picture string) string {
	p.Helper()
	cmd := exec.Command(need(p.T, "zbarimg"), "-q", "--raw", filepath.Join(p.artifacts, picture+".png"))
	out, _ := cmd.Output() // it complains of a missing bus
	return strings.TrimSpace(string(out))
}
