// Package wire is what goes between a hub and its pages: the messages of the
// socket, its close codes, JSON over HTTP, and how both say a refusal.
package wire

import (
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/game"
	"fieldsign/hub/plan"
	"fieldsign/hub/socket"
)

// Subprotocol names the wire protocol; asyncapi.json describes it, and a test
// holds it against the types below.
const Subprotocol = "fieldsign.v1"

// Close codes: below 4100 come back, from 4100 on stop.
const (
	CloseSilent      = 1006 // never sent: nothing was heard, and nobody would read it
	CloseStopping    = 4000 // the hub is stopping
	CloseSlow        = 4001 // the client did not read what it was sent
	CloseLater       = 4002 // too many wrong tries from its address
	CloseNameless    = 4003 // it has not said who it is
	CloseUnknownCode = 4100
	CloseRemoved     = 4101 // the host removed the team
	CloseBadFrame    = 4102
	CloseReplaced    = 4103 // another device of the team, or another console, has taken over
	CloseWrongKey    = 4104
	CloseBadToken    = 4107
)

// What connections are told that have no table.
var (
	Stopping    = socket.Goodbye{Code: CloseStopping, Why: "the hub is stopping: come back"}
	UnknownGame = socket.Goodbye{Code: CloseUnknownCode, Why: "no game has that join code"}
)

// Inbound is a frame from a client. Which fields count depends on the type.
type Inbound struct {
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

	Received time.Duration `json:"-"` // on the hub's clock, before it was read
}

// Welcome answers join, resume, board and host.
type Welcome struct {
	Type  string   `json:"type"`
	Role  string   `json:"role"`
	Game  GameName `json:"game"`
	Team  string   `json:"team,omitempty"`
	Name  string   `json:"name,omitempty"`
	Token string   `json:"token,omitempty"`
}

type GameName struct {
	Code  string `json:"code"`
	Title string `json:"title"`
}

type Done struct {
	Type string `json:"type"`
	ID   string `json:"id"`
}

type Refused struct {
	Type    string `json:"type"`
	ID      string `json:"id"`
	Code    string `json:"code"`
	Message string `json:"message"`
}

// Clock answers with RFC 5905's T1, T2 and T3 in ms; T2 and T3 are of the hub's clock.
type Clock struct {
	Type string  `json:"type"`
	T1   float64 `json:"t1"`
	T2   float64 `json:"t2"`
	T3   float64 `json:"t3"`
}

// You is what one team alone is told, when something of its own changes that
// the state doesn't tell. A question that opens and a buzz are told by the state.
type You struct {
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
	Verdict string `json:"verdict"` // "", right, wrong, late (its time to answer a buzz ran out), none
	Gained  int    `json:"gained"`

	Station *StationView `json:"station,omitempty"` // in a station round
}

// State is what everyone is shown. Key and reason are in it only after the
// reveal, save for the host's copy.
type State struct {
	Type     string          `json:"type"`
	Seq      uint64          `json:"seq"`
	Phase    game.Phase      `json:"phase"`
	Paused   bool            `json:"paused"`
	Notice   string          `json:"notice"`
	Title    string          `json:"title"`
	Code     string          `json:"code"`
	Round    *RoundView      `json:"round"`
	Question *QuestionView   `json:"question"`
	Same     bool            `json:"same,omitempty"` // the question is that of the last state, and left out
	Left     int64           `json:"left"`           // ms; below 0 while the question is open for teams with extra time alone
	Span     int64           `json:"span"`           // ms
	Teams    int             `json:"teams"`
	Answered int             `json:"answered"`
	Names    []string        `json:"names,omitempty"`  // the board's lobby
	Sides    []string        `json:"sides,omitempty"`  // of a match whose round is about to begin
	JoinAt   string          `json:"joinAt,omitempty"` // for the board: the host name and port that phones reach
	Buzz     *BuzzView       `json:"buzz,omitempty"`
	Reveal   *RevealView     `json:"reveal,omitempty"`
	Leaders  []game.Standing `json:"leaders"`
	Host     *HostView       `json:"host,omitempty"`

	Language   string        `json:"language,omitempty"`   // of the questions, where it is not English
	NoticeCode string        `json:"noticeCode,omitempty"` // of a notice of the hub's own, for pages in other languages
	Rotation   *RotationView `json:"rotation,omitempty"`   // in a station round
	Next       string        `json:"next,omitempty"`       // the code of the game that these teams go on to, once this one has ended
}

type RoundView struct {
	N         int       `json:"n"`
	Of        int       `json:"of"`
	Name      string    `json:"name"`
	Kind      game.Kind `json:"kind"`
	Questions int       `json:"questions"`

	Typed   bool `json:"typed,omitempty"` // its rule: answers are typed
	Points  int  `json:"points"`          // for a right answer
	Speed   int  `json:"speed,omitempty"` // the most that a fast one adds
	Penalty int  `json:"penalty,omitempty"`
}

type QuestionView struct {
	ID      string   `json:"id"`
	N       int      `json:"n"`
	Subject string   `json:"subject"`
	Prompt  string   `json:"prompt"`
	Typed   bool     `json:"typed"`
	Plate   string   `json:"plate"`    // where the drawing or photo is, if there is one
	Alt     string   `json:"plateAlt"` // what is seen on it
	Credit  string   `json:"credit"`   // of a photo, after the reveal
	Options []string `json:"options"`  // of a typed question: none, then the key alone

	Plates []PlateView `json:"plates"` // drawings that are the options, one for each, or none
}

