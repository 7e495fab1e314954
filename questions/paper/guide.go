package paper

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"fieldsign/questions/guide"
)

// guideKinds are what of a guide can be printed.
var guideKinds = []struct {
	name   string
	blocks func(*document, *guide.Guide) []block
}{
	{"guide", (*document).guideBlocks},
	{"worksheet", (*document).worksheet},
	{"answers", (*document).worksheetKey},
}

// WriteSheet prints a guide's animals and sources alone.
func WriteSheet(w io.Writer, size string, g *guide.Guide) error {
	d, err := guideDocument(size, g)
	if err != nil {
		return err
	}
	var blocks []block
	for _, a := range g.Animals {
		blocks = append(blocks, d.animal(g, a)...)
	}
	if err := d.flow(g.Roster, 2.5, append(blocks, d.sources(g)...)); err != nil {
		return err
	}
	return d.pdf.Output(w)
}

// guideDocument is an empty one in a guide's language.
func guideDocument(size string, g *guide.Guide) (*document, error) {
	d, err := newDocument(size)
	if err != nil {
		return nil, err
	}
	d.voice = voice(g.Catalogue.Language)
	d.pdf.SetTitle(fmt.Sprintf(g.Words.Title, g.Roster), true)
	d.pdf.SetLang(g.Catalogue.Language.Tag())
	return d, nil
}

// GuideKinds are what of a guide can be printed, the last all of it.
func GuideKinds() []string {
	var names []string
	for _, k := range guideKinds {
		names = append(names, k.name)
	}
	return append(names, "all")
}

// WriteGuide prints a study guide, its worksheet, the key to that, or all, on a
// size of paper, and returns how many pages it took. Bookmarks lead to each part.
func WriteGuide(w io.Writer, size, kind string, g *guide.Guide) (pages int, err error) {
	if !slices.Contains(GuideKinds(), kind) {
		return 0, fmt.Errorf("no part of a guide is called %q: choose from %s", kind, strings.Join(GuideKinds(), ", "))
	}
	d, err := guideDocument(size, g)
	if err != nil {
		return 0, err
	}
	var blocks []block
	for _, k := range guideKinds {
		if kind == k.name || kind == "all" {
			blocks = append(blocks, k.blocks(d, g)...)
		}
	}
	if err := d.flow(fmt.Sprintf(g.Words.Title, g.Roster), 2.5, blocks); err != nil {
		return 0, err
	}
	return d.pdf.PageCount(), d.pdf.Output(w)
}

var (
	chapter = face{"B", 18}
	section = face{"B", 11}
	latin   = face{"I", 10}
)

// guideBlocks are the guide from its contents to its sources.
func (d *document) guideBlocks(g *guide.Guide) []block {
	var body []block
	for _, a := range g.Animals {
		body = append(body, d.animal(g, a)...)
	}
	for _, s := range g.Scales {
		body = append(body, d.scale(g, s)...)
	}
	for _, k := range g.Keys {
		body = append(body, d.fieldKey(g, k)...)
	}
	body = append(body, d.web(g)...)
	body = append(body, d.glossary(g)...)
	body = append(body, d.sources(g)...)
	return append(d.contents(g, body), body...)
}

// heading begins a part of the guide on a page of its own.
func (d *document) heading(title string, more ...block) block {
	w, _ := d.column()
	b := stack(1.5, append([]block{d.words(chapter, w, title)}, more...)...)
	b.title, b.fresh, b.what = title, true, title
	return b
}

// contents names what begins where; the pages are known when it is drawn.
func (d *document) contents(g *guide.Guide, body []block) []block {
	w, _ := d.column()
	out := []block{d.heading(fmt.Sprintf(g.Words.Title, g.Roster), d.words(plain, w, g.Words.Schematic), d.words(plain, w, g.Words.Legend))}
	var lines []block
	for _, b := range body {
		if b.title != "" && b.under == 0 {
			lines = append(lines, d.contentsLine(b.title, w/2-8))
		}
	}
	half := (len(lines) + 1) / 2
	rows := []block{}
	for i := range half {
		row := []block{lines[i]}
		if half+i < len(lines) {
			row = append(row, lines[half+i])
		}
		rows = append(rows, grid(2, w/2+4, 0, row))
	}
	return append(out, titled(d.words(section, w, g.Words.Contents), rows)...)
}

func (d *document) contentsLine(title string, w float64) block {
	return block{w: w, h: 4.4, draw: func(x, y float64) {
		page := strconv.Itoa(d.pageOf[title])
		d.text(plain, x, y+3.2, 0, title)
		d.text(plain, x+w, y+3.2, 1, page)
		from, to := x+d.width(plain, title)+1.5, x+w-d.width(plain, page)-1.5
		d.line(.15, from, y+3.1, max(from, to), y+3.1, .2, 1.2)
		d.pdf.Link(x, y, w, 4.4, d.linkTo(title))
	}}
}

// art reads a drawing of the guide once, and marks what is to be marked in it. One
// that can't be read fails the document.
func (d *document) art(g guide.Drawing) *drawing {
	read, known := d.arts[g.Ref]
	if !known {
		var err error
		if read, err = readDrawing(g.Plate.SVG); err != nil {
			d.pdf.SetError(fmt.Errorf("%s, %s: %w", g.Ref.Species, g.Ref.View, err))
			read = &drawing{w: 1, h: 1}
		}
		d.arts[g.Ref] = read
	}
	art := *read
	art.marks, art.lineMarks = g.Marks, g.Lines
	return &art
}

// shelves sets cells side by side, as many as fit, and gives a block for each row.
func shelves(w, gap float64, cells []block) []block {
	var rows []block
	for from := 0; from < len(cells); {
		to, wide := from+1, cells[from].w
		for to < len(cells) && wide+gap+cells[to].w <= w {
			wide += gap + cells[to].w
			to++
		}
		row := cells[to-1]
		for i := to - 2; i >= from; i-- {
			row = beside(cells[i].w+gap, cells[i], row)
		}
		rows, from = append(rows, row), to
	}
	return rows
}

// placing is the room for each of some drawings that stand on one scale, and
// the least part of life size at which they stand: 0 makes them as large as fits.
type placing struct{ w, h, least float64 }

// together sets drawings on one scale, bare, with their captions below, and
// returns the scale as the part of life size that it divides by.
func (d *document) together(drawings []guide.Drawing, room placing) (cells []block, den float64) {
	var arts []*drawing
	den = room.least
	for _, g := range drawings {
		art := d.art(g).bare()
		arts, den = append(arts, art), max(den, art.w/room.w, art.h/room.h)
	}
	if room.least > 0 {
		den = math.Ceil(den)
	}
	for i, art := range arts {
		picture := block{w: art.w / den, h: art.h / den, sized: room.least > 0, draw: func(x, y float64) { d.draw(art, x, y, den) }}
		cell := stack(.8, picture, d.words(small, max(picture.w, 30), drawings[i].Caption))
		cell.what = drawings[i].Caption
		cells = append(cells, cell)
	}
	return cells, den
}

// note sets a sign behind a text, if there is one.
func note(text string, r guide.Rests) string { return strings.TrimSpace(text + " " + r.Note()) }
