package plate

import (
	"fmt"
	"strings"
)

// jaw is upper or lower.
type jaw int

const (
	upper jaw = iota
	lower
)

func (j jaw) String() string { return [...]string{"upper", "lower"}[j] }

// formula is a dental formula, per side: incisors, canines, premolars and
// molars by jaw; -1 where the number is open.
type formula [4][2]int

var toothKinds = [4]string{"I", "C", "P", "M"}

func readFormula(text string) (n formula, ok bool) {
	fields := strings.Fields(text)
	if len(fields) != 8 {
		return n, false
	}
	for i, kind := range toothKinds {
		up, down, cut := strings.Cut(fields[2*i+1], "/")
		if fields[2*i] != kind || !cut {
			return n, false
		}
		n[i] = [2]int{digit(up), digit(down)}
	}
	return n, true
}

// digit is how many teeth a place has, usually or at least: 2 of 2(1), 3 of 3-4.
func digit(s string) int {
	if s != "" && s[0] >= '0' && s[0] <= '9' {
		return int(s[0] - '0')
	}
	return -1
}

// of is how many teeth of a kind are drawn.
func (n formula) of(kind int, j jaw) int { return max(0, n[kind][j]) }

func (n formula) varies(j jaw) bool {
	for kind := range n {
		if n[kind][j] < 0 {
			return true
		}
	}
	return false
}

func (n formula) describe(j jaw) string {
	names := [4]string{"incisor", "canine", "premolar", "molar"}
	var parts []string
	for kind, name := range names {
		switch c := n[kind][j]; {
		case c < 0:
			parts = append(parts, "a varying number of "+name+"s, not drawn")
		case c == 1:
			parts = append(parts, "1 "+name)
		case c > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", c, name))
		}
	}
	if len(parts) == 0 {
		return fmt.Sprintf("no teeth in the %v jaw", j)
	}
	return fmt.Sprintf("on each side of the %v jaw %s", j, strings.Join(parts, ", "))
}

// place of a cheek tooth along the jaw, in mm from the front.
type place struct {
	at, long   float64
	kind       int // 2 premolar, 3 molar
	carnassial bool
}

// cheekPlaces share the row out among its teeth.
func (k *skull) cheekPlaces(j jaw) []place {
	premolars, molars := k.teeth.of(2, j), k.teeth.of(3, j)
	var places []place
	sum := 0.
	for i := range premolars + molars {
		p := place{kind: 2, long: 1}
		if i >= premolars {
			p.kind = 3
		}
		k.proportion(&p, i, premolars, molars, j)
		sum += p.long
		places = append(places, p)
	}
	row := k.form.cheek
	if j == lower {
		row.lo, row.hi = row.lo-.012*k.long, row.hi+.004*k.long
	}
	if k.teeth[2][j] < 0 {
		row.lo = lerp(row.lo, row.hi, .3) // the gap where they may stand
	}
	unit := min((row.hi-row.lo)/sum, .085*k.long)
	at := row.hi - unit*sum
	for i := range places {
		places[i].long *= unit
		places[i].at = at + places[i].long/2
		at += places[i].long
	}
	return places
}

// proportion sizes a cheek tooth: premolars grow to the rear; the bladed pair
// is the longest; behind it the flesh-eaters' molars shrink.
func (k *skull) proportion(p *place, i, premolars, molars int, j jaw) {
	bladed := i == premolars-1 && j == upper || i == premolars && j == lower
	p.carnassial = bladed && k.f.yes("carnassials")
	tearing := k.f.oneOf("order", "Carnivora") && !k.f.is("cheek_teeth", "crushing")
	switch {
	case tearing && bladed:
		p.long = 1.45
	case tearing && p.kind == 3 && i == premolars+molars-1 && molars > 1:
		p.long = .65
	case tearing && p.kind == 2, k.f.oneOf("order", "Chiroptera", "Didelphimorphia", "Eulipotyphla") && p.kind == 2:
		p.long = lerp(.55, 1, float64(i+1)/float64(premolars))
	case p.kind == 2 && k.f.is("order", "Rodentia") && premolars > 1 && i == 0:
		p.long = .5
	case p.kind == 2 && k.f.is("cheek_teeth", "crescent-ridged"):
		p.long = .8
	}
}

