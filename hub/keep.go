package hub

import (
	"context"
	"errors"
	"time"

	"fieldsign/game"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
)

// What the hub forgets: games and tournaments that nobody has touched for as
// long as is configured, and whatever the host erases. A store that lets games go by
// itself says nothing of when they were written, and is left to it.

const (
	purgeEvery = 24 * time.Hour
	restart    = 24 * time.Hour // that an unfinished game is kept at least, so that its hub may come back
	starting   = time.Hour      // from a match's start until its tournament must have named the game
)

// keepTidy ends stray games and forgets old ones once a day, until the context ends.
func (h *Hub) keepTidy(ctx context.Context) {
	tick := time.NewTicker(purgeEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case now := <-tick.C:
			h.endStray(ctx, now)
			h.purge(ctx, now)
		}
	}
}

// purge forgets the games that have been kept for long enough. One that
// somebody is looking at stays till the next time.
func (h *Hub) purge(ctx context.Context, now time.Time) {
	if h.kept == 0 {
		return
	}
	games, err := h.store.Games(ctx)
	if err != nil {
		h.log.Error("old games are not looked for", "error", err)
	}
	var gone []string
	for _, g := range games {
		if h.old(g, now) && !h.watched(g.ID) {
			gone = append(gone, g.ID)
		}
	}
	if len(gone) == 0 {
		return
	}
	if err := h.erase(ctx, gone...); err != nil {
		h.log.Error("old games are not forgotten", "games", gone, "error", err)
	} else {
		h.log.Info("forgot old games", "games", gone)
	}
}

// old: a game whose time is not known is never.
func (h *Hub) old(g store.Game, now time.Time) bool {
	keep := h.kept
	if !g.Ended {
		keep = max(keep, restart)
	}
	return !g.Written.IsZero() && now.Sub(g.Written) >= keep
}

func (h *Hub) watched(code string) bool {
	t := h.register.Table(code)
	return t != nil && t.Watched()
}

// endStray ends matches' games that their tournaments don't name, or no more:
// its start was cut short, or a correction took the game away, or the host
// recorded a result meanwhile. One that somebody is looking at stays till the
// next time.
func (h *Hub) endStray(ctx context.Context, now time.Time) {
	for _, t := range h.register.Tables() {
		var s game.State
		t.Look(func(now *game.State) {
			if now.Phase != game.Ended && isMatch(now) {
				s = now.Clone()
			}
		})
		if began, err := time.Parse(time.RFC3339, s.Began); err != nil || now.Sub(began) < starting || t.Watched() {
			continue
		}
		if h.tournaments.IsStray(ctx, &s) {
			h.log.Info("ending a game that is no match's any more", "game", t.Code)
			matchGames{h}.End(t.Code)
		}
	}
}

// erase sends all who are in the games away for good, and forgets them.
// Tournaments are erased by the ids of their logs.
func (h *Hub) erase(ctx context.Context, ids ...string) error {
	return h.erased(ids, func() error { return h.store.Delete(ctx, ids...) })
}

// erased has the hub hold on to nothing that forget deletes from the store.
func (h *Hub) erased(ids []string, forget func() error) error {
	for _, id := range ids {
		if t := h.register.Table(id); t != nil {
			t.Dismiss("the host has erased this game")
		}
	}
	err := forget()
	for _, id := range ids {
		h.tournaments.Forget(id)
		h.register.SetAside(id, nil)
	}
	return err
}

// eraseAll forgets all that is stored, and sends everyone away.
func (h *Hub) eraseAll(ctx context.Context) error {
	logs, err := retention.LogsIn(ctx, h.store)
	err = errors.Join(err, h.erased(logs, func() error { return retention.EraseAll(ctx, h.store) }))
	h.pictures.Refresh(ctx)
	return err
}

// forgetName erases a team's nickname, by the game's table if it has one here.
func (h *Hub) forgetName(ctx context.Context, code, team string) error {
	defer h.tournaments.Forget(code)
	if t := h.register.Table(code); t != nil {
		return t.ForgetName(team)
	}
	return retention.ForgetName(ctx, h.store, code, team)
}
