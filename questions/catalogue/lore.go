package catalogue

import (
	"io/fs"
	"slices"
	"strings"
)

// Lore is what the trade knows beside the species: a term and its meaning, what
// a structure tells of its owner, the age of a deer by its jaw. A question
// sets one entry against others of its group, which must exclude each other.
type Lore struct {
	Kind    string // term, tells, deer age, deer age fine
	Subject string
	Group   string
	Name    string
	Meaning string
	Source  string

	// The name and the meaning as they are put in the catalogue's language.
	// Claims are of the English ones.
	Said, Told string

	Basis Basis // the kind of its source
}

func readLore(dir fs.FS, sources map[string]Basis, f *faults) []Lore {
	var out []Lore
	seen := map[string]bool{}
	for _, r := range readSheet(dir, "lore.csv", []string{"kind", "subject", "group", "name", "meaning", "source"}, nil, f) {
		c := r.cells
		l := Lore{c["kind"], c["subject"], c["group"], c["name"], c["meaning"], c["source"], c["name"], c["meaning"], Memory}
		for _, column := range []string{"kind", "group", "name", "meaning"} {
			if c[column] == "" {
				f.add(r.fault(column, "some text"))
			}
		}
		if !slices.Contains(Asked(), l.Subject) {
			f.add(r.fault("subject", strings.Join(Asked(), ", ")))
		}
		if seen[l.Name] || seen[l.Kind+"\n"+l.Meaning] {
			f.add(r.fault("name", "each name once, and each meaning once in its kind"))
		}
		seen[l.Name], seen[l.Kind+"\n"+l.Meaning] = true, true
		basis, there := sources[l.Source]
		if l.Basis = basis; !there {
			f.add(r.fault("source", "a source id of sources.csv"))
		}
		out = append(out, l)
	}
	return out
}
