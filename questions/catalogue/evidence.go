package catalogue

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"
)

// Reading is one thing that a source was found to say of a trait: a row of a
// sheet evidence_SUBJECT.csv. Value is in the trait's own words, or a number in
// Unit as it was printed. A reading is taken, and then the catalogue agrees
// with it, or it has a reason why not, and then the catalogue does not.
type Reading struct {
	Of       string // a species, or its genus, family, order or class
	Trait    string
	Value    Value
	Source   string
	Where    string // in the source
	Printed  string // where that isn't the value itself
	Measure  string // what was measured: claws in or out, a step, condylobasal length
	Basis    Basis
	NotTaken string // why
	Note     string

	at row
}

// Evidence lists what was read of a species' trait, the best first.
func (c *Catalogue) Evidence(species, trait string) []Reading {
	return c.evidence[cell{species, trait}]
}

// cell is what a reading is of.
type cell struct{ species, trait string }

// units are those that a source may print: lengths in millimetres, masses in grams.
var units = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8, "g": 1, "kg": 1000}

// readEvidence reads the sheets of evidence that there are.
func readEvidence(dir fs.FS, traits []Trait, sources []Source, species map[string]*Species, f *faults) []Reading {
	var out []Reading
	kinds := map[string]Basis{}
	for _, s := range sources {
		kinds[s.ID] = basisOf(s.Kind)
	}
	byID := map[string]Trait{}
	for _, t := range traits {
		byID[t.ID] = t
		if t.Kind == Set {
			for _, m := range memberTraits(t) {
				byID[m.ID] = m
			}
		}
	}
	groups := groupsOf(species)
	columns := strings.Fields("of trait value unit source where printed measure kind not_taken note")
	for _, name := range Asked() {
		file := "evidence_" + name + ".csv"
		if missing(dir, file) {
			continue
		}
		for _, r := range readSheet(dir, file, columns, nil, f) {
			if e, ok := readReading(r, name, byID, kinds, species, groups, f); ok {
				out = append(out, e)
			}
		}
	}
	return out
}

// readLoreEvidence lets entries of lore rest on the best that was read of them.
// Their words are ours, so nothing is compared.
func readLoreEvidence(dir fs.FS, sources []Source, lore []Lore, f *faults) {
	const file = "evidence_lore.csv"
	if missing(dir, file) {
		return
	}
	for _, r := range readSheet(dir, file, strings.Fields("entry source where printed note"), nil, f) {
		entry := slices.IndexFunc(lore, func(l Lore) bool { return l.Name == r.cells["entry"] })
		source := slices.IndexFunc(sources, func(s Source) bool { return s.ID == r.cells["source"] })
		switch {
		case entry < 0:
			f.add(r.fault("entry", "a name of lore.csv"))
		case source < 0 || !basisOf(sources[source].Kind).Read():
			f.add(r.fault("source", "a source of sources.csv that was read"))
		case r.cells["where"] == "":
			f.add(r.fault("where", "where in the source it stands"))
		case basisOf(sources[source].Kind) > lore[entry].Basis:
			lore[entry].Basis, lore[entry].Source = basisOf(sources[source].Kind), sources[source].ID
		}
	}
}

func readReading(r row, subject string, traits map[string]Trait, kinds map[string]Basis, species map[string]*Species, groups map[string]bool, f *faults) (Reading, bool) {
	c := r.cells
	e := Reading{Of: c["of"], Trait: c["trait"], Source: c["source"], Where: c["where"], Printed: c["printed"], Measure: c["measure"], NotTaken: c["not_taken"], Note: c["note"], at: r}
	before := len(*f)
	t, known := traits[e.Trait]
	if !known || t.Subject != subject {
		f.add(r.fault("trait", "a trait of the sheet "+subject))
		return e, false
	}
	if species[e.Of] == nil && !groups[e.Of] {
		f.add(r.fault("of", "a species of animal.csv, or the genus, family, order or class of one"))
	}
	basis, there := kinds[e.Source]
	if !there || !basis.Read() && basis != Practice {
		f.add(r.fault("source", "a source of sources.csv that was read"))
	}
	if e.Where == "" && basis.Read() {
		f.add(r.fault("where", "where in the source it stands"))
	}
	e.Basis = basis
	if species[e.Of] == nil {
		e.Basis = min(basis, Group)
	}
	if c["kind"] != "" && (e.Basis.UnmarshalText([]byte(c["kind"])) != nil || e.Basis != Absence && e.Basis != Group) {
		f.add(r.fault("kind", "absence or group, or nothing"))
	}
	e.Value = readPrinted(r, t, f)
	return e, len(*f) == before
}

