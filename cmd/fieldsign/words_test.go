package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// codesOf are the codes that Go files of some folders hand to people, as the
// pattern finds them.
func codesOf(t *testing.T, pattern string, folders ...string) []string {
	t.Helper()
	code := regexp.MustCompile(pattern)
	var codes []string
	for _, folder := range folders {
		names, err := filepath.Glob(filepath.Join("../..", folder, "*.go"))
		if err != nil || len(names) == 0 {
			t.Fatalf("no Go file in %s (%v)", folder, err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			source, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range code.FindAllStringSubmatch(string(source), -1) {
				codes = append(codes, m[1])
			}
		}
	}
	slices.Sort(codes)
	return slices.Compact(codes)
}

// English and Spanish have the same words, and Spanish has one for each code
// with which the hub refuses something.
func TestWordsOfBothLanguages(t *testing.T) {
	t.Parallel()
	need(t, headless)
	refusals := codesOf(t, `Code = "([a-z_]+)"`, "refusal")
	notices := codesOf(t, `(?:Restarted|storeGone|storeOdd|storeLost):\s+"([a-z_]+)"`, "hub/table")
	if len(refusals) < 80 || len(notices) != 4 {
		t.Fatalf("%d codes of refusals and %d of notices were found: the patterns no longer fit the code", len(refusals), len(notices))
	}
	words, err := filepath.Glob("../../static/words/en/*.mjs")
	if err != nil || len(words) == 0 {
		t.Fatalf("no file of words (%v)", err)
	}
	var files []string
	for _, name := range words {
		files = append(files, strings.TrimSuffix(filepath.Base(name), ".mjs"))
	}
	p := newBrowser(t, fmt.Sprintf("http://localhost:%d", withGallery(t, 0))).open("words", "/words-test?files="+strings.Join(files, ",")+"&codes="+strings.Join(refusals, ",")+"&notices="+strings.Join(notices, ","), 800, 600)
	p.wait("the checks' end", "!!document.body?.dataset.ran")
	if failures := p.text("document.body.dataset.failures"); failures != "[]" {
		t.Error(strings.ReplaceAll(failures, `","`, "\n"))
	}
	t.Logf("%s texts were looked at", p.text("document.body.dataset.ran"))
}
