//go:build linux

package main

import (
	"fmt"
	"net"
	"slices"
)

// floor is the server that all others are measured by.
const floor = "raw"

// kind is a server under test.
type kind struct {
	name, about string
	// serve starts it in the child and returns the games' codes.
	serve func(l net.Listener, games int, dir string) ([]string, error)
	speak dialect
	asked bool // it is left out unless it is named
}

// dialect is what the wire needs beyond the frames that all servers get.
type dialect struct {
	join    func(n int) string // a phone's first frame
	host    string             // a console's
	entered string             // what the answer to either holds
	plans   bool               // the console has to plan its game, and opens the next round as well
}

var kinds = []kind{
	{floor, "the floor: one write of the same bytes to each socket, frames hardly looked at", serveRaw, dialect{}, false},
	{"gorilla-direct", "gorilla/websocket, tuned: the game's goroutine writes, pooled write buffers, small reads, no deadline", serveGorillaDirect, dialect{}, false},
	{"fieldsign", "this program's hub, its log kept in the process's memory and lost with it", serveInMemory, fieldsignDialect, false},
	{"fieldsign-bolt", "the same as it is run: each event synced to the disk before it is shown", serveBolt, fieldsignDialect, false},
	{"fieldsign-redis", "one hub on a Redis of its own, which syncs each event to the disk before it is shown", serveRedis, fieldsignDialect, true},
	{"fieldsign-redis-two", "two hubs on one Redis, in one process; each owns every second game, and the phones come to the owner", serveTwo, fieldsignDialect, true},
	{"fieldsign-redis-forwarded", "two hubs on one Redis, in one process; the one owns all games, and the phones come to the other", serveForwarded, fieldsignDialect, true},
}

var fieldsignDialect = dialect{
	join:    func(n int) string { return fmt.Sprintf(`{"type":"join","id":"join","name":"Team %d"}`, n) },
	host:    `{"type":"host","id":"host","key":"` + hostKey + `"}`,
	entered: `"type":"welcome"`,
	plans:   true,
}

func kindNames() []string {
	var names []string
	for _, k := range kinds {
		names = append(names, k.name)
	}
	return names
}

// usualNames are those of the kinds that a run has unless others are named.
func usualNames() []string {
	return slices.DeleteFunc(kindNames(), func(name string) bool {
		k, _ := kindNamed(name)
		return k.asked
	})
}

func kindNamed(name string) (kind, bool) {
	for _, k := range kinds {
		if k.name == name {
			return k, true
		}
	}
	return kind{}, false
}
