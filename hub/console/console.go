// Package console is what the host's console asks for over HTTP beside its socket:
// whom the rosters have, the planned questions with their keys, sets as files, paper.
package console

import (
	"log/slog"
	"net/http"

	"fieldsign/hub/gate"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/table"
	"fieldsign/hub/wire"
)

// Console is what its routes need of the hub.
type Console struct {
	Planner  *plan.Planner
	Pictures *picture.Cabinet
	Log      *slog.Logger

	// Game has a request served by a game's table, wherever that is.
	Game func(w http.ResponseWriter, r *http.Request, code string, serve func(*table.Table))
}

// Routes are the host's alone, but for what tells nothing of any question.
func (c *Console) Routes() []gate.Route {
	return []gate.Route{
		{Method: "GET", Path: "/rosters", Serve: c.getRosters},
		{Method: "GET", Path: "/names.json", For: gate.Anyone, Serve: c.getNames},
		{Method: "GET", Path: "/spot/{name}", For: gate.Anyone, Serve: c.getSpot},
		{Method: "GET", Path: "/questions.json", Serve: c.getQuestions},
		{Method: "GET", Path: "/set", Serve: c.getSet},
		{Method: "POST", Path: "/set", Serve: c.postSet},
		{Method: "GET", Path: "/paper", Serve: c.getPaper},
	}
}

// getNames answers what species are called in other languages than the English of
// every frame: once, so that no frame of a game grows. The page puts these names
// beside the English ones.
func (c *Console) getNames(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "public, max-age=3600")
	w.Write(wire.Encode(plan.Translations(c.Planner.Catalogue)))
}
