package game

import (
	"fmt"
	"unicode/utf8"

	"fieldsign/refusal"
)

// Bounds of a game and of a command.
const (
	MaxTeams  = 5000
	maxID     = 64  // bytes
	maxNotice = 200 // characters
)

// Decide says what a command makes happen at a time, or a Refusal why nothing
// does. A command that has taken effect before makes nothing happen and is no error.
func Decide(s State, c Command, now int64) ([]Event, error) {
	if s.Applied.Has(c.By, c.ID) {
		return nil, nil
	}
	if err := s.admit(c); err != nil {
		return nil, err
	}
	events, err := s.decide(c, max(now, s.At))
	for i := range events {
		events[i].Seq = s.Seq + 1 + uint64(i)
		events[i].At = max(now, s.At)
		events[i].By, events[i].Cmd = c.By, c.ID
	}
	return events, err
}

// admit refuses what no phase could take. Text that is not UTF-8 would come
// back changed from a stored log, and the replayed game would be another one.
func (s *State) admit(c Command) error {
	switch {
	case s.Phase == "" && c.Type != Create:
		return refusal.New(refusal.NoGame, "There is no game yet: create it first.")
	case s.Phase != "" && c.Type == Create:
		return refusal.New(refusal.NotNow, "This game has been created already.")
	case !utf8.ValidString(c.By) || !utf8.ValidString(c.ID) || !utf8.ValidString(c.Code) || !utf8.ValidString(c.Secret):
		return refusal.New(refusal.BadCommand, "A command's texts have to be UTF-8.")
	case len(c.ID) > maxID:
		return refusal.New(refusal.BadCommand, fmt.Sprintf("A command's id has at most %d bytes.", maxID))
	}
	return nil
}

func (s *State) decide(c Command, now int64) ([]Event, error) {
	switch c.Type {
	case Create:
		return s.create(c)
	case SetPlan:
		return s.setPlan(c)
	case Strike, Replace, Move:
		return s.edit(c)
	case Join:
		return s.join(c)
	case Rename:
		return s.rename(c)
	case Remove:
		return s.remove(c)
	case Extend:
		return s.extend(c)
	case Forget:
		return s.forget(c)
	case GiveAnswer:
		return s.answer(c, now)
	case PressBuzz:
		return s.buzz(c, now)
	case Tick:
		return s.tick(now)
	case Start:
		return s.start()
	case Next:
		return s.next()
	case Close:
		return s.close()
	case Skip:
		return s.skip()
	case Undo:
		return s.undo()
	case Rule:
		return s.rule(c)
	case Pause:
		return s.pause(c, now)
	case Resume:
		return s.resume()
	case End:
		return s.end()
	case Adjust:
		return s.adjust(c, now)
	case Correct:
		return s.correct(c)
	case Mark:
		return s.mark()
	case Follow:
		return s.follow(c)
	}
	return refuse(refusal.UnknownCommand, fmt.Sprintf("There is no command %q.", c.Type))
}

func (s *State) create(c Command) ([]Event, error) {
	if err := c.Plan.check(); err != nil {
		return nil, err
	}
	return []Event{{Type: Created, Code: c.Code, Began: c.Began, Plan: &c.Plan}}, nil
}

func (s *State) setPlan(c Command) ([]Event, error) {
	if s.Phase != Lobby {
		return refuse(refusal.NotNow, "The plan can be changed in the lobby only.")
	}
	c.Plan.Match = s.Plan.Match // a plan says what is played, not by whom
	if err := c.Plan.check(); err != nil {
		return nil, err
	}
	return []Event{{Type: Planned, Plan: &c.Plan}}, nil
}

func (s *State) join(c Command) ([]Event, error) {
	if s.Phase == Ended {
		return refuse(refusal.TooLate, "This game has ended.")
	}
	if len(s.Teams) >= MaxTeams {
		return refuse(refusal.GameFull, fmt.Sprintf("This game has its %d teams.", MaxTeams))
	}
	name, err := s.freeName(c.Name, "")
	if err != nil {
		return nil, err
	}
	return []Event{{Type: Joined, Team: TeamID(len(s.Teams)), Name: name, Secret: c.Secret}}, nil
}

