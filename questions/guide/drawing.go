package guide

import (
	"slices"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// Drawing is a plate with what is said below it.
type Drawing struct {
	Caption string
	Subject string
	Ref     questions.PlateRef
	Plate   plate.Plate
	Parts   []string // to be marked, as plate.PartsOf has them
	Lines   bool     // a part is marked by its line alone
}

// views of a subject, in the order of an animal's page, and small ones for where it
// stands among others.
var (
	views      = map[string][]string{"skull": {"skull"}, "track": {"front print", "hind print", "trail"}, "scat": {"scat"}}
	smallViews = map[string][]string{"skull": {"skull side"}, "track": {"front print", "hind print"}, "scat": {"scat"}}
)

// viewsOf adds the signs that a species leaves.
func viewsOf(of map[string][]string, subject string, s catalogue.Species) []string {
	if subject == "sign" {
		return questions.SignViews(s)
	}
	return of[subject]
}

// draw makes each drawing once.
func (w *writer) draw(ref questions.PlateRef, caption string) (Drawing, bool) {
	d, made := w.drawn[ref]
	if !made {
		if p, ok := questions.Draw(w.Catalogue, ref); ok {
			d = Drawing{Ref: ref, Plate: p.In(w.Catalogue.Language)}
		}
		w.drawn[ref] = d
	}
	d.Caption = caption
	return d, d.Plate.SVG != ""
}

func (w *writer) drawings(s catalogue.Species, subject string) []Drawing {
	var out []Drawing
	for _, view := range viewsOf(views, subject, s) {
		if d, ok := w.draw(questions.PlateRef{Species: s.Name, View: view}, w.view(view, s)); ok {
			d.Subject = subject
			out = append(out, d)
		}
	}
	return out
}

// small is the drawing that stands for an animal among others.
func (w *writer) small(name, subject string) (Drawing, bool) {
	s, _ := w.Catalogue.Find(name)
	for _, view := range viewsOf(smallViews, subject, s) {
		if d, ok := w.draw(questions.PlateRef{Species: name, View: view}, Sentence(s.Vernacular)); ok {
			return d, true
		}
	}
	return Drawing{}, false
}

// scales sets all skulls on one scale, and all prints.
func (w *writer) scales() {
	skulls, prints := Scale{Title: w.Words.Skulls}, Scale{Title: w.Words.Prints}
	for _, a := range w.Animals {
		name := a.Species.Name
		if slices.Contains(w.roster.Of("skull"), name) {
			if d, ok := w.small(name, "skull"); ok {
				skulls.Drawings = append(skulls.Drawings, d)
			}
		}
		if !slices.Contains(w.roster.Of("track"), name) {
			continue
		}
		for _, view := range []string{"front print", "hind print"} {
			if d, ok := w.draw(questions.PlateRef{Species: name, View: view}, a.Name+", "+strings.ToLower(w.view(view, a.Species))); ok {
				prints.Drawings = append(prints.Drawings, d)
			}
		}
	}
	for _, s := range []Scale{skulls, prints} {
		if len(s.Drawings) > 1 {
			w.Scales = append(w.Scales, s)
		}
	}
}

// web draws who eats whom, for a page that is held upright.
func (w *writer) web() {
	const width, height = 180, 200
	if p, ok := questions.WebOf(w.Catalogue, w.roster).Draw(width, height); ok {
		w.Web = Drawing{Ref: questions.PlateRef{View: w.Words.Web}, Plate: p}
	}
}

// Marks reports whether an element is to be marked, by the names around it, the
// outermost first. Of a part of two words the first is that of a group around the
// second.
func (d Drawing) Marks(around []string) bool {
	return slices.ContainsFunc(d.Parts, func(part string) bool {
		from := 0
		for word := range strings.FieldsSeq(part) {
			i := slices.IndexFunc(around[from:], func(names string) bool { return slices.Contains(strings.Fields(names), word) })
			if i < 0 {
				return false
			}
			from += i + 1
		}
		return true
	})
}

// Marked reports whether a drawing has one of the parts that are to be marked.
func (d Drawing) Marked() bool {
	return slices.ContainsFunc(d.Parts, func(part string) bool {
		names := strings.Fields(part)
		last := names[len(names)-1]
		return strings.Contains(d.Plate.SVG, `="`+last+`"`) || strings.Contains(d.Plate.SVG, ` `+last+`"`) || strings.Contains(d.Plate.SVG, `="`+last+` `)
	})
}
