package console

import (
	"net/http"

	"fieldsign/game"
	"fieldsign/hub/table"
	"fieldsign/hub/wire"
	"fieldsign/questions/setfile"
)

// The plan as a file: the host saves its questions as a set, with how each
// round is played, and loads one into a game that has not begun.

func (c *Console) getSet(w http.ResponseWriter, r *http.Request) {
	c.Game(w, r, r.URL.Query().Get("game"), func(t *table.Table) {
		set, err := c.Planner.SetOf(t.Planned(), r.URL.Query().Get("name"))
		if err != nil {
			wire.Fail(w, c.Log, err)
			return
		}
		wire.Download(w, "application/jsonl; charset=utf-8", "set.jsonl")
		w.Header().Set("Cache-Control", "no-store")
		if err := set.Write(w); err != nil {
			c.Log.Info("a set was not sent to its end", "error", err)
		}
	})
}

func (c *Console) postSet(w http.ResponseWriter, r *http.Request) {
	c.Game(w, r, r.URL.Query().Get("game"), func(t *table.Table) {
		plan, err := c.Planner.Loaded(http.MaxBytesReader(w, r.Body, setfile.MaxBytes+1), t.Planned().Roster)
		if err == nil {
			err = t.Do(game.Command{Type: game.SetPlan, By: "host", Plan: plan})
		}
		if err != nil {
			wire.Fail(w, c.Log, err)
			return
		}
		wire.Answer(w, http.StatusOK, wire.GameName{Code: t.Code, Title: plan.Title})
	})
}
