package hub_test

import (
	"encoding/json"
	"fmt"
	"mime"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"fieldsign/game/tournament"
	"fieldsign/hub"
	"fieldsign/hub/store"
)

// What docs/threats.md says of HTTP as a whole, held of every path that is served.

// route is a path that the hub's source serves.
type route struct{ method, path string }

func (r route) String() string { return r.method + " " + r.path }

// routes are all paths, those of pages too.
func routes(*testing.T) (found []route) {
	for _, r := range hub.Routes {
		found = append(found, route{r.Method, r.Path})
	}
	for _, page := range hub.Pages {
		found = append(found, route{"GET", strings.TrimSuffix(page, "{$}")})
	}
	return found
}

// whole is a hub with something of everything, and an address of it for a route.
type whole struct {
	*place
	cup   string
	asked int
}

func openWhole(t *testing.T) *whole {
	t.Helper()
	p := begin(t)
	p.join("Wrens")
	if err := p.store.ChangeSeason(p.ctx, "2026", func(s *store.Season) { s.Open = true }); err != nil {
		t.Fatal(err)
	}
	if got := p.upload("red fox", snapshot(t)); got.status != http.StatusCreated {
		t.Fatalf("no photo: %+v", got)
	}
	return &whole{place: p, cup: p.cup(tournament.Settings{Format: tournament.Swiss}, "Wrens", "Otters", "Stoats").cup}
}

// ask puts a request for a route, from a network address of its own. The host
// key is in the query too, where it counts for nothing. Practice is refused,
// since it takes long to compute: its own tests see what it answers.
func (w *whole) ask(method, path, key string, head ...string) *httptest.ResponseRecorder {
	w.Helper()
	w.asked++
	code := w.code
	if strings.Contains(path, "/tournaments") {
		code = w.cup
	}
	path = strings.NewReplacer("{code}", code, "{team}", "t1", "{id}", "p").Replace(path)
	query := url.Values{"game": {w.code}, "code": {w.code}, "season": {"2026"}, "roster": {"none"}, "key": {hostKey}}
	r := httptest.NewRequestWithContext(w.ctx, method, path+"?"+query.Encode(), nil)
	r.RemoteAddr = fmt.Sprintf("10.%d.%d.1:40000", w.asked/256, w.asked%256)
	if key != "" {
		r.Header.Set("Authorization", "Bearer "+key)
	}
	for i := 0; i < len(head); i += 2 {
		r.Header.Set(head[i], head[i+1])
	}
	answer := httptest.NewRecorder()
	w.hub.Handler().ServeHTTP(answer, r)
	return answer
}

// stored is all that the hub keeps, as far as a request could change it.
func (w *whole) stored() string {
	w.Helper()
	games, err := w.store.Games(w.ctx)
	if err != nil {
		w.Fatal(err)
	}
	seasons, err := w.store.Seasons(w.ctx)
	if err != nil {
		w.Fatal(err)
	}
	photos, err := w.store.Photos(w.ctx)
	if err != nil {
		w.Fatal(err)
	}
	return fmt.Sprint(games, seasons, photos)
}

// Every answer names its content, with the encoding where it is text; it is
// not to be sniffed, tells no other page where it was, and sets no cookie.
func TestEachAnswerSaysWhatItIs(t *testing.T) {
	t.Parallel()
	w := openWhole(t)
	all := append(routes(t), route{"GET", "/nowhere"}, route{"GET", assetOf(w, "style/style.css")}, route{"GET", assetOf(w, "style/icon.svg")})
	kinds := map[string]bool{}
	for _, at := range all {
		for _, key := range []string{"", hostKey} {
			if key != "" && at.method != "GET" { // they would do what they are for
				continue
			}
			a := w.ask(at.method, at.path, key)
			head, what := a.Header(), fmt.Sprintf("%v with the key %q (%d)", at, key, a.Code)
			if head.Get("X-Content-Type-Options") != "nosniff" || head.Get("Referrer-Policy") != "no-referrer" || head.Get("Set-Cookie") != "" {
				t.Errorf("%s: %v", what, head)
			}
			if a.Body.Len() == 0 {
				continue
			}
			kind, more, err := mime.ParseMediaType(head.Get("Content-Type"))
			kinds[kind] = true
			text := strings.HasPrefix(kind, "text/") || strings.HasSuffix(kind, "xml")
			if err != nil || text && !strings.EqualFold(more["charset"], "utf-8") {
				t.Errorf("%s is %q: %v", what, head.Get("Content-Type"), err)
			}
			if head.Get("Content-Encoding") == "" && (kind == "application/json") != json.Valid(a.Body.Bytes()) && kind != "application/manifest+json" {
				t.Errorf("%s is %q, and begins %.40q", what, kind, a.Body)
			}
		}
	}
	for _, kind := range []string{"text/html", "text/plain", "text/css", "text/javascript", "text/csv", "image/svg+xml", "application/json"} {
		if !kinds[kind] {
			t.Errorf("no answer was %s: the test has seen too little", kind)
		}
	}
}

