package fieldsign_test

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Bounds of a package of the hub.
const (
	mostLines  = 1500
	mostCircle = 5 // files each of which needs all the others
)

// unbounded are the stores, a type with many methods each, and only told of: ADR 0073.
var unbounded = []string{"hub/store/bolt", "hub/store/redis"}

// A room of the hub can be read at one sitting.
func TestRoomsAreSmall(t *testing.T) {
	rooms := map[string][]string{}
	err := fs.WalkDir(os.DirFS("."), "hub", func(name string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") {
			rooms[path.Dir(name)] = append(rooms[path.Dir(name)], name)
		}
		return err
	})
	if err != nil || len(rooms) < 20 {
		t.Fatalf("%d packages of the hub were found (%v)", len(rooms), err)
	}
	for dir, files := range rooms {
		lines, circle := 0, largestCircle(needs(t, files))
		for _, name := range files {
			source, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			lines += bytes.Count(source, []byte("\n"))
		}
		t.Logf("%-28s %3d files %5d lines, largest circle %v", dir, len(files), lines, circle)
		if !slices.Contains(unbounded, dir) && (lines > mostLines || len(circle) > mostCircle) {
			t.Errorf("%s has %d lines, and a circle of %d files: at most %d and %d are allowed", dir, lines, len(circle), mostLines, mostCircle)
		}
	}
}

func TestLargestCircle(t *testing.T) {
	graph := map[string]map[string]bool{"a": {"b": true}, "b": {"c": true}, "c": {"a": true, "d": true}, "d": {}}
	if got := largestCircle(graph); len(got) != 3 || slices.Contains(got, "d") {
		t.Errorf("the largest circle is %v", got)
	}
}

// needs tells of a package's files which others each needs: by the name of a
// function, a type, a variable or a method that is declared there.
func needs(t *testing.T, files []string) map[string]map[string]bool {
	t.Helper()
	declared, graph := map[string][]string{}, map[string]map[string]bool{}
	parsed := map[string]*ast.File{}
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		base := filepath.Base(name)
		parsed[base], graph[base] = f, map[string]bool{}
		for _, d := range declaredIn(f) {
			declared[d] = append(declared[d], base)
		}
	}
	for base, f := range parsed {
		for _, used := range usedIn(f) {
			for _, other := range declared[used] {
				if !slices.Contains(declared[used], base) {
					graph[base][other] = true
				}
			}
		}
	}
	return graph
}

// declaredIn are the names that a file declares; a method's begins with a dot.
func declaredIn(f *ast.File) (names []string) {
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv != nil {
				names = append(names, "."+d.Name.Name)
			} else {
				names = append(names, d.Name.Name)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				switch s := s.(type) {
				case *ast.TypeSpec:
					names = append(names, s.Name.Name)
				case *ast.ValueSpec:
					for _, id := range s.Names {
						names = append(names, id.Name)
					}
				}
			}
		}
	}
	return names
}

// usedIn are the names that a file uses; what follows a dot keeps it, unless it is
// of another package.
func usedIn(f *ast.File) (names []string) {
	imported := map[string]bool{}
	for _, spec := range f.Imports {
		imported[path.Base(strings.Trim(spec.Path.Value, `"`))] = true
	}
	selected := map[*ast.Ident]bool{}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); !ok || !imported[x.Name] {
				names = append(names, "."+n.Sel.Name)
			}
			selected[n.Sel] = true
		case *ast.Ident:
			if !selected[n] {
				names = append(names, n.Name)
			}
		}
		return true
	})
	return names
}

// largestCircle is the most nodes that all reach each other.
func largestCircle(graph map[string]map[string]bool) (largest []string) {
	reach := map[string]map[string]bool{}
	for from := range graph {
		reach[from] = map[string]bool{}
		for stack := []string{from}; len(stack) > 0; {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for to := range graph[at] {
				if !reach[from][to] {
					reach[from][to] = true
					stack = append(stack, to)
				}
			}
		}
	}
	for from := range graph {
		var circle []string
		for to := range reach[from] {
			if reach[to][from] {
				circle = append(circle, to)
			}
		}
		if len(circle) > len(largest) {
			largest = circle
		}
	}
	slices.Sort(largest)
	return largest
}
