package paper

import "fieldsign/questions/guide"

// web is who eats whom, as wide as the column.
func (d *document) web(g *guide.Guide) []block {
	if g.Web.Plate.SVG == "" {
		return nil
	}
	const told = 40 // mm, for what stands above
	w, h := d.column()
	art := d.art(g.Web)
	den := max(art.w/w, art.h/(h-told))
	picture := block{w: art.w / den, h: art.h / den, draw: func(x, y float64) { d.draw(art, x, y, den) }}
	return []block{d.heading(g.Words.Web, d.words(plain, w, g.Words.WebHow), picture)}
}
