package catalogue

import (
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
)

// A catalogue's words in another language stand in sheets of their own, beside
// the English ones: traits_es.csv, animal_es.csv and lore_es.csv. Where they
// are not whole the catalogue is good for English all the same.

// translation is what those sheets hold.
type translation struct {
	wordings map[string]Wording // by trait
	labels   map[string]string
	articles map[string]string // by species
	lore     map[string][2]string
	cautions map[string]string
	faults   faults
	whole    *Catalogue // with these words; nil where they have faults
}

// In is the catalogue with its words in a language: the names of species, the
// wording of traits and what is said of lore. Values, and so all proofs, are
// the same ones. The error says what the sheets lack.
func (c *Catalogue) In(l Language) (*Catalogue, error) {
	if l == c.Language {
		return c, nil
	}
	if err := c.Untold(l); err != nil {
		return nil, err
	}
	return c.translations[l].whole, nil
}

// translate learns a language, as far as its words are whole.
func (c *Catalogue) translate(l Language, w translation) {
	if len(w.faults) == 0 {
		w.whole = c.with(l, w)
	}
	c.translations[l] = w
}

func (c *Catalogue) with(l Language, w translation) *Catalogue {
	out := &Catalogue{Language: l, Sources: c.Sources, traits: c.traits, species: c.species, evidence: c.evidence, Prey: c.Prey}
	for _, t := range c.Traits {
		if wording, own := w.wordings[t.ID]; own {
			t.Wording, t.Label = wording, w.labels[t.ID]
			out.Traits = append(out.Traits, expanded(t)...)
		}
	}
	for _, s := range c.Species {
		s.OtherNames = append([]string{s.Vernacular}, s.OtherNames...)
		s.Vernacular, s.Article = s.Spanish, w.articles[s.Name]
		out.Species = append(out.Species, s)
	}
	for _, e := range c.Lore {
		e.Said, e.Told = w.lore[e.Name][0], w.lore[e.Name][1]
		out.Lore = append(out.Lore, e)
	}
	for _, e := range c.Cautions {
		e.Says = w.cautions[e.ID]
		out.Cautions = append(out.Cautions, e)
	}
	return out
}

// Untold says, in one line, why there are no questions in a language, or nothing.
func (c *Catalogue) Untold(l Language) error {
	w, there := c.translations[l]
	switch {
	case l == c.Language || there && len(w.faults) == 0:
		return nil
	case !there:
		return fmt.Errorf("this catalogue has no words in the language %q", l.Tag())
	case len(w.faults) == 1:
		return fmt.Errorf("this catalogue's words in the language %q are not whole: %w", l.Tag(), w.faults[0])
	}
	return fmt.Errorf("this catalogue's words in the language %q are not whole: %w (fieldsign catalogue check lists all %d faults)", l.Tag(), w.faults[0], len(w.faults))
}

// Faults lists all that the sheets of a language lack, each a Fault.
func (c *Catalogue) Faults(l Language) []error { return c.translations[l].faults }

func (c *Catalogue) readTranslation(dir fs.FS, l Language, traits []Trait) translation {
	w := translation{wordings: map[string]Wording{}, labels: map[string]string{}, articles: map[string]string{}, lore: map[string][2]string{}, cautions: map[string]string{}}
	w.readTraits(dir, l, traits)
	w.readSpecies(dir, l, c.Species)
	w.readLore(dir, l, c.Lore)
	w.readCautions(dir, l, c.Cautions)
	return w
}

func (w *translation) readTraits(dir fs.FS, l Language, traits []Trait) {
	file := "traits_" + l.Tag() + ".csv"
	columns := strings.Fields("trait label part says denies some most least adjective values")
	before := len(w.faults)
	for _, r := range readSheet(dir, file, columns, nil, &w.faults) {
		c := r.cells
		at := slices.IndexFunc(traits, func(t Trait) bool { return t.ID == c["trait"] })
		if at < 0 || w.labels[c["trait"]] != "" {
			w.faults.add(r.fault("trait", "the traits of traits.csv, each once"))
			continue
		}
		wording := Wording{c["says"], c["denies"], c["some"], c["most"], c["least"], c["adjective"], l, c["part"], c["values"]}
		w.checkWording(r, traits[at], wording)
		w.wordings[c["trait"]], w.labels[c["trait"]] = wording, c["label"]
	}
	if len(w.faults) > before && len(w.labels) == 0 {
		return // the file can't be read: nothing more is to be said of it
	}
	for _, t := range traits {
		if _, told := w.wordings[t.ID]; !told {
			w.faults.add(Fault{File: file, Column: "trait", Allowed: "a row for " + t.ID + " too"})
		}
	}
}

