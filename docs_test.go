package fieldsign_test

import (
	"io/fs"
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
	records, err := filepath.Glob("docs/adr/*.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, page := range append(append(records, pages...), "README.md", "DEVELOPERS.md", "CHANGELOG.md") {
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

var (
	named    = regexp.MustCompile(`\b(?:Test|Fuzz)[A-Z]\w*`)
	testFunc = regexp.MustCompile(`(?m)^func ((?:Test|Fuzz)[A-Z]\w*)\(`)
)

// What the docs and the table of controls say holds something is a test that
// there is.
func TestTestsThatDocsNameAreThere(t *testing.T) {
	there := map[string]bool{}
	err := filepath.WalkDir(".", func(name string, _ fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(name, "_test.go") {
			for _, m := range testFunc.FindAllStringSubmatch(read(t, name), -1) {
				there[m[1]] = true
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	pages, err := filepath.Glob("docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, page := range append(pages, "README.md", "DEVELOPERS.md", ".ci/controls.tsv") {
		for _, test := range named.FindAllString(read(t, page), -1) {
			if !there[test] {
				t.Errorf("%s names %s: there is no such test", page, test)
			}
		}
	}
}

// levelOne are the requirements of ASVS 5.0.0 at level 1. Its chapters V16 and
// V17 have none.
var levelOne = strings.Fields(`
	V1.2.1 V1.2.2 V1.2.3 V1.2.4 V1.2.5 V1.3.1 V1.3.2 V1.5.1  V2.1.1 V2.2.1 V2.2.2 V2.3.1
	V3.2.1 V3.2.2 V3.3.1 V3.4.1 V3.4.2 V3.5.1 V3.5.2 V3.5.3  V4.1.1 V4.4.1  V5.2.1 V5.2.2 V5.3.1 V5.3.2
	V6.1.1 V6.2.1 V6.2.2 V6.2.3 V6.2.4 V6.2.5 V6.2.6 V6.2.7 V6.2.8 V6.3.1 V6.3.2 V6.4.1 V6.4.2
	V7.2.1 V7.2.2 V7.2.3 V7.2.4 V7.4.1 V7.4.2  V8.1.1 V8.2.1 V8.2.2 V8.3.1  V9.1.1 V9.1.2 V9.1.3 V9.2.1
	V10.4.1 V10.4.2 V10.4.3 V10.4.4 V10.4.5  V11.3.1 V11.3.2 V11.4.1  V12.1.1 V12.2.1 V12.2.2
	V13.4.1  V14.2.1 V14.3.1  V15.1.1 V15.2.1 V15.3.1`)

var (
	requirement = regexp.MustCompile(`V\d+\.\d+\.\d+`)
	verdict     = regexp.MustCompile(`^(met|partly|deviation|does not apply)(:| *$)`)
)

// docs/threats.md has each requirement of level 1 once, says of each whether it is
// met, and of each that applies what holds it.
func TestASVSIsGoneThrough(t *testing.T) {
	seen := map[string]int{}
	for line := range strings.Lines(read(t, "docs/threats.md")) {
		if !strings.HasPrefix(line, "| V") {
			continue
		}
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), " | ")
		for _, number := range requirement.FindAllString(cells[0], -1) {
			seen[number]++
		}
		if len(cells) != 4 {
			t.Errorf("not four cells: %s", line)
			continue
		}
		said := verdict.FindString(cells[2])
		if held := named.MatchString(cells[3]) || strings.Contains(cells[3], "by reading"); said == "" || !held && !strings.HasPrefix(said, "does not") {
			t.Errorf("neither a verdict, nor a test or \"by reading\": %s", line)
		}
	}
	for _, number := range levelOne {
		if seen[number] != 1 {
			t.Errorf("%s is there %d times", number, seen[number])
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

var (
	required = regexp.MustCompile(`(?m)^\t(\S+) v\S+$`)
	module   = regexp.MustCompile(`(?:[a-z]+\.)+[a-z]+/[\w./-]+`)
	version  = regexp.MustCompile(`/v\d+$`)
)

// The README gives a reason for each module that is used directly, and for no other.
func TestTheReadmeHasEachDependency(t *testing.T) {
	_, table, found := strings.Cut(read(t, "README.md"), "\n## Dependencies, each with its reason\n")
	table, _, more := strings.Cut(table, "\n## ")
	if !found || !more {
		t.Fatal("README.md has no table of dependencies")
	}
	reasons := map[string]bool{}
	for row := range strings.Lines(table) {
		if cells := strings.Split(row, "|"); len(cells) == 4 {
			for _, name := range module.FindAllString(cells[1], -1) {
				reasons[name] = strings.TrimSpace(cells[2]) != ""
			}
		}
	}
	direct := required.FindAllStringSubmatch(read(t, "go.mod"), -1)
	if len(direct) == 0 {
		t.Fatal("go.mod requires nothing")
	}
	for _, m := range direct {
		name := version.ReplaceAllString(m[1], "")
		if !reasons[name] {
			t.Errorf("README.md gives no reason for %s", name)
		}
		delete(reasons, name)
	}
	for name := range reasons {
		t.Errorf("README.md names %s, which go.mod does not require directly", name)
	}
}
