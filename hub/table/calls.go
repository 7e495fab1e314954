package table

import (
	"slices"

	"fieldsign/game"
	"fieldsign/hub/retention"
	"fieldsign/hub/store"
	"fieldsign/hub/wire"
	"fieldsign/questions/plate"
)

// What the hub asks of a running table. Each call is one turn of the table's.

// Look has f read the game, which changes nothing and keeps nothing of it.
func (t *Table) Look(f func(*game.State)) { t.audience.Turn(func() { f(t.state) }) }

// Stored is the game where all of it is stored; ok is false while it is not.
func (t *Table) Stored() (s game.State, ok bool) {
	t.audience.Turn(func() {
		if ok = len(t.journal.Pending) == 0 && t.state.Seq > 0; ok {
			s = t.state.Clone()
		}
	})
	return s, ok
}

// Planned is the plan as it stands. Its questions are not changed in place, so they
// may be read without the table.
func (t *Table) Planned() (planned game.Plan) {
	t.audience.Turn(func() { planned = t.state.Plan })
	return planned
}

// Watched tells whether anybody is there.
func (t *Table) Watched() (yes bool) {
	t.audience.Turn(func() { yes = len(t.audience.Clients) > 0 })
	return yes
}

// Plate finds a plate that is shown now: see view.Game.
func (t *Table) Plate(id string) (asked game.Question, drawn plate.Plate, ok bool) {
	t.audience.Turn(func() { asked, drawn, ok = t.view.Plate(id) })
	return asked, drawn, ok
}

// Do has commands take effect, and returns once they are stored. Where they can't
// be, it is a store.ErrUnavailable. Where one is refused, none has effect.
func (t *Table) Do(list ...game.Command) error {
	err := error(store.ErrUnavailable) // unless the table lives to do it
	t.audience.Turn(func() { err = t.store(list...) })
	return err
}

func (t *Table) store(list ...game.Command) error {
	if t.suspended {
		return errSuspended
	}
	if err := t.journal.Try(list...); err != nil {
		return err
	}
	for _, c := range list {
		if err := t.decide(c); err != nil {
			return err
		}
	}
	want := t.state.Seq
	if t.commit(); t.suspended || t.state.Seq < want {
		return store.ErrUnavailable
	}
	return nil
}

// RemoveTeam takes a team out by its name, and sends its phone away.
func (t *Table) RemoveTeam(name string) (err error) {
	t.audience.Turn(func() {
		i := slices.IndexFunc(t.state.Teams, func(o game.Team) bool { return !o.Removed && o.Name == name })
		if i < 0 || t.state.Phase == game.Ended {
			return
		}
		phone := t.audience.Phone(i)
		if err = t.store(game.Command{Type: game.Remove, By: "hub", Team: t.state.Teams[i].ID}); err == nil && phone != nil {
			phone.SendAway(wire.CloseRemoved, "removed by the host")
		}
	})
	return err
}

// ForgetName erases a team's nickname, also in what was stored before.
func (t *Table) ForgetName(team string) error {
	err := error(store.ErrUnavailable)
	t.audience.Turn(func() {
		if err = t.store(retention.Forgetting(team)); err == nil {
			err = retention.Redact(t.house.Context, t.house.Store, t.state, team)
		}
	})
	return err
}

// ShowAnew has everyone told the whole game anew, where it is played and how it is
// joined too, and returns once that is sent.
func (t *Table) ShowAnew() {
	t.audience.Turn(func() {
		t.sentTeams = nil
		t.broadcast()
	})
}

// CloseConsole sends the host's console away.
func (t *Table) CloseConsole(code int, why string) {
	t.audience.Turn(func() {
		if t.audience.Console != nil {
			t.audience.Console.SendAway(code, why)
		}
	})
}

// Dismiss ends the table for good and waits for that: its clients are told why, and
// don't come back.
func (t *Table) Dismiss(why string) {
	t.audience.Turn(func() { t.dismiss(why) })
	<-t.audience.Ended
}
