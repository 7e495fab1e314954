package catalogue

import (
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"
)

//go:embed sheets rosters
var embedded embed.FS

// Subjects are the sheets of the catalogue, in their usual order. Usual are those
// of a round whose host wishes for none in particular.
var (
	Subjects = []string{"animal", "skull", "track", "scat", "sign"}
	Usual    = Subjects[1:4]
)

// Bounds of what a sheet may hold, far above any honest one.
const (
	maxSheet = 16 << 20 // bytes
	maxRows  = 50_000
	maxCell  = 500 // bytes
)

// Builtin is the embedded catalogue, which the tests keep sound. It is loaded
// once, and only read.
var Builtin = sync.OnceValue(func() *Catalogue {
	sub, err := fs.Sub(embedded, "sheets")
	if err != nil {
		panic(err)
	}
	c, err := Load(sub)
	if err != nil {
		panic(err)
	}
	return c
})

// Load reads traits.csv, sources.csv, lore.csv and one sheet for each subject.
// A broken catalogue is refused with every fault found, each a Fault. Words in
// other languages may be missing or broken: what of them can't be used, In says.
func Load(dir fs.FS) (*Catalogue, error) {
	var f faults
	traits := readTraits(dir, &f)
	sources := readSources(dir, &f)
	known := map[string]Basis{}
	for _, s := range sources {
		known[s.ID] = basisOf(s.Kind)
	}
	species := map[string]*Species{}
	for _, subject := range Subjects {
		readSubject(dir, subject, traits, known, species, &f)
	}
	prey := readFoodWeb(dir, traits, known, species, &f)
	lore := readLore(dir, known, &f)
	readLoreEvidence(dir, sources, lore, &f)
	cautions := readCautions(dir, known, species, &f)
	readings := readEvidence(dir, traits, sources, species, &f)
	if err := f.err(); err != nil {
		return nil, err
	}
	list := make([]Species, 0, len(species))
	for _, name := range slices.Sorted(maps.Keys(species)) {
		list = append(list, *species[name])
	}
	c := New(traits, list, sources)
	if c.rest(readings, &f); len(f) > 0 {
		return nil, f.err()
	}
	c.Lore, c.Cautions, c.Prey = lore, cautions, prey
	c.translations = map[Language]translation{}
	c.translate(Spanish, c.readTranslation(dir, Spanish, traits))
	return c, nil
}

// row is a line of a sheet by column name.
type row struct {
	file  string
	n     int
	cells map[string]string
}

func (r row) fault(column, allowed string) Fault {
	return Fault{r.file, r.n, column, r.cells[column], allowed}
}

// missing reports whether there is no file of that name.
func missing(dir fs.FS, file string) bool {
	_, err := fs.Stat(dir, file)
	return errors.Is(err, fs.ErrNotExist)
}

// readSheet returns the rows of a CSV file that has exactly the columns
// required plus any of the optional ones, in any order.
func readSheet(dir fs.FS, file string, required, optional []string, f *faults) []row {
	raw, err := dir.Open(file)
	if err != nil {
		f.add(Fault{File: file, Allowed: "a readable file of that name in the catalogue's folder"})
		return nil
	}
	defer raw.Close()
	data, err := io.ReadAll(io.LimitReader(raw, maxSheet+1))
	switch {
	case err != nil:
		f.add(Fault{File: file, Allowed: fmt.Sprintf("a readable file (%v)", err)})
		return nil
	case len(data) > maxSheet:
		f.add(Fault{File: file, Allowed: fmt.Sprintf("at most %d MiB", maxSheet>>20)})
		return nil
	case !utf8.Valid(data):
		f.add(Fault{File: file, Allowed: "UTF-8 text: save the sheet as CSV UTF-8"})
		return nil
	}
	return splitRows(file, strings.TrimPrefix(string(data), "\ufeff"), required, optional, f)
}

func splitRows(file, text string, required, optional []string, f *faults) []row {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	header, err := r.Read()
	if err != nil {
		f.add(Fault{File: file, Row: 1, Allowed: "a header row"})
		return nil
	}
	if !checkHeader(file, header, required, optional, f) {
		return nil
	}
	var rows []row
	for n := 2; ; n++ {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			f.add(Fault{File: file, Row: n, Allowed: fmt.Sprintf("RFC 4180 CSV (line %d: %v)", bad.Line, bad.Err)})
			return rows
		}
		if n > maxRows {
			f.add(Fault{File: file, Row: n, Allowed: fmt.Sprintf("at most %d rows", maxRows)})
			return rows
		}
		if len(record) != len(header) {
			f.add(Fault{File: file, Row: n, Read: strings.Join(record, ","), Allowed: fmt.Sprintf("%d cells, as in the header; there are %d", len(header), len(record))})
			continue
		}
		rows = append(rows, toRow(file, n, header, record, f))
	}
}

func toRow(file string, n int, header, record []string, f *faults) row {
	r := row{file, n, make(map[string]string, len(header))}
	for i, cell := range record {
		r.cells[header[i]] = strings.TrimSpace(cell)
		if len(cell) > maxCell {
			f.add(r.fault(header[i], fmt.Sprintf("at most %d bytes", maxCell)))
		}
	}
	return r
}

