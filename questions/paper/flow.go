package paper

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// block is something set in type that stays together.
type block struct {
	what  string // as an error would call it
	w, h  float64
	sized bool // holds a drawing, so the page needs the check line
	draw  func(x, y float64)

	title string // of what begins here, as bookmarks and a list of contents have it
	under int    // how deep the title stands
	fresh bool   // begins a page
}

// stack sets blocks one under another.
func stack(gap float64, parts ...block) block {
	out := block{h: gap * float64(max(0, len(parts)-1))}
	for _, p := range parts {
		out.w, out.h, out.sized = max(out.w, p.w), out.h+p.h, out.sized || p.sized
	}
	out.draw = func(x, y float64) {
		for _, p := range parts {
			p.draw(x, y)
			y += p.h + gap
		}
	}
	return out
}

// beside sets a block to the right of another, from indent on.
func beside(indent float64, left, right block) block {
	return block{w: indent + right.w, h: max(left.h, right.h), sized: left.sized || right.sized, draw: func(x, y float64) {
		left.draw(x, y)
		right.draw(x+indent, y)
	}}
}

// grid sets cells in rows of n, each column w wide.
func grid(n int, w, gap float64, cells []block) block {
	var rows []block
	for len(cells) > 0 {
		k := min(n, len(cells))
		row := cells[k-1]
		for i := k - 2; i >= 0; i-- {
			row = beside(w, cells[i], row)
		}
		rows, cells = append(rows, row), cells[k:]
	}
	return stack(gap, rows...)
}

// words sets a paragraph in lines of at most w.
func (d *document) words(f face, w float64, text string) block {
	lines := d.wrapped(f, w, text)
	out := block{h: float64(len(lines)) * f.lead()}
	for _, l := range lines {
		out.w = max(out.w, d.width(f, l))
	}
	out.draw = func(x, y float64) {
		for i, l := range lines {
			d.text(f, x, y+f.pt*pointMM+float64(i)*f.lead(), 0, l)
		}
	}
	return out
}

// wrapped breaks a text between words, and within one only where it is longer
// than a line.
func (d *document) wrapped(f face, w float64, text string) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && d.width(f, line+" "+word) > w {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
		for d.width(f, line) > w && utf8.RuneCountInString(line) > 1 {
			n := d.longest(f, w, line)
			lines, line = append(lines, line[:n]), line[n:]
		}
	}
	return append(lines, line)
}

// longest is how many bytes of a word fit, at least one letter.
func (d *document) longest(f face, w float64, word string) int {
	fit := 0
	for i, r := range word {
		end := i + utf8.RuneLen(r)
		if fit > 0 && d.width(f, word[:end]) > w {
			break
		}
		fit = end
	}
	return fit
}

// scaled is the part of life size, which it divides by, at which a drawing fits.
func (art *drawing) scaled(w, h float64) float64 {
	den := 1.
	for art.w/den > w || art.h/den > h-small.lead() {
		if den < 10 {
			den += .5
		} else {
			den++
		}
	}
	return den
}

// picture sets a drawing as large as fits, at life size at most.
func (d *document) picture(art *drawing, w, h float64, what string) block {
	return d.pictureAt(art, art.scaled(w, h), w, what)
}

// pictureAt says a drawing's scale below it, in lines of a width, with the length of
// its bar: on a small drawing that is hard to read.
func (d *document) pictureAt(art *drawing, den, w float64, what string) block {
	what += d.scaleNote(art, den)
	if i := slices.IndexFunc(art.parts, func(p part) bool { return barWords.MatchString(p.words) }); i >= 0 {
		what += d.say("; bar %s", art.parts[i].words)
	}
	b := stack(0, block{w: art.w / den, h: art.h / den, draw: func(x, y float64) { d.draw(art, x, y, den) }}, d.words(small, w, what))
	b.sized = true
	return b
}

var barWords = regexp.MustCompile(`^[\d.]+ [cm]m$`)

// toFill is a line to write on.
func (d *document) toFill(label string, w float64) block {
	indent := d.width(plain, label) + 2
	return block{w: w, h: 8, draw: func(x, y float64) {
		d.text(plain, x, y+6.5, 0, label)
		d.line(.2, x+indent, y+7, x+w, y+7)
	}}
}

// placed is a block on its page.
type placed struct {
	block
	y float64
}

// paginate shares out blocks in order over pages of a height, and splits none.
func paginate(blocks []block, gap, height float64) ([][]placed, error) {
	pages, y := [][]placed{nil}, 0.
	for _, b := range blocks {
		if b.h > height {
			return nil, fmt.Errorf("%s is too long for a page: it takes %.0f mm of %.0f; shorten its words", b.what, b.h, height)
		}
		if y+b.h > height || b.fresh && y > 0 {
			pages, y = append(pages, nil), 0
		}
		last := len(pages) - 1
		pages[last] = append(pages[last], placed{b, y})
		y += b.h + gap
	}
	return pages, nil
}

// side is the margin beside text, wide enough for punched holes.
const side = 15.

// column is the width and height for text on an upright page.
func (d *document) column() (w, h float64) {
	return d.size.Wd - 2*side, d.size.Ht - 2*margin - footHeight
}

// flow prints blocks on as many pages as they take, with the name of what they
// belong to at the foot of each.
func (d *document) flow(name string, gap float64, blocks []block) error {
	w, h := d.column()
	pages, err := paginate(blocks, gap, h)
	if err != nil {
		return err
	}
	for i, page := range pages {
		for _, b := range page {
			d.pageOf[b.title] = i + 1
		}
	}
	for i, page := range pages {
		d.page(false)
		sized := false
		for _, b := range page {
			d.begin(b)
			b.draw(side, margin+b.y)
			sized = sized || b.sized
		}
		d.nameFoot(side, d.size.Ht-margin, w, sized, name, d.say("page %d of %d", i+1, len(pages)))
	}
	return d.pdf.Error()
}

// begin lets readers jump to what begins with a block.
func (d *document) begin(b placed) {
	if b.title == "" {
		return
	}
	d.width(plain, b.title) // sets the font, by which the title's letters are written
	d.pdf.Bookmark(b.title, b.under, margin+b.y)
	d.pdf.SetLink(d.linkTo(b.title), margin+b.y, -1)
}

// linkTo is the link to a title, wherever it will stand.
func (d *document) linkTo(title string) int {
	link, made := d.links[title]
	if !made {
		link = d.pdf.AddLink()
		d.links[title] = link
	}
	return link
}

// nameFoot names the set at the foot of a page or card of width w that ends at
// y, with the check line above where a drawing needs it.
func (d *document) nameFoot(x, y, w float64, sized bool, name, number string) {
	if sized {
		d.ruler(x, y-5)
		d.text(face{"", 6}, x+checkLine+2, y-5, 0, d.say("10 cm: print at 100 %"))
	}
	d.text(face{"", 7}, x, y, 0, name)
	d.text(face{"", 7}, x+w, y, 1, number)
}
