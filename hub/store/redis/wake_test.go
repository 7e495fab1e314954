//go:build unix

package redis

import (
	"context"
	"errors"
	"testing"
	"time"

	"fieldsign/hub/store"
	"fieldsign/hub/store/redis/redistest"
)

var fox = store.Photo{PhotoInfo: store.PhotoInfo{ID: "fox", Species: "red fox", Subject: "skull"}, JPEG: []byte("a photo")}

func TestWakeUps(t *testing.T) {
	t.Parallel()
	for name, address := range map[string]func(t *testing.T) string{
		"one server": func(t *testing.T) string { return redistest.Start(t).URL() },
		"cluster":    func(t *testing.T) string { return redistest.StartCluster(t, 0).URL() },
	} {
		t.Run(name, func(t *testing.T) {
			at := address(t)
			s := open(t, at)
			other := beside(t, s, at)
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			wake, longer := s.PhotoChanges(ctx), s.PhotoChanges(t.Context())
			awaitWake(t, wake) // for what was missed before
			awaitWake(t, longer)
			must(t, other.PutPhoto(ctx, fox))
			awaitWake(t, wake)
			must(t, other.DeletePhoto(ctx, fox.ID))
			awaitWake(t, wake)
			cancel()
			awaitEnd(t, wake)
			awaitWake(t, longer)
			must(t, s.Close())
			awaitEnd(t, longer)
		})
	}
}

// What came while the server was gone is not missed.
func TestWakeUpAfterRestart(t *testing.T) {
	t.Parallel()
	server := redistest.Start(t, redistest.Durable...)
	s := open(t, server.URL())
	wake := s.PhotoChanges(t.Context())
	awaitWake(t, wake)
	server.Kill()
	server.Restart()
	awaitWake(t, wake)
	must(t, s.PutPhoto(t.Context(), fox))
	awaitWake(t, wake)
}

// A cluster gives the channel to another server.
func TestSubscriptionMoves(t *testing.T) {
	t.Parallel()
	cluster := redistest.StartCluster(t, 1)
	s := open(t, cluster.URL())
	wake := s.PhotoChanges(t.Context())
	awaitWake(t, wake)
	must(t, s.client.Set(t.Context(), s.photosChannel(), "", 0).Err()) // a key in the channel's slot
	cluster.HandOver(t, cluster.Owner(s.photosChannel()))
	redistest.Eventually(t, "a wake-up by the new server", func() error {
		if err := s.PutPhoto(t.Context(), fox); err != nil {
			return err
		}
		select {
		case <-wake:
			return nil
		case <-time.After(time.Second):
			return errors.New("none")
		}
	})
}

func awaitWake(t *testing.T, wake <-chan struct{}) {
	t.Helper()
	select {
	case _, open := <-wake:
		if !open {
			t.Fatal("the wake-ups have ended")
		}
	case <-time.After(time.Minute):
		t.Fatal("no wake-up")
	}
}

func awaitEnd(t *testing.T, wake <-chan struct{}) {
	t.Helper()
	for {
		select {
		case _, open := <-wake:
			if !open {
				return
			}
		case <-time.After(time.Minute):
			t.Fatal("the wake-ups don't end")
		}
	}
}
