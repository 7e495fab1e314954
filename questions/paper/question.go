package paper

import (
	"strconv"

	"fieldsign/questions"
)

// setting is how questions are set: the size of the type, and whether they are
// answered on the sheet itself.
type setting struct {
	pt       float64
	answered bool
}

func (s setting) plain() face { return face{"", s.pt} }
func (s setting) bold() face  { return face{"B", s.pt} }

const (
	numberWidth   = 9.
	partGap       = 1.5
	pictureGap    = 5.
	cellGap       = 4.  // to the next option in a row
	reducedHeight = 90. // of a drawing that is too large for life size
	optionHeight  = 52. // of a drawing that is an option
	largestTimes  = 4   // life size, of drawings that would be too small to read
)

// question sets a question, its drawing if it has one, and its options; all of
// it takes at most the room given unless its words alone are longer.
func (d *document) question(a asked, s setting, w, room float64) block {
	w -= numberWidth
	body := d.words(s.plain(), w, a.Prompt)
	if a.art == nil {
		body = stack(partGap, body, d.choices(a, s, w))
	} else {
		body = stack(partGap, body, d.illustrated(a, s, w, room-body.h-partGap))
	}
	b := beside(numberWidth, d.words(s.bold(), numberWidth, strconv.Itoa(a.number)), body)
	b.what = "question " + strconv.Itoa(a.number)
	return b
}

// illustrated sets a drawing of life size above the options, or beside them
// where it leaves them half the width. One too large for that is made smaller
// and stands beside.
func (d *document) illustrated(a asked, s setting, w, room float64) block {
	art := a.art
	below := d.choices(a, s, w)
	left := room - below.h - partGap
	if art.w > w/2 && art.w <= w && art.h <= left-small.lead() {
		return stack(partGap, d.picture(art, w, left, ""), below)
	}
	picture := d.picture(art, w/2, room, "")
	if art.w > w/2 || art.h > room-small.lead() {
		picture = d.picture(art, w/2, min(room, reducedHeight), "")
	}
	indent := picture.w + pictureGap
	return beside(indent, picture, d.choices(a, s, w-indent))
}

// choices sets the options in as many columns as leave each on a line of its
// own; a name to be typed gets a line to write on.
func (d *document) choices(a asked, s setting, w float64) block {
	switch {
	case a.drawn != nil:
		return d.pictures(a.drawn, s, w)
	case a.Typed && s.answered:
		return d.toFill(d.say("Animal"), w)
	case a.Typed:
		return stack(0)
	}
	columns := d.columns(a.Options, s, w)
	cell := w / float64(columns)
	var cells []block
	for i, o := range a.Options {
		cells = append(cells, d.choice(letter(i), d.words(s.plain(), cell-s.indent()-cellGap, o.Text), s))
	}
	return grid(columns, cell, .8, cells)
}

// pictures sets options that are drawings, as many in a row as print largest, all at
// one scale. What would be smaller than half of its place is enlarged.
func (d *document) pictures(drawn []*drawing, s setting, w float64) block {
	art := drawn[0] // all have boxes of one size
	across := 2
	room := func(n int) float64 { return w/float64(n) - s.indent() - cellGap }
	if len(drawn) == 3 && art.scaled(room(3), optionHeight) <= art.scaled(room(2), optionHeight) {
		across = 3
	}
	den := art.scaled(room(across), optionHeight)
	for times := 2.; times <= largestTimes && art.w*times <= room(across) && art.h*times <= optionHeight/2; times++ {
		den = 1 / times
	}
	var cells []block
	for i, art := range drawn {
		cells = append(cells, d.choice(letter(i), d.pictureAt(art, den, room(across), ""), s))
	}
	return grid(across, w/float64(across), pictureGap, cells)
}

func (s setting) indent() float64 {
	if s.answered {
		return 11
	}
	return 5.5
}

// columns is all in a row, two, or one.
func (d *document) columns(options []questions.Option, s setting, w float64) int {
	widest := 0.
	for _, o := range options {
		widest = max(widest, d.width(s.plain(), o.Text))
	}
	for _, n := range []int{len(options), 2} {
		if widest <= w/float64(n)-s.indent()-cellGap {
			return n
		}
	}
	return 1
}

// choice sets an option, whatever it is made of, behind its box and letter.
func (d *document) choice(letter string, content block, s setting) block {
	mark := d.words(s.bold(), s.indent(), letter)
	if s.answered {
		mark = beside(5.5, d.box(s.pt*pointMM), mark)
	}
	return beside(s.indent(), mark, content)
}

// box is a square to tick, on the line beside it.
func (d *document) box(a float64) block {
	return block{w: a, h: a, draw: func(x, y float64) {
		d.outline(x, y+a*.12, a, a)
	}}
}

func (d *document) outline(x, y, w, h float64, dash ...float64) {
	d.line(.25, x, y, x+w, y, dash...)
	d.line(.25, x, y+h, x+w, y+h, dash...)
	d.line(.25, x, y, x, y+h, dash...)
	d.line(.25, x+w, y, x+w, y+h, dash...)
}
