package catalogue

import (
	"encoding/csv"
	"io"
)

// WriteCSV writes the catalogue as species,trait,value,unit,source,basis, one
// value a line (RFC 4180), computed traits included. Lore follows, with the
// entry's name for the species and its kind for the trait.
func (c *Catalogue) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write([]string{"species", "trait", "value", "unit", "source", "basis"}); err != nil {
		return err
	}
	for _, s := range c.Species {
		for _, t := range c.Traits {
			v, given := s.Values[t.ID]
			if !given && !s.Has(t.Subject) {
				continue
			}
			if err := out.Write([]string{s.Name, t.ID, v.String(), t.Unit, v.Source, basis(v)}); err != nil {
				return err
			}
		}
	}
	for _, l := range c.Lore {
		if err := out.Write([]string{l.Name, l.Kind, l.Meaning, "", l.Source, l.Basis.String()}); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// basis is what a value that says anything rests on; the others decide nothing.
func basis(v Value) string {
	if !v.Says() {
		return ""
	}
	return v.Basis.String()
}
