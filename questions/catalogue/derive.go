package catalogue

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// toothCounts are the traits that a dental formula decides, in its own order.
var toothCounts = [8]string{
	"upper_incisors", "lower_incisors", "upper_canines", "lower_canines",
	"upper_premolars", "lower_premolars", "upper_molars", "lower_molars",
}

const (
	dentalFormula = "dental_formula"
	totalTeeth    = "total_teeth"
)

// place is how many teeth of a kind stand on one side of a jaw: from lo to hi,
// and usually so many; usual is -1 where no number is the usual one.
type place struct{ lo, hi, usual int }

var (
	formulaShape = regexp.MustCompile(`^I (\S+)/(\S+) C (\S+)/(\S+) P (\S+)/(\S+) M (\S+)/(\S+)$`)
	placeShape   = regexp.MustCompile(`^(\d)(?:-(\d)|\((\d)(?:-(\d))?\))?$`)
)

// readPlace reads 3, 2(1) for "usually 2, at times 1", 4(1-4), or 0-1 where
// neither is usual; v leaves all open.
func readPlace(text string) (place, bool) {
	if text == "v" {
		return place{0, -1, -1}, true
	}
	m := placeShape.FindStringSubmatch(text)
	if m == nil {
		return place{}, false
	}
	digit := func(i, otherwise int) int {
		if m[i] == "" {
			return otherwise
		}
		return int(m[i][0] - '0')
	}
	n := digit(1, 0)
	if m[2] != "" {
		return place{n, digit(2, n), -1}, n < digit(2, n)
	}
	lo := digit(3, n)
	hi := digit(4, lo)
	return place{min(n, lo), max(n, hi), n}, lo <= hi
}

func (p place) open() bool   { return p.hi < 0 }
func (p place) varies() bool { return p.lo != p.hi }

// teeth reads a formula's eight places.
func teeth(formula string) (n [8]place, ok bool) {
	m := formulaShape.FindStringSubmatch(formula)
	if m == nil {
		return n, false
	}
	for i, s := range m[1:] {
		if n[i], ok = readPlace(s); !ok {
			return n, false
		}
	}
	return n, true
}

// parseFormula reads a formula. One that varies keeps its text, and has for
// what it may be each formula of fixed numbers within its bounds.
func parseFormula(text string) (Value, string) {
	n, ok := teeth(text)
	if !ok {
		return Value{}, "eight numbers as in I 3/3 C 1/1 P 4/4 M 2/3; 2(1) is usually 2, at times 1; 0-1 varies; v is open"
	}
	v := Value{Text: text}
	if !slices.ContainsFunc(n[:], place.varies) {
		return v, ""
	}
	v.Status = Variable
	if slices.ContainsFunc(n[:], place.open) {
		return v, ""
	}
	usual := [8]int{}
	for i, p := range n {
		usual[i] = p.usual
	}
	if !slices.Contains(usual[:], -1) {
		v.Usual = fixed(usual)
	}
	v.Maybe = slices.DeleteFunc(within(n), func(f string) bool { return f == v.Usual })
	return v, ""
}

func fixed(n [8]int) string {
	return fmt.Sprintf("I %d/%d C %d/%d P %d/%d M %d/%d", n[0], n[1], n[2], n[3], n[4], n[5], n[6], n[7])
}

// within lists the formulas of fixed numbers within bounds.
func within(n [8]place) []string {
	list := [][8]int{{}}
	for i, p := range n {
		var longer [][8]int
		for _, f := range list {
			for x := p.lo; x <= p.hi; x++ {
				f[i] = x
				longer = append(longer, f)
			}
		}
		list = longer
	}
	out := make([]string, len(list))
	for i, f := range list {
		out[i] = fixed(f)
	}
	return out
}

// derive adds to a species' values those that follow from trait t.
func derive(values map[string]Value, t Trait) {
	switch t.Kind {
	case Set:
		deriveMembers(values, t)
	case Formula:
		deriveTeeth(values, t)
	}
}

func deriveTeeth(values map[string]Value, t Trait) {
	f := values[t.ID]
	n, ok := teeth(f.Text)
	if !ok {
		for _, id := range toothCounts {
			values[id] = Value{Status: f.Status, Source: f.Source, Basis: f.Basis}
		}
		return
	}
	total := place{}
	for i, id := range toothCounts {
		values[id] = n[i].value(1, f)
		total = total.plus(n[i])
	}
	if !total.varies() || !values[totalTeeth].decides() {
		values[totalTeeth] = total.value(2, f)
	}
}

// value is the count of teeth in so many places of the same kind, by a formula.
func (p place) value(times int, formula Value) Value {
	v := Value{Status: Variable, Source: formula.Source, Basis: formula.Basis}
	if p.open() {
		return v
	}
	v.Lo, v.Hi = float64(times*p.lo), float64(times*p.hi)
	switch {
	case !p.varies():
		v.Status = Known
	case p.usual >= 0:
		v.Usual = strconv.Itoa(times * p.usual)
	}
	return v
}

func (p place) plus(q place) place {
	switch {
	case p.open() || q.open():
		return place{0, -1, -1}
	case p.usual < 0 || q.usual < 0:
		return place{p.lo + q.lo, p.hi + q.hi, -1}
	}
	return place{p.lo + q.lo, p.hi + q.hi, p.usual + q.usual}
}

// memberTraits gives each word of a set a yes/no trait of its own, so that
// a question can rest on one member: contents of the scat → fish scales. It is
// called what is said of it after the verb, or where each has a verb of its own, by
// its word.
func memberTraits(t Trait) []Trait {
	var out []Trait
	verb, _, _ := strings.Cut(t.Wording.Says, "{")
	for _, m := range t.Allowed {
		member := t
		member.ID = memberID(t.ID, m)
		member.Kind = YesNo
		member.Wording.Says = t.Wording.fill(t.Wording.Says, Value{Text: m})
		name := t.Wording.value(Value{Text: m})
		if verb != "" {
			name = cmp.Or(strings.TrimPrefix(member.Wording.Says, verb), name)
		}
		member.Label = fmt.Sprintf("%s: %s", t.Label, name)
		member.Allowed = nil
		member.From = t.ID
		member.Wording.Denies = t.Wording.fill(t.Wording.Denies, Value{Text: m})
		out = append(out, member)
	}
	return out
}

func memberID(trait, member string) string {
	return trait + "_" + strings.ReplaceAll(member, " ", "_")
}

func deriveMembers(values map[string]Value, t Trait) {
	set := values[t.ID]
	for _, m := range t.Allowed {
		v := Value{Status: set.Status, Source: set.Source, Basis: set.Basis}
		switch {
		case slices.Contains(set.Maybe, m):
			v.Status = Variable
		case set.Known():
			v.Text = yes(slices.Contains(set.Members, m))
		}
		values[memberID(t.ID, m)] = v
	}
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
