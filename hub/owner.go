package hub

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/game"
	"fieldsign/hub/retention"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
)

// Where several hubs share a store, a table runs only under a lease on its
// game, and each batch bears the lease's token. A hub that is asked for a game
// which no lease holds takes it over from its log.

const (
	usualLease        = 6 * time.Second
	retryEvery        = 250 * time.Millisecond // while the store is gone
	longestSuspension = 30 * time.Second       // then the phones may find a hub that is not cut off
	lastCall          = time.Second            // for giving up a lease when all else has ended
)

const (
	storeGone = "The hub can't use its store for now. The game stands still, and goes on by itself."
	storeOdd  = "The store no longer has this game as it was. The game stands still until the hub has looked."
	storeLost = "The store has lost the last moments of this game. Check the scores, then resume."
)

// noticeCodes let pages say the hub's own notices in other languages.
var noticeCodes = map[string]string{restarted: "restarted", storeGone: "store_gone", storeOdd: "store_odd", storeLost: "store_lost"}

// errSuspended refuses commands while a table doesn't know whether it still has
// its game.
var errSuspended = fmt.Errorf("%w: this hub may not have its game any more", store.ErrUnavailable)

// errLapsed is for a hub that slept, or was cut off, past its lease's end.
var errLapsed = fmt.Errorf("%w: the lease was not renewed in time", store.ErrUnavailable)

// taking is one attempt to find or take over a game; all who ask meanwhile wait for it.
type taking struct {
	over  chan struct{}
	table *table
	owner string
	err   error
}

// seek finds the game's table here, taking the game over where no hub has it,
// or else the hub that owns it. Neither is for a game that there is not.
func (h *Hub) seek(code string) (t *table, owner string, err error) {
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
func (h *Hub) takeOver(code string) (*table, string, error) {
	before, err := h.shared.Owner(h.ctx, code)
	switch {
	case errors.Is(err, store.ErrUnknownGame):
		return nil, "", nil
	case err != nil:
		return nil, "", err
	case before.Left > 0 && before.Hub != h.id:
		return nil, before.Hub, nil
	}
	asked := h.now()
	lease, err := h.shared.Acquire(h.ctx, code, h.id, h.ttl)
	if errors.Is(err, store.ErrOwned) {
		return nil, lease.Hub, nil
	} else if err != nil {
		return nil, "", err
	}
	t := newTable(h, code)
	t.hold(lease.Token, asked)
	err = t.load(h.ctx)
	events := t.state.Seq // the table's own once it is open
	if err == nil && !h.open(t) {
		err = errors.New("the hub is stopping")
	}
	if err != nil {
		h.release(code, lease.Token)
		if retention.IsUnfit(err) {
			h.setAside(code, err)
		}
		return nil, "", err
	}
	h.setAside(code, nil)
	h.log.Info("took over a game", "game", code, "from", before.Hub, "events", events)
	return t, "", nil
}

// lease makes a new game this hub's, unless its code is taken; then ok is false.
func (h *Hub) lease(ctx context.Context, t *table) (ok bool, err error) {
	code, asked := t.code, h.now()
	lease, err := h.shared.Acquire(ctx, code, h.id, h.ttl)
	switch {
	case errors.Is(err, store.ErrOwned):
		return false, nil
	case err != nil:
		return false, err
	case lease.Last > 0:
		h.release(code, lease.Token)
		return false, nil
	}
	t.hold(lease.Token, asked)
	return true, nil
}

// release gives up a lease. Where that fails, it is over by itself soon.
func (h *Hub) release(code string, token uint64) {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(h.ctx), lastCall)
	defer cancel()
	if err := h.shared.Release(ctx, code, token); err != nil {
		h.log.Warn("a lease was not given up", "game", code, "error", err)
	}
}

// keep renews the table's lease until the table ends, and then gives it up.
func (t *table) keep(token uint64) {
	h := t.hub
	defer func() { h.release(t.code, token) }() // nothing, where it is another's by now
	for {
		select {
		case <-t.ended:
			return
		case <-t.wake:
			fresh := t.reacquire()
			if fresh == 0 {
				return
			}
			token = fresh
		case <-time.After(h.ttl / 3):
			asked := h.now()
			if err := h.shared.Renew(h.ctx, t.code, token, h.ttl); err != nil {
				t.do(func() { t.suspend(err) })
			} else {
				t.lapses.Store(int64(asked + h.ttl))
			}
		}
	}
}

