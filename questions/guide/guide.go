// Package guide works out what a study guide to a roster says: of each animal its
// drawings, its measures, the fewest traits that tell it from all others, its
// look-alikes and its cautions; then a key for each subject, the terms, and what
// all of it rests on. It is data: paper and page only draw it. The same roster and
// seed always give the same guide.
package guide

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// Guide is all of it.
type Guide struct {
	Roster    string
	Catalogue *catalogue.Catalogue // whose values decide
	Words     Words

	Animals []Animal
	Scales  []Scale
	Web     Drawing // who eats whom; none where it can't be drawn
	Keys    []Key
	Terms   []Term // the trade's words
	Tells   []Term // what a structure tells of its owner
	Traits  []Term // what the traits by which animals are told look at
	Sources []Source
	Tasks   []Task
}

// Animal is a page of the guide.
type Animal struct {
	Species  catalogue.Species
	Name     string
	Names    []string // that it also has
	Kin      string   // order and family
	About    []string // sentences on how it lives
	Drawings []Drawing
	Measures []Fact
	Marks    []Marks // by subject
	Beside   []Comparison
	Cautions []Caution
}

// Fact is a value with its name and what it rests on.
type Fact struct {
	Label, Value string
	Rests        Rests
}

// Marks are the fewest traits of a subject that tell an animal from all others.
type Marks struct {
	Subject, Title string
	Traits         []Mark
	Others         int
	Alike          []catalogue.Species // that no trait tells from it
}

// Mark is one of those traits, and whom it leaves to be told by the next.
type Mark struct {
	Trait string
	Says  string
	Left  []catalogue.Species
	Rests Rests
}

// Comparison sets a look-alike beside the animal.
type Comparison struct {
	Subject, Title string
	Other          catalogue.Species
	Percent        int        // how alike
	Drawings       []Drawing  // of the animal and the other, on one scale
	Lines          []Contrast // what separates them, the easiest to see first
}

// Contrast is one trait of both.
type Contrast struct {
	Label, This, Other string
	Rests              Rests
}

// Caution is what to beware of, and of what.
type Caution struct {
	Part, Says string
	Rests      Rests
}

// Scale is drawings that are shown on one scale.
type Scale struct {
	Title    string
	Drawings []Drawing
}

// Key is the dichotomous key by a subject, with a drawing for each of its ends.
type Key struct {
	Title    string
	Couplets []questions.Couplet
	Drawn    map[string]Drawing // by species
}

// Term is a word with its meaning, and where it lies on a drawing.
type Term struct {
	Name, Meaning string
	Drawing       *Drawing
	Rests         Rests
}

// Task is an animal of the worksheet: its drawings without its name, and what is
// to be filled in.
type Task struct {
	Number   int
	Species  catalogue.Species
	Drawings []Drawing
	Blanks   []Fact
}

// MinAnimals is what a guide needs: one animal is told from nothing.
const MinAnimals = 2

// New works the guide out, in the catalogue's language. The seed gives the order
// of the worksheet.
func New(c *catalogue.Catalogue, roster catalogue.Roster, seed uint64) (*Guide, error) {
	if n := len(roster.Entries); n < MinAnimals {
		return nil, fmt.Errorf("a guide tells animals apart and needs %d or more; roster %s has %d", MinAnimals, roster.Name, n)
	}
	w := newWriter(c, roster)
	if err := w.animals(roster.Entries); err != nil {
		return nil, err
	}
	w.scales()
	w.web()
	w.keys()
	w.glossary()
	w.tasks(seed)
	return w.Guide, nil
}

// Sheet is what a meeting hands out: a page for each of some animals, by the subjects of
// their entries, told from all others of the roster.
func Sheet(c *catalogue.Catalogue, roster catalogue.Roster, fresh []catalogue.Entry, title string) (*Guide, error) {
	w := newWriter(c, roster)
	w.Roster = title
	return w.Guide, w.animals(fresh)
}

// writer is a guide being written.
type writer struct {
	*Guide
	bank   *questions.Bank
	roster catalogue.Roster
	drawn  map[questions.PlateRef]Drawing
	used   []string // traits that tell animals apart
}

func newWriter(c *catalogue.Catalogue, roster catalogue.Roster) *writer {
	return &writer{Guide: &Guide{Roster: roster.Name, Catalogue: c, Words: wordsIn[c.Language]}, bank: questions.NewBank(c, roster), roster: roster, drawn: map[questions.PlateRef]Drawing{}}
}

