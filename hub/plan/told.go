package plan

import (
	"slices"

	"fieldsign/game"
	"fieldsign/questions"
)

// Told names a question that tells what a later one asks, counted from 1.
type Told struct {
	Round    int `json:"round"`
	Question int `json:"question"`
}

// ShownWith is the plate of a station, shown with the first of its questions.
func ShownWith(r game.Round, question int) (p game.Plate) {
	station := r.StationOf(question)
	if first, _ := r.At(station); first == question {
		p = r.Stations[station].Plate
	}
	return p
}

// ToldIn says of a round's questions which are given away, and by what.
func ToldIn(plan game.Plan, round int) []*Told {
	out := make([]*Told, len(plan.Rounds[round].Questions))
	all, ok := QuestionsOf(plan)
	if !ok {
		return out
	}
	var names []Told
	for i, r := range plan.Rounds {
		for j := range r.Questions {
			names = append(names, Told{i + 1, j + 1})
		}
	}
	first := slices.Index(names, Told{round + 1, 1})
	for i, by := range questions.Told(all)[first : first+len(out)] {
		if by >= 0 {
			out[i] = &names[by]
		}
	}
	return out
}

// Rests is the kind of the weakest fact that decides a question, or nothing
// where its roster can't be had any more.
func (p *Planner) Rests(in InLanguage, q questions.Question) string {
	bank, err := p.Bank(in)
	if err != nil {
		return ""
	}
	return bank.Rests(q).String()
}
