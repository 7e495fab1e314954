package fieldsign_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const mostPictures = 1500 << 10 // bytes of the guide's

var (
	links  = regexp.MustCompile(`\]\(([^)#:]*)(?:#([^)]*))?\)`)
	heads  = regexp.MustCompile(`(?m)^#+ (.+)$`)
	marked = regexp.MustCompile("[^a-z0-9 _-]")
)

// anchor is the name by which a heading is linked to.
func anchor(heading string) string {
	return strings.ReplaceAll(marked.ReplaceAllString(strings.ToLower(heading), ""), " ", "-")
}

// Every link of the docs leads to a file that is there, and to a heading that
// it has; each of the guide's pictures is shown, and together they are small.
func TestDocsLeadSomewhere(t *testing.T) {
	pages, err := filepath.Glob("docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	linked := map[string]bool{}
	for _, page := range append(pages, "README.md", "DEVELOPERS.md") {
		for _, link := range links.FindAllStringSubmatch(read(t, page), -1) {
			to := page
			if link[1] != "" {
				to = filepath.Join(filepath.Dir(page), link[1])
			}
			linked[to] = true
			if _, err := os.Stat(to); err != nil {
				t.Errorf("%s links to %s, which is not there", page, to)
			} else if link[2] != "" && !hasHeading(read(t, to), link[2]) {
				t.Errorf("%s links to %s#%s: there is no such heading", page, to, link[2])
			}
		}
	}
	pictures, err := filepath.Glob("docs/guide/*.png")
	if err != nil || len(pictures) == 0 {
		t.Fatalf("no pictures of the guide: run make guide (%v)", err)
	}
	total := 0
	for _, picture := range pictures {
		total += len(read(t, picture))
		if !linked[picture] {
			t.Errorf("no page shows %s", picture)
		}
	}
	if total > mostPictures {
		t.Errorf("the guide's pictures have %d bytes, more than %d", total, mostPictures)
	}
	for _, page := range pages {
		if !linked[page] {
			t.Errorf("no page links to %s", page)
		}
	}
}

func read(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func hasHeading(text, wanted string) bool {
	for _, head := range heads.FindAllStringSubmatch(text, -1) {
		if anchor(head[1]) == wanted {
			return true
		}
	}
	return false
}
