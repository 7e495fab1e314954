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
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// mostOnAPhone bounds what a phone asks for until its page can be used: the
// page, its sheet, its icon, its modules, and whether the game is there.
const mostOnAPhone = 24

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
		if most := mostOnAPhone + len(namesOf[language]); len(asked) > most || len(asked) < 15 {
			t.Errorf("%s: %d requests, not 15 to %d: %v", language, len(asked), most, asked)
		}
		mu.Unlock()
	}
}

// namesOf are what a page asks for besides, where animals have names of their own.
var namesOf = map[string][]string{"es": {"/names.json"}}
