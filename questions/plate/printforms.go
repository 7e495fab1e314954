package plate

import (
	_ "embed"
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"sync"

	"fieldsign/questions/catalogue"
)

// A form is the shape of one foot's print, as data: printforms.csv names it and
// says what is seen and where that was read, printparts.csv has its parts,
// printanimals.csv the animals that it is the form of. The frame is that of a
// right foot seen from above: toes up the page, the tip of the longest at y = 0
// and the rear at y = 1, the inner side left.

//go:embed prints/forms.csv
var printFormSheet string

//go:embed prints/parts.csv
var printPartSheet string

//go:embed prints/animals.csv
var printAnimalSheet string

// printForm is the form of one foot.
type printForm struct {
	kind          string // as the trait foot_type has it
	parts         []part
	looks         string
	length, width float64 // in cm, of an animal whose size the catalogue calls variable
}

// printForms are kept by name and foot, such as "badger front".
var printForms = sync.OnceValue(func() map[string]*printForm {
	out := map[string]*printForm{}
	for _, r := range sheetRows(printFormSheet) {
		f := &printForm{kind: r["kind"], looks: r["looks"]}
		if r["size"] != "" {
			size := floats(r["size"])
			f.length, f.width = size[0], size[1]
		}
		out[r["form"]+" "+r["foot"]] = f
	}
	for _, r := range sheetRows(printPartSheet) {
		f := out[r["form"]+" "+r["foot"]]
		f.parts = append(f.parts, newPart(r["part"], r["shape"], floats(r["at"])))
	}
	return out
})

// animalForms is the form of each species that has one.
var animalForms = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for _, r := range sheetRows(printAnimalSheet) {
		out[r["species"]] = r["form"]
	}
	return out
})

// sheetRows reads an embedded sheet, by the names of its columns.
func sheetRows(sheet string) []map[string]string {
	rows, err := csv.NewReader(strings.NewReader(sheet)).ReadAll()
	if err != nil {
		panic(err) // the sheet is embedded, and tested
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		row := map[string]string{}
		for i, column := range rows[0] {
			row[column] = r[i]
		}
		out = append(out, row)
	}
	return out
}

func floats(s string) []float64 {
	var out []float64
	for _, word := range strings.Fields(s) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			panic(err) // as above
		}
		out = append(out, x)
	}
	return out
}

var (
	eggToe    = loop(0, -.5, .27, -.40, .47, -.04, .40, .33, 0, .5, -.40, .33, -.47, -.04, -.27, -.40)
	dropToe   = loop(0, -.5, .20, -.38, .45, .04, .42, .34, 0, .5, -.42, .34, -.45, .04, -.20, -.38)
	ovalUnit  = loop(0, -.5, .36, -.36, .5, 0, .36, .36, 0, .5, -.36, .36, -.5, 0, -.36, -.36)
	clawUnit  = loop(0, -.5, 0, -.5, .4, .2, .2, .5, -.2, .5, -.4, .2)
	unitParts = map[string]curve{"egg": eggToe, "drop": dropToe, "oval": ovalUnit, "claw": clawUnit}
)

// newPart makes a part from a row of the sheet. A name with a question mark is
// of a part that often leaves no mark.
func newPart(name, shape string, at []float64) part {
	name, faint := strings.CutSuffix(name, "?")
	p := part{name: name, faint: faint}
	switch shape {
	case "loop":
		p.c = loop(at...)
		p.rigid = name == "toe" || name == "lead"
	case "line":
		p.c = line(at...)
	case "finger":
		p.c = finger(pt{at[0], at[1]}, pt{at[2], at[3]}, at[4])
	case "bird":
		p.c = birdToe(pt{at[0], at[1]}, pt{at[2], at[3]}, at[4]/2, at[5])
	default:
		p.c = unitParts[shape].placed(pt{at[0], at[1]}, at[3], at[2], at[4])
		p.rigid = true
	}
	return p
}

// finger is slim in the middle, with a pad at its end.
func finger(from, to pt, wide float64) curve {
	radii := []float64{.34, .42, .40, .40, .48, .48, .27}
	var centre []pt
	for i := range radii {
		centre = append(centre, mix(from, to, float64(i)/6))
	}
	return tube(centre, func(t float64) float64 { return wide * radii[int(t*6+.5)] })
}

// birdToe is a jointed toe: three swellings and a rounded tip.
func birdToe(from, to pt, r, bow float64) curve {
	d := to.sub(from)
	side := pt{-d.y, d.x}
	var centre []pt
	for i := range 13 {
		t := float64(i) / 12
		centre = append(centre, from.add(d.times(t)).add(side.times(bow*math.Sin(math.Pi*t)*2)))
	}
	return tube(centre, func(t float64) float64 {
		if t > .99 {
			return r * .4
		}
		return r * (.90 - .12*math.Cos(6*math.Pi*t) - .22*t)
	})
}

