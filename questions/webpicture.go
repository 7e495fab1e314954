package questions

import (
	"cmp"
	"fmt"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
	"fieldsign/questions/plate"
)

// DrawWeb is the food web of a roster as a picture of so many millimetres; false
// where it has too many animals to be read, or no two of which one eats the other.
func DrawWeb(c *catalogue.Catalogue, roster catalogue.Roster, width, height float64) (plate.Plate, bool) {
	book := phrasebooks[c.Language]
	animals, w := c.InPlay(roster, catalogue.FoodWeb), foodweb.New(c)
	if len(animals) > foodweb.MostDrawn {
		return plate.Plate{}, false
	}
	edges := w.Edges(animals)
	if len(edges) == 0 {
		return plate.Plate{}, false
	}
	picture := foodweb.Picture{Width: width, Height: height, Name: func(node string) string {
		if s, ok := c.Find(node); ok {
			return s.Vernacular
		}
		return cmp.Or(book.web.short[node], book.web.kinds[node])
	}}
	return plate.Plate{SVG: picture.Draw(edges), Alt: fmt.Sprintf(book.web.pictured, len(animals), len(edges))}, true
}
