package game

import (
	"slices"

	"fieldsign/game/alike"
	"fieldsign/refusal"
)

// Nameless is what a team is called whose nickname was erased.
const Nameless = "removed team"

// forget erases the nickname of a team that plays no more. The log goes on as
// any other: the event says what the team is called from now on. What stands in
// earlier events is the store's to take out.
func (s *State) forget(c Command) ([]Event, error) {
	for i := range s.Teams {
		t := &s.Teams[i]
		switch {
		case t.ID != c.Team:
		case s.Phase != Ended && !t.Removed:
			return refuse(refusal.NotNow, "This team is still playing: remove or rename it, or wait for the end.")
		case s.Phase != Ended && s.Plan.Match != nil && s.Plan.Match.admits(t.Name) == nil:
			return refuse(refusal.NotNow, "A seat of this match is kept for that name: erase it once the match has ended.")
		default:
			return []Event{{Type: Forgotten, Team: t.ID, Name: Nameless}}, nil
		}
	}
	return refuse(refusal.UnknownTeam, "There is no such team in the game.")
}

// called gives a team another name.
func (t *Team) called(name string) { t.Name, t.look = name, alike.Of(name) }

// forgotten takes the name of a team over into the state, and out of the sides
// of a match unless another team has it too.
func (s *State) forgotten(e Event) {
	t := s.team(e.Team)
	old := t.Name
	t.called(e.Name)
	if s.Plan.Match == nil || slices.ContainsFunc(s.Teams, func(o Team) bool { return o.Name == old }) {
		return
	}
	m := *s.Plan.Match
	m.Sides = slices.Clone(m.Sides)
	if i := slices.Index(m.Sides, old); i >= 0 {
		m.Sides[i] = e.Name
	}
	s.Plan.Match = &m
}
