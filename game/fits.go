package game

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Take is Apply for an event that comes from a store. Apply trusts that Decide
// made the event on that very state; a store may hold what no game of this
// version ever was. The error says what doesn't fit; s is then used up.
func Take(s State, e Event) (after State, err error) {
	defer func() {
		if found := recover(); found != nil { // what fits has overlooked
			err = misfit(e, fmt.Errorf("the rules stumble over it: %v", found))
		}
	}()
	if err := s.fits(e); err != nil {
		return s, misfit(e, err)
	}
	return Apply(s, e), nil
}

// Check is nil for a log that Replay takes.
func Check(log []Event) error {
	var s State
	for _, e := range log {
		var err error
		if s, err = Take(s, e); err != nil {
			return err
		}
	}
	return nil
}

// ErrMisfit: an event does not fit the game that the events before it make.
var ErrMisfit = errors.New("it is damaged or of another version of Fieldsign")

func misfit(e Event, what error) error {
	return fmt.Errorf("event %d, %s, does not fit this game: %w: %w", e.Seq, strconv.Quote(e.Type), what, ErrMisfit)
}

// Bounds of times in ms, so large that no game comes near and so small that
// sums of them are right.
const (
	longest = 1 << 45 // of a game's clock, a thousand years
	latest  = 1 << 31 // of what is timed
)

// fits holds an event against what Apply, and all that later looks at the
// state, relies on. It lets in whatever Decide makes.
func (s *State) fits(e Event) error {
	switch {
	case e.Seq != s.Seq+1:
		return fmt.Errorf("it follows event %d", s.Seq)
	case e.At < s.At || e.At > longest:
		return errors.New("the clock goes back, or far ahead")
	case max(e.Took, -e.Took) > latest || e.Took == math.MinInt64 || e.Closes > e.At+latest:
		return errors.New("it takes too long")
	case (s.Phase == "") != (e.Type == Created):
		return errors.New("a game begins with its creation, once")
	}
	fits, known := fitting[e.Type]
	if !known {
		return errors.New("there is no such event")
	}
	return fits(s, e)
}

// fitting is by the event's type.
var fitting = map[string]func(*State, Event) error{
	Created: (*State).fitsPlan, Planned: (*State).fitsPlan,
	Struck: (*State).fitsEdit, Replaced: (*State).fitsEdit, Moved: (*State).fitsEdit,
	Joined: func(s *State, e Event) error {
		return unless(e.Team == TeamID(len(s.Teams)), "the team is not the next one")
	},
	Renamed: (*State).fitsTeam, Forgotten: (*State).fitsTeam, RemovedT: (*State).fitsTeam,
	Extended: func(s *State, e Event) error {
		return errors.Join(s.fitsTeam(e), unless(slices.Contains(extras, e.Extra), "there is no such extra time"))
	},
	Opened:   (*State).fitsOpening,
	Answered: (*State).fitsAnswer,
	Pressed:  (*State).fitsPress,
	GotBuzz: func(s *State, e Event) error {
		return unless(s.Phase == Asking && s.round().Kind == Buzz && s.Find(e.Team) >= 0 && s.has(e.Drawn...), "no such team may have the buzz now")
	},
	Ruled: (*State).fitsRuling,
	Scored: func(s *State, e Event) error {
		return unless((s.waiting() || s.AtStations()) && s.hasAll(e.Awards), "there is nothing to score now, or not for these teams")
	},
	Skipped: func(s *State, e Event) error {
		return unless(s.waiting() && s.hasAll(e.Awards), "there is nothing to skip now")
	},
	Undone: func(s *State, e Event) error {
		return unless(len(e.Awards) > 0 && !s.Undone && slices.Equal(e.Awards, s.Last), "this is not the last verdict")
	},
	Paused: func(s *State, e Event) error {
		return unless(s.Phase != Lobby && s.Phase != Ended, "there is nothing to pause now")
	},
	Resumed: func(s *State, e Event) error { return unless(s.Paused, "the game is not paused") },
	Readied: func(s *State, e Event) error {
		return unless((s.Phase == Lobby || s.Phase == Break) && within(e.Round, len(s.Plan.Rounds)), "no such round is to come")
	},
	Broke: func(s *State, e Event) error {
		return unless((s.Phase == Revealed || s.Phase == Marked) && s.Round+1 < len(s.Plan.Rounds), "no round is over that another one follows")
	},
	Finished: func(s *State, e Event) error { return unless(s.Phase != Ended, "the game has ended before") },
	Started: func(s *State, e Event) error {
		return unless(s.Phase == Walking && e.Number == s.Turn+1 && e.Number <= len(s.round().Stations), "no such rotation begins now")
	},
	Signalled: func(s *State, e Event) error {
		return unless(s.Phase == Visiting && e.Number == s.Turn && e.Number < len(s.round().Stations), "no such rotation ends now")
	},
	Adjusted:  func(s *State, e Event) error { return unless(s.timed(), "nothing is being timed") },
	Corrected: (*State).fitsCorrection,
	Followed:  (*State).fitsFollowing,
}

