package paper

import (
	"fmt"
	"strconv"

	"fieldsign/questions"
)

// The paper twin of a station round: cards with a station's specimen and
// questions, a sheet for each team with its way through the stations, the
// grid of scores and the key.

// Rotating is the quiz with a station round in place of its set.
func (q Quiz) Rotating(stations []questions.Station) Quiz {
	q.Stations, q.Set, q.Papers, q.PerStation = stations, nil, 1, 0
	for _, st := range stations {
		q.PerStation = max(q.PerStation, len(st.Questions))
		q.Set = append(q.Set, st.Questions...)
	}
	return q
}

// rotated are the stations of a station round, whose plates are the stations' own.
func (q Quiz) rotated() ([]station, error) {
	versions, err := q.versions()
	if err != nil {
		return nil, err
	}
	var all []station
	left := versions[0].asked
	for i, st := range q.Stations {
		s := station{number: i + 1, asked: left[:len(st.Questions)], specimen: q.specimen(st)}
		left = left[len(st.Questions):]
		if st.Plate != nil {
			if s.art, err = q.draw(*st.Plate); err != nil {
				return nil, fmt.Errorf("station %d: %w", i+1, err)
			}
		}
		all = append(all, s)
	}
	return all, nil
}

func (q Quiz) specimen(st questions.Station) string {
	name := st.Species
	if s, ok := q.Catalogue.Find(name); ok {
		name = s.Vernacular
	}
	return name + ", " + q.voice().say(st.Subject)
}

// first is the number of a station's first question.
func (q Quiz) first(station int) int {
	n := 1
	for _, st := range q.Stations[:station] {
		n += len(st.Questions)
	}
	return n
}

const (
	turnHeight  = 8.5
	answerWidth = 13. // wide enough to write a letter by hand
)

// teamSheets prints a sheet for each team. Start stations are given as in a
// live game: to the teams in turn.
func (d *document) teamSheets(q Quiz) error {
	if q.Stations == nil {
		return nil
	}
	w, _ := d.column()
	for team := range q.Teams {
		d.page(false)
		body := stack(5, d.teamHead(q, team, w), d.turns(q, team, w))
		body.draw(side, margin)
		d.nameFoot(side, d.size.Ht-margin, w, false, d.say("set %s", q.named()), d.say("team sheet %d of %d", team+1, q.Teams))
	}
	return d.pdf.Error()
}

func (d *document) teamHead(q Quiz, team int, w float64) block {
	start := team % len(q.Stations)
	return stack(3, d.words(face{"B", 18}, w, d.say("Team %d: %s", team+1, q.Title)),
		beside(w*.65, d.toFill(d.say("Team"), w*.6), d.toFill(d.say("Date"), w*.35)),
		d.words(face{"B", 13}, w, d.say("Start at station %d.", start+1)),
		d.words(plain, w, d.say(how, len(q.Stations), q.Seconds, q.Walk)))
}

const how = "At each signal stop writing and go to the station of the next line. Write the letter of your answer beside the number of its question. " +
	"Until the signal you may change an answer; afterwards it is locked. A round has %d rotations of %d s, with %d s to walk."

// turns are the lines of a sheet, in the order of the team's rotations.
func (d *document) turns(q Quiz, team int, w float64) block {
	const turn, at = 22., 34. // columns
	n := len(q.Stations)
	return block{w: w, h: float64(n+1) * turnHeight, draw: func(x, y float64) {
		d.text(bold, x, y+turnHeight-2.5, 0, d.say("Rotation"))
		d.text(bold, x+turn, y+turnHeight-2.5, 0, d.say("Station"))
		d.text(bold, x+turn+at, y+turnHeight-2.5, 0, d.say("Answers"))
		for i := range n {
			station := (team + i) % n
			top := y + float64(i+1)*turnHeight
			d.line(.2, x, top, x+w, top)
			d.text(plain, x, top+turnHeight-2.5, 0, strconv.Itoa(i+1))
			d.text(face{"B", 12}, x+turn, top+turnHeight-2.5, 0, strconv.Itoa(station+1))
			first := q.first(station)
			for k := range q.Stations[station].Questions {
				left := x + turn + at + float64(k)*(answerWidth+11)
				d.text(plain, left+6, top+turnHeight-2.5, 1, strconv.Itoa(first+k))
				d.outline(left+7.5, top+1, answerWidth, turnHeight-2)
			}
		}
		d.line(.2, x, y+float64(n+1)*turnHeight, x+w, y+float64(n+1)*turnHeight)
	}}
}
