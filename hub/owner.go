package hub

import (
	"context"
	"errors"
	"net/http"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/hub/retention"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/table"
	"fieldsign/hub/wire"
)

// Where several hubs share a store, a hub that is asked for a game which no lease
// holds takes it over from its log.

const usualLease = 6 * time.Second

// taking is one attempt to find or take over a game; all who ask meanwhile wait for it.
type taking struct {
	over  chan struct{}
	table *table.Table
	owner string
	err   error
}

// seek finds the game's table here, taking the game over where no hub has it,
// or else the hub that owns it. Neither is for a game that there is not.
func (h *Hub) seek(code string) (t *table.Table, owner string, err error) {
	h.mu.Lock()
	if t := h.tables[code]; t != nil || h.shared == nil {
		err := h.aside[code]
		h.mu.Unlock()
		return t, "", err
	}
	k, begun := h.takings[code]
	if !begun {
		k = &taking{over: make(chan struct{}), err: errCutShort}
		h.takings[code] = k
	}
	h.mu.Unlock()
	if begun {
		<-k.over
		return k.table, k.owner, k.err
	}
	defer func() { // whatever happens, nobody is left waiting
		h.mu.Lock()
		delete(h.takings, code)
		h.mu.Unlock()
		close(k.over)
	}()
	k.table, k.owner, k.err = h.takeOver(code)
	return k.table, k.owner, k.err
}

// errCutShort is for those who waited for an attempt that broke off.
var errCutShort = errors.New("the attempt to take the game over broke off")

// setAside notes that a stored game can't be played, and why; nil forgets that.
func (h *Hub) setAside(code string, why error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	before := h.aside[code]
	if why == nil {
		delete(h.aside, code)
		return
	}
	if h.aside[code] = why; before != nil && before.Error() == why.Error() {
		return // it is told once, however many ask
	}
	h.log.Error("a stored game is set aside, all others go on: erase it, or restore a backup from before", "game", code, "error", why)
}

// notHad answers who asks for a game that can't be had. One that is set aside
// won't be by trying again.
func (h *Hub) notHad(w http.ResponseWriter, r *http.Request, code string, err error) {
	switch {
	case !retention.IsUnfit(err):
		h.log.Warn("a game can't be had", "game", code, "error", err)
		comeBack(w, "This game can't be had for the moment. Try again.")
	case websocket.IsWebSocketUpgrade(r):
		h.connect(w, r, func(conn *socket.Conn) {
			conn.TurnAway(socket.Goodbye{Code: wire.CloseUnknownCode, Why: "this game's log is damaged: it is set aside"})
		})
	default:
		wire.Refuse(w, err)
	}
}

// takeOver opens a game on its log, unless another hub's lease on it is running.
func (h *Hub) takeOver(code string) (*table.Table, string, error) {
	before, err := h.shared.Owner(h.ctx, code)
	switch {
	case errors.Is(err, store.ErrUnknownGame):
		return nil, "", nil
	case err != nil:
		return nil, "", err
	case before.Left > 0 && before.Hub != h.id:
		return nil, before.Hub, nil
	}
	t := table.New(h.house, code)
	lease, err := t.Acquire(h.ctx)
	if errors.Is(err, store.ErrOwned) {
		return nil, lease.Hub, nil
	} else if err != nil {
		return nil, "", err
	}
	if err = t.Load(); err == nil && !h.open(t) {
		err = errors.New("the hub is stopping")
	}
	if err != nil {
		t.Release()
		if retention.IsUnfit(err) {
			h.setAside(code, err)
		}
		return nil, "", err
	}
	h.setAside(code, nil)
	h.log.Info("took over a game", "game", code, "from", before.Hub, "events", lease.Last)
	return t, "", nil
}

// lease makes a new game this hub's, unless its code is taken; then ok is false.
func (h *Hub) lease(ctx context.Context, t *table.Table) (ok bool, err error) {
	lease, err := t.Acquire(ctx)
	switch {
	case errors.Is(err, store.ErrOwned):
		return false, nil
	case err != nil:
		return false, err
	case lease.Last > 0:
		t.Release()
		return false, nil
	}
	return true, nil
}
