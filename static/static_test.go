package static

import (
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"
)

var (
	imported  = regexp.MustCompile(`from '\./([^']+)'`)
	linked    = regexp.MustCompile(`(?:src|href)="/static/([^"]+)"`)
	elsewhere = regexp.MustCompile(`(?:https?:)?//[a-z0-9-]+\.[a-z]`)
	active    = regexp.MustCompile(`\b(?:innerHTML|outerHTML|dangerouslySetInnerHTML|insertAdjacentHTML|srcdoc|document\.write|eval\(|new Function|javascript:)`)
	addresses = regexp.MustCompile("`/[^`]*`")
	inline    = regexp.MustCompile(`<script(?:[^>]*)>[^<]|<style|\sstyle=|\son[a-z]+="`)
)

func each(t *testing.T, pattern string, f func(name, text string)) {
	t.Helper()
	names, err := fs.Glob(Files, pattern)
	if err != nil || len(names) == 0 {
		t.Fatalf("no file matches %s (%v)", pattern, err)
	}
	for _, name := range names {
		b, err := fs.ReadFile(Files, name)
		if err != nil {
			t.Fatal(err)
		}
		f(name, string(b))
	}
}

// A browser reports a missing module only as a blank page.
func TestWhatIsAskedForIsThere(t *testing.T) {
	for pattern, asked := range map[string]*regexp.Regexp{"*.html": linked, "*.mjs": imported, "words/*.mjs": imported} {
		each(t, pattern, func(name, text string) {
			for _, m := range asked.FindAllStringSubmatch(text, -1) {
				if _, err := fs.Stat(Files, path.Join(path.Dir(name), m[1])); err != nil {
					t.Errorf("%s asks for %s: %v", name, m[1], err)
				}
			}
		})
	}
}

// The pages are sent under a policy that forbids what is inline or elsewhere.
func TestPagesKeepToThePolicy(t *testing.T) {
	each(t, "*.html", func(name, text string) {
		if m := inline.FindString(text); m != "" {
			t.Errorf("%s has something inline: %q", name, m)
		}
	})
	for _, pattern := range []string{"*.html", "*.css", "*.mjs", "words/*.mjs"} {
		each(t, pattern, func(name, text string) {
			// A namespace is a name: nothing is asked of it.
			if m := elsewhere.FindString(strings.ReplaceAll(text, `xmlns="http://www.w3.org/2000/svg"`, "")); m != "" {
				t.Errorf("%s names another host: %q", name, m)
			}
			if m := active.FindString(text); m != "" {
				t.Errorf("%s makes markup or code of text: %s", name, m)
			}
			for _, address := range addresses.FindAllString(text, -1) {
				if strings.Count(address, "=${") != strings.Count(address, "=${encodeURIComponent(") {
					t.Errorf("%s puts something into an address as it is: %s", name, address)
				}
			}
		})
	}
}
