package hub

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"fieldsign/game"
	"fieldsign/hub/cups"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
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

func (h *Hub) watched(code string) (yes bool) {
	if t := h.table(code); t != nil {
		t.do(func() { yes = len(t.clients) > 0 })
	}
	return yes
}

// endStray ends matches' games that their tournaments don't name, or no more:
// its start was cut short, or a correction took the game away, or the host
// recorded a result meanwhile. One that somebody is looking at stays till the
// next time.
func (h *Hub) endStray(ctx context.Context, now time.Time) {
	for _, t := range h.running() {
		var s game.State
		t.do(func() {
			if t.state.Phase != game.Ended && isMatch(&t.state) && len(t.clients) == 0 {
				s = t.state.Clone()
			}
		})
		if began, err := time.Parse(time.RFC3339, s.Began); err != nil || now.Sub(began) < starting {
			continue
		}
		if h.isStray(ctx, &s) {
			h.log.Info("ending a game that is no match's any more", "game", t.code)
			h.endGame(t.code)
		}
	}
}

func (h *Hub) isStray(ctx context.Context, s *game.State) (yes bool) {
	err := h.cups.Look(ctx, s.Plan.Match.Tournament, func(c cups.Cup) { yes = matchIn(&c.Sheet, s) == nil })
	return yes || errors.Is(err, cups.ErrUnknown)
}

// erase sends all who are in the games away for good, and forgets them.
// Tournaments are erased by the ids of their logs.
func (h *Hub) erase(ctx context.Context, ids ...string) error {
	return h.erased(ids, func() error { return h.store.Delete(ctx, ids...) })
}

// erased has the hub hold on to nothing that forget deletes from the store.
func (h *Hub) erased(ids []string, forget func() error) error {
	for _, id := range ids {
		if t := h.table(id); t != nil {
			t.do(func() { t.dismiss("the host has erased this game") })
			<-t.ended
		}
	}
	err := forget()
	for _, id := range ids {
		h.glimpses.Drop(id)
		h.setAside(id, nil)
		if code, ok := cups.CodeOf(id); ok {
			h.cups.Forget(code)
		}
	}
	return err
}

// dismiss ends a game's table, and tells its clients not to come back.
func (t *table) dismiss(why string) {
	for _, c := range t.clients {
		c.close(wire.CloseUnknownCode, why)
	}
	t.over = true
}

// eraseAll forgets all that is stored, and sends everyone away.
func (h *Hub) eraseAll(ctx context.Context) error {
	logs, err := logsIn(ctx, h.store)
	err = errors.Join(err, h.erased(logs, func() error { return EraseAll(ctx, h.store) }))
	h.photos.refresh(ctx)
	return err
}

// EraseAll forgets every game, tournament, photo and season in a store.
func EraseAll(ctx context.Context, s store.Store) error {
	logs, unlisted := logsIn(ctx, s)
	var photos []string
	list, unread := s.Photos(ctx)
	for _, p := range list {
		photos = append(photos, p.ID)
	}
	err := errors.Join(unlisted, unread, s.Delete(ctx, logs...), s.DeletePhoto(ctx, photos...))
	seasons, unseen := s.Seasons(ctx)
	err = errors.Join(err, unseen)
	for _, season := range seasons {
		err = errors.Join(err, s.DeleteSeason(ctx, season.ID))
	}
	return err
}

// logsIn are the ids of a store's games and tournaments.
func logsIn(ctx context.Context, s store.Store) (ids []string, err error) {
	games, err := s.Games(ctx)
	for _, g := range games {
		ids = append(ids, g.ID)
	}
	return ids, err
}

// EraseTournament forgets a tournament and its matches' games in a store that
// no hub has. It is a cups.ErrUnknown where there is none.
func EraseTournament(ctx context.Context, s store.Store, code string) error {
	ids, err := cups.Open(s).Logs(ctx, code)
	if err != nil {
		return err
	}
	return s.Delete(ctx, ids...)
}

