package paper

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"image/color"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// banks are built once for all tests.
var banks = sync.OnceValues(func() (map[string]*questions.Bank, error) {
	out := map[string]*questions.Bank{}
	for _, name := range catalogue.Rosters() {
		roster, err := catalogue.Builtin().Roster(name)
		if err != nil {
			return nil, err
		}
		out[name] = questions.NewBank(catalogue.Builtin(), roster)
	}
	return out, nil
})

type fataler interface {
	Helper()
	Fatal(...any)
}

func quizOf(t fataler, roster string, w questions.Wish) Quiz {
	t.Helper()
	all, err := banks()
	if err != nil {
		t.Fatal(err)
	}
	set, err := all[roster].Set(w)
	if err != nil {
		t.Fatal(err)
	}
	return Quiz{Catalogue: catalogue.Builtin(), Title: "Review quiz", Name: fmt.Sprintf("%s, %d questions", roster, w.Count),
		Set: slices.Clone(set), Seed: w.Seed, Papers: 2, PerStation: 3, Teams: 12}
}

// plated is a set that has drawings of all sizes.
func plated(t fataler) Quiz {
	return quizOf(t, "everything", questions.Wish{Count: 40, Seed: 5})
}

func versionsOf(t fataler, q Quiz) []version {
	t.Helper()
	all, err := q.versions()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func writtenAs(t *testing.T, q Quiz, size, kind string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := q.Write(&b, size, kind); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// No question is split, moved out of its order or set beyond the page's edge.
func TestRandomSetsKeepToTheirPages(t *testing.T) {
	flag.Set("rapid.checks", strconv.Itoa(soak.Size(20, 100)))
	rapid.Check(t, func(t *rapid.T) {
		q := quizOf(t, rapid.SampledFrom(catalogue.Rosters()).Draw(t, "roster"),
			questions.Wish{Count: rapid.IntRange(1, 15).Draw(t, "count"), Seed: rapid.Uint64().Draw(t, "seed")})
		q.PerStation = rapid.IntRange(1, 5).Draw(t, "per station")
		d, err := newDocument(rapid.SampledFrom([]string{"a4", "letter"}).Draw(t, "size"))
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range versionsOf(t, q) {
			checkQuiz(t, d, q, v)
		}
		if err := d.stationCards(q); err != nil {
			t.Fatal(err)
		}
	})
}

func checkQuiz(t *rapid.T, d *document, q Quiz, v version) {
	blocks := d.quizBlocks(q, v)
	w, h := d.column()
	pages, err := paginate(blocks, questionGap, h)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for i, page := range pages {
		end := 0.
		for j, b := range page {
			if b.w > w+.01 || b.y < end || b.y+b.h > h+.01 {
				t.Errorf("page %d: %q lies at %.1f, %.1f by %.1f, on a page of %.1f by %.1f, below what ends at %.1f", i+1, b.what, b.y, b.w, b.h, w, h, end)
			}
			if heads := i == 0 && j == 0; !heads {
				n++
				if want := fmt.Sprintf("question %d", n); b.what != want {
					t.Errorf("%q stands where %s is due", b.what, want)
				}
			}
			end = b.y + b.h
		}
	}
	if n != len(q.Set) {
		t.Errorf("%d questions are set, want %d", n, len(q.Set))
	}
}

// wordBoxes are where pdftotext finds each word of a PDF.
type wordBoxes struct {
	Pages []struct {
		W     float64 `xml:"width,attr"`
		H     float64 `xml:"height,attr"`
		Words []struct {
			Left   float64 `xml:"xMin,attr"`
			Top    float64 `xml:"yMin,attr"`
			Right  float64 `xml:"xMax,attr"`
			Bottom float64 `xml:"yMax,attr"`
			Text   string  `xml:",chardata"`
		} `xml:"word"`
	} `xml:"body>doc>page"`
}

func boxesOf(t *testing.T, pdf []byte) wordBoxes {
	t.Helper()
	file := filepath.Join(t.TempDir(), "set.pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(poppler(t, "pdftotext"), "-bbox", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	var boxes wordBoxes
	decoder := xml.NewDecoder(bytes.NewReader(out))
	decoder.Strict, decoder.Entity = false, xml.HTMLEntity
	if err := decoder.Decode(&boxes); err != nil {
		t.Fatal(err)
	}
	return boxes
}

// Another program finds every word within the margins and none over another.
// The words of a drawing are its own affair: sets without drawings are tried.
func TestNoWordIsClippedOrCovered(t *testing.T) {
	const edge, touch = 5 / pointMM, .8
	q := quizOf(t, "everything", questions.Wish{Count: 60, Seed: 2})
	q.Set = slices.DeleteFunc(q.Set, func(q questions.Question) bool { return q.Plate != nil || q.Options[0].Plate != nil })
	q.PerStation = 5
	for size := range sizes {
		for i, page := range boxesOf(t, writtenAs(t, q, size, "all")).Pages {
			if len(page.Words) < 20 {
				t.Errorf("%s, page %d: %d words only", size, i+1, len(page.Words))
			}
			for j, a := range page.Words {
				if a.Left < edge || a.Top < edge || a.Right > page.W-edge || a.Bottom > page.H-edge {
					t.Errorf("%s, page %d: %q stands too near the edge", size, i+1, a.Text)
				}
				for _, b := range page.Words[:j] {
					// boxes are as high as the font's tallest letter, so lines touch
					if min(a.Right, b.Right)-max(a.Left, b.Left) > touch && min(a.Bottom, b.Bottom)-max(a.Top, b.Top) > 2 {
						t.Errorf("%s, page %d: %q stands over %q", size, i+1, a.Text, b.Text)
					}
				}
			}
		}
	}
}

// The second paper asks the same and has the same keys, in another order.
func TestTwoPapers(t *testing.T) {
	q := plated(t)
	v := versionsOf(t, q)
	moved, relettered := 0, 0
	for i, b := range v[1].asked {
		a := v[0].asked[b.of]
		if a.Prompt != b.Prompt || a.Options[a.Key].Text != b.Options[b.Key].Text || len(a.Options) != len(b.Options) {
			t.Errorf("B%d and A%d differ: %v, %v", b.number, a.number, b.Question, a.Question)
		}
		for _, o := range a.Options {
			if !slices.ContainsFunc(b.Options, func(p questions.Option) bool { return p.Text == o.Text }) {
				t.Errorf("B%d lacks the option %q", b.number, o.Text)
			}
		}
		if b.of != i {
			moved++
		}
		if a.drawn != nil && a.Key != b.Key {
			t.Errorf("B%d moves the drawings that its reason calls by letters", b.number)
		}
		if a.Key != b.Key {
			relettered++
		}
	}
	if moved < 30 || relettered < 20 {
		t.Errorf("of 40 questions %d are moved and %d have another letter", moved, relettered)
	}
	for i, a := range v[0].asked {
		if a.of != i || a.ID != q.Set[i].ID || !slices.Equal(a.Options, q.Set[i].Options) {
			t.Errorf("paper A changes question %d", i+1)
		}
	}
}

func TestStations(t *testing.T) {
	for per := 1; per <= 5; per++ {
		q := plated(t)
		q.PerStation = per
		all, err := q.stations()
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for i, s := range all {
			drawings := 0
			if s.ofDrawings() && len(s.asked) > 1 {
				t.Errorf("station %d asks more than which of its drawings", i+1)
			}
			for _, a := range s.asked {
				n++
				if a.number != n {
					t.Errorf("station %d asks question %d where %d is due", i+1, a.number, n)
				}
				if a.Plate != nil {
					drawings++
				}
			}
			if s.number != i+1 || len(s.asked) < 1 || len(s.asked) > per || drawings > 1 || (drawings == 1) != (s.art != nil) {
				t.Errorf("station %d of %d to a station has number %d, %d questions, %d drawings", i+1, per, s.number, len(s.asked), drawings)
			}
		}
		if n != len(q.Set) {
			t.Errorf("%d questions at stations, want %d", n, len(q.Set))
		}
	}
}

// A drawing is printed at life size if it fits, and says so where it doesn't.
func TestScaleOfDrawings(t *testing.T) {
	q := quizOf(t, "furbearers", questions.Wish{Count: 1, Seed: 2})
	for _, c := range []struct {
		w, h int
		want string
	}{
		{60, 80, "life size"}, {60, 200, "life size"}, {165, 150, "life size"},
		{165, 250, "drawn at 1:3"}, {200, 100, "drawn at 1:2.5"}, {800, 1200, "drawn at 1:14"},
	} {
		art, err := readDrawing(sized("skull", c.w, c.h, "bar", "schematic").Plate.SVG)
		if err != nil {
			t.Fatal(err)
		}
		d := testDocument(t, "a4")
		w, _ := d.column()
		a := versionsOf(t, q)[0].asked[0]
		a.art = art
		b := d.question(a, setting{10, true}, w, 220)
		if b.h > 220 || b.w > w || !b.sized {
			t.Errorf("%d × %d mm: takes %.0f × %.0f of %.0f × 220", c.w, c.h, b.w, b.h, w)
		}
		if err := d.flow("set", 0, []block{b}); err != nil {
			t.Fatal(err)
		}
		pdf := readable(t, d)
		if !strings.Contains(pdf, "("+c.want+") Tj") {
			t.Errorf("%d × %d mm: it doesn't say %q", c.w, c.h, c.want)
		}
		if lines := checkLines(pdf); len(lines) != 1 || math.Abs(lines[0]-100) > .01 {
			t.Errorf("%d × %d mm: check lines %v", c.w, c.h, lines)
		}
	}
}

// The small print on a small drawing can't be read, so the caption says it.
func TestCaptionSaysTheBar(t *testing.T) {
	art, err := readDrawing(sized("skull", 20, 30, "bar", "0.5 cm").Plate.SVG)
	if err != nil {
		t.Fatal(err)
	}
	d := testDocument(t, "a4")
	d.page(false)
	d.picture(art, 50, 50, "for question 3: ").draw(20, 20)
	if want := "(for question 3: life size; bar 0.5 cm) Tj"; !strings.Contains(readable(t, d), want) {
		t.Errorf("it doesn't write %q", want)
	}
}

// Options that are drawings are printed two by two, at life size or with the
// scale said, on sheet and card.
func TestOptionsThatAreDrawings(t *testing.T) {
	q := quizOf(t, "everything", questions.Wish{Count: 8, Seed: 4, Templates: []string{"which-plate"}})
	for kind, print := range map[string]func(*document) error{
		"quiz":  func(d *document) error { return d.quiz(q, versionsOf(t, q)[0]) },
		"cards": func(d *document) error { return d.stationCards(q) },
	} {
		d := testDocument(t, "a4")
		if err := print(d); err != nil {
			t.Fatal(err)
		}
		pdf := readable(t, d)
		want := 0
		for _, question := range q.Set {
			want += len(question.Options)
		}
		if got := len(scaleSaid.FindAllString(pdf, -1)); got != want {
			t.Errorf("%s: %d drawings say their scale, want %d", kind, got, want)
		}
		// a drawing has long lines of its own
		lines := slices.DeleteFunc(checkLines(pdf), func(l float64) bool { return math.Abs(l-100) > .01 })
		if needed := map[string]int{"quiz": d.pdf.PageCount(), "cards": len(q.Set)}[kind]; len(lines) != needed {
			t.Errorf("%s: %d check lines of 100 mm, want %d", kind, len(lines), needed)
		}
		if strings.Contains(pdf, "(Plate A) Tj") || strings.Contains(pdf, "your replica here") {
			t.Errorf("%s: words stand in for drawings", kind)
		}
	}
}

var scaleSaid = regexp.MustCompile(`\((life size|drawn at [\d.]+:[\d.]+|not to scale)[^)]*\) Tj`)

func TestCheckLineOfASheetInPixels(t *testing.T) {
	q := plated(t)
	pdf := writtenAs(t, q, "a4", "quiz")
	d, err := newDocument("a4")
	if err != nil {
		t.Fatal(err)
	}
	blocks := d.quizBlocks(q, versionsOf(t, q)[0])
	_, h := d.column()
	pages, err := paginate(blocks, questionGap, h)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(pages, func(p []placed) bool { return slices.ContainsFunc(p, func(b placed) bool { return b.sized }) })
	if got := longestRun(rendered(t, pdf, i+1)); math.Abs(got-100) > .5 {
		t.Errorf("page %d: the check line measures %.2f mm", i+1, got)
	}
}

// What colour sets apart, grey sets apart: a step between neighbouring pixels
// is seen on both, and where there are no drawings there is no colour at all.
func TestPrintsInGrey(t *testing.T) {
	pdf := writtenAs(t, plated(t), "a4", "all")
	for page := 1; page <= soak.Size(4, 10); page += 3 {
		inColour, inGrey := render(t, pdf, page, "-r", "70"), render(t, pdf, page, "-r", "70", "-gray")
		size := inColour.Bounds().Size()
		steps, lost := 0, 0
		for y := range size.Y {
			for x := 1; x < size.X; x++ {
				if apart(inColour.At(x-1, y), inColour.At(x, y)) > 150 {
					steps++
					if apart(inGrey.At(x-1, y), inGrey.At(x, y)) < 75 {
						lost++
					}
				}
			}
		}
		if steps < 200 || lost > steps/10_000 { // where two edges meet in one pixel
			t.Errorf("page %d: %d of %d steps are lost in grey", page, lost, steps)
		}
	}
}

// apart is how far two colours differ, over their three parts of 0 to 255.
func apart(a, b color.Color) int {
	r, g, bl, _ := a.RGBA()
	r2, g2, bl2, _ := b.RGBA()
	diff := func(x, y uint32) int { return int(max(x, y)-min(x, y)) >> 8 }
	return diff(r, r2) + diff(g, g2) + diff(bl, bl2)
}

func TestSetsGiveTheSameBytes(t *testing.T) {
	set, round := quizOf(t, "everything", questions.Wish{Count: 15, Seed: 5}), rotatingOf(t, 6, 3)
	for _, kind := range Kinds() {
		q := set
		if kind == "sheets" {
			q = round
		}
		if !bytes.Equal(writtenAs(t, q, "letter", kind), writtenAs(t, q, "letter", kind)) {
			t.Errorf("%s differs from one run to the next", kind)
		}
	}
}

func TestScoreSheetCarries(t *testing.T) {
	q := quizOf(t, "everything", questions.Wish{Count: 60, Seed: 2})
	q.PerStation, q.Teams = 1, 30
	d := testDocument(t, "a4")
	if err := d.scoreSheet(q); err != nil {
		t.Fatal(err)
	}
	pdf := readable(t, d)
	// 15 teams to a page and 17 stations across
	for words, want := range map[string]int{"Total": 2, "carried": 6, "to carry": 6, "60": 2, "of 1": 120, "score sheet, page 8 of 8": 1} {
		if got := strings.Count(pdf, "("+words+") Tj"); got != want {
			t.Errorf("%q stands %d times, want %d", words, got, want)
		}
	}
}

func TestLongWordsWrap(t *testing.T) {
	d := testDocument(t, "a4")
	text := "a " + strings.Repeat("ñandú", 40) + " of the dry grasslands and of the edges of what were woods once"
	lines := d.wrapped(plain, 50, text)
	for _, l := range lines {
		if d.width(plain, l) > 50 {
			t.Errorf("%q is wider than 50 mm", l)
		}
	}
	if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(text, " ", "") {
		t.Errorf("wrapped to %q", got)
	}
}

func TestSetsSayWhatIsWrong(t *testing.T) {
	for want, change := range map[string]func(*Quiz){
		"1 to 200 questions":              func(q *Quiz) { q.Set = nil },
		"1 to 2 papers":                   func(q *Quiz) { q.Papers = 3 },
		"1 to 5 questions at a station":   func(q *Quiz) { q.PerStation = 6 },
		"1 to 60 teams":                   func(q *Quiz) { q.Teams = 0 },
		"question 1 is too long":          func(q *Quiz) { q.Set[0].Prompt = strings.Repeat("much to read ", 1500) },
		"can't be printed":                func(q *Quiz) { q.Set[0].Prompt = "狐?" },
		"the set is of another catalogue": func(q *Quiz) { q.Set[0].Plate = &questions.PlateRef{Species: "Gryphus", View: "skull"} },
	} {
		q := quizOf(t, "furbearers", questions.Wish{Count: 3, Seed: 1})
		change(&q)
		if err := q.Write(&bytes.Buffer{}, "a4", "quiz"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q in it", err, want)
		}
	}
	q := quizOf(t, "furbearers", questions.Wish{Count: 3, Seed: 1})
	q.Set[0].Prompt = strings.Repeat("much to read ", 300)
	if err := q.Write(&bytes.Buffer{}, "a4", "cards"); err == nil || !strings.Contains(err.Error(), "fewer questions at a station") {
		t.Errorf("a card too full: %v", err)
	}
	if err := q.Write(&bytes.Buffer{}, "a4", "poster"); err == nil || !strings.Contains(err.Error(), `"poster": choose from quiz, cards, sheets, scores, key, all`) {
		t.Errorf("a kind unknown: %v", err)
	}
}
