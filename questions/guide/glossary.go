package guide

import (
	"slices"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// glossary has the terms of the subjects in play, and the traits by which the
// roster's animals are told, each on a drawing of one of them.
func (w *writer) glossary() {
	for _, l := range w.Catalogue.Lore {
		if len(w.roster.Of(l.Subject)) == 0 {
			continue
		}
		switch l.Kind {
		case "term":
			w.Terms = append(w.Terms, Term{Sentence(l.Said), l.Told, w.pointed(l), w.restsOn(l.Source, l.Basis)})
		case "tells":
			w.Tells = append(w.Tells, Term{Sentence(l.Said), l.Told, nil, w.restsOn(l.Source, l.Basis)})
		}
	}
	for _, id := range w.used {
		t, _ := w.Catalogue.Trait(id)
		if d, s, ok := w.example(t); ok {
			w.Traits = append(w.Traits, Term{Name: labelled(t), Meaning: Sentence(s.Vernacular) + ": " + questions.Shows(w.Catalogue, s, t), Drawing: &d, Rests: w.rests(s.Values[id])})
		}
	}
}

// pointed is a skull with a line that ends at what the term names, or a print, a
// trail or scat with the parts of a trait of that name.
func (w *writer) pointed(l catalogue.Lore) *Drawing {
	for _, name := range w.roster.Of(l.Subject) {
		s, _ := w.Catalogue.Find(name)
		if l.Subject == "skull" && slices.ContainsFunc(plate.Structures(s), func(st plate.Structure) bool { return st.Term == l.Name }) {
			if d, ok := w.draw(questions.PlateRef{Species: name, View: "skull", Mark: l.Name}, Sentence(s.Vernacular)); ok {
				return &d
			}
		}
	}
	if t, known := w.Catalogue.Trait(l.Name); known && t.Subject == l.Subject {
		if d, _, ok := w.example(t); ok {
			return &d
		}
	}
	return nil
}

// example is the drawing of an animal that has what the trait speaks of, with the
// parts named that show it.
func (w *writer) example(t catalogue.Trait) (Drawing, catalogue.Species, bool) {
	for _, name := range w.roster.Of(t.Subject) {
		s, _ := w.Catalogue.Find(name)
		if v := s.Values[t.ID]; !v.Says() || v.Text == "no" || t.Kind == catalogue.Count && v.Hi == 0 {
			continue
		}
		lesson := questions.Compare(w.Catalogue, t.Subject, t, s, s)
		if lesson.Sides[0].Plate == nil {
			continue
		}
		d, ok := w.draw(*lesson.Sides[0].Plate, Sentence(s.Vernacular))
		d.Parts, d.Lines = lesson.Parts, lesson.Lines
		if ok && d.Marked() {
			return d, s, true
		}
	}
	return Drawing{}, catalogue.Species{}, false
}
