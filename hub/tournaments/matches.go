package tournaments

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"fieldsign/game"
	"fieldsign/game/tournament"
	"fieldsign/hub/codes"
	"fieldsign/hub/once"
	"fieldsign/hub/plan"
	"fieldsign/hub/retention"
	"fieldsign/hub/tournaments/book"
	"fieldsign/refusal"
)

// A match of a tournament is a game that keeps its seats for the two sides.
// Its end records the result; where that can't be (a level match of a bracket,
// a side that never came), the host decides.

// errNothing gives a command up that has nothing to do.
var errNothing = errors.New("nothing to do")

// startMatch opens a game for a match and says so in the tournament. A level
// match of a bracket is started again with a play-off question. Between the two
// writes a crash leaves a game that no match names: nobody is sent there.
func (all *Tournaments) startMatch(ctx context.Context, id string, wish hostCommand) error {
	code := codes.New()
	start := wish.command()
	start.Game = code
	var match game.Match
	var title string
	var before string     // the game that it is started in place of
	var teams []game.Team // whose phones have signed in
	err := all.Book.Decide(ctx, id, func(c book.Tournament) (tournament.Command, error) {
		events, err := tournament.Decide(c.State, start)
		if err != nil || len(events) == 0 {
			return start, errors.Join(err, errNothing)
		}
		m := c.Matches[start.Match-1]
		before, title, teams = m.Game, titleOf(c.Name, m.ID), phonesOf(&c, &m)
		match = game.Match{Tournament: id, Number: m.ID, Sides: []string{c.Entrants[m.Home.Entrant-1].Name, c.Entrants[m.Away.Entrant-1].Name}}
		return start, errNothing
	})
	if match.Number == 0 {
		return unlessNothing(err)
	}
	played := wish.Plan
	if level := all.levelOf(ctx, id, match.Number, before); level != nil {
		match.Level, played = level, playOff(wish.Plan, all.Roster)
	}
	if len(played.Rounds) == 0 {
		played = plan.First(all.Roster)
	}
	played.Title = title
	if err := all.Games.Open(ctx, code, played, &match, teams...); err != nil {
		return err
	}
	if err := all.Book.Do(ctx, id, start); err != nil {
		all.Games.End(code)
		return err
	}
	return nil
}

// titleOf is a match's title. The sides are not in it, so that their names can
// be taken back from the game, and from the season that it counts in.
func titleOf(name string, match int) string {
	end := fmt.Sprintf(": match %d", match)
	letters := []rune(cmp.Or(name, "Tournament"))
	return string(letters[:min(len(letters), game.MaxTitle-len(end))]) + end
}

// unlessNothing is the refusal in an error, or nil for a command that has
// taken effect before.
func unlessNothing(err error) error {
	var r refusal.Refusal
	switch {
	case errors.As(err, &r):
		return r
	case errors.Is(err, errNothing):
		return nil
	}
	return err
}

// levelOf is the scores of a bracket's match that has ended level, or nil.
func (all *Tournaments) levelOf(ctx context.Context, id string, match int, code string) []int {
	inBracket := false
	err := all.Book.Look(ctx, id, func(c book.Tournament) { inBracket = c.Bracket > 0 && match >= c.Bracket })
	if err != nil || !inBracket || code == "" {
		return nil
	}
	s, err := all.glimpse(ctx, code)
	scores, ok := s.SideScores()
	if err != nil || !ok || s.Phase != game.Ended || scores[0] != scores[1] {
		return nil
	}
	if s.Plan.Match.Level != nil {
		return s.Plan.Match.Level // nobody had the play-off's question right: the next one
	}
	return scores
}

// playOff is a plan of one question to buzz for. It parts the sides and counts
// in no season: the level game has.
func playOff(like plan.Wish, roster string) plan.Wish {
	r := plan.First(roster).Rounds[1]
	if len(like.Rounds) > 0 {
		r.Subjects, roster = like.Rounds[0].Subjects, like.Roster
	}
	r.Name, r.Count = "Play-off", 1
	return plan.Wish{Roster: roster, Language: like.Language, Rounds: []plan.RoundWish{r}}
}

// RecordMatch takes a game's scores over as its match's result, once: one that
// the host has taken back since stays so. A level match of a bracket, one that
// a side never came to, and one that has got another game wait for the host.
func (all *Tournaments) RecordMatch(ctx context.Context, s *game.State) {
	m := s.Plan.Match
	scores, ok := s.SideScores()
	if !ok {
		return
	}
	err := all.Book.Decide(ctx, m.Tournament, func(c book.Tournament) (tournament.Command, error) {
		played := matchIn(&c.Sheet, s)
		if played == nil || wasRecorded(&c, s.Code) {
			return tournament.Command{}, errNothing
		}
		return resultOf(played, s, scores), nil
	})
	switch {
	case err == nil:
		all.Log.Info("a match has its result", "tournament", m.Tournament, "match", m.Number, "game", s.Code)
	case errors.Is(err, errNothing), refusal.Is(err, refusal.Level):
	default:
		all.Log.Warn("a match's result waits until its tournament is looked at again", "tournament", m.Tournament, "match", m.Number, "error", err)
	}
}

// matchIn is the match that is being played in a game, or nil.
func matchIn(sheet *tournament.Sheet, s *game.State) *tournament.Match {
	n := s.Plan.Match.Number
	if n < 1 || n > len(sheet.Matches) || sheet.Matches[n-1].Game != s.Code || !sheet.Matches[n-1].Running() {
		return nil
	}
	return &sheet.Matches[n-1]
}

// resultOf is the command that records a game: its scores, or those before a
// play-off with whom that made the winner.
func resultOf(m *tournament.Match, s *game.State, scores []int) tournament.Command {
	c := tournament.Command{Type: tournament.Record, By: "hub", ID: recordID(s.Code), Match: m.ID, Outcome: tournament.Played, Home: scores[0], Away: scores[1]}
	if level := s.Plan.Match.Level; level != nil {
		c.Home, c.Away = level[0], level[1]
		switch {
		case scores[0] > scores[1]:
			c.Winner = m.Home.Entrant
		case scores[1] > scores[0]:
			c.Winner = m.Away.Entrant
		}
	}
	return c
}

func recordID(code string) string { return "game " + code }

func wasRecorded(c *book.Tournament, code string) bool {
	return slices.ContainsFunc(c.Log, func(e tournament.Event) bool { return e.By == "hub" && e.Cmd == recordID(code) })
}

// states are states of games that this hub does not run: ended ones for
// good, others for a moment, so that pages that ask again and again don't have
// whole logs read each time.
type states = once.Map[string, game.State]

const (
	glimpseTime  = 3 * time.Second
	mostGlimpses = 256
)

func newStates() *states {
	return &states{Most: mostGlimpses, Good: func(s game.State) time.Duration {
		if s.Phase == game.Ended {
			return once.Forever
		}
		return glimpseTime
	}}
}

// glimpse is a game as it stands, wherever it is played.
func (all *Tournaments) glimpse(ctx context.Context, code string) (s game.State, err error) {
	if s, ok := all.Games.Running(code); ok {
		return s, nil
	}
	return all.glimpses.Get(code, func() (game.State, error) {
		_, s, err := retention.ReadLog(context.WithoutCancel(ctx), all.Store, code)
		return s, err
	})
}
