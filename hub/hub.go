// Package hub is the register of running games, and what is served over HTTP beside
// them. A game is a table's, of package table.
package hub

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"net/netip"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/audience"
	"fieldsign/hub/codes"
	"fieldsign/hub/gate"
	"fieldsign/hub/names"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/practice"
	"fieldsign/hub/report"
	"fieldsign/hub/retention"
	"fieldsign/hub/season"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/table"
	"fieldsign/hub/tournaments"
	"fieldsign/hub/tournaments/book"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
)

// Config is what a hub is built from.
type Config struct {
	Store     store.Store
	Catalogue *catalogue.Catalogue
	HostKey   string         // what a console must show
	Roster    string         // of a new game
	Address   string         // of the pages as phones reach them, such as http://192.168.1.20:7600
	Names     *names.List    // that no team may have; nil is the built-in list
	Joins     int            // teams that may join a game from one address at once; 0 is the default
	Keep      time.Duration  // how long a game is kept after its last event; 0 is for ever
	Proxies   []netip.Prefix // whose X-Forwarded-For says where a request is from
	Log       *slog.Logger
	Clock     func() time.Duration // monotonic; nil is the machine's

	// Where the store is a store.Shared:
	HubAddress string        // where other hubs reach this one; its name in its leases
	Lease      time.Duration // on a game; 0 is 6 s
}

// Hub runs games. It is safe for concurrent use.
type Hub struct {
	store       store.Store
	shared      store.Shared // the same, where hubs share it, or nil
	id          string       // of this hub among them
	ttl         time.Duration
	house       *table.House // what its tables share
	planner     *plan.Planner
	tournaments *tournaments.Tournaments
	pictures    *picture.Cabinet
	reports     *report.Reports
	practice    *practice.Practice
	kept        time.Duration // how long games are kept; 0 is for ever
	roster      string
	at          addresses

	log     *slog.Logger
	metrics *metrics
	sockets *socket.Switchboard
	guard   *gate.Gate
	seasons *season.Seasons
	refused *names.List
	clock   func() time.Duration

	ctx    context.Context
	cancel context.CancelFunc
	wait   sync.WaitGroup // tables, readers, and the outboxes' goroutines

	mu      sync.Mutex
	tables  map[string]*table.Table
	takings map[string]*taking
	aside   map[string]error // why stored games can't be played
	closed  bool
}

// New takes up the unfinished games of the store. Close must be called.
func New(c Config) (*Hub, error) {
	h := &Hub{store: c.Store, kept: c.Keep, roster: c.Roster, log: c.Log, clock: c.Clock,
		tables: map[string]*table.Table{}, takings: map[string]*taking{}, aside: map[string]error{}}
	if began := time.Now(); h.clock == nil {
		h.clock = func() time.Duration { return time.Since(began) }
	}
	h.planner = plan.New(c.Catalogue, c.Roster, func(code string) (debrief.Advice, error) { return report.AdviceOf(h.ctx, h.store, code) })
	h.shared, _ = h.store.(store.Shared)
	h.id, h.ttl = strings.TrimSuffix(c.HubAddress, "/"), cmp.Or(c.Lease, usualLease)
	h.pictures = picture.New(h.store, c.Catalogue, h.log)
	h.reports = report.New(h.store, h.planner, h.pictures, h.log)
	h.metrics = newMetrics(h.games)
	h.ctx, h.cancel = context.WithCancel(context.Background())
	h.sockets = socket.New(socket.Config{Clock: h.clock, Subprotocol: wire.Subprotocol, Open: &h.wait, Pieces: audience.Pieces,
		Slow: socket.Goodbye{Code: wire.CloseSlow, Why: "too slow: come back"}, Flood: socket.Goodbye{Code: wire.CloseBadFrame, Why: audience.TooMany}, Unheard: wire.Stopping})
	h.guard = gate.New(c.Joins, c.HostKey, c.Proxies)
	if h.refused = c.Names; h.refused == nil {
		h.refused = names.Builtin()
	}
	h.wait.Go(h.sockets.Run)
	h.practice = practice.New(h.planner, h.roster, h.log)
	h.SetAddresses([]Address{{Address: c.Address}})
	h.seasons = season.New(h.ctx, h.store, h.reports, h.log)
	h.tournaments = tournaments.New(tournaments.Config{Store: h.store, Games: games{h}, Seeding: h.seasons.Seeding, Gate: h.guard, Refused: h.refused, Roster: h.roster, Log: h.log})
	h.wait.Go(func() { h.guard.Run(h.ctx) })
	h.purge(h.ctx, time.Now())
	h.wait.Go(func() { h.keepTidy(h.ctx) })
	h.house = h.newHouse()
	if err := h.takeUp(); err != nil {
		h.Close()
		return nil, err
	}
	if h.shared != nil {
		h.wait.Go(func() { h.pictures.Follow(h.ctx, h.shared.PhotoChanges(h.ctx)) })
	}
	h.wait.Go(func() { h.endStray(h.ctx, time.Now()) })
	h.wait.Go(h.seasons.CatchUp)
	return h, nil
}

