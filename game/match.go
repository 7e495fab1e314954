package game

import (
	"fmt"
	"slices"
	"strings"

	"fieldsign/refusal"
)

// Match says which match of a tournament a game is. The rules mind its sides
// alone: they keep their seats for the teams of these names.
type Match struct {
	Tournament string   `json:"tournament"` // its code
	Number     int      `json:"number"`
	Sides      []string `json:"sides"`           // home first
	Level      []int    `json:"level,omitempty"` // the scores of the level game that this one is the play-off of
}

func (m *Match) check() error {
	if m == nil {
		return nil
	}
	if len(m.Sides) < 2 || len(m.Level) != 0 && len(m.Level) != len(m.Sides) || invalid(m.Tournament) {
		return refusal.New(refusal.BadPlan, "A match has a tournament, two sides or more, and in a play-off the scores of all of them.")
	}
	for i, side := range m.Sides {
		if name, err := cleanName(side); err != nil || name != side || slices.ContainsFunc(m.Sides[:i], func(o string) bool { return strings.EqualFold(o, side) }) {
			return refusal.New(refusal.BadPlan, fmt.Sprintf("%q is no side's name, or there twice.", side))
		}
	}
	return nil
}

// admits refuses a name that is no side's.
func (m *Match) admits(name string) error {
	if m == nil || slices.Contains(m.Sides, name) {
		return nil
	}
	return refusal.New(refusal.NotASide, fmt.Sprintf("This game is a match between %s: only they play.", strings.Join(m.Sides, " and ")))
}

// SideScores are the scores of a match's sides; ok is false for a game that is
// no match, and where a side has no team or name any more, or nothing was asked.
func (s *State) SideScores() (scores []int, ok bool) {
	if s.Plan.Match == nil || len(s.Plan.Rounds) == 0 {
		return nil, false
	}
	for _, side := range s.Plan.Match.Sides {
		i := slices.IndexFunc(s.Teams, func(t Team) bool { return !t.Removed && t.Name == side })
		if i < 0 || side == Nameless { // which team that was is not to be known
			return nil, false
		}
		scores = append(scores, s.Teams[i].Score)
	}
	return scores, s.asked()
}

// asked reports whether a question has been closed, or the teams have been at
// a station.
func (s *State) asked() bool {
	return s.Round > 0 || s.Question > 0 || s.Turn > 0 || slices.ContainsFunc(s.Teams, func(t Team) bool { return t.Verdict != "" })
}

// Hidden is a match without its sides' names.
func (m Match) Hidden() *Match {
	m.Sides = slices.Clone(m.Sides)
	for i := range m.Sides {
		m.Sides[i] = fmt.Sprintf("side %d", i+1)
	}
	return &m
}
