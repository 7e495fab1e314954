package hub

import (
	"fieldsign/game"
	"fieldsign/hub/store"
)

// stage is how much of a game its season has been told by this table.
type stage int

const (
	_ stage = iota
	seasonBegun
	seasonEnded
)

// reportToSeason is called whenever the game is stored as it stands.
func (t *table) reportToSeason() {
	season, due := t.state.Plan.Season, seasonBegun
	switch {
	case season == "" || t.state.Phase == game.Lobby:
		return
	case t.state.Phase == game.Ended:
		due = seasonEnded
	}
	if t.toldSeason >= due {
		return
	}
	t.toldSeason = due
	r := store.Result{Game: t.code, Title: t.state.Plan.Title, Began: t.state.Began, Due: true}
	t.hub.wait.Go(func() { t.hub.seasons.Tell(season, r, due == seasonEnded) })
}
