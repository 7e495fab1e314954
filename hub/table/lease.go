package table

import (
	"context"
	"errors"
	"fmt"
	"time"

	"fieldsign/game"
	"fieldsign/hub/journal"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
)

// Where several hubs share a store, a table runs only under a lease on its game,
// and each batch bears the lease's token.

const (
	retryEvery        = 250 * time.Millisecond // while the store is gone
	longestSuspension = 30 * time.Second       // then the phones may find a hub that is not cut off
	lastCall          = time.Second            // for giving up a lease when all else has ended
)

// Restarted is the notice of a game that was going on when its hub stopped.
const Restarted = "The hub was restarted. The host resumes when all are back."

const (
	storeGone = "The hub can't use its store for now. The game stands still, and goes on by itself."
	storeOdd  = "The store no longer has this game as it was. The game stands still until the hub has looked."
	storeLost = "The store has lost the last moments of this game. Check the scores, then resume."
)

// noticeCodes let pages say the hub's own notices in other languages.
var noticeCodes = map[string]string{Restarted: "restarted", storeGone: "store_gone", storeOdd: "store_odd", storeLost: "store_lost"}

// errSuspended refuses commands while a table doesn't know whether it still has
// its game.
var errSuspended = fmt.Errorf("%w: this hub may not have its game any more", store.ErrUnavailable)

// errLapsed is for a hub that slept, or was cut off, past its lease's end.
var errLapsed = fmt.Errorf("%w: the lease was not renewed in time", store.ErrUnavailable)

// Acquire makes the game this hub's, before the table runs. Where it is another's,
// that lease comes with the error.
func (t *Table) Acquire(ctx context.Context) (store.Lease, error) {
	l, asked := t.house.Leases, t.house.Clock()
	lease, err := l.Store.Acquire(ctx, t.Code, l.Hub, l.Length)
	if err == nil {
		t.hold(lease.Token, asked)
	}
	return lease, err
}

// Release gives up the lease of a table that does not run.
func (t *Table) Release() { t.release(t.journal.Token) }

// release gives up a lease. Where that fails, it is over by itself soon.
func (t *Table) release(token uint64) {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(t.house.Context), lastCall)
	defer cancel()
	if err := t.house.Leases.Store.Release(ctx, t.Code, token); err != nil {
		t.log.Warn("a lease was not given up", "error", err)
	}
}

// keep renews the table's lease until the table ends, and then gives it up.
func (t *Table) keep(token uint64) {
	l := t.house.Leases
	defer func() { t.release(token) }() // nothing, where it is another's by now
	for {
		select {
		case <-t.audience.Ended:
			return
		case <-t.wake:
			fresh := t.reacquire()
			if fresh == 0 {
				return
			}
			token = fresh
		case <-time.After(l.Length / 3):
			asked := t.house.Clock()
			if err := l.Store.Renew(t.house.Context, t.Code, token, l.Length); err != nil {
				t.audience.Turn(func() { t.suspend(err) })
			} else {
				t.lapses.Store(int64(asked + l.Length))
			}
		}
	}
}

// hold takes a lease up that was asked for at a time on the hub's clock.
func (t *Table) hold(token uint64, asked time.Duration) {
	t.journal.Token = token
	t.lapses.Store(int64(asked + t.house.Leases.Length))
}

// checkLease has a table that may have lost its game to another hub show nothing
// more as if it were true. The store refuses its writes in any case.
func (t *Table) checkLease() {
	if t.house.Leases != nil && int64(t.house.Clock()) > t.lapses.Load() {
		t.suspend(errLapsed)
	}
}

// suspend is for when a batch or a renewal fails. The table goes back to what was
// stored and stands still until reacquire has made sure of its game, or ends it.
func (t *Table) suspend(cause error) {
	if t.suspended {
		return
	}
	t.log.Warn("the game stands still until its store is sure", "error", cause, "dropped", len(t.journal.Pending))
	t.suspended, t.storeDiffers = true, !errors.Is(cause, store.ErrUnavailable)
	t.forget()
	t.journal.Suspend()
	t.refuse(cause)
	select {
	case t.wake <- struct{}{}:
	default:
	}
}

// reacquire acquires the game anew, and has the table go on from its log as it is
// now. It returns the lease's token, or 0 where the table has to end.
func (t *Table) reacquire() uint64 {
	began := t.house.Clock()
	for {
		token, err := t.reload()
		if err == nil {
			return token
		}
		if !errors.Is(err, store.ErrUnavailable) || t.house.Clock()-began > longestSuspension {
			t.log.Warn("this hub has the game no more", "error", err)
			t.audience.Turn(func() { t.giveUp(err) })
			return 0
		}
		select {
		case <-t.audience.Ended:
			return 0
		case <-t.house.Context.Done():
			return 0
		case <-time.After(retryEvery):
		}
	}
}

// giveUp ends the table. Its clients come back to whichever hub has the game,
// unless the store has none.
func (t *Table) giveUp(cause error) {
	if errors.Is(cause, store.ErrUnknownGame) {
		t.log.Error("the store has lost this game whole: it was emptied, or the game was erased by hand")
		t.dismiss("the store has lost this game")
	}
	t.over = true
}

// dismiss ends the table, and tells its clients not to come back.
func (t *Table) dismiss(why string) {
	t.audience.SendAway(socket.Goodbye{Code: wire.CloseUnknownCode, Why: why})
	t.over = true
}

// reload reads after it acquires: what was on its way under the old token is
// then in the log, or refused for good.
func (t *Table) reload() (uint64, error) {
	l, asked := t.house.Leases, t.house.Clock()
	lease, err := l.Store.Acquire(t.house.Context, t.Code, l.Hub, l.Length)
	if err != nil {
		return 0, err
	}
	fresh := journal.New(t.Code, t.house.Store, t.house.Clock)
	if err := fresh.Load(t.house.Context); err != nil {
		t.release(lease.Token)
		return 0, err
	}
	t.audience.Turn(func() { t.resume(lease.Token, asked, fresh) })
	return lease.Token, nil
}

// resume takes up the log as it was read. Where something is gone that was shown,
// the game is paused and its clients have to come back: some may have no team now.
func (t *Table) resume(token uint64, asked time.Duration, fresh *journal.Journal) {
	lost := t.journal.Resume(fresh)
	t.log.Info("the game goes on", "events", t.state.Seq, "lost", lost)
	t.hold(token, asked)
	t.suspended = false
	t.showAll()
	if lost {
		t.tellLoss()
		t.over = true
	}
}

// tellLoss pauses the game, which before its start and after its end has nothing
// to check.
func (t *Table) tellLoss() {
	_ = t.decide(game.Command{Type: game.Pause, By: "hub", Notice: storeLost})
}

// checkSeen is for a console that was shown more than is stored: its last hub died,
// and what it had stored went with the store's last moments. A phone is not
// believed, for any could say so.
func (t *Table) checkSeen(seen uint64) {
	if seen > t.state.Seq {
		t.log.Warn("the console was shown more than is stored", "seen", seen, "stored", t.state.Seq)
		t.tellLoss()
	}
}

// public is the state as it is stored; while it can't change, it looks paused.
func (t *Table) public() wire.State {
	v := t.view.Public(t.journal.Now())
	if t.suspended {
		v.Paused, v.Notice = true, storeGone
		if t.storeDiffers {
			v.Notice = storeOdd
		}
	}
	v.NoticeCode = noticeCodes[v.Notice]
	return v
}
