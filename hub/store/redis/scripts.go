package redis

import (
	"context"
	"embed"
	"fmt"
	"time"

	"github.com/redis/go-redis/v9"
)

// One file of lua is one atomic step.
//
//go:embed lua/*.lua
var lua embed.FS

var (
	appendStep  = step("owner", "append")
	acquireStep = step("owner", "acquire")
	renewStep   = step("owner", "renew")
	releaseStep = step("owner", "release")
	lookStep    = step("owner", "look")
	markStep    = step("mark")
	sweepStep   = step("sweep")
	countStep   = step("season", "count")
	editStep    = step("season", "edit")
	leadersStep = step("season", "leaders")
)

// step makes a script of files. The first line has Redis look before it runs
// any of it whether it may write at all: no disk error, enough memory, enough
// replicas, not a replica itself.
func step(files ...string) *redis.Script {
	source := "#!lua\n"
	for _, name := range files {
		text, err := lua.ReadFile("lua/" + name + ".lua")
		if err != nil {
			panic(err) // only where a name above is misspelled
		}
		source += string(text)
	}
	return redis.NewScript(source)
}

// run runs a step in bounded time, and returns its answer's first word and the
// others. Steps may be run twice, so that the client repeats one whose answer
// was lost.
func (s *shared) run(ctx context.Context, step *redis.Script, keys []string, args ...any) (word string, rest []string, err error) {
	err = s.bounded(ctx, func(ctx context.Context) error {
		answer, err := step.Run(ctx, s.client, keys, args...).StringSlice()
		if err != nil {
			return err
		}
		if len(answer) == 0 {
			return fmt.Errorf("a step on %q answers nothing", keys)
		}
		word, rest = answer[0], answer[1:]
		return nil
	})
	return word, rest, err
}

func millis(d time.Duration) int64 { return max(d.Milliseconds(), 1) }