func (h *Hub) takeUp() error {
	if at, err := url.Parse(h.id); h.shared != nil && (err != nil || at.Host == "") {
		return fmt.Errorf("%q is no address at which other hubs reach this one, such as http://10.0.0.5:7600", h.id)
	}
	games, err := h.store.Games(h.ctx)
	if err != nil {
		return fmt.Errorf("the list of games can't be read: %w", err)
	}
	for _, g := range games {
		if g.Ended || book.Is(g.ID) {
			continue
		}
		t, err := h.takeBack(g.ID)
		if err != nil {
			// One damaged game must not keep the others from going on.
			if h.shared == nil || !retention.IsUnfit(err) { // seek has noted it
				h.setAside(g.ID, err)
			}
			continue
		}
		if t == nil {
			continue
		}
		if t.Do(game.Command{Type: game.Pause, By: "hub", Notice: table.Restarted}) == nil {
			h.log.Info("took up a game and paused it", "game", g.ID, "events", g.Last)
		}
	}
	return nil
}

// takeBack opens a stored game that this hub ran last; nil stands for another's.
func (h *Hub) takeBack(code string) (*table.Table, error) {
	if h.shared != nil {
		last, err := h.shared.Owner(h.ctx, code)
		if err != nil || last.Hub != h.id {
			return nil, err
		}
		t, _, err := h.seek(code)
		return t, err
	}
	t := table.New(h.house, code)
	if err := t.Load(); err != nil {
		return nil, err
	}
	h.open(t)
	return t, nil
}

// newHouse is what tables need of the hub.
func (h *Hub) newHouse() *table.House {
	house := &table.House{Context: h.ctx, Clock: h.clock, Store: h.store, Planner: h.planner, Pictures: h.pictures, Gate: h.guard, Refused: h.refused, Metrics: h.metrics.tables, Log: h.log,
		JoinAt: h.joinAt, JoinURL: h.joinURL, Later: h.later,
		Begun: func(s game.State) { h.tellSeason(s, false) },
		Ended: func(s game.State) {
			h.tellSeason(s, true)
			h.later(func() { h.tournaments.RecordMatch(h.ctx, &s) })
		}}
	if h.shared != nil {
		house.Leases = &table.Leases{Store: h.shared, Hub: h.id, Length: h.ttl}
	}
	return house
}

// tellSeason has a game's season take notice of it.
func (h *Hub) tellSeason(s game.State, ended bool) {
	if season := s.Plan.Season; season != "" {
		r := store.Result{Game: s.Code, Title: s.Plan.Title, Began: s.Began, Due: true}
		h.wait.Go(func() { h.seasons.Tell(season, r, ended) })
	}
}

func (h *Hub) open(t *table.Table) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed || h.tables[t.Code] != nil {
		return false
	}
	h.tables[t.Code] = t
	h.wait.Go(func() { t.Run(func() { h.forget(t) }) })
	return true
}

