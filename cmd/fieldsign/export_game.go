package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"fieldsign/game"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/hub/tournaments/book"
)

// events writes a stored game's log, without what stays on the host's machine.
// Opening a store would create a missing file, so it is looked for first.
func (x exporting) events(ctx context.Context, w io.Writer) error {
	if _, err := os.Stat(x.data); err != nil {
		return fmt.Errorf("there are no games to export: %w; give their file with --data", err)
	}
	games, err := bolt.Open(x.data)
	if err != nil {
		return err
	}
	defer games.Close()
	lines := json.NewEncoder(w)
	lines.SetEscapeHTML(false)
	list, err := games.Games(ctx)
	if err != nil {
		return err
	}
	if !hasGame(list, x.game) {
		return unknownGame(list, x.game, x.data)
	}
	return games.Read(ctx, x.game, 0, func(r store.Record) error {
		var e game.Event
		if err := json.Unmarshal(r.Data, &e); err != nil {
			return fmt.Errorf("event %d of game %s is of another version of Fieldsign: %w", r.Seq, x.game, err)
		}
		return lines.Encode(x.shared(e))
	})
}

// shared is the event as others may have it: the secrets by which phones come
// back never leave, nicknames only if that is wished.
func (x exporting) shared(e game.Event) game.Event {
	e.Secret = ""
	if e.Name != "" && !x.names {
		e.Name = e.Team
	}
	if e.Plan != nil && e.Plan.Match != nil && !x.names {
		e.Plan.Match = e.Plan.Match.Hidden()
	}
	return e
}

// hasGame tells whether a game is in a list of logs, among which are
// tournaments' too.
func hasGame(list []store.Game, code string) bool {
	return slices.ContainsFunc(list, func(g store.Game) bool { return g.ID == code && !book.Is(g.ID) })
}

// unknownGame names the games that there are.
func unknownGame(list []store.Game, game, data string) error {
	var codes []string
	for _, g := range list {
		if !book.Is(g.ID) {
			codes = append(codes, g.ID)
		}
	}
	if len(codes) == 0 {
		return fmt.Errorf("no game %s in %s, nor any other", game, data)
	}
	return fmt.Errorf("no game %s in %s: there are %s", game, data, strings.Join(codes, ", "))
}
