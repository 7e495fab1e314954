package paper

import (
	"bytes"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode/utf16"

	"fieldsign/questions/catalogue"
)

// drawn are all plates of the furbearers, in the roster's order.
var drawn = sync.OnceValues(func() ([]Item, error) {
	cat := catalogue.Builtin()
	roster, err := cat.Roster("furbearers")
	if err != nil {
		return nil, err
	}
	items, _, err := Collect(cat, roster, Subjects(), "")
	return items, err
})

// furbearers is a copy of them, to change at will.
func furbearers(t testing.TB) []Item {
	t.Helper()
	items, err := drawn()
	if err != nil {
		t.Fatal(err)
	}
	return slices.Clone(items)
}

// TestNothingIsLost counts in the SVG and in the PDF, each as plain text, with
// no help from the reader that stands between them.
func TestNothingIsLost(t *testing.T) {
	items := furbearers(t)
	if len(items) < 40 {
		t.Fatalf("only %d plates", len(items))
	}
	for _, it := range items {
		art, err := readDrawing(it.Plate.SVG)
		if err != nil {
			t.Errorf("%s, %s: %v", it.Species.Name, it.Kind, err)
			continue
		}
		d := testDocument(t, "a4")
		d.page(false)
		d.draw(art, 0, 0, 1)
		compareMarks(t, it, readable(t, d))
	}
}

var (
	paths   = regexp.MustCompile(`<path[^>]* d="([^"]*)"/>`)
	inkOnly = regexp.MustCompile(`(?m)^(f|S)$`)
	curveOp = regexp.MustCompile(`(?m) c$`)
	lineOp  = regexp.MustCompile(`(?m) l$`)
	moveOp  = regexp.MustCompile(`(?m) m$`)
	closeOp = regexp.MustCompile(`(?m)^h$`)
	shown   = regexp.MustCompile(`(?s)\(((?:[^()\\]|\\.)*)\) Tj`)
	escaped = regexp.MustCompile(`(?s)\\(.)`)
	written = regexp.MustCompile(`>([^<]+)</text>`)
)

func compareMarks(t *testing.T, it Item, pdf string) {
	t.Helper()
	var lines, curves, moves, closes, paints int
	for _, at := range paths.FindAllStringSubmatchIndex(it.Plate.SVG, -1) {
		d := it.Plate.SVG[at[2]:at[3]]
		if strings.Contains(it.Plate.SVG[at[0]:at[1]], `stroke="none"`) {
			continue // there for a page to mark, and not drawn
		}
		// a filled path is traced once more for its line
		times := 1
		if filled(it.Plate.SVG[:at[0]], it.Plate.SVG[at[0]:at[1]]) {
			times = 2
		}
		paints += times
		moves += times * (strings.Count(d, "M") + strings.Count(d, "m"))
		closes += times * strings.Count(d, "z")
		lines += times * (strings.Count(d, "l") + strings.Count(d, "L") + strings.Count(d, "h") + strings.Count(d, "v"))
		curves += times * (strings.Count(d, "c") + strings.Count(d, "s"))
	}
	for _, c := range []struct {
		what      string
		got, want int
	}{
		{"paths painted", len(inkOnly.FindAllString(pdf, -1)), paints},
		{"closings", len(closeOp.FindAllString(pdf, -1)), closes},
		{"moves", len(moveOp.FindAllString(pdf, -1)), moves},
		{"lines", len(lineOp.FindAllString(pdf, -1)), lines},
		{"curves", len(curveOp.FindAllString(pdf, -1)), curves},
	} {
		if c.got != c.want {
			t.Errorf("%s, %s: %d %s in the PDF, %d in the SVG", it.Species.Name, it.Kind, c.got, c.what, c.want)
		}
	}
	var got, want []string
	for _, m := range shown.FindAllStringSubmatch(pdf, -1) {
		got = append(got, m[1])
	}
	for _, m := range written.FindAllStringSubmatch(it.Plate.SVG, -1) {
		want = append(want, m[1])
	}
	if strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("%s, %s: the PDF writes %q, the SVG %q", it.Species.Name, it.Kind, got, want)
	}
}

// filled tells whether a path has a fill of its own or of the group it is in,
// which is the last one opened before it unless that is closed again.
func filled(before, path string) bool {
	if strings.Contains(path, ` fill="`) {
		return !strings.Contains(path, ` fill="none"`)
	}
	group := before[strings.LastIndex(before, "<g"):]
	return !strings.Contains(group, "</g>") && strings.Contains(group[:strings.Index(group, ">")], ` fill="#`)
}

