package paper

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// drawing is a plate read from its SVG. Only what plates are made of is
// understood; anything else is an error, so that no line is silently lost.
type drawing struct {
	left, top, w, h float64 // of the view box, in mm
	parts           []part
	den             float64 // a plate mm stands for so many real ones; 0: no scale

	marks     func(around []string) bool // whether a part is to be marked, by the names around it
	lineMarks bool                       // by its line alone
}

// part is a path, or words where there is no path.
type part struct {
	look   look
	path   []step
	words  string
	x, y   float64 // of the words
	size   float64
	anchor string
}

// look is what a group hands down to its parts.
type look struct {
	fill, stroke         colour
	width                float64
	fillAlpha, lineAlpha float64
	dash                 []float64
	names                []string // of the element and of those around it, the outermost first
}

// colour is none unless painted.
type colour struct {
	painted bool
	r, g, b int
}

// own are the attributes that place an element; the rest is its look.
var own = map[string][]string{
	"svg":  {"xmlns", "width", "height", "viewBox"},
	"g":    {},
	"path": {"d"},
	"text": {"x", "y", "font-size", "text-anchor"},
}

// reader reads a drawing element by element.
type reader struct {
	d     drawing
	looks []look // of the open elements, innermost last
	text  bool   // within words
	sized bool   // a scale bar was seen
}

func readDrawing(svg string) (*drawing, error) {
	r := reader{looks: []look{{fill: colour{painted: true}, width: 1, fillAlpha: 1, lineAlpha: 1}}}
	tokens := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := tokens.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil {
			err = r.token(token)
		}
		if err != nil {
			return nil, fmt.Errorf("the plate can't be put on paper: %w", err)
		}
	}
	if r.d.w <= 0 || r.d.h <= 0 {
		return nil, errors.New("the plate can't be put on paper: it has no size")
	}
	r.d.den = r.scale()
	return &r.d, nil
}

func (r *reader) token(token xml.Token) error {
	switch t := token.(type) {
	case xml.StartElement:
		return r.start(t)
	case xml.EndElement:
		r.looks = r.looks[:len(r.looks)-1]
		r.text = false
		return nil
	case xml.CharData:
		return r.characters(string(t))
	}
	return fmt.Errorf("a %T is not understood", token)
}

func (r *reader) characters(s string) error {
	switch {
	case r.text:
		r.d.parts[len(r.d.parts)-1].words += s
	case strings.TrimSpace(s) != "":
		return fmt.Errorf("the words %q stand outside <text>", s)
	}
	return nil
}

func (r *reader) start(e xml.StartElement) error {
	name := e.Name.Local
	places, known := own[name]
	if !known || r.text {
		return fmt.Errorf("<%s> is not understood here", name)
	}
	at := map[string]string{}
	l := r.looks[len(r.looks)-1]
	for _, a := range e.Attr {
		switch set := looks[a.Name.Local]; {
		case slices.Contains(places, a.Name.Local):
			at[a.Name.Local] = a.Value
		case a.Name.Local == "data-n":
			r.sized = r.sized || a.Value == "bar"
			l.names = append(slices.Clone(l.names), a.Value)
		case set == nil:
			return fmt.Errorf("%s=%q of <%s> is not understood", a.Name.Local, a.Value, name)
		default:
			if err := set(&l, a.Value); err != nil {
				return fmt.Errorf("%s of <%s>: %w", a.Name.Local, name, err)
			}
		}
	}
	r.looks = append(r.looks, l)
	switch name {
	case "svg":
		return r.box(at)
	case "path":
		steps, err := readPath(at["d"])
		r.d.parts = append(r.d.parts, part{look: l, path: steps})
		return err
	case "text":
		return r.words(at, l)
	}
	return nil
}

// marked reports whether a part is to be marked.
func (d *drawing) marked(p part) bool { return d.marks != nil && d.marks(p.look.names) }

// bare is a drawing without its words, its ruler and its bar, where it stands for
// an animal among others: they are too small to read there. The ruler is the path
// before its numbers, which come before the bar; half of the bar comes after it.
func (d *drawing) bare() *drawing {
	out := *d
	out.parts = nil
	for i, p := range d.parts {
		next := i + 1
		for next < len(d.parts) && d.parts[next].path == nil {
			next++
		}
		ruler := next > i+1 && next < len(d.parts) && d.parts[next].isBar()
		if p.path != nil && !p.isBar() && !ruler && (i == 0 || !d.parts[i-1].isBar()) {
			out.parts = append(out.parts, p)
		}
	}
	if len(out.parts) > 0 {
		out.fit()
	}
	return &out
}

