//go:build unix

package redis

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

func TestWakeUps(t *testing.T) {
	for name, address := range map[string]func(t *testing.T) string{
		"one server": func(t *testing.T) string { return redistest.Start(t).URL() },
		"cluster":    func(t *testing.T) string { return redistest.StartCluster(t, 0).URL() },
	} {
		t.Run(name, func(t *testing.T) {
			s := open(t, address(t))
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			l, err := s.Acquire(ctx, "fox", "hub-a", time.Minute)
			must(t, err)
			must(t, s.Append(ctx, under(l, "fox", 1)))
			wakes := map[store.Topic]<-chan struct{}{}
			for _, topic := range []store.Topic{store.OnLog, store.OnIn, store.OnOut} {
				wakes[topic], err = s.Subscribe(ctx, "fox", topic)
				must(t, err)
				awaitWake(t, wakes[topic]) // for what was missed before
			}
			for _, wake := range wakes {
				awaitQuiet(t, wake)
			}
			must(t, s.Append(ctx, under(l, "fox", 2)))
			awaitWake(t, wakes[store.OnLog])
			must(t, s.Send(ctx, "fox", "hub-b", []byte("buzz")))
			awaitWake(t, wakes[store.OnIn])
			_, err = s.Tell(ctx, "fox", store.Position{Token: l.Token}, []store.Frame{{Data: []byte("state")}})
			must(t, err)
			awaitWake(t, wakes[store.OnOut])
			for topic, wake := range wakes {
				select {
				case <-wake:
					t.Errorf("woken on %s for another's change", topic)
				default:
				}
			}
			other, err := s.Subscribe(t.Context(), "fox", store.OnLog)
			must(t, err)
			awaitWake(t, other)
			cancel()
			for range wakes[store.OnLog] { // it is closed
			}
			must(t, s.Append(t.Context(), under(l, "fox", 3)))
			awaitWake(t, other)
			must(t, s.Close())
			for range other { // it is closed too
			}
			if _, err := s.Subscribe(t.Context(), "fox", store.OnLog); !errors.Is(err, ErrClosed) {
				t.Errorf("Subscribe after Close: %v", err)
			}
		})
	}
}

// TestWakeUpAfterRestart: what came while the server was gone is not missed.
func TestWakeUpAfterRestart(t *testing.T) {
	server := redistest.Start(t, redistest.Durable...)
	s := open(t, server.URL())
	must(t, s.Append(t.Context(), numbered("fox", 1, 1)))
	wake, err := s.Subscribe(t.Context(), "fox", store.OnLog)
	must(t, err)
	awaitWake(t, wake)
	server.Kill()
	server.Restart()
	awaitWake(t, wake)
	must(t, s.Append(t.Context(), numbered("fox", 2, 1)))
	awaitWake(t, wake)
}

// TestManySubscribers come and go on one line, and while the server is gone.
func TestManySubscribers(t *testing.T) {
	server := redistest.Start(t)
	s := open(t, server.URL())
	var wg sync.WaitGroup
	for i := range 64 {
		wg.Go(func() {
			game := fmt.Sprint("game-", i%8)
			for range 5 {
				ctx, cancel := context.WithCancel(t.Context())
				wake, err := s.Subscribe(ctx, game, store.OnIn)
				if err != nil {
					t.Error(err)
				} else {
					awaitWake(t, wake)
				}
				cancel()
			}
		})
	}
	time.Sleep(20 * time.Millisecond)
	server.Kill()
	server.Restart()
	wg.Wait()
	redistest.Eventually(t, "end of the last subscription", func() error {
		if n := server.Do("pubsub", "shardchannels"); n != "" {
			return errors.New(n)
		}
		return nil
	})
}

// TestSubscriptionMoves has a cluster give a game to another server.
func TestSubscriptionMoves(t *testing.T) {
	cluster := redistest.StartCluster(t, 1)
	s := open(t, cluster.URL())
	must(t, s.Append(t.Context(), numbered("fox", 1, 1)))
	wake, err := s.Subscribe(t.Context(), "fox", store.OnLog)
	must(t, err)
	awaitWake(t, wake)
	owner := cluster.Owner(s.keysOf("fox").log())
	cluster.HandOver(t, owner)
	awaitQuiet(t, wake)
	redistest.Eventually(t, "write that is accepted", func() error { return s.Append(t.Context(), numbered("fox", 2, 1)) })
	awaitWake(t, wake)
}