func checkHeader(file string, header, required, optional []string, f *faults) bool {
	before := len(*f)
	for i := range header {
		header[i] = strings.TrimSpace(header[i])
		if slices.Contains(header[:i], header[i]) {
			f.add(Fault{file, 1, header[i], header[i], "each column once"})
		} else if !slices.Contains(required, header[i]) && !slices.Contains(optional, header[i]) {
			f.add(Fault{file, 1, header[i], header[i], "one of " + strings.Join(append(slices.Clone(required), optional...), ", ")})
		}
	}
	for _, column := range required {
		if !slices.Contains(header, column) {
			f.add(Fault{File: file, Row: 1, Column: column, Allowed: "this column must be there"})
		}
	}
	return len(*f) == before
}

var traitID = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

func readTraits(dir fs.FS, f *faults) []Trait {
	columns := strings.Fields("trait subject label kind unit allowed part says denies some most least adjective weight ease note")
	seen := map[string]bool{}
	var traits []Trait
	for _, r := range readSheet(dir, "traits.csv", columns, nil, f) {
		c := r.cells
		t := Trait{ID: c["trait"], Subject: c["subject"], Label: c["label"], Unit: c["unit"], Part: c["part"], Note: c["note"],
			Wording: Wording{Says: c["says"], Denies: c["denies"], Some: c["some"], Most: c["most"], Least: c["least"], Adjective: c["adjective"]}}
		t.Kind, t.Weight, t.Ease = readKind(r, f), readWeight(r, f), readEase(r, f)
		if c["allowed"] != "" {
			if t.Kind == State || t.Kind == Set {
				t.Allowed = strings.Split(c["allowed"], "|")
			} else if t.Unit == "" {
				t.Unit = c["allowed"]
			}
		}
		t.From = behind(t.Note)
		checkTrait(r, t, seen, f)
		traits = append(traits, t)
	}
	return traits
}

const partOf = "part of "

// behind is the trait that a note names: "computed from dental_formula", or
// "part of heel_pad" for one that looks closer at the same thing.
func behind(note string) string {
	for _, lead := range []string{"computed from ", partOf} {
		if rest, ok := strings.CutPrefix(note, lead); ok {
			id, _, _ := strings.Cut(rest, " ")
			return strings.TrimRight(id, ",;:.")
		}
	}
	return ""
}

// Column reports whether the trait is a column of its own in a sheet, and not computed.
func (t Trait) Column() bool { return t.From == "" || strings.HasPrefix(t.Note, partOf) }

func checkTrait(r row, t Trait, seen map[string]bool, f *faults) {
	if !traitID.MatchString(t.ID) {
		f.add(r.fault("trait", "lower-case letters, digits and _"))
	}
	if seen[t.ID] {
		f.add(r.fault("trait", "each trait once"))
	}
	seen[t.ID] = true
	if !slices.Contains(Asked(), t.Subject) {
		f.add(r.fault("subject", strings.Join(Asked(), ", ")))
	}
	if t.Label == "" {
		f.add(r.fault("label", "a name for people"))
	}
	if t.Wording.Says == "" {
		f.add(r.fault("says", "a verb phrase, such as: has {} toes"))
	}
	if t.Kind == Set && len(t.Allowed) == 0 {
		f.add(r.fault("allowed", "the members, separated by |"))
	}
}

func readKind(r row, f *faults) Kind {
	kinds := []Kind{State, Set, YesNo, Count, Range, Formula}
	k := Kind(r.cells["kind"])
	if !slices.Contains(kinds, k) {
		f.add(r.fault("kind", "state, set, yes/no, count, range or formula"))
	}
	return k
}

func readWeight(r row, f *faults) float64 {
	w, err := strconv.ParseFloat(r.cells["weight"], 64)
	if err != nil || !(w >= 0 && w <= 100) {
		f.add(r.fault("weight", "a number from 0 to 100"))
		return 0
	}
	return w
}

func readEase(r row, f *faults) int {
	n, err := strconv.Atoi(r.cells["ease"])
	if err != nil || n < 1 || n > 5 {
		f.add(r.fault("ease", "a whole number from 1 (hard to see) to 5"))
	}
	return n
}

func readSources(dir fs.FS, f *faults) []Source {
	kinds := []string{"published", "secondary", "memory", "common practice"}
	var sources []Source
	seen := map[string]bool{}
	for _, r := range readSheet(dir, "sources.csv", []string{"source", "kind", "citation"}, []string{"opened"}, f) {
		s := Source{r.cells["source"], r.cells["kind"], r.cells["citation"], r.cells["opened"]}
		if s.ID == "" || seen[s.ID] {
			f.add(r.fault("source", "an id, each once"))
		}
		seen[s.ID] = true
		if !slices.Contains(kinds, s.Kind) {
			f.add(r.fault("kind", strings.Join(kinds, ", ")))
		}
		sources = append(sources, s)
	}
	return sources
}