// readPrinted reads a value in the trait's words, or a number in the unit
// printed, of which the catalogue's value is in the trait's own.
func readPrinted(r row, t Trait, f *faults) Value {
	v, allowed := parse(t, r.cells["value"])
	if allowed != "" {
		f.add(r.fault("value", allowed))
		return v
	}
	if v.Status == "" {
		v.Status = Known
	}
	if t.Kind != Range {
		return v
	}
	from, to := units[r.cells["unit"]], units[t.Unit]
	if from == 0 || to == 0 {
		f.add(r.fault("unit", "mm, cm, m, in or ft; g or kg"))
		return v
	}
	v.Lo, v.Hi = rounded(v.Lo*from/to), rounded(v.Hi*from/to)
	return v
}

// rounded cuts off what a conversion leaves behind the fourth decimal.
func rounded(x float64) float64 { return math.Round(1e4*x) / 1e4 }

func groupsOf(species map[string]*Species) map[string]bool {
	out := map[string]bool{}
	for _, s := range species {
		for _, g := range s.groups() {
			out[g] = true
		}
	}
	return out
}

// groups are the species' genus, family, order and class.
func (s *Species) groups() []string {
	genus, _, _ := strings.Cut(s.Name, " ")
	out := []string{genus}
	for _, rank := range []string{"family", "order", "class"} {
		if v := s.Values[rank]; v.Known() {
			out = append(out, v.Text)
		}
	}
	return out
}

// rest says of every value what it rests on, and holds the readings against
// the values. What is said of a group yields to what is said of a species.
func (c *Catalogue) rest(readings []Reading, f *faults) {
	of := map[cell][]Reading{}
	for _, e := range readings {
		of[cell{e.Of, e.Trait}] = append(of[cell{e.Of, e.Trait}], e)
	}
	c.evidence = map[cell][]Reading{}
	for i := range c.Species {
		s := &c.Species[i]
		for _, t := range c.Traits {
			v, there := s.Values[t.ID]
			if !there {
				continue
			}
			list := slices.Clone(of[cell{s.Name, t.ID}])
			for _, e := range list {
				e.check(s, t, v, f)
			}
			for _, g := range s.groups() {
				list = append(list, groupReadings(s, t, v, of[cell{g, t.ID}], len(list) > 0, f)...)
			}
			slices.SortStableFunc(list, func(a, b Reading) int { return int(b.Basis) - int(a.Basis) })
			if len(list) > 0 {
				c.evidence[cell{s.Name, t.ID}] = list
			}
			s.Values[t.ID] = v.restingOn(t, list)
		}
		for _, t := range c.Traits {
			inherit(s.Values, t, c.evidence[cell{s.Name, t.ID}])
		}
	}
}

// groupReadings are those of a group that go for a species of it. Where one
// differs and the species has readings of its own, it is left aside; so is a
// source's silence on a group where the species has what others lack.
func groupReadings(s *Species, t Trait, v Value, of []Reading, own bool, f *faults) []Reading {
	var out []Reading
	for _, e := range of {
		if !v.Says() || (own || e.Basis == Absence) && e.NotTaken == "" && !v.agrees(t, e.Value) {
			continue
		}
		e.check(s, t, v, f)
		out = append(out, e)
	}
	return out
}

// check finds a reading that contradicts the value, or one that is said not
// to be taken and yet agrees. What varies without bounds decides nothing, so
// anything goes.
func (e Reading) check(s *Species, t Trait, v Value, f *faults) {
	if !v.Says() {
		return
	}
	switch agrees := v.agrees(t, e.Value); {
	case e.NotTaken == "" && !agrees:
		f.add(e.at.fault("value", fmt.Sprintf("what agrees with the catalogue, which has %s for the %s of %s; or a reason in the column not_taken", v, t.Label, s.Name)))
	case e.NotTaken != "" && agrees && t.Kind != Range:
		f.add(e.at.fault("not_taken", fmt.Sprintf("nothing, since the catalogue has %s for %s, too", v, s.Name)))
	}
}

// rounding is what a measure may differ by from another that was converted
// and rounded, as a share of it.
const rounding = 0.03

// agrees reports whether the catalogue's value is compatible with one read. A
// range has to cover what was read, a set to hold it, surely or perhaps; a value
// that varies has to leave room for all that was read.
func (v Value) agrees(t Trait, read Value) bool {
	switch t.Kind {
	case Range:
		return v.Lo <= read.Lo*(1+rounding) && v.Hi >= read.Hi*(1-rounding)
	case Set:
		return !slices.ContainsFunc(read.Members, func(m string) bool { return !slices.Contains(v.Members, m) && !slices.Contains(v.Maybe, m) })
	case Count:
		return v.Lo <= read.Lo && read.Hi <= v.Hi
	}
	return !slices.ContainsFunc(read.all(), func(word string) bool { return !v.May(word) })
}

