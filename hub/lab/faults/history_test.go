//go:build unix

package faults_test

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net"
	"net/http/httptest"
	"sync"
	"testing"
	"time"

	"fieldsign/hub"
	"fieldsign/hub/lab/faults"
	"fieldsign/hub/lab/flaky"
	"fieldsign/hub/lab/soak"
	"fieldsign/hub/retention"
	"fieldsign/hub/store/redis"
	"fieldsign/hub/store/redis/redistest"
	"fieldsign/questions/catalogue"
)

const (
	hostKey = "the-host-key-of-the-tests"
	lease   = 2 * time.Second
)

// oneHub is a hub in this process, with its own way to Redis.
func oneHub(t *testing.T, server *redistest.Server, seed uint64) (url string, wire *flaky.Proxy) {
	t.Helper()
	wire, err := flaky.Listen(server.Addr(), seed)
	if err != nil {
		t.Fatal(err)
	}
	s, err := redis.Open("redis://"+wire.Addr(), redis.Options{})
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	url = "http://" + listener.Addr().String()
	h, err := hub.New(hub.Config{Store: s, Catalogue: catalogue.Builtin(), HostKey: hostKey, Roster: "furbearers", Address: "http://test.example",
		HubAddress: url, Lease: lease, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err != nil {
		t.Fatal(err)
	}
	pages := httptest.NewUnstartedServer(h.Handler())
	pages.Listener.Close()
	pages.Listener = listener
	pages.Start()
	t.Cleanup(func() { h.Close(); pages.Close(); s.Close(); wire.Close() })
	return url, wire
}

// TestRandomHistories has teams press, answer and look on three hubs, in any
// order, while one hub after the other is cut off from Redis for longer than
// its lease. Each question of a buzz round is a history of its own.
func TestRandomHistories(t *testing.T) {
	const tables, teams = 10, 3
	wanted := soak.Size(50, 1000)
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	dice := rand.New(rand.NewPCG(seed, 0))
	server := redistest.Start(t, redistest.Durable...)
	var urls []string
	var wires []*flaky.Proxy
	for n := range uint64(3) {
		url, wire := oneHub(t, server, seed+n)
		wire.Set(flaky.Way{Jitter: time.Millisecond}, flaky.Way{Jitter: time.Millisecond})
		urls, wires = append(urls, url), append(wires, wire)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	defer cancel()
	var play, cuts sync.WaitGroup
	var games []*faults.Game
	var hosts []*faults.Host
	for n := range tables { // before any is played, for a plan takes computing
		g, err := faults.Create(ctx, urls[n%3], hostKey, urls)
		if err != nil {
			t.Fatal(err)
		}
		games = append(games, g)
	}
	for n, g := range games {
		one := func(who int) *rand.Rand { return rand.New(rand.NewPCG(seed, uint64(1+n*10+who))) }
		var rounds []map[string]any
		for i := range 10 {
			rounds = append(rounds, map[string]any{"name": "R", "kind": "buzz", "subjects": []string{"skull", "track"}, "count": wanted / 50, "seconds": 10, "points": 100, "wait": 20 * (i % 2)})
		}
		h := &faults.Host{Game: g, Teams: teams, Rounds: rounds, Dice: one(9)}
		hosts = append(hosts, h)
		play.Go(func() { h.Play(ctx) })
		for i := range teams {
			p := &faults.Phone{Game: g, Name: fmt.Sprint("Team ", i+1), Dice: one(i), Think: 30 * time.Millisecond}
			play.Go(func() { p.Play(ctx) })
			play.Go(func() { faults.Watch(ctx, g, one(5+i), 100*time.Millisecond) })
		}
	}
	over := make(chan struct{})
	cuts.Go(func() {
		for n := 0; ; n++ {
			select {
			case <-over:
				return
			case <-time.After(6 * time.Second):
			}
			wire := wires[dice.IntN(3)]
			wire.Freeze()
			time.Sleep(lease + lease/2)
			wire.Heal()
		}
	})
	for asked := 0; asked < wanted && ctx.Err() == nil; time.Sleep(50 * time.Millisecond) {
		asked = 0
		for _, h := range hosts {
			asked += h.Opened()
		}
	}
	close(over)
	cuts.Wait()
	for _, h := range hosts {
		h.End()
	}
	play.Wait()
	histories, ops := 0, 0
	s, err := redis.Open(server.URL(), redis.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for i, g := range games {
		log, _, err := retention.ReadLog(t.Context(), s, g.Code)
		if err != nil {
			t.Fatal(err)
		}
		if err := faults.Linearizable(log, g.Journal.Ops(), time.Minute); err != nil {
			t.Errorf("game %s: %v", g.Code, err)
		}
		histories += hosts[i].Opened()
		ops += len(g.Journal.Ops())
	}
	t.Logf("%d histories, %d presses, answers and looks", histories, ops)
	if histories < wanted {
		t.Errorf("%d histories, want %d", histories, wanted)
	}
}
