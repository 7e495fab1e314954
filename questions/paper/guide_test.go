package paper

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/guide"
)

// guides are those made so far, by roster and language. They are only read.
var guides sync.Map

func madeGuide(t testing.TB, name string, l catalogue.Language) *guide.Guide {
	t.Helper()
	key := [2]string{name, string(l)}
	if kept, ok := guides.Load(key); ok {
		return kept.(*guide.Guide)
	}
	c, err := catalogue.Builtin().In(l)
	if err != nil {
		t.Fatal(err)
	}
	roster, err := c.Roster(name)
	if err != nil {
		t.Fatal(err)
	}
	g, err := guide.New(c, roster, 1)
	if err != nil {
		t.Fatal(err)
	}
	guides.Store(key, g)
	return g
}

func printedGuide(t *testing.T, g *guide.Guide, size, kind string) ([]byte, int) {
	t.Helper()
	var b bytes.Buffer
	pages, err := WriteGuide(&b, size, kind, g)
	if err != nil {
		t.Fatalf("%s, %s, %s: %v", g.Roster, size, kind, err)
	}
	return b.Bytes(), pages
}

// Every roster fits on paper: the ready ones in both languages, on one paper in the
// one and on the other in the other, all animals in the language of the longer words
// on the shorter paper. What is printed again is the same.
func TestGuidesFitOnPaper(t *testing.T) {
	papers := []string{"a4", "letter"}
	for i, name := range catalogue.Rosters() {
		if name != "waterside" && !soak.Long() {
			continue
		}
		for j, l := range []catalogue.Language{catalogue.English, catalogue.Spanish} {
			size := papers[(i+j)%2]
			if name == "everything" {
				if size = "letter"; l == catalogue.English {
					continue
				}
			}
			g := madeGuide(t, name, l)
			pdf, pages := printedGuide(t, g, size, "all")
			if pages < 2*len(g.Animals) {
				t.Errorf("%s on %s: %d pages for %d animals", name, size, pages, len(g.Animals))
			}
			t.Logf("%s, %s on %s: %d pages, %d kB", name, l.Tag(), size, pages, len(pdf)/1000)
			if name == "waterside" && l == catalogue.English {
				if second, _ := printedGuide(t, g, size, "all"); !bytes.Equal(pdf, second) {
					t.Error("the same guide is printed to other bytes")
				}
			}
		}
	}
}

// A print on an animal's page is made smaller only if it is longer than the page
// by itself, and then says so.
func TestPrintsOfTheGuideAreLifeSize(t *testing.T) {
	g := madeGuide(t, "everything", catalogue.English)
	for size := range sizes {
		d := testDocument(t, size)
		w, h := d.column()
		prints, smaller := 0, []string{}
		for _, a := range g.Animals {
			for _, dr := range a.Drawings {
				if !strings.HasSuffix(dr.Ref.View, " print") {
					continue
				}
				prints++
				one := guide.Animal{Drawings: []guide.Drawing{dr}}
				bare := d.art(dr).bare()
				switch block := d.drawings(one, w, h)[0]; {
				case block.h >= bare.h:
				case bare.h < h-captionHeight && bare.w < w:
					t.Errorf("%s on %s: the %s is %.0f mm high and is printed smaller", a.Name, size, dr.Ref.View, bare.h)
				default:
					smaller = append(smaller, a.Name)
				}
			}
		}
		t.Logf("%s: %d prints, smaller than life are those of %v", size, prints, smaller)
		if prints < 100 || len(smaller) > 2 {
			t.Errorf("%s: %d prints were looked at, %v are smaller than life", size, prints, smaller)
		}
	}
}

// The bar of 5 cm of the beaver's hind print is measured on its page.
func TestAPrintOfTheGuideMeasuredOnPaper(t *testing.T) {
	g := madeGuide(t, "waterside", catalogue.English)
	i := slices.IndexFunc(g.Animals, func(a guide.Animal) bool { return a.Species.Name == "Castor canadensis" })
	k := slices.IndexFunc(g.Animals[i].Drawings, func(dr guide.Drawing) bool { return dr.Ref.View == "hind print" })
	hind := g.Animals[i].Drawings[k]
	if !strings.Contains(hind.Plate.SVG, ">5 cm</text>") {
		t.Fatal("the print has no bar of 5 cm any more: measure another")
	}
	d := testDocument(t, "a4")
	w, h := d.column()
	b := d.drawings(guide.Animal{Drawings: []guide.Drawing{hind}}, w, h)[0]
	_, high := d.page(false)
	b.draw(side, high-d.art(hind).h) // its foot, the bar, comes within what is scanned
	if got := longestRun(rendered(t, []byte(output(t, d)), 1)); math.Abs(got-50) > .8 {
		t.Errorf("the bar of 5 cm measures %.2f mm on the rendered page", got)
	}
}

// The check line of the guide's pages is 10 cm long.
func TestCheckLineOfTheGuide(t *testing.T) {
	pdf, _ := printedGuide(t, madeGuide(t, "waterside", catalogue.Spanish), "letter", "guide")
	if got := longestRun(rendered(t, pdf, 2)); math.Abs(got-100) > .5 {
		t.Errorf("the check line measures %.2f mm", got)
	}
}

// An outside reader finds the bookmarks, the title and the language.
func TestGuideHasBookmarks(t *testing.T) {
	tool := poppler(t, "pdftohtml")
	g := madeGuide(t, "waterside", catalogue.Spanish)
	pdf, pages := printedGuide(t, g, "a4", "guide")
	base := filepath.Join(t.TempDir(), "guide")
	if err := os.WriteFile(base+".pdf", pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(tool, "-xml", "-i", base+".pdf", base).CombinedOutput(); err != nil {
		t.Fatalf("pdftohtml: %v: %s", err, out)
	}
	xml, err := os.ReadFile(base + ".xml")
	if err != nil {
		t.Fatal(err)
	}
	_, outline, _ := strings.Cut(string(xml), "<outline>")
	last := 0
	for _, a := range g.Animals {
		_, rest, found := strings.Cut(outline, ">"+a.Name+"</item>")
		page := 0
		if before, _, ok := strings.Cut(outline, ">"+a.Name+"</item>"); ok {
			fmt.Sscanf(before[strings.LastIndex(before, `page="`):], `page="%d"`, &page)
		}
		if !found || page <= last || page > pages {
			t.Errorf("the bookmark of %s leads to page %d, after %d", a.Name, page, last)
		}
		last, outline = page, rest
	}
	if !bytes.Contains(pdf, []byte("/Lang (es)")) {
		t.Error("the file does not say its language")
	}
}

func TestNoOtherKindOfGuide(t *testing.T) {
	if _, err := WriteGuide(io.Discard, "a4", "poster", madeGuide(t, "waterside", catalogue.English)); err == nil || !strings.Contains(err.Error(), "worksheet") {
		t.Errorf("a poster: %v", err)
	}
}

func BenchmarkGuide(b *testing.B) {
	g := madeGuide(b, "furbearers", catalogue.English)
	for b.Loop() {
		if _, err := WriteGuide(io.Discard, "a4", "all", g); err != nil {
			b.Fatal(err)
		}
	}
}
