package foodweb

import (
	"cmp"
	"fmt"
	"html"
	"maps"
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

// Row is where a node stands in a picture, from 0 at the bottom: what grows, who
// feeds on that or is food of no named level, who takes both, who takes animals,
// and who takes those.
func (w *Web) Row(node string, animals []catalogue.Species) int {
	at := slices.IndexFunc(animals, func(s catalogue.Species) bool { return s.Name == node })
	if at < 0 {
		if Kind(node).Plant() {
			return 0
		}
		return 1
	}
	var takes []string // levels
	for _, prey := range animals {
		if w.Preys(animals[at], prey).Truth == catalogue.True {
			level, _ := w.Feeds(prey)
			takes = append(takes, string(level))
		}
	}
	switch level, _ := w.Feeds(animals[at]); {
	case level == Primary, level == "" && len(takes) == 0 && w.Eats(animals[at], Green).Truth == catalogue.True:
		return 1
	case level == Higher && (slices.Contains(takes, string(Higher)) || slices.Contains(takes, string(Both))):
		return 4
	case level == Higher:
		return 3
	}
	return 2
}

// Picture is what a web is drawn with: a size in mm, and what its nodes and rows are called.
type Picture struct {
	Width, Height float64
	Name          func(node string) string
	Rows          []string // from the bottom

	used []int // rows that have nodes
}

type node struct {
	id   string
	x, y float64
	row  int
}

const (
	boxHeight, textSize = 10.5, 3.3
	edgeColours         = "#1b5e8a #8a3b12 #3f6b2a #6a3d86 #8a1538 #1f6f68 #7a5c00 #39424e"
)

var tints = []string{"#dcebcf", "#eef3df", "#f6efd9", "#f7e3d3", "#f2d4cf"}

// Draw draws the web of some animals by its edges, each row above what most of it eats.
func (p Picture) Draw(w *Web, animals []catalogue.Species, edges []Edge) string {
	nodes, width := p.place(w, animals, edges)
	at := map[string]node{}
	for _, n := range nodes {
		at[n.id] = n
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g" font-family="Georgia,serif" stroke-linecap="round" stroke-linejoin="round">`, p.Width, p.Height, p.Width, p.Height)
	colours := strings.Fields(edgeColours)
	for i, s := range animals {
		for _, e := range edges {
			if e.Eater == s.Name {
				b.WriteString(arrowFrom(at[e.Food], at[e.Eater], colours[i%len(colours)], e.By))
			}
		}
	}
	for _, n := range nodes {
		b.WriteString(boxOf(n, width[n.row], p.Name(n.id)))
	}
	titled := map[int]bool{}
	for _, n := range nodes {
		if !titled[n.row] {
			titled[n.row] = true
			b.WriteString(p.titleOf(n.row))
		}
	}
	return b.String() + "</svg>"
}

// titleOf stands at the left above a row, on a ground that keeps lines off.
func (p Picture) titleOf(row int) string {
	y, title := p.level(row)-boxHeight-4.5, p.Rows[row]
	w := float64(len([]rune(title))) * 1.6
	return fmt.Sprintf(`<path d="M0 %.1fL%.1f %.1fL%.1f %.1fL0 %.1fz" fill="#ffffff" fill-opacity="0.85" stroke="none"/><text x="1" y="%.1f" font-size="2.9" font-style="italic" text-anchor="start" fill="#55554e">%s</text>`,
		y-3, w, y-3, w, y+1.2, y+1.2, y, html.EscapeString(title))
}

// level is the middle of a row: those that have nodes share the height.
func (p Picture) level(row int) float64 {
	at := slices.Index(p.used, row)
	return p.Height - 12 - float64(at)*(p.Height-36)/float64(max(1, len(p.used)-1))
}

// place orders each row by what its nodes are joined to, so that fewer lines
// cross, and sets a full one in two heights.
func (p *Picture) place(w *Web, animals []catalogue.Species, edges []Edge) ([]node, map[int]float64) {
	rows := map[int][]string{}
	for _, k := range Kinds {
		if slices.ContainsFunc(edges, func(e Edge) bool { return e.Food == string(k) }) {
			rows[w.Row(string(k), animals)] = append(rows[w.Row(string(k), animals)], string(k))
		}
	}
	for _, s := range animals {
		row := w.Row(s.Name, animals)
		rows[row] = append(rows[row], s.Name)
	}
	p.used = slices.Sorted(maps.Keys(rows))
	x, width := map[string]float64{}, map[int]float64{}
	spread := func(row int) {
		for i, id := range rows[row] {
			x[id] = p.Width * (float64(i) + .5) / float64(len(rows[row]))
		}
	}
	for row := range tints {
		spread(row)
	}
	for range 8 {
		for row := range tints {
			slices.SortStableFunc(rows[row], func(a, b string) int { return cmp.Compare(middle(a, x, edges), middle(b, x, edges)) })
			spread(row)
		}
	}
	var nodes []node
	for row := range tints {
		n := len(rows[row])
		full := float64(n)*22 > p.Width
		width[row] = min(30, p.Width/float64(max(1, n))-2)
		if full {
			width[row] = min(30, 2*p.Width/float64(n)-9)
		}
		for i, id := range rows[row] {
			y := p.level(row)
			if full {
				y += boxHeight * .62 * float64(2*(i%2)-1)
			}
			nodes = append(nodes, node{id, min(max(x[id], width[row]/2+.5), p.Width-width[row]/2-.5), y, row})
		}
	}
	return nodes, width
}

// middle is the mean place of what a node is joined to.
func middle(id string, x map[string]float64, edges []Edge) float64 {
	sum, n := x[id], 1.0
	for _, e := range edges {
		if e.Eater == id {
			sum, n = sum+x[e.Food], n+1
		}
		if e.Food == id {
			sum, n = sum+x[e.Eater], n+1
		}
	}
	return sum / n
}

// arrowFrom is a line to whoever eats; one that only a rule or a group decides is
// dashed. It comes from below where that stands higher, and else from above.
func arrowFrom(food, eater node, colour string, by By) string {
	const gap, beside = 1.4, 12.0
	x1, y1, x2, y2, head := food.x, food.y-boxHeight/2, eater.x, eater.y-boxHeight/2-gap, -1.0
	c1, c2 := y1-beside, y2-beside
	switch {
	case eater.y < food.y-boxHeight:
		y2, head = eater.y+boxHeight/2+gap, 1
		bend := max(6, (y1-y2)*.45)
		c1, c2 = y1-bend, y2+bend
	case eater.y > food.y+boxHeight:
		y1 = food.y + boxHeight/2
		bend := max(6, (y2-y1)*.45)
		c1, c2 = y1+bend, y2-bend
	}
	dash := ""
	if by == Rule || by == Group {
		dash = ` stroke-dasharray="1.6 1.2"`
	}
	return fmt.Sprintf(`<path d="M%.1f %.1fC%.1f %.1f %.1f %.1f %.1f %.1f" fill="none" stroke="%s" stroke-width="0.35" stroke-opacity="0.75"%s/><path d="M%.1f %.1fL%.1f %.1fL%.1f %.1fz" fill="%s" stroke="none"/>`,
		x1, y1, x1, c1, x2, c2, x2, y2, colour, dash, x2, y2-head*gap, x2-.9, y2+head*.6, x2+.9, y2+head*.6, colour)
}

func boxOf(n node, width float64, name string) string {
	l, t, r, b := n.x-width/2, n.y-boxHeight/2, n.x+width/2, n.y+boxHeight/2
	out := fmt.Sprintf(`<path d="M%.1f %.1fL%.1f %.1fL%.1f %.1fL%.1f %.1fz" fill="%s" stroke="#2b2b28" stroke-width="0.25"/>`, l, t, r, t, r, b, l, b, tints[n.row])
	lines := wrapped(name, width)
	for i, line := range lines {
		y := n.y + textSize*.36 + (float64(i)-float64(len(lines)-1)/2)*textSize*1.05
		out += fmt.Sprintf(`<text x="%.1f" y="%.1f" font-size="%g" text-anchor="middle" fill="#22221f">%s</text>`, n.x, y, textSize, html.EscapeString(line))
	}
	return out
}

// wrapped sets a name in at most three lines.
func wrapped(name string, width float64) []string {
	room := int(width / (textSize * .54))
	lines := []string{""}
	for _, word := range strings.Fields(name) {
		last := &lines[len(lines)-1]
		switch {
		case *last == "":
			*last = word
		case len([]rune(*last))+1+len([]rune(word)) <= room || len(lines) == 3:
			*last += " " + word
		default:
			lines = append(lines, word)
		}
	}
	return lines
}
