package faults

import (
	"context"
	"math/rand/v2"
	"time"
)

// Watch looks at a game again and again, each time as a new board at a hub of
// chance: what it is shown is surely no older than its coming. It ends with the
// game or the context.
func Watch(ctx context.Context, g *Game, dice *rand.Rand, every time.Duration) {
	for pause(ctx, time.Duration(dice.Int64N(int64(every)))) {
		s, err := g.connect(ctx, dice, map[string]any{"type": "board"})
		if err != nil {
			continue
		}
		ended := g.watch(s)
		s.end()
		if ended {
			return
		}
	}
}

// watch notes the first state, and tells whether the game has ended.
func (g *Game) watch(s *session) bool {
	limit := time.After(patience)
	for {
		select {
		case f, ok := <-s.frames:
			if !ok || f.Type != "state" {
				if ok {
					continue
				}
				return false
			}
			if t, there := turnOf(f); there && !f.Paused && f.Phase != "ended" {
				g.Journal.note(lookOf(f, t, s.began, g.Journal.now()))
			}
			return f.Phase == "ended"
		case <-limit:
			return false
		}
	}
}
