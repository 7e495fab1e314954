//go:build unix

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"syscall"
	"testing"
	"time"

	"fieldsign/game"
	"fieldsign/hub/lab/faults"
	"fieldsign/hub/lab/flaky"
	"fieldsign/hub/lab/soak"
	"fieldsign/hub/store"
	"fieldsign/hub/store/redis"
	"fieldsign/hub/store/redis/redistest"
)

// The fault suite: three programs on a real Redis, twenty games that bots play
// by all of them, and one failure after another.

const (
	faultLease = 2 * time.Second
	recovery   = 3 * time.Minute // a bound for a crowded machine, on which three hubs first make their games' questions; what it took is told
)

// often runs a test of the suite once, or as often as FIELDSIGN_SOAK says.
func often(t *testing.T, run func(*testing.T)) {
	t.Parallel()
	if !soak.Long() {
		run(t)
		return
	}
	runs, err := strconv.Atoi(os.Getenv("FIELDSIGN_SOAK"))
	if err != nil {
		t.Fatalf("FIELDSIGN_SOAK is a number of runs, not %q", os.Getenv("FIELDSIGN_SOAK"))
	}
	for n := range runs {
		t.Run(fmt.Sprint("run ", n+1), run)
	}
}

// fleet is three hubs and the games that are played on them.
type fleet struct {
	*testing.T
	redis []string // as each hub reaches it
	hubs  []*program
	store store.Shared
	games []*faults.Game
	hosts []*faults.Host
	play  sync.WaitGroup
}

// newFleet begins so many games of three teams, dealt over the hubs. direct is
// Redis without any proxy.
func newFleet(t *testing.T, direct string, games int, by ...string) *fleet {
	t.Helper()
	f := &fleet{T: t, redis: by}
	var urls []string
	for i := range by {
		f.hubs = append(f.hubs, f.begin(i, freePort(t)))
		urls = append(urls, f.hubs[i].url())
	}
	var err error
	if f.store, err = redis.Open(direct, redis.Options{}); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	t.Cleanup(func() { cancel(); f.play.Wait(); f.store.Close() })
	seed := rand.Uint64()
	t.Logf("seed %d, lease %v, %d games on %d hubs", seed, faultLease, games, len(by))
	for n := range games {
		g, err := faults.Create(ctx, urls[n%len(urls)], testKey, urls)
		if err != nil {
			t.Fatal(err)
		}
		f.enter(ctx, g, seed, n)
	}
	f.goesOn("the beginning")
	return f
}

// enter has a host and three phones play a game.
func (f *fleet) enter(ctx context.Context, g *faults.Game, seed uint64, n int) {
	const teams = 3
	dice := func(who int) *rand.Rand { return rand.New(rand.NewPCG(seed, uint64(n*100+who))) }
	var rounds []map[string]any
	for i := range soak.Size(6, 20) {
		kind := []string{"buzz", "buzz", "open"}[i%3]
		rounds = append(rounds, map[string]any{"name": "R", "kind": kind, "subjects": []string{"skull", "track"}, "count": 10, "seconds": 20,
			"points": 100, "speed": 50 * (i % 2), "penalty": 30, "wait": 40 * (i % 3)})
	}
	host := &faults.Host{Game: g, Teams: teams, Rounds: rounds, Dice: dice(99)}
	f.games, f.hosts = append(f.games, g), append(f.hosts, host)
	f.play.Go(func() { host.Play(ctx) })
	for i := range teams {
		p := &faults.Phone{Game: g, Name: fmt.Sprint("Team ", i+1), Dice: dice(i), Think: 400 * time.Millisecond}
		f.play.Go(func() { p.Play(ctx) })
	}
}

// begin starts the hub with this number, on the port where it was before.
func (f *fleet) begin(i, port int) *program {
	f.Helper()
	return start(f.T, filepath.Join(f.TempDir(), "unused.db"), port, "--redis", f.redis[i], "--lease", faultLease.String())
}

func (f *fleet) restart(i int) { f.hubs[i] = f.begin(i, f.hubs[i].port) }

func (f *fleet) signal(i int, s syscall.Signal) {
	f.Helper()
	if err := f.hubs[i].cmd.Process.Signal(s); err != nil {
		f.Fatal(err)
	}
}

// goesOn waits until each game has asked two more questions, and holds what was
// acknowledged till then against the store.
func (f *fleet) goesOn(after string) {
	f.Helper()
	began, from := time.Now(), make([]int, len(f.hosts))
	for i, h := range f.hosts {
		from[i] = h.Opened()
	}
	for i, h := range f.hosts {
		for ; h.Opened() < from[i]+2; time.Sleep(20 * time.Millisecond) {
			if time.Since(began) > recovery {
				f.Fatalf("after %s game %s stands still: its question is number %d, and the host was last refused with %q", after, f.games[i].Code, from[i], h.Refused())
			}
		}
	}
	f.Logf("after %s: all games have asked two more questions within %v; %d acknowledged so far", after, time.Since(began).Round(10*time.Millisecond), f.audit(after))
}

// audit returns how many commands have been acknowledged.
func (f *fleet) audit(after string) int {
	f.Helper()
	acknowledged, lost := 0, 0
	for _, g := range f.games {
		ops := g.Journal.Ops() // before the log is read
		missing, err := g.Journal.Audit(f.log(g), f.standings(g), ops)
		if err != nil {
			f.Errorf("after %s, game %s: %v", after, g.Code, err)
		}
		lost += missing
		acknowledged += g.Journal.Acknowledged()
	}
	if lost > 0 {
		f.Logf("after %s: %d acknowledged commands are lost, and their games said so", after, lost)
	}
	return acknowledged
}