// printFormOf is the form of a species' print: its own, where no value speaks
// against it, else that of an animal that shows the same taught traits.
func printFormOf(s catalogue.Species, side string) (*printForm, bool) {
	f := facts(s.Values)
	for _, name := range []string{animalForms()[s.Name], taughtForm(f, side)} {
		form, known := printForms()[name+" "+side]
		if known && form.suits(f, side) {
			return form, true
		}
	}
	return nil, false
}

// suits reports whether no known value contradicts the form.
func (form *printForm) suits(f facts, side string) bool {
	if f.text("foot_type") != form.kind {
		return false
	}
	toes, thumb := 0, false
	for _, p := range form.parts {
		if p.isToe() {
			toes++
		}
		thumb = thumb || p.name == "thumb"
	}
	if !f.mayCount(f.toesTrait(side), toes) {
		return false
	}
	return side == "front" || f.yes("thumb") == thumb || f.text("thumb") == "" && form.kind != "paw"
}

// toesTrait counts the toes of a foot; of a bird's only those that point forward.
func (f facts) toesTrait(side string) string {
	if f.is("foot_type", "bird foot") && side == "front" && f["toes_forward"].Status != "" {
		return "toes_forward"
	}
	return side + "_toes"
}

// mayCount reports whether a count can be n: known to be, or to vary about it.
func (f facts) mayCount(trait string, n int) bool {
	v := f[trait]
	return v.Status == catalogue.Variable || v.Known() && v.Number() && v.Lo <= float64(n) && float64(n) <= v.Hi
}

// taughtForm names a form by what the track sheet says, and where that leaves a
// choice by order and family, which are trait values as well.
func taughtForm(f facts, side string) string {
	toes, _ := f.count(f.toesTrait(side))
	for _, rule := range taughtForms {
		if rule.toes != 0 && rule.toes != toes {
			continue
		}
		if rule.side != "" && rule.side != side {
			continue
		}
		if f.oneOf(rule.trait, strings.Split(rule.state, "|")...) {
			return rule.form
		}
	}
	return ""
}

// taughtForms are tried from the top.
var taughtForms = []struct {
	trait, state, side string
	toes               int
	form               string
}{
	{"thumb", "yes", "hind", 5, "opossum"},
	{"outline", "star-shaped", "front", 5, "opossum"},
	{"outline", "hand-like", "", 5, "raccoon"},
	{"toe_line", "nearly straight", "front", 5, "grizzly"},
	{"heel_pad", "kidney", "", 5, "black bear"},
	{"heel_pad", "bumpy", "", 0, "porcupine"},
	{"order", "Lagomorpha", "", 4, "cottontail"},
	{"pad_lobes_back", "yes", "", 4, "bobcat"},
	{"leading_toe", "yes", "", 4, "bobcat"},
	{"pad_bar", "yes", "", 4, "red fox"},
	{"heel_pad", "three-lobed", "", 4, "bobcat"},
	{"family", "Felidae", "", 4, "bobcat"},
	{"heel_pad", "chevron bar", "", 4, "red fox"},
	{"heel_pad", "triangular", "", 4, "coyote"},
	{"family", "Canidae", "", 4, "coyote"},
	{"family", "Mephitidae", "", 5, "striped skunk"},
	{"outer_toe_free", "yes", "hind", 5, "nutria"},
	{"hind_fringe", "yes", "hind", 5, "muskrat"},
	{"hind_webbing", "full", "hind", 5, "beaver"},
	{"hind_webbing", "partial", "hind", 5, "nutria"},
	{"order", "Rodentia", "hind", 5, "rat"},
	{"order", "Rodentia", "front", 4, "rat"},
	{"order", "Rodentia", "front", 5, "gopher"},
	{"order", "Eulipotyphla", "", 5, "weasel"},
	{"foot_type", "paw", "", 5, "fisher"},
	{"dewclaw_set", "wide", "", 2, "hog"},
	{"outline", "heart-shaped", "", 2, "white-tailed deer"},
	{"outline", "round", "", 2, "bison"},
	{"outline", "squarish", "", 2, "mountain goat"},
	{"foot_type", "hoof", "", 2, "elk"},
	{"foot_type", "hoof", "", 1, "horse"},
	{"front_webbing", "full", "", 3, "mallard"},
	{"order", "Passeriformes", "", 3, "crow"},
	{"order", "Columbiformes", "", 3, "pigeon"},
	{"order", "Pelecaniformes", "", 3, "great blue heron"},
	{"order", "Accipitriformes", "", 3, "bald eagle"},
	{"order", "Galliformes", "", 3, "pheasant"},
	{"hind_toe", "two", "", 0, "great horned owl"},
	{"order", "Strigiformes", "", 0, "great horned owl"},
	{"hind_toe", "long", "", 3, "crow"},
	{"hind_toe", "short", "", 3, "wild turkey"},
	{"foot_type", "bird foot", "", 3, "sandhill crane"},
}
