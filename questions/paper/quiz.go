package paper

import (
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"math/rand/v2"
	"slices"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// Quiz is a question set on its way to paper.
type Quiz struct {
	Catalogue  *catalogue.Catalogue
	Title      string
	Name       string // of the set; pupils read it, so it tells no seed
	Set        []questions.Question
	Seed       uint64 // of the questions, and of the second paper's order; 0 where none is known
	Papers     int    // 1, or 2 in different order
	PerStation int    // questions on a station card, 1 to 5
	Teams      int    // rows of the score sheet, and team sheets

	Stations []questions.Station // of a station round: see Rotating
	Seconds  int                 // of its rotations
	Walk     int                 // seconds between them
}

var kinds = []struct {
	name  string
	print func(*document, Quiz) error
}{
	{"quiz", (*document).quizzes},
	{"cards", (*document).stationCards},
	{"sheets", (*document).teamSheets},
	{"scores", (*document).scoreSheet},
	{"key", (*document).answers},
}

// Kinds are what a set can be printed as.
func Kinds() []string {
	var names []string
	for _, k := range kinds {
		names = append(names, k.name)
	}
	return append(names, "all")
}

// Write prints a set as one of Kinds on a size of paper, a4 or letter.
func (q Quiz) Write(w io.Writer, size, kind string) error {
	if err := q.check(kind); err != nil {
		return err
	}
	d, err := newDocument(size)
	if err != nil {
		return err
	}
	d.voice = q.voice()
	if err := d.print(q, kind); err != nil {
		return err
	}
	return d.pdf.Output(w)
}

func (d *document) print(q Quiz, kind string) error {
	for _, k := range kinds {
		if kind != k.name && kind != "all" {
			continue
		}
		if err := k.print(d, q); err != nil {
			return err
		}
	}
	return d.pdf.Error()
}

// MaxQuestions bounds a printed set.
const MaxQuestions = 200

func (q Quiz) check(kind string) error {
	bounds := []struct {
		what          string
		n, least, top int
	}{
		{"questions", len(q.Set), 1, MaxQuestions},
		{"papers", q.Papers, 1, 2},
		{"questions at a station", q.PerStation, 1, 5},
		{"teams", q.Teams, 1, 60},
	}
	for _, b := range bounds {
		if b.n < b.least || b.n > b.top {
			return fmt.Errorf("there are %d to %d %s on paper, not %d", b.least, b.top, b.what, b.n)
		}
	}
	if kind == "quiz" && q.Stations != nil || kind == "sheets" && q.Stations == nil {
		return fmt.Errorf("only a set without stations is printed as quiz, and only a station round as sheets")
	}
	if !slices.Contains(Kinds(), kind) {
		return fmt.Errorf("nothing is printed as %q: choose from %s", kind, strings.Join(Kinds(), ", "))
	}
	return nil
}

// named is how sheets, cards and key name the set, with a mark of four letters
// by which they are matched. The mark follows from the questions, in whatever
// language they are asked.
func (q Quiz) named() string {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789" // no I and O beside 1 and 0
	sum := fnv.New32a()
	for _, question := range q.Set {
		fmt.Fprintln(sum, question.Template, question.Test, question.About, question.Key)
	}
	var mark []byte
	for n := sum.Sum32(); len(mark) < 4; n >>= 5 {
		mark = append(mark, letters[n%32])
	}
	return fmt.Sprintf("%s, %s", q.Name, mark)
}

// asked is a question as a paper asks it.
type asked struct {
	questions.Question
	number int
	of     int        // its place in the set
	art    *drawing   // that goes with it, if one does
	drawn  []*drawing // its options, where they are drawings
}

// keyLetter is what is to be ticked; a typed name has no letter.
func (a asked) keyLetter() string {
	if a.Typed {
		return "–"
	}
	return letter(a.Key)
}

func letter(option int) string { return string(rune('A' + option)) }

// version is the set in the order of one paper.
type version struct {
	name  string // A or B; none where there is one paper only
	asked []asked
}

// versions are the paper in the order of the live game, and on demand one in
// an order drawn from the seed.
func (q Quiz) versions() ([]version, error) {
	first := version{}
	for i, question := range q.Set {
		a, err := q.drawings(asked{Question: question, number: i + 1, of: i})
		if err != nil {
			return nil, fmt.Errorf("question %d: %w", i+1, err)
		}
		first.asked = append(first.asked, a)
	}
	if q.Papers < 2 {
		return []version{first}, nil
	}
	first.name = "A"
	return []version{first, first.mixed(q.Seed)}, nil
}

func (v version) mixed(seed uint64) version {
	dice := rand.New(rand.NewPCG(seed, 0x7061706572))
	out := version{name: "B"}
	for i, k := range dice.Perm(len(v.asked)) {
		a := v.asked[k]
		a.number = i + 1
		if a.drawn == nil { // the reasons call drawings by their letters
			a.Question = reordered(a.Question, dice.Perm(len(a.Options)))
		}
		out.asked = append(out.asked, a)
	}
	return out
}

// reordered puts options in the order of the places given.
func reordered(q questions.Question, order []int) questions.Question {
	options := make([]questions.Option, len(order))
	for i, old := range order {
		options[i] = q.Options[old]
	}
	q.Options, q.Key = options, slices.Index(order, q.Key)
	return q
}

// label names a paper in a foot or heading.
func (v version) label(words string, in voice) string {
	if v.name == "" {
		return words
	}
	return in.say("%s, paper %s", words, v.name)
}

func (d *document) quizzes(q Quiz) error {
	if q.Stations != nil { // answered on the teams' sheets
		return nil
	}
	all, err := q.versions()
	if err != nil {
		return err
	}
	for _, v := range all {
		if err := d.quiz(q, v); err != nil {
			return err
		}
	}
	return nil
}

const questionGap = 5.

func (d *document) quiz(q Quiz, v version) error {
	return d.flow(v.label(d.say("set %s", q.named()), d.voice), questionGap, d.quizBlocks(q, v))
}

// quizBlocks are the heading and the questions.
func (d *document) quizBlocks(q Quiz, v version) []block {
	w, h := d.column()
	blocks := []block{d.quizHead(v.label(q.Title, d.voice), w)}
	// What fits below the heading fits on every page.
	room := h - blocks[0].h - questionGap
	for _, a := range v.asked {
		blocks = append(blocks, d.question(a, setting{10, true}, w, room))
	}
	return blocks
}

func (d *document) quizHead(title string, w float64) block {
	lines := beside(w*.65, d.toFill(d.say("Team"), w*.6), d.toFill(d.say("Date"), w*.35))
	return stack(3, d.words(face{"B", 18}, w, title), lines,
		d.words(small, w, d.say("Tick one box for each question, or write the name where a line asks for it. The drawings are schematic.")))
}

// drawings draws what goes with a question and what its options are.
func (q Quiz) drawings(a asked) (asked, error) {
	var err error
	if a.Plate != nil {
		if a.art, err = q.draw(*a.Plate); err != nil {
			return a, err
		}
	}
	shown, ok := questions.DrawOptions(q.Catalogue, a.Options)
	if !ok {
		return a, errors.New("an option can't be drawn: the set is of another catalogue")
	}
	for _, p := range shown {
		art, err := readDrawing(p.In(q.Catalogue.Language).SVG)
		if err != nil {
			return a, err
		}
		a.drawn = append(a.drawn, art)
	}
	return a, nil
}

func (q Quiz) draw(ref questions.PlateRef) (*drawing, error) {
	drawn, ok := questions.Draw(q.Catalogue, ref)
	if !ok {
		return nil, fmt.Errorf("there is no drawing of %s, %s: the set is of another catalogue", ref.Species, ref.View)
	}
	return readDrawing(drawn.In(q.Catalogue.Language).SVG)
}
