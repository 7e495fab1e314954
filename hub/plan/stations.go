package plan

import (
	"errors"
	"fmt"

	"fieldsign/game"
	"fieldsign/questions"
)

// addStations computes a round's stations, by the path that paper takes too. Pairs are
// kept for when the round is of another kind: nothing is compared at a station.
func (p *Planner) addStations(out *game.Round, bank *questions.Bank, plan game.Plan, seed uint64, l lessons, r RoundWish) error {
	switch {
	case r.Station == nil:
		return errors.New("say how many stations there are")
	case r.Typed:
		return errors.New("names are not typed at stations: take a round that is open or for the buzz")
	}
	wish := questions.StationWish{Subjects: r.Subjects, Stations: r.Station.Stations, Each: r.Count, Seed: seed, Difficulty: r.Difficulty,
		Species: p.wishFor(plan, *out, r.Count, seed).Species, Traits: l.traits, NoMemory: plan.NoMemory}
	if len(wish.Species) == 0 {
		wish.Species = l.species
	}
	for _, own := range r.Station.Replicas {
		species, err := p.species(Played(plan), own.Animal)
		if err != nil {
			return fmt.Errorf("station %d: %w", own.Station, err)
		}
		wish.Replicas = append(wish.Replicas, questions.Replica{Station: own.Station, Species: species, Subject: own.Subject})
	}
	all, err := bank.Stations(wish)
	if err != nil {
		return err
	}
	for _, st := range all {
		out.Stations = append(out.Stations, station(st))
		out.Questions = append(out.Questions, asked(st.Questions)...)
	}
	return nil
}

// StationsOf puts the stations of a round together again; all begins with its questions.
func StationsOf(r game.Round, all []questions.Question) []questions.Station {
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
		out.Plate = Drawn(*st.Plate)
	}
	return out
}

func (p *Planner) species(in InLanguage, typed string) (string, error) {
	names, err := p.namesOf(in)
	if err != nil {
		return "", err
	}
	if name, ok := names.Match(typed); ok {
		s, _ := p.Catalogue.Find(name)
		return s.Name, nil
	}
	return "", fmt.Errorf("no animal in play is called %q: check the spelling, or take another roster", typed)
}

// stationWishOf is the wish that a station round came from, or nil.
func (p *Planner) stationWishOf(r game.Round, language string) *stationWish {
	if r.Kind != game.Rotating {
		return nil
	}
	w := &stationWish{Stations: len(r.Stations), Walk: r.Walk, Replicas: []replicaWish{}}
	for i, st := range r.Stations {
		if st.Replica {
			w.Replicas = append(w.Replicas, replicaWish{i + 1, p.Called(language)(st.Species), st.Subject})
		}
	}
	return w
}
