// Package fieldsign_test holds what no single package can say of itself: which
// way imports run, and where the docs lead.
package fieldsign_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A rule is for a folder and those below it that have none of their own: what
// it may import of this module, and what of all else it must not. Both lists
// mean what lies below, too.
type rule struct {
	may   []string
	never []string
}

// pure is what the rules of a game do without: I/O, clocks, goroutines, dice.
var pure = []string{"net", "os", "time", "math/rand", "crypto/rand", "log", "sync", "syscall"}

// lab is what tests the hub and is shipped with no program.
var lab = []string{"fieldsign/hub/lab"}

var rules = map[string]rule{
	"refusal":                   {never: pure},
	"game":                      {may: []string{"game", "refusal"}, never: pure},
	"questions":                 {may: []string{"questions"}},
	"questions/catalogue":       {},
	"hub":                       {may: []string{"hub", "game", "questions", "refusal", "static"}, never: lab},
	"hub/register":              {may: []string{"hub/codes", "hub/retention", "hub/store", "hub/table", "hub/tournaments/book", "game"}, never: []string{"net", "os"}},
	"hub/console":               {may: []string{"hub/gate", "hub/picture", "hub/plan", "hub/table", "hub/wire", "game", "questions", "refusal", "static"}},
	"hub/webpage":               {may: []string{"hub/gate", "hub/once", "hub/plan", "questions", "static"}},
	"hub/table":                 {may: []string{"hub/audience", "hub/codes", "hub/gate", "hub/journal", "hub/names", "hub/picture", "hub/plan", "hub/retention", "hub/socket", "hub/store", "hub/view", "hub/wire", "game", "questions", "refusal"}, never: []string{"net", "os"}},
	"hub/view":                  {may: []string{"hub/picture", "hub/plan", "hub/wire", "game", "questions"}, never: []string{"net", "os", "time", "sync"}},
	"hub/journal":               {may: []string{"hub/retention", "hub/store", "hub/wire", "game"}, never: []string{"net", "os"}},
	"hub/audience":              {may: []string{"hub/link", "hub/socket", "hub/wire", "refusal"}, never: []string{"net", "os"}},
	"hub/socket":                {},
	"hub/codes":                 {},
	"hub/gate":                  {may: []string{"hub/wire", "refusal"}},
	"hub/picture":               {may: []string{"hub/picture", "hub/codes", "hub/once", "hub/store", "hub/wire", "game", "questions", "refusal"}},
	"hub/picture/photo":         {may: []string{"refusal"}},
	"hub/retention":             {may: []string{"hub/store", "hub/tournaments/book", "hub/wire", "game"}},
	"hub/report":                {may: []string{"hub/codes", "hub/picture", "hub/plan", "hub/retention", "hub/store", "hub/wire", "game", "questions"}},
	"hub/tournaments/book":      {may: []string{"hub/once", "hub/store", "game", "refusal"}},
	"hub/season":                {may: []string{"hub/codes", "hub/gate", "hub/names", "hub/once", "hub/plan", "hub/report", "hub/retention", "hub/store", "hub/tournaments/book", "hub/wire", "game", "refusal"}},
	"hub/coach":                 {may: []string{"hub/codes", "hub/gate", "hub/plan", "hub/season", "hub/store", "hub/wire", "game", "questions", "refusal"}},
	"hub/practice":              {may: []string{"hub/gate", "hub/once", "hub/picture", "hub/plan", "hub/wire", "questions", "refusal", "static"}},
	"hub/tournaments":           {may: []string{"hub/codes", "hub/gate", "hub/names", "hub/once", "hub/plan", "hub/retention", "hub/store", "hub/tournaments/book", "hub/wire", "game", "refusal"}},
	"hub/wire":                  {may: []string{"hub/plan", "hub/socket", "hub/store", "game", "questions", "refusal"}},
	"hub/plan":                  {may: []string{"hub/codes", "hub/names", "hub/once", "game", "questions", "refusal"}},
	"hub/store/redis/redistest": {may: []string{"hub/lab"}}, // for tests too
	"hub/lab":                   {may: []string{"hub", "game", "questions", "refusal"}},
	"static":                    {},
	"static/gallery":            {may: []string{"static"}},
	"cmd":                       {may: []string{"cmd", "hub", "game", "questions", "static"}},
	"cmd/fieldsign":             {may: []string{"cmd", "hub", "game", "questions", "static"}, never: lab},
}

