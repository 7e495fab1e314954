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
// first and names them; the other sheets may only speak of those named. A
// subject that is not usual needs no sheet where it has no traits.
func readSubject(dir fs.FS, subject string, traits []Trait, sources map[string]Basis, species map[string]*Species, f *faults) {
	required, optional := []string{"species", "source"}, []string(nil)
	if subject == "animal" {
		required = append(required, "vernacular", "other_names", "spanish")
	}
	columns := slices.DeleteFunc(slices.Clone(traits), func(t Trait) bool { return t.Subject != subject })
	if len(columns) == 0 && slices.Contains(Subjects[1+len(Usual):], subject) && missing(dir, subject+".csv") {
		return
	}
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
		if !slices.Contains(ofAll, subject) {
			s.Subjects = append(s.Subjects, subject)
		}
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
	v.Source, v.Basis = source, basis
	if v.Status == "" {
		v.Status = Known
	}
	return v
}

// parse reads a value; allowed is empty, or says what the trait takes.
func parse(t Trait, text string) (v Value, allowed string) {
	switch t.Kind {
	case State:
		return parseState(t, text)
	case Set:
		return parseSet(t, text)
	case YesNo:
		if text != "yes" && text != "no" {
			return v, "yes or no"
		}
		return Value{Text: text}, ""
	case Count:
		return parseCount(text)
	case Range:
		return parseRange(t, text)
	default:
		return parseFormula(text)
	}
}

// parseState reads a word, or words of which all but the usual one are led by ?.
func parseState(t Trait, text string) (v Value, allowed string) {
	for _, word := range split(text) {
		word, unsure := strings.CutPrefix(word, "?")
		if len(t.Allowed) > 0 && !slices.Contains(t.Allowed, word) || !unsure && v.Usual != "" {
			return Value{}, strings.Join(t.Allowed, ", ") + "; of several the usual first, the others led by ? and separated by a semicolon"
		}
		if unsure {
			v.Maybe = append(v.Maybe, word)
		} else {
			v.Usual = word
		}
	}
	if v.Maybe == nil {
		return Value{Text: v.Usual}, ""
	}
	v.Status = Variable
	return v, ""
}

var wholeNumbers = regexp.MustCompile(`^(?:(\d{1,4});)?\??(\d{1,4})(?:\.\.(\d{1,4}))?$`)

// parseCount reads a number, or the bounds between which it varies, after what
// it usually is if that is known: 16, 28..36, 22;?20..22.
func parseCount(text string) (v Value, allowed string) {
	m := wholeNumbers.FindStringSubmatch(text)
	if m == nil {
		return v, "a whole number from 0 to 9999, or its bounds as in 28..36, or the usual and the bounds as in 22;?20..22"
	}
	v.Lo, _ = strconv.ParseFloat(m[2], 64)
	v.Hi = v.Lo
	if m[3] != "" {
		v.Hi, _ = strconv.ParseFloat(m[3], 64)
	}
	v.Usual = m[1]
	if v.Usual != "" || v.Lo != v.Hi {
		v.Status = Variable
	}
	if v.Lo > v.Hi || v.Usual != "" && !v.May(v.Usual) {
		return Value{}, "bounds, the smaller first, with the usual number between them"
	}
	return v, ""
}

// nothing is the cell of a set that is known to have no members.
const nothing = "none"

func parseSet(t Trait, text string) (Value, string) {
	var chosen, maybe []string
	for _, m := range split(strings.TrimPrefix(text, nothing)) {
		if word, unsure := strings.CutPrefix(m, "?"); unsure {
			m = word
			maybe = append(maybe, m)
		} else {
			chosen = append(chosen, m)
		}
		if !slices.Contains(t.Allowed, m) {
			return Value{}, "members of: " + strings.Join(t.Allowed, ", ") + "; separated by ; and led by ? where it may or may not belong; or none"
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