func unless(holds bool, what string) error {
	if holds {
		return nil
	}
	return errors.New(what)
}

func (s *State) fitsPlan(e Event) error {
	switch {
	case e.Type == Planned && s.Phase != Lobby:
		return errors.New("the game is past its lobby")
	case e.Plan == nil:
		return errors.New("it has no plan")
	}
	if m := e.Plan.Match; m != nil && (len(m.Sides) < 2 || len(m.Level) != 0 && len(m.Level) != len(m.Sides)) {
		return errors.New("its match has no two sides, or not a score for each")
	}
	for i, r := range e.Plan.Rounds {
		if err := r.sound(i + 1); err != nil {
			return err
		}
	}
	return nil
}

func (s *State) fitsEdit(e Event) error {
	if s.Phase != Lobby || e.Round < 0 || e.Round >= len(s.Plan.Rounds) {
		return errors.New("no such round can be changed now")
	}
	r := s.Plan.Rounds[e.Round]
	if !within(e.Number, len(r.Questions)) || e.Type == Moved && !within(e.To, len(r.Questions)) || e.Type == Replaced && e.With == nil {
		return errors.New("there is no such question, or none for its place")
	}
	return r.edited(e).sound(e.Round + 1)
}

func (s *State) fitsTeam(e Event) error { return unless(s.has(e.Team), "there is no such team") }

func (s *State) fitsOpening(e Event) error {
	if s.Phase == Ended || !within(e.Round, len(s.Plan.Rounds)) || !within(e.Number, len(s.Plan.Rounds[e.Round].Questions)) {
		return errors.New("there is no such question to open")
	}
	return nil
}

func (s *State) fitsAnswer(e Event) error {
	number := s.Question
	switch {
	case s.Find(e.Team) < 0:
		return errors.New("there is no such team")
	case s.Phase == Visiting:
		number = e.Number
	case s.Phase != Asking || s.round().Kind != Open:
		return errors.New("no question is open to all")
	}
	questions := s.round().Questions
	return unless(within(number, len(questions)) && within(e.Option, len(questions[number].Options)), "there is no such option")
}

func (s *State) fitsPress(e Event) error {
	p := e.Press
	if p == nil || s.Phase != Asking || s.round().Kind != Buzz || s.Find(p.Team) < 0 {
		return errors.New("no such team may buzz now")
	}
	wait := int64(s.round().Wait) * 1000
	return unless(p.Got <= e.At*1000+999 && p.At <= p.Got && p.At >= p.Got-wait && within(int(p.Bound), int(wait)+1), "the press is not credited by the rules")
}

func (s *State) fitsRuling(e Event) error {
	return unless(s.Phase == Buzzed && len(e.Awards) == 1 && s.hasAll(e.Awards) && e.Option >= -1 && e.Option < len(s.question().Options), "no such verdict can be given now")
}

func (s *State) fitsCorrection(e Event) error {
	if !s.AtStations() || !within(e.Number, len(s.Keys)) || e.Option < -1 || e.Option >= len(s.round().Questions[e.Number].Options) {
		return errors.New("there is no such question or option to correct")
	}
	return unless(s.hasAll(e.Awards) && s.hasAll(e.Taken), "there is no such team")
}

func within(i, n int) bool { return i >= 0 && i < n }

// waiting holds while a question waits for an answer.
func (s *State) waiting() bool { return s.Phase == Asking || s.Phase == Buzzed }

// has tells whether there are such teams, removed or not. Team tN is the Nth.
func (s *State) has(teams ...string) bool {
	return !slices.ContainsFunc(teams, func(id string) bool {
		n, err := strconv.Atoi(strings.TrimPrefix(id, "t"))
		return err != nil || !within(n-1, len(s.Teams)) || s.Teams[n-1].ID != id
	})
}

func (s *State) hasAll(awards []Award) bool {
	return !slices.ContainsFunc(awards, func(a Award) bool { return !s.has(a.Team) })
}
