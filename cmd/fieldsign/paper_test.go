package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// onPaper prints a set and returns the text of each page, as pdftotext reads it.
func onPaper(t *testing.T, args string) []string {
	t.Helper()
	return textOf(t, strings.Fields(args)...)
}

func textOf(t *testing.T, args ...string) []string {
	t.Helper()
	pdftotext := need(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "set.pdf")
	printed(t, append([]string{"paper", "--out", file}, args...)...)
	text, err := exec.Command(pdftotext, "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
	for i, p := range pages {
		pages[i] = strings.Join(strings.Fields(p), " ")
	}
	return pages
}

// setOf is the same set by the program's other command.
func setOf(t *testing.T, args string) []questions.Question {
	t.Helper()
	var set []questions.Question
	decoder := json.NewDecoder(printed(t, strings.Fields("questions --format jsonl "+args)...))
	for {
		var q questions.Question
		if err := decoder.Decode(&q); err == io.EOF {
			return set
		} else if err != nil {
			t.Fatal(err)
		}
		set = append(set, q)
	}
}

// asSet is a question as a sheet should read: its stem, and a pattern of its
// options. A drawing has words of its own and says its scale.
func asSet(n int, q questions.Question) (stem string, options *regexp.Regexp) {
	var want []string
	for i, o := range q.Options {
		text := regexp.QuoteMeta(o.Text)
		if o.Plate != nil {
			text = `.*?(life size|drawn at 1:[\d.]+|not to scale)(; bar [\d.]+ cm)?`
		}
		want = append(want, fmt.Sprintf("%c %s", 'A'+i, text))
	}
	return fmt.Sprintf("%d %s", n, q.Prompt), regexp.MustCompile(strings.Join(want, " ?"))
}

var paperSets = []string{
	"--roster everything --count 60 --seed 5",
	"--roster furbearers --count 20 --seed 7 --difficulty 2",
	"--roster waterside --count 15 --seed 3 --subjects scat,track",
}

// Every prompt stands with all its options on one page, in the set's order.
func TestQuizSheetAsksTheSet(t *testing.T) {
	t.Parallel()
	for _, args := range paperSets[soak.Size(1, 0):] { // the first is the longest
		set := setOf(t, args)
		for _, kind := range []string{"quiz --size letter", "quiz", "cards", "cards --per-station 5"} {
			pages, page, at := onPaper(t, args+" --kind "+kind), 0, 0
			for i, q := range set {
				stem, options := asSet(i+1, q)
				for page < len(pages) && !strings.Contains(pages[page][at:], stem) {
					page, at = page+1, 0
				}
				if page == len(pages) {
					t.Fatalf("%s, %s: %q is not printed in its turn", args, kind, stem)
				}
				at += strings.Index(pages[page][at:], stem) + len(stem)
				end := options.FindStringIndex(pages[page][at:])
				if end == nil {
					t.Fatalf("%s, %s, page %d: %q lacks its options %q", args, kind, page+1, stem, options)
				}
				if q.Plate == nil && end[0] > 1 {
					t.Errorf("%s, %s: %q stands between %q and its options", args, kind, pages[page][at:at+end[0]], stem)
				}
				at += end[1]
			}
		}
	}
}

// setMark is the mark by which sheets and key are matched.
var setMark = regexp.MustCompile(`\b[A-HJ-NP-Z2-9]{4}\b`)

// With the seed anyone has the questions printed, keys too: what pupils get in
// their hands doesn't name it.
func TestASeedIsOnTheKeyAlone(t *testing.T) {
	t.Parallel()
	const seed, other = "86420975", "86420976"
	for kinds, args := range map[string]string{"quiz cards scores": "--roster furbearers --count 12", "cards sheets scores": "--roster furbearers --stations 4 --teams 3"} {
		name := func(kind, seed string) string {
			text := strings.Join(onPaper(t, args+" --seed "+seed+" --kind "+kind), " ")
			if told := strings.Contains(text, seed); told != (kind == "key") {
				t.Errorf("%s: its %s names the seed: %v", args, kind, told)
			}
			_, foot, _ := strings.Cut(text, "set furbearers, ")
			return setMark.FindString(foot)
		}
		mark := name("key", seed)
		for _, kind := range strings.Fields(kinds) {
			if got := name(kind, seed); got != mark || mark == "" {
				t.Errorf("%s: its %s is marked %q, its key %q", args, kind, got, mark)
			}
		}
		if name("key", other) == mark {
			t.Errorf("%s: another seed has the same mark", args)
		}
	}
}

var pageWords = regexp.MustCompile(`page (\d+) of (\d+)`)

func TestSheetsAreNamedAndNumbered(t *testing.T) {
	t.Parallel()
	pages := onPaper(t, "--roster furbearers --count 40 --seed 9 --kind quiz --papers 2 --title Otters")
	mark := setMark.FindString(pages[0])
	paper, n, of := "A", 0, 0
	for i, p := range pages {
		if n == of && i > 0 {
			paper, n = "B", 0
		}
		n++
		var x int
		if m := pageWords.FindStringSubmatch(p); m == nil || m[1] != fmt.Sprint(n) {
			t.Fatalf("page %d of the file says %q, want page %d", i+1, m, n)
		} else if fmt.Sscan(m[2], &x); n > 1 && x != of {
			t.Errorf("page %d: of %d, before it of %d", i+1, x, of)
		}
		of = x
		if want := "set furbearers, 40 questions, " + mark + ", paper " + paper; !strings.Contains(p, want) {
			t.Errorf("page %d lacks %q", i+1, want)
		}
		if n == 1 && (!strings.HasPrefix(p, "Otters, paper "+paper) || !strings.Contains(p, "Team Date")) {
			t.Errorf("paper %s begins %.60q", paper, p)
		}
	}
	if paper != "B" || n != of {
		t.Errorf("it ends with page %d of %d of paper %s", n, of, paper)
	}
}

// The key's letters are right on both papers: paper B is read as a student
// reads it, and the option ticked by the key is the right one of the set.
func TestKeyTellsBothPapers(t *testing.T) {
	t.Parallel()
	const args = "--roster furbearers --count 30 --seed 7 --papers 2"
	set := setOf(t, strings.TrimSuffix(args, " --papers 2"))
	key := strings.Join(onPaper(t, args+" --kind key"), " ")
	_, sheetB, _ := strings.Cut(strings.Join(onPaper(t, args+" --kind quiz"), " "), "Review quiz, paper B")
	_, rest, _ := strings.Cut(key, "Letters of paper A")
	lettersA, rest, _ := strings.Cut(rest, "Letters of paper B")
	lettersB, reasons, _ := strings.Cut(rest, "What lies at the stations")
	if !strings.Contains(key, "set furbearers, 30 questions, ") || !strings.Contains(key, "Seed 7: ") {
		t.Error("the key doesn't name its set")
	}
	a, b := strings.Fields(lettersA), strings.Fields(lettersB)
	if len(a) != 60 || len(b) != 60 {
		t.Fatalf("letters of A %v, of B %v", a, b)
	}
	for i, q := range set {
		if want := string(rune('A' + q.Key)); a[2*i] != fmt.Sprint(i+1) || a[2*i+1] != want {
			t.Errorf("the key says A%s %s, want %d %s", a[2*i], a[2*i+1], i+1, want)
		}
		right := q.Options[q.Key].Text
		m := regexp.MustCompile(fmt.Sprintf(`A%d %c B(\d+) ([A-E]) %s`, i+1, 'A'+q.Key, regexp.QuoteMeta(q.Prompt+" "+right+" "+q.Reason))).FindStringSubmatch(reasons)
		if m == nil {
			t.Errorf("question %d has no reason in the key", i+1)
			continue
		}
		if j := slices.Index(b, m[1]); b[j+1] != m[2] {
			t.Errorf("B%s is %s among the letters, %s among the reasons", m[1], b[j+1], m[2])
		}
		if _, asked, found := strings.Cut(sheetB, " "+m[1]+" "+q.Prompt); !found || q.Options[0].Plate == nil && !strings.Contains(asked[:min(len(asked), 600)], m[2]+" "+right) {
			t.Errorf("B%s %s is not %q on paper B", m[1], m[2], right)
		}
	}
}

// A typed name gets a line, and the key all names that the animal may be
// called, with the letters of Spanish.
func TestTypedNamesOnPaper(t *testing.T) {
	t.Parallel()
	const args = "--count 8 --seed 3 --template type-the-name --subjects skull"
	all := strings.Join(onPaper(t, args+" --kind all"), " ")
	sheet, rest, _ := strings.Cut(all, "Station 1")
	if n := strings.Count(sheet, " Animal"); n != 8 {
		t.Errorf("%d lines to write on, want 8", n)
	}
	_, key, _ := strings.Cut(rest, "Answer key")
	accents := 0
	for _, q := range setOf(t, args) {
		s, _ := catalogue.Builtin().Find(q.Options[q.Key].Species)
		if want := s.Spanish + ", " + s.Name; !strings.Contains(key, want) {
			t.Errorf("the key lacks %q", want)
		}
		if strings.ContainsAny(s.Spanish, "áéíñóúü") {
			accents++
		}
	}
	if accents == 0 {
		t.Error("no name has a letter of Spanish: try another seed")
	}
}

func TestPaperHasEveryPart(t *testing.T) {
	t.Parallel()
	all := strings.Join(onPaper(t, "--roster furbearers --count 20 --seed 7 --drawings some --kind all"), " ")
	at := 0
	for _, want := range []string{"Review quiz", "Station 1 questions 1–", "your replica here", "wash your hands", "Score sheet", "Total", "Answer key", "What lies at the stations", "Reasons"} {
		i := strings.Index(all[at:], want)
		if i < 0 {
			t.Fatalf("%q is missing, or out of its place", want)
		}
		at += i
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	t.Parallel()
	pdffonts := need(t, "pdffonts")
	file := filepath.Join(t.TempDir(), "set.pdf")
	printed(t, "paper", "--roster", "furbearers", "--out", file)
	out, err := exec.Command(pdffonts, file).Output()
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(out)), "\n")[2:]
	if len(rows) == 0 {
		t.Error("no fonts at all")
	}
	for _, row := range rows {
		// the columns are emb, sub, uni and two of the object
		if cells := strings.Fields(row); cells[len(cells)-5] != "yes" || cells[len(cells)-3] != "yes" {
			t.Errorf("not embedded, or without Unicode: %s", row)
		}
	}
}