// checkWording holds a trait's words against the English ones: what these say
// has to be said, and for every value.
func (w *translation) checkWording(r row, t Trait, wording Wording) {
	for _, e := range []struct{ column, words string }{{"label", t.Label}, {"part", t.Part}, {"says", t.Wording.Says}, {"denies", t.Wording.Denies},
		{"some", t.Wording.Some}, {"most", t.Wording.Most}, {"least", t.Wording.Least}, {"adjective", t.Wording.Adjective}} {
		switch {
		case e.words != "" && r.cells[e.column] == "":
			w.faults.add(r.fault(e.column, "words for “"+e.words+"”, which traits.csv has"))
		case e.words == "" && r.cells[e.column] != "":
			w.faults.add(r.fault(e.column, "nothing, since traits.csv has nothing there"))
		}
	}
	if !articled(wording.Part) && t.Part != "" {
		w.faults.add(r.fault("part", "a noun with its article, such as: el cráneo"))
	}
	for _, pattern := range []string{"says", "denies", "adjective"} {
		for _, value := range t.Allowed {
			if lost := unsaid(r.cells[pattern], wording.Values, value); lost != "" {
				w.faults.add(r.fault(pattern, fmt.Sprintf("words for the value %s in %s", value, lost)))
			}
		}
	}
	for _, value := range t.Allowed {
		if t.Kind == Set && !covers(wording.Values, value) {
			w.faults.add(r.fault("values", "words for each of "+strings.Join(t.Allowed, ", ")+", as in hair:pelo|bone:hueso"))
			return
		}
	}
}

func articled(noun string) bool {
	return strings.HasPrefix(noun, "el ") || strings.HasPrefix(noun, "la ")
}

var slot = regexp.MustCompile(`\{[^{}]*\}`)

// unsaid is the first slot of a pattern that has no words for a value.
func unsaid(pattern, values, value string) string {
	for _, s := range slot.FindAllString(pattern, -1) {
		inner := s[1 : len(s)-1]
		if inner == "" && !covers(values, value) || strings.Contains(inner, ":") && !covers(inner, value) {
			return s
		}
	}
	return ""
}

func covers(table, value string) bool {
	return slices.ContainsFunc(strings.Split(table, "|"), func(choice string) bool {
		v, words, ok := strings.Cut(choice, ":")
		return ok && v == value && words != ""
	})
}

func (w *translation) readSpecies(dir fs.FS, l Language, species []Species) {
	file := "animal_" + l.Tag() + ".csv"
	before := len(w.faults)
	for _, r := range readSheet(dir, file, []string{"species", "article"}, nil, &w.faults) {
		name, article := r.cells["species"], r.cells["article"]
		if w.articles[name] != "" || !slices.ContainsFunc(species, func(s Species) bool { return s.Name == name }) {
			w.faults.add(r.fault("species", "the species of animal.csv, each once"))
			continue
		}
		if article != "el" && article != "la" {
			w.faults.add(r.fault("article", "el or la"))
		}
		w.articles[name] = article
	}
	if len(w.faults) > before && len(w.articles) == 0 {
		return
	}
	for _, s := range species {
		if _, told := w.articles[s.Name]; !told {
			w.faults.add(Fault{File: file, Column: "species", Allowed: "a row for " + s.Name + " too"})
		}
		if s.Spanish == "" {
			w.faults.add(Fault{File: "animal.csv", Column: "spanish", Allowed: "a Spanish name for " + s.Name})
		}
	}
}

func (w *translation) readLore(dir fs.FS, l Language, lore []Lore) {
	file := "lore_" + l.Tag() + ".csv"
	before := len(w.faults)
	taken := map[string]bool{}
	for _, r := range readSheet(dir, file, []string{"entry", "name", "meaning"}, nil, &w.faults) {
		c := r.cells
		at := slices.IndexFunc(lore, func(e Lore) bool { return e.Name == c["entry"] })
		if _, told := w.lore[c["entry"]]; at < 0 || told {
			w.faults.add(r.fault("entry", "the names of lore.csv, each once"))
			continue
		}
		meaning := lore[at].Kind + "\n" + c["meaning"]
		if c["name"] == "" || c["meaning"] == "" || taken[c["name"]] || taken[meaning] {
			w.faults.add(r.fault("name", "a name and a meaning, each once"))
		}
		taken[c["name"]], taken[meaning] = true, true
		w.lore[c["entry"]] = [2]string{c["name"], c["meaning"]}
	}
	if len(w.faults) > before && len(w.lore) == 0 {
		return
	}
	for _, e := range lore {
		if _, told := w.lore[e.Name]; !told {
			w.faults.add(Fault{File: file, Column: "entry", Allowed: "a row for " + e.Name + " too"})
		}
	}
}
