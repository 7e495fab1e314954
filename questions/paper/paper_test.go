package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

var straight = regexp.MustCompile(`(?m)^([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l S$`)

// checkLines are the lengths, in mm, of the level lines of 90 mm and more in
// an uncompressed PDF, from its points of 1/72 inch.
func checkLines(pdf string) []float64 {
	var out []float64
	for _, m := range straight.FindAllStringSubmatch(pdf, -1) {
		var x [4]float64
		for i := range x {
			x[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		if mm := (x[2] - x[0]) / 72 * 25.4; x[1] == x[3] && math.Abs(mm-100) < 3 {
			out = append(out, mm)
		}
	}
	return out
}

func TestCheckLineInPointsOfThePDF(t *testing.T) {
	items := furbearers(t)[:7]
	for size := range sizes {
		sheets, cards := testDocument(t, size), testDocument(t, size)
		if err := sheets.sheets(items, false, 0); err != nil {
			t.Fatal(err)
		}
		if err := cards.cards(items); err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			name, pdf string
			want      int
		}{
			{"sheets", readable(t, sheets), sheets.pdf.PageCount()},
			{"cards", readable(t, cards), len(items)},
		} {
			got := checkLines(c.pdf)
			if len(got) != c.want {
				t.Errorf("%s on %s: %d check lines, want %d", c.name, size, len(got), c.want)
			}
			for _, mm := range got {
				if math.Abs(mm-100) > .01 {
					t.Errorf("%s on %s: a check line of %.3f mm", c.name, size, mm)
				}
			}
			for _, words := range []string{"check line 10 cm: measure it; print at 100 %", "schematic"} {
				if n := strings.Count(c.pdf, "("+words+") Tj"); n < c.want {
					t.Errorf("%s on %s: %q is written %d times, want %d", c.name, size, words, n, c.want)
				}
			}
		}
	}
}

// poppler is where one of its programs lies.
func poppler(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("FIELDSIGN_ALL") != "" {
			t.Fatalf("%s is not installed (Debian: poppler-utils), and FIELDSIGN_ALL is set", name)
		}
		t.Skipf("%s is not installed (Debian: poppler-utils)", name)
	}
	return path
}

// rendered is a page as a printer would see it, in grey at 200 dpi.
func rendered(t *testing.T, pdf []byte, page int) image.Image {
	t.Helper()
	return render(t, pdf, page, "-r", "200", "-gray")
}

