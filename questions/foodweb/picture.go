package foodweb

import (
	"fmt"
	"html"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

// MostDrawn is how many animals a picture of a web has at most; more can't be read.
const MostDrawn = 24

// Edge is one that eats, and what.
type Edge struct {
	Food, Eater string // a kind of food, or a species
	By          By
}

// Edges lists all that is decided to be eaten among some animals and the kinds of food.
func (w *Web) Edges(animals []catalogue.Species) []Edge {
	var out []Edge
	for _, eater := range animals {
		for _, k := range Kinds {
			if w.Eats(eater, k).Truth == catalogue.True {
				out = append(out, Edge{string(k), eater.Name, Diet})
			}
		}
		for _, prey := range animals {
			if v := w.Preys(eater, prey); v.Truth == catalogue.True {
				out = append(out, Edge{prey.Name, eater.Name, v.By})
			}
		}
	}
	return out
}

// Picture is what a web is drawn with: a size in mm, and what its nodes are called.
type Picture struct {
	Width, Height float64
	Name          func(node string) string
}

const (
	textSize  = 3.3
	letter    = 0.6 // of a type size, the mean width in the widest of the serif faces that may stand in
	leading   = 1.05
	arrowHead = 1.5
	stub      = 0.6 // of an upright line beside its track, kept where another line is cut
)

// treeColours keep neighbours apart: a line's colour says nothing.
var treeColours = strings.Fields("#1b5e8a #a8430f #3f6b2a #6a3d86 #8a1538 #00797a #7a5c00 #39424e #b0307c #4a5fc1")

// drawing is a layout with its heights.
type drawing struct {
	*layout
	Picture
	step  float64   // between tracks
	floor []float64 // of each row's boxes: their lower edge
}

// Draw draws the web of some edges. Each line starts at what is eaten, and ends at whoever eats it.
func (p Picture) Draw(edges []Edge) string {
	d := drawing{layout: laid(p.Width, edges), Picture: p}
	d.setHeights()
	colour, dashed := d.colours(), map[[2]string]bool{}
	for _, e := range edges {
		dashed[[2]string{e.Food, e.Eater}] = e.By == Rule || e.By == Group
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g" font-family="Georgia,serif" stroke-linecap="round" stroke-linejoin="round">`, p.Width, p.Height, p.Width, p.Height)
	for row, nets := range d.nets {
		for _, n := range nets {
			b.WriteString(d.uprights(row, n, colour[n.food], dashed))
		}
	}
	for row, nets := range d.nets {
		for _, n := range nets {
			b.WriteString(d.along(row, n, colour[n.food]))
		}
	}
	for row, items := range d.rows {
		for _, it := range items {
			if !it.lane {
				b.WriteString(d.box(it, d.floor[row]))
			}
		}
	}
	return b.String() + "</svg>"
}

// setHeights shares what the boxes leave among the tracks, and as much as two tracks
// above and below them.
func (d *drawing) setHeights() {
	spaces := make([]float64, len(d.rows)-1)
	all := 0.0
	for row := range spaces {
		spaces[row] = 3
		for _, n := range d.nets[row] {
			spaces[row] = max(spaces[row], float64(n.track+4))
		}
		all += spaces[row]
	}
	d.step = (d.Height - 1 - boxHeight*float64(len(d.rows))) / all
	at := d.Height - .5
	for row := range d.rows {
		d.floor = append(d.floor, at)
		if row < len(spaces) {
			at -= boxHeight + spaces[row]*d.step
		}
	}
}

// colours gives each food's lines a colour that the fewest beside it have.
func (d *drawing) colours() map[string]string {
	colour := map[string]string{}
	for _, nets := range d.nets {
		for _, n := range nets {
			if colour[n.food] == "" {
				colour[n.food] = d.rarest(n.food, colour)
			}
		}
	}
	return colour
}

func (d *drawing) rarest(food string, colour map[string]string) string {
	used := map[string]int{}
	for _, nets := range d.nets {
		if slices.ContainsFunc(nets, func(n *net) bool { return n.food == food }) {
			for _, n := range nets {
				used[colour[n.food]]++
			}
		}
	}
	return slices.MinFunc(treeColours, func(a, b string) int { return used[a] - used[b] })
}

// trackAt is the height of a net's track, or of the middle of the space where it has none.
func (d *drawing) trackAt(row int, n *net) float64 {
	if n.track < 0 {
		return (d.floor[row] - boxHeight + d.floor[row+1]) / 2
	}
	return d.floor[row] - boxHeight - float64(n.track+1)*d.step - d.step/2
}

// uprights are a net's lines from below, and on to the row above: through it where
// they have a lane, and else to an arrow head. What a rule or a group decides is broken.
func (d *drawing) uprights(row int, n *net, colour string, dashed map[[2]string]bool) string {
	var b strings.Builder
	y := d.trackAt(row, n)
	for _, id := range n.ends {
		x := n.down[id]
		b.WriteString(stroke(colour, "", x, d.floor[row]-boxHeight, x, y))
	}
	for _, id := range n.tops {
		x, end, dash := n.up[id], d.floor[row+1]+arrowHead, ""
		if d.items[id].lane {
			end = d.floor[row+1] - boxHeight
		} else {
			b.WriteString(fmt.Sprintf(`<path d="M%.2f %.2fL%.2f %.2fL%.2f %.2fz" fill="%s" stroke="none"/>`, x, d.floor[row+1]+.2, x-.95, end+.5, x+.95, end+.5, colour))
		}
		if dashed[[2]string{n.food, id}] {
			dash = ` stroke-dasharray="0.9 1"`
		}
		b.WriteString(stroke(colour, dash, x, y, x, end))
	}
	return b.String()
}

// along is a net's track, over the lines of others, and a dot where it branches.
func (d *drawing) along(row int, n *net, colour string) string {
	if n.track < 0 {
		return ""
	}
	from, to := n.span()
	y := d.trackAt(row, n)
	var b strings.Builder
	fmt.Fprintf(&b, `<path d="M%.2f %.2fL%.2f %.2fL%.2f %.2fL%.2f %.2fz" fill="#ffffff" stroke="none"/>`, from, y-stub, to, y-stub, to, y+stub, from, y+stub)
	b.WriteString(stroke(colour, "", from, y, to, y))
	for _, id := range n.ends {
		b.WriteString(stroke(colour, "", n.down[id], y, n.down[id], y+stub))
	}
	for _, id := range n.tops {
		b.WriteString(stroke(colour, "", n.up[id], y-stub, n.up[id], y))
	}
	for _, x := range n.branches() {
		b.WriteString(dot(x, y, colour))
	}
	return b.String()
}

func dot(x, y float64, colour string) string {
	const r, c = 0.65, 0.36
	return fmt.Sprintf(`<path d="M%.2f %.2fC%.2f %.2f %.2f %.2f %.2f %.2fC%.2f %.2f %.2f %.2f %.2f %.2fC%.2f %.2f %.2f %.2f %.2f %.2fC%.2f %.2f %.2f %.2f %.2f %.2fz" fill="%s" stroke="none"/>`,
		x-r, y, x-r, y-c, x-c, y-r, x, y-r, x+c, y-r, x+r, y-c, x+r, y, x+r, y+c, x+c, y+r, x, y+r, x-c, y+r, x-r, y+c, x-r, y, colour)
}

func stroke(colour, dash string, x1, y1, x2, y2 float64) string {
	return fmt.Sprintf(`<path d="M%.2f %.2fL%.2f %.2f" fill="none" stroke="%s" stroke-width="0.45"%s/>`, x1, y1, x2, y2, colour, dash)
}

// box stands on its floor. Its words are set smaller where the longest is too wide.
func (d *drawing) box(it *item, floor float64) string {
	l, t, r, fill := it.x-it.width/2, floor-boxHeight, it.x+it.width/2, "#fbf8ef"
	if Kind(it.id).Plant() {
		fill = "#dcebcf"
	}
	out := fmt.Sprintf(`<path d="M%.2f %.2fL%.2f %.2fL%.2f %.2fL%.2f %.2fz" fill="%s" stroke="#2b2b28" stroke-width="0.25"/>`, l, t, r, t, r, floor, l, floor, fill)
	lines, size := fitted(d.Name(it.id), it.width-1.6)
	for i, line := range lines {
		y := floor - boxHeight/2 + size*.36 + (float64(i)-float64(len(lines)-1)/2)*size*leading
		out += fmt.Sprintf(`<text x="%.2f" y="%.2f" font-size="%.2f" text-anchor="middle" fill="#22221f">%s</text>`, it.x, y, size, html.EscapeString(line))
	}
	return out
}

// fitted sets a name in lines of the largest type that a box takes.
func fitted(name string, width float64) (lines []string, size float64) {
	for size = textSize; ; size -= .1 {
		room := int(width / (size * letter))
		lines = wrapped(name, room)
		wide := slices.ContainsFunc(lines, func(line string) bool { return len([]rune(line)) > room })
		if size < textSize/2 || !wide && float64(len(lines))*size*leading < boxHeight-.8 {
			return lines, size
		}
	}
}

func wrapped(name string, room int) []string {
	lines := []string{""}
	for word := range strings.FieldsSeq(name) {
		last := &lines[len(lines)-1]
		switch {
		case *last == "":
			*last = word
		case len([]rune(*last))+1+len([]rune(word)) <= room:
			*last += " " + word
		default:
			lines = append(lines, word)
		}
	}
	return lines
}
