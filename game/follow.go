package game

import "fieldsign/refusal"

// An ended game may name the one that its teams go on to, once: whoever comes
// back to it later is sent there too.

func (s *State) follow(c Command) ([]Event, error) {
	switch {
	case s.Phase != Ended:
		return refuse(refusal.NotNow, "Another game can follow once this one has ended.")
	case s.Plan.Match != nil:
		return refuse(refusal.NotNow, "A match is followed by what its tournament says.")
	case s.Next != "":
		return refuse(refusal.Followed, "Another game follows this one already.")
	case !isCode(c.Code) || c.Code == s.Code:
		return refuse(refusal.BadCommand, "The game that follows has a code of its own.")
	}
	return []Event{{Type: Followed, Code: c.Code}}, nil
}

func (s *State) fitsFollowing(e Event) error {
	return unless(s.Phase == Ended && s.Next == "" && isCode(e.Code), "no game follows now")
}

// isCode bounds what a code may be; the hub draws them.
func isCode(code string) bool { return code != "" && len(code) <= maxID && plain(code, maxID) }
