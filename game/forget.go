package game

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
			return refuse("not_now", "This team is still playing: remove or rename it, or wait for the end.")
		default:
			return []Event{{Type: Forgotten, Team: t.ID, Name: Nameless}}, nil
		}
	}
	return refuse("unknown_team", "There is no such team in the game.")
}
