package catalogue

import (
	"strconv"
	"strings"
)

// Claim says something of one trait: trait op value. Op is one of
// = != < > <= >=; the value is written as in the CSV export, and led by
// "usually " where the claim is of what a variable value is most often.
type Claim struct {
	Trait string `json:"trait"`
	Op    string `json:"op"`
	Value string `json:"value"`
}

// Truth of a claim; Undecided wherever the catalogue does not know enough.
type Truth int8

const (
	Undecided Truth = iota
	False
	True
)

func (t Truth) not() Truth {
	return [...]Truth{Undecided: Undecided, False: True, True: False}[t]
}

// Holds judges the claim on a value. A range satisfies a comparison only if
// all of it does, and fails it only if none of it does. A claim of what is
// usual holds of the species that usually shows it, and fails for those that
// can't.
func (c Claim) Holds(v Value) Truth {
	if !v.Says() {
		return Undecided
	}
	switch c.Op {
	case "=":
		return equal(v, c.Value)
	case "!=":
		return equal(v, c.Value).not()
	}
	x, err := strconv.ParseFloat(c.Value, 64)
	if err != nil || !v.Number() {
		return Undecided
	}
	return compare(v, c.Op, x)
}

func compare(v Value, op string, x float64) Truth {
	switch op {
	case ">":
		return decided(v.Lo > x, v.Hi <= x)
	case ">=":
		return decided(v.Lo >= x, v.Hi < x)
	case "<":
		return decided(v.Hi < x, v.Lo >= x)
	case "<=":
		return decided(v.Hi <= x, v.Lo > x)
	}
	return Undecided
}

// equal decides all but sets and ranges. A range equals nothing for certain:
// two animals may both lie in it.
func equal(v Value, text string) Truth {
	text, usually := strings.CutPrefix(text, usuallyPrefix)
	switch {
	case v.Members != nil || v.Known() && v.Number() && v.Lo != v.Hi:
		return Undecided
	case !v.May(text):
		return False
	case usually && v.Usual == text || !usually && v.Known():
		return True
	}
	return Undecided
}

func decided(yes, no bool) Truth {
	switch {
	case yes:
		return True
	case no:
		return False
	}
	return Undecided
}

// All judges several claims together on one species' values.
func All(claims []Claim, values map[string]Value) Truth {
	result := True
	for _, c := range claims {
		switch c.Holds(values[c.Trait]) {
		case False:
			return False
		case Undecided:
			result = Undecided
		}
	}
	return result
}
