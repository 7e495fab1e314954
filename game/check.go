package game

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Bounds of a plan and of names.
const (
	MaxName      = 24 // characters
	maxTitle     = 60
	maxRounds    = 20
	maxQuestions = 200
	maxSeconds   = 600
	maxPoints    = 1000
)

func (p Plan) check() error {
	if utf8.RuneCountInString(p.Title) > maxTitle || strings.ContainsFunc(p.Title, hidden) {
		return Refusal{"bad_plan", fmt.Sprintf("A title has at most %d characters, all of them visible.", maxTitle)}
	}
	if len(p.Rounds) > maxRounds {
		return Refusal{"bad_plan", fmt.Sprintf("A game has at most %d rounds.", maxRounds)}
	}
	for i, r := range p.Rounds {
		if err := r.check(i + 1); err != nil {
			return err
		}
	}
	return nil
}

func (r Round) check(n int) error {
	bad := func(what string, args ...any) error {
		return Refusal{"bad_plan", fmt.Sprintf("Round %d: ", n) + fmt.Sprintf(what, args...)}
	}
	switch {
	case r.Kind != Open && r.Kind != Buzz:
		return bad("the kind is open or buzz, not %q.", r.Kind)
	case utf8.RuneCountInString(r.Name) > maxTitle || strings.ContainsFunc(r.Name, hidden):
		return bad("a name has at most %d characters, all of them visible.", maxTitle)
	case r.Seconds < 3 || r.Seconds > maxSeconds:
		return bad("the time is 3 to %d seconds, not %d.", maxSeconds, r.Seconds)
	case len(r.Questions) < 1 || len(r.Questions) > maxQuestions:
		return bad("there are 1 to %d questions, not %d.", maxQuestions, len(r.Questions))
	case r.Points < 1 || r.Points > maxPoints || r.Speed < 0 || r.Speed > maxPoints || r.Penalty < 0 || r.Penalty > maxPoints:
		return bad("points are 1 to %d; the speed part and the penalty 0 to %d.", maxPoints, maxPoints)
	}
	for _, q := range r.Questions {
		if len(q.Options) < 2 || q.Key < 0 || q.Key >= len(q.Options) {
			return bad("question %s needs two options or more and a key among them.", q.ID)
		}
	}
	return nil
}

// freeName cleans a team's name and refuses a bad or a taken one.
func (s *State) freeName(raw, self string) (string, error) {
	name, err := cleanName(raw)
	if err != nil {
		return "", err
	}
	for i := range s.Teams {
		t := &s.Teams[i]
		if !t.Removed && t.ID != self && strings.EqualFold(t.Name, name) {
			return "", Refusal{"name_taken", fmt.Sprintf("The name %q is taken: choose another.", name)}
		}
	}
	return name, nil
}

func cleanName(raw string) (string, error) {
	if len(raw) > 16*MaxName || !utf8.ValidString(raw) {
		return "", Refusal{"bad_name", fmt.Sprintf("A team name has at most %d characters.", MaxName)}
	}
	name := strings.Join(strings.Fields(norm.NFC.String(raw)), " ")
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		return "", Refusal{"bad_name", "A team needs a name."}
	case n > MaxName:
		return "", Refusal{"bad_name", fmt.Sprintf("A team name has at most %d characters; this one has %d.", MaxName, n)}
	case strings.ContainsFunc(name, hidden):
		return "", Refusal{"bad_name", "A team name may not hold invisible or direction-changing characters."}
	case strings.ContainsAny(name, "<>&\"\\`{}"):
		return "", Refusal{"bad_name", "A team name may not hold markup: leave out < > & \" \\ ` { }."}
	case !strings.ContainsFunc(name, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }):
		return "", Refusal{"bad_name", "A team name needs a letter or a digit."}
	}
	return name, nil
}

// hidden holds for characters that show nothing or change the direction of
// what follows: controls, format characters, private and unassigned ones.
func hidden(r rune) bool {
	return r != ' ' && !unicode.IsGraphic(r) || unicode.Is(unicode.Cf, r)
}
