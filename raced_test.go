package fieldsign_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// .ci/raced names tests of hub that are there: another name would run nothing.
func TestRacedTestsAreThere(t *testing.T) {
	list, err := os.ReadFile(".ci/raced")
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("hub/*_test.go")
	if err != nil {
		t.Fatal(err)
	}
	tests := map[string]bool{}
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(string(source), "//go:build !race") {
			continue
		}
		for line := range strings.Lines(string(source)) {
			if rest, ok := strings.CutPrefix(line, "func "); ok {
				name, _, _ := strings.Cut(rest, "(")
				tests[name] = true
			}
		}
	}
	named := 0
	for line := range strings.Lines(string(list)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		name, what, _ := strings.Cut(line, "\t")
		if named++; !tests[name] || what == "" {
			t.Errorf("%q is no test of hub that can be raced, with what it is there for", strings.TrimSpace(line))
		}
	}
	if named < 20 {
		t.Errorf("only %d tests are raced", named)
	}
}
