package game

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"fieldsign/game/alike"
	"fieldsign/refusal"
)

// Bounds of a plan and of names.
const (
	MaxName      = 24 // characters
	MaxSeason    = 40
	maxMarks     = 3 // combining ones in a row
	MaxTitle     = 60
	maxRounds    = 20
	MaxQuestions = 200 // of a round
	minSeconds   = 3
	maxSeconds   = 600
	maxPoints    = 1000
)

func (p Plan) check() error {
	if !plain(p.Title, MaxTitle) || !plain(p.Roster, MaxTitle) {
		return refusal.New(refusal.BadPlan, fmt.Sprintf("A title and a roster's name have at most %d characters, all of them visible.", MaxTitle))
	}
	if !plain(p.Season, MaxSeason) {
		return refusal.New(refusal.BadPlan, fmt.Sprintf("A season's name has at most %d characters, all of them visible.", MaxSeason))
	}
	if err := p.Match.check(); err != nil {
		return err
	}
	if len(p.Rounds) > maxRounds {
		return refusal.New(refusal.BadPlan, fmt.Sprintf("A game has at most %d rounds.", maxRounds))
	}
	for i, r := range p.Rounds {
		if err := r.check(i + 1); err != nil {
			return err
		}
	}
	return nil
}

func (r Round) check(n int) error {
	if !plain(r.Name, MaxTitle) {
		return badRound(n, "a name has at most %d characters, all of them visible.", MaxTitle)
	}
	return r.sound(n)
}

func badRound(n int, what string, args ...any) error {
	return refusal.New(refusal.BadPlan, fmt.Sprintf("Round %d: ", n)+fmt.Sprintf(what, args...))
}

// sound is what playing a round relies on. Its name may be any: what a name may
// be changes from version to version, and stored ones stay.
func (r Round) sound(n int) error {
	bad := func(what string, args ...any) error { return badRound(n, what, args...) }
	switch {
	case r.Kind != Open && r.Kind != Buzz && r.Kind != Rotating:
		return bad("the kind is open, buzz or station, not %q.", r.Kind)
	case r.Seconds < minSeconds || r.Seconds > maxSeconds:
		return bad("the time is %d to %d seconds, not %d.", minSeconds, maxSeconds, r.Seconds)
	case len(r.Questions) < 1 || len(r.Questions) > MaxQuestions:
		return bad("there are 1 to %d questions, not %d.", MaxQuestions, len(r.Questions))
	case r.Points < 1 || r.Points > maxPoints || r.Speed < 0 || r.Speed > maxPoints || r.Penalty < 0 || r.Penalty > maxPoints:
		return bad("points are 1 to %d; the speed part and the penalty 0 to %d.", maxPoints, maxPoints)
	case r.Wait < 0 || r.Wait > maxWait:
		return bad("a buzz waits 0 to %d ms for slower links, not %d.", maxWait, r.Wait)
	}
	seen := map[string]bool{}
	for _, q := range r.Questions {
		switch {
		case q.ID == "" || seen[q.ID]:
			return bad("each question needs an id of its own; %q is not.", q.ID)
		case len(q.Options) < 2 || q.Key < 0 || q.Key >= len(q.Options):
			return bad("question %s needs two options or more and a key among them.", q.ID)
		case len(q.Plates) != 0 && len(q.Plates) != len(q.Options):
			return bad("question %s has %d drawings for %d options: give one for each.", q.ID, len(q.Plates), len(q.Options))
		case slices.ContainsFunc(q.texts(), invalid):
			return bad("question %s holds text that is not UTF-8.", q.ID)
		}
		seen[q.ID] = true
	}
	if slices.ContainsFunc(r.Subjects, invalid) {
		return bad("a subject is not UTF-8.")
	}
	return r.checkStations(bad)
}

func (q Question) texts() []string {
	return slices.Concat([]string{q.ID, q.Subject, q.Prompt, q.Reason, q.About.Template, q.Proof}, q.Options,
		q.About.Species, q.About.Stated, q.About.Animals, q.About.Traits)
}

func invalid(text string) bool { return !utf8.ValidString(text) }

// plain holds for a line that is short enough and shows all that it holds.
func plain(text string, most int) bool {
	return utf8.ValidString(text) && utf8.RuneCountInString(text) <= most && !strings.ContainsFunc(text, hidden)
}

// freeName cleans a team's name and refuses a bad one, and one that is taken or
// looks like it. The sides of a match are called as its tournament has them.
func (s *State) freeName(raw, self string) (string, error) {
	name, err := cleanName(raw)
	if err != nil {
		return "", err
	}
	if err := s.Plan.Match.admits(name); err != nil {
		return "", err
	}
	look := alike.Of(name)
	for i := range s.Teams {
		t := &s.Teams[i]
		if !t.Removed && t.ID != self && (strings.EqualFold(t.Name, name) || s.Plan.Match == nil && t.look.Like(look)) {
			return "", refusal.New(refusal.NameTaken, fmt.Sprintf("The name %q is taken: choose another.", name))
		}
	}
	return name, nil
}

func cleanName(raw string) (string, error) {
	if len(raw) > 16*MaxName {
		return "", refusal.New(refusal.BadName, fmt.Sprintf("A team name has at most %d characters.", MaxName))
	}
	if !utf8.ValidString(raw) {
		return "", refusal.New(refusal.BadName, "A team name has to be UTF-8.")
	}
	name := strings.Join(strings.Fields(strings.Map(unstyled, norm.NFC.String(raw))), " ")
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		return "", refusal.New(refusal.BadName, "A team needs a name.")
	case n > MaxName:
		return "", refusal.New(refusal.BadName, fmt.Sprintf("A team name has at most %d characters; this one has %d.", MaxName, n))
	case strings.ContainsFunc(name, hidden):
		return "", refusal.New(refusal.BadName, "A team name may not hold invisible or direction-changing characters.")
	case stacked(name):
		return "", refusal.New(refusal.BadName, fmt.Sprintf("A team name may not stack more than %d marks on a letter.", maxMarks))
	case strings.ContainsAny(name, "<>&\"\\`{}"):
		return "", refusal.New(refusal.BadName, "A team name may not hold markup: leave out < > & \" \\ ` { }.")
	case !strings.ContainsFunc(name, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }):
		return "", refusal.New(refusal.BadName, "A team name needs a letter or a digit.")
	}
	return name, nil
}

// hidden holds for characters that show nothing or change the direction of
// what follows: controls, format characters, private and unassigned ones, and
// the fillers and the empty Braille cell, which count as letters or symbols.
func hidden(r rune) bool {
	return !unicode.IsGraphic(r) || unicode.In(r, unicode.Cf, unicode.Other_Default_Ignorable_Code_Point) || r == '\u2800'
}

// unstyled drops variation selectors, which phones put after emoji: two names
// may not differ by them alone.
func unstyled(r rune) rune {
	if unicode.Is(unicode.Variation_Selector, r) {
		return -1
	}
	return r
}

// stacked holds for a name with a tower of combining marks, which would cover
// the lines above it.
func stacked(name string) bool {
	marks := 0
	for _, r := range name {
		if !unicode.Is(unicode.Mn, r) && !unicode.Is(unicode.Me, r) {
			marks = 0
		} else if marks++; marks > maxMarks {
			return true
		}
	}
	return false
}
