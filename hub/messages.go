package hub

import (
	"fmt"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/game"
	"fieldsign/hub/plan"
	"fieldsign/hub/socket"
)

// Subprotocol names the wire protocol; asyncapi.yaml describes it, and a test
// holds it against the types below.
const Subprotocol = "fieldsign.v1"

// Close codes: below 4100 come back, from 4100 on stop.
const (
	closeSilent      = 1006 // never sent: nothing was heard, and nobody would read it
	closeStopping    = 4000 // the hub is stopping
	closeSlow        = 4001 // the client did not read what it was sent
	closeLater       = 4002 // too many wrong tries from its address
	closeNameless    = 4003 // it has not said who it is
	closeUnknownCode = 4100
	closeRemoved     = 4101 // the host removed the team
	closeBadFrame    = 4102
	closeReplaced    = 4103 // another device of the team, or another console, has taken over
	closeWrongKey    = 4104
	closeBadToken    = 4107
)

// What connections are told that have no table.
var (
	stopping    = socket.Goodbye{Code: closeStopping, Why: "the hub is stopping: come back"}
	unknownGame = socket.Goodbye{Code: closeUnknownCode, Why: "no game has that join code"}
)

var nameless = fmt.Sprintf("nobody said within %.0f seconds who is there: the first frame is join, resume, board or host", firstFrame.Seconds())

// inbound is a frame from a client. Which fields count depends on the type.
type inbound struct {
	Type     string    `json:"type"`
	ID       string    `json:"id,omitempty"`
	Name     string    `json:"name,omitempty"`     // join; do rename
	Token    string    `json:"token,omitempty"`    // resume
	Key      string    `json:"key,omitempty"`      // host
	TakeOver bool      `json:"takeOver,omitempty"` // host
	Seen     uint64    `json:"seen,omitempty"`     // host: the seq of the last state that it was shown of this game
	T1       float64   `json:"t1,omitempty"`       // clock: ms of the client's clock
	Question string    `json:"question,omitempty"` // answer, buzz, do strike, do replace, do move, do correct
	Option   *int      `json:"option,omitempty"`   // answer, do correct
	Text     string    `json:"text,omitempty"`     // answer to a typed question
	At       float64   `json:"at,omitempty"`       // buzz: ms of the client's clock
	Action   string    `json:"action,omitempty"`   // do
	Team     string    `json:"team,omitempty"`     // do rename, do remove, do extend
	Right    bool      `json:"right,omitempty"`    // do rule
	Extra    int       `json:"extra,omitempty"`    // do extend: percent
	Seconds  int       `json:"seconds,omitempty"`  // do adjust: by how much
	Plan     plan.Wish `json:"plan,omitzero"`      // do plan
	Round    int       `json:"round,omitempty"`    // do strike, do replace, do move
	To       int       `json:"to,omitempty"`       // do move

	received time.Duration // on the hub's clock, before it was read
}

// welcome answers join, resume, board and host.
type welcome struct {
	Type  string   `json:"type"`
	Role  string   `json:"role"`
	Game  gameName `json:"game"`
	Team  string   `json:"team,omitempty"`
	Name  string   `json:"name,omitempty"`
	Token string   `json:"token,omitempty"`
}

type gameName struct {
	Code  string `json:"code"`
	Title string `json:"title"`
}

type done struct {
	Type string `json:"type"`
	ID   string `json:"id"`
}

type refused struct {
	Type    string `json:"type"`
	ID      string `json:"id"`
	Code    string `json:"code"`
	Message string `json:"message"`
}

// clock answers with RFC 5905's T1, T2 and T3 in ms; T2 and T3 are of the hub's clock.
type clock struct {
	Type string  `json:"type"`
	T1   float64 `json:"t1"`
	T2   float64 `json:"t2"`
	T3   float64 `json:"t3"`
}

// you is what one team alone is told, when something of its own changes that
// the state doesn't tell. A question that opens and a buzz are told by the state.
type you struct {
	Type  string `json:"type"`
	Team  string `json:"team"`
	Name  string `json:"name"`
	Score int    `json:"score"`
	Rank  int    `json:"rank"`
	Right int    `json:"right"`
	Extra int    `json:"extra,omitempty"` // time in open rounds, in percent

	About   string `json:"about"` // the question that the rest is of: with another on the screen it says nothing
	Option  *int   `json:"option"`
	Answer  string `json:"answer"` // to a typed question, as the hub took it
	Locked  bool   `json:"locked"`
	Verdict string `json:"verdict"` // "", right, wrong, none
	Gained  int    `json:"gained"`

	Station *stationView `json:"station,omitempty"` // in a station round
}