func awaitWake(t *testing.T, wake <-chan struct{}) {
	t.Helper()
	select {
	case _, open := <-wake:
		if !open {
			t.Fatal("the wake-ups have ended")
		}
	case <-time.After(10 * time.Second):
		t.Fatal("no wake-up")
	}
}

// awaitQuiet takes what wake-ups there are until no more come.
func awaitQuiet(t *testing.T, wake <-chan struct{}) {
	t.Helper()
	redistest.Eventually(t, "quiet", func() error {
		select {
		case <-wake:
			return errors.New("woken again")
		case <-time.After(500 * time.Millisecond):
			return nil
		}
	})
}

func TestMailbox(t *testing.T) {
	s := open(t, redistest.Start(t).URL())
	ctx := t.Context()
	wantErr(t, "to no game", s.Send(ctx, "fox", "hub-b", []byte("x")), store.ErrUnknownGame)
	a, err := s.Acquire(ctx, "fox", "hub-a", time.Minute)
	must(t, err)
	must(t, s.Append(ctx, under(a, "fox", 1)))
	for i := range 300 {
		must(t, s.Send(ctx, "fox", fmt.Sprint("hub-", i%2), fmt.Append(nil, i)))
	}
	first, err := s.Waiting(ctx, "fox")
	if err != nil || len(first) != pageLen || string(first[7].Data) != "7" || first[7].Hub != "hub-1" {
		t.Fatalf("%d frames wait, error %v", len(first), err)
	}
	must(t, s.Handled(ctx, "fox", a.Token, first[:200]))
	b, err := s.Acquire(ctx, "fox", "hub-a", time.Minute)
	must(t, err)
	wantErr(t, "the stale owner", s.Handled(ctx, "fox", a.Token, first[200:]), store.ErrFenced)
	rest, err := s.Waiting(ctx, "fox") // what the owner before left
	if err != nil || len(rest) != 100 || string(rest[0].Data) != "200" {
		t.Fatalf("%d frames wait, error %v", len(rest), err)
	}
	for range 2 {
		must(t, s.Handled(ctx, "fox", b.Token, rest))
	}
	must(t, s.Send(ctx, "fox", "hub-b", slices.Repeat([][]byte{[]byte("x")}, maxWaiting)...))
	wantErr(t, "a full mailbox", s.Send(ctx, "fox", "hub-b", []byte("x")), store.ErrFull)
}

func TestTold(t *testing.T) {
	s := open(t, redistest.Start(t).URL())
	ctx := t.Context()
	a, err := s.Acquire(ctx, "fox", "hub-a", time.Minute)
	must(t, err)
	start := store.Position{Token: a.Token}
	now, err := s.Told(ctx, "fox", store.Position{}, nil)
	if err != nil || now != start {
		t.Fatalf("position %v, error %v; want %v", now, err, start)
	}
	at := start
	for i := range 3 {
		frames := numberedFrames(100*i, 100)
		for range 2 { // repeated, as after a lost answer
			var next store.Position
			next, err = s.Tell(ctx, "fox", at, frames)
			must(t, err)
			if next.N != at.N+100 {
				t.Errorf("told up to %v after %v", next, at)
			}
		}
		at.N += 100
	}
	_, err = s.Tell(ctx, "fox", start, numberedFrames(7, 2))
	wantErr(t, "telling from a past position", err, store.ErrConflict)
	if heard, next, err := listen(ctx, s, start); err != nil || next != at || !slices.Equal(heard, texts(0, 300)) {
		t.Errorf("heard %d frames up to %v, error %v", len(heard), next, err)
	}
	if heard, next, err := listen(ctx, s, store.Position{Token: a.Token, N: 290}); err != nil || next != at || !slices.Equal(heard, texts(290, 10)) {
		t.Errorf("heard %q up to %v, error %v", heard, next, err)
	}
	_, _, err = listen(ctx, s, store.Position{Token: a.Token, N: 301}) // a failover lost it
	wantErr(t, "listening from what isn't there", err, store.ErrMissed)
	must(t, s.client.XDel(ctx, s.keysOf("fox").out(), fmt.Sprintf("%d-150", a.Token)).Err())
	heard, next, err := listen(ctx, s, start)
	if wantErr(t, "a gap", err, store.ErrMissed); len(heard) != 149 || next != at {
		t.Errorf("before the gap %d frames, to go on from %v", len(heard), next)
	}
	b, err := s.Acquire(ctx, "fox", "hub-a", time.Minute)
	must(t, err)
	_, err = s.Tell(ctx, "fox", at, numberedFrames(0, 1))
	wantErr(t, "the stale owner", err, store.ErrFenced)
	_, next, err = listen(ctx, s, at)
	if wantErr(t, "another owner", err, store.ErrMissed); next != (store.Position{Token: b.Token}) {
		t.Errorf("to go on from %v", next)
	}
}