// sideCrowns are cheek teeth from the side: y 0 at the bone, 1 at the tip.
var sideCrowns = map[string]curve{
	"shearing":        loop(-.5, -.4, -.5, .25, -.28, .42, -.05, 1, -.05, 1, .18, .48, .40, .62, .5, .2, .5, -.4),
	"crushing":        loop(-.5, -.4, -.5, .45, -.30, .74, -.08, .55, .14, .80, .36, .62, .5, .38, .5, -.4),
	"flat grinding":   loop(-.49, -.4, -.49, .2, -.46, .80, -.46, .80, 0, .84, .46, .78, .46, .78, .49, .2, .49, -.4),
	"crescent-ridged": loop(-.5, -.4, -.5, .5, -.25, .96, -.25, .96, -.02, .58, .25, .92, .25, .92, .5, .5, .5, -.4),
	"insect-piercing": loop(-.5, -.4, -.5, .3, -.30, 1, -.30, 1, -.10, .42, .12, .98, .12, .98, .30, .45, .44, .75, .44, .75, .5, .2, .5, -.4),
	"peg-like":        loop(-.40, -.4, -.42, .5, -.2, .85, .2, .85, .42, .5, .40, -.4),
	"":                loop(-.5, -.4, -.5, .42, -.22, .72, .2, .68, .5, .42, .5, -.4),
}

var (
	sidePremolar = loop(-.5, -.4, -.48, .12, -.03, .92, -.03, .92, .48, .12, .5, -.4)
	sideIncisor  = loop(-.45, -.4, -.48, .3, -.42, .92, -.42, .92, .40, 1, .40, 1, .48, .3, .45, -.4)
	sideCanine   = loop(-.46, -.28, -.50, .12, -.28, .58, .16, 1, .16, 1, .24, .55, .44, .12, .46, -.28)
)

const toothWhite = "#fbf8ef"

// sideTeeth draws one side's teeth; the upper canine comes later, in front of the lower jaw.
func (k *skull) sideTeeth() {
	k.p.open(style{weight: light, fill: toothWhite})
	defer k.p.close()
	for _, j := range []jaw{lower, upper} {
		k.sideIncisors(j)
		if j == lower {
			k.sideCanine(lower)
		}
		for _, c := range k.cheekPlaces(j) {
			crown := sideCrowns[k.f.text("cheek_teeth")]
			tall := min(.052*k.long, c.long*.95)
			if c.kind == 2 && (k.f.is("order", "Carnivora") || k.f.is("cheek_teeth", "insect-piercing")) {
				crown = sidePremolar
			}
			if c.carnassial {
				crown, tall = sideCrowns["shearing"], min(.062*k.long, c.long*.85)
			}
			k.sideTooth(j, toothKinds[c.kind], crown, c.at, c.long*.97, tall, 0, toothWhite)
		}
	}
}

// sideTooth places a crown at the edge of its jaw; lower teeth stand upward.
func (k *skull) sideTooth(j jaw, kind string, crown curve, x, wide, tall, lean float64, fill string) {
	up := 1.
	y := k.under(x)
	if j == lower {
		up, y = -1, k.jawTop(x)
	}
	c := crown.placed(pt{x, y}, wide, up*tall, lean).shaken(k.p.rng, .0015*k.long)
	s := style{name: k.noted("side", j, kind, c)}
	if fill != toothWhite {
		s.fill = fill
	}
	k.p.stroke(c, s)
}

