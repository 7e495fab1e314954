package hub

import (
	"context"
	"errors"
	"slices"

	"fieldsign/game"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
)

// games is the hub as its tournaments see it.
type games struct{ h *Hub }

// Running leaves out what is decided and not yet stored.
func (g games) Running(code string) (s game.State, ok bool) {
	if t := g.h.table(code); t != nil {
		t.do(func() {
			if len(t.events) == 0 {
				s = t.state.Clone()
			}
		})
	}
	return s, s.Seq > 0
}

// Open opens a game under a code drawn before.
func (g games) Open(ctx context.Context, code string, wish plan.Wish, m *game.Match) error {
	if wish.Roster == "" {
		wish.Roster = g.h.roster
	}
	wish.Seed, wish.From = 0, ""
	plan, err := g.h.planner.Make(wish, game.Plan{})
	if err != nil {
		return err
	}
	plan.Match = m
	t, err := g.h.unused(ctx, code)
	if err != nil || t == nil {
		return errors.Join(err, errCodeTaken)
	}
	return g.h.begun(t, plan)
}

var errCodeTaken = errors.New("the join code drawn for the match is another game's: try again")

// End ends a game that nobody plays.
func (g games) End(code string) {
	if t := g.h.table(code); t != nil {
		t.do(func() {
			err := t.decide(game.Command{Type: game.End, By: "hub"})
			if t.commit(g.h.ctx); err != nil || t.state.Phase != game.Ended {
				g.h.log.Warn("a match's game was left open", "game", code, "error", err)
			}
		})
	}
}

// isMatch tells games of a tournament from those that stand alone.
func isMatch(s *game.State) bool { return s.Plan.Match != nil }

func seatsOf(s *game.State) []wire.SeatView {
	if !isMatch(s) {
		return nil
	}
	var seats []wire.SeatView
	for _, side := range s.Plan.Match.Sides {
		taken := slices.ContainsFunc(s.Teams, func(t game.Team) bool { return !t.Removed && t.Name == side })
		seats = append(seats, wire.SeatView{Name: side, Taken: taken})
	}
	return seats
}
