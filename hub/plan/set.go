package plan

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"fieldsign/game"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/setfile"
	"fieldsign/refusal"
)

// SetOf is a plan as a set under a name.
func (p *Planner) SetOf(plan game.Plan, name string) (setfile.Set, error) {
	if name == "" {
		name = plan.Title
	}
	all, ok := QuestionsOf(plan)
	if !ok {
		return setfile.Set{}, RefuseOldPlan
	}
	bank, err := p.Bank(Played(plan))
	if err != nil {
		return setfile.Set{}, refusal.New(refusal.BadPlan, err.Error())
	}
	for i := range all {
		all[i].Language, all[i].Rests = catalogue.Language(plan.Language), bank.Rests(all[i])
	}
	set := setfile.Set{Name: name, Roster: plan.Roster, Seed: plan.Seed, Questions: all}
	for i, wish := range p.WishOf(plan).Rounds {
		wish.Set = ""
		r := plan.Rounds[i]
		played, _ := json.Marshal(wish) // which never fails
		round := setfile.Round{Count: len(r.Questions), Play: played}
		for _, st := range StationsOf(r, all) {
			round.Stations = append(round.Stations, setfile.Station{Count: len(st.Questions), Species: st.Species, Subject: st.Subject, Plate: st.Plate})
		}
		set.Rounds, all = append(set.Rounds, round), all[len(r.Questions):]
	}
	if err := set.Named(); err != nil {
		return set, refusal.New(refusal.BadName, "Choose another name: "+err.Error()+".")
	}
	return set, nil
}

// Loaded makes a plan of a set file. A set's roster is one that this hub
// offers: a name could be that of any file.
func (p *Planner) Loaded(body io.Reader, usual string) (game.Plan, error) {
	set, err := setfile.Read(body, usual, func(roster string) (*questions.Bank, error) {
		if !p.offers(roster, usual) {
			return nil, fmt.Errorf("its roster is %s, which this hub does not have", refusal.Quote(roster))
		}
		return p.Bank(InLanguage{Roster: roster})
	})
	if err != nil {
		return game.Plan{}, refusal.New(refusal.BadSet, "This file can't be loaded: "+err.Error()+".")
	}
	if _, err := p.Catalogue.In(set.Language); err != nil {
		return game.Plan{}, refusal.New(refusal.BadSet, "This file can't be loaded: "+err.Error()+".")
	}
	plan := game.Plan{Title: set.Name, Roster: set.Roster, Seed: set.Seed, Language: string(set.Language)}
	for i, r := range set.Rounds {
		round, err := howPlayed(r.Play)
		if err != nil {
			return plan, refusal.New(refusal.BadSet, fmt.Sprintf("This file can't be loaded: how its round %d is played can't be read.", i+1))
		}
		if err := fill(&round, set.Of(i), set.Stations(i)); err != nil {
			return plan, refusal.New(refusal.BadSet, fmt.Sprintf("This file can't be loaded: round %d %v.", i+1, err))
		}
		plan.Rounds = append(plan.Rounds, round)
	}
	return plan, nil
}

// howPlayed reads how a round is played; without a word on that, as the first
// round of a new game is.
func howPlayed(play json.RawMessage) (game.Round, error) {
	wish := First("").Rounds[0]
	wish.Name = "Loaded set"
	if len(play) > 0 {
		if err := json.Unmarshal(play, &wish); err != nil {
			return game.Round{}, err
		}
	}
	return wish.round(), nil
}

// fill gives a round the questions of a file. Their own subjects count, and
// whether they are typed; and what a station round is, its stations say.
func fill(r *game.Round, set []questions.Question, stations []questions.Station) error {
	if (r.Kind == game.Rotating) != (len(stations) > 0) {
		return errors.New("has stations, or is played at stations, and not both")
	}
	for _, st := range stations {
		as := station(st)
		as.Count = len(st.Questions)
		r.Stations = append(r.Stations, as)
	}
	r.Edited, r.Typed, r.Subjects = true, set[0].Typed, nil
	for i, q := range set {
		if q.Typed != r.Typed {
			return errors.New("mixes typed questions with others")
		}
		if !slices.Contains(r.Subjects, q.Subject) {
			r.Subjects = append(r.Subjects, q.Subject)
		}
		r.Questions = append(r.Questions, asked([]questions.Question{q.Numbered(i + 1)})...)
	}
	return nil
}
