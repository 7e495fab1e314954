package plate

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"fieldsign/questions/catalogue"
)

var scatTraits = []string{"scat_form", "scat_ends", "scat_length", "scat_diameter", "scat_surface", "scat_contents"}

// scatforms.csv has how each animal's scat is drawn where the catalogue leaves
// that open: the form that is most often met of one called variable, the shape
// of a pellet or a cord, a white cap, the contents that are plain to see.
//
//go:embed scatforms.csv
var scatFormSheet string

var scatRows = sync.OnceValue(func() map[string]map[string]string {
	out := map[string]map[string]string{}
	for _, r := range sheetRows(scatFormSheet) {
		out[r["species"]] = r
	}
	return out
})

// dropping is what is drawn of one species' scat, in mm: a piece of full
// size lying along the page, and others about it.
type dropping struct {
	seed           uint64 // of the name too: animals of like droppings have not the very same ones
	f              facts
	p              *pen
	long, thick    float64
	form, shape    string
	ends           string
	cap, grooved   bool
	shows          []string // contents that are plain to see
	flat           bool     // lies spread out, and is shaded as such
	marks          []curve  // on the main piece, light
	looks          string
	rough          float64 // of the outline, in parts of its thickness
	unshadedBeyond float64 // a pale cap right of this x; 0: none
}

// Scat draws a dropping, life-size.
func (h Hand) Scat(s catalogue.Species) (Plate, bool) {
	d, ok := h.dropping(s)
	if !ok {
		return Plate{}, false
	}
	d.draw(0)
	return Plate{SVG: d.p.finish(1, ""), Alt: d.describe()}, true
}

// draw puts it on a plate of at least some size.
func (d *dropping) draw(least float64) {
	d.p = newPen(d.seed, max(scatSpan(d.form)*max(d.long, d.thick), least))
	if d.thick < 15 {
		d.p.finer()
	}
	scatForms[d.form](d)
	d.p.zero = d.p.space.grown(0, 0, 0, 3*d.p.unit).hi
	d.p.zero.x = d.p.space.lo.x
}

// scatForms says how each form is drawn.
var scatForms = map[string]func(*dropping){
	"pellet": (*dropping).pellets, "round pellet": (*dropping).roundPellets,
	"sawdust ball": (*dropping).sawdustBalls, "kidney ball": (*dropping).kidneyBalls,
	"cord": (*dropping).cord, "segmented cord": (*dropping).segmentedCord, "twisted cord": (*dropping).twistedCord,
	"flat pat": (*dropping).pat, "capped tube": (*dropping).cappedTube, "J or spiral": (*dropping).hook,
	"loose": (*dropping).loose, "heap": (*dropping).piledCord, "cast pellet": (*dropping).castPellet,
}

// scatSpan is the drawing's width in lengths of a piece.
func scatSpan(form string) float64 {
	switch form {
	case "pellet", "round pellet", "sawdust ball", "kidney ball":
		return 3.2
	case "cast pellet":
		return 2
	}
	return 1.1
}

// dropping reads the catalogue first, and the sheet where it leaves a
// choice. What has no size is not drawn: no drawing is told by a missing scale.
func (h Hand) dropping(s catalogue.Species) (*dropping, bool) {
	f, row := facts(s.Values), scatRows()[s.Name]
	if f["scat_form"].Status == "" || f["scat_form"].Status == catalogue.Unknown {
		return nil, false
	}
	d := &dropping{f: f, seed: h.seed(f, "scat of "+s.Name, scatTraits...), rough: .03}
	known := f.text("scat_form")
	d.form = or(known, row["form"])
	if d.form == row["form"] || known == "" || row["form"] == "cast pellet" && known == "loose" {
		d.form, d.shape = row["form"], row["shape"]
	}
	d.shape = or(f.text("pellet_shape"), d.shape)
	d.ends = or(f.text("scat_ends"), row["ends"])
	d.cap = f.yes("end_cap") || !f.is("end_cap", "no") && (row["cap"] == "yes" || d.form == "capped tube")
	d.grooved = f.yes("scat_grooves") || !f.is("scat_grooves", "no") && row["grooves"] == "yes"
	d.shows = shown(f, row)
	switch f.text("scat_surface") {
	case "rough", "crumbly":
		d.rough = .07
	case "smooth":
		d.rough = .012
	}
	return d, scatForms[d.form] != nil && d.measure(row["size"])
}

func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// measure sets the size: the catalogue's, else the sheet's.
func (d *dropping) measure(size string) bool {
	l, okL := d.f.middle("scat_length")
	t, okT := d.f.middle("scat_diameter")
	if (!okL || !okT) && size != "" {
		typical := floats(size)
		l, t, okL, okT = typical[0], typical[1], true, true
	}
	d.long, d.thick = l*10, t*10
	if d.form != "flat pat" && d.form != "round pellet" {
		d.thick = min(d.thick, d.long)
	}
	return okL && okT
}

