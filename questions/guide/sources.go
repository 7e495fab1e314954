package guide

import (
	"slices"
	"strconv"
	"strings"

	"fieldsign/questions/catalogue"
)

// Source is one that the guide rests on, by its number in it.
type Source struct {
	Number int
	catalogue.Source
}

// Rests is what something rests on.
type Rests struct {
	Cites []int // numbers of sources
	Basis catalogue.Basis
	said  bool
}

// The signs of what rests on no source that was read.
const (
	Recalled = "†"
	Practice = "‡"
)

// Note is the sign that stands after a value.
func (r Rests) Note() string {
	switch {
	case !r.said:
		return ""
	case r.Basis == catalogue.Memory:
		return Recalled
	case len(r.Cites) == 0:
		return Practice
	}
	var out []string
	for _, n := range r.Cites {
		out = append(out, strconv.Itoa(n))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// rests is what values rest on together: the weakest of them decides.
func (w *writer) rests(values ...catalogue.Value) Rests {
	out := Rests{Basis: catalogue.Published}
	for _, v := range values {
		if !v.Says() {
			continue
		}
		r := w.restsOn(v.Source, v.Basis)
		out.said, out.Basis = true, min(out.Basis, r.Basis)
		for _, n := range r.Cites {
			if !slices.Contains(out.Cites, n) {
				out.Cites = append(out.Cites, n)
			}
		}
	}
	return out
}

// restsOn numbers the sources of a list in the order in which they are first named.
func (w *writer) restsOn(ids string, basis catalogue.Basis) Rests {
	out := Rests{Basis: basis, said: true}
	for id := range strings.SplitSeq(ids, ";") {
		at := slices.IndexFunc(w.Catalogue.Sources, func(s catalogue.Source) bool { return s.ID == strings.TrimSpace(id) })
		if at < 0 || !basis.Read() {
			continue
		}
		n := slices.IndexFunc(w.Sources, func(s Source) bool { return s.ID == w.Catalogue.Sources[at].ID })
		if n < 0 {
			n = len(w.Sources)
			w.Sources = append(w.Sources, Source{n + 1, w.Catalogue.Sources[at]})
		}
		out.Cites = append(out.Cites, n+1)
	}
	return out
}
