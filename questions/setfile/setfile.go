// Package setfile reads and writes a question set as JSON Lines: a head that
// says what the set is, then a question a line, in the order in which they are
// asked. The head may be missing, as in what "fieldsign questions" prints. What
// is read is bounded and proved against the catalogue; how a round is played is
// its writer's, and stands in the head as it came.
package setfile

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// Bounds of a file.
const (
	MaxBytes     = 4 << 20
	maxLine      = 64 << 10
	maxRounds    = 20
	maxQuestions = 200 // of a round
	maxName      = 60  // characters
)

// format marks the head, and the version of what follows it.
const format = "fieldsign.set.v1"

// Set is what a file holds.
type Set struct {
	Name      string
	Roster    string
	Seed      uint64 // of the rounds; replaced questions follow from it too
	Rounds    []Round
	Questions []questions.Question // of all rounds, one after the other

	Language catalogue.Language // of all questions
}

// Round is a part of the set. Play is how its writer plays it.
type Round struct {
	Count    int             `json:"count"` // of its questions
	Play     json.RawMessage `json:"play,omitempty"`
	Stations []Station       `json:"stations,omitempty"` // of a station round, whose questions are theirs in order
}

// Station is a station's specimen: a plate, or where there is none a replica.
type Station struct {
	Count   int                 `json:"count"` // of its questions
	Species string              `json:"species"`
	Subject string              `json:"subject"`
	Plate   *questions.PlateRef `json:"plate,omitempty"`
}

type head struct {
	Format string  `json:"format"`
	Name   string  `json:"name"`
	Roster string  `json:"roster"`
	Seed   uint64  `json:"seed"`
	Rounds []Round `json:"rounds"`
}

// Of are a round's questions.
func (s Set) Of(round int) []questions.Question {
	at := 0
	for _, r := range s.Rounds[:round] {
		at += r.Count
	}
	return s.Questions[at : at+s.Rounds[round].Count]
}

// Stations are a round's stations with their questions, if it is a station round.
func (s Set) Stations(round int) (list []questions.Station) {
	all := s.Of(round)
	for _, st := range s.Rounds[round].Stations {
		list = append(list, questions.Station{Species: st.Species, Subject: st.Subject, Plate: st.Plate, Questions: all[:st.Count]})
		all = all[st.Count:]
	}
	return list
}

// Write writes the head and a line for each question.
func (s Set) Write(w io.Writer) error {
	lines := json.NewEncoder(w)
	lines.SetEscapeHTML(false)
	if err := lines.Encode(head{format, s.Name, s.Roster, s.Seed, s.Rounds}); err != nil {
		return err
	}
	for _, q := range s.Questions {
		if err := lines.Encode(q); err != nil {
			return err
		}
	}
	return nil
}

// Read reads a set, for which roster is the roster where the file names none.
// It has a question proved by the bank of the set's roster.
func Read(r io.Reader, roster string, bank func(roster string) (*questions.Bank, error)) (Set, error) {
	s := Set{Name: "Question set", Roster: roster}
	limited := &io.LimitedReader{R: r, N: MaxBytes + 1}
	lines := bufio.NewScanner(limited)
	lines.Buffer(nil, maxLine)
	headed, n := false, 0
	for lines.Scan() {
		n++
		line := bytes.TrimPrefix(bytes.TrimSpace(lines.Bytes()), []byte("\ufeff"))
		if len(line) == 0 {
			continue
		}
		if !headed && len(s.Questions) == 0 && bytes.Contains(line, []byte(`"format"`)) {
			if err := s.readHead(line); err != nil {
				return s, fmt.Errorf("line %d: %w", n, err)
			}
			headed = true
			continue
		}
		var q questions.Question
		if err := json.Unmarshal(line, &q); err != nil {
			return s, fmt.Errorf("line %d is no question: %s", n, plain(err))
		}
		if s.Questions = append(s.Questions, q); len(s.Questions) > maxRounds*maxQuestions {
			return s, fmt.Errorf("a set has at most %d questions", maxRounds*maxQuestions)
		}
	}
	switch err := lines.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return s, fmt.Errorf("line %d is longer than %d bytes: a question has a line of its own", n+1, maxLine)
	case err != nil:
		return s, err
	case limited.N == 0:
		return s, fmt.Errorf("the file is larger than %d MiB", MaxBytes>>20)
	}
	return s, s.check(headed, bank)
}

