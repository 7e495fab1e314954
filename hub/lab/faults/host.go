package faults

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"sync/atomic"
	"time"

	"github.com/google/uuid"

	"fieldsign/hub/bot"
)

// Create opens a game at one of its hubs, whose store may be slow at first.
func Create(ctx context.Context, hub, hostKey string, hubs []string) (*Game, error) {
	ctx, cancel := context.WithTimeout(ctx, 10*patience)
	defer cancel()
	for {
		code, err := create(ctx, hub, hostKey)
		if err == nil {
			return &Game{Code: code, Hubs: hubs, HostKey: hostKey, Journal: NewJournal()}, nil
		}
		if !pause(ctx, again) {
			return nil, err
		}
	}
}

func create(ctx context.Context, hub, hostKey string) (string, error) {
	r, err := http.NewRequestWithContext(ctx, "POST", hub+"/games", bytes.NewReader(nil))
	if err != nil {
		return "", err
	}
	r.Header.Set("Authorization", "Bearer "+hostKey)
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return "", err
	}
	defer answer.Body.Close()
	var name struct{ Code, Message string }
	if err := json.NewDecoder(answer.Body).Decode(&name); err != nil || answer.StatusCode != http.StatusCreated {
		return "", fmt.Errorf("no new game: %s %+v %v", answer.Status, name, err)
	}
	return name.Code, nil
}

// Host leads a game: it starts once all teams are there, goes on whenever it
// may, and ends the game when it is told to. It belongs to one goroutine, save
// for what is said otherwise.
type Host struct {
	Game   *Game
	Teams  int
	Rounds []map[string]any // of the plan
	Dice   *rand.Rand

	opened  atomic.Int64 // questions
	refused atomic.Pointer[string]
	ending  atomic.Bool
	planned bool
	seen    uint64 // the last state's seq
	at      Place
}

// Opened is how many questions there were. It may be called by any goroutine.
func (h *Host) Opened() int { return int(h.opened.Load()) }

// Refused is why the last command that had no effect had none. It may be called by any goroutine.
func (h *Host) Refused() string {
	if why := h.refused.Load(); why != nil {
		return *why
	}
	return ""
}

// End has the game end. It may be called by any goroutine.
func (h *Host) End() { h.ending.Store(true) }

// Play leads until the game or the context ends.
func (h *Host) Play(ctx context.Context) {
	for !h.session(ctx) && pause(ctx, again) {
	}
}

// session tells whether the game has ended.
func (h *Host) session(ctx context.Context) bool {
	s, err := h.Game.connect(ctx, h.Dice, map[string]any{"type": "host", "key": h.Game.HostKey, "takeOver": true, "seen": h.seen})
	if err != nil {
		return false
	}
	defer s.end()
	ticks := time.NewTicker(again / 4)
	defer ticks.Stop()
	var state bot.Frame
	pending, heard := "", time.Now()
	for {
		select {
		case f, ok := <-s.frames:
			heard = time.Now()
			switch {
			case !ok:
				return false
			case f.Type == "state":
				h.seen = f.Seq
				if state = f; h.see(f) {
					return true
				}
			case pending != "" && f.ID == pending:
				if h.planned = h.planned || f.Type == "done"; f.Type == "refused" {
					h.refused.Store(&f.Message)
				}
				pending = ""
			}
		case <-ticks.C:
			limit := patience // the hub may be frozen
			if !h.planned {
				limit *= 10 // or compute a plan
			}
			if time.Since(heard) > limit {
				return false
			}
			if frame := h.wants(state); frame != nil && pending == "" {
				pending = uuid.NewString()
				frame["type"], frame["id"] = "do", pending
				h.Game.resend(ctx, s, frame)
			}
		}
	}
}

// see counts the questions, and tells whether the game has ended.
func (h *Host) see(f bot.Frame) bool {
	h.Game.Journal.hear(f.Notice)
	if t, ok := turnOf(f); ok && t.at != h.at {
		h.at = t.at
		h.opened.Add(1)
	}
	if f.Phase != "ended" {
		return false
	}
	var final []Line
	for _, l := range f.Leaders {
		final = append(final, Line{l.Team, l.Score})
	}
	h.Game.Journal.end(final)
	return true
}

// wants is what to do in a state, or nil.
func (h *Host) wants(f bot.Frame) map[string]any {
	switch {
	case f.Phase == "lobby" && !h.planned:
		return map[string]any{"action": "plan", "plan": map[string]any{"title": "Faults", "roster": "everything", "seed": 1 + h.Dice.IntN(1000), "rounds": h.Rounds}}
	case f.Phase == "lobby" && f.Teams < h.Teams:
		return nil
	case h.ending.Load():
		return map[string]any{"action": "end"}
	case f.Paused:
		return map[string]any{"action": "resume"}
	case f.Phase == "lobby" || f.Phase == "revealed" || f.Phase == "break":
		return map[string]any{"action": "next"}
	}
	return nil
}
