package plate

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// TestSigns: each kind is drawn at its scale, framed as all others, and said in
// both languages without its own name or an animal's.
func TestSigns(t *testing.T) {
	var animals []string
	for _, s := range catalogue.Builtin().Species {
		words := strings.Fields(s.Vernacular)
		animals = append(animals, regexp.QuoteMeta(s.Vernacular), regexp.QuoteMeta(words[len(words)-1]))
	}
	naming := regexp.MustCompile(`(?i)\b(` + strings.Join(animals, "|") + `)s?\b`)
	seen := map[string]bool{}
	for _, s := range signs() {
		p, ok := Sign(s.kind)
		if !ok {
			t.Fatalf("%s is not drawn", s.kind)
		}
		elements, root := read(t, p.SVG)
		checkMillimetres(t, s.kind, root)
		main := named(elements, s.measured)
		if len(main) != 1 {
			t.Fatalf("%s: %d parts are named %s", s.kind, len(main), s.measured)
		}
		if got, want := s.side(main[0].box()), 10*s.cm*scaleOf(p); !within(got, want, .01) {
			t.Errorf("%s: its %s is %.2f mm, should be %.2f", s.kind, s.measured, got, want)
		}
		if len(named(elements, "bar")) != 1 || strings.Contains(p.SVG, "schematic") || len(p.SVG) > 40_000 {
			t.Errorf("%s: framed otherwise than the others, or too large: %d bytes", s.kind, len(p.SVG))
		}
		if name := naming.FindString(s.looks); name != "" || strings.Contains(p.Alt, SignName(s.kind, catalogue.English)) {
			t.Errorf("%s: it is named in %q (%s)", s.kind, p.Alt, name)
		}
		if text, whole := translated(p.Alt); !whole || seen[text] {
			t.Errorf("%s: not whole, or as another: %s", s.kind, text)
		} else {
			seen[text] = true
		}
		if again, _ := Hand(7).Sign(s.kind); again.SVG == p.SVG || again.Alt != p.Alt {
			t.Errorf("%s: another hand draws the same strokes, or something else", s.kind)
		}
	}
	if _, ok := Sign("nothing"); ok || len(SignKinds()) < 20 || SignName("nothing", catalogue.Spanish) != "" {
		t.Errorf("%d kinds, or one that there is not", len(SignKinds()))
	}
}

// scaleOf a drawing, as its caption says.
func scaleOf(p Plate) float64 {
	if m := regexp.MustCompile(`1 : (\d+)<`).FindStringSubmatch(p.SVG); m != nil {
		return 1 / floats(m[1])[0]
	}
	return 1
}

// TestSignSheets: every kind has its words in both languages, every part is of a
// kind and of something that the pen can draw.
func TestSignSheets(t *testing.T) {
	kinds := map[string]bool{}
	for _, r := range sheetRows(signKindSheet) {
		for column, text := range r {
			if text == "" {
				t.Errorf("%s: no %s", r["kind"], column)
			}
		}
		kinds[r["kind"]] = true
	}
	for _, r := range sheetRows(signPartSheet) {
		_, solid := materials[r["material"]]
		_, strewn := signMarks[r["material"]]
		if !kinds[r["kind"]] || r["part"] == "" || (r["shape"] == "scatter" && !strewn) || (r["shape"] != "scatter" && !solid) {
			t.Errorf("%v can't be drawn", r)
		}
	}
}

func TestGoldenSigns(t *testing.T) {
	for _, kind := range []string{"rub", "stump", "lodge", "burrow", "cone", "pellet"} {
		file := filepath.Join("testdata", "sign-"+kind+".svg")
		p, _ := Sign(kind)
		if *update {
			keep(t, file, p.SVG+"\n")
		}
		if kept(t, file) != p.SVG+"\n" {
			t.Errorf("%s is drawn otherwise now; look at both, then run the tests with -update", file)
		}
	}
}
