package catalogue

import (
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// readSubject reads a subject's sheet into species. The animal sheet comes
// first and names them; the other sheets may only speak of those named.
func readSubject(dir fs.FS, subject string, traits []Trait, sources map[string]Basis, species map[string]*Species, f *faults) {
	required, optional := []string{"species", "source"}, []string(nil)
	if subject == "animal" {
		required = append(required, "vernacular", "other_names", "spanish")
	}
	columns := slices.DeleteFunc(slices.Clone(traits), func(t Trait) bool { return t.Subject != subject })
	for _, t := range columns {
		if t.From == "" {
			required = append(required, t.ID)
		} else {
			optional = append(optional, t.ID)
		}
	}
	seen := map[string]bool{}
	for _, r := range readSheet(dir, subject+".csv", required, optional, f) {
		s := readName(r, subject, seen, species, f)
		if s == nil {
			continue
		}
		s.Subjects = append(s.Subjects, subject)
		for _, t := range columns {
			if cell, given := r.cells[t.ID]; given && (cell != "" || t.From == "") {
				s.Values[t.ID] = readCell(r, t, cell, sources, f)
			}
		}
	}
}

var scientific = regexp.MustCompile(`^[A-Z][a-z]+ [a-z-]+( [a-z-]+)?$`)

func readName(r row, subject string, seen map[string]bool, species map[string]*Species, f *faults) *Species {
	name := r.cells["species"]
	if seen[name] {
		f.add(r.fault("species", "each species once in a sheet"))
		return nil
	}
	seen[name] = true
	if subject != "animal" {
		if species[name] == nil {
			f.add(r.fault("species", "a species that animal.csv names"))
		}
		return species[name]
	}
	if !scientific.MatchString(name) {
		f.add(r.fault("species", "a scientific name, such as Lynx rufus"))
		return nil
	}
	if r.cells["vernacular"] == "" {
		f.add(r.fault("vernacular", "the name that a question uses"))
	}
	s := &Species{Name: name, Vernacular: r.cells["vernacular"], OtherNames: split(r.cells["other_names"]), Values: map[string]Value{}}
	if spanish := split(r.cells["spanish"]); len(spanish) > 0 {
		s.Spanish, s.OtherSpanish = spanish[0], spanish[1:]
		shown := "spanish: " + strings.ToLower(s.Spanish)
		if seen[shown] {
			f.add(r.fault("spanish", "a first name that no other species has, or two options would read alike"))
		}
		seen[shown] = true
	}
	species[name] = s
	return s
}

func split(cell string) []string {
	var out []string
	for part := range strings.SplitSeq(cell, ";") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// readCell reads "value" or "value @source".
func readCell(r row, t Trait, cell string, sources map[string]Basis, f *faults) Value {
	text, source := cell, r.cells["source"]
	if before, after, ok := strings.Cut(cell, "@"); ok {
		text, source = strings.TrimSpace(before), strings.TrimSpace(after)
	}
	switch text {
	case "", "unknown":
		return Value{Status: Unknown}
	case "variable":
		return Value{Status: Variable, Source: source}
	case "n/a", "not applicable":
		return Value{Status: NotApplicable, Source: source}
	}
	basis, there := sources[source]
	if !there {
		f.add(Fault{r.file, r.n, t.ID, source, "a source id of sources.csv, after @ or in the column source"})
	}
	v, allowed := parse(t, text)
	if allowed != "" {
		f.add(Fault{r.file, r.n, t.ID, text, allowed + "; or unknown, variable, n/a"})
		return Value{}
	}
	v.Status, v.Source, v.Basis = Known, source, basis
	return v
}

// parse reads a known value; allowed is empty, or says what the trait takes.
func parse(t Trait, text string) (v Value, allowed string) {
	switch t.Kind {
	case State:
		if len(t.Allowed) > 0 && !slices.Contains(t.Allowed, text) {
			return v, strings.Join(t.Allowed, ", ")
		}
		return Value{Text: text}, ""
	case Set:
		return parseSet(t, text)
	case YesNo:
		if text != "yes" && text != "no" {
			return v, "yes or no"
		}
		return Value{Text: text}, ""
	case Count:
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > 1000 {
			return v, "a whole number from 0 to 1000"
		}
		return Value{Lo: float64(n), Hi: float64(n)}, ""
	case Range:
		return parseRange(t, text)
	default:
		if _, ok := teeth(text); !ok {
			return v, "eight numbers (or v, varies) as in I 3/3 C 1/1 P 4/4 M 2/3"
		}
		return Value{Text: text}, ""
	}
}

func parseSet(t Trait, text string) (Value, string) {
	var chosen, maybe []string
	for _, m := range split(text) {
		if word, unsure := strings.CutPrefix(m, "?"); unsure {
			m = word
			maybe = append(maybe, m)
		} else {
			chosen = append(chosen, m)
		}
		if !slices.Contains(t.Allowed, m) {
			return Value{}, "members of: " + strings.Join(t.Allowed, ", ") + "; separated by ; and led by ? where it may or may not belong"
		}
	}
	members := slices.DeleteFunc(slices.Clone(t.Allowed), func(m string) bool { return !slices.Contains(chosen, m) })
	return Value{Members: members, Maybe: maybe}, ""
}

var decimal = regexp.MustCompile(`^\d{1,6}(\.\d{1,4})?$`)

func parseRange(t Trait, text string) (Value, string) {
	lo, hi, two := strings.Cut(text, "..")
	if !two {
		hi = lo
	}
	a, errA := strconv.ParseFloat(lo, 64)
	b, errB := strconv.ParseFloat(hi, 64)
	if errA != nil || errB != nil || !decimal.MatchString(lo) || !decimal.MatchString(hi) || a > b || a <= 0 {
		return Value{}, fmt.Sprintf("a range in %s, smaller number first, as in 5.7..8.3", t.Unit)
	}
	return Value{Lo: a, Hi: b}, ""
}
