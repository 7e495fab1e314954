package hub

import (
	"fmt"

	"fieldsign/game"
	"fieldsign/hub/wire"
)

// Station rounds: how they are planned, and who is shown what of them. A phone
// gets the questions of the station where its team is, as its own frame; what
// all phones are sent alike has no question in it before the round is marked.

// rotation is the shared part of a station round, or nil outside one.
func (t *table) rotation() *wire.RotationView {
	if !t.state.AtStations() {
		return nil
	}
	r, _, _ := t.state.Current()
	v := &wire.RotationView{Turn: t.state.Turn, Of: len(r.Stations)}
	if t.state.Phase == game.Marked {
		v.Told = t.specimens()
	}
	return v
}

// shownNames is how many of the teams at a station the board names.
const shownNames = 4

// placed adds to a rotation where the teams are.
func (t *table) placed(v *wire.RotationView) *wire.RotationView {
	if v == nil {
		return nil
	}
	with := *v
	with.Places = t.places()
	return &with
}

func (t *table) places() []wire.PlaceView {
	r, _, _ := t.state.Current()
	places := make([]wire.PlaceView, len(r.Stations))
	for i := range places {
		places[i] = wire.PlaceView{Station: i + 1, Teams: []string{}}
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
func (t *table) specimens() []wire.SpecimenView {
	if !t.state.AtStations() {
		return nil
	}
	r, _, _ := t.state.Current()
	views := make([]wire.SpecimenView, len(r.Stations))
	for i, st := range r.Stations {
		views[i] = wire.SpecimenView{Station: i + 1, Animal: t.hub.planner.Called(t.state.Plan.Language)(st.Species), Subject: st.Subject, Replica: st.Replica}
		views[i].Plate, views[i].Alt, views[i].Credit = t.picture(specimen(r, i))
		from, to := r.At(i)
		for n := from; n < to; n++ {
			q := r.Questions[n]
			views[i].Questions = append(views[i].Questions, wire.AskedView{ID: q.ID, N: n + 1, Prompt: q.Prompt, Options: q.Options, Key: t.state.Keys[n], Reason: q.Reason, Picks: t.state.PicksOf(n)})
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
func (t *table) own(team, rank int) wire.You {
	y := forTeam(&t.state, team, rank)
	y.Station = t.stationOf(team)
	return y
}

// stationOf is what a team is told of its station.
func (t *table) stationOf(team int) *wire.StationView {
	s := &t.state
	if !s.AtStations() {
		return nil
	}
	r, _, _ := s.Current()
	at := s.Place(team)
	v := &wire.StationView{Turn: s.Turn, Station: at + 1, Questions: []wire.QuestionView{}, Options: []int{}, Sheet: []int{}}
	switch s.Phase {
	case game.Visiting:
		v.Replica = r.Stations[at].Replica
		v.Plate, v.Alt, _ = t.picture(specimen(r, at))
		from, to := r.At(at)
		for n := from; n < to; n++ {
			q := r.Questions[n]
			v.Questions = append(v.Questions, wire.QuestionView{ID: q.ID, N: n + 1, Subject: q.Subject, Prompt: q.Prompt, Options: q.Options, Plates: []wire.PlateView{}})
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
