package main

import (
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"fieldsign/hub/lab/soak"
)

// trusts has Chromium take the self-made certificate as if somebody had vouched
// for it: the flag names the hash of its public key.
func trusts(t *testing.T, data string) chromedp.ExecAllocatorOption {
	t.Helper()
	pair, err := tls.LoadX509KeyPair(data+".cert.pem", data+".key.pem")
	if err != nil {
		t.Fatal(err)
	}
	key, err := x509.MarshalPKIXPublicKey(pair.Leaf.PublicKey)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(key)
	return chromedp.Flag("ignore-certificate-errors-spki-list", base64.StdEncoding.EncodeToString(sum[:]))
}

// drilled is a hub over TLS that has computed its practice questions, for which
// a page on a busy machine would not wait.
func drilled(t *testing.T, data string) *program {
	t.Helper()
	hub, client := secure(t, data, data+".cert.pem", "--roster", "furbearers", "--tls", "self")
	answer, err := client.Get(fmt.Sprintf("https://localhost:%d/practice.json", hub.port))
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != 200 {
		t.Fatalf("the practice questions: %s", answer.Status)
	}
	return hub
}

// Over TLS by a certificate that the phone trusts, practice goes on with the
// hub stopped, and what was learned stays when it is back.
func TestPracticeOverTLSWithTheHubStopped(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	need(t, headless)
	data := filepath.Join(t.TempDir(), "games.db")
	hub := drilled(t, data)
	b := newBrowser(t, fmt.Sprintf("https://fieldsign.test:%d", hub.port), trusts(t, data))
	p := b.open("practice", "/practice", phoneWidth, phoneHeight)
	p.wait("the practice page", started)
	p.awaited("an active worker", `navigator.serviceWorker.ready.then((r) => r.active.scriptURL.endsWith('/practice-worker.mjs'))`)
	p.wait("that it is kept", says("opens without the hub"))
	p.practise()
	p.press("Stop")
	p.wait("what was learned", learned)

	hub.kill()
	p.visit("/practice")
	p.wait("the page without its hub", started+" && "+learned)
	p.practise()
	p.targets()
	p.shot("practice-tls-offline")
	p.press("Next")
	p.wait("another question", asking)
	p.visit("/practice")
	p.wait("the page once more", started+" && "+learned)

	p.visit("/practice?lang=es")
	p.wait("the page in another language, without its hub", "document.documentElement.lang === 'es' && "+says("El servidor no respondió")) // the questions are kept in one

	start(t, data, hub.port, "--roster", "furbearers", "--tls", "self")
	p.visit("/practice")
	p.wait("the page with its hub again", started+" && "+learned)
	b.onlyAsked(fmt.Sprintf("fieldsign.test:%d", hub.port))
}

const learned = "document.querySelectorAll('.leaders tbody tr').length >= 1"

// Past the browser's warning the page works, but the browser keeps none of it:
// the page doesn't say that it does, and offers itself as a file.
func TestPracticePastTheWarning(t *testing.T) {
	soak.Only(t)
	t.Parallel()
	whole := need(t, "chromium") // the one without a window has no warning
	hub := drilled(t, filepath.Join(t.TempDir(), "games.db"))
	p := newBrowser(t, "", chromedp.ExecPath(whole)).open("practice", "about:blank", phoneWidth, phoneHeight)
	if err := chromedp.Do(p.ctx, chromedp.Navigate(fmt.Sprintf("https://fieldsign.test:%d/practice", hub.port))); err == nil {
		t.Error("the browser did not warn of a certificate that nobody vouches for")
	}
	p.wait("the way past the warning", "!!document.querySelector('#proceed-link')")
	p.shot("tls-warning")
	p.js("document.querySelector('#proceed-link').click(), true")
	p.wait("the practice page", started)
	if !p.js("isSecureContext") {
		t.Error("the page is in no secure context")
	}
	p.awaited("that no worker can be had", `navigator.serviceWorker.register('/practice-worker.mjs', { scope: '/practice' }).then(() => false, (e) => e.name === 'SecurityError')`)
	if p.js(says("opens without the hub")) {
		t.Error("it says that it opens without the hub")
	}
	p.wait("the way to save it", `!!document.querySelector('a[download][href^="/practice/save"]')`)
	p.practise()
	p.shot("practice-tls-warned")
}