// shown are the contents to draw: those that the sheet picks out, as far as the
// catalogue does not deny them, else all that it knows.
func shown(f facts, row map[string]string) []string {
	v := f["scat_contents"]
	if row == nil {
		return v.Members
	}
	var out []string
	for _, m := range strings.Split(row["shows"], ";") {
		if m != "" && (!v.Known() || slices.Contains(v.Members, m) || slices.Contains(v.Maybe, m)) {
			out = append(out, m)
		}
	}
	return out
}

func (d *dropping) describe() string {
	holds := ""
	if len(d.shows) > 0 {
		holds = "traces of " + catalogue.Value{Members: d.shows}.Words() + " show in it"
	}
	ends := map[string]string{"tapered": "tapered ends", "blunt": "blunt ends", "rounded": "rounded ends",
		"pointed and dimpled": "one end pointed, the other dimpled"}[d.ends]
	surface := ""
	if t := d.f.text("scat_surface"); t != "" {
		surface = "the surface is " + t
	}
	return sentence("drawing of a dropping", d.looks, when(d.cap, "one end is capped with white"), when(d.grooved, "fine grooves run lengthwise"), ends, surface, holds,
		fmt.Sprintf("a piece is about %.1f cm long and %.1f cm thick", d.long/10, d.thick/10))
}

// body draws the main piece with its shadow, its marks and its contents.
func (d *dropping) body(c curve) {
	d.piece("body", c)
	d.p.strokes(d.marks, style{weight: light, pale: .85})
	d.contents(c, 1)
	d.whiten(c)
}

const dung = "#d6c6a8"

func (d *dropping) piece(name string, c curve) {
	b := c.box()
	deep := .3 * min(b.w(), b.h())
	if d.flat {
		deep *= .3
	}
	gap := max(1.1*d.p.unit, .05*min(b.w(), b.h()))
	drop := pt{.06 * min(b.w(), b.h()), .13 * min(b.w(), b.h())}
	d.p.hatchFrom(c.mapped(drop.add), -8, gap*1.1, drop.times(-1), style{weight: light, pale: .5})
	d.p.shape(c, style{name: name, fill: dung})
	d.p.hatch(c, -50, gap, deep, style{weight: faint, pale: .75})
	d.p.hatch(c, -50, 2.6*gap, deep*.45, style{weight: faint, pale: .7})
}

// whiten covers the end beyond a piece's cap with white.
func (d *dropping) whiten(c curve) {
	if d.unshadedBeyond <= 0 {
		return
	}
	x := d.unshadedBeyond
	capped := curve{closed: true}
	flat := c.polyline(4)
	for _, q := range flat {
		if q.x >= x {
			capped.pts = append(capped.pts, q)
		}
	}
	if len(capped.pts) < 4 {
		return
	}
	// begin where the outline comes in, so that the ring is closed by the cap's edge
	at := 0
	for i := range capped.pts {
		if capped.pts[i].sub(capped.pts[(i+len(capped.pts)-1)%len(capped.pts)]).norm() > .3*d.thick {
			at = i
		}
	}
	capped.pts = append(capped.pts[at:len(capped.pts):len(capped.pts)], capped.pts[:at]...)
	first, last := capped.pts[0], capped.pts[len(capped.pts)-1]
	for _, t := range []float64{.25, .5, .75} {
		capped.pts = append(capped.pts, mix(last, first, t).add(pt{d.thick * (.10*d.p.rng.NormFloat64() - .03), 0}))
	}
	d.p.stroke(capped, style{name: "cap", fill: "#ffffff", weight: light})
}

// sized stretches an outline to the exact length, and to the exact thickness
// where it is thickest across.
func (d *dropping) sized(c curve) curve {
	b := c.box()
	sx := d.long / b.w()
	sy := d.thick / thickest(c.polyline(32)) // finer than is drawn: it is measured
	return c.mapped(func(p pt) pt { return pt{(p.x - b.lo.x) * sx, (p.y - b.mid().y) * sy} })
}

// thickest is the longest upright chord of a polygon. A line sweeps over it, and
// looks only at the edges that it crosses.
func thickest(poly []pt) float64 {
	type edge struct{ a, b pt } // turned, so that the line lies flat
	var crossed []edge
	var xs []float64
	ahead, stops := make([]edge, 0, len(poly)), make([]float64, 0, 2*len(poly))
	for p, q := range edges(poly) {
		ahead = append(ahead, edge{pt{p.y, p.x}, pt{q.y, q.x}})
		stops = append(stops, p.x-1e-9, p.x+1e-9) // where the outline folds, the chords on the two sides of a corner differ
	}
	slices.Sort(stops)
	slices.SortFunc(ahead, func(e, f edge) int { return cmp.Compare(min(e.a.y, e.b.y), min(f.a.y, f.b.y)) })
	most := 0.
	for _, y := range stops {
		for len(ahead) > 0 && min(ahead[0].a.y, ahead[0].b.y) <= y {
			crossed, ahead = append(crossed, ahead[0]), ahead[1:]
		}
		crossed = slices.DeleteFunc(crossed, func(e edge) bool { return max(e.a.y, e.b.y) <= y })
		xs = xs[:0]
		for _, e := range crossed {
			xs = append(xs, crossing(e.a, e.b, y))
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			most = max(most, xs[i+1]-xs[i])
		}
	}
	return most
}
