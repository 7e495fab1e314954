package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"fieldsign/hub/lab/soak"
)

func TestGuideToFiles(t *testing.T) {
	t.Parallel()
	roster := rosterOf(t, few[:3]...)
	for flags, head := range map[string]string{"--out %s.pdf": "%PDF-", "--kind worksheet --size letter --language es --out %s.pdf": "%PDF-", "--out %s.html": "<!doctype html>"} {
		base := filepath.Join(t.TempDir(), "guide")
		args := strings.Fields("guide --roster " + roster + " " + fmt.Sprintf(flags, base))
		for range 2 { // the second takes the first one's place
			said := printed(t, args...).String()
			data, err := os.ReadFile(args[len(args)-1])
			if err != nil || !bytes.HasPrefix(data, []byte(head)) || !strings.Contains(said, "3 animals of roster few") {
				t.Errorf("fieldsign %v: %v, %.20q, %s", args, err, data, said)
			}
		}
	}
}

func TestGuideSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	one := filepath.Join(t.TempDir(), "one.csv")
	if err := os.WriteFile(one, []byte("species,subjects\nLynx rufus,skull\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for args, want := range map[string]string{
		"":                             "where to?",
		"--out x.pdf --kind poster":    "worksheet",
		"--out x.pdf --size a3":        `not "a3"`,
		"--out x.pdf --language de":    `"de"`,
		"--out x.pdf --roster nowhere": "nowhere",
		"--out x.pdf extra":            `"extra"`,
		"--out x.pdf --roster " + one:  "2 or more",
	} {
		if err := run(context.Background(), strings.Fields("guide "+args), io.Discard); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("fieldsign guide %s: %v, want %q in it", args, err, want)
		}
	}
	if _, err := os.Stat("x.pdf"); err == nil {
		t.Error("a failed run left a file")
		os.Remove("x.pdf")
	}
}

// few are rows of a roster. axe takes a second for each animal of a page.
var few = []string{"Castor canadensis,skull;track;scat", "Neogale vison,skull;track;scat", "Ardea herodias,track", "Lontra canadensis,skull;track;scat", "Procyon lotor,skull;track;scat"}

// The page is opened as a file by a browser without a network, in both languages:
// it asks for nothing, axe finds no fault, it fits a phone, its links lead
// somewhere, and its prints have the size that they print in.
func TestGuidePageWithoutANetwork(t *testing.T) {
	t.Parallel()
	need(t, headless)
	animals := soak.Size(2, len(few))
	for _, language := range languages[:soak.Size(1, len(languages))] {
		file, roster := filepath.Join(t.TempDir(), language+".html"), rosterOf(t, few[:animals]...)
		printed(t, "guide", "--roster", roster, "--language", language, "--out", file)
		b := newBrowser(t, "file://")
		p := b.open("guide-"+language, "/dev/null", 1100, 900)
		p.cutOff()
		p.visit(file)
		p.wait("its animals", fmt.Sprintf("document.querySelectorAll('article').length === %d && document.documentElement.lang === '%s'", animals, language))
		if p.js("navigator.onLine") {
			t.Error("the browser has a network, so the test shows nothing")
		}
		for _, fault := range p.faultsByAxe() {
			t.Errorf("%s: %s", language, fault)
		}
		if lost := p.text(`[...document.querySelectorAll('a[href^="#"]')].filter((a) => !document.getElementById(a.hash.slice(1))).map((a) => a.hash).join()`); lost != "" {
			t.Errorf("%s: links lead nowhere: %s", language, lost)
		}
		if n := read[int](p, "document.querySelectorAll('svg .m').length"); n < 4*animals {
			t.Errorf("%s: %d lines are marked", language, n)
		}
		// the hind print of the beaver: its svg says mm, and a CSS millimetre is 96/25.4 px
		if off := read[float64](p, `(() => { const s = document.querySelector('#castor-canadensis figure:nth-of-type(3) svg'); return Math.abs(s.getBoundingClientRect().height - parseFloat(s.getAttribute('height')) * 96 / 25.4); })()`); off > 1 {
			t.Errorf("%s: a print's height is off by %.1f px", language, off)
		}
		p.shot("guide-" + language)
		p.resize(360, 740)
		p.wait("the width of a phone", "innerWidth === 360")
		if wide := p.text(`[...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('svg svg, g')).slice(0, 5).map((e) => e.tagName + '.' + e.className + ' ' + e.innerText?.slice(0, 40)).join(' | ')`); wide != "" {
			t.Errorf("%s: wider than a phone: %s", language, wide)
		}
		p.shot("guide-phone-" + language)
		b.onlyAsked()
	}
}

// cutOff takes the network away from a page.
func (p *page) cutOff() {
	p.Helper()
	_, err := chromedp.Run(p.ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{
			{DownloadThroughput: -1, UploadThroughput: -1, Offline: true}}})
		if err == nil {
			_, err = cdp.Call(ctx, t, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: true, DownloadThroughput: -1, UploadThroughput: -1})
		}
		return err
	}))
	if err != nil {
		p.Fatal(err)
	}
}