func TestImportsRunOneWay(t *testing.T) {
	files := 0
	err := fs.WalkDir(os.DirFS("."), ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata"):
			return fs.SkipDir
		case !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		files++
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range f.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			if why := offence(path.Dir(name), imported); why != "" {
				t.Errorf("%s imports %s: %s", name, imported, why)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files == 0 {
		t.Fatal("no Go file was found: the test looks in the wrong place")
	}
}

// The check itself is checked, so that it can't pass by seeing nothing.
func TestOffence(t *testing.T) {
	for _, tc := range []struct {
		dir, imported string
		allowed       bool
	}{
		{"game", "fmt", true},
		{"game", "golang.org/x/text/unicode/norm", true},
		{"game/debrief", "fieldsign/game", true},
		{"game", "fieldsign/game/rating", true},
		{"game", "fieldsign/hub", false},
		{"game/rating", "fieldsign/questions/plate", false},
		{"game/rating", "time", false},
		{"game", "net/http", false},
		{"game", "math/rand/v2", false},
		{"questions", "math/rand/v2", true},
		{"questions", "fieldsign/questions/catalogue", true},
		{"questions", "fieldsign/game", false},
		{"questions/plate", "fieldsign/hub", false},
		{"questions/catalogue", "fieldsign/questions", false},
		{"questions/catalogue/sheets", "fieldsign/game", false},
		{"hub/store/bolt", "fieldsign/hub/store", true},
		{"hub", "fieldsign/cmd/fieldsign", false},
		{"hub/store/bolt", "fieldsign/hub/lab/faults", false},
		{"hub/lab/fair", "fieldsign/hub/link", true},
		{"cmd/fieldsign", "fieldsign/hub/lab/flaky", false},
		{"cmd/fairsim", "fieldsign/hub/lab/fair", true},
		{"static", "fieldsign/hub", false},
		{"cmd/fieldsign", "fieldsign/hub/store/bolt", true},
		{"newcomer", "fmt", false},
		{"gameshow", "fmt", false},
		{".", "fmt", false},
	} {
		if why := offence(tc.dir, tc.imported); (why == "") != tc.allowed {
			t.Errorf("%s importing %s: allowed should be %v, got %q", tc.dir, tc.imported, tc.allowed, why)
		}
	}
}

// offence says why a folder may not import a package, or "".
func offence(dir, imported string) string {
	r, ok := ruleOf(dir)
	if !ok {
		return "the folder " + dir + " has no rule: add one to rules in imports_test.go"
	}
	within := func(pkg string) func(string) bool {
		return func(folder string) bool { return pkg == folder || strings.HasPrefix(pkg, folder+"/") }
	}
	if own, ours := strings.CutPrefix(imported, "fieldsign/"); ours && !slices.ContainsFunc(r.may, within(own)) {
		return dir + " may import of this module only: " + strings.Join(r.may, ", ")
	}
	if slices.ContainsFunc(r.never, within(imported)) {
		return dir + " has to stay free of " + strings.Join(r.never, ", ")
	}
	return ""
}

// ruleOf is the rule of the nearest folder upwards that has one.
func ruleOf(dir string) (rule, bool) {
	for ; dir != "."; dir = path.Dir(dir) {
		if r, ok := rules[dir]; ok {
			return r, true
		}
	}
	return rule{}, false
}

// shunned is what nothing of the program that is shipped may use itself: other
// programs, code from elsewhere, memory past Go's checks, and broken ciphers. The
// command line opens the host's browser.
var shunned = []string{"os/exec", "plugin", "unsafe", "encoding/gob", "crypto/md5", "crypto/sha1", "crypto/des", "crypto/rc4"}

func TestTheProgramShunsWhatIsDangerous(t *testing.T) {
	list := exec.Command("go", "list", "-deps", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "./cmd/fieldsign")
	out, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	packages := 0
	for line := range strings.Lines(string(out)) {
		name, imports, _ := strings.Cut(strings.TrimSpace(line), " ")
		if !strings.HasPrefix(name, "fieldsign/") {
			continue
		}
		packages++
		if strings.HasPrefix(name, lab[0]+"/") {
			t.Errorf("%s is shipped", name)
		}
		for imported := range strings.FieldsSeq(imports) {
			if slices.Contains(shunned, imported) && !(imported == "os/exec" && name == "fieldsign/cmd/fieldsign") {
				t.Errorf("%s imports %s", name, imported)
			}
		}
	}
	if packages < 20 {
		t.Errorf("only %d packages were seen", packages)
	}
	commands, err := filepath.Glob("cmd/fieldsign/*.go")
	if err != nil {
		t.Fatal(err)
	}
	others := slices.DeleteFunc(commands, func(file string) bool {
		return strings.HasSuffix(file, "_test.go") || !strings.Contains(read(t, file), "\"os/exec\"\n")
	})
	if !slices.Equal(others, []string{"cmd/fieldsign/open.go"}) {
		t.Errorf("%v start other programs: only the file that opens the browser may", others)
	}
}

var unraced = regexp.MustCompile(`(?m)^UNRACED = (.*)$`)

// What make soak tests without the race detector starts no goroutine, and has
// no tests that run beside others: cmd/fieldsign apart.
func TestTheRaceDetectorMissesNothing(t *testing.T) {
	line := unraced.FindStringSubmatch(read(t, "Makefile"))
	if line == nil {
		t.Fatal("the Makefile has no UNRACED")
	}
	list := append([]string{"list", "-f", `{{if ne .ImportPath "fieldsign/cmd/fieldsign"}}{{.Dir}}{{end}}`}, strings.Fields(line[1])...)
	out, err := exec.Command("go", list...).Output()
	if err != nil {
		t.Fatal(err)
	}
	for dir := range strings.FieldsSeq(string(out)) {
		names, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil || len(names) == 0 {
			t.Fatalf("no Go file in %s (%v)", dir, err)
		}
		for _, name := range names {
			files := token.NewFileSet()
			f, err := parser.ParseFile(files, name, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if startsGoroutine(n) {
					t.Errorf("%v starts a goroutine: take its package out of UNRACED in the Makefile", files.Position(n.Pos()))
				}
				return true
			})
		}
	}
}

// startsGoroutine is true of a go statement, and of the methods that are one: a
// wait group's Go, a test's Parallel.
func startsGoroutine(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.GoStmt:
		return true
	case *ast.SelectorExpr:
		return n.Sel.Name == "Go" || n.Sel.Name == "Parallel"
	}
	return false
}
