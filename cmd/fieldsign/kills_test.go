//go:build unix

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"path/filepath"
	"testing"
	"time"

	"fieldsign/game"
	"fieldsign/hub/lab/faults"
	"fieldsign/hub/lab/soak"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
)

// TestKilledAtRandom kills a hub with its own file under four games, again and
// again, and each time holds the file against what the bots were told.
func TestKilledAtRandom(t *testing.T) {
	t.Parallel()
	kills := soak.Size(3, 100)
	data, port := filepath.Join(t.TempDir(), "games.db"), freePort(t)
	p := start(t, data, port)
	ctx, cancel := context.WithCancel(t.Context())
	f := &fleet{T: t}
	t.Cleanup(func() { cancel(); f.play.Wait() })
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	dice := rand.New(rand.NewPCG(seed, 1))
	for n := range 4 {
		g, err := faults.Create(ctx, p.url(), testKey, []string{p.url()})
		if err != nil {
			t.Fatal(err)
		}
		f.enter(ctx, g, seed, n)
	}
	for range kills {
		for before := acknowledged(f.games); acknowledged(f.games) < before+4; time.Sleep(5 * time.Millisecond) {
			if ctx.Err() != nil {
				t.Fatal("nothing is acknowledged any more")
			}
		}
		time.Sleep(time.Duration(dice.IntN(100)) * time.Millisecond)
		p.kill()
		auditFile(t, data, f.games)
		p = start(t, data, port)
	}
	for _, h := range f.hosts {
		h.End()
	}
	f.play.Wait()
	p.kill()
	auditFile(t, data, f.games)
	t.Logf("%d kills, %d commands acknowledged, none lost", kills, acknowledged(f.games))
}

func acknowledged(games []*faults.Game) (n int) {
	for _, g := range games {
		n += g.Journal.Acknowledged()
	}
	return n
}

// auditFile looks at the file while no hub has it.
func auditFile(t *testing.T, data string, games []*faults.Game) {
	t.Helper()
	s, err := bolt.Open(data)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for _, g := range games {
		log, _, err := retention.ReadLog(t.Context(), s, g.Code)
		if err != nil {
			t.Fatal(err)
		}
		standings, err := s.Standings(t.Context(), g.Code)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := g.Journal.Audit(log, standings, g.Journal.Ops()); err != nil {
			t.Fatalf("game %s: %v", g.Code, err)
		}
	}
}

// TestReadyWithALongLog starts on a game of ten thousand events, in the long run of a hundred thousand.
func TestReadyWithALongLog(t *testing.T) {
	t.Parallel()
	const atOnce = 1000
	events := soak.Size(10_000, 100_000)
	data := filepath.Join(t.TempDir(), "games.db")
	s, err := bolt.Open(data)
	if err != nil {
		t.Fatal(err)
	}
	var state game.State
	batch := store.Batch{Game: "long-game-01"}
	do := func(c game.Command) {
		decided, err := game.Decide(state, c, state.At+1)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range decided {
			state = game.Apply(state, e)
			b, _ := json.Marshal(e)
			batch.Records = append(batch.Records, store.Record{Seq: e.Seq, Data: b})
		}
		if len(batch.Records) >= atOnce || int(state.Seq) == events {
			if err := s.Append(t.Context(), batch); err != nil {
				t.Fatal(err)
			}
			batch.Records = nil
		}
	}
	question := game.Question{ID: "q1", Subject: "skull", Prompt: "Whose?", Options: []string{"a", "b"}}
	do(game.Command{Type: game.Create, By: "hub", Code: batch.Game, Began: "2026-01-01T00:00:00Z", Plan: game.Plan{Title: "Long", Roster: "everything", Seed: 1,
		Rounds: []game.Round{{Name: "R", Kind: game.Open, Seconds: 600, Points: 1, Questions: []game.Question{question}}}}})
	for n := range 100 {
		do(game.Command{Type: game.Join, By: "hub", Name: fmt.Sprint("Team ", n), Secret: fmt.Sprint("secret ", n)})
	}
	do(game.Command{Type: game.Next, By: "host"})
	for int(state.Seq) < events {
		do(game.Command{Type: []string{game.Pause, game.Resume}[state.Seq%2], By: "host", ID: fmt.Sprint(state.Seq)})
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	p := start(t, data, freePort(t))
	for {
		r, err := http.Get(p.url() + "/readyz")
		if err == nil {
			r.Body.Close()
			if r.StatusCode == http.StatusOK {
				break
			}
		}
		if time.Since(began) > time.Minute {
			t.Fatalf("not ready: %v", err)
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Logf("ready %v after its start, with a log of %d events", time.Since(began).Round(time.Millisecond), events)
	if p.code != batch.Game {
		t.Errorf("it goes on with %s", p.code)
	}
}