// state is what everyone is shown. Key and reason are in it only after the
// reveal, save for the host's copy.
type state struct {
	Type     string          `json:"type"`
	Seq      uint64          `json:"seq"`
	Phase    game.Phase      `json:"phase"`
	Paused   bool            `json:"paused"`
	Notice   string          `json:"notice"`
	Title    string          `json:"title"`
	Code     string          `json:"code"`
	Round    *roundView      `json:"round"`
	Question *questionView   `json:"question"`
	Same     bool            `json:"same,omitempty"` // the question is that of the last state, and left out
	Left     int64           `json:"left"`           // ms; below 0 while the question is open for teams with extra time alone
	Span     int64           `json:"span"`           // ms
	Teams    int             `json:"teams"`
	Answered int             `json:"answered"`
	Names    []string        `json:"names,omitempty"`  // the board's lobby
	JoinAt   string          `json:"joinAt,omitempty"` // for the board: the host name and port that phones reach
	Buzz     *buzzView       `json:"buzz,omitempty"`
	Reveal   *revealView     `json:"reveal,omitempty"`
	Leaders  []game.Standing `json:"leaders"`
	Host     *hostView       `json:"host,omitempty"`

	Language   string        `json:"language,omitempty"`   // of the questions, where it is not English
	NoticeCode string        `json:"noticeCode,omitempty"` // of a notice of the hub's own, for pages in other languages
	Rotation   *rotationView `json:"rotation,omitempty"`   // in a station round
}

type roundView struct {
	N         int       `json:"n"`
	Of        int       `json:"of"`
	Name      string    `json:"name"`
	Kind      game.Kind `json:"kind"`
	Questions int       `json:"questions"`
}

type questionView struct {
	ID      string   `json:"id"`
	N       int      `json:"n"`
	Subject string   `json:"subject"`
	Prompt  string   `json:"prompt"`
	Typed   bool     `json:"typed"`
	Plate   string   `json:"plate"`    // where the drawing or photo is, if there is one
	Alt     string   `json:"plateAlt"` // what is seen on it
	Credit  string   `json:"credit"`   // of a photo, after the reveal
	Options []string `json:"options"`  // of a typed question: none, then the key alone

	Plates []plateView `json:"plates"` // drawings that are the options, one for each, or none
}

type plateView struct {
	Plate string `json:"plate"`
	Alt   string `json:"plateAlt"`
}

type buzzView struct {
	Team   string   `json:"team"`
	Name   string   `json:"name"`
	Locked int      `json:"locked"`
	Drawn  []string `json:"drawn,omitempty"` // the names of those among whom the buzz was drawn by lot
}

type revealView struct {
	Key     int         `json:"key"`
	Reason  string      `json:"reason"`
	Picks   []int       `json:"picks"`
	Skipped bool        `json:"skipped"`
	Undone  bool        `json:"undone"`
	Names   []string    `json:"names,omitempty"`  // of drawings that are options: whose each is
	Others  []typedView `json:"others,omitempty"` // of a typed question: the wrong names that most gave
	Lesson  *lessonView `json:"lesson,omitempty"`
}

// typedView is a name that teams typed, and how many.
type typedView struct {
	Name  string `json:"name"`
	Picks int    `json:"picks"`
}

// lessonView is what tells the key's animal from the one that most took for it.
type lessonView struct {
	Parts    []string   `json:"parts"`    // of the drawings that decide, by their marks
	Lines    bool       `json:"lines"`    // the parts get a line and keep their colour
	Recalled bool       `json:"recalled"` // it rests on memory alone
	Sides    []sideView `json:"sides"`
}

type sideView struct {
	Option int    `json:"option"` // that names the animal, or -1
	Animal string `json:"animal"`
	Latin  string `json:"latin"`
	Says   string `json:"says"`
	Plate  string `json:"plate"`
	Alt    string `json:"plateAlt"`
}

// hostView is whole when a console comes, and when the plan or the list of teams
// has changed. Otherwise it leaves out what that console has been told: the
// plan and what goes with it, and the teams about which nothing is new.
type hostView struct {
	Whole   bool   `json:"whole"`
	Key     int    `json:"key"`
	Reason  string `json:"reason"`
	CanUndo bool   `json:"canUndo"`
	Next    string `json:"next"` // the next question's prompt, for the host's eyes

	Plan      *plan.Wish `json:"plan,omitempty"`
	JoinURL   string     `json:"joinURL,omitempty"`
	Rosters   []string   `json:"rosters,omitempty"`
	Languages []string   `json:"languages,omitempty"` // in which this hub can ask

	Stations []specimenView `json:"stations,omitempty"` // of the station round under way
	Seats    []seatView     `json:"seats,omitempty"`    // of a match: its sides

	Teams []teamView `json:"teams"`
}

type teamView struct {
	Team     string `json:"team"`
	Name     string `json:"name"`
	Score    int    `json:"score"`
	Right    int    `json:"right"`
	Online   bool   `json:"online"`
	Answered bool   `json:"answered"`
	Locked   bool   `json:"locked"`
	Extra    int    `json:"extra"`             // percent
	Station  int    `json:"station,omitempty"` // in a station round: where it is or walks to
	Filled   int    `json:"filled,omitempty"`  // and how many questions it has answered there
}

// text is a frame that says v.
func text(v any) []byte { return socket.Framed(websocket.TextMessage, encode(v)) }
