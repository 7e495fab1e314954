package coach

import (
	"context"
	"net/http"
	"slices"
	"time"

	ics "github.com/arran4/golang-ical"

	meetings "fieldsign/game/season"
	"fieldsign/hub/gate"
	"fieldsign/hub/season"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
)

// Routes are the plan of a season, its calendar, and its meetings' games and papers.
func (c *Coach) Routes() []gate.Route {
	return []gate.Route{
		{Method: "GET", Path: "/season-plan.json", Serve: c.getPlan},
		{Method: "POST", Path: "/season-plan", Serve: c.postPlan},
		{Method: "POST", Path: "/season-plan/game", Serve: c.postGame},
		{Method: "GET", Path: "/season-plan.ics", Serve: c.getCalendar},
		{Method: "GET", Path: "/season-plan/paper", Serve: c.getPaper},
	}
}

// view is what GET /season-plan.json answers. Without a plan there is no wish.
type view struct {
	Season  string   `json:"season"`
	Seasons []string `json:"seasons"`
	Wish    *Wish    `json:"wish"`
	Trouble string   `json:"trouble,omitempty"` // why the wish gives no plan any more

	Plan *planView `json:"plan"`
}

type planView struct {
	Meetings []meetingView     `json:"meetings"`
	Left     []meetings.Item   `json:"left"`    // what no meeting has time to show
	Lacking  int               `json:"lacking"` // seconds that it would take
	More     int               `json:"more"`    // meetings of the usual length that it would take
	Known    meetings.Forecast `json:"known"`
	Names    map[string]string `json:"names"`  // of the animals, in English
	Topics   int               `json:"topics"` // items in all
}

// What has become of a meeting.
const (
	held   = "held"
	missed = "missed"
	next   = "next"
	later  = "later"
)

type meetingView struct {
	Date    string           `json:"date"`
	Time    string           `json:"time"`
	Minutes int              `json:"minutes"`
	State   string           `json:"state"`
	Game    string           `json:"game,omitempty"` // that was opened for it
	Right   int              `json:"right"`          // of the answers, where it was held
	Of      int              `json:"of"`
	Agenda  *meetings.Agenda `json:"agenda,omitempty"` // where it is to come
}

// todayOf is the date on the clock of who asks, or the hub's.
func todayOf(r *http.Request) meetings.Day {
	if day, err := dayOf(r.URL.Query().Get("today")); err == nil {
		return day
	}
	day, _ := dayOf(time.Now().Format(time.DateOnly))
	return day
}

func (c *Coach) getPlan(w http.ResponseWriter, r *http.Request) {
	seasons, err := c.Store.Seasons(r.Context())
	if err != nil {
		wire.Fail(w, c.Log, err)
		return
	}
	v := view{Season: r.URL.Query().Get("season"), Seasons: []string{}}
	for _, s := range seasons {
		v.Seasons = append(v.Seasons, s.ID)
		if s.Plan != "" && r.URL.Query().Get("season") == "" { // without a wish it is the last by name
			v.Season = s.ID
		}
	}
	k, found, err := c.planOf(r.Context(), v.Season)
	if err != nil {
		wire.Fail(w, c.Log, err)
		return
	}
	if found {
		v.Wish = &k.Wish
		m, err := c.make(r.Context(), v.Season, k, todayOf(r))
		if err != nil {
			v.Trouble = err.Error()
		} else {
			v.Plan = m.view()
			v.Plan.Names = c.names(m.wish.Topics)
		}
	}
	wire.Answer(w, http.StatusOK, v)
}

// postPlan keeps a wish that gives a plan.
func (c *Coach) postPlan(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Season string `json:"season"`
		Wish   Wish   `json:"wish"`
	}
	err := wire.ReadJSON(w, r, &asked)
	if err == nil {
		asked.Season, err = season.Name(asked.Season)
	}
	if err == nil {
		_, err = c.make(r.Context(), asked.Season, kept{Wish: asked.Wish}, todayOf(r))
	}
	if err == nil {
		err = c.keep(r.Context(), asked.Season, func(k *kept) { k.Wish = asked.Wish })
	}
	if err != nil {
		wire.Fail(w, c.Log, err)
		return
	}
	wire.Answer(w, http.StatusOK, map[string]string{"season": asked.Season})
}

func (c *Coach) postGame(w http.ResponseWriter, r *http.Request) {
	var asked struct{ Season, Date string }
	if !wire.ReadBody(w, r, &asked) {
		return
	}
	code, err := c.open(context.WithoutCancel(r.Context()), asked.Season, asked.Date, todayOf(r))
	if err != nil {
		wire.Fail(w, c.Log, err)
		return
	}
	wire.Answer(w, http.StatusCreated, wire.GameName{Code: code})
}

func (c *Coach) getCalendar(w http.ResponseWriter, r *http.Request) {
	id := r.URL.Query().Get("season")
	k, found, err := c.planOf(r.Context(), id)
	if err == nil && !found {
		err = store.ErrUnknownSeason
	}
	var m made
	if err == nil {
		m, err = c.make(r.Context(), id, k, todayOf(r))
	}
	if err != nil {
		wire.Fail(w, c.Log, err)
		return
	}
	wire.Download(w, "text/calendar; charset=utf-8", "season.ics")
	w.Header().Set("Cache-Control", "no-store")
	if err := c.calendarOf(id, m).SerializeTo(w, ics.WithNewLineWindows); err != nil {
		c.Log.Info("a calendar was not sent to its end", "error", err)
	}
}

// view is the season meeting by meeting.
func (m made) view() *planView {
	v := &planView{Meetings: []meetingView{}, Left: m.Left, Lacking: m.Lacking, Known: m.Known, Topics: len(m.wish.Topics)}
	agendas := m.Agendas
	for _, at := range m.wish.Meetings {
		one := meetingView{Date: dateOf(at.Day), Time: m.Wish.at(at.Day).Time, Minutes: at.Minutes, State: missed, Game: m.games[at.Day]}
		switch {
		case m.isHeld(at.Day):
			one.State = held
			one.Right, one.Of = m.shown(at.Day)
		case len(agendas) > 0 && agendas[0].Day == at.Day:
			one.State, one.Agenda = later, &agendas[0]
			if len(agendas) == len(m.Agendas) {
				one.State = next
			}
			agendas = agendas[1:]
		}
		v.Meetings = append(v.Meetings, one)
	}
	if usual := 60 * m.wish.Meetings[0].Minutes; m.Lacking > 0 {
		v.More = (m.Lacking + usual - 1) / usual
	}
	return v
}

// names are the English ones, which the pages put into their reader's language.
func (c *Coach) names(topics []meetings.Topic) map[string]string {
	out := map[string]string{}
	for _, t := range topics {
		if s, ok := c.Planner.Catalogue.Find(t.Animal); ok {
			out[t.Animal] = s.Vernacular
		}
	}
	return out
}

func (m made) isHeld(day meetings.Day) bool {
	return slices.ContainsFunc(m.held, func(h meetings.Held) bool { return h.Day == day })
}

// shown is what a meeting's games found.
func (m made) shown(day meetings.Day) (right, of int) {
	for _, h := range m.held {
		for _, a := range h.Answers {
			if h.Day == day {
				right, of = right+a.Right, of+a.Of
			}
		}
	}
	return right, of
}
