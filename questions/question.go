// Package questions computes questions from a catalogue: one option provably
// satisfies the question's test, every other provably fails it, and the reason
// can be said in words. The same roster, wishes and seed always give the same
// set. It does no I/O and knows nothing of games.
package questions

import "fieldsign/questions/catalogue"

// Question is a line of the JSON Lines format.
//
// Where options are species, Test holds for the key's species alone. Where
// options are statements, About says of whom, each option has a Test of its
// own, and only the key's holds for About.Is (and fails for About.Not, where
// that is given); the question's Test is then the key's.
//
// Where the drawing is of two prints, an option either says that they can be of
// one kind of animal, or names a trait in which the two species differ.
//
// Where options are drawings, each is of its own species, and the texts only
// letter them.
type Question struct {
	ID         string    `json:"id"`
	Template   string    `json:"template"`
	Subject    string    `json:"subject"`
	Difficulty int       `json:"difficulty"`
	Prompt     string    `json:"prompt"`
	Typed      bool      `json:"typed,omitempty"` // the name is to be typed; the options are all species in play
	Plate      *PlateRef `json:"plate,omitempty"`
	About      *About    `json:"about,omitempty"`
	Options    []Option  `json:"options"`
	Key        int       `json:"key"`
	Reason     string    `json:"reason"`
	Test       Test      `json:"test"`

	Language catalogue.Language `json:"language,omitempty"` // of its texts
	Rests    catalogue.Basis    `json:"rests"`              // the kind of the weakest fact that decides it, by the catalogue at hand

	reason func() string // makes the Reason of a question that is taken: most are not
	says   []told        // of animals that are no options, by the reason; known while a set is planned
}

// Option is one answer. Species is the scientific name.
type Option struct {
	Species string    `json:"species,omitempty"`
	Text    string    `json:"text"`
	Test    *Test     `json:"test,omitempty"`
	Plate   *PlateRef `json:"plate,omitempty"`  // a drawing instead of words
	Differ  string    `json:"differ,omitempty"` // a trait: it says that two prints can't be of one kind, by this
}

// About names the species that statements are about.
type About struct {
	Is  string `json:"is"`
	Not string `json:"not,omitempty"`
}

// Test is a predicate in machine form: all claims must hold.
type Test struct {
	All []catalogue.Claim `json:"all"`
}