// assetOf is where the pages have a file.
func assetOf(w *whole, name string) string {
	w.Helper()
	for _, m := range asked.FindAllStringSubmatch(w.ask("GET", "/", "").Body.String(), -1) {
		parts := strings.SplitN(m[1], "/", 5) // "", static, the hash, the language
		return strings.Join(parts[:4], "/") + "/" + name
	}
	w.Fatal("the landing page asks for nothing")
	return ""
}

// To look is not to change: no GET does, even of who has the key, and what
// changes something can't be asked for by GET.
func TestReadingChangesNothing(t *testing.T) {
	t.Parallel()
	w := openWhole(t)
	before, all := w.stored(), routes(t)
	for _, at := range all {
		a := w.ask("GET", at.path, hostKey)
		if readable := slices.Contains(all, route{"GET", at.path}); !readable && a.Code != http.StatusMethodNotAllowed {
			t.Errorf("GET in place of %v: %d", at, a.Code)
		}
		w.ask("HEAD", at.path, hostKey)
		if now := w.stored(); now != before {
			t.Fatalf("GET %s has changed what is stored:\n%s\n%s", at.path, before, now)
		}
	}
}

// A page of another origin is given no leave: to a browser that asks first the
// hub says no, and without asking a browser sends no header with the key.
func TestNoOtherOriginIsLetIn(t *testing.T) {
	t.Parallel()
	w := openWhole(t)
	before := w.stored()
	for _, at := range routes(t) {
		for _, method := range []string{"OPTIONS", at.method} {
			a := w.ask(method, at.path, "", "Origin", "http://elsewhere.example", "Access-Control-Request-Method", at.method, "Access-Control-Request-Headers", "authorization",
				"Cookie", "key="+hostKey, "Content-Type", "text/plain")
			for name := range a.Header() {
				if strings.HasPrefix(name, "Access-Control-") {
					t.Errorf("%s of %v answers %s: %s", method, at, name, a.Header().Get(name))
				}
			}
			if method == "OPTIONS" && a.Code != http.StatusMethodNotAllowed {
				t.Errorf("OPTIONS of %v: %d", at, a.Code)
			}
		}
		if a := w.ask(at.method, at.path, "", "Cookie", "key="+hostKey); at.method != "GET" && a.Code != http.StatusForbidden && !slices.Contains(public, fmt.Sprint(at)) {
			t.Errorf("%v with the key in the address and in a cookie: %d", at, a.Code)
		}
	}
	if w.stored() != before {
		t.Errorf("something was changed: %s", w.stored())
	}
}

// What is asked for is found in the program, never on the machine's disk; and
// of the program only what pages need.
func TestNoFileOfTheMachineIsServed(t *testing.T) {
	t.Parallel()
	w := openWhole(t)
	base := strings.TrimSuffix(assetOf(w, ""), "/")
	for _, path := range []string{"/.git/config", "/.git/HEAD", "/games.db", "/fieldsign.db", "/go.mod", "/hub/http.go", "/static/", "/static/static.go", base + "/", base + "/words/", base + "/static.go",
		base + "/team/team.html", base + "/gallery/gallery.mjs", base + "/words/es/team.mjs", base + "/testdata/memory-test.mjs", base + "/..%2fstatic.go", base + "/..%2f..%2fgo.mod", base + "/%2e%2e/%2e%2e/go.mod", base + "/%2fetc%2fpasswd", base + "/words/..%5c..%5cgo.mod",
		"/debug/pprof/", "/metrics"} {
		r, err := http.Get(w.url + path)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if r.StatusCode != http.StatusNotFound {
			t.Errorf("%s: %s", path, r.Status)
		}
	}
	for _, roster := range []string{"../../etc/passwd", "/etc/passwd", "furbearers.csv", "http://elsewhere.example/x.csv"} {
		a := w.answers("10.99.0.1", "GET", "/practice.json?roster="+url.QueryEscape(roster), "", "")
		if a.Code != http.StatusNotFound {
			t.Errorf("the roster %s: %d", roster, a.Code)
		}
	}
}
