package catalogue

import (
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

var formulaShape = regexp.MustCompile(`^I (\d|v)/(\d|v) C (\d|v)/(\d|v) P (\d|v)/(\d|v) M (\d|v)/(\d|v)$`)

// teeth reads a formula's eight numbers per side; -1 stands for a position that varies.
func teeth(formula string) (n [8]int, ok bool) {
	m := formulaShape.FindStringSubmatch(formula)
	if m == nil {
		return n, false
	}
	for i, s := range m[1:] {
		n[i] = -1
		if s != "v" {
			n[i], _ = strconv.Atoi(s)
		}
	}
	return n, true
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
	total := 0
	for i, id := range toothCounts {
		v := Value{Status: Known, Lo: float64(n[i]), Hi: float64(n[i]), Source: f.Source, Basis: f.Basis}
		if n[i] < 0 {
			v = Value{Status: Variable, Source: f.Source, Basis: f.Basis}
			total = -1 << 16
		}
		values[id] = v
		total += 2 * n[i]
	}
	if total >= 0 {
		values[totalTeeth] = Value{Status: Known, Lo: float64(total), Hi: float64(total), Source: f.Source, Basis: f.Basis}
		return
	}
	values[t.ID] = Value{Status: Variable, Text: f.Text, Source: f.Source, Basis: f.Basis}
}

// memberTraits gives each word of a set a yes/no trait of its own, so that
// a question can rest on one member: contents of the scat → fish scales.
func memberTraits(t Trait) []Trait {
	var out []Trait
	for _, m := range t.Allowed {
		member := t
		member.ID = memberID(t.ID, m)
		member.Kind = YesNo
		member.Label = fmt.Sprintf("%s: %s", t.Label, t.Wording.value(Value{Text: m}))
		member.Allowed = nil
		member.From = t.ID
		member.Wording.Says = t.Wording.fill(t.Wording.Says, Value{Text: m})
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
