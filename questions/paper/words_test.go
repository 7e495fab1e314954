package paper

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

var verb = regexp.MustCompile(`%[a-z]`)

// Whatever a paper says in English it has Spanish words for, that take the same
// values in the same order, and no words are left over.
func TestPapersHaveTheirSpanishWords(t *testing.T) {
	said := map[string]bool{safety: true, how: true, "skull": true, "track": true, "scat": true, "sign": true}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) == 0 {
				return true
			}
			method, ok := call.Fun.(*ast.SelectorExpr)
			text, literal := call.Args[0].(*ast.BasicLit)
			if ok && literal && method.Sel.Name == "say" {
				words, _ := strconv.Unquote(text.Value)
				said[words] = true
			}
			return true
		})
	}
	for english := range said {
		spanish, known := inSpanish[english]
		if !known || !slices.Equal(verb.FindAllString(english, -1), verb.FindAllString(spanish, -1)) {
			t.Errorf("%q is %q in Spanish", english, spanish)
		}
	}
	for english := range inSpanish {
		if !said[english] {
			t.Errorf("no paper says %q", english)
		}
	}
}

// A Spanish set and a Spanish station round fit on their papers.
func TestSpanishPapers(t *testing.T) {
	c, err := catalogue.Builtin().In(catalogue.Spanish)
	if err != nil {
		t.Fatal(err)
	}
	bank := questions.NewBank(c, c.Everything())
	set, err := bank.Set(questions.Wish{Count: 40, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	stations, err := bank.Stations(questions.StationWish{Stations: 8, Each: 3, Seed: 4, Replicas: []questions.Replica{{Station: 2, Species: "Castor canadensis", Subject: "skull"}}})
	if err != nil {
		t.Fatal(err)
	}
	quiz := Quiz{Catalogue: c, Title: "Repaso", Name: "everything, seed 3", Set: set, Papers: 2, PerStation: 3, Teams: 30}
	bench := Quiz{Catalogue: c, Title: "Banco", Name: "everything, seed 4", Teams: 3, Seconds: 90, Walk: 20}.Rotating(stations)
	for _, size := range []string{"a4", "letter"} {
		writtenAs(t, quiz, size, "all")
		writtenAs(t, bench, size, "all")
	}
	list, err := bench.stations()
	if err != nil {
		t.Fatal(err)
	}
	if got := list[1].lies(bench); got != "su réplica: castor americano, cráneo" {
		t.Errorf("at station 2 lies %q", got)
	}
	if got := list[0].span(bench.voice()); !strings.HasPrefix(got, "preguntas 1") {
		t.Errorf("the first station has %q", got)
	}
}