// forgetName erases a team's nickname, by the game's table if it has one here.
func (h *Hub) forgetName(ctx context.Context, code, team string) (err error) {
	t := h.table(code)
	if t == nil {
		return ForgetName(ctx, h.store, code, team)
	}
	t.do(func() {
		before := t.state.Seq
		if err = t.decide(forgetting(team)); err != nil {
			return
		}
		t.commit(h.ctx)
		if err = errNotKept; t.state.Seq > before {
			err = redact(ctx, h.store, &t.state, team)
		}
	})
	h.glimpses.Drop(code)
	return err
}

var errNotKept = fmt.Errorf("%w: the change was not kept", store.ErrUnavailable)

func forgetting(team string) game.Command {
	return game.Command{Type: game.Forget, By: "host", Team: team}
}

// ForgetName erases a team's nickname in a game that no hub runs. The error is
// a refusal.Refusal where the game or the team does not allow it.
func ForgetName(ctx context.Context, s store.Store, code, team string) error {
	log, err := ReadLog(ctx, s, code)
	if err != nil {
		return err
	}
	state := game.Replay(log)
	events, err := game.Decide(state, forgetting(team), state.At)
	if err != nil {
		return err
	}
	b := store.Batch{Game: code}
	for _, e := range events {
		state = game.Apply(state, e)
		b.Records = append(b.Records, store.Record{Seq: e.Seq, Data: wire.Encode(e)})
	}
	b.Standings = kept(state.Standings())
	if err := s.Append(ctx, b); err != nil {
		return err
	}
	return redact(ctx, s, &state, team)
}

// redact takes the nickname out of what was stored before, given the state
// without it. A store that can't rewrite keeps it unseen until the game goes by
// itself.
func redact(ctx context.Context, s store.Store, now *game.State, team string) error {
	w, ok := s.(store.Rewriter)
	if !ok {
		return nil
	}
	record := func(r store.Record) ([]byte, error) {
		e, err := eventOf(r)
		if err != nil {
			return nil, fmt.Errorf("game %s: %w", now.Code, err)
		}
		switch {
		case e.Plan != nil:
			e.Plan.Match = now.Plan.Match // that has the sides' names
		case e.Team == team && e.Name != "":
			e.Name = game.Nameless
		default:
			return r.Data, nil
		}
		return wire.Encode(e), nil
	}
	line := func(l store.Standing) store.Standing {
		if l.Team == team {
			l.Name = game.Nameless
		}
		return l
	}
	return w.Rewrite(ctx, now.Code, record, line)
}

// eventOf reads an event as it is stored.
func eventOf(r store.Record) (e game.Event, err error) {
	if err := json.Unmarshal(r.Data, &e); err != nil {
		return e, fmt.Errorf("event %d can't be read: %w: %w", r.Seq, err, game.ErrMisfit)
	}
	return e, nil
}

// ReadLog reads a game from a store, running or ended. The log is one that can
// be replayed: where it doesn't fit the rules, the error wraps game.ErrMisfit.
func ReadLog(ctx context.Context, s store.Store, code string) ([]game.Event, error) {
	var log []game.Event
	var state game.State
	if cups.Is(code) {
		return nil, store.ErrUnknownGame
	}
	err := s.Read(ctx, code, 0, func(r store.Record) error {
		e, err := eventOf(r)
		if err == nil {
			state, err = game.Take(state, e)
		}
		log = append(log, e)
		return err
	})
	switch {
	case err != nil:
		return nil, fmt.Errorf("game %s: %w", code, err)
	case len(log) == 0:
		return nil, store.ErrUnknownGame
	}
	return log, nil
}

// unfit holds for the error of a log that can't be played or shown: it is
// damaged, or of another version.
func unfit(err error) bool { return errors.Is(err, game.ErrMisfit) || errors.Is(err, store.ErrCorrupt) }

// Unfit replays every log of a store, and says what is wrong with those that a
// hub will set aside.
func Unfit(ctx context.Context, s store.Store) (found []error, err error) {
	logs, err := s.Games(ctx)
	if err != nil {
		return nil, err
	}
	book := cups.Open(s)
	for _, l := range logs {
		var err error
		if code, ok := cups.CodeOf(l.ID); ok {
			err = book.Look(ctx, code, func(cups.Cup) {})
		} else {
			_, err = ReadLog(ctx, s, l.ID)
		}
		switch {
		case unfit(err):
			found = append(found, err)
		case err != nil:
			return found, err
		}
	}
	return found, nil
}
