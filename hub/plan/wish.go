package plan

import (
	"slices"

	"fieldsign/game"
	"fieldsign/questions"
)

// Wish is a plan as the host asks for it, before its questions are computed.
type Wish struct {
	Title  string `json:"title"`
	Roster string `json:"roster"`
	Seed   uint64 `json:"seed"`
	From   string `json:"from,omitempty"`   // the game whose debrief steers the questions
	Season string `json:"season,omitempty"` // that the game counts in

	Language string      `json:"language,omitempty"` // of the questions; none is English
	NoMemory bool        `json:"noMemory,omitempty"` // no question rests on what is only recalled
	Rounds   []RoundWish `json:"rounds"`
}

// Anew is the wish for another game like it, which has questions of its own: the
// debrief of a game steers them, or none.
func (w Wish) Anew(from string) Wish {
	w.Seed, w.From, w.Rounds = 0, from, slices.Clone(w.Rounds)
	for i := range w.Rounds {
		w.Rounds[i].Set = ""
	}
	return w
}

type RoundWish struct {
	Name       string    `json:"name"`
	Kind       game.Kind `json:"kind"`
	Subjects   []string  `json:"subjects"`
	Count      int       `json:"count"`
	Seconds    int       `json:"seconds"`
	Points     int       `json:"points"`
	Speed      int       `json:"speed"`
	Penalty    int       `json:"penalty"`
	Wait       int       `json:"wait"` // ms, of a buzz round
	Difficulty int       `json:"difficulty"`
	Typed      bool      `json:"typed"`
	Set        string    `json:"set,omitempty"` // the host's choice of questions, which stays; none: they follow from the wish

	Animals []string    `json:"animals,omitempty"` // whom to ask about, by their scientific names; none: all of the roster
	Pairs   []game.Pair `json:"pairs,omitempty"`   // whom to compare

	Station  *stationWish       `json:"station,omitempty"`  // of a station round
	Drawings questions.Drawings `json:"drawings,omitempty"` // of a round that is open or for the buzz; none said: half
}

// stationWish is what a station round needs besides. The round's Count is for
// each station, its Seconds for a rotation.
type stationWish struct {
	Stations int           `json:"stations"`
	Walk     int           `json:"walk"` // seconds
	Replicas []replicaWish `json:"replicas"`
}

// replicaWish is the teacher's own specimen at a station, counted from 1.
type replicaWish struct {
	Station int    `json:"station"`
	Animal  string `json:"animal"` // any of its names
	Subject string `json:"subject"`
}
