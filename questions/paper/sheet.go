package paper

import (
	"fmt"
	"io"
	"slices"
	"strconv"

	"codeberg.org/go-pdf/fpdf"
)

// Sheets writes a PDF with the plates, so many to a page as perPage says; what is
// too large for its share goes beside others of its size. With 0 they are all at their true
// size, several to a page where they fit. For a quiz the plates bear numbers only
// and a key ends the file.
func Sheets(w io.Writer, size string, items []Item, quiz bool, perPage int) error {
	if err := WrongPerPage(perPage); err != nil {
		return err
	}
	d, err := newDocument(size)
	if err != nil {
		return err
	}
	if err := d.sheets(items, quiz, perPage); err != nil {
		return err
	}
	return d.pdf.Output(w)
}

func (d *document) sheets(items []Item, quiz bool, perPage int) error {
	all, err := d.layOut(items, quiz, perPage)
	if err != nil {
		return err
	}
	for i, s := range all {
		w, h := d.page(s.landscape)
		for _, c := range s.cells {
			d.cell(c)
		}
		d.foot(margin, h-margin, w-2*margin, fmt.Sprintf("page %d", i+1))
	}
	if quiz {
		d.key("Key to the plates", items)
	}
	return d.pdf.Error()
}

const (
	captionHeight = 9.
	gap           = 6.
)

// cell is a plate and its caption.
type cell struct {
	number  string
	caption [2]string
	art     *drawing
	den     float64
	w, h    float64
	x, y    float64 // within the room of the sheet
}

func (d *document) cell(c cell) {
	x, y := margin+c.x, margin+c.y
	d.draw(c.art, x, y, c.den)
	y = margin + c.y + c.h - captionHeight + 4
	d.text(bold, x, y, 0, c.number)
	x += d.width(bold, c.number) + 2
	d.text(plain, x, y, 0, c.caption[0])
	d.text(small, x, y+3.8, 0, c.caption[1])
}

func (d *document) newCell(it Item, art *drawing, den float64, quiz bool) cell {
	c := cell{number: strconv.Itoa(it.Number), art: art, den: den}
	c.caption = [2]string{it.Species.Vernacular, it.Kind + ", " + d.scaleNote(art, den)}
	if quiz {
		c.caption = [2]string{c.caption[1], ""}
	}
	words := max(d.width(plain, c.caption[0]), d.width(small, c.caption[1])) + d.width(bold, c.number) + 2
	c.w, c.h = max(art.w/den, words), art.h/den+captionHeight
	return c
}

// scaleNote says at what scale a drawing is printed.
func (v voice) scaleNote(art *drawing, den float64) string {
	switch part := art.den * den; {
	case part == 0:
		return v.say("not to scale")
	case part == 1:
		return v.say("life size")
	case part < 1:
		return v.say("drawn at %g:1", 1/part)
	}
	return v.say("drawn at 1:%g", art.den*den)
}

// sheet is a page being filled, shelf by shelf.
type sheet struct {
	landscape bool
	shared    int // by so many plates, each in a place of its own; 0 for shelves
	room      fpdf.SizeType
	cells     []cell
	x, y      float64 // where the next cell goes
	shelf     float64 // height of the shelf
}

func fits(w, h float64, room fpdf.SizeType) bool { return w <= room.Wd && h <= room.Ht }

// place puts a cell on the shelf, or the next one, if there is room.
func (s *sheet) place(c cell) bool {
	x, y, shelf := s.x, s.y, s.shelf
	if x+c.w > s.room.Wd {
		x, y, shelf = 0, y+shelf+gap, 0
	}
	if !fits(x+c.w, y+c.h, s.room) {
		return false
	}
	c.x, c.y = x, y
	s.cells = append(s.cells, c)
	s.x, s.y, s.shelf = x+c.w+gap, y, max(shelf, c.h)
	return true
}

// stillOpen is how many sheets back a plate may go to fill a gap: more would
// save a little paper and scatter the numbers.
const stillOpen = 4

// layOut fills sheets nearly in the order of the items. A plate that fits at
// true size only across gets a landscape page; one too large for either is
// drawn at the largest 1:2, 1:3, … that fits.
func (d *document) layOut(items []Item, quiz bool, perPage int) ([]*sheet, error) {
	var all []*sheet
	for _, it := range items {
		art, err := readDrawing(it.Plate.SVG)
		if err != nil {
			return nil, fmt.Errorf("%s, %s: %w", it.Species.Name, it.Kind, err)
		}
		open := all[max(0, len(all)-stillOpen):]
		if c, fit := d.shared(it, art, quiz, perPage); fit {
			all = share(all, open, c, perPage, d.room(false))
			continue
		}
		c, landscape := d.fitted(it, art, quiz)
		if !slices.ContainsFunc(open, func(s *sheet) bool { return s.shared == 0 && s.place(c) }) {
			s := &sheet{landscape: landscape, room: d.room(landscape)}
			s.place(c)
			all = append(all, s)
		}
	}
	return all, nil
}

func (d *document) fitted(it Item, art *drawing, quiz bool) (c cell, landscape bool) {
	for den := 1.; ; den++ {
		c := d.newCell(it, art, den, quiz)
		for _, landscape := range []bool{false, true} {
			if fits(c.w, c.h, d.room(landscape)) {
				return c, landscape
			}
		}
	}
}
