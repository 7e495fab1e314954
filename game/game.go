// Package game holds the rules of a hosted game as a pure state machine:
// Decide turns a command into events, Apply turns an event into the next state.
// It has no I/O, no clock, no goroutine and no dice: times are handed in, in
// milliseconds of the game's own clock, so the same log gives the same state.
package game

import (
	"fmt"
	"strconv"
	"strings"

	"fieldsign/game/alike"
)

// Phase is where a game stands.
type Phase string

const (
	Lobby    Phase = "lobby"    // teams gather, the host plans
	Ready    Phase = "ready"    // a round is named and waits for its beginning
	Asking   Phase = "asking"   // a question is open
	Buzzed   Phase = "buzzed"   // a team holds the buzz and has to answer
	Revealed Phase = "revealed" // the key and the reason are shown
	Walking  Phase = "walk"     // of a station round: teams go to their next stations
	Visiting Phase = "station"  // teams are at their stations and answer
	Marked   Phase = "marked"   // the station round is over and its keys are shown
	Break    Phase = "break"    // a round is over
	Ended    Phase = "ended"
)

// Kind is the kind of a round.
type Kind string

const (
	Open     Kind = "open"    // every team answers within the time
	Buzz     Kind = "buzz"    // the first to buzz answers; a wrong answer locks that team out and play goes on
	Rotating Kind = "station" // teams go from station to station at a signal
)

// Question is what a round asks.
type Question struct {
	ID      string   `json:"id"`
	Subject string   `json:"subject"`
	Prompt  string   `json:"prompt"`
	Typed   bool     `json:"typed"` // the option is typed as a name; the hub finds it
	Plate   Plate    `json:"plate,omitzero"`
	Plates  []Plate  `json:"plates,omitempty"` // drawings that are the options, one for each
	Options []string `json:"options"`
	Key     int      `json:"key"`
	Reason  string   `json:"reason"`
	About   About    `json:"about,omitzero"`
	Proof   string   `json:"proof,omitempty"` // what else its maker keeps of it; the rules don't look at it
}

// About is what a question is about, kept for the debrief; the rules don't
// look at it. Species and Stated go with the options, one each; at most one of
// the two is given.
type About struct {
	Template string   `json:"template,omitempty"`
	Species  []string `json:"species,omitempty"` // where the options are species
	Stated   []string `json:"stated,omitempty"`  // where they are statements: the trait that each is about
	Animals  []string `json:"animals,omitempty"` // whom statements are about: one, or two to be told apart
	Traits   []string `json:"traits,omitempty"`  // that decide
}

// Plate names the drawing shown with a question, if there is one; the hub
// draws it. It tells the key.
type Plate struct {
	Species string `json:"species"`
	View    string `json:"view"`
	Mark    string `json:"mark,omitempty"` // the structure that it points at

	Frame    float64 `json:"frame,omitempty"` // mm, common to drawings that are compared
	With     string  `json:"with,omitempty"`  // the species of a second print beside the first
	WithView string  `json:"withView,omitempty"`
}

// Round is a planned round. Points are for a right answer; Speed is the most
// that a fast one adds in an open round (0 switches it off); Penalty is taken
// for a wrong answer in a buzz round.
type Round struct {
	Name      string     `json:"name"`
	Kind      Kind       `json:"kind"`
	Subjects  []string   `json:"subjects"`           // as wished, kept for the next plan
	Level     int        `json:"difficulty"`         // likewise
	Typed     bool       `json:"typed"`              // likewise
	Drawings  string     `json:"drawings,omitempty"` // likewise
	Animals   []string   `json:"animals,omitempty"`  // likewise: whom to ask about, by their scientific names; none: all
	Pairs     []Pair     `json:"pairs,omitempty"`    // likewise: whom to compare
	Seconds   int        `json:"seconds"`
	Points    int        `json:"points"`
	Speed     int        `json:"speed"`
	Penalty   int        `json:"penalty"`
	Wait      int        `json:"wait"` // the most ms that a buzz waits for presses under way on slower links; 0 gives it by arrival
	Questions []Question `json:"questions"`

	Edited bool       `json:"edited,omitempty"` // the questions are the host's choice, not what the wishes above give
	Gone   []Question `json:"gone,omitempty"`   // what the host took out

	Stations []Station `json:"stations,omitempty"` // of a station round, whose Questions are theirs in order; Seconds is for a rotation
	Walk     int       `json:"walk,omitempty"`     // seconds from the signal to the next rotation
}

// Pair is two animals to be told apart, by their scientific names.
type Pair struct {
	A string `json:"a"`
	B string `json:"b"`
}

// Plan is what is going to be played.
type Plan struct {
	Title    string  `json:"title"`
	Roster   string  `json:"roster"`
	Seed     uint64  `json:"seed"`
	From     string  `json:"from,omitempty"`     // the game whose debrief it was planned from
	Season   string  `json:"season,omitempty"`   // the season that it counts in; the rules don't look at it
	Language string  `json:"language,omitempty"` // of the questions; empty is English, and the rules don't look at it
	NoMemory bool    `json:"noMemory,omitempty"` // of its questions, none rests on what is only recalled; the rules don't look at it
	Match    *Match  `json:"match,omitempty"`
	Rounds   []Round `json:"rounds"`
}