func (p part) isBar() bool { return slices.Contains(p.look.names, "bar") }

// fit makes the box as large as what is drawn.
func (d *drawing) fit() {
	left, top, right, bottom := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range d.parts {
		for _, s := range p.path {
			left, right = min(left, s.end().x), max(right, s.end().x)
			top, bottom = min(top, s.end().y), max(bottom, s.end().y)
		}
	}
	d.left, d.top, d.w, d.h = left, top, right-left, bottom-top
}

// box reads the size, which has to be that of the view box in mm.
func (r *reader) box(at map[string]string) error {
	v, err := floats(at["viewBox"])
	if err != nil || len(v) != 4 {
		return fmt.Errorf("viewBox=%q should be four numbers", at["viewBox"])
	}
	w, h := strings.TrimSuffix(at["width"], "mm"), strings.TrimSuffix(at["height"], "mm")
	if size, err := floats(w + " " + h); err != nil || !slices.Equal(size, v[2:]) {
		return fmt.Errorf("%s × %s with viewBox=%q is not one user unit a millimetre", at["width"], at["height"], at["viewBox"])
	}
	r.d.left, r.d.top, r.d.w, r.d.h = v[0], v[1], v[2], v[3]
	return nil
}

func (r *reader) words(at map[string]string, l look) error {
	place, err := floats(at["x"] + " " + at["y"] + " " + at["font-size"])
	if err != nil || len(place) != 3 {
		return fmt.Errorf("<text> needs x, y and font-size, not %v", at)
	}
	if !slices.Contains([]string{"start", "middle", "end"}, at["text-anchor"]) || l.stroke.painted {
		return fmt.Errorf("<text> with anchor %q and stroke %v is not understood", at["text-anchor"], l.stroke)
	}
	r.text = true
	r.d.parts = append(r.d.parts, part{look: l, x: place[0], y: place[1], size: place[2], anchor: at["text-anchor"]})
	return nil
}

var scaleWords = regexp.MustCompile(`1 : ([\d.]+)`)

// scale is as the plate says it; with a bar and no word of it, life size.
func (r *reader) scale() float64 {
	if !r.sized {
		return 0
	}
	for _, p := range r.d.parts {
		if m := scaleWords.FindStringSubmatch(p.words); m != nil {
			den, _ := strconv.ParseFloat(m[1], 64)
			return den
		}
	}
	return 1
}

// looks sets what an attribute says of a look.
var looks = map[string]func(*look, string) error{
	"fill":             func(l *look, v string) (err error) { l.fill, err = readColour(v); return err },
	"stroke":           func(l *look, v string) (err error) { l.stroke, err = readColour(v); return err },
	"stroke-width":     func(l *look, v string) error { return readFloat(&l.width, v) },
	"fill-opacity":     func(l *look, v string) error { return readFloat(&l.fillAlpha, v) },
	"stroke-opacity":   func(l *look, v string) error { return readFloat(&l.lineAlpha, v) },
	"stroke-dasharray": func(l *look, v string) (err error) { l.dash, err = floats(v); return err },
	// what all plates share, and ink takes for granted
	"stroke-linecap":  only("round"),
	"stroke-linejoin": only("round"),
	"font-family":     only("Georgia,serif"),
	"font-style":      only("italic"),
}

func only(want string) func(*look, string) error {
	return func(_ *look, v string) error {
		if v != want {
			return fmt.Errorf("%q is not understood, only %q", v, want)
		}
		return nil
	}
}

func readFloat(x *float64, v string) (err error) {
	*x, err = strconv.ParseFloat(v, 64)
	return err
}

func floats(list string) ([]float64, error) {
	var out []float64
	for word := range strings.FieldsSeq(list) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return nil, err
		}
		out = append(out, x)
	}
	return out, nil
}

func readColour(v string) (colour, error) {
	if v == "none" {
		return colour{}, nil
	}
	n, err := strconv.ParseUint(strings.TrimPrefix(v, "#"), 16, 24)
	if err != nil || len(v) != 7 {
		return colour{}, fmt.Errorf("%q is no colour such as #2b2b28", v)
	}
	return colour{true, int(n >> 16), int(n >> 8 & 255), int(n & 255)}, nil
}
