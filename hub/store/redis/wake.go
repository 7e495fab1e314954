package redis

import (
	"context"
	"time"

	"github.com/redis/go-redis/v9"
)

const (
	quiet    = 3 * time.Second        // without a word, before the connection is tried
	breather = 100 * time.Millisecond // before a subscription is made anew
)

// photosChannel is sharded, so that a cluster's other servers hear nothing of it.
func (s *shared) photosChannel() string { return s.opts.Prefix + "on:photos" }

// wakePhotos tells the hubs that a photo has changed. It may fail: hubs look by
// themselves too, only later.
func (s *shared) wakePhotos(ctx context.Context) {
	_ = s.bounded(ctx, func(ctx context.Context) error { return s.client.SPublish(ctx, s.photosChannel(), "").Err() })
}

// PhotoChanges returns at once: the first wake-up comes when the server listens.
// A message carries nothing, for it may be lost; so each subscription that a
// server confirms, also on a connection made anew, is a wake-up as well.
func (s *shared) PhotoChanges(ctx context.Context) <-chan struct{} {
	wake := make(chan struct{}, 1)
	ctx, cancel := context.WithCancel(ctx)
	context.AfterFunc(s.life, cancel)
	s.wait.Go(func() {
		defer close(wake)
		defer cancel()
		for ctx.Err() == nil {
			s.listen(ctx, wake)
			if cluster, ok := s.client.(*redis.ClusterClient); ok {
				cluster.ReloadState(ctx) // the channel may have moved
			}
			select {
			case <-time.After(breather):
			case <-ctx.Done():
			}
		}
	})
	return wake
}

// listen wakes until the context ends, or until a cluster has moved the channel
// to another server. The client makes a broken connection anew by itself.
func (s *shared) listen(ctx context.Context, wake chan<- struct{}) {
	pubsub := s.client.SSubscribe(ctx, s.photosChannel())
	defer pubsub.Close()
	defer context.AfterFunc(ctx, func() { pubsub.Close() })()
	for heard := range pubsub.ChannelWithSubscriptions(redis.WithChannelHealthCheckInterval(quiet)) {
		if s, ok := heard.(*redis.Subscription); ok && s.Kind == "sunsubscribe" {
			return
		}
		select {
		case wake <- struct{}{}:
		default: // one that isn't taken yet stands for this as well
		}
	}
}
