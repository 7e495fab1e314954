package game

import (
	"slices"

	"fieldsign/refusal"
)

// The host's edits of the questions that a round was planned with. The hub
// brings the question that takes another's place, as it brings the plan.

// mostGone bounds what is kept of a round's questions that were taken out.
const mostGone = 400

func (s *State) edit(c Command) ([]Event, error) {
	if s.Phase != Lobby {
		return refuse(refusal.NotNow, "The plan can be changed in the lobby only.")
	}
	at := s.Plan.PlaceOf(c.Round, c.Question)
	if at < 0 {
		return refuse(refusal.NoQuestion, "This question is not in the round any more. Look at the questions again.")
	}
	r := s.Plan.Rounds[c.Round]
	e := Event{Round: c.Round, Number: at}
	switch {
	case r.Kind == Rotating && c.Type == Move:
		return refuse(refusal.AtStation, "A question stays at its station, in its place. Replace it or strike it.")
	case r.Kind == Rotating && c.Type == Strike && r.alone(at):
		return refuse(refusal.LastAtStation, "A station keeps one question at least. Replace it.")
	case c.Type == Strike && len(r.Questions) == 1:
		return refuse(refusal.LastQuestion, "A round keeps one question at least. Replace it, or remove the round.")
	case c.Type == Move && (c.To < 0 || c.To >= len(r.Questions)):
		return refuse(refusal.NoPlace, "There is no such place in the round.")
	case c.Type != Move && len(r.Gone) >= mostGone:
		return refuse(refusal.TooManyEdits, "So many questions of this round have been taken out that no more can be. Choose another seed.")
	case c.Type == Strike:
		e.Type = Struck
	case c.Type == Move:
		e.Type, e.To = Moved, c.To
	default:
		e.Type, e.With = Replaced, &c.With
	}
	if err := r.edited(e).check(c.Round + 1); err != nil {
		return nil, err
	}
	return []Event{e}, nil
}

// PlaceOf is where a round has a question, or -1.
func (p Plan) PlaceOf(round int, id string) int {
	if round < 0 || round >= len(p.Rounds) {
		return -1
	}
	return slices.IndexFunc(p.Rounds[round].Questions, func(q Question) bool { return q.ID == id })
}

// alone holds for the only question of its station.
func (r Round) alone(question int) bool { return r.count(r.StationOf(question)) == 1 }

// edited is the round after an edit. The old one stays as it is: it may be part
// of an event that is not yet stored.
func (r Round) edited(e Event) Round {
	old := r.Questions[e.Number]
	r.Edited = true
	if r.Kind == Rotating && e.Type == Struck {
		r.Stations = r.counted()
		r.Stations[r.StationOf(e.Number)].Count--
	}
	r.Questions = slices.Delete(slices.Clone(r.Questions), e.Number, e.Number+1)
	switch e.Type {
	case Moved:
		r.Questions = slices.Insert(r.Questions, e.To, old)
		return r
	case Replaced:
		r.Questions = slices.Insert(r.Questions, e.Number, *e.With)
	}
	r.Gone = append(slices.Clip(r.Gone), old)
	return r
}

// counted are the stations with the number of questions that each has.
func (r Round) counted() []Station {
	list := slices.Clone(r.Stations)
	for i := range list {
		list[i].Count = r.count(i)
	}
	return list
}

func (s *State) edited(e Event) {
	s.Plan.Rounds = slices.Clone(s.Plan.Rounds)
	s.Plan.Rounds[e.Round] = s.Plan.Rounds[e.Round].edited(e)
}
