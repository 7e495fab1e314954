package paper

import (
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/guide"
)

// Room for drawings on an animal's page. Prints stand at life size wherever the
// paper is large enough.
const (
	skullRoom = 92.
	trailRoom = 42.
	signRoom  = 48.
)

// animal is its page, which goes on where it has to.
func (d *document) animal(g *guide.Guide, a guide.Animal) []block {
	w, h := d.column()
	out := []block{d.animalHead(a, w)}
	out = append(out, d.drawings(a, w, h)...)
	out = append(out, d.measures(g, a, w)...)
	out = append(out, d.marks(g, a, w)...)
	var pairs []block
	for _, c := range a.Beside {
		pairs = append(pairs, d.comparison(g, a, c, w))
	}
	if len(pairs) > 0 {
		out = append(out, titled(d.words(section, w, g.Words.Lookalikes), pairs)...)
	}
	return append(out, d.cautions(g, a, w)...)
}

// drawings are the skull beside scat and trail, then the prints and the signs.
func (d *document) drawings(a guide.Animal, w, h float64) []block {
	rooms := map[string][2]float64{"skull": {skullRoom, skullRoom}, "trail": {w - skullRoom - 6, trailRoom}, "scat": {w - skullRoom - 6, trailRoom}}
	var skull, left, prints, signs []block
	for _, dr := range a.Drawings {
		art := d.art(dr)
		room, small := rooms[dr.Ref.View]
		sign := dr.Subject == "sign"
		if sign {
			room = [2]float64{w/3 - 6, signRoom}
		} else if !small {
			room = [2]float64{w, h}
			if art.h > h-captionHeight || art.w > w {
				art = art.bare() // without its ruler it has room at life size
			}
		}
		cell := d.picture(art, room[0], room[1], dr.Caption+", ")
		cell.what = a.Name + ", " + dr.Caption
		switch {
		case dr.Ref.View == "skull":
			skull = append(skull, cell)
		case sign:
			signs = append(signs, cell)
		case small:
			left = append(left, cell)
		default:
			prints = append(prints, cell)
		}
	}
	if len(left) > 0 {
		skull = append(skull, stack(3, left...))
	}
	return slices.Concat(shelves(w, 6, skull), shelves(w, 6, prints), shelves(w, 6, signs))
}

func (d *document) animalHead(a guide.Animal, w float64) block {
	parts := []block{d.words(latin, w, a.Species.Name)}
	for _, text := range []string{a.Kin, strings.Join(a.Names, ", "), strings.Join(a.About, ". ")} {
		if text != "" {
			parts = append(parts, d.words(small, w, text+"."))
		}
	}
	return d.heading(a.Name, parts...)
}

// measures are a table in two columns.
func (d *document) measures(g *guide.Guide, a guide.Animal, w float64) []block {
	const label = 36
	var cells []block
	for _, f := range a.Measures {
		cells = append(cells, beside(label, d.words(small, label-2, f.Label), d.words(small, w/2-label-4, note(f.Value, f.Rests))))
	}
	if len(cells) == 0 {
		return nil
	}
	b := stack(1, d.words(section, w, g.Words.Measures), grid(2, w/2, .6, cells))
	b.what = a.Name + ", " + g.Words.Measures
	return []block{b}
}

// marks are the fewest traits, by subject; each says whom it leaves.
func (d *document) marks(g *guide.Guide, a guide.Animal, w float64) []block {
	var out []block
	for _, m := range a.Marks {
		lines := []block{d.words(bold, w, m.Title)}
		for i, k := range m.Traits {
			lines = append(lines, beside(5, d.words(plain, 5, fmt.Sprint(i+1)), d.words(plain, w-5, k.Says+" ("+g.Words.Leaving(k)+"). "+k.Rests.Note())))
		}
		if len(m.Traits) == 0 {
			lines = append(lines, d.words(plain, w, g.Words.NoTrait))
		} else if len(m.Alike) > 0 {
			lines = append(lines, d.words(plain, w, fmt.Sprintf(g.Words.Alike, guide.Names(m.Alike))))
		}
		b := stack(.4, lines...)
		b.what = a.Name + ", " + m.Title
		out = append(out, b)
	}
	return titled(d.words(section, w, g.Words.Told), out)
}

// comparison has the two drawings on one scale and what separates them beside.
func (d *document) comparison(g *guide.Guide, a guide.Animal, c guide.Comparison, w float64) block {
	const one, high, text = 44., 34., 96.
	pictures, _ := d.together(c.Drawings, placing{one, high, 0})
	room := w - text
	lines := []block{d.words(bold, room, guide.Sentence(c.Other.Vernacular)), d.words(small, room, fmt.Sprintf(g.Words.Compared, c.Title, fmt.Sprintf(g.Words.Percent, c.Percent)))}
	for _, l := range c.Lines {
		lines = append(lines, d.words(small, room, l.Label+": "+l.This+" / "+note(l.Other, l.Rests)))
	}
	if len(c.Lines) == 0 {
		lines = append(lines, d.words(small, room, g.Words.Nothing))
	}
	b := beside(text, stack(0, grid(2, one+3, 0, pictures)), stack(.6, lines...))
	b.what = a.Name + ", " + c.Other.Vernacular
	return b
}

func (d *document) cautions(g *guide.Guide, a guide.Animal, w float64) []block {
	var lines []block
	for _, c := range a.Cautions {
		text := c.Says
		if c.Part != "" {
			text = c.Part + ": " + text
		}
		lines = append(lines, d.words(small, w, note(text, c.Rests)))
	}
	if len(lines) == 0 {
		return nil
	}
	b := stack(.7, append([]block{d.words(section, w, g.Words.Cautions)}, lines...)...)
	b.what = a.Name + ", " + g.Words.Cautions
	return []block{b}
}