// animals writes their pages, by their names.
func (w *writer) animals(entries []catalogue.Entry) error {
	for _, e := range entries {
		a, err := w.animal(e)
		if err != nil {
			return err
		}
		w.Animals = append(w.Animals, a)
	}
	slices.SortStableFunc(w.Animals, func(a, b Animal) int { return strings.Compare(folded(a.Name), folded(b.Name)) })
	return nil
}

func (w *writer) animal(e catalogue.Entry) (Animal, error) {
	s, ok := w.Catalogue.Find(e.Species)
	if !ok {
		return Animal{}, fmt.Errorf("the catalogue has no %s: check the roster %s", e.Species, w.roster.Name)
	}
	a := Animal{Species: s, Name: Sentence(s.Vernacular), Names: slices.Concat(s.OtherNames, s.OtherSpanish), Kin: kin(s), About: w.about(s)}
	if w.Catalogue.Language == catalogue.Spanish {
		a.Names = s.OtherSpanish
	} else {
		a.Names = s.OtherNames
	}
	subjects := slices.DeleteFunc(slices.Clone(e.Subjects), func(subject string) bool { return subject == "animal" })
	for _, subject := range subjects {
		a.Drawings = append(a.Drawings, w.drawings(s, subject)...)
		a.Measures = append(a.Measures, w.measures(s, subject)...)
		m, err := w.marks(s, subject)
		if err != nil {
			return Animal{}, err
		}
		a.Marks = append(a.Marks, m)
	}
	beside, err := w.beside(s, subjects)
	a.Beside = beside
	for _, e := range w.Catalogue.CautionsOf(s) {
		a.Cautions = append(a.Cautions, Caution{w.Words.Parts[e.Part], e.Says, w.restsOn(e.Source, e.Basis)})
	}
	return a, err
}

func kin(s catalogue.Species) string {
	var out []string
	for _, rank := range []string{"order", "family"} {
		if v := s.Values[rank]; v.Known() {
			out = append(out, v.Text)
		}
	}
	return strings.Join(out, ", ")
}

// about says how it lives, in the words of the animal sheet.
func (w *writer) about(s catalogue.Species) []string {
	var out []string
	for _, t := range w.Catalogue.Traits {
		v := s.Values[t.ID]
		if t.Subject != "animal" || slices.Contains([]string{"class", "order", "family"}, t.ID) || !v.Says() || v.Text == "no" && t.Wording.Denies == "" {
			continue
		}
		out = append(out, questions.Shows(w.Catalogue, s, t))
	}
	return out
}

// measures are a subject's numbers, as far as they are known.
func (w *writer) measures(s catalogue.Species, subject string) []Fact {
	var out []Fact
	for _, t := range w.Catalogue.Traits {
		number := t.Kind == catalogue.Range || t.Kind == catalogue.Count || t.Kind == catalogue.Formula
		if v := s.Values[t.ID]; t.Subject == subject && number && t.Column() && v.Says() {
			out = append(out, Fact{labelled(t), w.Words.measure(v, t), w.rests(v)})
		}
	}
	return out
}

// labelled is a trait's name as a row is headed by it.
func labelled(t catalogue.Trait) string {
	for _, article := range []string{"el ", "la ", "los ", "las "} {
		if rest, ok := strings.CutPrefix(t.Label, article); ok && t.Wording.Language == catalogue.Spanish {
			return Sentence(rest)
		}
	}
	return Sentence(t.Label)
}

func (w *writer) marks(s catalogue.Species, subject string) (Marks, error) {
	found, err := w.bank.Marks(s.Name, subject)
	out := Marks{Subject: subject, Title: w.Words.By[subject], Others: found.Others, Alike: found.Alike}
	for _, m := range found.Traits {
		w.use(m.Trait)
		left := slices.DeleteFunc(m.Left, func(o catalogue.Species) bool {
			return slices.ContainsFunc(out.Alike, func(a catalogue.Species) bool { return a.Name == o.Name })
		})
		out.Traits = append(out.Traits, Mark{m.Trait.ID, questions.Shows(w.Catalogue, s, m.Trait), left, w.rests(s.Values[m.Trait.ID])})
	}
	return out, err
}

