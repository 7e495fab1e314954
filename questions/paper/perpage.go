package paper

import (
	"fmt"
	"slices"
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// shares are how many plates a page may be shared by. None means as many as
// fit at life size.
var shares = []int{0, 1, 2, 4, 6}

// WrongPerPage says what is wrong with how many are to share a page; nothing if
// it can be done.
func WrongPerPage(n int) error {
	if slices.Contains(shares, n) {
		return nil
	}
	return fmt.Errorf("1, 2, 4 or 6 plates share a page, or 0 for as many as fit at life size, not %d", n)
}

// across and down are the places of a page that so many plates share.
func across(n int) int { return 1 + min(1, n/4) }
func down(n int) int   { return n / across(n) }

// placeIn is the room that each of them has of a page's.
func placeIn(room fpdf.SizeType, n int) fpdf.SizeType {
	return fpdf.SizeType{
		Wd: (room.Wd - float64(across(n)-1)*gap) / float64(across(n)),
		Ht: (room.Ht - float64(down(n)-1)*gap) / float64(down(n)),
	}
}

// mostReduced is the smallest scale, 1:6, to which a plate is drawn so that it
// shares a page.
const mostReduced = 6.

// reducible are the plates that may be drawn smaller than life to share a page.
// A print or a scat stays as large as it is found.
func reducible(it Item) bool {
	return !strings.HasSuffix(it.Kind, "print") && it.Kind != "scat"
}

// shared is a plate at the largest scale that fits its place on a page, if one does.
func (d *document) shared(it Item, art *drawing, quiz bool, perPage int) (c cell, fit bool) {
	if perPage == 0 {
		return c, false
	}
	place := placeIn(d.room(false), perPage)
	for den := 1.; den <= mostReduced; den++ {
		if c = d.newCell(it, art, den, quiz); fits(c.w, c.h, place) {
			return c, true
		}
		if !reducible(it) {
			break
		}
	}
	return c, false
}

// share puts a plate into the next place of an open page, or begins one.
func share(all, open []*sheet, c cell, perPage int, room fpdf.SizeType) []*sheet {
	at := slices.IndexFunc(open, func(s *sheet) bool { return len(s.cells) < s.shared })
	if at < 0 {
		all = append(all, &sheet{shared: perPage, room: room})
		open, at = all, len(all)-1
	}
	s, place := open[at], placeIn(room, perPage)
	n := len(s.cells)
	c.x = float64(n%across(perPage))*(place.Wd+gap) + (place.Wd-c.w)/2
	c.y = float64(n/across(perPage))*(place.Ht+gap) + (place.Ht-c.h)/2
	s.cells = append(s.cells, c)
	return all
}
