package redis

import (
	"bufio"
	"context"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"github.com/redis/go-redis/v9"

	"fieldsign/hub/store"
)

// Durability asks every server that takes writes whether it does, and tells of
// the weakest.
// Where CONFIG is forbidden, as hosted services have it, Known is false.
func (s *shared) Durability(ctx context.Context) (store.Durability, error) {
	var mu sync.Mutex
	var found []store.Durability
	ask := func(ctx context.Context, server *redis.Client) error {
		d, err := durabilityOf(ctx, server)
		mu.Lock()
		defer mu.Unlock()
		found = append(found, d)
		return err
	}
	err := s.bounded(ctx, func(ctx context.Context) error {
		switch c := s.client.(type) {
		case *redis.ClusterClient:
			return c.ForEachMaster(ctx, ask)
		case *redis.Client:
			return ask(ctx, c)
		}
		return fmt.Errorf("a client of type %T", s.client)
	})
	if err != nil || len(found) == 0 {
		return store.Durability{Promise: "Redis can't be asked what it promises."}, err
	}
	d := found[0]
	for _, other := range found[1:] {
		d = weaker(d, other)
	}
	d.Servers = len(found)
	d.Promise = promise(d)
	return d, nil
}

// writeProbe is a script that writes nothing. Redis holds one without flags
// against all that a write needs before it runs it.
const writeProbe = "#!lua\nreturn 1"

func durabilityOf(ctx context.Context, server *redis.Client) (d store.Durability, err error) {
	if err := server.Eval(ctx, writeProbe, nil).Err(); err != nil {
		return d, err
	}
	info, err := server.Info(ctx, "replication").Result()
	if err != nil {
		return d, err
	}
	d.Replicas, _ = strconv.Atoi(infoField(info, "connected_slaves"))
	config := map[string]string{}
	for _, name := range []string{"appendonly", "appendfsync", "save", "min-replicas-to-write", "maxmemory", "maxmemory-policy"} {
		value, err := server.ConfigGet(ctx, name).Result()
		if _, said := err.(redis.Error); said {
			return d, nil // it answers, but not this: the settings stay unknown
		}
		if err != nil {
			return d, err
		}
		config[name] = value[name]
	}
	d.Known = true
	d.AppendOnly, d.Fsync, d.Save = config["appendonly"] == "yes", config["appendfsync"], config["save"]
	d.MinReplicas, _ = strconv.Atoi(config["min-replicas-to-write"])
	d.Evicts = config["maxmemory"] != "0" && config["maxmemory-policy"] != "noeviction"
	return d, nil
}

func infoField(info, name string) string {
	lines := bufio.NewScanner(strings.NewReader(info))
	for lines.Scan() {
		if value, ok := strings.CutPrefix(lines.Text(), name+":"); ok {
			return value
		}
	}
	return ""
}

// weaker joins what two servers promise.
func weaker(a, b store.Durability) store.Durability {
	if rank(b) < rank(a) {
		a.Known, a.AppendOnly, a.Fsync, a.Save = b.Known, b.AppendOnly, b.Fsync, b.Save
	}
	a.Evicts = a.Evicts || b.Evicts
	a.Replicas, a.MinReplicas = min(a.Replicas, b.Replicas), min(a.MinReplicas, b.MinReplicas)
	return a
}

func rank(d store.Durability) int {
	switch {
	case !d.Known:
		return 0
	case d.AppendOnly && d.Fsync == "always":
		return 4
	case d.AppendOnly && d.Fsync == "everysec":
		return 3
	case d.AppendOnly || d.Save != "":
		return 2
	}
	return 1
}

// promise says what an accepted write may rely on.
func promise(d store.Durability) string {
	said := []string{atCrash[rank(d)]}
	switch {
	case d.Replicas == 0 && d.MinReplicas == 0:
		said = append(said, "There is no replica: while Redis is gone, games stand still.")
	case d.MinReplicas == 0:
		said = append(said, "A failover may lose what was accepted a moment before, and while a network is split, whatever the old primary still accepts: set min-replicas-to-write to 1.")
	default:
		said = append(said, "A failover may lose what was accepted a moment before; a primary that has lost its replicas takes no writes.")
	}
	if d.Evicts {
		said = append(said, "When its memory is full, Redis drops games: set maxmemory-policy to noeviction.")
	}
	return strings.Join(said, " ")
}

// atCrash is by rank.
var atCrash = [...]string{
	"What a crash of Redis loses is not known: its settings may not be read.",
	"A restart of Redis loses every game: it writes nothing to its disk.",
	"A crash of Redis loses what came after it last wrote to its disk, minutes perhaps.",
	"A crash of Redis loses about the last second.",
	"A crash of Redis loses nothing that was accepted.",
}
