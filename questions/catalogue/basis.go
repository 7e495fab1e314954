package catalogue

import "fmt"

// Basis is the kind of what a value rests on, the weakest first: a larger one
// is the better.
type Basis int8

const (
	Memory    Basis = iota // recalled, or nobody says from where
	Practice               // taught throughout the trade, with no page found
	Absence                // a source names who has it, and is silent on this one
	Group                  // said of the order, family or genus
	Secondary              // a page or table that relays another source
	Published              // author, year, title, where in it
)

var bases = [...]string{"memory", "common practice", "absence", "group", "secondary", "published"}

func (b Basis) String() string { return bases[b] }

// Read reports whether a source was opened for it.
func (b Basis) Read() bool { return b > Practice }

// MarshalText writes the kind's name.
func (b Basis) MarshalText() ([]byte, error) { return []byte(bases[b]), nil }

// UnmarshalText reads the kind's name.
func (b *Basis) UnmarshalText(text []byte) error {
	for i, name := range bases {
		if name == string(text) {
			*b = Basis(i)
			return nil
		}
	}
	return fmt.Errorf("what a value rests on is one of %q, not %q", bases, text)
}

// basisOf is the kind of a source of the sources sheet.
func basisOf(kind string) Basis {
	b := Memory
	_ = b.UnmarshalText([]byte(kind)) // sources.csv was checked
	return b
}
