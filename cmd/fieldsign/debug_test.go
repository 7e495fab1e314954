package main

import (
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
)

func TestDebugIsForThisMachine(t *testing.T) {
	t.Parallel()
	for _, address := range []string{":6060", "0.0.0.0:6060", "192.168.1.20:6060", "[::]:6060", "fieldsign.test:6060", "127.0.0.1"} {
		listener, err := listenDebug(address)
		if err == nil {
			listener.Close()
		}
		if err == nil || !strings.Contains(err.Error(), "127.0.0.1:6060") {
			t.Errorf("--debug %s: %v", address, err)
		}
	}
}

func TestDebug(t *testing.T) {
	t.Parallel()
	port := freePort(t)
	p := start(t, filepath.Join(t.TempDir(), "games.db"), freePort(t), "--debug", fmt.Sprintf("127.0.0.1:%d", port))
	for path, want := range map[string]string{"/metrics": "fieldsign_games 1", "/debug/pprof/": "goroutine", "/debug/pprof/heap?debug=1": "heap profile"} {
		r, err := http.Get(fmt.Sprintf("http://127.0.0.1:%d%s", port, path))
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(r.Body)
		r.Body.Close()
		if !strings.Contains(string(body), want) {
			t.Errorf("%s: %s, without %q", path, r.Status, want)
		}
	}
	for host, want := range map[string]int{"localhost": 200, fmt.Sprintf("localhost:%d", port): 200, fmt.Sprintf("[::1]:%d", port): 200, "127.9.9.9": 200,
		"evil.example": 421, fmt.Sprintf("evil.example:%d", port): 421, "localhost.evil.example": 421, "192.168.1.20": 421, "0.0.0.0": 421, "127.0.0.1.evil.example": 421} {
		request, err := http.NewRequest("GET", fmt.Sprintf("http://127.0.0.1:%d/metrics", port), nil)
		if err != nil {
			t.Fatal(err)
		}
		request.Host = host
		r, err := http.DefaultClient.Do(request)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if r.StatusCode != want {
			t.Errorf("asked for as %s: %s, want %d", host, r.Status, want)
		}
	}
	for _, path := range []string{"/metrics", "/debug/pprof/"} {
		r, err := http.Get(p.url() + path)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if r.StatusCode != http.StatusNotFound {
			t.Errorf("phones can get %s: %s", path, r.Status)
		}
	}
}
