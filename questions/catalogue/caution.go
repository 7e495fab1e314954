package catalogue

import (
	"io/fs"
	"slices"
	"strings"
)

// Caution is what can hurt whoever finds an animal or what it left, or what the
// law says of it. Its words are ours, what they say its source's.
type Caution struct {
	ID     string
	Of     []string // species, or a genus, family, order or class of them
	Part   string   // one of cautionParts
	Says   string   // in the catalogue's language
	Source string
	Where  string // in the source

	Basis Basis // the kind of its source
}

// anyPart is of a caution that goes for all that an animal leaves.
const anyPart = "any"

// cautionParts are what a caution can be about.
var cautionParts = []string{anyPart, "droppings", "dead animal", "live animal", "feathers and bones", "den or nest", "its kill"}

// CautionsOf are those that go for a species; those for any animal come last.
func (c *Catalogue) CautionsOf(s Species) []Caution {
	of := append(s.groups(), s.Name)
	var out []Caution
	for _, e := range c.Cautions {
		if slices.ContainsFunc(e.Of, func(name string) bool { return slices.Contains(of, name) }) {
			out = append(out, e)
		}
	}
	slices.SortStableFunc(out, func(a, b Caution) int { return generality(a) - generality(b) })
	return out
}

func generality(e Caution) int {
	if e.Part == anyPart {
		return 1
	}
	return 0
}

const cautionSheet = "caution.csv"

// readCautions reads the sheet, which a catalogue of one's own may lack.
func readCautions(dir fs.FS, sources map[string]Basis, species map[string]*Species, f *faults) []Caution {
	if missing(dir, cautionSheet) {
		return nil
	}
	groups := groupsOf(species)
	var out []Caution
	for _, r := range readSheet(dir, cautionSheet, strings.Fields("caution of part says source where"), nil, f) {
		c := r.cells
		e := Caution{ID: c["caution"], Of: split(c["of"]), Part: c["part"], Says: c["says"], Source: c["source"], Where: c["where"]}
		e.check(r, out, sources, species, groups, f)
		e.Basis = sources[e.Source]
		out = append(out, e)
	}
	return out
}

func (e Caution) check(r row, before []Caution, sources map[string]Basis, species map[string]*Species, groups map[string]bool, f *faults) {
	if e.ID == "" || slices.ContainsFunc(before, func(o Caution) bool { return o.ID == e.ID }) {
		f.add(r.fault("caution", "an id, each once"))
	}
	if len(e.Of) == 0 || slices.ContainsFunc(e.Of, func(name string) bool { return species[name] == nil && !groups[name] }) {
		f.add(r.fault("of", "species of animal.csv, or the genus, family, order or class of some, separated by ;"))
	}
	if !slices.Contains(cautionParts, e.Part) {
		f.add(r.fault("part", strings.Join(cautionParts, ", ")))
	}
	if e.Says == "" {
		f.add(r.fault("says", "some text"))
	}
	basis, there := sources[e.Source]
	if !there || basis == Memory {
		f.add(r.fault("source", "a source of sources.csv that is not recalled"))
	}
	if e.Where == "" && basis.Read() {
		f.add(r.fault("where", "where in the source it stands"))
	}
}

func (w *translation) readCautions(dir fs.FS, l Language, cautions []Caution) {
	if len(cautions) == 0 {
		return
	}
	file := "caution_" + l.Tag() + ".csv"
	before := len(w.faults)
	for _, r := range readSheet(dir, file, []string{"caution", "says"}, nil, &w.faults) {
		id, says := r.cells["caution"], r.cells["says"]
		if w.cautions[id] != "" || !slices.ContainsFunc(cautions, func(e Caution) bool { return e.ID == id }) {
			w.faults.add(r.fault("caution", "the cautions of "+cautionSheet+", each once"))
		}
		w.cautions[id] = says
	}
	if len(w.faults) > before && len(w.cautions) == 0 {
		return
	}
	for _, e := range cautions {
		if w.cautions[e.ID] == "" {
			w.faults.add(Fault{File: file, Column: "caution", Allowed: "a row with words for " + e.ID + " too"})
		}
	}
}
