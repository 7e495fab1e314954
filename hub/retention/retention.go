// Package retention reads what a store keeps of games, and forgets it: a game's
// log, a team's name, a tournament, everything.
package retention

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/hub/tournaments/book"
	"fieldsign/hub/wire"
)

// EraseAll forgets every game, tournament, photo and season in a store.
func EraseAll(ctx context.Context, s store.Store) error {
	logs, unlisted := LogsIn(ctx, s)
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

// LogsIn are the ids of a store's games and tournaments.
func LogsIn(ctx context.Context, s store.Store) (ids []string, err error) {
	games, err := s.Games(ctx)
	for _, g := range games {
		ids = append(ids, g.ID)
	}
	return ids, err
}

// EraseTournament forgets a tournament and its matches' games in a store that
// no hub has. It is a book.ErrUnknown where there is none.
func EraseTournament(ctx context.Context, s store.Store, code string) error {
	ids, err := book.Open(s).Logs(ctx, code)
	if err != nil {
		return err
	}
	return s.Delete(ctx, ids...)
}

func Forgetting(team string) game.Command {
	return game.Command{Type: game.Forget, By: "host", Team: team}
}

// ForgetName erases a team's nickname in a game that no hub runs. The error is
// a refusal.Refusal where the game or the team does not allow it.
func ForgetName(ctx context.Context, s store.Store, code, team string) error {
	_, state, err := ReadLog(ctx, s, code)
	if err != nil {
		return err
	}
	events, err := game.Decide(state, Forgetting(team), state.At)
	if err != nil {
		return err
	}
	b := store.Batch{Game: code}
	for _, e := range events {
		state = game.Apply(state, e)
		b.Records = append(b.Records, store.Record{Seq: e.Seq, Data: wire.Encode(e)})
	}
	b.Standings = Kept(state.Standings())
	if err := s.Append(ctx, b); err != nil {
		return err
	}
	return Redact(ctx, s, &state, team)
}

// Redact takes the nickname out of what was stored before, given the state
// without it. A store that can't rewrite keeps it unseen until the game goes by
// itself.
func Redact(ctx context.Context, s store.Store, now *game.State, team string) error {
	w, ok := s.(store.Rewriter)
	if !ok {
		return nil
	}
	record := func(r store.Record) ([]byte, error) {
		e, err := EventOf(r)
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

// EventOf reads an event as it is stored.
func EventOf(r store.Record) (e game.Event, err error) {
	if err := json.Unmarshal(r.Data, &e); err != nil {
		return e, fmt.Errorf("event %d can't be read: %w: %w", r.Seq, err, game.ErrMisfit)
	}
	return e, nil
}

// ReadLog reads a game from a store, running or ended: its log, and what follows from
// that. Where the log doesn't fit the rules, the error wraps game.ErrMisfit.
func ReadLog(ctx context.Context, s store.Store, code string) (log []game.Event, state game.State, err error) {
	if book.Is(code) {
		return nil, state, store.ErrUnknownGame
	}
	err = s.Read(ctx, code, 0, func(r store.Record) error {
		e, err := EventOf(r)
		if err == nil {
			state, err = game.Take(state, e)
		}
		log = append(log, e)
		return err
	})
	switch {
	case err != nil:
		return nil, game.State{}, fmt.Errorf("game %s: %w", code, err)
	case len(log) == 0:
		return nil, state, store.ErrUnknownGame
	}
	return log, state, nil
}

// IsUnfit holds for the error of a log that can't be played or shown: it is
// damaged, or of another version.
func IsUnfit(err error) bool {
	return errors.Is(err, game.ErrMisfit) || errors.Is(err, store.ErrCorrupt)
}

// Unfit replays every log of a store, and says what is wrong with those that a
// hub will set aside.
func Unfit(ctx context.Context, s store.Store) (found []error, err error) {
	logs, err := s.Games(ctx)
	if err != nil {
		return nil, err
	}
	all := book.Open(s)
	for _, l := range logs {
		var err error
		if code, ok := book.CodeOf(l.ID); ok {
			err = all.Look(ctx, code, func(book.Tournament) {})
		} else {
			_, _, err = ReadLog(ctx, s, l.ID)
		}
		switch {
		case IsUnfit(err):
			found = append(found, err)
		case err != nil:
			return found, err
		}
	}
	return found, nil
}

func Kept(list []game.Standing) []store.Standing {
	out := make([]store.Standing, len(list))
	for i, s := range list {
		out[i] = store.Standing{Rank: s.Rank, Team: s.Team, Name: s.Name, Score: s.Score}
	}
	return out
}
