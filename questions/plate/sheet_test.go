package plate

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

type view struct {
	name string
	draw func(catalogue.Species) (Plate, bool)
}

// views are all the plates of a species, by a short name.
var views = []view{
	{"front", func(s catalogue.Species) (Plate, bool) { return Track(s, "front") }},
	{"hind", func(s catalogue.Species) (Plate, bool) { return Track(s, "hind") }},
	{"scat", Scat},
	{"skull", Skull},
	{"trail", Trail},
	{"side", SkullSide},
	{"above", SkullAbove},
}

var sizeAttributes = regexp.MustCompile(`width="[\d.]+mm" height="[\d.]+mm"`)

// TestContactSheet lays all plates out on sheets for the eye, in the folder
// that FIELDSIGN_ARTIFACTS names.
func TestContactSheet(t *testing.T) {
	dir := os.Getenv("FIELDSIGN_ARTIFACTS")
	if dir == "" {
		t.Skip("set FIELDSIGN_ARTIFACTS to a folder to get the contact sheets")
	}
	gallery(views[:2], 12).save(t, filepath.Join(dir, "plates-prints.svg"))
	gallery(views[2:3], 12).save(t, filepath.Join(dir, "plates-scat.svg"))
	gallery(views[4:5], 7).save(t, filepath.Join(dir, "plates-trails.svg"))
	labels := newSheet(5, 13)
	for i, name := range labelled {
		s, _ := catalogue.Builtin().Find(name)
		for j, st := range Structures(s) {
			p, _ := Labelled(s, st.Term)
			labels.put(j%5, 3*i+j/5, st.Term, p)
		}
	}
	labels.save(t, filepath.Join(dir, "labels.svg"))
	pairs := newSheet(3, 3)
	for i, ab := range paired {
		a, _ := catalogue.Builtin().Find(ab[0])
		b, _ := catalogue.Builtin().Find(ab[2])
		p, _ := Pair(a, ab[1], b, ab[3])
		pairs.put(i%3, i/3, fmt.Sprint(ab), p)
	}
	pairs.save(t, filepath.Join(dir, "pairs.svg"))
	signSheet := newSheet(7, 3)
	for i, kind := range SignKinds() {
		p, _ := Sign(kind)
		signSheet.put(i%7, i/7, SignName(kind, catalogue.English), p)
	}
	signSheet.save(t, filepath.Join(dir, "plates-signs.svg"))
	skullSheets(t, dir)
}

// skullSheets are all skulls in all views, those from the side alone, and a
// deer's jaw at all ages.
func skullSheets(t *testing.T, dir string) {
	views, sides, jaws := newSheet(7, 10), newSheet(7, 10), newSheet(5, 2)
	n := 0
	for _, s := range catalogue.Builtin().Species {
		whole, ok := Skull(s)
		if !ok {
			continue
		}
		side, _ := SkullSide(s)
		views.put(n%7, n/7, s.Vernacular, whole)
		sides.put(n%7, n/7, s.Vernacular, side)
		n++
	}
	deer, _ := catalogue.Builtin().Find("Odocoileus virginianus")
	for i, class := range DeerJaws() {
		p, _ := own.DeerJaw(deer, class)
		jaws.put(i%5, i/5, class, p)
	}
	blind(t, dir, "skulls", 66, blindSkull)
	blind(t, dir, "prints", 55, blindPrints)
	blind(t, dir, "scat", 59, blindScat)
	views.save(t, filepath.Join(dir, "skulls.svg"))
	sides.save(t, filepath.Join(dir, "skulls-side.svg"))
	jaws.save(t, filepath.Join(dir, "deer-jaws.svg"))
}

// gallery is one sheet of all the plates of some views.
func gallery(views []view, columns int) *sheet {
	var shown []catalogue.Species
	for _, s := range catalogue.Builtin().Species {
		if slices.ContainsFunc(views, func(v view) bool { _, ok := v.draw(s); return ok }) {
			shown = append(shown, s)
		}
	}
	per := columns / len(views)
	out := newSheet(columns, (len(shown)+per-1)/per)
	for i, s := range shown {
		name := s.Vernacular
		for j, v := range views {
			if p, ok := v.draw(s); ok {
				out.put(i%per*len(views)+j, i/per, name, p)
				name = ""
			}
		}
	}
	return out
}