// TestToldTooLate: a listener that slept past what is kept is told so.
func TestToldTooLate(t *testing.T) {
	s := open(t, redistest.Start(t).URL())
	a, err := s.Acquire(t.Context(), "fox", "hub-a", time.Minute)
	must(t, err)
	start := store.Position{Token: a.Token}
	at := start
	for i := range 3 {
		at, err = s.Tell(t.Context(), "fox", at, numberedFrames(i*maxTold, maxTold))
		must(t, err)
	}
	heard, next, err := listen(t.Context(), s, start)
	if wantErr(t, "listening too late", err, store.ErrMissed); len(heard) != 0 || next != at {
		t.Errorf("heard %d, to go on from %v", len(heard), next)
	}
}

// TestRelay has a hub without the game pass commands on until each is answered,
// while the game changes hands.
func TestRelay(t *testing.T) {
	s := open(t, redistest.Start(t).URL())
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	owner, err := s.Acquire(ctx, "fox", "hub-0", time.Minute)
	must(t, err)
	must(t, s.Append(ctx, under(owner, "fox", 1)))
	const commands = 40
	answers := make(chan string, 10*commands)
	wake, err := s.Subscribe(ctx, "fox", store.OnOut)
	must(t, err)
	at, err := s.Told(ctx, "fox", store.Position{}, nil)
	must(t, err)
	go func() {
		for range wake {
			at, err = s.Told(ctx, "fox", at, func(f store.Frame) error {
				answers <- string(f.Data)
				return nil
			})
			if err != nil && !errors.Is(err, store.ErrMissed) && ctx.Err() == nil {
				t.Errorf("Told: %v", err)
			}
		}
	}()
	calls, err := s.Subscribe(ctx, "fox", store.OnIn)
	must(t, err)
	go func() { // owners, one after another
		for hub := 1; ctx.Err() == nil; hub++ {
			serve(ctx, s, owner, 8, calls)
			s.Release(ctx, "fox", owner.Token)
			owner, _ = s.Acquire(ctx, "fox", fmt.Sprint("hub-", hub), time.Minute)
		}
	}()
	seen := map[string]bool{}
	for i := range commands {
		id := fmt.Sprint("command ", i)
		for !seen[id] { // no answer: send it again, under its own id
			must(t, s.Send(ctx, "fox", "hub-b", []byte(id)))
			seen[awaitAnswer(t, answers)] = true
		}
	}
}

// serve handles some commands as an owner does, those first that were left.
func serve(ctx context.Context, s *Store, l store.Lease, count int, calls <-chan struct{}) {
	at := store.Position{Token: l.Token}
	for count > 0 && ctx.Err() == nil {
		frames, err := s.Waiting(ctx, "fox")
		for i := range frames {
			frames[i].Hub = "hub-b"
		}
		if err == nil {
			at, err = s.Tell(ctx, "fox", at, frames)
		}
		if err == nil {
			err = s.Handled(ctx, "fox", l.Token, frames)
		}
		if err != nil {
			return
		}
		if count -= len(frames); len(frames) == 0 {
			<-calls
		}
	}
}

func awaitAnswer(t *testing.T, answers <-chan string) string {
	t.Helper()
	select {
	case a := <-answers:
		return a
	case <-time.After(500 * time.Millisecond):
		return "none"
	}
}

func listen(ctx context.Context, s *Store, after store.Position) (heard []string, at store.Position, err error) {
	at, err = s.Told(ctx, "fox", after, func(f store.Frame) error {
		heard = append(heard, string(f.Data))
		return nil
	})
	return heard, at, err
}

func texts(first, count int) (list []string) {
	for i := range count {
		list = append(list, fmt.Sprint(first+i))
	}
	return list
}

func numberedFrames(first, count int) (frames []store.Frame) {
	for _, text := range texts(first, count) {
		frames = append(frames, store.Frame{Hub: "hub-b", Data: []byte(text)})
	}
	return frames
}
