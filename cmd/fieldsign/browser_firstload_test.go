package main

import (
	"context"
	"fmt"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"fieldsign/hub/lab/soak"
)

// mostOnAPhone bounds what a phone asks for until its page can be used: the
// page, its sheet, its icon, its modules, and whether the game is there. What no
// game begins with comes once a team is in it.
const mostOnAPhone = 21

// A phone asks for each module once, and for none that the page's head doesn't
// name: so all come in one step.
func TestAPhoneAsksOnce(t *testing.T) {
	t.Parallel()
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	for _, language := range []string{"en", "es"} {
		var mu sync.Mutex
		var asked []string
		ctx, cancel := chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext(), chromedp.WithListener(func(event any) {
			if e, ok := event.(*network.EventRequestWillBeSent); ok {
				u, err := url.Parse(e.Request.URL)
				if err != nil {
					t.Errorf("%s: %v", e.Request.URL, err)
					return
				}
				mu.Lock()
				if !strings.HasSuffix(u.Path, ".woff2") { // the faces come when there is text
					asked = append(asked, u.Path)
				}
				mu.Unlock()
			}
		}))
		defer cancel()
		p := &page{b, "phone", ctx}
		if _, err := chromedp.Run(ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, network.Enable, network.EnableParams{})
			return err
		})); err != nil {
			t.Fatal(err)
		}
		p.visit("/team?lang=" + language + "&game=" + hub.code)
		p.wait("the form for its name", "!!document.getElementById('name')")
		named := read[[]string](p, `[...document.querySelectorAll('head [href], head [src]')].map((e) => new URL(e.href || e.src).pathname)`)
		mu.Lock()
		t.Logf("%s: %d requests", language, len(asked))
		for _, path := range asked {
			if strings.HasPrefix(path, "/static/") && !slices.Contains(named, path) {
				t.Errorf("%s: the head doesn't name %s", language, path)
			}
			if n := strings.Count("\n"+strings.Join(asked, "\n")+"\n", "\n"+path+"\n"); n > 1 {
				t.Errorf("%s: %s is asked for %d times", language, path, n)
			}
		}
		if len(asked) > mostOnAPhone || len(asked) < 15 {
			t.Errorf("%s: %d requests, not 15 to %d: %v", language, len(asked), mostOnAPhone, asked)
		}
		mu.Unlock()
	}
}

// A slow phone: a processor slowed four times, 1.5 Mbit/s, 150 ms to the hub and back.
const (
	slower    = 4
	bytesPerS = 1_500_000 / 8
	roundTrip = 150 // ms
	firsts    = 11
)

// paints notes, in ms from the beginning, when a page first shows something,
// when the form for a name is there, and when its words stand in the page's faces.
const paints = `new MutationObserver((_, o) => {
	if (!document.getElementById('name')) return;
	o.disconnect();
	window.formAt = performance.now();
	requestAnimationFrame(() => document.fonts.ready.then(() => { window.facesAt = performance.now(); }));
}).observe(document, {childList: true, subtree: true})`

// How long a slow phone's first load takes, with nothing kept. It is told, not
// bounded: the machine may have something else to do.
func TestFirstPaintOnASlowPhone(t *testing.T) {
	soak.Only(t)
	need(t, headless)
	hub := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t))
	b := newBrowser(t, fmt.Sprintf("http://fieldsign.test:%d", hub.port))
	for _, language := range []string{"en", "es"} {
		figures := map[string][]float64{}
		for range firsts {
			ctx, cancel := chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext())
			p := &page{b, "slow phone", ctx}
			p.slow()
			p.visit("/team?lang=" + language + "&game=" + hub.code)
			p.wait("its faces", "window.facesAt > 0")
			figures["first paint"] = append(figures["first paint"], read[float64](p, `performance.getEntriesByName('first-contentful-paint')[0].startTime`))
			figures["form"] = append(figures["form"], read[float64](p, `window.formAt`))
			figures["faces"] = append(figures["faces"], read[float64](p, `window.facesAt`))
			cancel()
		}
		for _, what := range []string{"first paint", "form", "faces"} {
			slices.Sort(figures[what])
			t.Logf("%s, %s: median %.0f ms, %.0f to %.0f", language, what, figures[what][firsts/2], figures[what][0], figures[what][firsts-1])
		}
	}
}

func (p *page) slow() {
	p.Helper()
	_, err := chromedp.Run(p.ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		for _, call := range []func() error{
			func() error { _, err := cdp.Call(ctx, t, network.Enable, network.EnableParams{}); return err },
			func() error {
				_, err := cdp.Call(ctx, t, cdppage.AddScriptToEvaluateOnNewDocument, cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: paints})
				return err
			},
			func() error {
				_, err := cdp.Call(ctx, t, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slower})
				return err
			},
			func() error {
				_, err := cdp.Call(ctx, t, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{
					{Latency: roundTrip, DownloadThroughput: bytesPerS, UploadThroughput: bytesPerS}}})
				return err
			},
		} {
			if err := call(); err != nil {
				return err
			}
		}
		return nil
	}))
	if err != nil {
		p.Fatal(err)
	}
}
