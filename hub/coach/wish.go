package coach

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"fieldsign/game"
	meetings "fieldsign/game/season"
	"fieldsign/hub/plan"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/refusal"
)

// Wish is what the coach enters. Dates are YYYY-MM-DD.
type Wish struct {
	Contest  string   `json:"contest"`
	From     string   `json:"from"` // the first day that may have a meeting
	Week     []Weekly `json:"week"`
	Off      []string `json:"off"` // a date, or two with a slash between them (ISO 8601)
	Roster   string   `json:"roster"`
	Subjects []string `json:"subjects"`
	Double   []string `json:"double"` // animals that count twice, by any of their names
	New      int      `json:"new"`    // seconds to show an item
	Review   int      `json:"review"` // seconds to ask about it again
	Language string   `json:"language"`
}

// Weekly is a meeting of each week.
type Weekly struct {
	Weekday int    `json:"weekday"` // 0 is Sunday
	Time    string `json:"time"`    // HH:MM on the clock of the place
	Minutes int    `json:"minutes"`
}

const (
	mostDays    = 400 // of a season
	mostMinutes = 300
)

// language is the one in which questions are asked; check has seen to it.
func (w Wish) language() catalogue.Language {
	l, _ := catalogue.ParseLanguage(w.Language)
	return l
}

func bad(format string, a ...any) error {
	return refusal.New(refusal.BadPlan, fmt.Sprintf(format, a...))
}

// dayOf is a date as a number of days.
func dayOf(date string) (meetings.Day, error) {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return 0, bad("%s is no date: write it as 2027-04-10.", refusal.Quote(date))
	}
	return meetings.Day(t.Unix() / (24 * 60 * 60)), nil
}

func timeOf(d meetings.Day) time.Time { return time.Unix(int64(d)*24*60*60, 0).UTC() }

func dateOf(d meetings.Day) string { return timeOf(d).Format(time.DateOnly) }

// check refuses a wish with what is wrong in it; the rest is that of game/season.
func (w Wish) check() error {
	if _, err := catalogue.ParseLanguage(w.Language); err != nil {
		return bad("%v", err)
	}
	if len(w.Week) == 0 || len(w.Week) > 7 {
		return bad("The club meets on 1 to 7 days of a week, not %d.", len(w.Week))
	}
	seen := map[int]bool{}
	for _, m := range w.Week {
		if _, err := time.Parse("15:04", m.Time); err != nil {
			return bad("%s is no time of day: write it as 16:00.", refusal.Quote(m.Time))
		}
		if m.Weekday < 0 || m.Weekday > 6 || seen[m.Weekday] || m.Minutes < 1 || m.Minutes > mostMinutes {
			return bad("A day of the week stands once, and its meeting has 1 to %d minutes.", mostMinutes)
		}
		seen[m.Weekday] = true
	}
	for _, s := range w.Subjects {
		if !slices.Contains(catalogue.Subjects[1:], s) {
			return bad("No subject %s: there are %s.", refusal.Quote(s), strings.Join(catalogue.Subjects[1:], ", "))
		}
	}
	if w.New < 10 || w.New > 3600 || w.Review < 10 || w.Review > 3600 {
		return bad("Showing an item, and asking about it again, take 10 to 3600 seconds each.")
	}
	return nil
}

// calendar has the meetings, and no topics yet.
func (w Wish) calendar() (out meetings.Wish, err error) {
	out.Pace = meetings.Pace{New: w.New, Review: w.Review}
	if err := w.check(); err != nil {
		return out, err
	}
	if out.Contest, err = dayOf(w.Contest); err != nil {
		return out, err
	}
	from, err := dayOf(w.From)
	if err != nil {
		return out, err
	}
	if from >= out.Contest || out.Contest-from > mostDays {
		return out, bad("The contest is 1 to %d days after the first day.", mostDays)
	}
	off, err := w.off()
	if err != nil {
		return out, err
	}
	for day := from; day < out.Contest; day++ {
		at := slices.IndexFunc(w.Week, func(m Weekly) bool { return m.Weekday == int(timeOf(day).Weekday()) })
		if at >= 0 && !slices.ContainsFunc(off, func(o [2]meetings.Day) bool { return o[0] <= day && day <= o[1] }) {
			out.Meetings = append(out.Meetings, meetings.Meeting{Day: day, Minutes: w.Week[at].Minutes})
		}
	}
	return out, nil
}

// off are the holidays, from the first to the last day of each.
func (w Wish) off() (out [][2]meetings.Day, err error) {
	for _, o := range w.Off {
		first, last, _ := strings.Cut(o, "/")
		from, err := dayOf(strings.TrimSpace(first))
		if err != nil {
			return nil, err
		}
		to, err := dayOf(strings.TrimSpace(cmp.Or(last, first)))
		if err != nil {
			return nil, err
		}
		out = append(out, [2]meetings.Day{from, to})
	}
	return out, nil
}

// at is the weekly meeting that a day has.
func (w Wish) at(day meetings.Day) Weekly {
	for _, m := range w.Week {
		if m.Weekday == int(timeOf(day).Weekday()) {
			return m
		}
	}
	return Weekly{}
}

// What each question of a meeting's game is like, as in a new game.
const (
	questionSeconds = 30
	questionPoints  = 100
)

// game is a meeting's game: a round for each subject, with a question on each
// item, and comparisons of look-alikes that were met before.
func (w Wish) game(season string, a meetings.Agenda) plan.Wish {
	out := plan.Wish{Title: titles[w.language()](dateOf(a.Day)), Roster: w.Roster, Season: season, Language: string(w.language())}
	for _, subject := range w.Subjects {
		r := plan.RoundWish{Name: roundNames[w.language()][subject], Kind: game.Open, Subjects: []string{subject}, Seconds: questionSeconds, Points: questionPoints, Drawings: questions.HalfDrawings}
		for _, i := range slices.Concat(a.New, a.Review, a.Extra) {
			if i.Subject == subject {
				r.Animals = append(r.Animals, i.Animal)
			}
		}
		for _, p := range a.Pairs {
			if p.Subject == subject {
				r.Pairs = append(r.Pairs, game.Pair{A: p.A, B: p.B})
			}
		}
		if r.Count = questions.WithTerms(len(r.Animals)); len(r.Pairs) > 0 {
			r.Count += questions.Comparisons(r.Count)
		}
		if r.Count > 0 {
			out.Rounds = append(out.Rounds, r)
		}
	}
	return out
}

// titles and roundNames are in the languages in which games are asked.
var titles = map[catalogue.Language]func(date string) string{
	catalogue.English: func(date string) string { return "Meeting of " + date },
	catalogue.Spanish: func(date string) string { return "Reunión del " + date },
}

var roundNames = map[catalogue.Language]map[string]string{
	catalogue.English: {"skull": "Skulls", "track": "Tracks", "scat": "Scat", "sign": "Signs"},
	catalogue.Spanish: {"skull": "Cráneos", "track": "Huellas", "scat": "Excretas", "sign": "Señales"},
}
