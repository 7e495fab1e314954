package redis

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"

	"fieldsign/hub/store"
	"fieldsign/hub/store/seal"
)

// Append writes the batch in one step. With ErrUnavailable it may have been kept all the same: repeat it, or read.
func (s *shared) Append(ctx context.Context, b store.Batch) error {
	args, err := s.arguments(b)
	if err != nil {
		return err
	}
	begins := len(b.Records) > 0 && b.Records[0].Seq == 1
	if begins { // noted first, so that no game is ever without its line
		if err := s.games.mark(ctx, b.Game); err != nil {
			return err
		}
	}
	k := s.keysOf(b.Game)
	word, rest, err := s.run(ctx, appendStep, []string{k.meta(), k.log(), k.order(), k.lines()}, args...)
	if err != nil {
		return err
	}
	if err := refusal(word, rest, b.Game); err != nil {
		return err
	}
	if begins {
		// Again, since a Delete of the game before may have come between. The
		// batch is kept: its answer is not this call's to spoil.
		_ = s.games.mark(ctx, b.Game)
	}
	return nil
}

// arguments are those of append.lua. It refuses what no log may hold.
func (s *shared) arguments(b store.Batch) ([]any, error) {
	if err := checkID("a game", b.Game); err != nil {
		return nil, err
	}
	var first uint64
	if len(b.Records) > 0 {
		first = b.Records[0].Seq
	}
	args := []any{token(b.Token), first, len(b.Records), b.Ended, millis(s.opts.KeepIdle), millis(s.opts.KeepEnded), -1}
	if b.Standings != nil {
		args[len(args)-1] = len(b.Standings)
	}
	for i, r := range b.Records {
		if want := first + uint64(i); r.Seq != want {
			return nil, fmt.Errorf("store: game %q: the batch goes from record %d to %d without the one between", b.Game, want-1, r.Seq)
		}
		if len(r.Data) > maxRecord {
			return nil, fmt.Errorf("store: game %q: record %d has %d bytes, more than %d", b.Game, r.Seq, len(r.Data), maxRecord)
		}
		args = append(args, seal.Close(b.Game, r.Seq, r.Data))
	}
	return appendLines(args, b)
}

// appendLines adds each team and its line, sealed with its place.
func appendLines(args []any, b store.Batch) ([]any, error) {
	teams := map[string]bool{}
	for i, line := range b.Standings {
		if teams[line.Team] {
			return nil, fmt.Errorf("store: game %q: standings: team %q is there twice", b.Game, line.Team)
		}
		teams[line.Team] = true
		data, err := json.Marshal(line)
		if err != nil {
			return nil, fmt.Errorf("store: game %q: standings: %w", b.Game, err)
		}
		args = append(args, line.Team, seal.Close(lineOf(b.Game), uint64(i+1), data))
	}
	return args, nil
}

// lineOf is whose a sealed line is: not the log's.
func lineOf(game string) string { return game + " standings" }

func token(t uint64) string { return strconv.FormatUint(t, 10) }

// Delete forgets the games.
func (s *shared) Delete(ctx context.Context, games ...string) error {
	return each(ctx, games, s.delete)
}

// each does something for each id, and goes on where one fails.
func each(ctx context.Context, ids []string, do func(context.Context, string) error) (err error) {
	for _, id := range ids {
		err = errors.Join(err, do(ctx, id))
	}
	return err
}

// delete has the game's line go first: one without a game is swept up, a game
// without one would be lost sight of.
func (s *shared) delete(ctx context.Context, game string) error {
	if err := s.games.remove(ctx, game); err != nil {
		return err
	}
	return s.bounded(ctx, func(ctx context.Context) error {
		return s.client.Del(ctx, s.keysOf(game).all()...).Err()
	})
}
