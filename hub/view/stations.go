package view

import (
	"fmt"
	"slices"

	"fieldsign/game"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
	"fieldsign/questions"
)

// Station rounds: how they are planned, and who is shown what of them. A phone
// gets the questions of the station where its team is, as its own frame; what
// all phones are sent alike has no question in it before the round is marked.

// rotation is the shared part of a station round, or nil outside one.
func (g *Game) rotation() *wire.RotationView {
	if !g.state.AtStations() {
		return nil
	}
	r, _, _ := g.state.Current()
	v := &wire.RotationView{Turn: g.state.Turn, Of: len(r.Stations)}
	if g.state.Phase == game.Marked {
		v.Told = g.specimens()
	}
	return v
}

// shownNames is how many of the teams at a station the board names.
const shownNames = 4

// placed adds to a rotation where the teams are.
func (g *Game) placed(v *wire.RotationView) *wire.RotationView {
	if v == nil {
		return nil
	}
	with := *v
	with.Places = g.places()
	return &with
}

func (g *Game) places() []wire.PlaceView {
	r, _, _ := g.state.Current()
	places := make([]wire.PlaceView, len(r.Stations))
	for i := range places {
		places[i] = wire.PlaceView{Station: i + 1, Teams: []string{}}
	}
	for i := range g.state.Teams {
		if g.state.Teams[i].Removed {
			continue
		}
		if at := &places[g.state.Place(i)]; len(at.Teams) < shownNames {
			at.Teams = append(at.Teams, g.state.Teams[i].Name)
		} else {
			at.More++
		}
	}
	return places
}

// specimens have the keys: they are for the host, and for all once the round
// is marked. Outside a station round there are none.
func (g *Game) specimens() []wire.SpecimenView {
	if !g.state.AtStations() {
		return nil
	}
	r, _, _ := g.state.Current()
	views := make([]wire.SpecimenView, len(r.Stations))
	for i, st := range r.Stations {
		views[i] = wire.SpecimenView{Station: i + 1, Animal: g.planner.Called(g.state.Plan.Language)(st.Species), Subject: st.Subject, Replica: st.Replica, Parts: []string{}}
		views[i].Plate, views[i].Alt, views[i].Credit = g.picture(specimen(r, i))
		from, to := r.At(i)
		for n := from; n < to; n++ {
			q := r.Questions[n]
			for _, part := range g.deciding(n) {
				if !slices.Contains(views[i].Parts, part) {
					views[i].Parts = append(views[i].Parts, part)
				}
			}
			views[i].Questions = append(views[i].Questions, wire.AskedView{ID: q.ID, N: n + 1, Prompt: q.Prompt, Options: q.Options, Key: g.state.Keys[n], Reason: q.Reason, Picks: g.state.PicksOf(n)})
		}
	}
	return views
}

// deciding are the parts of a marked question's drawing that the planned key is told by,
// unless that is only recalled or is a colour, which a mark would cover.
func (g *Game) deciding(n int) []string {
	r, _, _ := g.state.Current()
	asked := r.Questions[n]
	q, ok := plan.QuestionOf(asked)
	if !ok || g.state.Phase != game.Marked || g.state.Keys[n] != asked.Key {
		return nil
	}
	found, ok := questions.Teach(g.planner.Words(g.language()), q, -1)
	if !ok || found.Recalled || found.Lines {
		return nil
	}
	return found.Parts
}

// specimen is a station's plate as if a question of its own showed it.
func specimen(r *game.Round, station int) game.Question {
	st := r.Stations[station]
	first, _ := r.At(station)
	return game.Question{ID: fmt.Sprint("station ", station+1, " ", r.Questions[first].ID), Subject: st.Subject, Plate: st.Plate}
}

// stationOf is what a team is told of its station.
func (g *Game) stationOf(team int) *wire.StationView {
	s := g.state
	if !s.AtStations() {
		return nil
	}
	r, _, _ := s.Current()
	at := s.Place(team)
	v := &wire.StationView{Turn: s.Turn, Station: at + 1, Questions: []wire.QuestionView{}, Options: []int{}, Sheet: []int{}}
	switch s.Phase {
	case game.Visiting:
		v.Replica = r.Stations[at].Replica
		v.Plate, v.Alt, _ = g.picture(specimen(r, at))
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
func (g *Game) ofStations() (list []game.Question) {
	if g.state.AtStations() {
		r, _, _ := g.state.Current()
		for i, st := range r.Stations {
			if !st.Replica {
				list = append(list, specimen(r, i))
			}
		}
	}
	return list
}
