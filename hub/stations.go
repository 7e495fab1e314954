package hub

import (
	"fmt"

	"fieldsign/game"
)

// Station rounds: how they are planned, and who is shown what of them. A phone
// gets the questions of the station where its team is, as its own frame; what
// all phones are sent alike has no question in it before the round is marked.

// rotationView is a station round as all are shown it.
type rotationView struct {
	Turn   int            `json:"turn"` // rotations that have begun
	Of     int            `json:"of"`
	Places []placeView    `json:"places,omitempty"` // where the teams are or walk to; for the board
	Told   []specimenView `json:"told,omitempty"`   // once the round is marked
}

type placeView struct {
	Station int      `json:"station"`
	Teams   []string `json:"teams"` // the first few names
	More    int      `json:"more"`
}

// specimenView is a station with its keys.
type specimenView struct {
	Station   int         `json:"station"`
	Animal    string      `json:"animal"`
	Subject   string      `json:"subject"`
	Replica   bool        `json:"replica"`
	Plate     string      `json:"plate"`
	Alt       string      `json:"plateAlt"`
	Credit    string      `json:"credit"`
	Questions []askedView `json:"questions"`
}

type askedView struct {
	ID      string   `json:"id"`
	N       int      `json:"n"` // counted through all stations
	Prompt  string   `json:"prompt"`
	Options []string `json:"options"`
	Key     int      `json:"key"` // as it stands; -1: the question counts for nothing
	Reason  string   `json:"reason"`
	Picks   []int    `json:"picks"`
}

// stationView is what one team is told of its station. While teams walk it is
// where to go, without questions.
type stationView struct {
	Turn      int            `json:"turn"`
	Station   int            `json:"station"`
	Replica   bool           `json:"replica"`
	Plate     string         `json:"plate"`
	Alt       string         `json:"plateAlt"`
	Questions []questionView `json:"questions"`
	Options   []int          `json:"options"` // the answers to these; -1: none yet
	Sheet     []int          `json:"sheet"`   // all answers, once the round is marked
}

// rotation is the shared part of a station round, or nil outside one.
func (t *table) rotation() *rotationView {
	if !t.state.AtStations() {
		return nil
	}
	r, _, _ := t.state.Current()
	v := &rotationView{Turn: t.state.Turn, Of: len(r.Stations)}
	if t.state.Phase == game.Marked {
		v.Told = t.specimens()
	}
	return v
}

// shownNames is how many of the teams at a station the board names.
const shownNames = 4

// placed adds to a rotation where the teams are.
func (t *table) placed(v *rotationView) *rotationView {
	if v == nil {
		return nil
	}
	with := *v
	with.Places = t.places()
	return &with
}

func (t *table) places() []placeView {
	r, _, _ := t.state.Current()
	places := make([]placeView, len(r.Stations))
	for i := range places {
		places[i] = placeView{Station: i + 1, Teams: []string{}}
	}
	for i := range t.state.Teams {
		if t.state.Teams[i].Removed {
			continue
		}
		if at := &places[t.state.Place(i)]; len(at.Teams) < shownNames {
			at.Teams = append(at.Teams, t.state.Teams[i].Name)
		} else {
			at.More++
		}
	}
	return places
}

// specimens have the keys: they are for the host, and for all once the round
// is marked. Outside a station round there are none.
func (t *table) specimens() []specimenView {
	if !t.state.AtStations() {
		return nil
	}
	r, _, _ := t.state.Current()
	views := make([]specimenView, len(r.Stations))
	for i, st := range r.Stations {
		views[i] = specimenView{Station: i + 1, Animal: t.hub.planner.Called(t.state.Plan.Language)(st.Species), Subject: st.Subject, Replica: st.Replica}
		views[i].Plate, views[i].Alt, views[i].Credit = t.picture(specimen(r, i))
		from, to := r.At(i)
		for n := from; n < to; n++ {
			q := r.Questions[n]
			views[i].Questions = append(views[i].Questions, askedView{q.ID, n + 1, q.Prompt, q.Options, t.state.Keys[n], q.Reason, t.state.PicksOf(n)})
		}
	}
	return views
}

// specimen is a station's plate as if a question of its own showed it.
func specimen(r *game.Round, station int) game.Question {
	st := r.Stations[station]
	first, _ := r.At(station)
	return game.Question{ID: fmt.Sprint("station ", station+1, " ", r.Questions[first].ID), Subject: st.Subject, Plate: st.Plate}
}

// own is what one team alone is told.
func (t *table) own(team, rank int) you {
	y := forTeam(&t.state, team, rank)
	y.Station = t.stationOf(team)
	return y
}

// stationOf is what a team is told of its station.
func (t *table) stationOf(team int) *stationView {
	s := &t.state
	if !s.AtStations() {
		return nil
	}
	r, _, _ := s.Current()
	at := s.Place(team)
	v := &stationView{Turn: s.Turn, Station: at + 1, Questions: []questionView{}, Options: []int{}, Sheet: []int{}}
	switch s.Phase {
	case game.Visiting:
		v.Replica = r.Stations[at].Replica
		v.Plate, v.Alt, _ = t.picture(specimen(r, at))
		from, to := r.At(at)
		for n := from; n < to; n++ {
			q := r.Questions[n]
			v.Questions = append(v.Questions, questionView{ID: q.ID, N: n + 1, Subject: q.Subject, Prompt: q.Prompt, Options: q.Options, Plates: []plateView{}})
			v.Options = append(v.Options, s.Teams[team].Sheet[n].Option)
		}
	case game.Marked:
		for _, e := range s.Teams[team].Sheet {
			v.Sheet = append(v.Sheet, e.Option)
		}
	}
	return v
}

// ofStations are the plates of the station round under way.
func (t *table) ofStations() (list []game.Question) {
	if t.state.AtStations() {
		r, _, _ := t.state.Current()
		for i, st := range r.Stations {
			if !st.Replica {
				list = append(list, specimen(r, i))
			}
		}
	}
	return list
}
