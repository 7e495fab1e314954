// Package onepage writes a study guide as one web page that fetches nothing: its
// style and its drawings are in it, and it has no script. It is the guide for those
// who read by ear, since the printed one can't be tagged.
package onepage

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/guide"
)

// Head begins every page, by which one is known from other files.
const Head = "<!doctype html>\n<!-- A study guide by Fieldsign. It needs no network. -->\n"

//go:embed page.css
var style string

//go:embed page.tmpl
var source string

var page = template.Must(template.New("page").Funcs(template.FuncMap{
	"id": id, "say": fmt.Sprintf, "names": guide.Names, "inc": func(i int) int { return i + 1 }, "sentence": guide.Sentence, "letter": func(i int) string { return string(rune('a' + i)) },
	"full": full, "fitted": fitted, "together": together, "onScale": onScale, "ends": ends, "style": func() template.CSS { return template.CSS(style) },
	"rest": func(facts []guide.Fact) []guide.Fact { return facts[1:] }, "join": strings.Join,
}).Parse(source))

// Write writes the page in the guide's language.
func Write(w io.Writer, g *guide.Guide) error {
	sum := sha256.Sum256([]byte(style))
	if _, err := io.WriteString(w, Head); err != nil {
		return err
	}
	return page.Execute(w, struct {
		*guide.Guide
		Lang, Policy string
	}{g, g.Catalogue.Language.Tag(), "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'"})
}

// id is what a species' article is linked by.
func id(s catalogue.Species) string { return strings.ReplaceAll(strings.ToLower(s.Name), " ", "-") }

// end is an animal that a key comes to.
type end struct {
	Species catalogue.Species
	Drawing template.HTML
}

// ends are those of a lead, each with a drawing where they are few.
func ends(k guide.Key, l questions.Lead) []end {
	var out []end
	for _, s := range l.End {
		e := end{Species: s}
		if d, ok := k.Drawn[s.Name]; ok && len(l.End) <= 3 {
			e.Drawing = fitted(d, 36, 18)
		}
		out = append(out, e)
	}
	return out
}

// full is a drawing in its own size, which prints at life size.
func full(d guide.Drawing) template.HTML { return drawn(d, 1) }

// fitted is a drawing as large as a room of so many mm allows, and no larger than life.
func fitted(d guide.Drawing, w, h float64) template.HTML {
	return drawn(d, max(1, size(d).w/w, size(d).h/h))
}

// shown is a drawing among others of one scale.
type shown struct {
	guide.Drawing
	Drawn template.HTML
}

func together(list []guide.Drawing, w, h float64) []shown { return at(list, scaleOf(list, w, h)) }

// onScale is the same at life size or a whole part of it, with that part.
func onScale(list []guide.Drawing, w, h float64) (out struct {
	Den   float64
	Shown []shown
}) {
	for out.Den = 1; out.Den < scaleOf(list, w, h); out.Den++ {
	}
	out.Shown = at(list, out.Den)
	slices.SortStableFunc(out.Shown, func(a, b shown) int { return int(size(b.Drawing).h - size(a.Drawing).h) })
	return out
}

func scaleOf(list []guide.Drawing, w, h float64) float64 {
	den := .01
	for _, d := range list {
		den = max(den, size(d).w/w, size(d).h/h)
	}
	return den
}

func at(list []guide.Drawing, den float64) []shown {
	var out []shown
	for _, d := range list {
		out = append(out, shown{d, drawn(d, den)})
	}
	return out
}
