package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/guide"
)

// scale shows drawings on one scale, the tallest first, at life size if the paper
// is large enough. The check line stands for what the scale makes of it.
func (d *document) scale(g *guide.Guide, s guide.Scale) []block {
	w, h := d.column()
	cells, den := d.together(s.Drawings, placing{w, h - 40, 1})
	scale := g.Words.Life
	if den > 1 {
		scale = fmt.Sprintf(g.Words.Reduced, den, 10*den)
	}
	slices.SortStableFunc(cells, func(a, b block) int { return cmp.Compare(b.h, a.h) })
	return append([]block{d.heading(s.Title, d.words(plain, w, scale))}, shelves(w, 8, cells)...)
}

// fieldKey is a key to a subject, with a drawing at each end.
func (d *document) fieldKey(g *guide.Guide, k guide.Key) []block {
	w, _ := d.column()
	out := []block{d.heading(k.Title, d.words(plain, w, g.Words.KeyHow))}
	for i, c := range k.Couplets {
		b := stack(.8, d.lead(g, k, c.Leads[0], strconv.Itoa(i+1)+"a", w), d.lead(g, k, c.Leads[1], strconv.Itoa(i+1)+"b", w))
		b.what = fmt.Sprintf("%s, %d", k.Title, i+1)
		out = append(out, b)
	}
	return out
}

func (d *document) lead(g *guide.Guide, k guide.Key, l questions.Lead, number string, w float64) block {
	const mark, goal = 11., 62.
	text := d.words(plain, w-mark-goal-4, l.Text)
	var end block
	if l.End == nil {
		end = d.words(bold, goal, strconv.Itoa(l.Next+1))
	} else {
		end = d.end(g, k, l, goal)
	}
	row := beside(w-mark-goal, text, end)
	return beside(mark, d.words(bold, mark, number), row)
}

// end names whom a lead comes to, each with its drawing; more than three only by name.
func (d *document) end(g *guide.Guide, k guide.Key, l questions.Lead, w float64) block {
	var all []string
	var cells []block
	for _, s := range l.End {
		all = append(all, s.Vernacular)
		if dr, ok := k.Drawn[s.Name]; ok && len(l.End) <= 3 {
			art := d.art(dr).bare()
			den := max(art.w/(w/float64(max(2, len(l.End)))-2), art.h/14)
			cells = append(cells, block{w: art.w / den, h: art.h / den, draw: func(x, y float64) { d.draw(art, x, y, den) }})
		}
	}
	name := guide.Sentence(strings.Join(all, g.Words.Or))
	if len(all) > 1 {
		name += " (" + g.Words.Not + ")"
	}
	return stack(.5, append([]block{d.words(bold, w, name)}, shelves(w, 2, cells)...)...)
}

// glossary has the terms, what structures tell, and what the traits look at.
func (d *document) glossary(g *guide.Guide) []block {
	w, _ := d.column()
	out := []block{d.heading(g.Words.Glossary)}
	out = append(out, d.terms(g.Terms, w)...)
	for _, part := range []struct {
		title string
		terms []guide.Term
	}{{g.Words.Tells, g.Tells}, {g.Words.Looked, g.Traits}} {
		if len(part.terms) == 0 {
			continue
		}
		rows := titled(d.words(section, w, part.title), d.terms(part.terms, w))
		rows[0].title, rows[0].under = part.title, 1
		out = append(out, rows...)
	}
	return out
}

// terms stand two in a row, each beside its drawing.
func (d *document) terms(terms []guide.Term, w float64) []block {
	const picture, high = 40., 30.
	var cells []block
	for _, t := range terms {
		room := w/2 - 4
		var art block
		if t.Drawing != nil {
			one, _ := d.together([]guide.Drawing{*t.Drawing}, placing{picture, high, 0})
			art, room = one[0], room-picture-2
		}
		text := stack(.3, d.words(bold, room, t.Name), d.words(small, room, note(t.Meaning, t.Rests)))
		if t.Drawing != nil {
			text = beside(picture+2, art, text)
		}
		cells = append(cells, text)
	}
	var rows []block
	for i := 0; i < len(cells); i += 2 {
		row := grid(2, w/2, 0, cells[i:min(i+2, len(cells))])
		row.what = terms[i].Name
		rows = append(rows, row)
	}
	return rows
}

func (d *document) sources(g *guide.Guide) []block {
	w, _ := d.column()
	out := []block{d.heading(g.Words.Sources, d.words(small, w, g.Words.Legend))}
	for _, s := range g.Sources {
		line := beside(9, d.words(small, 9, fmt.Sprintf("[%d]", s.Number)), d.words(small, w-9, strings.TrimSpace(s.Citation+". "+s.Opened)))
		line.what = fmt.Sprintf("%s, [%d]", g.Words.Sources, s.Number)
		out = append(out, line)
	}
	return out
}

// worksheet has each animal's drawings and blanks.
func (d *document) worksheet(g *guide.Guide) []block {
	w, _ := d.column()
	lines := beside(w*.65, d.toFill(d.say("Team"), w*.6), d.toFill(d.say("Date"), w*.35))
	out := []block{d.heading(g.Words.Worksheet, lines, d.words(small, w, g.Words.WorksheetHow))}
	for _, t := range g.Tasks {
		var pictures []block
		for _, dr := range t.Drawings {
			pictures = append(pictures, d.picture(d.art(dr), w/3-6, 34, dr.Caption+", "))
		}
		half := w/2 - 8
		var blanks []block
		for _, f := range t.Blanks {
			blanks = append(blanks, d.toFill(f.Label, half))
		}
		number := d.words(section, 8, strconv.Itoa(t.Number))
		b := beside(8, number, stack(0, append(shelves(w-8, 6, pictures), grid(2, half+6, 0, blanks))...))
		b.what = fmt.Sprintf("%s, %d", g.Words.Worksheet, t.Number)
		out = append(out, b)
	}
	return out
}

func (d *document) worksheetKey(g *guide.Guide) []block {
	w, _ := d.column()
	out := []block{d.heading(g.Words.Answers)}
	for _, t := range g.Tasks {
		var values []string
		for _, f := range t.Blanks[1:] {
			values = append(values, f.Label+": "+f.Value)
		}
		text := stack(.3, d.words(bold, w-9, t.Blanks[0].Value), d.words(small, w-9, strings.Join(values, "; ")))
		b := beside(9, d.words(bold, 9, strconv.Itoa(t.Number)), text)
		b.what = fmt.Sprintf("%s, %d", g.Words.Answers, t.Number)
		out = append(out, b)
	}
	return out
}
