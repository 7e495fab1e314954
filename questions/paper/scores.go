package paper

import (
	"strconv"
)

const (
	teamWidth   = 52.
	totalWidth  = 20.
	columnLeast = 11. // wide enough to write two digits by hand
	rowHeight   = 10.
	headHeight  = 26.
)

// scoreSheet prints a grid of teams by stations, with totals; what is too wide
// or too long for a page goes on on the next, and the sums are carried.
func (d *document) scoreSheet(q Quiz) error {
	all, err := q.stations()
	if err != nil {
		return err
	}
	w, h := d.size.Ht-2*margin, d.size.Wd-2*margin-footHeight
	across := int((w - teamWidth - 2*totalWidth) / columnLeast)
	down := int((h - headHeight) / rowHeight)
	pages := (len(all) + across - 1) / across * ((q.Teams + down - 1) / down)
	page := 0
	for team := 0; team < q.Teams; team += down {
		for first := 0; first < len(all); first += across {
			page++
			d.page(true)
			s := scores{document: d, carried: first > 0, last: first+across >= len(all), stations: all[first:min(first+across, len(all))],
				first: team, teams: min(down, q.Teams-team)}
			s.print(q.Title)
			d.nameFoot(margin, d.size.Wd-margin, w, false, d.say("set %s", q.named()), d.say("score sheet, page %d of %d", page, pages))
		}
	}
	return d.pdf.Error()
}

// scores is a page of the score sheet.
type scores struct {
	*document
	carried, last bool // sums come from a page before; this is the last across
	stations      []station
	first, teams  int
}

// head is a column of the grid: its heading and the most points it can hold.
type head struct {
	title, most string
	w           float64
}

func (s scores) heads() []head {
	heads := []head{{s.say("Team"), "", teamWidth}}
	if s.carried {
		heads = append(heads, head{s.say("carried"), "", totalWidth})
	}
	for _, st := range s.stations {
		heads = append(heads, head{strconv.Itoa(st.number), s.say("of %d", len(st.asked)), columnLeast})
	}
	if s.last {
		return append(heads, head{s.say("Total"), "", totalWidth})
	}
	return append(heads, head{s.say("to carry"), "", totalWidth})
}

func (s scores) print(title string) {
	s.text(face{"B", 16}, margin, margin+6, 0, s.say("Score sheet: %s", title))
	s.text(small, margin, margin+12, 0, s.say("A column for each station; below its number, how many questions it has. One point for each right answer."))
	top, bottom := margin+headHeight-rowHeight, margin+headHeight+float64(s.teams)*rowHeight
	x := margin
	for _, h := range s.heads() {
		s.line(.25, x, top, x, bottom)
		s.text(bold, x+h.w/2, top+4.2, .5, h.title)
		s.text(small, x+h.w/2, top+8.4, .5, h.most)
		x += h.w
	}
	s.line(.25, x, top, x, bottom)
	s.line(.25, margin, top, x, top)
	for i := range s.teams + 1 {
		y := margin + headHeight + float64(i)*rowHeight
		s.line(.25, margin, y, x, y)
		if i < s.teams {
			s.text(small, margin+1.5, y+rowHeight-2, 0, strconv.Itoa(s.first+i+1))
		}
	}
}
