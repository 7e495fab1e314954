package questions

import (
	"fmt"
	"slices"
)

// Drawings is the wish for how many questions of a set show a drawing. Some is
// a quarter of them. Some and half are kept to as far as the roster has
// drawings; none and all are kept to without exception.
type Drawings string

const (
	AsTheyCome   Drawings = "" // as the templates' weights give
	NoDrawings   Drawings = "none"
	SomeDrawings Drawings = "some"
	HalfDrawings Drawings = "half"
	AllDrawings  Drawings = "all"
)

func (d Drawings) check() error {
	if slices.Contains([]Drawings{AsTheyCome, NoDrawings, SomeDrawings, HalfDrawings, AllDrawings}, d) {
		return nil
	}
	return fmt.Errorf("no wish for drawings %q: there are %s, %s, %s and %s", string(d), NoDrawings, SomeDrawings, HalfDrawings, AllDrawings)
}

// look is whether a question is asked in words alone or over a drawing.
type look int

const (
	either look = iota
	inWords
	overDrawing
)

// always is the look that every question must have.
func (d Drawings) always() look {
	switch d {
	case NoDrawings:
		return inWords
	case AllDrawings:
		return overDrawing
	}
	return either
}

// next lists the looks to try for the next question of a set, of whose asked
// questions so many have a drawing.
func (d Drawings) next(drawn, asked int) []look {
	every := map[Drawings]int{SomeDrawings: 4, HalfDrawings: 2}[d]
	switch {
	case every == 0:
		return []look{d.always()}
	case drawn*every <= asked:
		return []look{overDrawing, either}
	}
	return []look{inWords, either}
}

// suitsTemplate spares the making of what would not suit.
func (l look) suitsTemplate(t template) bool {
	return l == either || (l == overDrawing) == t.drawn
}

func (l look) suits(q Question) bool {
	return l == either || (l == overDrawing) == q.Drawn()
}

// Drawn tells whether the question shows a drawing, or has some as options.
func (q Question) Drawn() bool {
	return q.Plate != nil || slices.ContainsFunc(q.Options, func(o Option) bool { return o.Plate != nil })
}

// asIs is the wish for what takes a question's place: a set's share stays.
func (d Drawings) asIs(q Question) Drawings {
	switch {
	case d == AsTheyCome:
		return d
	case q.Drawn():
		return AllDrawings
	}
	return NoDrawings
}
