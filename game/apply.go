package game

import (
	"slices"

	"fieldsign/game/alike"
)

// rememberedCommands is how many of an actor's last command ids are kept to
// tell a repetition.
const rememberedCommands = 8

// Apply is the state after an event. It takes s over: use the result instead.
func Apply(s State, e Event) State {
	s.Seq, s.At = e.Seq, e.At
	s.Applied = s.Applied.With(e.By, e.Cmd, rememberedCommands)
	switch e.Type {
	case Created, Planned:
		s.Plan = *e.Plan
		if e.Type == Created {
			s.Phase, s.Code, s.Began = Lobby, e.Code, e.Began
		}
	case Struck, Replaced, Moved:
		s.edited(e)
	case Joined:
		s.Teams = append(s.Teams, Team{ID: e.Team, Name: e.Name, look: alike.Of(e.Name), Secret: e.Secret, Choice: -1})
		if s.AtStations() {
			s.placeLate()
		}
	case Renamed:
		s.team(e.Team).called(e.Name)
	case Forgotten:
		s.forgotten(e)
	case Extended:
		s.extended(e)
	case RemovedT:
		s.team(e.Team).Removed = true
		s.Presses = slices.DeleteFunc(s.Presses, func(p Press) bool { return p.Team == e.Team })
		if s.Holder == e.Team {
			s.playOn()
		}
	case Opened:
		s.open(e)
	case Answered:
		t := &s.Teams[s.Find(e.Team)]
		if s.Phase == Visiting {
			t.Sheet[e.Number] = Entry{e.Option, e.Took}
		} else {
			t.Choice, t.Took = e.Option, e.Took
		}
	case Pressed:
		s.pressed(e)
	case GotBuzz:
		s.Left = e.Took
		s.hold(e.Team)
		s.Drawn = e.Drawn
	case Ruled:
		s.ruled(e)
	case Scored, Skipped:
		if s.AtStations() {
			s.marked(e)
		} else {
			s.reveal(e)
		}
	case Started:
		s.rotation(Visiting, e.Number, s.round().Seconds)
	case Signalled:
		s.rotation(Walking, e.Number, s.round().Walk)
	case Adjusted:
		s.Deadline, s.Added = s.Deadline+e.Took, s.Added+e.Took
	case Corrected:
		s.corrected(e)
	case Undone:
		s.undone(e)
	case Paused:
		s.Paused, s.Notice, s.Deadline = true, e.Notice, e.Took
	case Resumed:
		s.Paused, s.Notice, s.Deadline, s.Since = false, "", e.At+s.Deadline, e.At
	case Readied:
		s.Phase = Ready
		s.come(e)
	case Broke:
		s.Phase = Break
	case Finished:
		s.settle(Ended, "")
		s.Paused, s.Notice, s.Last = false, "", nil
	case Followed:
		s.Next = e.Code
	}
	return s
}

// Replay is the state after a whole log.
func Replay(log []Event) State {
	var s State
	for _, e := range log {
		s = Apply(s, e)
	}
	return s
}

func (s *State) open(e Event) {
	s.come(e)
	if e.Number == 0 {
		s.begun()
	}
	if s.round().Kind == Rotating {
		s.place()
		return
	}
	s.Turn, s.Added, s.Keys = 0, 0, nil
	s.ask(int64(s.round().Seconds) * 1000)
}

// come turns to a question about which no team has done anything yet.
func (s *State) come(e Event) {
	s.Round, s.Question = e.Round, e.Number
	s.Skipped, s.Undone, s.Last = false, false, nil
	for i := range s.Teams {
		t := &s.Teams[i]
		t.Choice, t.Took, t.Locked, t.Verdict, t.Gained = -1, 0, false, "", 0
		t.Start, t.From, t.Sheet = 0, 0, nil
	}
}