func (s *Set) readHead(line []byte) error {
	var h head
	if err := json.Unmarshal(line, &h); err != nil {
		return fmt.Errorf("the head can't be read: %s", plain(err))
	}
	if h.Format != format {
		return fmt.Errorf("the format is %q, and this program reads %s", h.Format, format)
	}
	s.Name, s.Roster, s.Seed, s.Rounds = h.Name, h.Roster, h.Seed, h.Rounds
	return s.Named()
}

// Named says what is wrong with a set's name.
func (s Set) Named() error {
	hidden := func(r rune) bool { return !unicode.IsGraphic(r) }
	if !utf8.ValidString(s.Name) || utf8.RuneCountInString(s.Name) > maxName || strings.ContainsFunc(s.Name, hidden) {
		return fmt.Errorf("a set's name has at most %d characters, all of them visible", maxName)
	}
	return nil
}

// check holds the whole against itself and each question against the catalogue.
func (s *Set) check(headed bool, bank func(string) (*questions.Bank, error)) error {
	if !headed {
		s.Rounds = []Round{{Count: len(s.Questions)}}
	}
	if len(s.Rounds) < 1 || len(s.Rounds) > maxRounds {
		return fmt.Errorf("a set has 1 to %d rounds, not %d", maxRounds, len(s.Rounds))
	}
	sum := 0
	for i, r := range s.Rounds {
		if r.Count < 1 || r.Count > maxQuestions {
			return fmt.Errorf("round %d: there are 1 to %d questions, not %d", i+1, maxQuestions, r.Count)
		}
		if err := r.counted(); err != nil {
			return fmt.Errorf("round %d: %w", i+1, err)
		}
		sum += r.Count
	}
	if sum != len(s.Questions) {
		return fmt.Errorf("the head tells of %d questions, and there are %d", sum, len(s.Questions))
	}
	b, err := bank(s.Roster)
	if err != nil {
		return err
	}
	s.Language = s.Questions[0].Language
	for i, q := range s.Questions {
		if _, err := catalogue.ParseLanguage(string(q.Language)); err != nil || q.Language != s.Language {
			return fmt.Errorf("question %d is in the language %.20q, the first in %q: a set is in one of %s", i+1, q.Language.Tag(), s.Language.Tag(), strings.Join(catalogue.Tags(), ", "))
		}
	}
	for i := range s.Questions {
		if err := b.Prove(s.Questions[i]); err != nil {
			return fmt.Errorf("question %d: %w (its roster is %s)", i+1, err, s.Roster)
		}
		s.Questions[i].Rests = b.Rests(s.Questions[i])
	}
	for i, r := range s.Rounds {
		for n, st := range s.Stations(i) {
			if err := b.ProveStation(st); err != nil {
				return fmt.Errorf("round %d, station %d: %w", i+1, n+1, err)
			}
		}
		if at := questions.Repeats(s.Of(i)); at >= 0 && len(r.Stations) == 0 {
			return fmt.Errorf("round %d asks the same twice, the second time as its question %d", i+1, at+1)
		}
	}
	return nil
}

// counted holds a round's stations against its number of questions.
func (r Round) counted() error {
	n := len(r.Stations)
	if n == 0 {
		return nil
	}
	if n < questions.MinStations || n > questions.MaxStations {
		return fmt.Errorf("there are %d to %d stations, not %d", questions.MinStations, questions.MaxStations, n)
	}
	sum := 0
	for _, st := range r.Stations {
		if st.Count < 1 || st.Count > questions.MaxEach {
			return fmt.Errorf("a station has 1 to %d questions, not %d", questions.MaxEach, st.Count)
		}
		sum += st.Count
	}
	if sum != r.Count {
		return fmt.Errorf("its stations have %d questions, and it has %d", sum, r.Count)
	}
	return nil
}

// Bank is how a program without a hub finds a roster's bank.
func Bank(c *catalogue.Catalogue) func(roster string) (*questions.Bank, error) {
	return func(roster string) (*questions.Bank, error) {
		r, err := c.Roster(roster)
		if err != nil {
			return nil, err
		}
		return questions.NewBank(c, r), nil
	}
}

// plain tells what is wrong with a line without Go's type names.
func plain(err error) string {
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return fmt.Sprintf("%q can't be a %s", wrong.Field, wrong.Value)
	}
	return "it can't be read as JSON"
}
