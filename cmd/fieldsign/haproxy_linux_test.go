package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"path/filepath"
	"testing"

	"fieldsign/hub/bot"
	"fieldsign/hub/store/redis/redistest"
)

// phoneAt asks as a phone with an address of its own; all of 127.0.0.0/8 are
// this machine's.
type phoneAt struct {
	*testing.T
	client *http.Client
	front  string
}

func phone(t *testing.T, front, address string) phoneAt {
	dialer := &net.Dialer{LocalAddr: &net.TCPAddr{IP: net.ParseIP(address)}}
	transport := &http.Transport{DialContext: dialer.DialContext}
	t.Cleanup(transport.CloseIdleConnections)
	return phoneAt{t, &http.Client{Transport: transport}, front}
}

// ask is what a request gets. Each forges an address, which nobody may believe.
// An answer without the hubs' policy is the balancer's own.
func (p phoneAt) ask(method, path, key string) (status int, byHub bool) {
	p.Helper()
	r, err := http.NewRequest(method, p.front+path, nil)
	if err != nil {
		p.Fatal(err)
	}
	r.Header.Set("X-Forwarded-For", fmt.Sprintf("203.0.113.%d", rand.N(250)))
	if key != "" {
		r.Header.Set("Authorization", "Bearer "+key)
	}
	resp, err := p.client.Do(r)
	if err != nil {
		p.Fatal(err)
	}
	defer resp.Body.Close()
	if _, err := io.Copy(io.Discard, resp.Body); err != nil {
		p.Fatal(err)
	}
	return resp.StatusCode, resp.Header.Get("Content-Security-Policy") != ""
}

// join has a phone take a seat over a socket.
func (p phoneAt) join(code string, hello map[string]any) (bot.Frame, error) {
	c, err := bot.DialBy(p.Context(), p.client, p.front, code)
	if err != nil {
		return bot.Frame{}, err
	}
	if err := c.Send(p.Context(), hello); err != nil {
		return bot.Frame{}, err
	}
	return c.Receive(p.Context())
}

// One pupil guesses host keys and join codes as fast as the wire carries, by
// HTTP and by sockets: alone locked out, first by the hubs and then by the
// balancer. Other phones, and the host with the right key, notice nothing.
func TestAGuesserBehindTheBalancerIsAlone(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t, redistest.Durable...)
	hub := func() *program {
		return start(t, filepath.Join(t.TempDir(), "unused.db"), freePort(t), "--redis", server.URL(), "--trusted-proxy", "127.0.0.1")
	}
	first, second := hub(), hub()
	front := balanced(t, first, second)
	redistest.Eventually(t, "a balancer that finds the hubs", func() error { return status(front + "/readyz") })
	pupil := phone(t, front, "127.0.0.66")
	for range 30 { // more than both hubs allow an address
		pupil.join(first.code, map[string]any{"type": "host", "key": "a guess at the key"})
	}
	for range 30 {
		pupil.ask("GET", "/games", "a guess at the key")
		pupil.ask("GET", "/find?code=no-such-00", "")
	}
	if got, _ := pupil.ask("GET", "/games", testKey); got != http.StatusTooManyRequests {
		t.Errorf("the guesser with a lucky key: %d", got)
	}
	if got, _ := pupil.ask("GET", "/find?code="+second.code, ""); got != http.StatusTooManyRequests {
		t.Errorf("the guesser with a lucky code: %d", got)
	}
	for n := range 8 { // to both hubs in turn
		other := phone(t, front, fmt.Sprintf("127.0.0.%d", 100+n))
		if got, _ := other.ask("GET", "/find?code="+first.code, ""); got != http.StatusOK {
			t.Errorf("another phone's first try: %d", got)
		}
		if f, err := other.join(first.code, map[string]any{"type": "join", "name": fmt.Sprintf("Team %d", n)}); err != nil || f.Type != "welcome" {
			t.Errorf("another phone joins: %q %q, %v", f.Type, f.Code, err)
		}
	}
	host := phone(t, front, "127.0.0.200")
	if got, _ := host.ask("GET", "/games", testKey); got != http.StatusOK {
		t.Errorf("the host: %d", got)
	}
	for range 6 { // by both hubs in turn
		if f, err := host.join(first.code, map[string]any{"type": "host", "key": testKey, "takeOver": true}); err != nil || f.Type != "welcome" {
			t.Errorf("the host's console: %q %q, %v", f.Type, f.Code, err)
		}
	}
	for range 200 {
		pupil.ask("GET", "/games", "a guess at the key")
	}
	if got, byHub := pupil.ask("GET", "/games", "a guess at the key"); got != http.StatusTooManyRequests || byHub {
		t.Errorf("after so many guesses the balancer still asks the hubs: %d", got)
	}
	if got, byHub := pupil.ask("GET", "/team", ""); got != http.StatusOK || !byHub {
		t.Errorf("the page, for those who share the guesser's address: %d", got)
	}
}
