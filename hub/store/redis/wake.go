package redis

import (
	"context"
	"errors"
	"maps"
	"net"
	"slices"
	"sync"
	"time"

	"github.com/redis/go-redis/v9"

	"fieldsign/hub/store"
)

const (
	quiet    = 3 * time.Second        // without a word, before a line is tried
	breather = 100 * time.Millisecond // before a broken line is made anew
)

// switchboard has the lines on which wake-ups come in: one for all games where
// one server has them all, and one for each game in a cluster, where shards
// speak for themselves.
//
// A message carries nothing, for it may be lost: only a stream is read, by id.
// So every subscription that a server confirms, on a line made anew too, is a
// wake-up as well.
type switchboard struct {
	client redis.UniversalClient
	life   context.Context // of the store
	end    context.CancelFunc
	wait   sync.WaitGroup // lines and subscriptions

	mu    sync.Mutex
	lines map[string]*line
}

// line is one connection. Its loop, run, alone reads from it; its fields are
// guarded by the switchboard's lock.
type line struct {
	board  *switchboard
	name   string
	pubsub *redis.PubSub
	wakes  map[string][]chan struct{} // by channel
}

func newSwitchboard(client redis.UniversalClient) *switchboard {
	b := &switchboard{client: client, lines: map[string]*line{}}
	b.life, b.end = context.WithCancel(context.Background())
	return b
}

// close ends all subscriptions.
func (b *switchboard) close() {
	b.end()
	b.mu.Lock()
	for _, l := range b.lines {
		l.hangUp()
	}
	b.mu.Unlock()
	b.wait.Wait()
}

// Subscribe returns at once: the first wake-up comes when the server listens.
func (s *Store) Subscribe(ctx context.Context, game string, topic store.Topic) (<-chan struct{}, error) {
	if err := checkID("a game", game); err != nil {
		return nil, err
	}
	k := s.keysOf(game)
	name := ""
	if s.cluster() {
		name = k.base
	}
	return s.board.subscribe(ctx, name, k.channel(topic))
}

func (b *switchboard) subscribe(ctx context.Context, name, channel string) (<-chan struct{}, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.life.Err() != nil {
		return nil, ErrClosed
	}
	l := b.lines[name]
	if l == nil {
		l = &line{board: b, name: name, pubsub: b.client.SSubscribe(b.life), wakes: map[string][]chan struct{}{}}
		b.lines[name] = l
		b.wait.Go(l.run)
	}
	wake := make(chan struct{}, 1)
	l.wakes[channel] = append(l.wakes[channel], wake)
	b.wait.Go(func() {
		defer close(wake)
		l.settle(channel)
		select {
		case <-ctx.Done():
		case <-b.life.Done():
		}
		l.leave(channel, wake)
		l.settle(channel)
	})
	return wake, nil
}

func (l *line) leave(channel string, wake chan struct{}) {
	l.board.mu.Lock()
	defer l.board.mu.Unlock()
	l.wakes[channel] = slices.DeleteFunc(l.wakes[channel], func(w chan struct{}) bool { return w == wake })
	if len(l.wakes[channel]) == 0 {
		delete(l.wakes, channel)
	}
	if len(l.wakes) == 0 {
		l.hangUp()
	}
}

// hangUp breaks the line, and run makes it anew where it is still needed.
func (l *line) hangUp() { _ = l.pubsub.Close() } // closed already is as good

// settle tells the server whether the channel is listened to, until that is
// what is wanted: others come and go meanwhile.
func (l *line) settle(channel string) {
	for {
		pubsub, wanted := l.wanted(channel)
		ctx, cancel := context.WithTimeout(l.board.life, reaction)
		tell := pubsub.SUnsubscribe
		if wanted {
			tell = pubsub.SSubscribe
		}
		err := tell(ctx, channel)
		cancel()
		if err != nil {
			_ = pubsub.Close() // run begins anew with every channel that is wanted
		}
		if _, still := l.wanted(channel); err != nil || still == wanted {
			return
		}
	}
}

func (l *line) wanted(channel string) (*redis.PubSub, bool) {
	l.board.mu.Lock()
	defer l.board.mu.Unlock()
	return l.pubsub, len(l.wakes[channel]) > 0
}

// run keeps the line as long as someone listens.
func (l *line) run() {
	for {
		pubsub, channels := l.renew()
		if pubsub == nil {
			return
		}
		ctx, cancel := context.WithTimeout(l.board.life, reaction)
		err := pubsub.SSubscribe(ctx, channels...)
		cancel()
		if err == nil {
			l.listen(pubsub)
		}
		_ = pubsub.Close()
		if cluster, ok := l.board.client.(*redis.ClusterClient); ok {
			cluster.ReloadState(l.board.life) // the game may have moved
		}
		select {
		case <-time.After(breather):
		case <-l.board.life.Done():
		}
	}
}

// renew makes the next connection, or takes the line off the board.
func (l *line) renew() (*redis.PubSub, []string) {
	b := l.board
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(l.wakes) == 0 || b.life.Err() != nil {
		delete(b.lines, l.name)
		return nil, nil
	}
	l.hangUp()
	l.pubsub = b.client.SSubscribe(b.life)
	return l.pubsub, slices.Collect(maps.Keys(l.wakes))
}

// listen wakes until the connection fails, or is of no use any more.
func (l *line) listen(pubsub *redis.PubSub) {
	tried := false
	for {
		heard, err := pubsub.ReceiveTimeout(l.board.life, quiet)
		var timeout net.Error
		switch {
		case err == nil:
			tried = false
		case errors.As(err, &timeout) && timeout.Timeout() && !tried:
			tried = true
			if pubsub.Ping(l.board.life) != nil {
				return
			}
		default:
			return
		}
		switch heard := heard.(type) {
		case *redis.Message:
			l.wake(heard.Channel)
		case *redis.Subscription:
			gone := heard.Kind == "sunsubscribe"
			if wanted := l.wake(heard.Channel); wanted && gone {
				return // a cluster has moved the game to another server
			}
		}
	}
}

// wake wakes a channel's listeners, if there are any. What one hasn't taken yet
// stands for this as well.
func (l *line) wake(channel string) bool {
	l.board.mu.Lock()
	defer l.board.mu.Unlock()
	for _, w := range l.wakes[channel] {
		select {
		case w <- struct{}{}:
		default:
		}
	}
	return len(l.wakes[channel]) > 0
}
