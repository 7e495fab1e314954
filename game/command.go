package game

import "fieldsign/refusal"

// Command is something that someone wants to happen. By is who: a team's id,
// "host" or "hub". ID is the client's own; the same By and ID take effect once.
type Command struct {
	Type     string
	By       string
	ID       string
	Team     string // rename, remove, extend, forget; rule: who has to hold the buzz still, if given
	Name     string // join, rename
	Secret   string // join
	Question string // answer, buzz: the question that the client saw; correct
	Option   int
	Timing   Timing // buzz
	Seconds  int    // adjust
	Right    bool
	Code     string   // create; follow: the other game's
	Began    string   // create: the hub's date and time, for people
	Notice   string   // pause
	Plan     Plan     // create, plan
	Extra    int      // extend: percent
	Round    int      // strike, replace, move: where the question is
	To       int      // move: its place, counted from 0
	With     Question // replace
}

// The types of commands, by who may give them.
const (
	Create = "create" // the hub
	Join   = "join"
	Tick   = "tick"

	GiveAnswer = "answer" // a team
	PressBuzz  = "buzz"

	SetPlan = "plan" // the host
	Strike  = "strike"
	Replace = "replace"
	Move    = "move"
	Start   = "start" // leaves the lobby or a break; the round's first question waits for next
	Next    = "next"
	Close   = "close"
	Pause   = "pause"
	Resume  = "resume"
	Skip    = "skip"
	Undo    = "undo"
	Rule    = "rule"
	Rename  = "rename"
	Remove  = "remove"
	Extend  = "extend"
	Forget  = "forget"
	End     = "end"
	Adjust  = "adjust" // of a station round: the time left
	Correct = "correct"
	Mark    = "mark"
	Follow  = "follow" // the hub, for the host: the next game of these teams
)

// Event is something that has happened. Fields that its type does not use are zero.
type Event struct {
	Seq    uint64    `json:"seq"`
	At     int64     `json:"at"` // ms of the game's clock
	Type   string    `json:"type"`
	By     string    `json:"by,omitempty"`
	Cmd    string    `json:"cmd,omitempty"` // the command's ID
	Team   string    `json:"team,omitempty"`
	Name   string    `json:"name,omitempty"`
	Secret string    `json:"secret,omitempty"`
	Option int       `json:"option,omitempty"`
	Round  int       `json:"round,omitempty"`
	Number int       `json:"number,omitempty"` // the question's place in its round
	Took   int64     `json:"took,omitempty"`
	Press  *Press    `json:"press,omitempty"`
	Closes int64     `json:"closes,omitempty"`
	Drawn  []string  `json:"drawn,omitempty"`
	Awards []Award   `json:"awards,omitempty"`
	Taken  []Award   `json:"taken,omitempty"` // awards that are taken back
	Code   string    `json:"code,omitempty"`
	Began  string    `json:"began,omitempty"`
	Notice string    `json:"notice,omitempty"`
	Plan   *Plan     `json:"plan,omitempty"`
	Extra  int       `json:"extra,omitempty"`
	To     int       `json:"to,omitempty"`
	With   *Question `json:"with,omitempty"`
}

// The types of events.
const (
	Created   = "created"
	Planned   = "planned"
	Struck    = "struck"
	Replaced  = "replaced"
	Moved     = "moved"
	Joined    = "joined"
	Renamed   = "renamed"
	RemovedT  = "removed"
	Extended  = "extended"
	Forgotten = "forgotten"
	Opened    = "opened"
	Answered  = "answered"
	Pressed   = "pressed"
	GotBuzz   = "buzzed"
	Ruled     = "ruled"  // one team's answer in a buzz round judged; a right one reveals the key
	Scored    = "scored" // the question closed, or the station round over: keys revealed
	Skipped   = "skipped"
	Undone    = "undone"
	Paused    = "paused"
	Resumed   = "resumed"
	Readied   = "readied" // the lobby or a break is left, a round is to come
	Broke     = "broke"
	Finished  = "finished"
	Followed  = "followed" // by the game of this Code, which has the same teams

	Started   = "started"   // a rotation of a station round has begun
	Signalled = "signalled" // it is over, its answers are locked
	Adjusted  = "adjusted"  // its time, by Took
	Corrected = "corrected" // a question's key
)

func refuse(code refusal.Code, message string) ([]Event, error) {
	return nil, refusal.New(code, message)
}
