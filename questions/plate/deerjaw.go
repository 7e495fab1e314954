package plate

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"fieldsign/questions/catalogue"
)

// wear of a tooth's chewing surface: what shows is the brown dentine between
// two lines of white enamel.
type wear int

const (
	unworn wear = iota // dentine narrower than the enamel
	worn               // dentine wider than the enamel
	smooth
)

// jawTooth is a cheek tooth of a deer's lower jaw: its lobes from the side,
// how far it is out, its wear.
type jawTooth struct {
	long, out float64 // mm in a grown jaw; part of its height
	lobes     int
	wear      wear
	fresh     bool // white and unstained
}

// deerJaw is a class of age as Severinghaus told them apart (1949, Tooth
// development and wear as criteria of age in white-tailed deer).
type deerJaw struct {
	name  string
	size  float64 // of a grown jaw
	teeth []jawTooth
}

var (
	milk  = []jawTooth{{8, 1, 1, worn, false}, {10, 1, 2, worn, false}, {15, 1, 3, worn, false}}
	grown = premolars(unworn)
)

// premolars are the first three teeth of a grown deer.
func premolars(w wear) []jawTooth {
	return []jawTooth{{8, 1, 1, w, false}, {10.5, 1, 2, w, false}, {11.5, 1, 2, w, false}}
}

// molars are the fourth, fifth and sixth tooth.
func molars(premolars []jawTooth, out float64, wears ...wear) []jawTooth {
	all := slices.Clone(premolars)
	for i, w := range wears {
		t := jawTooth{[]float64{13, 15, 20}[i], 1, []int{2, 2, 3}[i], w, false}
		if i == len(wears)-1 {
			t.out = out
		}
		all = append(all, t)
	}
	return all
}

// thirdComing is the row of a yearling that has shed its milk teeth.
func thirdComing() []jawTooth {
	row := molars(grown, 1, unworn, unworn, unworn)
	for i := range 3 {
		row[i].fresh = true
		row[i].out = .75
	}
	row[2].out = .5
	return row
}

var deerJaws = []deerJaw{
	{"fawn", .74, molars(milk, .45, unworn, unworn)},
	{"yearling", .94, molars(milk, .7, unworn, unworn, unworn)},
	{"yearling, third tooth new", .96, thirdComing()},
	{"2.5", 1, molars(grown, 1, unworn, unworn, unworn)},
	{"3.5", 1, molars(grown, 1, worn, unworn, unworn)},
	{"4.5", 1, molars(grown, 1, worn, worn, unworn)},
	{"5.5", 1, molars(grown, 1, worn, worn, worn)},
	{"6.5", 1, molars(premolars(worn), 1, smooth, worn, worn)},
	{"7.5", 1, molars(premolars(worn), 1, smooth, smooth, worn)},
	{"8.5", 1, molars(premolars(smooth), 1, smooth, smooth, smooth)},
}

// DeerJaws are the classes of age of which DeerJaw has a drawing.
func DeerJaws() []string {
	var names []string
	for _, j := range deerJaws {
		names = append(names, j.name)
	}
	return names
}

// DeerJaw draws the lower jaw of a deer of a class of age: from the side, and
// its cheek teeth from above, enlarged, so that their wear is seen.
func (h Hand) DeerJaw(s catalogue.Species, class string) (Plate, bool) {
	at := slices.IndexFunc(deerJaws, func(j deerJaw) bool { return j.name == class })
	k, ok := h.skull(s)
	if at < 0 || !ok {
		return Plate{}, false
	}
	j := deerJaws[at]
	k.long *= j.size
	k.p = newPen(h.seed(k.f, "jaw "+class), k.long*.85)
	k.jawSide(j)
	k.scale(0, .85*k.long)
	k.jawRow(j)
	return Plate{SVG: k.finish(), Alt: j.describe()}, true
}

const enlarged = 3

// jawSide is the jaw with its teeth, as its class has them.
func (k *skull) jawSide(j deerJaw) {
	row := k.rowOf(lower)
	k.p.open(style{weight: light, fill: toothWhite})
	k.sideIncisors(lower)
	x := row[0].x
	for _, t := range j.teeth {
		long := t.long * j.size / k.unit()
		y, deg := along(row, x+long/2)
		crown := sideLobes(t).placed(pt{x + long/2, y}, long*.97, -t.tall()*j.size/k.unit(), deg)
		k.p.stroke(crown.mapped(k.mm), style{name: "side-tooth", fill: t.fill()})
		x += long
	}
	k.p.close()
	c, _ := k.form.part("side jaw")
	jaw := k.outline(c, steady)
	k.p.shape(jaw, style{name: "jaw", fill: bone})
	k.shade(jaw, .035)
}