// forget lets a game be taken over anew when its table ends before the hub does.
func (h *Hub) forget(t *table.Table) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.tables[t.Code] == t && !h.closed {
		delete(h.tables, t.Code)
	}
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

// later runs f unless the hub is stopping, which waits for it.
func (h *Hub) later(f func()) {
	if h.begin() {
		go func() {
			defer h.wait.Done()
			f()
		}()
	}
}

// games is how many there are.
func (h *Hub) games() float64 {
	h.mu.Lock()
	defer h.mu.Unlock()
	return float64(len(h.tables))
}

// running are the tables of now.
func (h *Hub) running() []*table.Table {
	h.mu.Lock()
	defer h.mu.Unlock()
	return slices.Collect(maps.Values(h.tables))
}

// Unfinished lists the codes of the games that can be gone on with, the one
// begun last first. Matches are gone on with from their tournament.
func (h *Hub) Unfinished() []string {
	began := map[string]string{}
	for _, t := range h.running() {
		t.Look(func(s *game.State) {
			if s.Phase != game.Ended && !isMatch(s) {
				began[t.Code] = s.Began
			}
		})
	}
	return slices.SortedFunc(maps.Keys(began), func(a, b string) int {
		return cmp.Or(cmp.Compare(began[b], began[a]), cmp.Compare(a, b))
	})
}

// CreateGame opens a game in its lobby, planned by default, and returns its join code.
func (h *Hub) CreateGame(ctx context.Context) (string, error) {
	return h.create(ctx, plan.First(h.roster))
}

// NextGame opens a game with the rounds of an earlier one, its questions
// steered by that one's debrief, and returns its join code.
func (h *Hub) NextGame(ctx context.Context, from string) (string, error) {
	log, err := retention.ReadLog(ctx, h.store, from)
	if err != nil {
		return "", err
	}
	wish := h.planner.WishOf(game.Replay(log).Plan)
	wish.Seed, wish.From = 0, from
	for i := range wish.Rounds {
		wish.Rounds[i].Set = ""
	}
	return h.create(ctx, wish)
}

func (h *Hub) create(ctx context.Context, wish plan.Wish, teams ...game.Team) (string, error) {
	plan, err := h.planner.Make(wish, game.Plan{})
	if err != nil {
		return "", err
	}
	for {
		t, err := h.unused(ctx, codes.New())
		if err != nil {
			return "", err
		}
		if t != nil {
			return t.Code, h.begun(t, plan, teams...)
		}
	}
}

// begun opens the table of a new game, and returns once that is stored, with the
// teams that it has from an earlier one.
func (h *Hub) begun(t *table.Table, planned game.Plan, teams ...game.Team) error {
	if !h.open(t) {
		return errors.New("the hub is stopping")
	}
	if err := t.Do(first(t.Code, planned, teams)...); err != nil {
		return fmt.Errorf("the new game was not stored: %w", err)
	}
	var extended []game.Command
	t.Look(func(s *game.State) {
		for i, team := range teams {
			if team.Extra > 0 {
				extended = append(extended, game.Command{Type: game.Extend, By: "hub", Team: s.Teams[i].ID, Extra: team.Extra})
			}
		}
	})
	return t.Do(extended...)
}

// unused is a table for a code that no game has; nil is for one that is taken.
func (h *Hub) unused(ctx context.Context, code string) (*table.Table, error) {
	t := table.New(h.house, code)
	if h.shared != nil {
		if ok, err := h.lease(ctx, t); err != nil || !ok {
			return nil, err
		}
		return t, nil
	}
	games, err := h.store.Games(ctx)
	if err != nil || slices.ContainsFunc(games, func(g store.Game) bool { return g.ID == code }) {
		return nil, err
	}
	return t, nil
}

func (h *Hub) table(code string) *table.Table {
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
	h.sockets.Close()
	h.cancel()
	h.wait.Wait()
	h.purge(context.Background(), time.Now()) // what was to be kept till its end only
}