// shows reports whether a reading has what the value is, or usually is. Where
// nothing is usual, all that it may be was read by whoever read any of it.
func (v Value) shows(read Value) bool {
	usual := v.Typical()
	return !usual.Known() || usual.String() == read.Typical().String()
}

// restingOn is the value with the kind of what it rests on and its sources.
func (v Value) restingOn(t Trait, list []Reading) Value {
	if !v.Says() {
		return v
	}
	list = slices.DeleteFunc(slices.Clone(list), func(e Reading) bool { return e.NotTaken != "" })
	if b := v.basis(t, list); b > v.Basis {
		v.Basis, v.Source = b, sourcesOf(list)
	}
	return v
}

// basis follows from readings, the best first. A state rests on the best of
// them that has it, or has it as the usual one; a set on the weakest among the best for each member; a range on as
// many of the best as it takes to reach both its ends.
func (v Value) basis(t Trait, list []Reading) Basis {
	switch {
	case len(list) == 0:
		return Memory
	case t.Kind == Set:
		weakest := list[0].Basis
		for _, m := range v.Members {
			weakest = min(weakest, basisOfMember(m, list))
		}
		return weakest
	case t.Kind == Range:
		hull := list[0].Value
		for _, e := range list {
			hull.Lo, hull.Hi = min(hull.Lo, e.Value.Lo), max(hull.Hi, e.Value.Hi)
			if v.reached(hull) {
				return e.Basis
			}
		}
		return Memory
	}
	at := slices.IndexFunc(list, func(e Reading) bool { return v.shows(e.Value) })
	if at < 0 {
		return Memory
	}
	return list[at].Basis
}

// slack is how far, as a share, a range may go beyond all that was read of it:
// few animals were measured, and a wider range decides less.
const slack = 0.15

func (v Value) reached(hull Value) bool {
	return v.Lo >= hull.Lo*(1-slack) && v.Hi <= hull.Hi*(1+slack)
}

func basisOfMember(member string, list []Reading) Basis {
	for _, e := range list {
		if slices.Contains(e.Value.Members, member) {
			return e.Basis
		}
	}
	return Memory
}

func sourcesOf(list []Reading) string {
	var ids []string
	for _, e := range list {
		if !slices.Contains(ids, e.Source) {
			ids = append(ids, e.Source)
		}
	}
	return strings.Join(ids, ";")
}

// inherit lets computed values rest on what they are computed from, a formula on
// what was read of each kind of tooth, and a set on what was read of each member.
func inherit(values map[string]Value, t Trait, list []Reading) {
	switch t.Kind {
	case Set:
		inheritMembers(values, t, list)
	case Formula:
		inheritTeeth(values, t)
	}
}

func inheritMembers(values map[string]Value, t Trait, list []Reading) {
	list = slices.DeleteFunc(slices.Clone(list), func(e Reading) bool { return e.NotTaken != "" })
	var known []Value
	for _, m := range t.Allowed {
		v := values[memberID(t.ID, m)]
		b := basisOfMember(m, list)
		if v.Text == "no" && len(list) > 0 {
			b = min(Absence, list[0].Basis)
		}
		if v.Known() && b > v.Basis {
			v.Basis, v.Source = b, sourcesOf(list)
			values[memberID(t.ID, m)] = v
		}
		if v.Known() {
			known = append(known, v)
		}
	}
	if len(known) > 0 {
		set, weakest := values[t.ID], slices.MinFunc(known, func(a, b Value) int { return int(a.Basis) - int(b.Basis) })
		set.raise(weakest.Basis, weakest.Source)
		values[t.ID] = set
	}
}

func inheritTeeth(values map[string]Value, t Trait) {
	formula, weakest := values[t.ID], Published
	for _, id := range toothCounts {
		weakest = min(weakest, values[id].Basis)
	}
	formula.raise(weakest, values[toothCounts[0]].Source)
	values[t.ID] = formula
	for _, id := range append(toothCounts[:], totalTeeth) {
		v := values[id]
		v.raise(formula.Basis, formula.Source)
		values[id] = v
	}
}

// raise gives a value a better basis.
func (v *Value) raise(b Basis, source string) {
	if v.Says() && b > v.Basis {
		v.Basis, v.Source = b, source
	}
}
