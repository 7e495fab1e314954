package onepage

import (
	"fmt"
	"html/template"
	"regexp"
	"slices"
	"strings"

	"fieldsign/questions/guide"
)

type measures struct{ w, h float64 }

// size is that of a drawing, in mm.
func size(d guide.Drawing) measures {
	var m measures
	at := strings.Index(d.Plate.SVG, `width="`)
	if _, err := fmt.Sscanf(d.Plate.SVG[at:], `width="%gmm" height="%gmm"`, &m.w, &m.h); err != nil {
		panic(err) // plate has written it
	}
	return m
}

// drawn is a drawing in a part of its size, with what is seen on it in words, and
// its marks.
func drawn(d guide.Drawing, den float64) template.HTML {
	m := size(d)
	_, rest, _ := strings.Cut(d.Plate.SVG, "viewBox")
	head := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="%s" width="%.1fmm" height="%.1fmm" viewBox`, template.HTMLEscapeString(d.Plate.Alt), m.w/den, m.h/den)
	return template.HTML(head + marked(rest, d))
}

var tag = regexp.MustCompile(`<(/?)(\w+)([^>]*?)(/?)>`)

var (
	nameOf = regexp.MustCompile(` data-n="([^"]*)"`)
	fillOf = regexp.MustCompile(` fill="([^"]*)"`)
)

// within is what the elements around one hand down.
type within struct {
	names []string
	fill  string
}

// marked gives the lines of the parts that are to be marked the class m, and those
// that have a ground the class f, too, unless a line is all that may be marked.
func marked(svg string, d guide.Drawing) string {
	if len(d.Parts) == 0 {
		return svg
	}
	open := []within{{fill: "none"}}
	return tag.ReplaceAllStringFunc(svg, func(s string) string {
		m := tag.FindStringSubmatch(s)
		if m[1] == "/" {
			open = open[:max(1, len(open)-1)]
			return s
		}
		here := open[len(open)-1]
		if n := nameOf.FindStringSubmatch(m[3]); n != nil {
			here.names = append(slices.Clone(here.names), n[1])
		}
		if f := fillOf.FindStringSubmatch(m[3]); f != nil {
			here.fill = f[1]
		}
		if m[4] == "" {
			open = append(open, here)
		}
		if m[2] != "path" || !d.Marks(here.names) {
			return s
		}
		class := "m"
		if here.fill != "none" && !d.Lines {
			class = "m f"
		}
		return "<path class=\"" + class + "\"" + m[3] + m[4] + ">"
	})
}
