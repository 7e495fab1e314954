// Package refusal is the one error by which the rules, the planner and the hub
// say why something has no effect. It is pure: the hub's package wire says how a
// refusal goes over HTTP and in a frame.
package refusal

import "errors"

// Kind is what sort of thing is wrong. It decides what a program does next.
type Kind int

const (
	Conflict    Kind = iota // it does not fit how things stand
	Malformed               // it can't be read at all
	Invalid                 // it can be read, and its values are wrong
	TooLarge                // it is larger than is taken
	WrongType               // it is a file of another sort
	Forbidden               // it is not for whoever asks
	Missing                 // there is no such thing
	Late                    // it did not arrive in time
	TooMany                 // too much was asked, or tried, in a short time
	Unavailable             // it can't be done for now: try again
	Internal                // it is the hub's own fault: see its log
)

// Refusal is why something has no effect. Code is for programs, Message for people.
type Refusal struct {
	Kind    Kind
	Code    Code
	Message string
}

// New refuses with a code, which has one kind wherever it is used.
func New(code Code, message string) Refusal { return Refusal{kinds[code], code, message} }

func (r Refusal) Error() string { return r.Message }

// Is tells whether an error is, or wraps, a refusal with this code.
func Is(err error, code Code) bool {
	var r Refusal
	return errors.As(err, &r) && r.Code == code
}
