package tournament

import (
	"fieldsign/refusal"
)

// Command is something that someone wants to happen. By is who gives it, ID is
// the client's own: the same By and ID take effect once.
type Command struct {
	Type     string
	By       string
	ID       string
	Code     string   // create
	Began    string   // create: the hub's date and time, for people
	Name     string   // create, enter, rename
	Settings Settings // create
	Entrant  int      // withdraw, rename
	Order    []int    // reseed: all entrants, best first; playoff: those level, better first
	Match    int      // start, record, correct
	Game     string   // start: the game's join code
	Outcome  Outcome  // record, correct
	Home     int      // record, correct: the scores
	Away     int
	Winner   int    // a forfeit's or walkover's (0: neither came), or a level bracket match's play-off's
	Early    bool   // finish, although matches are open
	Boards   int    // boards
	Secret   string // sit, stand: the hash of a phone's token; the host frees a seat without
}

// The types of commands. All but sit and stand are the host's alone.
const (
	Create     = "create"
	Enter      = "enter"
	Rename     = "rename"
	Withdraw   = "withdraw"
	Reseed     = "reseed"
	Draw       = "draw"
	Next       = "next" // the next Swiss round, or the bracket after the pools
	Start      = "start"
	Record     = "record"
	Correct    = "correct" // an open outcome takes the result away
	SettleTie  = "playoff"
	Finish     = "finish"
	Undo       = "undo"
	Redo       = "redo"
	Boards     = "boards" // how many are in use
	Sit        = "sit"    // a phone plays for an entrant
	Stand      = "stand"  // and no more
	maxID      = 64       // bytes
	maxCode    = 64
	remembered = 32 // of an actor's last command ids

	secretLength = 64 // SHA-256 in hex
)

// Event is something that has happened; each command makes one at most, so that
// no crash can part what belongs together. Fields that its type does not use
// are zero.
type Event struct {
	Seq      uint64    `json:"seq"`
	Type     string    `json:"type"`
	By       string    `json:"by,omitempty"`
	Cmd      string    `json:"cmd,omitempty"` // the command's ID
	Code     string    `json:"code,omitempty"`
	Began    string    `json:"began,omitempty"`
	Name     string    `json:"name,omitempty"`
	Settings *Settings `json:"settings,omitempty"`
	Entrant  int       `json:"entrant,omitempty"`
	Order    []int     `json:"order,omitempty"` // seeding, draw, bracket's field or settled tie
	Field    []int     `json:"field,omitempty"` // the bracket's field, where a correction or play-off has changed it
	Pairs    [][2]int  `json:"pairs,omitempty"` // of a Swiss round
	Bye      int       `json:"bye,omitempty"`
	Match    int       `json:"match,omitempty"`
	Game     string    `json:"game,omitempty"`
	Result   *Result   `json:"result,omitempty"`
	Voided   []int     `json:"voided,omitempty"` // matches that have lost their result or game by it, for people
	Boards   int       `json:"boards,omitempty"`
	Secret   string    `json:"secret,omitempty"`
}

// The types of events.
const (
	Created   = "created"
	Entered   = "entered"
	Renamed   = "renamed"
	Withdrew  = "withdrew"
	Reseeded  = "reseeded"
	Drawn     = "drawn"
	Paired    = "paired"   // a Swiss round
	Advanced  = "advanced" // the bracket after the pools
	Started   = "started"
	Recorded  = "recorded"
	Corrected = "corrected"
	Settled   = "settled" // a tie
	Finished  = "finished"
	Undone    = "undone"
	Redone    = "redone"
	Arranged  = "arranged" // how many boards there are
	Seated    = "seated"   // a phone
	Freed     = "freed"    // its seat
)

func refuse(code refusal.Code, message string) ([]Event, error) {
	return nil, refusal.New(code, message)
}