// noted keeps a tooth's outline for labels to point at, and names it.
func (k *skull) noted(view string, j jaw, kind string, c curve) string {
	name := view + "-" + kind
	k.drawn[j.String()+" "+name] = append(k.drawn[j.String()+" "+name], c)
	return name
}

func (k *skull) jawTop(x float64) float64 {
	b := box{}.with(k.form.jaw.flat()...)
	x = min(max(x, b.lo.x+.004*k.long), k.form.cheek.hi)
	return across(k.form.jaw, x)[0].lo
}

func (k *skull) incisorFill() string {
	if tint, ok := map[string]string{"orange": "#dd9a4e", "yellow": "#ead38a"}[k.f.text("incisor_colour")]; ok {
		return tint
	}
	return toothWhite
}

func (k *skull) sideIncisors(j jaw) {
	n := k.teeth.of(0, j)
	if k.form.gnawing {
		k.gnawingIncisors(j, n)
		return
	}
	row, tall, lean := k.form.incisors, .040*k.long, 8.
	if j == lower {
		row, tall, lean = k.form.lowerFront, .036*k.long, -14
	}
	if k.form.comb && j == lower {
		n += k.teeth.of(1, lower)
		tall, lean = .055*k.long, -48
	}
	wide := min(.02*k.long, (row.hi-row.lo)/float64(max(n, 1)))
	if k.form.comb {
		wide = .016 * k.long
	}
	for i := n - 1; i >= 0; i-- {
		x := lerp(row.lo, row.hi, (float64(i)+.5)/float64(n))
		kind := "I"
		if i >= k.teeth.of(0, j) {
			kind = "C"
		}
		k.sideTooth(j, kind, sideIncisor, x, wide, tall, lean, k.incisorFill())
	}
}

// gnawingIncisors are long curved chisels; any further ones are small pegs behind.
func (k *skull) gnawingIncisors(j jaw, n int) {
	row := k.form.incisors
	if j == lower {
		row = k.form.lowerFront
	}
	mid := (row.lo + row.hi) / 2
	for i := 1; i < n; i++ {
		k.sideTooth(j, "I", sideIncisor, row.hi+.008*k.long, .014*k.long, .04*k.long, 6, toothWhite)
	}
	if n == 0 {
		return
	}
	y, way, thick := k.under(mid), []float64{.018, -.05, -.012, .0, -.016, .06, .008, .115}, .020
	if j == lower {
		y, way, thick = k.jawTop(mid), []float64{.03, .06, -.005, .03, -.030, -.012, -.036, -.062}, .017
	}
	centre := pairs(way)
	for i, q := range centre {
		centre[i] = q.times(k.long).add(pt{mid, y})
	}
	var fine []pt
	for _, q := range (curve{pts: centre}).flat() {
		if len(fine) == 0 || fine[len(fine)-1].sub(q).norm() > .018*k.long {
			fine = append(fine, q)
		}
	}
	c := tube(fine, func(t float64) float64 { return thick * k.long * (1 - .75*max(0, t-.72)/.28) })
	k.p.stroke(c, style{name: k.noted("side", j, "I", c), fill: k.incisorFill()})
	k.p.hatch(c, -70, 1.3*k.p.unit, .012*k.long, style{weight: faint, pale: .7})
}

// canines of the upper jaw pass outside the lower one.
func (k *skull) canines() {
	k.p.open(style{weight: light, fill: toothWhite})
	k.sideCanine(upper)
	k.p.close()
}

func (k *skull) sideCanine(j jaw) {
	if k.teeth.of(1, j) == 0 || k.form.comb && j == lower {
		return
	}
	x, wide, tall := k.form.canine, .024*k.long, .045*k.long
	if k.f.yes("large_canines") {
		wide, tall = .046*k.long, .125*k.long
	}
	if j == lower {
		x, tall = x-wide*1.05, tall*.82
	}
	k.sideTooth(j, "C", sideCanine, x, wide, tall, 0, toothWhite)
}