// Team is a team and how it stands in the question under way.
type Team struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	look    alike.Look
	Secret  string `json:"secret"` // the hub's hash of its resume token
	Removed bool   `json:"removed"`
	Score   int    `json:"score"`
	Right   int    `json:"right"`
	Time    int64  `json:"time"`             // ms spent on right answers
	Extra   int    `json:"extra"`            // time in open rounds, in percent
	Before  int    `json:"before,omitempty"` // the score as the last round began
	Was     int    `json:"was,omitempty"`    // and the rank; 0 for a team that has come since

	Choice  int    `json:"choice"` // the option answered, or -1
	Took    int64  `json:"took"`   // ms from the opening to the answer
	Locked  bool   `json:"locked"`
	Verdict string `json:"verdict"` // "", right, wrong, late (the time to answer a buzz ran out) or none
	Gained  int    `json:"gained"`

	Start int     `json:"start,omitempty"` // the first station of a station round, counted from 0
	From  int     `json:"from,omitempty"`  // the first rotation that it is there for
	Sheet []Entry `json:"sheet,omitempty"` // its answers to the round's questions
}

// Award is what a verdict gives one team, or takes from it.
type Award struct {
	Team   string `json:"team"`
	Right  bool   `json:"right"`
	Points int    `json:"points"`
	Took   int64  `json:"took"`
}

// State is a whole game. It is a value: whoever hands one to Apply must use
// the result instead, as with append.
type State struct {
	Seq    uint64 `json:"seq"`
	At     int64  `json:"at"` // the game clock at the last event
	Code   string `json:"code"`
	Began  string `json:"began"` // date and time (RFC 3339), for people
	Plan   Plan   `json:"plan"`
	Phase  Phase  `json:"phase"`
	Paused bool   `json:"paused"`
	Notice string `json:"notice"`
	Teams  []Team `json:"teams"` // team tN is Teams[N-1], removed ones stay
	Extra  int    `json:"extra"` // the most that any team has

	Round    int `json:"round"`
	Question int `json:"question"`

	Deadline int64    `json:"deadline"` // of what runs now: the question, or the holder's answer
	Left     int64    `json:"left"`     // ms left of the question while the clock stands or a team holds the buzz
	Since    int64    `json:"since"`    // when the question was last open to presses
	Presses  []Press  `json:"presses"`  // that contend for the buzz, till Closes
	Closes   int64    `json:"closes"`
	Holder   string   `json:"holder"` // the team that holds the buzz
	Drawn    []string `json:"drawn"`  // the teams among which it was drawn, if a draw decided
	Skipped  bool     `json:"skipped"`
	Undone   bool     `json:"undone"`

	Turn  int   `json:"turn,omitempty"`  // rotations of the station round that have begun
	Added int64 `json:"added,omitempty"` // ms that the host has added to this one, or to the walk
	Keys  []int `json:"keys,omitempty"`  // as they stand, by question; -1 where one counts for nothing

	Next string `json:"next,omitempty"` // the game that follows this one, with the same teams

	Last    []Award `json:"last"` // the last verdict, while it can be taken back
	Applied Applied `json:"applied"`
}

// round and question are the ones under way; only to be called outside lobby.
func (s *State) round() *Round       { return &s.Plan.Rounds[s.Round] }
func (s *State) question() *Question { return &s.round().Questions[s.Question] }

// Current returns the round and question under way, to be read only; in the
// lobby they are empty ones, and ok is false.
func (s *State) Current() (r *Round, q *Question, ok bool) {
	if s.Phase == Lobby || len(s.Plan.Rounds) == 0 {
		return new(Round), new(Question), false
	}
	return s.round(), s.question(), true
}

// Span is the whole time of what is being timed, in ms.
func (s *State) Span() int64 {
	switch s.Phase {
	case Buzzed:
		return answerTime
	case Walking:
		return int64(s.round().Walk)*1000 + s.Added
	case Visiting:
		return int64(s.round().Seconds)*1000 + s.Added
	}
	return int64(s.round().Seconds) * 1000
}

// Wake is when Decide wants a Tick, if the clock runs.
func (s *State) Wake() (at int64, running bool) {
	switch {
	case s.Phase == Asking && len(s.Presses) > 0:
		return s.Closes, !s.Paused
	case s.Phase == Asking && s.settled():
		return s.At, !s.Paused
	}
	return s.Ends()
}

// Ends is when the time is up, if the clock runs. It tells nothing of a press.
func (s *State) Ends() (at int64, running bool) {
	return s.Deadline + s.Grace(), !s.Paused && (s.Phase == Asking || s.Phase == Buzzed || s.timed())
}

// TeamID is what the team is called in commands and events that has a place in Teams.
func TeamID(place int) string { return fmt.Sprintf("t%d", place+1) }

// Find returns the place in Teams of a team still in the game, or -1.
func (s *State) Find(id string) int {
	n, err := strconv.Atoi(strings.TrimPrefix(id, "t"))
	if err != nil || n < 1 || n > len(s.Teams) || s.Teams[n-1].ID != id || s.Teams[n-1].Removed {
		return -1
	}
	return n - 1
}

// Playing counts the teams still in the game, and those done with the question.
func (s *State) Playing() (teams, answered, locked int) {
	for i := range s.Teams {
		if s.Teams[i].Removed {
			continue
		}
		teams++
		if s.Teams[i].Choice >= 0 {
			answered++
		}
		if s.Teams[i].Locked {
			locked++
		}
	}
	return teams, answered, locked
}

// Picks counts the answers by option.
func (s *State) Picks() []int {
	picks := make([]int, len(s.question().Options))
	for i := range s.Teams {
		if c := s.Teams[i].Choice; c >= 0 && !s.Teams[i].Removed {
			picks[c]++
		}
	}
	return picks
}
