//go:build linux

package main

import (
	"context"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"unsafe"

	"fieldsign/hub"
	"fieldsign/hub/store"
	"fieldsign/hub/store/bolt"
	"fieldsign/questions/catalogue"
)

const hostKey = "bench"

func serveInMemory(l net.Listener, games int, _ string) ([]string, error) {
	return serveHub(l, games, &memory{games: map[string][]store.Record{}})
}

func serveBolt(l net.Listener, games int, dir string) ([]string, error) {
	s, err := bolt.Open(filepath.Join(dir, "games.db"))
	if err != nil {
		return nil, err
	}
	return serveHub(l, games, s)
}

// serveHub is the real hub with all that it does.
func serveHub(l net.Listener, games int, s store.Store) ([]string, error) {
	h, err := openHub(l, s)
	if err != nil {
		return nil, err
	}
	var codes []string
	for range games {
		code, err := h.CreateGame(context.Background())
		if err != nil {
			return nil, err
		}
		codes = append(codes, code)
	}
	return codes, nil
}

// openHub starts a hub, which serves from now on.
func openHub(l net.Listener, s store.Store) (*hub.Hub, error) {
	log := slog.New(slog.NewTextHandler(os.Stderr, &slog.HandlerOptions{Level: slog.LevelWarn}))
	h, err := hub.New(hub.Config{Joins: 1 << 20, Store: s, Catalogue: catalogue.Builtin(), HostKey: hostKey, Roster: "everything",
		Address: "http://" + l.Addr().String(), HubAddress: "http://" + l.Addr().String(), Log: log})
	if err != nil {
		return nil, err
	}
	go http.Serve(l, h.Handler())
	return h, nil
}

// kept is the size of the log in memory. It is no phone's, so measure leaves it out.
var kept atomic.Int64

// memory is a store that is lost with its process: what the hub costs without
// the disk. What the bench never calls is left to the nil Store. It is safe for
// concurrent use.
type memory struct {
	store.Store

	mu    sync.Mutex
	games map[string][]store.Record
}

func (m *memory) Append(_ context.Context, b store.Batch) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	log := m.games[b.Game]
	before := cap(log)
	for _, r := range b.Records {
		if r.Seq != uint64(len(log))+1 {
			return fmt.Errorf("game %s, record %d after %d: %w", b.Game, r.Seq, len(log), store.ErrConflict)
		}
		log = append(log, r)
		kept.Add(int64(cap(r.Data)))
	}
	kept.Add(int64(cap(log)-before) * int64(unsafe.Sizeof(store.Record{})))
	m.games[b.Game] = log
	return nil
}

func (m *memory) Read(_ context.Context, game string, after uint64, each func(store.Record) error) error {
	m.mu.Lock()
	log := slices.Clone(m.games[game])
	m.mu.Unlock()
	for _, r := range log[min(after, uint64(len(log))):] {
		if err := each(r); err != nil {
			return err
		}
	}
	return nil
}

func (m *memory) Games(context.Context) ([]store.Game, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var list []store.Game
	for id, log := range m.games {
		list = append(list, store.Game{ID: id, Last: uint64(len(log))})
	}
	return list, nil
}

func (m *memory) Photos(context.Context) ([]store.PhotoInfo, error) { return nil, nil }

func (m *memory) Seasons(context.Context) ([]store.Season, error) { return nil, nil }
