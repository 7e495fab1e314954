// Package hub serves the running games of package register, and over HTTP what is
// beside them. A game is a table's, of package table.
package hub

import (
	"cmp"
	"context"
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
	"fieldsign/hub/coach"
	"fieldsign/hub/console"
	"fieldsign/hub/gate"
	"fieldsign/hub/names"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/practice"
	"fieldsign/hub/register"
	"fieldsign/hub/report"
	"fieldsign/hub/retention"
	"fieldsign/hub/season"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/table"
	"fieldsign/hub/tournaments"
	"fieldsign/hub/webpage"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
)

const usualLease = 6 * time.Second

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
	planner     *plan.Planner
	tournaments *tournaments.Tournaments
	pictures    *picture.Cabinet
	reports     *report.Reports
	practice    *practice.Practice
	console     *console.Console
	web         *webpage.Screen
	kept        time.Duration // how long games are kept; 0 is for ever
	roster      string
	at          addresses

	log     *slog.Logger
	metrics *metrics
	sockets *socket.Switchboard
	guard   *gate.Gate
	seasons *season.Seasons
	coach   *coach.Coach
	refused *names.List
	clock   func() time.Duration

	ctx    context.Context
	cancel context.CancelFunc
	wait   sync.WaitGroup // tables, readers, and the outboxes' goroutines

	register *register.Register
}

// New takes up the unfinished games of the store. Close must be called.
func New(c Config) (*Hub, error) {
	h := &Hub{store: c.Store, kept: c.Keep, roster: c.Roster, log: c.Log, clock: c.Clock}
	if began := time.Now(); h.clock == nil {
		h.clock = func() time.Duration { return time.Since(began) }
	}
	h.shared, _ = h.store.(store.Shared)
	h.id, h.ttl = strings.TrimSuffix(c.HubAddress, "/"), cmp.Or(c.Lease, usualLease)
	if at, err := url.Parse(h.id); h.shared != nil && (err != nil || at.Host == "") {
		return nil, fmt.Errorf("%q is no address at which other hubs reach this one, such as http://10.0.0.5:7600", h.id)
	}
	h.planner = plan.New(c.Catalogue, c.Roster, func(code string) (debrief.Advice, error) { return report.AdviceOf(h.ctx, h.store, code) })
	h.pictures = picture.New(h.store, c.Catalogue, h.log)
	h.planner.Photos = h.pictures.Specimens
	h.reports = report.New(h.store, h.planner, h.pictures, h.log)
	h.metrics = newMetrics(func() float64 { return h.register.Count() })
	h.ctx, h.cancel = context.WithCancel(context.Background())
	h.sockets = socket.New(socket.Config{Clock: h.clock, Subprotocol: wire.Subprotocol, Open: &h.wait, Pieces: audience.Pieces,
		Slow: socket.Goodbye{Code: wire.CloseSlow, Why: "too slow: come back"}, Flood: socket.Goodbye{Code: wire.CloseBadFrame, Why: audience.TooMany}, Unheard: wire.Stopping})
	h.guard = gate.New(c.Joins, c.HostKey, c.Proxies)
	if h.refused = c.Names; h.refused == nil {
		h.refused = names.Builtin()
	}
	h.register = register.New(h.newHouse(), &h.wait)
	h.wait.Go(h.sockets.Run)
	h.console = &console.Console{Planner: h.planner, Pictures: h.pictures, Log: h.log, Game: h.known}
	h.web = webpage.New(h.planner, h.log)
	h.practice = practice.New(h.planner, h.roster, h.log)
	h.SetAddresses([]Address{{Address: c.Address}})
	h.seasons = season.New(h.ctx, h.store, h.reports, h.log)
	h.tournaments = tournaments.New(tournaments.Config{Store: h.store, Games: matchGames{h}, Seeding: h.seasons.Seeding, Gate: h.guard, Refused: h.refused, Roster: h.roster, JoinAt: h.joinAt, Log: h.log})
	h.coach = &coach.Coach{Seasons: h.seasons, Store: h.store, Planner: h.planner, Open: h.openPlanned, Erase: h.erase, Print: h.console.Print, Log: h.log}
	h.wait.Go(func() { h.guard.Run(h.ctx) })
	h.purge(h.ctx, time.Now())
	h.wait.Go(func() { h.keepTidy(h.ctx) })
	if err := h.register.Resume(); err != nil {
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

// newHouse is what tables need of the hub.
func (h *Hub) newHouse() *table.House {
	house := &table.House{Context: h.ctx, Clock: h.clock, Store: h.store, Planner: h.planner, Pictures: h.pictures, Gate: h.guard, Refused: h.refused, Metrics: h.metrics.tables, Log: h.log,
		JoinAt: h.joinAt, JoinURL: h.joinURL, Later: func(f func()) { h.register.Later(f) },
		Begun: func(s game.State) { h.tellSeason(s, false) },
		Ended: func(s game.State) {
			h.tellSeason(s, true)
			h.register.Later(func() { h.tournaments.RecordMatch(h.ctx, &s) })
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

// Unfinished lists the codes of the games that can be gone on with, the one
// begun last first. Matches are gone on with from their tournament.
func (h *Hub) Unfinished() []string {
	began := map[string]string{}
	for _, t := range h.register.Tables() {
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

func (h *Hub) openPlanned(ctx context.Context, wish plan.Wish) (string, error) {
	return h.create(ctx, wish)
}

// NextGame opens a game with the rounds of an earlier one, its questions
// steered by that one's debrief, and returns its join code.
func (h *Hub) NextGame(ctx context.Context, from string) (string, error) {
	_, s, err := retention.ReadLog(ctx, h.store, from)
	if err != nil {
		return "", err
	}
	return h.create(ctx, h.planner.WishOf(s.Plan).Anew(from))
}

func (h *Hub) create(ctx context.Context, wish plan.Wish, teams ...game.Team) (string, error) {
	planned, err := h.planner.Make(wish, game.Plan{})
	if err != nil {
		return "", err
	}
	return h.register.Create(ctx, planned, teams...)
}

// Close sends the clients away to come back, and waits for the games to stand
// and for the connections to end. The store stays open.
func (h *Hub) Close() {
	h.register.Close()
	h.sockets.Close()
	h.cancel()
	h.wait.Wait()
	h.purge(context.Background(), time.Now()) // what was to be kept till its end only
}
