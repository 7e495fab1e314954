package plate

import (
	"embed"
	"encoding/csv"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Forms of skulls are data: a sheet for each animal or close group, with its
// outlines as points, its source, and how it was read. See docs/reference.md.
//
//go:embed forms/*.csv
var formSheets embed.FS

// form is one animal's skull, in hundredths of its length: x from the front to
// the rear, y down from the alveolar line. From above and below, x runs from
// front to rear too, and y is the distance from the middle line.
type form struct {
	name  string
	base  string               // the form whose outlines are stretched
	texts map[string]string    // of, source, read, quality, looks and the like
	parts map[string][]curve   // "side cranium", "above window" and the like
	marks map[string][]float64 // rows of teeth, landmarks, ratios: numbers without an outline
}

// outlineKeys begin the keys whose values are points; "line" keys are open.
var outlineKeys = []string{"side ", "above ", "below "}

// openParts are lines; all other outlines are closed.
var openParts = []string{"side paroccipital", "side arch top", "side arch foot", "side crest", "side seam", "side ridge", "side row", "side lower row", "side step",
	"above outline", "above nasal", "above ridge", "above seam", "above interparietal", "below row", "below lower row", "below palate"}

// skullForms are all forms by name.
var skullForms = sync.OnceValue(func() map[string]*form {
	forms, err := readForms(formSheets)
	if err != nil {
		panic(err) // the sheets are embedded, and tested
	}
	return forms
})

func readForms(sheets embed.FS) (map[string]*form, error) {
	files, err := sheets.ReadDir("forms")
	if err != nil {
		return nil, err
	}
	raw := map[string]*form{}
	for _, f := range files {
		name := strings.TrimSuffix(f.Name(), ".csv")
		data, err := sheets.ReadFile(path.Join("forms", f.Name()))
		if err != nil {
			return nil, err
		}
		if raw[name], err = readForm(name, string(data)); err != nil {
			return nil, err
		}
	}
	done := map[string]*form{}
	for name := range raw {
		if done[name], err = raw[name].resolved(raw, 0); err != nil {
			return nil, err
		}
	}
	return done, nil
}

func readForm(name, sheet string) (*form, error) {
	r := csv.NewReader(strings.NewReader(sheet))
	r.Comment, r.FieldsPerRecord = '#', 2
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("form %s: %w", name, err)
	}
	f := &form{name: name, texts: map[string]string{}, parts: map[string][]curve{}, marks: map[string][]float64{}}
	for _, row := range rows[1:] {
		if err := f.take(row[0], row[1]); err != nil {
			return nil, fmt.Errorf("form %s, %s: %w", name, row[0], err)
		}
	}
	f.base = f.texts["base"]
	return f, nil
}

func (f *form) take(key, value string) error {
	if key == "ratio" || key == "stretch" {
		what, rest, _ := strings.Cut(value, " ")
		key, value = key+" "+what, rest
	}
	if kind, _, _ := strings.Cut(key, " "); kind == "mark" || kind == "ratio" || kind == "stretch" {
		nums, err := numbersIn(value)
		f.marks[key] = nums
		return err
	}
	if gear, ok := strings.CutPrefix(key, "tube "); ok {
		if !strings.HasPrefix(gear, "above ") {
			gear = "side " + gear
		}
		return f.takeTube(gear, value)
	}
	if !slices.ContainsFunc(outlineKeys, func(k string) bool { return strings.HasPrefix(key, k) }) {
		f.texts[key] = value
		return nil
	}
	nums, err := numbersIn(value)
	if err != nil {
		return err
	}
	if len(nums)%2 != 0 {
		return fmt.Errorf("%d numbers are no pairs", len(nums))
	}
	f.parts[key] = append(f.parts[key], curve{pairs(nums), !slices.Contains(openParts, key)})
	return nil
}

// takeTube reads a horn or a part of an antler: a centre line, each point with
// the half-width there.
func (f *form) takeTube(key, value string) error {
	nums, err := numbersIn(value)
	if err != nil || len(nums) < 6 || len(nums)%3 != 0 {
		return fmt.Errorf("%q are no points with half-widths: %w", value, err)
	}
	var centre []pt
	var half []float64
	for i := 0; i < len(nums); i += 3 {
		centre, half = append(centre, pt{nums[i], nums[i+1]}), append(half, nums[i+2])
	}
	i := -1
	c := tube(centre, func(float64) float64 { i++; return half[i] })
	f.parts[key] = append(f.parts[key], c)
	return nil
}

// numbersIn reads points; one whose numbers are followed by ! is a corner, and is
// given twice.
func numbersIn(text string) ([]float64, error) {
	var out []float64
	for _, word := range strings.Fields(text) {
		word, corner := strings.CutSuffix(word, "!")
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return nil, fmt.Errorf("%q is no number", word)
		}
		out = append(out, x)
		if corner && len(out)%2 == 0 {
			out = append(out, out[len(out)-2:]...)
		}
	}
	return out, nil
}

// ofTheBase are the texts that a form takes from its base.
var ofTheBase = strings.Fields("outer upper lower orbit horn comb tint tips grooves crown chisel symphysis length sheath bullae gap")

