package plate

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fieldsign/questions/catalogue"
)

// views are all the plates of a species, by a short name.
var views = []struct {
	name string
	draw func(catalogue.Species) (Plate, bool)
}{
	{"front", func(s catalogue.Species) (Plate, bool) { return Track(s, "front") }},
	{"hind", func(s catalogue.Species) (Plate, bool) { return Track(s, "hind") }},
	{"scat", Scat},
	{"skull", Skull},
	{"trail", Trail},
}

var sizeAttributes = regexp.MustCompile(`width="[\d.]+mm" height="[\d.]+mm"`)

// TestContactSheet lays all plates out on sheets for the eye, in the folder
// that FIELDSIGN_ARTIFACTS names.
func TestContactSheet(t *testing.T) {
	dir := os.Getenv("FIELDSIGN_ARTIFACTS")
	if dir == "" {
		t.Skip("set FIELDSIGN_ARTIFACTS to a folder to get the contact sheets")
	}
	const cell, perPage = 240, 12
	all := catalogue.Builtin().Species
	for page := 0; page*perPage < len(all); page++ {
		var b strings.Builder
		fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d"><rect width="100%%" height="100%%" fill="#f6f1e4"/>`,
			2*cell*len(views), cell*perPage/2)
		for i, s := range all[page*perPage : min((page+1)*perPage, len(all))] {
			left, top := i%2*cell*len(views), i/2*cell
			fmt.Fprintf(&b, `<text x="%d" y="%d" font-size="12">%s</text>`, left+4, top+14, s.Vernacular)
			for col, v := range views {
				if p, ok := v.draw(s); ok {
					at := fmt.Sprintf(`x="%d" y="%d" width="%d" height="%d"`, left+col*cell+6, top+16, cell-12, cell-18)
					b.WriteString(sizeAttributes.ReplaceAllString(p.SVG, at))
				}
			}
		}
		b.WriteString("</svg>")
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("plates-%d.svg", page+1)), []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
