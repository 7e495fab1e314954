package paper

import (
	"bytes"
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

	"fieldsign/questions/catalogue"
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
		if err := sheets.sheets(items, false); err != nil {
			t.Fatal(err)
		}
		if err := cards.cards(items); err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			name, pdf string
			want      int
		}{
			{"sheets", output(t, sheets), sheets.pdf.PageCount()},
			{"cards", output(t, cards), len(items)},
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

// rendered is a page as a printer would see it, dark pixels true, at 200 dpi.
func rendered(t *testing.T, pdf []byte, page int) [][]bool {
	t.Helper()
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		if os.Getenv("FIELDSIGN_ALL") != "" {
			t.Fatal("pdftoppm is not installed (Debian: poppler-utils), and FIELDSIGN_ALL is set")
		}
		t.Skip("pdftoppm is not installed (Debian: poppler-utils)")
	}
	base := filepath.Join(t.TempDir(), "page")
	if err := os.WriteFile(base+".pdf", pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	n := strconv.Itoa(page)
	if out, err := exec.Command(tool, "-r", "200", "-gray", "-png", "-singlefile", "-f", n, base+".pdf", base).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	data, err := os.ReadFile(base + ".png")
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	rows := make([][]bool, img.Bounds().Dy())
	for y := range rows {
		rows[y] = make([]bool, img.Bounds().Dx())
		for x := range rows[y] {
			r, _, _, _ := img.At(x, y).RGBA()
			rows[y][x] = r < 0x8000
		}
	}
	return rows
}

// Pixels are counted, then turned into mm.
const perMM = 200 / 25.4

// longestRun of dark pixels within the lowest part of a page, in mm.
func longestRun(rows [][]bool) float64 {
	best := 0
	foot := len(rows) - 20*200/25
	for _, row := range rows[foot:] {
		run := 0
		for _, dark := range row {
			run++
			if !dark {
				run = 0
			}
			best = max(best, run)
		}
	}
	return float64(best) / perMM
}

func TestCheckLineInPixels(t *testing.T) {
	items := furbearers(t)[:3]
	var sheets, cards bytes.Buffer
	if err := Sheets(&sheets, "letter", items, false); err != nil {
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

// A plate's own bar is measured on paper: the bobcat's front print has one of 2 cm.
func TestLifeSizeOnPaper(t *testing.T) {
	items := furbearers(t)
	i := slices.IndexFunc(items, func(it Item) bool { return it.Species.Name == "Lynx rufus" && it.Kind == "front print" })
	if !strings.Contains(items[i].Plate.SVG, ">2 cm</text>") {
		t.Fatal("the bobcat's print has no bar of 2 cm any more: choose another plate")
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
	d.draw(art, 20, h-art.h, 1)
	rows := rendered(t, []byte(output(t, d)), 1)
	// the bar's outline adds its own weight to the length
	if got := longestRun(rows); math.Abs(got-20) > .8 {
		t.Errorf("the bar of 2 cm measures %.2f mm on the rendered page", got)
	}
}

func TestPages(t *testing.T) {
	items := furbearers(t)
	cards := testDocument(t, "a4")
	if err := cards.cards(items); err != nil {
		t.Fatal(err)
	}
	if got, want := cards.pdf.PageCount(), (len(items)+1)/2+1; got != want {
		t.Errorf("%d pages of cards, want %d and the key", got, want)
	}
	for size := range sizes {
		d := testDocument(t, size)
		all, err := d.layOut(items, true)
		if err != nil {
			t.Fatal(err)
		}
		checkSheets(t, d, all, len(items))
		if err := d.sheets(items, true); err != nil {
			t.Fatal(err)
		}
		if got, want := d.pdf.PageCount(), len(all)+1; got != want {
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

// A coyote's skull is larger than a page, and its trail is a reduced one to
// begin with: captions and plates have to say the scale that is printed.
func TestReducedPlatesSaySo(t *testing.T) {
	items := furbearers(t)[:5]
	d := testDocument(t, "a4")
	if err := d.cards(items); err != nil {
		t.Fatal(err)
	}
	pdf := output(t, d)
	for _, want := range []string{"(drawn at 1:2) Tj", "(life size) Tj", "(drawn at 1:30) Tj", "(schematic, 1 : 30) Tj", "(Whose skull is this?) Tj", "(Station 5) Tj"} {
		if !strings.Contains(pdf, want) {
			t.Errorf("the cards of a coyote say no %s", want)
		}
	}
}

func TestSameBytes(t *testing.T) {
	items := Shuffled(furbearers(t)[:9], 3)
	for name, write := range map[string]func(*bytes.Buffer) error{
		"sheets": func(b *bytes.Buffer) error { return Sheets(b, "a4", items, true) },
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
	}
}

// A sheet for a quiz tells nothing before its key.
func TestQuizTellsNothing(t *testing.T) {
	items := Shuffled(furbearers(t)[:9], 3)
	d := testDocument(t, "a4")
	if err := d.sheets(items, true); err != nil {
		t.Fatal(err)
	}
	before, key, _ := strings.Cut(output(t, d), "(Key to the plates)")
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
	items[0].Species.Vernacular = "лиса"
	if err := Sheets(&bytes.Buffer{}, "a4", items, false); err == nil || !strings.Contains(err.Error(), "can't be printed") {
		t.Errorf("a name in Cyrillic gives %v", err)
	}
	items[0].Species.Vernacular = "cacomixtle norteño"
	if err := Sheets(&bytes.Buffer{}, "a4", items, false); err != nil {
		t.Error(err)
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
	if !slices.Equal(kinds, []string{"print", "trail"}) {
		t.Errorf("a goose has %v", kinds)
	}
	for want, subjects := range map[string][]string{`"feather"`: {"feather"}, "no plate to draw": {"skull"}} {
		if _, _, err := Collect(cat, cat.Everything(), subjects, "Branta canadensis"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("a goose by %v: %v, want %q in it", subjects, err, want)
		}
	}
}