// labelled and paired are a choice for the eye.
var (
	labelled = []string{"Canis lupus", "Odocoileus virginianus", "Castor canadensis", "Felis catus"}
	paired   = [][4]string{
		{"Canis latrans", "left front", "Canis latrans", "front"}, {"Felis catus", "left front", "Vulpes vulpes", "front"}, {"Procyon lotor", "front", "Procyon lotor", "hind"},
		{"Lepus americanus", "front", "Lepus americanus", "hind"}, {"Didelphis virginiana", "left hind", "Procyon lotor", "hind"}, {"Odocoileus virginianus", "front", "Odocoileus virginianus", "hind"},
		{"Branta canadensis", "left front", "Meleagris gallopavo", "front"}, {"Lynx rufus", "front", "Canis latrans", "hind"}, {"Sciurus niger", "front", "Sciurus niger", "hind"},
	}
)

const cell = 240

// sheet is a page of plates with captions, in rows and columns.
type sheet struct{ strings.Builder }

func newSheet(columns, rows int) *sheet {
	s := &sheet{}
	fmt.Fprintf(s, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d"><rect width="100%%" height="100%%" fill="#f6f1e4"/>`, columns*cell, rows*cell)
	return s
}

func (s *sheet) put(column, row int, caption string, p Plate) {
	fmt.Fprintf(s, `<text x="%d" y="%d" font-size="12">%s</text>`, column*cell+4, row*cell+14, caption)
	at := fmt.Sprintf(`x="%d" y="%d" width="%d" height="%d"`, column*cell+6, row*cell+16, cell-12, cell-18)
	s.WriteString(sizeAttributes.ReplaceAllString(p.SVG, at))
}

func (s *sheet) save(t *testing.T, file string) {
	s.WriteString("</svg>")
	if err := os.WriteFile(file, []byte(s.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// blind are drawings for a reader who is to name animals by form alone: a file
// each with a number for a name, without scale or words, in an order that is the
// same each time; and their key.
func blind(t *testing.T, dir, subject string, seed uint64, draw func(catalogue.Species) string) {
	all := slices.Clone(catalogue.Builtin().Species)
	rand.New(rand.NewPCG(seed, 7)).Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	folder, key, n := filepath.Join(dir, "blind-"+subject), "number,animal\n", 0
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, s := range all {
		svg := draw(s)
		if svg == "" {
			continue
		}
		n++
		keep(t, filepath.Join(folder, fmt.Sprintf("%02d.svg", n)), svg)
		key += fmt.Sprintf("%d,%s\n", n, s.Vernacular)
	}
	keep(t, filepath.Join(dir, "blind-"+subject+".csv"), key)
}

func blindSkull(s catalogue.Species) string {
	k, ok := own.skull(s)
	if !ok {
		return ""
	}
	k.side()
	k.otherViews()
	return k.finish()
}

// blindPrints are the front and the hind foot beside each other at one scale; a
// bird's foot stands alone.
func blindPrints(s catalogue.Species) string {
	var out strings.Builder
	var right, high float64
	for _, foot := range []string{"front", "hind"} {
		p, ok := Track(s, foot)
		if !ok {
			continue
		}
		bare := Bare(p.SVG)
		at, w, h := viewBox(bare)
		fmt.Fprintf(&out, `<g transform="translate(%f %f)">%s</g>`, right-at.x, -at.y, bare[strings.Index(bare, ">")+1:len(bare)-len("</svg>")])
		right, high = right+1.15*w, max(high, h)
	}
	if right == 0 {
		return ""
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %f %f">%s</svg>`, right, high, out.String())
}

func blindScat(s catalogue.Species) string {
	p, ok := Scat(s)
	if !ok {
		return ""
	}
	return Bare(p.SVG)
}

func viewBox(svg string) (at pt, w, h float64) {
	if _, err := fmt.Sscanf(svg[strings.Index(svg, `viewBox="`):], `viewBox="%g %g %g %g"`, &at.x, &at.y, &w, &h); err != nil {
		panic(err) // Bare has written it
	}
	return at, w, h
}