// resolved is the form with what it takes from its base, stretched.
func (f *form) resolved(all map[string]*form, depth int) (*form, error) {
	if f.base == "" {
		return f, nil
	}
	base, known := all[f.base]
	if !known || depth > 3 {
		return nil, fmt.Errorf("form %s: no base %q", f.name, f.base)
	}
	base, err := base.resolved(all, depth+1)
	if err != nil {
		return nil, err
	}
	out := base.stretched(f.marks)
	out.name, out.base = f.name, f.base
	for _, key := range strings.Split(f.texts["without"], ";") {
		delete(out.parts, key)
		delete(out.marks, key)
	}
	for k, v := range f.parts {
		out.parts[k] = v
	}
	for k, v := range f.marks {
		out.marks[k] = v
	}
	texts := map[string]string{}
	for _, k := range ofTheBase {
		texts[k] = base.texts[k]
	}
	for k, v := range f.texts {
		texts[k] = v
	}
	out.texts = texts
	return out, nil
}

// stretch is how a form is bent region by region: the snout, the block of the
// orbit, the braincase.
type stretch struct {
	front, rear float64    // of the orbit
	long        [3]float64 // factors of length
	high, wide  [3]float64
	jaw         float64
}

func (f *form) stretchBy(marks map[string][]float64) stretch {
	b := box{}.with(f.parts["side orbit"][0].pts...)
	s := stretch{front: b.lo.x, rear: b.hi.x, long: [3]float64{1, 1, 1}, high: [3]float64{1, 1, 1}, wide: [3]float64{1, 1, 1}, jaw: 1}
	for key, into := range map[string]*[3]float64{"stretch long": &s.long, "stretch high": &s.high, "stretch wide": &s.wide} {
		if v := marks[key]; len(v) == 3 {
			copy(into[:], v)
		}
	}
	if v := marks["stretch jaw"]; len(v) == 1 {
		s.jaw = v[0]
	}
	return s
}

// x moves a place along the skull, so that the whole stays 100 long.
func (s stretch) x(x float64) float64 {
	at := func(x float64) float64 {
		return s.long[0]*min(x, s.front) + s.long[1]*max(0, min(x, s.rear)-s.front) + s.long[2]*max(0, x-s.rear)
	}
	return at(x) * 100 / at(100)
}

// by is a factor at x, which changes smoothly from region to region.
func (s stretch) by(f [3]float64, x float64) float64 {
	a, b, c := s.front*.6, (s.front+s.rear)/2, (s.rear+100)/2
	switch {
	case x < a:
		return f[0]
	case x < b:
		return lerp(f[0], f[1], (x-a)/(b-a))
	case x < c:
		return lerp(f[1], f[2], (x-b)/(c-b))
	}
	return f[2]
}

func (s stretch) side(q pt) pt { return pt{s.x(q.x), q.y * s.by(s.high, q.x)} }

func (s stretch) lower(q pt) pt {
	if q.y > 2 {
		return pt{s.x(q.x), 2 + (q.y-2)*s.jaw}
	}
	return s.side(q)
}

func (s stretch) flat(q pt) pt { return pt{s.x(q.x), q.y * s.by(s.wide, q.x)} }

// stretched is a copy of the form, bent.
func (f *form) stretched(marks map[string][]float64) *form {
	s := f.stretchBy(marks)
	out := &form{texts: map[string]string{}, parts: map[string][]curve{}, marks: map[string][]float64{}}
	for key, list := range f.parts {
		bend := s.bending(key)
		for _, c := range list {
			out.parts[key] = append(out.parts[key], c.mapped(bend))
		}
	}
	for key, v := range f.marks {
		out.marks[key] = s.mark(key, v)
	}
	return out
}

func (s stretch) bending(key string) func(pt) pt {
	switch {
	case !strings.HasPrefix(key, "side "):
		return s.flat
	case strings.Contains(key, "jaw") || strings.Contains(key, "lower"):
		return s.lower
	}
	return s.side
}

// mark bends what is given as x, y and sizes. What is said of the base's
// ratios does not hold of the form.
func (s stretch) mark(key string, v []float64) []float64 {
	if !strings.HasPrefix(key, "mark ") || len(v) < 2 {
		return nil
	}
	q := s.bending("side " + strings.TrimPrefix(key, "mark "))(pt{v[0], v[1]})
	return append([]float64{q.x, q.y}, v[2:]...)
}

// part is the first outline under a name, or an empty one.
func (f *form) part(key string) (curve, bool) {
	if list := f.parts[key]; len(list) > 0 {
		return list[0], true
	}
	return curve{}, false
}

// formOf is an animal's own form; another animal gets that of its family, or
// else of its order.
func formOf(name string, f facts) (*form, bool) {
	for _, by := range []struct{ key, value string }{{"of", name}, {"family", f.text("family")}, {"order", f.text("order")}} {
		if found := formsBy()[by.key+" "+by.value]; found != nil && by.value != "" {
			return found, true
		}
	}
	return nil, false
}

var formsBy = sync.OnceValue(func() map[string]*form {
	out := map[string]*form{}
	for _, f := range skullForms() {
		for _, key := range []string{"of", "family", "order"} {
			for _, v := range strings.Split(f.texts[key], ";") {
				out[key+" "+v] = f
			}
		}
	}
	return out
})