func (t jawTooth) fill() string {
	if t.fresh {
		return "#ffffff"
	}
	return "#f4ecd2"
}

// tall is the height of the crown over the jaw, in mm.
func (t jawTooth) tall() float64 { return []float64{11, 7.5, 4.2}[t.wear] * t.out }

// sideLobes are the cusps from the side: sharp, then blunted, then flat.
func sideLobes(t jawTooth) curve {
	peak, dip := []float64{1, .96, 1}[t.wear], []float64{.5, .7, .96}[t.wear]
	c := loop(-.5, -.3, -.5, dip*.9)
	for i := range t.lobes {
		x := (float64(i)+.5)/float64(t.lobes) - .5
		half := .16 / float64(t.lobes) * float64(t.wear+1)
		c.pts = append(c.pts, pt{x - half, peak}, pt{x - half, peak}, pt{x + half, peak * .98}, pt{x + half, peak * .98})
		if i < t.lobes-1 {
			c.pts = append(c.pts, pt{x + .5/float64(t.lobes), dip})
		}
	}
	c.pts = append(c.pts, pt{.5, dip * .9}, pt{.5, -.3})
	return c
}

// jawRow is the row of cheek teeth from above, numbered from the front.
func (k *skull) jawRow(j deerJaw) {
	scale := enlarged * j.size
	at := pt{.04 * k.long, k.p.space.hi.y + 15*scale}
	for i, t := range j.teeth {
		long := t.long * scale
		k.surfaceOf(t, pt{at.x + long/2, at.y}, long*.95, []float64{6, 8, 9, 10.5, 11, 10.5}[i]*scale)
		k.p.text(pt{at.x + long/2, at.y + 8.5*scale + 3*k.p.unit}, "middle", strconv.Itoa(i+1))
		at.x += long
	}
	k.p.text(pt{.04 * k.long, at.y + 8.5*scale + 9*k.p.unit}, "start", fmt.Sprintf("cheek teeth from above, × %d", enlarged))
}

const dentine = "#8a5a33"

// surfaceOf is a tooth's chewing surface: a pair of crescents for each lobe.
func (k *skull) surfaceOf(t jawTooth, at pt, long, broad float64) {
	k.p.stroke(loop(-.48, -.34, -.2, -.48, .2, -.48, .48, -.34, .5, .2, .4, .48, 0, .42, -.4, .48, -.5, .2).placed(at, long, broad, 0), style{name: "tooth", fill: t.fill()})
	if t.wear == smooth {
		k.p.stroke(loop(-.42, -.26, 0, -.38, .42, -.26, .42, .3, 0, .32, -.42, .3).placed(at, long, broad, 0), style{name: "dentine", fill: dentine, weight: light})
		return
	}
	wide := []float64{.05, .13}[t.wear]
	lobes := max(1, t.lobes)
	step := 1 / float64(lobes)
	for i := range lobes {
		x := (float64(i)+.5)*step - .5
		for _, c := range [][]pt{
			{{x - .44*step, -.02}, {x - .3*step, .22}, {x, .33}, {x + .3*step, .22}, {x + .44*step, -.02}},
			{{x - .4*step, -.2}, {x - .2*step, -.34}, {x, -.37}, {x + .2*step, -.34}, {x + .4*step, -.2}},
		} {
			for n, q := range c {
				c[n] = pt{at.x + q.x*long, at.y + q.y*broad}
			}
			band := tube(c, func(part float64) float64 { return wide * broad * (.35 + .65*math.Sin(math.Pi*part)) })
			k.p.stroke(band, style{name: "dentine", fill: dentine, weight: faint})
		}
	}
}

func (j deerJaw) describe() string {
	last := len(j.teeth) - 1
	parts := []string{"drawing of the lower jaw of a deer from the side, and its cheek teeth from above, enlarged",
		fmt.Sprintf("%d cheek teeth", len(j.teeth)), when(j.teeth[last].out < 1, "the last one half out of the jaw")}
	switch third := j.teeth[2]; {
	case third.lobes == 3:
		parts = append(parts, "the third tooth has three cusps")
	case third.out < 1:
		parts = append(parts, "the third tooth has two cusps, is white and half out of the jaw")
	default:
		parts = append(parts, "the third tooth has two cusps")
	}
	for i, t := range j.teeth[min(3, last):] {
		pattern := []string{"on tooth %d the dentine is narrower than the enamel", "on tooth %d the dentine is wider than the enamel", "tooth %d is worn smooth"}[t.wear]
		parts = append(parts, fmt.Sprintf(pattern, i+4))
	}
	return sentence(parts...)
}