func TestPaperIsTheSameEachTime(t *testing.T) {
	t.Parallel()
	var files [2][]byte
	for i := range files {
		file := filepath.Join(t.TempDir(), "set.pdf")
		printed(t, strings.Fields("paper --roster waterside --count 20 --papers 2 --out "+file)...)
		var err error
		if files[i], err = os.ReadFile(file); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(files[0], files[1]) {
		t.Error("two runs differ")
	}
}

func TestPaperSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for args, want := range map[string]string{
		"":                                   "where to?",
		"--out x Pond life":                  "quotes",
		"--out x --count 201":                "at most 200",
		"--out x --count 0":                  "1 to",
		"--out x --kind poster":              "quiz, cards, sheets, scores, key, all",
		"--out x --size a3":                  `not "a3"`,
		"--out x --roster nowhere":           "nowhere",
		"--out x --subjects feather":         `"feather"`,
		"--out x --papers 3":                 "1 to 2 papers",
		"--out x --per-station 6":            "1 to 5 questions at a station",
		"--out x --teams 61":                 "1 to 60 teams",
		"--roster furbearers --out " + dir:   "can't be written",
		"--out x --difficulty 6":             "difficulty is 1 to 5",
		"--out x --template riddle":          `"riddle"`,
		"--out x --catalogue " + dir + "/no": "can't be used",
	} {
		if err := run(context.Background(), strings.Fields("paper "+args), io.Discard); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("fieldsign paper %s: %v, want %q in it", args, err, want)
		}
	}
	if _, err := os.Stat("x"); err == nil {
		t.Error("a failed run left a file")
		os.Remove("x")
	}
}
