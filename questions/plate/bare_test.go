package plate

import (
	"encoding/xml"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// What is left of a drawing has neither words nor a ruler, and lies in its box.
func TestBare(t *testing.T) {
	for _, s := range catalogue.Builtin().Species {
		for _, draw := range []func(catalogue.Species) (Plate, bool){SkullSide, Scat, func(s catalogue.Species) (Plate, bool) { return Track(s, "front") }} {
			p, ok := draw(s)
			if !ok {
				continue
			}
			bare := Bare(p.SVG)
			var root struct {
				ViewBox string `xml:"viewBox,attr"`
			}
			if err := xml.Unmarshal([]byte(bare), &root); err != nil {
				t.Fatalf("%s: %v", s.Name, err)
			}
			if strings.Contains(bare, "<text") || strings.Contains(bare, `data-n="bar" stroke`) || !strings.Contains(bare, "data-n=") {
				t.Errorf("%s: words or a bar are left, or nothing is", s.Name)
			}
			if strings.Contains(root.ViewBox, "-0.0 -0.0 2.0 2.0") || len(strings.Fields(root.ViewBox)) != 4 {
				t.Errorf("%s: the box is %q", s.Name, root.ViewBox)
			}
		}
	}
}

func TestReach(t *testing.T) {
	for path, want := range map[string]box{
		"M1 2l3-4":                  box{}.with(pt{1, 2}, pt{4, -2}),
		"m1 2h5v-1H0zl-3 0":         box{}.with(pt{-2, 1}, pt{6, 2}),
		"M0 0c1 2 3 4 5 6s.5-9 1 1": box{}.with(pt{0, -3}, pt{6, 7}),
	} {
		if got := reach(path, box{}); got != want {
			t.Errorf("%s reaches %v, want %v", path, got, want)
		}
	}
}