func render(t *testing.T, pdf []byte, page int, flags ...string) image.Image {
	t.Helper()
	tool := poppler(t, "pdftoppm")
	base := filepath.Join(t.TempDir(), "page")
	if err := os.WriteFile(base+".pdf", pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(tool, append(flags, "-png", "-singlefile", "-f", strconv.Itoa(page), base+".pdf", base)...).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	f, err := os.Open(base + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// longestRun of dark pixels within the lowest 20 mm of a page, in mm.
func longestRun(page image.Image) float64 {
	best := 0
	size := page.Bounds().Size()
	for y := size.Y - 20*200/25; y < size.Y; y++ {
		run := 0
		for x := range size.X {
			run++
			if red, _, _, _ := page.At(x, y).RGBA(); red >= 0x8000 {
				run = 0
			}
			best = max(best, run)
		}
	}
	return float64(best) / 200 * 25.4
}

func TestCheckLineInPixels(t *testing.T) {
	items := furbearers(t)[:3]
	var sheets, cards bytes.Buffer
	if err := Sheets(&sheets, "letter", items, false, 0); err != nil {
		t.Fatal(err)
	}
	if err := Cards(&cards, "a4", items); err != nil {
		t.Fatal(err)
	}
	for name, pdf := range map[string][]byte{"sheets": sheets.Bytes(), "cards": cards.Bytes()} {
		if got := longestRun(rendered(t, pdf, 1)); math.Abs(got-100) > .5 {
			t.Errorf("%s: the check line measures %.2f mm on the rendered page", name, got)
		}
	}
}

// A plate's own bar of 5 cm is measured on paper.
func TestLifeSizeOnPaper(t *testing.T) {
	items := furbearers(t)
	i := slices.IndexFunc(items, func(it Item) bool {
		return it.Kind == "hind print" && strings.Contains(it.Plate.SVG, ">5 cm</text>")
	})
	if i < 0 {
		t.Fatal("no hind print has a bar of 5 cm any more: measure another")
	}
	art, err := readDrawing(items[i].Plate.SVG)
	if err != nil {
		t.Fatal(err)
	}
	d, err := newDocument("a4")
	if err != nil {
		t.Fatal(err)
	}
	_, h := d.page(false)
	d.draw(art, 20, h-art.h, 1) // its foot, the bar, comes within what is scanned
	// the bar's outline adds its own weight to the length
	if got := longestRun(rendered(t, []byte(output(t, d)), 1)); math.Abs(got-50) > .8 {
		t.Errorf("%s: the bar of 5 cm measures %.2f mm on the rendered page", items[i].Species.Name, got)
	}
}

// A skull's length is measured on paper, from the side and from above.
func TestSkullsLifeSizeOnPaper(t *testing.T) {
	for _, name := range []string{"Taxidea taxus", "Procyon lotor", "Castor canadensis"}[:soak.Size(1, 3)] {
		s, _ := catalogue.Builtin().Find(name)
		long := (s.Values["skull_length"].Lo + s.Values["skull_length"].Hi) / 2
		side, _ := plate.SkullSide(s)
		above, _ := plate.SkullAbove(s)
		across := inkedColumns(onPage(t, side.SVG), .3*long)
		down := inkedRows(onPage(t, above.SVG))
		for view, got := range map[string]float64{"side": across, "above": down} {
			if math.Abs(got-long) > .01*long {
				t.Errorf("%s from %s measures %.2f mm on the rendered page, should be %.2f", name, view, got, long)
			}
		}
	}
}

// onPage is a drawing on a page of its own, rendered.
func onPage(t *testing.T, svg string) image.Image {
	t.Helper()
	art, err := readDrawing(svg)
	if err != nil {
		t.Fatal(err)
	}
	d, err := newDocument("a4")
	if err != nil {
		t.Fatal(err)
	}
	d.page(false)
	d.draw(art, 10, 10, 1)
	return rendered(t, []byte(output(t, d)), 1)
}

// inkedRows is the longest run of rows with ink on them, in mm, which leaves
// out the captions.
func inkedRows(page image.Image) float64 {
	size := page.Bounds().Size()
	return longest(size.Y, func(y int) bool {
		for x := range size.X {
			if dark(page, x, y) {
				return true
			}
		}
		return false
	})
}

// inkedColumns is the same across the page, in the uppermost so many mm that
// have ink on them.
func inkedColumns(page image.Image, mm float64) float64 {
	size := page.Bounds().Size()
	top := 0
	for found := false; !found; top++ {
		for x := range size.X {
			found = found || dark(page, x, top)
		}
	}
	return longest(size.X, func(x int) bool {
		for y := top; y < top+int(mm/25.4*200); y++ {
			if dark(page, x, y) {
				return true
			}
		}
		return false
	})
}

func dark(page image.Image, x, y int) bool {
	red, _, _, _ := page.At(x, y).RGBA()
	return red < 0x8000
}

func longest(n int, inked func(int) bool) float64 {
	best, run := 0, 0
	for i := range n {
		run++
		if !inked(i) {
			run = 0
		}
		best = max(best, run)
	}
	return float64(best) / 200 * 25.4
}

func TestPages(t *testing.T) {
	all := furbearers(t)
	few := all[:11]
	cards := testDocument(t, "a4")
	if err := cards.cards(few); err != nil {
		t.Fatal(err)
	}
	if got, want := cards.pdf.PageCount(), (len(few)+1)/2+1; got != want {
		t.Errorf("%d pages of cards, want %d with the key", got, want)
	}
	for size := range sizes {
		d := testDocument(t, size)
		sheets, err := d.layOut(all, true, 0)
		if err != nil {
			t.Fatal(err)
		}
		checkSheets(t, d, sheets, len(all))
		if sheets, err = d.layOut(few, true, 0); err != nil {
			t.Fatal(err)
		}
		if err := d.sheets(few, true, 0); err != nil {
			t.Fatal(err)
		}
		if got, want := d.pdf.PageCount(), len(sheets)+1; got != want {
			t.Errorf("%s: %d pages, want %d with the key", size, got, want)
		}
	}
}

// checkSheets holds the layout to its promises: each plate once, none beyond
// the paper or over another, none smaller than it has to be.
func checkSheets(t *testing.T, d *document, all []*sheet, want int) {
	t.Helper()
	seen := map[string]bool{}
	for _, s := range all {
		for i, c := range s.cells {
			seen[c.number] = true
			if !fits(c.x+c.w, c.y+c.h, s.room) {
				t.Errorf("plate %s runs off the page", c.number)
			}
			for _, o := range s.cells[:i] {
				if c.x < o.x+o.w && o.x < c.x+c.w && c.y < o.y+o.h && o.y < c.y+c.h {
					t.Errorf("plates %s and %s overlap", o.number, c.number)
				}
			}
			if next := c.den - 1; next > 0 && (fits(c.art.w/next, c.art.h/next+captionHeight, d.room(false)) || fits(c.art.w/next, c.art.h/next+captionHeight, d.room(true))) {
				t.Errorf("plate %s is drawn at 1:%g, but fits at 1:%g", c.number, c.den, next)
			}
		}
	}
	if len(seen) != want {
		t.Errorf("%d plates are laid out, want %d", len(seen), want)
	}
}

// sized is a plate of a size, with or without a bar, that says some words.
func sized(kind string, w, h int, mark, words string) Item {
	svg := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%dmm" height="%dmm" viewBox="0 0 %[1]d %[2]d">`+
		`<path data-n="%[3]s" d="M1 1h10"/><text x="9" y="9" font-size="4" text-anchor="end" stroke="none">%[4]s</text></svg>`, w, h, mark, words)
	return Item{Kind: kind, Plate: plate.Plate{SVG: svg}}
}

// Captions, and a plate that is a reduced one to begin with, have to say the
// scale that is printed.
func TestReducedPlatesSaySo(t *testing.T) {
	items := []Item{
		sized("scat", 50, 50, "bar", "schematic"),
		sized("skull", 150, 220, "bar", "schematic"),
		sized("trail", 260, 60, "bar", "schematic, 1 : 10"),
		sized("trail", 90, 60, "bar", "schematic, 1 : 5"),
		sized("print", 300, 60, "", "schematic"),
	}
	number(items)
	d := testDocument(t, "a4")
	if err := d.cards(items); err != nil {
		t.Fatal(err)
	}
	pdf := readable(t, d)
	for _, want := range []string{"life size", "drawn at 1:2", "drawn at 1:30", "schematic, 1 : 30", "drawn at 1:5", "schematic, 1 : 5", "not to scale",
		"Whose skull is this?", "Station 5"} {
		if n := strings.Count(pdf, "("+want+") Tj"); n != 1 {
			t.Errorf("the cards say %d times %q, want once", n, want)
		}
	}
}

func TestSameBytes(t *testing.T) {
	items := Shuffled(furbearers(t)[:9], 3)
	for name, write := range map[string]func(*bytes.Buffer) error{
		"sheets": func(b *bytes.Buffer) error { return Sheets(b, "a4", items, true, 0) },
		"cards":  func(b *bytes.Buffer) error { return Cards(b, "letter", items) },
	} {
		var a, b bytes.Buffer
		if err := write(&a); err != nil {
			t.Fatal(err)
		}
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s differ from one run to the next", name)
		}
		if n := bytes.Count(a.Bytes(), []byte("Date (D:20000101000000")); n != 2 {
			t.Errorf("%s: %d fixed dates, want that of creation and that of change", name, n)
		}
	}
}

// A sheet for a quiz tells nothing before its key.
func TestQuizTellsNothing(t *testing.T) {
	items := Shuffled(furbearers(t)[:9], 3)
	d := testDocument(t, "a4")
	if err := d.sheets(items, true, 0); err != nil {
		t.Fatal(err)
	}
	before, key, _ := strings.Cut(readable(t, d), "(Key to the plates)")
	for _, it := range items {
		for _, name := range []string{it.Species.Name, it.Species.Vernacular} {
			if strings.Contains(before, name) || !strings.Contains(key, name) {
				t.Errorf("%s should stand in the key and nowhere before it", name)
			}
		}
	}
}

func TestWordsBeyondTheFontFail(t *testing.T) {
	items := furbearers(t)[:1]
	items[0].Species.Vernacular = "狐"
	if err := Sheets(&bytes.Buffer{}, "a4", items, false, 0); err == nil || !strings.Contains(err.Error(), "can't be printed") {
		t.Errorf("a name in Chinese gives %v", err)
	}
	for _, name := range []string{"cacomixtle norteño", "лиса", "αλεπού"} {
		items[0].Species.Vernacular = name
		if err := Sheets(&bytes.Buffer{}, "a4", items, false, 0); err != nil {
			t.Error(err)
		}
	}
}

func TestCollect(t *testing.T) {
	cat := catalogue.Builtin()
	items, _, err := Collect(cat, cat.Everything(), []string{"track"}, "Branta canadensis")
	if err != nil {
		t.Fatal(err)
	}
	var kinds []string
	for i, it := range items {
		if it.Number != i+1 {
			t.Errorf("item %d is numbered %d", i+1, it.Number)
		}
		kinds = append(kinds, it.Kind)
	}
	if len(kinds) == 0 || kinds[0] != "print" {
		t.Errorf("a goose has %v", kinds)
	}
	for want, subjects := range map[string][]string{`"feather"`: {"feather"}, "no plate to draw": {"skull"}} {
		if _, _, err := Collect(cat, cat.Everything(), subjects, "Branta canadensis"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("a goose by %v: %v, want %q in it", subjects, err, want)
		}
	}
}

// Plates share a page as a host wishes; prints and scat stay at life size for it,
// and what is too large for its share has a page of its own.
func TestPlatesShareAPage(t *testing.T) {
	all := furbearers(t)
	for _, perPage := range shares[1:] {
		d := testDocument(t, "a4")
		sheets, err := d.layOut(all, false, perPage)
		if err != nil {
			t.Fatal(err)
		}
		place, placed, most := placeIn(d.room(false), perPage), 0, 0
		for _, s := range sheets {
			placed, most = placed+len(s.cells), max(most, len(s.cells))
			for i, c := range s.cells {
				if s.shared > 0 && (!fits(c.w, c.h, place) || !fits(c.x+c.w, c.y+c.h, s.room)) {
					t.Errorf("%d to a page: %s is %.0f by %.0f mm, in a place of %.0f by %.0f", perPage, c.caption, c.w, c.h, place.Wd, place.Ht)
				}
				if isPrint := strings.Contains(c.caption[1], "print,") || strings.HasPrefix(c.caption[1], "scat,"); isPrint && c.den != 1 {
					t.Errorf("%d to a page: %s is drawn at 1:%g", perPage, c.caption, c.den)
				}
				for _, o := range s.cells[:i] {
					if c.x < o.x+o.w && o.x < c.x+c.w && c.y < o.y+o.h && o.y < c.y+c.h {
						t.Errorf("%d to a page: %s lies over %s", perPage, c.caption, o.caption)
					}
				}
			}
		}
		t.Logf("%d to a page: %d plates on %d pages", perPage, placed, len(sheets))
		if placed != len(all) || most != perPage {
			t.Errorf("%d to a page: %d of %d plates are placed, at most %d to a page", perPage, placed, len(all), most)
		}
	}
	if err := Sheets(new(bytes.Buffer), "a4", all, false, 3); err == nil {
		t.Error("three plates share a page")
	}
}
