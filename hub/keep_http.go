package hub

import (
	"bufio"
	"context"
	"errors"
	"net/http"
	"slices"
	"time"

	"fieldsign/hub/codes"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
	"fieldsign/hub/tournaments/book"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// storedGame is a line of GET /games.
type storedGame struct {
	Code       string `json:"code"`
	Tournament bool   `json:"tournament"` // it is one, and no game
	Ended      bool   `json:"ended"`
	Written    string `json:"written"` // the day, or "" where the store doesn't say
}

// getGames lists what is stored, the game written last first.
func (h *Hub) getGames(w http.ResponseWriter, r *http.Request) {
	games, err := h.store.Games(r.Context())
	if err != nil {
		wire.Fail(w, h.log, err)
		return
	}
	slices.SortStableFunc(games, func(a, b store.Game) int { return b.Written.Compare(a.Written) })
	list := []storedGame{}
	for _, g := range games {
		line := storedGame{Code: g.ID, Ended: g.Ended}
		if code, ok := book.CodeOf(g.ID); ok {
			line.Code, line.Tournament = code, true
		}
		if !g.Written.IsZero() {
			line.Written = g.Written.Format(time.DateOnly)
		}
		list = append(list, line)
	}
	wire.Answer(w, http.StatusOK, list)
}

func (h *Hub) deleteGame(w http.ResponseWriter, r *http.Request) {
	code := codes.Clean(r.PathValue("code"))
	h.change(w, r, code, func(ctx context.Context) error {
		games, err := h.store.Games(ctx)
		if err == nil && !slices.ContainsFunc(games, func(g store.Game) bool { return g.ID == code }) {
			err = store.ErrUnknownGame
		}
		if err == nil {
			err = h.erase(ctx, code)
		}
		return err
	})
}

// deleteTournament erases a tournament with its matches' games.
func (h *Hub) deleteTournament(w http.ResponseWriter, r *http.Request) {
	ctx := context.WithoutCancel(r.Context())
	ids, err := h.tournaments.Book.Logs(ctx, codes.Clean(r.PathValue("code")))
	if err != nil {
		wire.Fail(w, h.log, err)
		return
	}
	h.changed(w, h.erase(ctx, ids...))
}

func (h *Hub) deleteName(w http.ResponseWriter, r *http.Request) {
	code := codes.Clean(r.PathValue("code"))
	h.change(w, r, code, func(ctx context.Context) error { return h.forgetName(ctx, code, r.PathValue("team")) })
}

// deleteAll erases everything that is stored.
func (h *Hub) deleteAll(w http.ResponseWriter, r *http.Request) {
	h.changed(w, h.eraseAll(r.Context()))
}

// change has the hub that owns the game change it. Unlike a phone, the host has
// shown a key, so a code that is wrong counts as no guess.
func (h *Hub) change(w http.ResponseWriter, r *http.Request, code string, do func(context.Context) error) {
	_, owner, err := h.register.Seek(code)
	switch {
	case err != nil && !retention.IsUnfit(err): // what is set aside can be erased
		h.changed(w, err)
	case owner != "" && r.Header.Get(forwardedBy) == "":
		h.forward(w, r, owner)
	default:
		h.changed(w, do(context.WithoutCancel(r.Context())))
	}
}

func (h *Hub) changed(w http.ResponseWriter, err error) {
	var told refusal.Refusal
	switch {
	case err == nil:
		h.log.Info("the host has erased something that was stored")
		w.WriteHeader(http.StatusNoContent)
	case errors.Is(err, store.ErrUnknownGame), errors.As(err, &told):
		wire.Refuse(w, err)
	default:
		h.log.Error("nothing, or not all, was erased", "error", err)
		wire.Refuse(w, refusal.New(refusal.NotErased, "Not all of it could be erased: see the hub's log, then try again."))
	}
}

// getBackup sends a copy of the store as it stands.
func (h *Hub) getBackup(w http.ResponseWriter, r *http.Request) {
	b, ok := h.store.(store.Backer)
	if !ok {
		wire.Refuse(w, refusal.New(refusal.NoBackup, "This hub keeps its games on Redis: back them up with Redis' own tools."))
		return
	}
	wire.Download(w, "application/octet-stream", "fieldsign-"+time.Now().Format(time.DateOnly)+".backup")
	w.Header().Set("Cache-Control", "no-store")
	out := bufio.NewWriter(w)
	err := b.Backup(r.Context(), out)
	if err == nil {
		err = out.Flush()
	}
	if err != nil {
		h.log.Warn("a backup was not sent to its end", "error", err)
		panic(http.ErrAbortHandler) // so that whoever reads it notices
	}
}
