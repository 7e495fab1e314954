package catalogue

import (
	"errors"
	"fmt"
	"strings"
)

// Fault is one thing wrong in a sheet. Row 1 is the header.
type Fault struct {
	File    string
	Row     int
	Column  string
	Read    string
	Allowed string
}

func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Row > 0 {
		fmt.Fprintf(&b, ", row %d", f.Row)
	}
	if f.Column != "" {
		fmt.Fprintf(&b, ", column %s", f.Column)
	}
	if f.Read != "" {
		fmt.Fprintf(&b, ": read %q", shorten(f.Read))
	}
	return b.String() + ": allowed: " + f.Allowed
}

func shorten(s string) string {
	const longest = 60
	if r := []rune(s); len(r) > longest {
		return string(r[:longest]) + "…"
	}
	return s
}

// faults gathers what is wrong over all sheets.
type faults []error

func (f *faults) add(x Fault) { *f = append(*f, x) }

// err is nil without faults; with any, one error that lists them all.
func (f faults) err() error {
	const shown = 200
	if len(f) == 0 {
		return nil
	}
	list := f
	if len(f) > shown {
		list = append(f[:shown:shown], fmt.Errorf("and %d faults more", len(f)-shown))
	}
	return fmt.Errorf("the catalogue has %d faults:\n%w", len(f), errors.Join(list...))
}
