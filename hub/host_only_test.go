package hub_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"fieldsign/game/tournament"
	"fieldsign/hub"
	"fieldsign/hub/gate"
	"fieldsign/hub/store"
)

// public is what anybody who reaches the hub may ask; what else it serves
// beside the pages is the host's.
var public = []string{"GET /find", "GET /qr.svg", "GET /plate", "GET /spot/{name}", "GET /names.json", "GET /foodweb", "GET /foodweb.svg", "GET /season/board.json", "GET /tournaments/{code}", "POST /tournaments/{code}/sit", "POST /tournaments/{code}/stand",
	"GET /practice.json", "GET /practice/save", "GET /practice.webmanifest", "GET /practice-worker.mjs", "GET /socket", "GET /readyz", "GET /healthz"}

// answers puts a request to the hub's handler as if from an address.
func (p *place) answers(from, method, path, key, body string) *httptest.ResponseRecorder {
	p.Helper()
	r := httptest.NewRequestWithContext(p.ctx, method, path, strings.NewReader(body))
	r.RemoteAddr = from + ":40000"
	if key != "" {
		r.Header.Set("Authorization", "Bearer "+key)
	}
	w := httptest.NewRecorder()
	p.hub.Handler().ServeHTTP(w, r)
	return w
}

// Every path that is not for others too is refused without the key, and changes
// nothing. What is for others is what the list says.
func TestOnlyTheHostMay(t *testing.T) {
	t.Parallel()
	p := begin(t)
	p.join("Wrens")
	cup := p.cup(tournament.Settings{Format: tournament.Swiss}, "Wrens", "Otters", "Stoats")
	if err := p.store.ChangeSeason(p.ctx, "2026", func(*store.Season) {}); err != nil {
		t.Fatal(err)
	}
	before, tried := p.codes(), 0
	var others []string
	for _, at := range hub.Routes {
		if at.For != gate.Host {
			others = append(others, at.Pattern())
			continue
		}
		tried++
		code := p.code
		if strings.Contains(at.Path, "/tournaments") {
			code = cup.cup
		}
		path := strings.NewReplacer("{code}", code, "{team}", "t1", "{id}", "p").Replace(at.Path)
		for i, key := range []string{"", "a guess"} {
			w := p.answers(fmt.Sprintf("10.%d.0.%d", i, tried), at.Method, path+"?game="+p.code+"&season=2026", key, "{}")
			if w.Code != http.StatusForbidden || !strings.Contains(w.Body.String(), "wrong_key") {
				t.Errorf("%s with the key %q: %d %.80s", at.Pattern(), key, w.Code, w.Body)
			}
		}
	}
	slices.Sort(others)
	if !slices.Equal(others, slices.Sorted(slices.Values(public))) {
		t.Errorf("for others are %q", others)
	}
	if seasons, err := p.store.Seasons(p.ctx); tried < 25 || p.codes() != before || err != nil || len(seasons) != 1 {
		t.Errorf("%d paths were tried; stored %q, was %q; seasons %v, %v", tried, p.codes(), before, seasons, err)
	}
}

func TestGuessesOfTournamentCodesAreBounded(t *testing.T) {
	t.Parallel()
	p := begin(t)
	cup := p.cup(tournament.Settings{Format: tournament.Swiss}, "Wrens", "Otters")
	for n := range 5 {
		if w := p.answers("10.0.0.1", "GET", fmt.Sprint("/tournaments/no-such-1", n), "", ""); w.Code != http.StatusNotFound {
			t.Fatalf("guess %d: %d", n, w.Code)
		}
	}
	for _, code := range []string{"no-such-20", cup.cup} {
		if w := p.answers("10.0.0.1", "GET", "/tournaments/"+code, "", ""); w.Code != http.StatusTooManyRequests || w.Header().Get("Retry-After") == "" {
			t.Errorf("%s beyond the bound: %d", code, w.Code)
		}
	}
	if w := p.answers("10.0.0.2", "GET", "/tournaments/"+cup.cup, "", ""); w.Code != http.StatusOK {
		t.Errorf("somebody else: %d", w.Code)
	}
}

func TestNamesInATournamentAreScreened(t *testing.T) {
	t.Parallel()
	p := begin(t)
	cup := p.cup(tournament.Settings{Format: tournament.Swiss}, "Wrens", "Otters")
	cup.refused("name_refused", "enter", "names", []string{"Herons", "sh1t"})
	if _, said := cup.try("enter", "names", []string{"Stoats", "sh1t"}); !strings.Contains(said.Message, "are entered") {
		t.Errorf("entering is refused with %q", said.Message)
	}
	cup.refused("name_refused", "rename", "entrant", 1, "name", "p u t a s")
	if _, said := cup.try("rename", "entrant", 1, "name", "p u t a s"); !strings.Contains(said.Message, "p u t a s") || strings.Contains(said.Message, "entered") {
		t.Errorf("a new name is refused with %q", said.Message)
	}
}

func TestATournamentsCommandIsBounded(t *testing.T) {
	t.Parallel()
	p := begin(t)
	cup := p.cup(tournament.Settings{Format: tournament.Swiss}, "Wrens", "Otters")
	long := `{"type":"undo","id":"long"` + strings.Repeat(" ", 64<<10) + `}`
	if w := p.answers("10.0.0.1", "POST", "/tournaments/"+cup.cup+"/commands", hostKey, long); w.Code != http.StatusBadRequest {
		t.Errorf("more than 64 kB: %d %s", w.Code, w.Body)
	}
}

// What /names.json tells is the same whatever is being played.
func TestNamesTellNothingOfAGame(t *testing.T) {
	t.Parallel()
	p := begin(t)
	before := p.answers("10.0.0.1", "GET", "/names.json", "", "").Body.String()
	host := p.host()
	p.join("Wrens")
	host.act("next")
	host.phase("asking")
	if during := p.answers("10.0.0.1", "GET", "/names.json?game="+p.code, "", "").Body.String(); during != before || len(before) < 1000 {
		t.Errorf("%d bytes before, %d during a question", len(before), len(during))
	}
}