func (f *fleet) log(g *faults.Game) []game.Event {
	f.Helper()
	var log []game.Event
	redistest.Eventually(f, "log of "+g.Code, func() error {
		log = nil
		return f.store.Read(f.Context(), g.Code, 0, func(r store.Record) error {
			var e game.Event
			err := json.Unmarshal(r.Data, &e)
			log = append(log, e)
			return err
		})
	})
	return log
}

func (f *fleet) standings(g *faults.Game) (list []store.Standing) {
	f.Helper()
	redistest.Eventually(f, "standings of "+g.Code, func() (err error) {
		list, err = f.store.Standings(f.Context(), g.Code)
		return err
	})
	return list
}

// end has all games end, and holds everything against the store: each command,
// the scores, and the order of each question's buzz.
func (f *fleet) end() {
	f.Helper()
	for _, h := range f.hosts {
		h.End()
	}
	over := make(chan struct{})
	go func() { f.play.Wait(); close(over) }()
	select {
	case <-over:
	case <-time.After(recovery):
		f.Fatal("some games don't end")
	}
	acknowledged, told, questions := f.audit("the end"), 0, 0
	for i, g := range f.games {
		questions += f.hosts[i].Opened()
		if g.Journal.Lost() {
			told++
		} else if err := faults.Linearizable(f.log(g), g.Journal.Ops(), time.Minute); err != nil {
			f.Errorf("game %s: %v", g.Code, err)
		}
	}
	f.Logf("%d games, %d questions, %d commands acknowledged; %d games were told of a loss", len(f.games), questions, acknowledged, told)
}

// lossless fails where a game was told of a loss.
func (f *fleet) lossless() {
	f.Helper()
	for _, g := range f.games {
		if g.Journal.Lost() {
			f.Errorf("game %s was told of a loss", g.Code)
		}
	}
}

// TestFaults injects what must lose nothing: Redis keeps its log with every write.
// The short run has a game or two for each hub, and the two faults that a
// school is most likely to meet.
func TestFaults(t *testing.T) {
	games, faults := soak.Size(4, 20), soak.Size(2, 6)
	often(t, func(t *testing.T) { losslessFaults(t, games, faults) })
}

type fault struct {
	name   string
	inject func()
}

func losslessFaults(t *testing.T, games, faults int) {
	server := redistest.Start(t, redistest.Durable...)
	wire, err := flaky.Listen(server.Addr(), 1)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { wire.Close() })
	f := newFleet(t, server.URL(), games, server.URL(), server.URL(), "redis://"+wire.Addr())
	for _, fault := range []fault{
		{"a hub was killed", func() { f.hubs[0].kill(); time.Sleep(faultLease + time.Second); f.restart(0) }},
		{"Redis was killed and read its file", func() { server.Kill(); time.Sleep(time.Second); server.Restart() }},
		{"Redis was frozen", func() { server.Pause(); time.Sleep(faultLease + time.Second); server.Resume() }},
		{"a hub was frozen past its lease", func() {
			f.signal(1, syscall.SIGSTOP)
			time.Sleep(faultLease + 5*time.Second) // the others have gone on long since
			f.signal(1, syscall.SIGCONT)
		}},
		{"a hub was cut off from Redis, half open", func() { wire.Freeze(); time.Sleep(faultLease + 2*time.Second); wire.Heal() }},
		{"a hub was cut off from Redis", func() { wire.Cut(); time.Sleep(faultLease + time.Second); wire.Heal() }},
	}[:faults] {
		fault.inject()
		f.goesOn(fault.name)
	}
	f.end()
	f.lossless()
}

// TestFaultsSentinel kills the primary; a sentinel set has a replica replace it,
// and the killed one come back as a replica. Replication is asynchronous: what
// was acknowledged a moment before may be lost, but never in silence.
func TestFaultsSentinel(t *testing.T) {
	soak.Only(t)
	often(t, func(t *testing.T) {
		set := redistest.StartWatched(t, redistest.Durable...)
		f := newFleet(t, set.URL(), 20, set.URL(), set.URL(), set.URL())
		old := set.Primary()
		f.failover(old, func() error {
			if set.Primary() == old {
				return fmt.Errorf("it is still %s", old.Addr())
			}
			return nil
		}, set.Whole)
	})
}

// TestFaultsCluster kills one primary of three, whose replica takes over by itself.
func TestFaultsCluster(t *testing.T) {
	soak.Only(t)
	often(t, func(t *testing.T) {
		set := redistest.StartCluster(t, 1, redistest.Durable...)
		f := newFleet(t, set.URL(), 20, set.URL(), set.URL(), set.URL())
		f.failover(set.Primaries()[rand.IntN(3)], func() error {
			if n := len(set.Primaries()); n != 3 {
				return fmt.Errorf("%d of 3 live", n)
			}
			return nil
		}, set.Whole)
	})
}

func (f *fleet) failover(primary *redistest.Server, replaced, whole func() error) {
	f.Helper()
	primary.Kill()
	killed := time.Now()
	redistest.Eventually(f, "new primary", replaced)
	f.Logf("there is another primary %v after the kill", time.Since(killed).Round(10*time.Millisecond))
	f.goesOn("the failover")
	primary.Restart()
	redistest.Eventually(f, "set that is whole again", whole)
	f.goesOn("the return of the killed one")
	f.end()
}
