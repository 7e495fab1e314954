package paper

import (
	"errors"
	"fmt"

	"fieldsign/questions/catalogue"
)

// station is a card's part of the set: questions that follow on each other, of
// which one at most has a drawing. One whose options are drawings stands alone.
type station struct {
	number int
	asked  []asked
	art    *drawing
	artOf  int // the number of the question that has the drawing; 0: it is for all

	specimen string // of a station round: whose it is
}

// stations share out the set. A full station, or a second drawing, begins the next.
func (q Quiz) stations() ([]station, error) {
	if q.Stations != nil {
		return q.rotated()
	}
	versions, err := q.versions()
	if err != nil {
		return nil, err
	}
	var all []station
	for _, a := range versions[0].asked {
		last := len(all) - 1
		if last < 0 || !all[last].takes(a, q.PerStation) {
			all = append(all, station{number: len(all) + 1})
			last++
		}
		s := &all[last]
		s.asked = append(s.asked, a)
		if a.art != nil {
			s.art, s.artOf = a.art, a.number
		}
	}
	return all, nil
}

func (s station) takes(a asked, most int) bool {
	return len(s.asked) < most && !(s.art != nil && a.art != nil) && !s.ofDrawings() && a.drawn == nil
}

func (s station) ofDrawings() bool { return s.asked[0].drawn != nil }

// span is the numbers of a station's questions in words.
func (s station) span(v voice) string {
	first, last := s.asked[0].number, s.asked[len(s.asked)-1].number
	if first == last {
		return v.say("question %d", first)
	}
	return v.say("questions %d–%d", first, last)
}

// lies is what lies at a station, in words.
func (s station) lies(q Quiz) string {
	v := q.voice()
	switch {
	case s.specimen != "" && s.art != nil:
		return v.say("the drawing on the card: %s", s.specimen)
	case s.specimen != "":
		return v.say("your replica: %s", s.specimen)
	case s.art != nil:
		return v.say("the drawing on the card (question %d)", s.artOf)
	case s.ofDrawings():
		return v.say("the drawings on the card")
	}
	return v.say("replica: %s", s.replica(q))
}

// replica is what to lay out at a station without a drawing: whatever its
// questions are about, the first that is an animal.
func (s station) replica(q Quiz) string {
	for _, a := range s.asked {
		name := a.Options[a.Key].Species
		if a.About != nil {
			name = a.About.Is
		}
		if species, ok := q.Catalogue.Find(name); ok && a.Subject != "animal" {
			return q.voice().say("%s, %s (question %d)", species.Vernacular, q.voice().say(a.Subject), a.number)
		}
	}
	return q.voice().say("none needed")
}

const safety = "Only replicas, casts and drawings lie here; wash your hands after handling them. Leave real droppings, skulls " +
	"and carcasses alone: your local authority's rules say who may keep them."

// stationCards prints a card for each station, two to a page to be cut apart.
func (d *document) stationCards(q Quiz) error {
	all, err := q.stations()
	if err != nil {
		return err
	}
	half := d.size.Ht / 2
	for i, s := range all {
		if i%2 == 0 {
			d.page(true)
			d.line(.15, half, 4, half, d.size.Wd-4, 2, 2) // to cut along
		}
		body, err := d.stationCard(s, half-2*margin, d.size.Wd-2*margin-footHeight)
		if err != nil {
			return err
		}
		left := float64(i%2)*half + margin
		body.draw(left, margin)
		d.nameFoot(left, d.size.Wd-margin, half-2*margin, body.sized, d.say("set %s", q.named()), d.say("station %d of %d", s.number, len(all)))
	}
	return d.pdf.Error()
}

var errNoRoom = errors.New("no room")

// stationCard sets a card in the largest type that leaves room for what lies
// at the station.
func (d *document) stationCard(s station, w, h float64) (block, error) {
	for _, pt := range []float64{10, 9, 8, 7} {
		if b, err := d.cardIn(setting{pt, false}, s, w, h); err == nil {
			return b, nil
		}
	}
	return block{}, fmt.Errorf("station %d, %s, has more to read than a card holds: put fewer questions at a station", s.number, s.span(voice(catalogue.English)))
}

func (d *document) cardIn(t setting, s station, w, h float64) (block, error) {
	const gap = 3.
	var asks []block
	for _, a := range s.asked {
		asks = append(asks, d.question(a.alone(), t, w, h))
	}
	head := beside(w*.5, d.words(heading, w*.5, d.say("Station %d", s.number)), d.toTheRight(s.span(d.voice), w*.5))
	how := d.words(small, w, d.say("Answer on your own sheet: the number and the letter, or the name."))
	rest := stack(gap, asks...)
	warning := d.words(face{"I", 7}, w, d.say(safety))
	room := h - head.h - how.h - rest.h - warning.h - 4*gap
	var shown block
	switch {
	case s.ofDrawings() && room >= 0:
		shown = stack(0)
	case room < 30:
		return block{}, errNoRoom
	case s.art != nil:
		shown = d.picture(s.art, w, room, s.artFor(d.voice))
	default:
		shown = d.replicaSpace(w, min(room, 60))
	}
	return stack(gap, head, how, centred(shown, w, room), rest, warning), nil
}

// alone is the question without its drawing, which has its own place on a card.
func (a asked) alone() asked {
	a.art = nil
	return a
}

// artFor leads a drawing's note where it goes with one question.
func (s station) artFor(v voice) string {
	if s.artOf == 0 {
		return ""
	}
	return v.say("for question %d: ", s.artOf)
}

// centred fills a space with a block in its middle.
func centred(b block, w, h float64) block {
	return block{w: w, h: h, sized: b.sized, draw: func(x, y float64) { b.draw(x+(w-b.w)/2, y+(h-b.h)/2) }}
}

func (d *document) toTheRight(text string, w float64) block {
	return block{w: w, h: plain.lead(), draw: func(x, y float64) { d.text(plain, x+w, y+heading.pt*pointMM, 1, text) }}
}

func (d *document) replicaSpace(w, h float64) block {
	return block{w: w, h: h, draw: func(x, y float64) {
		d.outline(x, y, w, h, 2, 1.5)
		d.text(plain, x+w/2, y+h/2, .5, d.say("your replica here"))
	}}
}
