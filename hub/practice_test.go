//go:build !race

package hub_test

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A phone that has the questions is sent nothing again, by any hub.
func (p *place) practiceIsSentOnce(t *testing.T) {
	one, body := begin(t).fetch("/practice.json")
	if got := one.Header.Get("Content-Type"); got != "application/json" {
		t.Errorf("it is %q", got)
	}
	two, again := p.fetch("/practice.json?roster=furbearers")
	if tag := one.Header.Get("ETag"); tag == "" || tag != two.Header.Get("ETag") || !bytes.Equal(body, again) {
		t.Errorf("two hubs send different questions: %q, %q", tag, two.Header.Get("ETag"))
	}
	if a, rest := p.fetch("/practice.json", "If-None-Match", two.Header.Get("ETag")); a.StatusCode != http.StatusNotModified || len(rest) > 0 {
		t.Errorf("what is known is answered %s with %d bytes", a.Status, len(rest))
	}
}

// The name of a roster is no way to the machine's files.
func TestPracticeOfUnknownRosters(t *testing.T) {
	t.Parallel()
	sheet := filepath.Join(t.TempDir(), "mine.csv")
	if err := os.WriteFile(sheet, []byte("species,subjects\nVulpes vulpes,track\nCanis latrans,track\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	p := begin(t)
	for _, roster := range []string{"nowhere", sheet, "mine", "../rosters/furbearers", "FURBEARERS", "%00"} {
		for _, path := range []string{"/practice.json?roster=", "/practice/save?roster="} {
			if a, body := p.fetch(path + roster); a.StatusCode != http.StatusNotFound || !strings.Contains(string(body), "unknown_roster") {
				t.Errorf("%s%s: %s %.80s", path, roster, a.Status, body)
			}
		}
	}
}

// How often it is sent in full has a bound.
func (p *place) practiceIsBounded(t *testing.T) {
	_, body := p.fetch("/practice.json")
	tag, _ := p.fetch("/practice.json")
	p.hub.StopRefills()
	seen := map[int]int{}
	for range 400 {
		a, _ := p.fetch("/practice.json", "If-None-Match", tag.Header.Get("ETag"))
		seen[a.StatusCode]++
		if a.StatusCode == http.StatusTooManyRequests {
			if a.Header.Get("Retry-After") == "" {
				t.Error("a refusal doesn't say when to come back")
			}
			return
		}
	}
	t.Errorf("no bound was met (%d bytes each): %v", len(body), seen)
}

func TestTheWorkerKeepsWhatThePageNeeds(t *testing.T) {
	t.Parallel()
	p := begin(t)
	a, body := p.fetch("/practice-worker.mjs")
	if !strings.HasPrefix(a.Header.Get("Content-Type"), "text/javascript") {
		t.Errorf("it comes as %s", a.Header.Get("Content-Type"))
	}
	var shell struct {
		Version string
		Files   []string
	}
	line, _, _ := strings.Cut(strings.TrimPrefix(string(body), "const shell = "), ";\n")
	if err := json.Unmarshal([]byte(line), &shell); err != nil || shell.Version == "" {
		t.Fatalf("its list can't be read: %v in %.200s", err, line)
	}
	for _, name := range []string{"/practice?lang=en", "/practice?lang=es", "/en/practice/practice.mjs", "/es/words/practice.mjs", "/vendor/preact-htm.mjs", "/vendor/ts-fsrs.mjs", "/style.css"} {
		if !slices.ContainsFunc(shell.Files, func(file string) bool { return strings.HasSuffix(file, name) }) {
			t.Errorf("%s is not kept", name)
		}
	}
	for _, file := range shell.Files {
		if a, _ := p.fetch(file); a.StatusCode != 200 {
			t.Errorf("%s is to be kept, but: %s", file, a.Status)
		}
	}
}
