package hub_test

import (
	"net/http"
	"strconv"
	"strings"
	"testing"

	"fieldsign/hub/bot"
)

// Behind one address somebody guesses codes; those who play there don't notice.
func TestAGuesserOfCodes(t *testing.T) {
	t.Parallel()
	p := begin(t)
	p.hub.StopRefills()
	p.join("Wrens")
	for range 5 {
		if status, _ := p.get("/find?code=no-such-00"); status != http.StatusNotFound {
			t.Fatalf("a wrong code got %d", status)
		}
	}
	for _, path := range []string{"/find?code=no-such-00", "/qr.svg?game=no-such-00"} {
		r, err := http.Get(p.url + path)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if wait, _ := strconv.Atoi(r.Header.Get("Retry-After")); r.StatusCode != http.StatusTooManyRequests || wait < 1 || wait > 60 {
			t.Errorf("%s: %s, Retry-After %d", path, r.Status, wait)
		}
	}
	conn, err := bot.Dial(p.ctx, p.url, "no-such-00")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := conn.Receive(p.ctx); bot.CloseCode(err) != 4002 {
		t.Errorf("the socket: %v", err)
	}
	if status, _ := p.get("/find?code=" + p.code); status != http.StatusOK {
		t.Errorf("the code of those who play got %d", status)
	}
	p.join("Otters")
	// Another game's code is right too, and yet tells the guesser nothing.
	other, err := p.hub.CreateGame(p.ctx)
	if err != nil {
		t.Fatal(err)
	}
	if status, _ := p.get("/find?code=" + other); status != http.StatusTooManyRequests {
		t.Errorf("a lucky guess got %d", status)
	}
}

func TestAGuesserOfHostKeys(t *testing.T) {
	t.Parallel()
	p := begin(t)
	p.hub.StopRefills()
	post := func(key string) (int, string) {
		r, _ := http.NewRequest("POST", p.url+"/games", strings.NewReader(""))
		r.Header.Set("Authorization", "Bearer "+key)
		resp, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		return resp.StatusCode, resp.Header.Get("Retry-After")
	}
	for range 5 {
		if status, _ := post("guess"); status != http.StatusForbidden {
			t.Fatalf("a wrong key got %d", status)
		}
		p.dial(map[string]any{"type": "host", "key": "guess"}).closed(4104)
	}
	for _, key := range []string{"guess", hostKey} {
		if status, wait := post(key); status != http.StatusTooManyRequests || wait == "" {
			t.Errorf("beyond the bound %q got %d, Retry-After %q", key, status, wait)
		}
		p.dial(map[string]any{"type": "host", "key": key}).closed(4002)
	}
}

func TestTooManyJoin(t *testing.T) {
	t.Parallel()
	p := begin(t)
	p.hub.StopRefills()
	p.hub.AllowJoins(2)
	p.join("Wrens")
	a := p.join("Otters")
	c := p.dial(map[string]any{"type": "join", "name": "Herons"})
	if f := c.until("a refusal", func(f bot.Frame) bool { return f.Type == "refused" }); f.Code != "too_many_joins" || f.Message == "" {
		t.Errorf("refused with %q %q", f.Code, f.Message)
	}
	back := p.dial(map[string]any{"type": "resume", "token": a.log[len(a.log)-1].Token})
	back.until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
}

func TestScreenedNames(t *testing.T) {
	t.Parallel()
	p := begin(t)
	host := p.host()
	p.join("Wrens")
	for _, name := range []string{"Sh1t", "p u t a s"} {
		c := p.dial(map[string]any{"type": "join", "name": name})
		f := c.until("a refusal", func(f bot.Frame) bool { return f.Type == "refused" })
		if f.Code != "name_refused" || f.Message == "" || strings.Contains(f.Message, name) {
			t.Errorf("%q: refused with %q %q", name, f.Code, f.Message)
		}
		c.send(map[string]any{"type": "join", "name": "Grass Snakes " + string(rune('a'+len(name)))})
		c.until("welcome", func(f bot.Frame) bool { return f.Type == "welcome" })
	}
	if f := host.do(map[string]any{"type": "do", "action": "rename", "team": "t1", "name": "Sh1t"}); f.Code != "name_refused" {
		t.Errorf("a rename got %q %q", f.Type, f.Code)
	}
}

// A page of another site shows pictures from the hub and opens sockets; so many
// of them use up nobody's tries. Nor does a console without a key.
func TestWhatIsNoGuess(t *testing.T) {
	t.Parallel()
	p := begin(t)
	ask := func(method, path string, headers ...string) int {
		r, err := http.NewRequest(method, p.url+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := 0; i < len(headers); i += 2 {
			r.Header.Set(headers[i], headers[i+1])
		}
		resp, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		return resp.StatusCode
	}
	for range 20 {
		for path, headers := range map[string][]string{
			"/games":                    nil, // as pictures over plain HTTP are asked for
			"/games?key=guess":          {"Sec-Fetch-Site", "cross-site"},
			"/debrief.json":             {"Sec-Fetch-Site", "cross-site", "Authorization", "Bearer guess"},
			"/find?code=no-such-00":     {"Sec-Fetch-Site", "cross-site"},
			"/qr.svg?game=no-such-00":   {"Sec-Fetch-Site", "same-site"},
			"/tournaments/no-such-00":   {"Origin", "http://elsewhere.example"},
			"/socket?game=no-such-00":   {"Origin", "http://elsewhere.example"},
			"/tournaments/no-such-00?x": {"Origin", "null"},
		} {
			if status := ask("GET", path, headers...); status != http.StatusForbidden {
				t.Fatalf("%s with %q: %d", path, headers, status)
			}
		}
	}
	for range 10 {
		p.dial(map[string]any{"type": "host"}).closed(4104)
	}
	if status := ask("GET", "/games", "Authorization", "Bearer "+hostKey); status != http.StatusOK {
		t.Errorf("the host's right key: %d", status)
	}
	p.host()
	other, err := p.hub.CreateGame(p.ctx)
	if err != nil {
		t.Fatal(err)
	}
	if status := ask("GET", "/find?code="+other, "Sec-Fetch-Site", "same-origin"); status != http.StatusOK {
		t.Errorf("a right code: %d", status)
	}
}