func (w *writer) use(t catalogue.Trait) {
	if !slices.Contains(w.used, t.ID) {
		w.used = append(w.used, t.ID)
	}
}

// Look-alikes on a page, and what is said of each.
const (
	lookalikes = 3
	contrasts  = 3
)

// beside takes the nearest look-alike by each subject in turn, each animal once.
func (w *writer) beside(s catalogue.Species, subjects []string) ([]Comparison, error) {
	lists := map[string][]questions.Lookalike{}
	for _, subject := range subjects {
		list, err := w.bank.Lookalikes(s.Name, subject, len(w.roster.Entries))
		if err != nil {
			return nil, err
		}
		lists[subject] = list
	}
	var out []Comparison
	for turn := 0; len(out) < lookalikes && turn < lookalikes*len(subjects); turn++ {
		subject := subjects[turn%len(subjects)]
		at := slices.IndexFunc(lists[subject], func(l questions.Lookalike) bool {
			return !slices.ContainsFunc(out, func(c Comparison) bool { return c.Other.Name == l.Species.Name })
		})
		if at >= 0 {
			out = append(out, w.comparison(s, subject, lists[subject][at]))
		}
	}
	return out, nil
}

// comparison shows the trait that the drawings show, of those easiest to see.
func (w *writer) comparison(s catalogue.Species, subject string, l questions.Lookalike) Comparison {
	out := Comparison{Subject: subject, Title: w.Words.By[subject], Other: l.Species, Percent: int(100*l.Similarity + .5)}
	list := l.Separators[:min(len(l.Separators), contrasts)]
	shown := questions.Compare(w.Catalogue, subject, catalogue.Trait{}, s, l.Species)
	for _, sep := range list {
		lesson := questions.Compare(w.Catalogue, subject, sep.Trait, s, l.Species)
		out.Lines = append(out.Lines, Contrast{labelled(sep.Trait), questions.Phrase(w.Catalogue, s, sep.Trait), questions.Phrase(w.Catalogue, l.Species, sep.Trait), w.rests(sep.This, sep.Other)})
		if len(shown.Parts) == 0 && len(lesson.Parts) > 0 {
			shown = lesson
		}
	}
	for _, side := range shown.Sides {
		if side.Plate == nil {
			continue
		}
		if d, ok := w.draw(*side.Plate, Sentence(side.Species.Vernacular)); ok {
			d.Parts, d.Lines = shown.Parts, shown.Lines
			out.Drawings = append(out.Drawings, d)
		}
	}
	return out
}

func (w *writer) keys() {
	for _, subject := range catalogue.Subjects[1:] {
		key, err := questions.NewFieldKey(w.Catalogue, w.roster, subject)
		if err != nil {
			continue // too few animals, or nothing that parts them: there is no key to print
		}
		out := Key{Title: w.Words.KeyBy[subject], Couplets: key.Couplets, Drawn: map[string]Drawing{}}
		for _, name := range w.roster.Of(subject) {
			if d, ok := w.small(name, subject); ok {
				out.Drawn[name] = d
			}
		}
		w.Keys = append(w.Keys, out)
	}
}

// tasks puts the animals in an order that says nothing of their names.
func (w *writer) tasks(seed uint64) {
	dice := rand.New(rand.NewPCG(seed, 0x6775696465))
	for n, i := range dice.Perm(len(w.Animals)) {
		a := w.Animals[i]
		task := Task{Number: n + 1, Species: a.Species, Blanks: []Fact{{w.Words.Name, a.Name, Rests{}}}}
		for _, m := range a.Marks {
			if d, ok := w.small(a.Species.Name, m.Subject); ok {
				d.Caption = w.Words.Views[m.Subject]
				task.Drawings = append(task.Drawings, d)
			}
		}
		task.Blanks = append(task.Blanks, a.Measures...)
		for _, m := range a.Marks {
			var says []string
			for _, t := range m.Traits {
				says = append(says, t.Says)
			}
			if len(says) > 0 {
				task.Blanks = append(task.Blanks, Fact{m.Title, strings.Join(says, ". "), Rests{}})
			}
		}
		w.Tasks = append(w.Tasks, task)
	}
}

// Sentence begins with a capital.
func Sentence(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[n:]
}

// folded is a name as it is sorted.
func folded(s string) string {
	return strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ñ", "n").Replace(strings.ToLower(s))
}
