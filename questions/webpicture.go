package questions

import (
	"cmp"
	"fmt"
	"slices"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
	"fieldsign/questions/plate"
)

// Web is who eats whom in a roster, as it is shown to a reader.
type Web struct {
	Edges   []foodweb.Edge
	Animals int      // that an arrow leads to or from
	Left    []string // the others, by their names in words

	words *catalogue.Catalogue
	book  *phrasebook
}

// WebOf reads a roster's web in the words of a catalogue.
func WebOf(c *catalogue.Catalogue, roster catalogue.Roster) Web {
	animals := c.InPlay(roster, catalogue.FoodWeb)
	w := Web{Edges: foodweb.New(c).Edges(animals), words: c, book: phrasebooks[c.Language]}
	for _, s := range animals {
		if slices.ContainsFunc(w.Edges, func(e foodweb.Edge) bool { return e.Food == s.Name || e.Eater == s.Name }) {
			w.Animals++
		} else {
			w.Left = append(w.Left, s.Vernacular)
		}
	}
	return w
}

// Name is what a node is called in words.
func (w Web) Name(node string) string {
	if s, ok := w.words.Find(node); ok {
		return s.Vernacular
	}
	return cmp.Or(w.book.web.short[node], w.book.web.kinds[node])
}

// Drawable: it has an arrow, and no more animals than can be read.
func (w Web) Drawable() bool { return len(w.Edges) > 0 && w.Animals <= foodweb.MostDrawn }

// Draw is the web as a picture of so many millimetres; false where it has none.
func (w Web) Draw(width, height float64) (plate.Plate, bool) {
	if !w.Drawable() {
		return plate.Plate{}, false
	}
	picture := foodweb.Picture{Width: width, Height: height, Name: w.Name}
	return plate.Plate{SVG: picture.Draw(w.Edges), Alt: fmt.Sprintf(w.book.web.pictured, w.Animals, len(w.Edges))}, true
}
