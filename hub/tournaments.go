package hub

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"slices"
	"strconv"
	"time"

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

// Tournaments over HTTP: the host makes and leads them with the host key, and
// anyone who has the code may see the bracket. The rules are package
// tournament's, the logs package cups'; a match is a game, see matches.go.

func (h *Hub) tournamentRoutes() []gate.Route {
	return []gate.Route{
		{Method: "POST", Path: "/tournaments", Serve: h.postCup},
		{Method: "GET", Path: "/tournaments", Serve: h.getCups},
		{Method: "GET", Path: "/tournaments/{code}", For: gate.OwnPages, Serve: h.getCup},
		{Method: "DELETE", Path: "/tournaments/{code}", Serve: h.deleteCup},
		{Method: "POST", Path: "/tournaments/{code}/commands", Serve: h.postCupCommand},
	}
}

// cupWish is a new tournament as the host asks for it.
type cupWish struct {
	Name     string              `json:"name"`
	Settings tournament.Settings `json:"settings"`
}

// cupCommand is a command as the host's page sends it.
type cupCommand struct {
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
	Early   bool               `json:"early"`
	Plan    plan.Wish          `json:"plan"` // start: what is played; none is the usual
}

func (c *cupCommand) command() tournament.Command {
	return tournament.Command{Type: c.Type, By: "host", ID: c.ID, Name: c.Name, Entrant: c.Entrant, Order: c.Order,
		Match: c.Match, Outcome: c.Outcome, Home: c.Home, Away: c.Away, Winner: c.Winner, Early: c.Early}
}

// cupLine is a tournament in the host's list.
type cupLine struct {
	Code  string           `json:"code"`
	Name  string           `json:"name"`
	Began string           `json:"began"`
	Phase tournament.Phase `json:"phase"`
}

func (h *Hub) postCup(w http.ResponseWriter, r *http.Request) {
	var wish cupWish
	if !wire.ReadBody(w, r, &wish) {
		return
	}
	if wish.Settings.Seed == 0 {
		wish.Settings.Seed = rand.Uint64N(1_000_000) + 1
	}
	code, err := h.createCup(r.Context(), wish)
	if err != nil {
		wire.Fail(w, h.log, err)
		return
	}
	wire.Answer(w, http.StatusCreated, wire.GameName{Code: code, Title: wish.Name})
}

func (h *Hub) createCup(ctx context.Context, wish cupWish) (string, error) {
	for {
		code := codes.New()
		err := h.cups.Create(ctx, tournament.Command{Type: tournament.Create, By: "host", Code: code,
			Began: time.Now().UTC().Format("2006-01-02T15:04:05.000Z"), Name: wish.Name, Settings: wish.Settings})
		if !errors.Is(err, book.ErrTaken) {
			return code, err
		}
	}
}

func (h *Hub) getCups(w http.ResponseWriter, r *http.Request) {
	codes, err := h.cups.Codes(r.Context())
	if err != nil {
		wire.Fail(w, h.log, err)
		return
	}
	list := []cupLine{}
	for _, code := range codes {
		err := h.cups.Look(r.Context(), code, func(c book.Tournament) { list = append(list, cupLine{code, c.Name, c.Began, c.Phase}) })
		if err != nil {
			h.log.Error("a stored tournament is left out", "tournament", code, "error", err)
		}
	}
	slices.SortStableFunc(list, func(a, b cupLine) int { return cmp.Compare(b.Began, a.Began) })
	wire.Answer(w, http.StatusOK, list)
}

// getCup shows a tournament to anyone who has its code. Pages ask again and
// again: an ETag tells them that nothing has changed.
func (h *Hub) getCup(w http.ResponseWriter, r *http.Request) {
	code := codes.Clean(r.PathValue("code"))
	view, err := h.cupView(r.Context(), code, r.URL.Query())
	if wait, ok := h.guard.Code(r.RemoteAddr, code, !errors.Is(err, book.ErrUnknown)); !ok {
		gate.ComeLater(w, wait)
		return
	}
	if err != nil {
		wire.Fail(w, h.log, err)
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

// postCupCommand answers with the tournament as it then stands.
func (h *Hub) postCupCommand(w http.ResponseWriter, r *http.Request) {
	code := codes.Clean(r.PathValue("code"))
	var c cupCommand
	if !wire.ReadBody(w, r, &c) {
		return
	}
	err := h.doCup(r.Context(), code, c)
	if err != nil {
		wire.Fail(w, h.log, err)
		return
	}
	view, err := h.cupView(r.Context(), code, r.URL.Query())
	if err != nil {
		wire.Fail(w, h.log, err)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(view)
}

// doCup does a command of the host's page.
func (h *Hub) doCup(ctx context.Context, code string, c cupCommand) error {
	if c.ID == "" {
		return refusal.New(refusal.BadFrame, "A command needs an id of the client's own.")
	}
	switch {
	case c.Type == tournament.Enter:
		return h.enterAll(ctx, code, c)
	case c.Type == tournament.Rename && h.refused.Refuses(c.Name):
		return notForAClass(c.Name)
	case c.Type == tournament.Reseed && c.Seeding != "":
		return h.cups.Decide(ctx, code, func(cup book.Tournament) (tournament.Command, error) { return h.reseeded(ctx, &c, &cup.Sheet) })
	case c.Type == tournament.Start:
		return h.startMatch(ctx, code, c)
	case c.Type == tournament.Create:
		return refusal.New(refusal.UnknownCommand, "A tournament is created once.")
	}
	return h.cups.Do(ctx, code, c.command())
}

// enterAll enters names until one is refused; those before it stay.
func (h *Hub) enterAll(ctx context.Context, code string, c cupCommand) error {
	names := c.Names
	if len(names) == 0 {
		names = []string{c.Name}
	}
	for i, name := range names {
		if h.refused.Refuses(name) {
			return notForAClass(name)
		}
		one := c.command()
		one.ID, one.Name = c.ID+"."+strconv.Itoa(i), name
		if err := h.cups.Do(ctx, code, one); err != nil {
			return err
		}
	}
	return nil
}

// notForAClass names the name: it goes to the host alone.
func notForAClass(name string) error {
	return refusal.New(refusal.NameRefused, fmt.Sprintf("The name %q is not for a class: choose another. Those before it are entered.", name))
}

// reseeded makes an order of the wish for one by rating or by lot. Without a
// rating a team stands as a newcomer.
func (h *Hub) reseeded(ctx context.Context, c *cupCommand, s *tournament.Sheet) (tournament.Command, error) {
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
		order, err := h.Seeding(ctx, names.OneLine(c.Season), entrants)
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
