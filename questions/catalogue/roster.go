package catalogue

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// Roster is the part of a catalogue that is in play.
type Roster struct {
	Name    string
	Entries []Entry // by scientific name
}

// Entry is a species and the subjects in which it is in play.
type Entry struct {
	Species  string
	Subjects []string
}

// Everything is the roster of all species in all their subjects, but for
// droppings that nobody teaches: a roster of one's own may name them.
func (c *Catalogue) Everything() Roster {
	r := Roster{Name: "everything"}
	for _, s := range c.Species {
		r.Entries = append(r.Entries, Entry{s.Name, slices.DeleteFunc(slices.Clone(s.Subjects), func(subject string) bool {
			return subject == "scat" && (s.dropsGrains() || s.dropsUnderground())
		})})
	}
	return r
}

// dropsGrains reports whether a species' scat is pellets as small as those of
// mice, squirrels and bats.
func (s Species) dropsGrains() bool {
	const small = 0.6 // cm, the middle of the diameter
	d := s.Values["scat_diameter"]
	return s.Values["scat_form"].Typical().Text == "pellet" && d.Known() && math.Sqrt(d.Lo*d.Hi) < small
}

// dropsUnderground reports whether a species buries its scat or leaves it in its den:
// hardly anybody finds it.
func (s Species) dropsUnderground() bool {
	placed := s.Values["scat_placement"].Members
	return slices.Contains(placed, "buried or in a scrape") && slices.Contains(placed, "in or near the den")
}

// Rosters names the ready rosters, "everything" first.
func Rosters() []string {
	names := []string{"everything"}
	files, _ := fs.Glob(embedded, "rosters/*.csv")
	for _, f := range files {
		names = append(names, strings.TrimSuffix(path.Base(f), ".csv"))
	}
	return names
}

// titles are what the ready rosters are called in words.
var titles = map[Language]map[string]string{
	English: {"everything": "Everything", "furbearers": "Furbearers", "waterside": "Waterside", "woodland-edge": "Woodland edge"},
	Spanish: {"everything": "Todos", "furbearers": "De piel fina", "waterside": "De orilla", "woodland-edge": "De borde de bosque"},
}

// Title is what a roster of that name is called in words; one of your own is called by its name.
func (l Language) Title(roster string) string { return cmp.Or(titles[l][roster], roster) }

// Roster finds a ready roster by its name, or reads the file of that name.
// A roster sheet has the columns species and subjects (separated by ;).
func (c *Catalogue) Roster(name string) (Roster, error) {
	if name == "" || name == "everything" {
		return c.Everything(), nil
	}
	if slices.Contains(Rosters(), name) {
		return c.readRoster(embedded, "rosters/"+name+".csv", name)
	}
	if !strings.HasSuffix(name, ".csv") {
		return Roster{}, fmt.Errorf("no roster %q: the ready ones are %s; or give the path of a .csv file", name, strings.Join(Rosters(), ", "))
	}
	if _, err := os.Stat(name); err != nil {
		return Roster{}, fmt.Errorf("the roster can't be read: %w", err)
	}
	dir, file := filepath.Split(filepath.Clean(name))
	if dir == "" {
		dir = "."
	}
	return c.readRoster(os.DirFS(dir), file, strings.TrimSuffix(file, ".csv"))
}

func (c *Catalogue) readRoster(dir fs.FS, file, name string) (Roster, error) {
	var f faults
	r := Roster{Name: name}
	seen := map[string]bool{}
	for _, row := range readSheet(dir, file, []string{"species", "subjects"}, nil, &f) {
		s, ok := c.Find(row.cells["species"])
		if !ok || seen[s.Name] {
			f.add(row.fault("species", "a scientific name of the catalogue, each once"))
			continue
		}
		seen[s.Name] = true
		subjects := split(row.cells["subjects"])
		for _, subject := range subjects {
			if !s.Has(subject) {
				f.add(row.fault("subjects", strings.Join(s.Subjects, ";")))
			}
		}
		r.Entries = append(r.Entries, Entry{s.Name, subjects})
	}
	if len(r.Entries) == 0 && len(f) == 0 {
		return r, errors.New("the roster " + file + " names no species")
	}
	slices.SortFunc(r.Entries, func(a, b Entry) int { return strings.Compare(a.Species, b.Species) })
	return r, f.err()
}

// Of lists the roster's species that are in play for a subject. The animal
// sheet speaks of every species of the roster.
func (r Roster) Of(subject string) []string {
	var names []string
	for _, e := range r.Entries {
		if subject == "animal" || slices.Contains(ofAll, subject) || slices.Contains(e.Subjects, subject) {
			names = append(names, e.Species)
		}
	}
	return names
}

// InPlay are the species of a roster for a subject, as the catalogue has them.
func (c *Catalogue) InPlay(r Roster, subject string) []Species {
	var out []Species
	for _, name := range r.Of(subject) {
		if s, known := c.Find(name); known {
			out = append(out, s)
		}
	}
	return out
}
