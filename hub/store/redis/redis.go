package redis

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"sync"
	"time"

	"github.com/redis/go-redis/v9"

	"fieldsign/hub/store"
)

// ErrClosed: the store has been closed.
var ErrClosed = errors.New("store: closed")

const (
	patience = 1800 * time.Millisecond // for a call, with all its repetitions: a phone is answered within 2 s
	reaction = time.Second             // of a server, to one attempt

	outlook = 5 * time.Second // between looks at a cluster's servers

	maxID     = 256     // bytes of a game's or a photo's id
	maxRecord = 1 << 20 // bytes of a record's data
	maxPhoto  = 16 << 20
	pageLen   = 256 // entries of a stream, or lines of an index, read at once
	unbegun   = time.Hour
)

// Options are what a store may be opened with beside its address.
type Options struct {
	Prefix     string        // of all keys and channels; "" is "fieldsign:"
	KeepIdle   time.Duration // how long a game lives after its last write; 0 is 7 days
	KeepEnded  time.Duration // how long once it has ended; 0 is 24 hours
	KeepSeason time.Duration // how long a season lives after its last change; 0 is 400 days
}

// shared is a store.Shared on Redis. It is safe for concurrent use. Its type is
// not exported: whatever knew it would know the client's types too, whose 1,400
// methods the compiler then writes out anew for each such package, for 3 seconds.
type shared struct {
	client  redis.UniversalClient
	opts    Options
	games   index
	photos  index
	seasons index
	life    context.Context // ends with Close
	end     context.CancelFunc
	wait    sync.WaitGroup // subscriptions

	closing sync.Once
	closed  error // what closing said
}

// Open connects to the servers that the address names; see the package's
// comment for its forms. A server that can't be reached for now is no error of
// Open but of each call: the client goes on trying.
func Open(address string, o Options) (store.Shared, error) {
	config, err := parse(address)
	if err != nil {
		return nil, err
	}
	if o.Prefix == "" {
		o.Prefix = "fieldsign:"
	}
	if o.KeepIdle == 0 {
		o.KeepIdle = 7 * 24 * time.Hour
	}
	if o.KeepEnded == 0 {
		o.KeepEnded = 24 * time.Hour
	}
	if o.KeepSeason == 0 {
		o.KeepSeason = 400 * 24 * time.Hour
	}
	silence()
	s := &shared{client: connect(config), opts: o}
	s.life, s.end = context.WithCancel(context.Background())
	s.games = index{s, o.Prefix + "index:games"}
	s.photos = index{s, o.Prefix + "index:photos"}
	s.seasons = index{s, o.Prefix + "index:seasons"}
	return s, nil
}

// connect makes a client. One of a cluster learns of a failover by itself only
// if a server that lives redirects it; where the old primary is just gone it
// has to look again at who has which keys.
func connect(config *redis.UniversalOptions) redis.UniversalClient {
	if !config.IsClusterMode {
		return redis.NewUniversalClient(config)
	}
	cluster := config.Cluster()
	cluster.ClusterStateReloadInterval = outlook
	return redis.NewClusterClient(cluster)
}

// silence has the client not write to the program's output: what goes wrong is
// in the error of each call.
var silence = sync.OnceFunc(func() { redis.SetLogger(silent{}) })

type silent struct{}

func (silent) Printf(context.Context, string, ...any) {}

// Close lets go of the connections, and ends subscriptions.
func (s *shared) Close() error {
	s.closing.Do(func() {
		s.end()
		s.wait.Wait()
		s.closed = s.client.Close()
	})
	return s.closed
}

// keys are those of one game. Its id stands in braces, so that a cluster keeps
// them on one server and a step can touch several.
type keys struct{ base string }

func (s *shared) keysOf(game string) keys {
	return keys{s.opts.Prefix + "{" + url.QueryEscape(game) + "}:"}
}

func (k keys) meta() string  { return k.base + "meta" }
func (k keys) log() string   { return k.base + "log" }
func (k keys) order() string { return k.base + "order" }
func (k keys) lines() string { return k.base + "lines" }
func (k keys) all() []string { return []string{k.meta(), k.log(), k.order(), k.lines()} }

func (s *shared) photoKey(id string) string {
	return s.opts.Prefix + "photo:{" + url.QueryEscape(id) + "}"
}

func checkID(what, id string) error {
	if id == "" || len(id) > maxID {
		return fmt.Errorf("store: %s's id must have 1 to %d bytes, this one has %d", what, maxID, len(id))
	}
	return nil
}

// bounded runs do in bounded time, and puts its error in the store's words.
func (s *shared) bounded(ctx context.Context, do func(context.Context) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	short, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	err := explain(ctx, do(short))
	if cluster, ok := s.client.(*redis.ClusterClient); ok && errors.Is(err, store.ErrUnavailable) {
		cluster.ReloadState(short)
	}
	return err
}

// together runs commands on one game in one transaction, or on many games in
// as few round trips as there are servers.
func (s *shared) together(ctx context.Context, transaction bool, queue func(redis.Pipeliner)) error {
	return s.bounded(ctx, func(ctx context.Context) error {
		run := s.client.Pipelined
		if transaction {
			run = s.client.TxPipelined
		}
		_, err := run(ctx, func(p redis.Pipeliner) error { queue(p); return nil })
		if errors.Is(err, redis.Nil) { // one of them found nothing, and says so itself
			return nil
		}
		return err
	})
}