// TestReaderRefuses what plates don't hold, since it would be lost.
func TestReaderRefuses(t *testing.T) {
	const head = `<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10">`
	for body, want := range map[string]string{
		`<circle r="1"/>`:                      "<circle>",
		`<g transform="scale(2)"></g>`:         "transform",
		`<path d="M1 1q1 1 2 2"/>`:             "path data",
		`<path d="M1 1l2"/>`:                   "a number should stand",
		`<path d="M1 1z2 2"/>`:                 "path data",
		`<path d="l1 1"/>`:                     "path data",
		`<path fill="red" d="M1 1"/>`:          `"red"`,
		`<path stroke-linecap="butt" d=""/>`:   `only "round"`,
		`<path opacity=".5" d=""/>`:            "opacity",
		`<path stroke-width="1mm" d=""/>`:      "stroke-width",
		`<text x="1" y="1">a</text>`:           "font-size",
		`words`:                                "outside <text>",
		`<!-- words -->`:                       "not understood",
		`<g><path d=""/>`:                      "syntax error",
		`<svg width="1in" height="1in"></svg>`: "viewBox",
	} {
		if _, err := readDrawing(head + body + "</svg>"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q in it", body, err, want)
		}
	}
	if _, err := readDrawing(strings.Replace(head, "10mm", "10in", 1) + "</svg>"); err == nil {
		t.Error("a plate measured in inches is read as millimetres")
	}
}

func TestReadPath(t *testing.T) {
	steps, err := readPath("M1 2l.5-.5.25 1h2v-3c1 0 1 1 2 2zM-1-1L3 4C0 0 1 1 5 5s1 2 3 3m1 1 2 0")
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		op  byte
		end point
	}{{'M', point{1, 2}}, {'L', point{1.5, 1.5}}, {'L', point{1.75, 2.5}}, {'L', point{3.75, 2.5}}, {'L', point{3.75, -.5}},
		{'C', point{5.75, 1.5}}, {'Z', point{1, 2}}, {'M', point{-1, -1}}, {'L', point{3, 4}}, {'C', point{5, 5}},
		{'C', point{8, 8}}, {'M', point{9, 9}}, {'L', point{11, 9}}}
	if len(steps) != len(want) {
		t.Fatalf("%d steps, want %d", len(steps), len(want))
	}
	for i, w := range want {
		if steps[i].op != w.op || steps[i].end() != w.end {
			t.Errorf("step %d: %c to %v, want %c to %v", i, steps[i].op, steps[i].end(), w.op, w.end)
		}
	}
	if s := steps[10]; s.pts[0] != (point{9, 9}) || s.pts[1] != (point{6, 7}) {
		t.Errorf("the mirrored handle is at %v, the other at %v", s.pts[0], s.pts[1])
	}
}

// TestBlackAndWhite holds every line to a contrast of 3:1 against the fill it
// bounds (the ratio of luminances as WCAG defines it), so that a grey copy
// shows the same shapes.
func TestBlackAndWhite(t *testing.T) {
	for _, it := range furbearers(t) {
		art, err := readDrawing(it.Plate.SVG)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range art.parts {
			line, fill := p.look.stroke, p.look.fill
			if line.painted && fill.painted && line != fill && contrast(line, fill) < 3 {
				t.Errorf("%s, %s: a line %v bounds a fill %v, too alike in grey", it.Species.Name, it.Kind, line, fill)
			}
		}
	}
}

func contrast(a, b colour) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + .05) / (min(x, y) + .05)
}

func luminance(c colour) float64 {
	linear := func(v int) float64 {
		x := float64(v) / 255
		if x <= .04045 {
			return x / 12.92
		}
		return math.Pow((x+.055)/1.055, 2.4)
	}
	return .2126*linear(c.r) + .7152*linear(c.g) + .0722*linear(c.b)
}

func output(t testing.TB, d *document) string {
	t.Helper()
	var b bytes.Buffer
	if err := d.pdf.Output(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// readable is the pages of an uncompressed PDF with their words as they were
// given: an embedded font's are in UTF-16, and its own bytes come last.
func readable(t testing.TB, d *document) string {
	t.Helper()
	pages, _, _ := strings.Cut(output(t, d), "/Type /Font\n")
	return shown.ReplaceAllStringFunc(pages, func(s string) string {
		bytes := escaped.ReplaceAllString(s[1:len(s)-len(") Tj")], "$1")
		var units []uint16
		for i := 0; i+1 < len(bytes); i += 2 {
			units = append(units, uint16(bytes[i])<<8|uint16(bytes[i+1]))
		}
		return "(" + string(utf16.Decode(units)) + ") Tj"
	})
}

// testDocument is one whose text can be read.
func testDocument(t testing.TB, size string) *document {
	t.Helper()
	d, err := newDocument(size)
	if err != nil {
		t.Fatal(err)
	}
	d.pdf.SetCompression(false)
	return d
}
