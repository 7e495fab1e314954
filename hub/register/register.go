// Package register has the running games of a hub: it opens them, takes them up from
// the store, and knows which hub runs the others.
package register

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sync"
	"time"

	"fieldsign/game"
	"fieldsign/hub/codes"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
	"fieldsign/hub/table"
	"fieldsign/hub/tournaments/book"
)

// Register is safe for concurrent use.
type Register struct {
	house *table.House
	wait  *sync.WaitGroup // of all that runs for the hub

	mu       sync.Mutex
	tables   map[string]*table.Table
	searches map[string]*search
	aside    map[string]error // why stored games can't be played
	closed   bool
}

// New is a register without games, which the house's tables are for. It counts
// into wait what Close has to wait for.
func New(house *table.House, wait *sync.WaitGroup) *Register {
	return &Register{house: house, wait: wait, tables: map[string]*table.Table{}, searches: map[string]*search{}, aside: map[string]error{}}
}

// Resume goes on with the unfinished games of the store that this hub ran last, and
// pauses them: their phones have to come back first.
func (r *Register) Resume() error {
	games, err := r.house.Store.Games(r.house.Context)
	if err != nil {
		return fmt.Errorf("the list of games can't be read: %w", err)
	}
	for _, g := range games {
		if g.Ended || book.Is(g.ID) {
			continue
		}
		t, err := r.resume(g.ID)
		if err != nil {
			// One damaged game must not keep the others from going on.
			if r.house.Leases == nil || !retention.IsUnfit(err) { // seek has noted it
				r.SetAside(g.ID, err)
			}
			continue
		}
		if t == nil {
			continue
		}
		if t.Do(game.Command{Type: game.Pause, By: "hub", Notice: table.Restarted}) == nil {
			r.house.Log.Info("resumed a game and paused it", "game", g.ID, "events", g.Last)
		}
	}
	return nil
}

// resume opens a stored game that this hub ran last; nil stands for another's.
func (r *Register) resume(code string) (*table.Table, error) {
	if r.house.Leases != nil {
		last, err := r.house.Leases.Store.Owner(r.house.Context, code)
		if err != nil || last.Hub != r.house.Leases.Hub {
			return nil, err
		}
		t, _, err := r.Seek(code)
		return t, err
	}
	t := table.New(r.house, code)
	if err := t.Load(); err != nil {
		return nil, err
	}
	r.open(t)
	return t, nil
}

func (r *Register) open(t *table.Table) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.closed || r.tables[t.Code] != nil {
		return false
	}
	r.tables[t.Code] = t
	r.wait.Go(func() { t.Run(func() { r.forget(t) }) })
	return true
}

// forget lets a game be taken over anew when its table ends before the hub does.
func (r *Register) forget(t *table.Table) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.tables[t.Code] == t && !r.closed {
		delete(r.tables, t.Code)
	}
}

// Begin counts a connection in, unless the hub is stopping.
func (r *Register) Begin() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.closed {
		return false
	}
	r.wait.Add(1)
	return true
}

// Later runs f unless the hub is stopping, which waits for it.
func (r *Register) Later(f func()) {
	if r.Begin() {
		go func() {
			defer r.wait.Done()
			f()
		}()
	}
}

// Count is how many there are.
func (r *Register) Count() float64 {
	r.mu.Lock()
	defer r.mu.Unlock()
	return float64(len(r.tables))
}

// Tables are the tables of now.
func (r *Register) Tables() []*table.Table {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.Collect(maps.Values(r.tables))
}

// Table is that of a running game, or nil.
func (r *Register) Table(code string) *table.Table {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.tables[code]
}

// Close takes no game and no connection any more.
func (r *Register) Close() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.closed = true
}

// Create opens a game in its lobby under a new join code, with the teams that it has
// from an earlier one, and returns the code.
func (r *Register) Create(ctx context.Context, planned game.Plan, teams ...game.Team) (string, error) {
	for {
		t, err := r.unused(ctx, codes.New())
		if err != nil {
			return "", err
		}
		if t != nil {
			return t.Code, r.begun(t, planned, teams...)
		}
	}
}

// CreateAs opens a game under a code drawn before.
func (r *Register) CreateAs(ctx context.Context, code string, planned game.Plan, teams ...game.Team) error {
	t, err := r.unused(ctx, code)
	if err != nil || t == nil {
		return errors.Join(err, errCodeTaken)
	}
	return r.begun(t, planned, teams...)
}

var errCodeTaken = errors.New("the join code drawn for the game is another game's: try again")