func (s *State) rename(c Command) ([]Event, error) {
	if s.Find(c.Team) < 0 {
		return refuse(refusal.UnknownTeam, "There is no such team in the game.")
	}
	name, err := s.freeName(c.Name, c.Team)
	if err != nil {
		return nil, err
	}
	return []Event{{Type: Renamed, Team: c.Team, Name: name}}, nil
}

func (s *State) remove(c Command) ([]Event, error) {
	if s.Find(c.Team) < 0 {
		return refuse(refusal.UnknownTeam, "There is no such team in the game.")
	}
	return []Event{{Type: RemovedT, Team: c.Team}}, nil
}

// start names the round to come and lets it wait, so that no clock runs unseen. A
// station round waits by itself.
func (s *State) start() ([]Event, error) {
	if s.Phase != Lobby && s.Phase != Break {
		return refuse(refusal.NotNow, "A round is under way: another one starts from the lobby or from a break.")
	}
	events, err := s.next()
	if err == nil && s.Plan.Rounds[events[0].Round].Kind != Rotating {
		return []Event{{Type: Readied, Round: events[0].Round}}, nil
	}
	return events, err
}

func (s *State) next() ([]Event, error) {
	if s.Paused {
		return refuse(refusal.Paused, "Resume the game first.")
	}
	switch s.Phase {
	case Lobby:
		if len(s.Plan.Rounds) == 0 {
			return refuse(refusal.NoPlan, "Plan at least one round first.")
		}
		if teams, _, _ := s.Playing(); teams == 0 {
			return refuse(refusal.NoTeams, "No team has joined yet.")
		}
		return []Event{{Type: Opened}}, nil
	case Ready:
		return []Event{{Type: Opened, Round: s.Round}}, nil
	case Revealed:
		if s.Question+1 < len(s.round().Questions) {
			return []Event{{Type: Opened, Round: s.Round, Number: s.Question + 1}}, nil
		}
		return s.leave(), nil
	case Marked:
		return s.leave(), nil
	case Walking:
		return s.signal(), nil
	case Visiting:
		return refuse(refusal.NotNow, "Give the signal first.")
	case Break:
		return []Event{{Type: Opened, Round: s.Round + 1}}, nil
	case Ended:
		return refuse(refusal.Ended, "This game has ended.")
	}
	return refuse(refusal.NotNow, "Close or skip the open question first.")
}

// leave goes on from the end of a round.
func (s *State) leave() []Event {
	if s.Round+1 < len(s.Plan.Rounds) {
		return []Event{{Type: Broke}}
	}
	return []Event{{Type: Finished}}
}

func (s *State) pause(c Command, now int64) ([]Event, error) {
	known := s.Paused && (c.Notice == "" || c.Notice == s.Notice)
	if known || s.Phase == Lobby || s.Phase == Ended {
		return refuse(refusal.NotNow, "There is nothing to pause.")
	}
	if !plain(c.Notice, maxNotice) {
		return refuse(refusal.BadNotice, fmt.Sprintf("A notice has at most %d characters, all of them visible.", maxNotice))
	}
	left := max(s.Deadline-now, -s.Grace())
	if s.Paused {
		left = s.Deadline // only the notice is another
	}
	return []Event{{Type: Paused, Notice: c.Notice, Took: left}}, nil
}

func (s *State) resume() ([]Event, error) {
	if !s.Paused {
		return refuse(refusal.NotNow, "The game is not paused.")
	}
	return []Event{{Type: Resumed}}, nil
}

func (s *State) end() ([]Event, error) {
	if s.Phase == Ended {
		return refuse(refusal.Ended, "This game has ended.")
	}
	if s.Phase == Visiting || s.Phase == Walking { // a whole round's answers would be lost
		return []Event{s.marks(), {Type: Finished}}, nil
	}
	return []Event{{Type: Finished}}, nil
}
