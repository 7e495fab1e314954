//go:build unix

package main

import (
	"errors"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"fieldsign/hub/bot"
	"fieldsign/hub/lab/flaky"
	"fieldsign/hub/store/redis/redistest"
)

// balanced starts the balancer as compose.yaml does, with the hubs' names and
// the ports put in and the container network's name service left out.
func balanced(t *testing.T, hubs ...*program) (url string) {
	t.Helper()
	text, err := os.ReadFile("../../haproxy.cfg")
	if err != nil {
		t.Fatal(err)
	}
	port := freePort(t)
	config := strings.Replace(string(text), "bind :7600", fmt.Sprintf("bind 127.0.0.1:%d", port), 1)
	config = regexp.MustCompile(`(?s)resolvers compose\n.*?\n\n`).ReplaceAllString(config, "")
	config = strings.Replace(config, " resolvers compose init-addr last,libc,none", "", 1)
	for i, p := range hubs {
		config = strings.Replace(config, fmt.Sprintf("hub%d:7600", i+1), fmt.Sprintf("127.0.0.1:%d", p.port), 1)
	}
	file := filepath.Join(t.TempDir(), "haproxy.cfg")
	if err := os.WriteFile(file, []byte(config), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(need(t, "haproxy"), "-db", "-f", file)
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	return fmt.Sprintf("http://127.0.0.1:%d", port)
}

func status(url string) error {
	r, err := http.Get(url)
	if err != nil {
		return err
	}
	r.Body.Close()
	if r.StatusCode != http.StatusOK {
		return errors.New(r.Status)
	}
	return nil
}

// Two hubs behind haproxy.cfg: a phone comes by the one address whichever hub
// has its game, and when that one is killed; and a hub that Redis does not
// answer is left out.
func TestBehindTheBalancer(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t, redistest.Durable...)
	wire, err := flaky.Listen(server.Addr(), 1)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { wire.Close() })
	hub := func(redis string, port int) *program {
		return start(t, filepath.Join(t.TempDir(), "unused.db"), port, "--redis", redis, "--lease", "2s")
	}
	first, second := hub(server.URL(), freePort(t)), hub("redis://"+wire.Addr(), freePort(t))
	front := balanced(t, first, second)
	redistest.Eventually(t, "a balancer that finds the hubs", func() error { return status(front + "/readyz") })
	for range 6 { // by both hubs in turn
		if err := status(front + "/find?code=" + first.code); err != nil {
			t.Errorf("the game at the one address: %v", err)
		}
	}
	var token string
	enter := func(hello map[string]any) error {
		c, err := bot.Dial(t.Context(), front, first.code)
		if err != nil {
			return err
		}
		c.Send(t.Context(), hello)
		token = awaited(t, c, "a seat", func(f bot.Frame) bool { return f.Type == "welcome" }).Token
		return nil
	}
	if err := enter(map[string]any{"type": "join", "name": "Wrens"}); err != nil {
		t.Fatal(err)
	}
	first.kill()
	killed := time.Now()
	redistest.Eventually(t, "seat at the other hub", func() error { return enter(map[string]any{"type": "resume", "token": token}) })
	t.Logf("lease 2s: back by the balancer %v after the kill", time.Since(killed).Round(10*time.Millisecond))
	hub(server.URL(), first.port)
	redistest.Eventually(t, "first hub that is back", func() error { return status(first.url() + "/readyz") })
	wire.Cut()
	redistest.Eventually(t, "balancer that leaves the cut-off hub out", func() error {
		for range 6 {
			if err := status(front + "/readyz"); err != nil {
				return err
			}
		}
		return nil
	})
}