type PlateView struct {
	Plate string `json:"plate"`
	Alt   string `json:"plateAlt"`
}

type BuzzView struct {
	Team   string   `json:"team"`
	Name   string   `json:"name"`
	Locked int      `json:"locked"`
	Out    []string `json:"out,omitempty"`   // the names of the first of those that are locked out for a wrong answer
	Late   []string `json:"late,omitempty"`  // and of those whose time to answer ran out
	Drawn  []string `json:"drawn,omitempty"` // the names of those among whom the buzz was drawn by lot
}

type RevealView struct {
	Key     int         `json:"key"`
	Reason  string      `json:"reason"`
	Picks   []int       `json:"picks"`
	Skipped bool        `json:"skipped"`
	Undone  bool        `json:"undone"`
	Names   []string    `json:"names,omitempty"`  // of drawings that are options: whose each is
	Others  []TypedView `json:"others,omitempty"` // of a typed question: the wrong names that most gave
	Lesson  *LessonView `json:"lesson,omitempty"`
}

// TypedView is a name that teams typed, and how many.
type TypedView struct {
	Name  string `json:"name"`
	Picks int    `json:"picks"`
}

// LessonView is what tells the key's animal from the one that most took for it.
type LessonView struct {
	Trait    string     `json:"trait"`
	Parts    []string   `json:"parts"`    // of the drawings that decide, by their marks
	Lines    bool       `json:"lines"`    // the parts get a line and keep their colour
	Recalled bool       `json:"recalled"` // it rests on memory alone
	Sides    []SideView `json:"sides"`
}

type SideView struct {
	Option int    `json:"option"` // that names the animal, or -1
	Animal string `json:"animal"`
	Latin  string `json:"latin"`
	Says   string `json:"says"`
	Plate  string `json:"plate"`
	Alt    string `json:"plateAlt"`
}

// HostView is whole when a console comes, and when the plan or the list of teams
// has changed. Otherwise it leaves out what that console has been told: the
// plan and what goes with it, and the teams about which nothing is new.
type HostView struct {
	Whole   bool   `json:"whole"`
	Key     int    `json:"key"`
	Reason  string `json:"reason"`
	CanUndo bool   `json:"canUndo"`
	Next    string `json:"next"` // the next question's prompt, for the host's eyes

	Plan      *plan.Wish `json:"plan,omitempty"`
	JoinURL   string     `json:"joinURL,omitempty"`
	Rosters   []string   `json:"rosters,omitempty"`
	Languages []string   `json:"languages,omitempty"` // in which this hub can ask

	Stations []SpecimenView `json:"stations,omitempty"` // of the station round under way
	Seats    []SeatView     `json:"seats,omitempty"`    // of a match: its sides

	Teams []TeamView `json:"teams"`
}

type TeamView struct {
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

// Text is a frame that says v.
func Text(v any) []byte { return socket.Framed(websocket.TextMessage, Encode(v)) }

// RotationView is a station round as all are shown it.
type RotationView struct {
	Turn   int            `json:"turn"` // rotations that have begun
	Of     int            `json:"of"`
	Places []PlaceView    `json:"places,omitempty"` // where the teams are or walk to; for the board
	Told   []SpecimenView `json:"told,omitempty"`   // once the round is marked
}

type PlaceView struct {
	Station int      `json:"station"`
	Teams   []string `json:"teams"` // the first few names
	More    int      `json:"more"`
}

// SpecimenView is a station with its keys.
type SpecimenView struct {
	Station   int         `json:"station"`
	Animal    string      `json:"animal"`
	Subject   string      `json:"subject"`
	Replica   bool        `json:"replica"`
	Plate     string      `json:"plate"`
	Alt       string      `json:"plateAlt"`
	Credit    string      `json:"credit"`
	Parts     []string    `json:"parts"` // of the drawing that decide, once the round is marked; of sourced values alone
	Questions []AskedView `json:"questions"`
}

type AskedView struct {
	ID      string   `json:"id"`
	N       int      `json:"n"` // counted through all stations
	Prompt  string   `json:"prompt"`
	Options []string `json:"options"`
	Key     int      `json:"key"` // as it stands; -1: the question counts for nothing
	Reason  string   `json:"reason"`
	Picks   []int    `json:"picks"`
}

// StationView is what one team is told of its station. While teams walk it is
// where to go, without questions.
type StationView struct {
	Turn      int            `json:"turn"`
	Station   int            `json:"station"`
	Replica   bool           `json:"replica"`
	Plate     string         `json:"plate"`
	Alt       string         `json:"plateAlt"`
	Questions []QuestionView `json:"questions"`
	Options   []int          `json:"options"` // the answers to these; -1: none yet
	Sheet     []int          `json:"sheet"`   // all answers, once the round is marked
}

// SeatView is a match's side on the join page and in the console.
type SeatView struct {
	Name  string `json:"name"`
	Taken bool   `json:"taken"`
}

// DropReasons are the close codes' names.
var DropReasons = map[int]string{
	CloseSilent: "silent", websocket.CloseInvalidFramePayloadData: "not_utf8", CloseStopping: "stopping", CloseSlow: "slow", CloseLater: "come_later", CloseNameless: "nameless", CloseRemoved: "removed", CloseBadFrame: "bad_frame",
	CloseReplaced: "replaced", CloseWrongKey: "wrong_key", CloseBadToken: "bad_token",
}
