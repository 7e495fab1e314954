package hub

import (
	"fmt"

	"fieldsign/game"
	"fieldsign/questions"
)

// Station rounds: how they are planned, and who is shown what of them. A phone
// gets the questions of the station where its team is, as its own frame; what
// all phones are sent alike has no question in it before the round is marked.

// stationWish is what a station round needs besides. The round's Count is for
// each station, its Seconds for a rotation.
type stationWish struct {
	Stations int           `json:"stations"`
	Walk     int           `json:"walk"` // seconds
	Replicas []replicaWish `json:"replicas"`
}

// replicaWish is the teacher's own specimen at a station, counted from 1.
type replicaWish struct {
	Station int    `json:"station"`
	Animal  string `json:"animal"` // any of its names
	Subject string `json:"subject"`
}

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

// stationRound computes a round's stations, by the path that paper takes too.
func (p *planner) stationRound(bank *questions.Bank, plan game.Plan, seed uint64, l lessons, r roundWish) (game.Round, error) {
	out := game.Round{Name: r.Name, Kind: r.Kind, Subjects: r.Subjects, Level: r.Difficulty, Seconds: r.Seconds, Points: r.Points}
	if r.Station == nil {
		return out, fmt.Errorf("say how many stations there are")
	}
	wish := questions.StationWish{Subjects: r.Subjects, Stations: r.Station.Stations, Each: r.Count, Seed: seed, Difficulty: r.Difficulty,
		Species: l.species, Traits: l.traits, NoMemory: plan.NoMemory}
	for _, own := range r.Station.Replicas {
		species, err := p.species(played(plan), own.Animal)
		if err != nil {
			return out, fmt.Errorf("station %d: %w", own.Station, err)
		}
		wish.Replicas = append(wish.Replicas, questions.Replica{Station: own.Station, Species: species, Subject: own.Subject})
	}
	all, err := bank.Stations(wish)
	if err != nil {
		return out, err
	}
	out.Walk = r.Station.Walk
	for _, st := range all {
		out.Stations = append(out.Stations, station(st))
		out.Questions = append(out.Questions, asked(st.Questions)...)
	}
	return out, nil
}

// stationsOf puts the stations of a round together again; all begins with its questions.
func stationsOf(r game.Round, all []questions.Question) []questions.Station {
	list := make([]questions.Station, len(r.Stations))
	for i, st := range r.Stations {
		from, to := r.At(i)
		list[i] = questions.Station{Species: st.Species, Subject: st.Subject, Questions: all[from:to]}
		if !st.Replica {
			list[i].Plate = reference(st.Plate)
		}
	}
	return list
}

// station is a station as the game has it.
func station(st questions.Station) game.Station {
	out := game.Station{Species: st.Species, Subject: st.Subject, Replica: st.Plate == nil}
	if st.Plate != nil {
		out.Plate = drawn(*st.Plate)
	}
	return out
}

func (p *planner) species(in inLanguage, typed string) (string, error) {
	names, err := p.namesOf(in)
	if err != nil {
		return "", err
	}
	if name, ok := names.Match(typed); ok {
		s, _ := p.catalogue.Find(name)
		return s.Name, nil
	}
	return "", fmt.Errorf("no animal in play is called %q: check the spelling, or take another roster", typed)
}

// stationWishOf is the wish that a station round came from, or nil.
func (p *planner) stationWishOf(r game.Round, language string) *stationWish {
	if r.Kind != game.Rotating {
		return nil
	}
	w := &stationWish{Stations: len(r.Stations), Walk: r.Walk, Replicas: []replicaWish{}}
	for i, st := range r.Stations {
		if st.Replica {
			w.Replicas = append(w.Replicas, replicaWish{i + 1, p.called(language)(st.Species), st.Subject})
		}
	}
	return w
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
		views[i] = specimenView{Station: i + 1, Animal: t.hub.planner.called(t.state.Plan.Language)(st.Species), Subject: st.Subject, Replica: st.Replica}
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