// begun opens the table of a new game, and returns once that is stored, with the
// teams that it has from an earlier one. A game that can't be stored has no table.
func (r *Register) begun(t *table.Table, planned game.Plan, teams ...game.Team) error {
	if !r.open(t) {
		return errors.New("the hub is stopping")
	}
	if err := t.Do(first(t.Code, planned, teams)...); err != nil {
		t.Dismiss("the game was not stored")
		return fmt.Errorf("the new game was not stored: %w", err)
	}
	return nil
}

// first are the commands by which a new game begins, with the teams that it has
// from an earlier one.
func first(code string, planned game.Plan, teams []game.Team) []game.Command {
	list := []game.Command{{Type: game.Create, By: "hub", Code: code, Began: time.Now().UTC().Format("2006-01-02T15:04:05.000Z"), Plan: planned}}
	for i, t := range teams {
		list = append(list, game.Command{Type: game.Join, By: "hub", Name: t.Name, Secret: t.Secret})
		if t.Extra > 0 {
			list = append(list, game.Command{Type: game.Extend, By: "hub", Team: game.TeamID(i), Extra: t.Extra})
		}
	}
	return list
}

// unused is a table for a code that no game has; nil is for one that is taken.
func (r *Register) unused(ctx context.Context, code string) (*table.Table, error) {
	t := table.New(r.house, code)
	if r.house.Leases != nil {
		if ok, err := r.lease(ctx, t); err != nil || !ok {
			return nil, err
		}
		return t, nil
	}
	games, err := r.house.Store.Games(ctx)
	if err != nil || slices.ContainsFunc(games, func(g store.Game) bool { return g.ID == code }) {
		return nil, err
	}
	return t, nil
}

// search is one attempt to find or take over a game; all who ask meanwhile wait for it.
type search struct {
	over  chan struct{}
	table *table.Table
	owner string
	err   error
}

// Seek finds the game's table here, taking the game over where no hub has it,
// or else the hub that owns it. Neither is for a game that there is not.
func (r *Register) Seek(code string) (t *table.Table, owner string, err error) {
	r.mu.Lock()
	if t := r.tables[code]; t != nil || r.house.Leases == nil {
		err := r.aside[code]
		r.mu.Unlock()
		return t, "", err
	}
	k, begun := r.searches[code]
	if !begun {
		k = &search{over: make(chan struct{}), err: errCutShort}
		r.searches[code] = k
	}
	r.mu.Unlock()
	if begun {
		<-k.over
		return k.table, k.owner, k.err
	}
	defer func() { // whatever happens, nobody is left waiting
		r.mu.Lock()
		delete(r.searches, code)
		r.mu.Unlock()
		close(k.over)
	}()
	k.table, k.owner, k.err = r.takeOver(code)
	return k.table, k.owner, k.err
}

// errCutShort is for those who waited for an attempt that broke off.
var errCutShort = errors.New("the attempt to take the game over broke off")

// SetAside notes that a stored game can't be played, and why; nil forgets that.
func (r *Register) SetAside(code string, why error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	before := r.aside[code]
	if why == nil {
		delete(r.aside, code)
		return
	}
	if r.aside[code] = why; before != nil && before.Error() == why.Error() {
		return // it is told once, however many ask
	}
	r.house.Log.Error("a stored game is set aside, all others go on: erase it, or restore a backup from before", "game", code, "error", why)
}

// takeOver opens a game on its log, unless another hub's lease on it is running.
func (r *Register) takeOver(code string) (*table.Table, string, error) {
	before, err := r.house.Leases.Store.Owner(r.house.Context, code)
	switch {
	case errors.Is(err, store.ErrUnknownGame):
		return nil, "", nil
	case err != nil:
		return nil, "", err
	case before.Left > 0 && before.Hub != r.house.Leases.Hub:
		return nil, before.Hub, nil
	}
	t := table.New(r.house, code)
	lease, err := t.Acquire(r.house.Context)
	if errors.Is(err, store.ErrOwned) {
		return nil, lease.Hub, nil
	} else if err != nil {
		return nil, "", err
	}
	if err = t.Load(); err == nil && !r.open(t) {
		err = errors.New("the hub is stopping")
	}
	if err != nil {
		t.Release()
		if retention.IsUnfit(err) {
			r.SetAside(code, err)
		}
		return nil, "", err
	}
	r.SetAside(code, nil)
	r.house.Log.Info("took over a game", "game", code, "from", before.Hub, "events", lease.Last)
	return t, "", nil
}

// lease makes a new game this hub's, unless its code is taken; then ok is false.
func (r *Register) lease(ctx context.Context, t *table.Table) (ok bool, err error) {
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
