//go:build linux

package main

import (
	"fmt"
	"net"
)

// floor is the server that all others are measured by.
const floor = "raw"

// kind is a server under test.
type kind struct {
	name, about string
	// serve starts it in the child and returns the games' codes.
	serve func(l net.Listener, games int, dir string) ([]string, error)
	speak dialect
}

// dialect is what the wire needs beyond the frames that all servers get.
type dialect struct {
	join    func(n int) string // a phone's first frame
	host    string             // a console's
	entered string             // what the answer to either holds
	wrap    func(frame string) string
	plans   bool // the console has to plan its game, and opens the next round as well
}

var kinds = []kind{
	{floor, "the floor: one write of the same bytes to each socket, frames hardly looked at", serveRaw, dialect{}},
	{"gorilla", "gorilla/websocket as its own chat example has it: a channel and a writing goroutine for each phone", serveGorilla, dialect{}},
	{"gorilla-direct", "gorilla/websocket, tuned: the game's goroutine writes, pooled write buffers, small reads, no deadline", serveGorillaDirect, dialect{}},
	{"coder", "coder/websocket, the game's goroutine writes", serveCoder, dialect{}},
	{"gws", "lxzan/gws and its Broadcaster", serveGws, dialect{}},
	{"centrifuge", "the centrifuge library with its memory broker", serveCentrifuge, centrifugeDialect},
	{"fieldsign", "this program's hub, its log kept in the process's memory and lost with it", serveInMemory, fieldsignDialect},
	{"fieldsign-bolt", "the same as it is run: each event synced to the disk before it is shown", serveBolt, fieldsignDialect},
}

var centrifugeDialect = dialect{
	join:    func(int) string { return `{"id":1,"connect":{}}` },
	host:    `{"id":1,"connect":{}}`,
	entered: `"connect":{`,
	wrap:    func(frame string) string { return `{"send":{"data":` + frame + `}}` },
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

func kindNamed(name string) (kind, bool) {
	for _, k := range kinds {
		if k.name == name {
			return k, true
		}
	}
	return kind{}, false
}
