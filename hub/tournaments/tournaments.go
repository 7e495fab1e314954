// Package tournaments leads tournaments over HTTP. A match is a game of the hub's,
// of which it knows no more than Games says.
package tournaments

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"slices"
	"strconv"
	"time"

	"fieldsign/game"
	"fieldsign/game/rating"
	"fieldsign/game/tournament"
	"fieldsign/hub/codes"
	"fieldsign/hub/gate"
	"fieldsign/hub/names"
	"fieldsign/hub/plan"
	"fieldsign/hub/store"
	"fieldsign/hub/tournaments/book"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// Games are the hub's, as far as a tournament needs them.
type Games interface {
	// Open opens a match's game under a code drawn before, with teams whose phones are known.
	Open(ctx context.Context, code string, wish plan.Wish, m *game.Match, teams ...game.Team) error
	// Unseat frees the seat of a side in a running game.
	Unseat(code, side string)
	// Running is a game that runs at this hub, as it is stored.
	Running(code string) (game.State, bool)
	// End ends a game that nobody plays.
	End(code string)
}

// Config is what tournaments are made from.
type Config struct {
	Store   store.Store
	Games   Games
	Seeding func(ctx context.Context, season string, names []string) ([]int, error)
	Gate    *gate.Gate
	Refused *names.List
	Roster  string        // of a match's game that is not planned
	JoinAt  func() string // the host name and port that phones reach
	Log     *slog.Logger
}

// Tournaments are those of a store. They are safe for concurrent use.
type Tournaments struct {
	Config
	Book     *book.Book
	glimpses *states
}

func New(c Config) *Tournaments {
	return &Tournaments{c, book.Open(c.Store), newStates()}
}

// Forget lets go of what is known of a log of the store.
func (all *Tournaments) Forget(id string) {
	all.glimpses.Drop(id)
	if code, ok := book.CodeOf(id); ok {
		all.Book.Forget(code)
	}
}

func (all *Tournaments) IsStray(ctx context.Context, s *game.State) (yes bool) {
	err := all.Book.Look(ctx, s.Plan.Match.Tournament, func(c book.Tournament) { yes = matchIn(&c.Sheet, s) == nil })
	return yes || errors.Is(err, book.ErrUnknown)
}

func (all *Tournaments) Routes() []gate.Route {
	return []gate.Route{
		{Method: "POST", Path: "/tournaments", Serve: all.postTournament},
		{Method: "GET", Path: "/tournaments", Serve: all.getTournaments},
		{Method: "GET", Path: "/tournaments/{code}", For: gate.OwnPages, Serve: all.getTournament},
		{Method: "POST", Path: "/tournaments/{code}/commands", Serve: all.postCommand},
		{Method: "POST", Path: "/tournaments/{code}/sit", For: gate.OwnPages, Serve: all.postSit},
		{Method: "POST", Path: "/tournaments/{code}/stand", For: gate.OwnPages, Serve: all.postStand},
	}
}

// tournamentWish is a new tournament as the host asks for it.
type tournamentWish struct {
	Name     string              `json:"name"`
	Settings tournament.Settings `json:"settings"`
}

// hostCommand is a command as the host's page sends it.
type hostCommand struct {
	ID      string             `json:"id"`
	Type    string             `json:"type"`
	Name    string             `json:"name"`
	Names   []string           `json:"names"` // enter: several at once
	Entrant int                `json:"entrant"`
	Order   []int              `json:"order"`
	Seeding string             `json:"seeding"` // reseed: by "rating" or by "lot", in place of an order
	Season  string             `json:"season"`  // reseed: whose ratings
	Match   int                `json:"match"`
	Outcome tournament.Outcome `json:"outcome"`
	Home    int                `json:"home"`
	Away    int                `json:"away"`
	Winner  int                `json:"winner"`
	Boards  int                `json:"boards"`
	Early   bool               `json:"early"`
	Plan    plan.Wish          `json:"plan"` // start: what is played; none is the usual
}

func (c *hostCommand) command() tournament.Command {
	return tournament.Command{Type: c.Type, By: "host", ID: c.ID, Name: c.Name, Entrant: c.Entrant, Order: c.Order,
		Match: c.Match, Outcome: c.Outcome, Home: c.Home, Away: c.Away, Winner: c.Winner, Early: c.Early, Boards: c.Boards}
}

// tournamentLine is a tournament in the host's list.
type tournamentLine struct {
	Code  string           `json:"code"`
	Name  string           `json:"name"`
	Began string           `json:"began"`
	Phase tournament.Phase `json:"phase"`
}

func (all *Tournaments) postTournament(w http.ResponseWriter, r *http.Request) {
	var wish tournamentWish
	if !wire.ReadBody(w, r, &wish) {
		return
	}
	if wish.Settings.Seed == 0 {
		wish.Settings.Seed = rand.Uint64N(1_000_000) + 1
	}
	code, err := all.create(r.Context(), wish)
	if err != nil {
		wire.Fail(w, all.Log, err)
		return
	}
	wire.Answer(w, http.StatusCreated, wire.GameName{Code: code, Title: wish.Name})
}

