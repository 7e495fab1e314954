// Package hub is the only place with sockets, clocks, goroutines and storage.
// A table's goroutine owns one game; clients are connections to it; http.go
// serves the pages. The rules are game's, the questions are questions'.
package hub

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"fieldsign/game"
	"fieldsign/hub/names"
	"fieldsign/hub/store"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

// restarted is the notice of a game that was going on when its hub stopped.
const restarted = "The hub was restarted. The host resumes when all are back."

// Config is what a hub is built from.
type Config struct {
	Store     store.Store
	Catalogue *catalogue.Catalogue
	HostKey   string      // what a console must show
	Roster    string      // of a new game
	Address   string      // of the pages as phones reach them, such as http://192.168.1.20:7600
	Names     *names.List // that no team may have; nil is the built-in list
	Joins     int         // teams that may join a game from one address at once; 0 is the default
	Log       *slog.Logger
}

// Hub runs games. It is safe for concurrent use.
type Hub struct {
	store    store.Store
	planner  *planner
	photos   *album
	drawings *drawings
	practice *practice
	hostKey  string
	roster   string
	address  string // without a slash at its end
	joinAt   string // its host name and port

	plateKey []byte // of the plates' ids
	rosters  []string
	log      *slog.Logger
	metrics  *metrics
	lot      *lot
	guard    *guard
	refused  *names.List
	start    time.Time // of the hub's monotonic clock

	ctx    context.Context
	cancel context.CancelFunc
	wait   sync.WaitGroup // tables, readers, and the outboxes' goroutines

	mu     sync.Mutex
	tables map[string]*table
	closed bool
}

// New takes up the unfinished games of the store. Close must be called.
func New(c Config) (*Hub, error) {
	h := &Hub{store: c.Store, hostKey: c.HostKey, roster: c.Roster, address: strings.TrimSuffix(c.Address, "/"), log: c.Log, start: time.Now(),
		planner: &planner{catalogue: c.Catalogue, banks: map[string]*questions.Bank{}, names: map[string]*questions.Names{}}, rosters: catalogue.Rosters(), tables: map[string]*table{}}
	h.planner.advice = h.adviceOf
	h.plateKey = []byte(newToken())
	h.drawings = &drawings{catalogue: c.Catalogue, kept: map[game.Plate]func() (plate.Plate, bool){}}
	h.photos = newAlbum(h.store, h.log)
	h.metrics = newMetrics(h.games)
	h.lot = newLot()
	h.guard = newGuard(c.Joins)
	if h.refused = c.Names; h.refused == nil {
		h.refused = names.Builtin()
	}
	h.wait.Go(h.lot.run)
	h.practice = newPractice(h.planner, h.roster, h.rosters)
	_, h.joinAt, _ = strings.Cut(h.address, "://")
	h.ctx, h.cancel = context.WithCancel(context.Background())
	h.wait.Go(func() { h.guard.run(h.ctx) })
	if err := h.takeUp(); err != nil {
		h.Close()
		return nil, err
	}
	return h, nil
}

func (h *Hub) takeUp() error {
	games, err := h.store.Games(h.ctx)
	if err != nil {
		return fmt.Errorf("the list of games can't be read: %w", err)
	}
	for _, g := range games {
		if g.Ended {
			continue
		}
		t := newTable(h, g.ID)
		if err := t.load(h.ctx); err != nil {
			// One damaged game must not keep the others from going on.
			h.log.Error("a stored game is left out", "game", g.ID, "error", err)
			continue
		}
		h.open(t)
		t.do(func() {
			if t.decide(game.Command{Type: game.Pause, By: "hub", Notice: restarted}) == nil {
				h.log.Info("took up a game and paused it", "game", g.ID, "events", g.Last)
			}
		})
	}
	return nil
}

// now is the hub's own monotonic clock.
func (h *Hub) now() time.Duration { return time.Since(h.start) }

func (h *Hub) joinURL(code string) string { return h.address + "/team?game=" + code }

func (h *Hub) open(t *table) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed || h.tables[t.code] != nil {
		return false
	}
	h.tables[t.code] = t
	h.wait.Go(func() { t.run(h.ctx) })
	return true
}

// begin counts a connection in, unless the hub is stopping.
func (h *Hub) begin() bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed {
		return false
	}
	h.wait.Add(1)
	return true
}

// games is how many there are.
func (h *Hub) games() float64 {
	h.mu.Lock()
	defer h.mu.Unlock()
	return float64(len(h.tables))
}

// Unfinished lists the codes of the games that can be gone on with, the one
// begun last first.
func (h *Hub) Unfinished() []string {
	h.mu.Lock()
	tables := slices.Collect(maps.Values(h.tables))
	h.mu.Unlock()
	began := map[string]string{}
	for _, t := range tables {
		t.do(func() {
			if t.state.Phase != game.Ended {
				began[t.code] = t.state.Began
			}
		})
	}
	return slices.SortedFunc(maps.Keys(began), func(a, b string) int {
		return cmp.Or(cmp.Compare(began[b], began[a]), cmp.Compare(a, b))
	})
}

// CreateGame opens a game in its lobby, planned by default, and returns its join code.
func (h *Hub) CreateGame(ctx context.Context) (string, error) {
	return h.create(ctx, firstPlan(h.roster))
}

// NextGame opens a game with the rounds of an earlier one, its questions
// steered by that one's debrief, and returns its join code.
func (h *Hub) NextGame(ctx context.Context, from string) (string, error) {
	log, err := h.logOf(ctx, from)
	if err != nil {
		return "", err
	}
	wish := wishOf(game.Replay(log).Plan)
	wish.Seed, wish.From = 0, from
	return h.create(ctx, wish)
}

func (h *Hub) create(ctx context.Context, wish planWish) (string, error) {
	plan, err := h.planner.plan(wish)
	if err != nil {
		return "", err
	}
	games, err := h.store.Games(ctx)
	if err != nil {
		return "", err
	}
	taken := map[string]bool{}
	for _, g := range games {
		taken[g.ID] = true
	}
	for {
		code := newCode()
		if taken[code] {
			continue
		}
		t := newTable(h, code)
		if !h.open(t) {
			return "", errors.New("the hub is stopping")
		}
		t.do(func() {
			if err = t.decide(game.Command{Type: game.Create, By: "hub", Code: code, Began: time.Now().UTC().Format("2006-01-02T15:04:05.000Z"), Plan: plan}); err == nil {
				t.commit(h.ctx)
			}
			if err == nil && t.state.Seq == 0 {
				err = errors.New("the new game could not be stored: see the log")
			}
		})
		return code, err
	}
}

func (h *Hub) table(code string) *table {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.tables[code]
}

// Close sends the clients away to come back, and waits for the games to stand
// and for the connections to end. The store stays open.
func (h *Hub) Close() {
	h.mu.Lock()
	h.closed = true
	h.mu.Unlock()
	h.lot.close()
	h.cancel()
	h.wait.Wait()
}
