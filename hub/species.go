package hub

import (
	"net/http"

	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
)

// What the hub sends names species in English. Their other names are sent once,
// by language and English name, so that no frame of a game grows: the page puts
// them beside the English ones. They tell nothing of any question.

func (h *Hub) getNames(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "public, max-age=3600")
	w.Write(wire.Encode(plan.Translations(h.planner.Catalogue)))
}
