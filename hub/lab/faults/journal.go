package faults

import (
	"slices"
	"strings"
	"sync"
	"time"
)

// What an Op is.
const (
	Buzz   = "buzz"
	Answer = "answer"
	Look   = "look" // at the state as a client was shown it
	Rule   = "rule" // the holder's time is up: by the hub, from its log
	Close  = "close"
)

// Done is the Code of a command that was acknowledged. The others are those of
// refusals; "" is for a command without an answer. Of a Look, it is the phase.
const Done = "done"

// Place is a question's place in its game.
type Place struct{ Round, Question int }

// Op is a command from its first sending to its answer, or a look at the game.
type Op struct {
	What     string
	At       Place
	Contest  bool // in a buzz round
	Team     string
	ID       string
	Option   int
	Code     string
	Holder   string        // whom a Look, or a refusal as beaten, named
	Locked   int           // of a Look: the teams locked out
	Call     time.Duration // on the journal's clock
	Return   time.Duration // 0 where there was no answer
	Attempts int
}

// Journal is what the clients of one game were told. It is safe for concurrent use.
type Journal struct {
	start time.Time

	mu    sync.Mutex
	teams map[string]string // by name
	ops   []Op
	lost  bool
	final []Line
}

// Line is one of the standings shown at the end.
type Line struct {
	Team  string
	Score int
}

// NewJournal begins one.
func NewJournal() *Journal { return &Journal{start: time.Now(), teams: map[string]string{}} }

func (j *Journal) now() time.Duration { return time.Since(j.start) + 1 }

func (j *Journal) note(op Op) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.ops = append(j.ops, op)
}

func (j *Journal) seat(name, team string) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.teams[name] = team
}

func (j *Journal) teamOf(name string) string {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.teams[name]
}

// hear notes a notice that was shown to the host, who has to check the scores, or
// to a team.
func (j *Journal) hear(notice string) {
	if strings.Contains(notice, "lost the last moments") {
		j.mu.Lock()
		defer j.mu.Unlock()
		j.lost = true
	}
}

// Lost tells whether the game has said that its store lost something.
func (j *Journal) Lost() bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.lost
}

func (j *Journal) end(final []Line) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.final = final
}

func (j *Journal) shownLast() []Line {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.final
}

// Ops are those noted so far.
func (j *Journal) Ops() []Op {
	j.mu.Lock()
	defer j.mu.Unlock()
	return slices.Clone(j.ops)
}

// Acknowledged counts the commands that were.
func (j *Journal) Acknowledged() int {
	n := 0
	for _, op := range j.Ops() {
		if op.Code == Done {
			n++
		}
	}
	return n
}
