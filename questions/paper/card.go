package paper

import (
	"fmt"
	"io"
)

// Cards writes a PDF of station cards, two to a landscape page to be cut
// apart, each with one plate, the question and lines to write on; a key ends
// the file.
func Cards(w io.Writer, size string, items []Item) error {
	d, err := newDocument(size)
	if err != nil {
		return err
	}
	if err := d.cards(items); err != nil {
		return err
	}
	return d.pdf.Output(w)
}

func (d *document) cards(items []Item) error {
	half := d.size.Ht / 2
	for i, it := range items {
		if i%2 == 0 {
			d.page(true)
			d.line(.15, half, 4, half, d.size.Wd-4, 2, 2) // to cut along
		}
		if err := d.card(it, float64(i%2)*half, half, d.size.Wd); err != nil {
			return err
		}
	}
	d.key("Key to the stations: keep it apart from the cards", items)
	return d.pdf.Error()
}

// card fills the part of a page from left on, w wide and h high.
func (d *document) card(it Item, left, w, h float64) error {
	art, err := readDrawing(it.Plate.SVG)
	if err != nil {
		return fmt.Errorf("%s, %s: %w", it.Species.Name, it.Kind, err)
	}
	const head, note, lines = 20., 6., 30.
	x, inner := left+margin, w-2*margin
	d.text(heading, x, margin+7, 0, fmt.Sprintf("Station %d", it.Number))
	d.text(asking, x, margin+16, 0, fmt.Sprintf("Whose %s is this?", it.Kind))

	room := h - 2*margin - head - note - lines - footHeight
	den := 1.
	for art.w/den > inner || art.h/den > room {
		den++
	}
	y := margin + head + (room-art.h/den)/2
	d.draw(art, x+(inner-art.w/den)/2, y, den)
	d.text(plain, x+inner/2, y+art.h/den+4, .5, d.scaleNote(art, den))

	top := margin + head + room + note
	d.toWriteOn(x, top+8, inner, "Animal")
	d.toWriteOn(x, top+17, inner, "Told by")
	d.toWriteOn(x, top+26, inner, "")
	d.foot(x, h-margin, inner, fmt.Sprintf("station %d", it.Number))
	return nil
}

func (d *document) toWriteOn(x, y, w float64, label string) {
	const indent = 15
	d.text(plain, x, y, 0, label)
	d.line(.2, x+indent, y, x+w, y)
}