// ruled books the verdict on a buzz. A right one closes the question in the
// same event, so that nothing comes between; a wrong one lets the rest play on.
func (s *State) ruled(e Event) {
	a := e.Awards[0]
	t := s.team(a.Team)
	t.Choice = e.Option
	if a.Right {
		s.reveal(e)
		return
	}
	t.Locked = true
	s.book(a, 1)
	if e.By == clock {
		t.Verdict = "late"
	}
	s.Last = e.Awards
	s.playOn()
}

// pressed adds a press. The question's time stands from the first one on.
func (s *State) pressed(e Event) {
	if len(s.Presses) == 0 {
		s.Left, s.Closes = e.Took, e.Closes
	}
	s.Presses = append(s.Presses, *e.Press)
}

// hold gives a team the buzz and its time to answer.
func (s *State) hold(team string) {
	s.settle(Buzzed, team)
	s.time(answerTime)
}

// playOn gives the question back to the teams that are left.
func (s *State) playOn() { s.ask(max(s.Left, leastLeft)) }

// ask opens the question to all that may answer it, for so many ms.
func (s *State) ask(left int64) {
	s.settle(Asking, "")
	s.Left, s.Since = left, s.At
	s.time(left)
}

// settle ends whatever contest for the buzz there was.
func (s *State) settle(p Phase, holder string) {
	s.Phase, s.Holder, s.Presses, s.Closes, s.Drawn = p, holder, nil, 0, nil
}

// time sets the deadline; while the clock stands, that is the time left.
func (s *State) time(ms int64) {
	s.Deadline = ms
	if !s.Paused {
		s.Deadline += s.At
	}
}

// team finds a team by id, removed or not.
func (s *State) team(id string) *Team {
	i := slices.IndexFunc(s.Teams, func(t Team) bool { return t.ID == id })
	return &s.Teams[i]
}

// book adds an award to a team, or with sign -1 takes it back.
func (s *State) book(a Award, sign int) {
	t := s.team(a.Team)
	t.Score += sign * a.Points
	t.Gained += sign * a.Points
	if a.Right {
		t.Right += sign
		t.Time += int64(sign) * a.Took
	}
	switch {
	case sign < 0:
		t.Verdict = ""
	case a.Right:
		t.Verdict = "right"
	default:
		t.Verdict = "wrong"
	}
}

func (s *State) reveal(e Event) {
	s.settle(Revealed, "")
	s.Paused, s.Notice = false, ""
	s.Skipped = e.Type == Skipped
	if s.Skipped {
		s.void()
	}
	for _, a := range e.Awards {
		s.book(a, 1)
	}
	if len(e.Awards) > 0 {
		s.Last = e.Awards
	}
	for i := range s.Teams {
		t := &s.Teams[i]
		switch {
		case s.Skipped || t.Verdict != "":
		case t.Choice >= 0:
			t.Verdict = "wrong"
		default:
			t.Verdict = "none"
		}
	}
}

// void takes back all that the question under way has brought so far.
func (s *State) void() {
	s.Last = nil
	for i := range s.Teams {
		t := &s.Teams[i]
		t.Score -= t.Gained
		t.Gained, t.Verdict = 0, ""
	}
}

func (s *State) undone(e Event) {
	for _, a := range e.Awards {
		s.book(a, -1)
	}
	s.Last = nil
	if s.Phase != Asking && s.Phase != Buzzed {
		s.Undone = true
		return
	}
	t := s.team(e.Awards[0].Team)
	t.Locked, t.Choice = false, -1
	if !t.Removed {
		s.hold(t.ID)
	}
}

// Clone copies a state so that both may be handed to Apply.
func (s State) Clone() State {
	s.Teams, s.Presses = slices.Clone(s.Teams), slices.Clone(s.Presses)
	for i := range s.Teams {
		s.Teams[i].Sheet = slices.Clone(s.Teams[i].Sheet)
	}
	s.Keys, s.Applied = slices.Clone(s.Keys), s.Applied.Clone()
	return s
}
