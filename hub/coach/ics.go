package coach

import (
	"fmt"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	meetings "fieldsign/game/season"
	"fieldsign/questions/catalogue"
)

// calendarOf is a season as iCalendar (RFC 5545): each meeting that is to come,
// on the clock of the place (a floating time), and the contest as a whole day.
func (c *Coach) calendarOf(id string, m made) *ics.Calendar {
	words, say := calendarWords[m.Wish.language()], c.Planner.Words(m.Wish.language())
	cal := ics.NewCalendarFor("Fieldsign")
	cal.SetXWRCalName(id)
	stamp := timeOf(m.today)
	for _, a := range m.Agendas {
		at := m.Wish.at(a.Day)
		begins, _ := time.Parse(time.DateOnly+" 15:04", dateOf(a.Day)+" "+at.Time) // check has seen to it
		e := cal.AddEvent(fmt.Sprintf("%s-%x@fieldsign", dateOf(a.Day), id))
		e.SetDtStampTime(stamp)
		e.SetProperty(ics.ComponentPropertyDtStart, floating(begins))
		e.SetProperty(ics.ComponentPropertyDtEnd, floating(begins.Add(time.Duration(a.Minutes)*time.Minute)))
		e.SetSummary(fmt.Sprintf(words.meeting, id))
		e.SetDescription(words.fresh + ": " + listed(a.New, say) + "\n" + words.again + ": " + listed(slices.Concat(a.Review, a.Extra), say))
	}
	e := cal.AddEvent(fmt.Sprintf("contest-%x@fieldsign", id))
	e.SetDtStampTime(stamp)
	e.SetAllDayStartAt(timeOf(m.wish.Contest))
	e.SetSummary(fmt.Sprintf(words.contest, id))
	return cal
}

func floating(t time.Time) string { return t.Format("20060102T150405") }

var calendarWords = map[catalogue.Language]struct{ meeting, contest, fresh, again string }{
	catalogue.English: {"Meeting: %s", "Contest: %s", "New", "Again"},
	catalogue.Spanish: {"Reunión: %s", "Concurso: %s", "Nuevo", "Repaso"},
}

// listed are items by their animals' names, or a dash.
func listed(items []meetings.Item, say *catalogue.Catalogue) string {
	if len(items) == 0 {
		return "–"
	}
	var out []string
	for _, i := range items {
		name := i.Animal
		if s, ok := say.Find(i.Animal); ok {
			name = s.Vernacular
		}
		out = append(out, fmt.Sprintf("%s (%s)", name, roundNames[say.Language][i.Subject]))
	}
	return strings.Join(out, ", ")
}