// hold takes a lease up that was asked for at a time on the hub's clock.
func (t *table) hold(token uint64, asked time.Duration) {
	t.token = token
	t.lapses.Store(int64(asked + t.hub.ttl))
}

// checkLease has a table that may have lost its game to another hub show nothing
// more as if it were true. The store refuses its writes in any case.
func (t *table) checkLease() {
	if t.hub.shared != nil && int64(t.hub.now()) > t.lapses.Load() {
		t.suspend(errLapsed)
	}
}

// suspend is for when a batch or a renewal fails. The table goes back to what was
// stored and stands still until reacquire has made sure of its game, or ends it.
func (t *table) suspend(cause error) {
	if t.suspended {
		return
	}
	t.log.Warn("the game stands still until its store is sure", "error", cause, "dropped", len(t.events))
	t.base = t.now()
	t.suspended, t.storeDiffers = true, !errors.Is(cause, store.ErrUnavailable)
	t.blank()
	for _, r := range t.logAtHand {
		t.apply(r)
	}
	t.refuse(cause)
	select {
	case t.wake <- struct{}{}:
	default:
	}
}

// reacquire acquires the game anew, and has the table go on from its log as it is
// now. It returns the lease's token, or 0 where the table has to end.
func (t *table) reacquire() uint64 {
	h, began := t.hub, time.Now()
	for {
		token, err := t.reload()
		if err == nil {
			return token
		}
		if !errors.Is(err, store.ErrUnavailable) || time.Since(began) > longestSuspension {
			t.log.Warn("this hub has the game no more", "error", err)
			t.do(func() { t.giveUp(err) })
			return 0
		}
		select {
		case <-t.ended:
			return 0
		case <-h.ctx.Done():
			return 0
		case <-time.After(retryEvery):
		}
	}
}

// giveUp ends the table. Its clients come back to whichever hub has the game,
// unless the store has none.
func (t *table) giveUp(cause error) {
	if errors.Is(cause, store.ErrUnknownGame) {
		t.log.Error("the store has lost this game whole: it was emptied, or the game was erased by hand")
		t.dismiss("the store has lost this game")
	}
	t.over = true
}

// reload reads after it acquires: what was on its way under the old token is
// then in the log, or refused for good.
func (t *table) reload() (uint64, error) {
	h, asked := t.hub, t.hub.now()
	lease, err := h.shared.Acquire(h.ctx, t.code, h.id, h.ttl)
	if err != nil {
		return 0, err
	}
	fresh := newTable(h, t.code)
	if err := fresh.load(h.ctx); err != nil {
		h.release(t.code, lease.Token)
		return 0, err
	}
	t.do(func() { t.resume(lease.Token, asked, fresh) })
	return lease.Token, nil
}

// resume takes up the log as it was read. Where something is gone that was shown,
// the game is paused and its clients have to come back: some may have no team now.
func (t *table) resume(token uint64, asked time.Duration, fresh *table) {
	lost := !begins(fresh.logAtHand, t.logAtHand)
	t.log.Info("the game goes on", "events", fresh.state.Seq, "lost", lost)
	t.hold(token, asked)
	t.state, t.logAtHand, t.suspended = fresh.state, fresh.logAtHand, false
	t.base, t.clock0 = max(t.base, t.state.At), t.hub.now()
	t.showAll()
	if lost {
		t.tellLoss()
		t.over = true
	}
}

// tellLoss pauses the game, which before its start and after its end has nothing
// to check.
func (t *table) tellLoss() {
	_ = t.decide(game.Command{Type: game.Pause, By: "hub", Notice: storeLost})
}

// checkSeen is for a console that was shown more than is stored: its last hub died,
// and what it had stored went with the store's last moments. A phone is not
// believed, for any could say so.
func (t *table) checkSeen(seen uint64) {
	if seen > t.state.Seq {
		t.log.Warn("the console was shown more than is stored", "seen", seen, "stored", t.state.Seq)
		t.tellLoss()
	}
}

// begins tells whether a log begins with what was known of it.
func begins(log, known []store.Record) bool {
	return len(log) >= len(known) && slices.EqualFunc(log[:len(known)], known, func(a, b store.Record) bool { return bytes.Equal(a.Data, b.Data) })
}

// public is the state as it is stored; while it can't change, it looks paused.
func (t *table) public() wire.State {
	v := public(&t.state, t.now())
	v.Rotation = t.rotation()
	if t.suspended {
		v.Paused, v.Notice = true, storeGone
		if t.storeDiffers {
			v.Notice = storeOdd
		}
	}
	v.NoticeCode = noticeCodes[v.Notice]
	return v
}