func (all *Tournaments) create(ctx context.Context, wish tournamentWish) (string, error) {
	for {
		code := codes.New()
		err := all.Book.Create(ctx, tournament.Command{Type: tournament.Create, By: "host", Code: code,
			Began: time.Now().UTC().Format("2006-01-02T15:04:05.000Z"), Name: wish.Name, Settings: wish.Settings})
		if !errors.Is(err, book.ErrTaken) {
			return code, err
		}
	}
}

func (all *Tournaments) getTournaments(w http.ResponseWriter, r *http.Request) {
	codes, err := all.Book.Codes(r.Context())
	if err != nil {
		wire.Fail(w, all.Log, err)
		return
	}
	list := []tournamentLine{}
	for _, code := range codes {
		err := all.Book.Look(r.Context(), code, func(c book.Tournament) { list = append(list, tournamentLine{code, c.Name, c.Began, c.Phase}) })
		if err != nil {
			all.Log.Error("a stored tournament is left out", "tournament", code, "error", err)
		}
	}
	slices.SortStableFunc(list, func(a, b tournamentLine) int { return cmp.Compare(b.Began, a.Began) })
	wire.Answer(w, http.StatusOK, list)
}

// getTournament shows a tournament to anyone who has its code. Pages ask again and
// again: an ETag tells them that nothing has changed.
func (all *Tournaments) getTournament(w http.ResponseWriter, r *http.Request) {
	code := codes.Clean(r.PathValue("code"))
	view, err := all.encoded(r.Context(), code, r.URL.Query())
	if wait, ok := all.Gate.Code(r.RemoteAddr, code, !errors.Is(err, book.ErrUnknown)); !ok {
		gate.ComeLater(w, wait)
		return
	}
	if err != nil {
		wire.Fail(w, all.Log, err)
		return
	}
	sum := sha256.Sum256(view)
	tag := `"` + hex.EncodeToString(sum[:8]) + `"`
	w.Header().Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(view)
}

// postCommand answers with the tournament as it then stands.
func (all *Tournaments) postCommand(w http.ResponseWriter, r *http.Request) {
	code := codes.Clean(r.PathValue("code"))
	var c hostCommand
	if !wire.ReadBody(w, r, &c) {
		return
	}
	err := all.do(r.Context(), code, c)
	if err != nil {
		wire.Fail(w, all.Log, err)
		return
	}
	view, err := all.encoded(r.Context(), code, r.URL.Query())
	if err != nil {
		wire.Fail(w, all.Log, err)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(view)
}

// do does a command of the host's page.
func (all *Tournaments) do(ctx context.Context, code string, c hostCommand) error {
	if c.ID == "" {
		return refusal.New(refusal.BadFrame, "A command needs an id of the client's own.")
	}
	switch {
	case c.Type == tournament.Enter:
		return all.enterAll(ctx, code, c)
	case c.Type == tournament.Rename && all.Refused.Refuses(c.Name):
		return refusal.New(refusal.NameRefused, notForAClass(c.Name))
	case c.Type == tournament.Reseed && c.Seeding != "":
		return all.Book.Decide(ctx, code, func(of book.Tournament) (tournament.Command, error) { return all.reseeded(ctx, &c, &of.Sheet) })
	case c.Type == tournament.Start:
		return all.startMatch(ctx, code, c)
	case c.Type == tournament.Stand:
		return all.free(ctx, code, c)
	case c.Type == tournament.Create:
		return refusal.New(refusal.UnknownCommand, "A tournament is created once.")
	}
	return all.Book.Do(ctx, code, c.command())
}

// enterAll enters names until one is refused; those before it stay.
func (all *Tournaments) enterAll(ctx context.Context, code string, c hostCommand) error {
	names := c.Names
	if len(names) == 0 {
		names = []string{c.Name}
	}
	for i, name := range names {
		if all.Refused.Refuses(name) {
			return refusal.New(refusal.NameRefused, notForAClass(name)+" Those before it are entered.")
		}
		one := c.command()
		one.ID, one.Name = c.ID+"."+strconv.Itoa(i), name
		if err := all.Book.Do(ctx, code, one); err != nil {
			return err
		}
	}
	return nil
}

// notForAClass names the name: it goes to the host alone.
func notForAClass(name string) string {
	return fmt.Sprintf("The name %q is not for a class: choose another.", name)
}

// reseeded makes an order of the wish for one by rating or by lot. Without a
// rating a team stands as a newcomer.
func (all *Tournaments) reseeded(ctx context.Context, c *hostCommand, s *tournament.Sheet) (tournament.Command, error) {
	out := c.command()
	switch {
	case c.Seeding == "lot":
		for _, i := range rating.Shuffle(len(s.Order), rand.Uint64()) {
			out.Order = append(out.Order, s.Order[i])
		}
	case c.Seeding == "rating":
		entrants := make([]string, len(s.Order))
		for i, e := range s.Order {
			entrants[i] = s.Entrants[e-1].Name
		}
		order, err := all.Seeding(ctx, names.OneLine(c.Season), entrants)
		if errors.Is(err, store.ErrUnknownSeason) {
			err = refusal.New(refusal.UnknownSeason, "No season has that name yet: its ratings begin with the first game that counts in it.")
		}
		if err != nil {
			return out, err
		}
		for _, i := range order {
			out.Order = append(out.Order, s.Order[i])
		}
	default:
		return out, refusal.New(refusal.BadSeeding, "Seeding is by lot or by rating.")
	}
	return out, nil
}
