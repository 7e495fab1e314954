package hub

import (
	"context"
	"errors"
	"net/http"
	"slices"

	"fieldsign/game"
	"fieldsign/hub/table"
	"fieldsign/hub/wire"
)

// The next game of the same teams. It takes their names and the hashes of their
// tokens over, so that each phone comes back as its team. Only once that is
// stored does the ended game name it: its phones and boards then go there by
// themselves, those too that slept meanwhile.

// postNext makes the game that follows an ended one, or finds it where there is
// one already: to ask twice makes one game.
func (h *Hub) postNext(w http.ResponseWriter, r *http.Request) {
	var wish struct{ Steered bool } // whether the debrief has a say in what is asked
	if r.ContentLength != 0 && !wire.ReadBody(w, r, &wish) {
		return
	}
	h.known(w, r, r.PathValue("code"), func(t *table.Table) {
		code, err := h.follow(context.WithoutCancel(r.Context()), t, wish.Steered)
		if err != nil {
			wire.Fail(w, h.log, err)
			return
		}
		wire.Answer(w, http.StatusCreated, wire.GameName{Code: code})
	})
}

func (h *Hub) follow(ctx context.Context, t *table.Table, steered bool) (string, error) {
	var before game.State
	t.Look(func(s *game.State) { before = s.Clone() })
	if before.Next != "" {
		return before.Next, nil
	}
	if _, err := game.Decide(before, game.Command{Type: game.Follow, By: "hub", Code: "code"}, before.At); err != nil {
		return "", err // before there is a game for nothing
	}
	from := ""
	if steered {
		from = before.Code
	}
	code, err := h.create(ctx, h.planner.WishOf(before.Plan).Anew(from), carried(before.Teams)...)
	if err != nil {
		return "", err
	}
	return h.lead(ctx, t, code)
}

// lead has the ended game name the new one. Where another was quicker, or the
// store refuses, nobody goes to the new one, and it is erased.
func (h *Hub) lead(ctx context.Context, t *table.Table, code string) (next string, err error) {
	err = t.Do(game.Command{Type: game.Follow, By: "hub", Code: code})
	t.Look(func(s *game.State) { next = s.Next })
	if next != "" {
		err = nil
	}
	if next != code {
		err = errors.Join(err, h.erase(ctx, code))
	}
	return next, err
}

// carried are the teams that go on: those still in the game whose name is kept.
func carried(teams []game.Team) []game.Team {
	return slices.DeleteFunc(slices.Clone(teams), func(t game.Team) bool { return t.Removed || t.Name == game.Nameless })
}
