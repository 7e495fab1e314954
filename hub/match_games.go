package hub

import (
	"context"

	"fieldsign/game"
	"fieldsign/hub/plan"
)

// matchGames is the hub as its tournaments see it.
type matchGames struct{ h *Hub }

// Running leaves out what is decided and not yet stored.
func (g matchGames) Running(code string) (s game.State, ok bool) {
	if t := g.h.register.Table(code); t != nil {
		return t.Stored()
	}
	return s, false
}

// Open opens a game under a code drawn before, with the teams whose phones it knows.
func (g matchGames) Open(ctx context.Context, code string, wish plan.Wish, m *game.Match, teams ...game.Team) error {
	if wish.Roster == "" {
		wish.Roster = g.h.roster
	}
	plan, err := g.h.planner.Make(wish.Anew(""), game.Plan{})
	if err != nil {
		return err
	}
	plan.Match = m
	return g.h.register.CreateAs(ctx, code, plan, teams...)
}

// End ends a game that nobody plays.
func (g matchGames) End(code string) {
	if t := g.h.register.Table(code); t != nil {
		if err := t.Do(game.Command{Type: game.End, By: "hub"}); err != nil {
			g.h.log.Warn("a match's game was left open", "game", code, "error", err)
		}
	}
}

// Unseat frees a side's seat, where the game runs at this hub.
func (g matchGames) Unseat(code, side string) {
	t := g.h.register.Table(code)
	if t == nil {
		return
	}
	if err := t.RemoveTeam(side); err != nil {
		g.h.log.Warn("a side's seat was not freed in its match", "game", code, "error", err)
	}
}

// isMatch tells games of a tournament from those that stand alone.
func isMatch(s *game.State) bool { return s.Plan.Match != nil }
