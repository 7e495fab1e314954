package hub

import (
	"net/http"

	"fieldsign/questions/catalogue"
)

// What the hub sends names species in English. Their other names are sent once,
// by language and English name, so that no frame of a game grows: the page puts
// them beside the English ones. They tell nothing of any question.

func translations(c *catalogue.Catalogue) map[string]map[string]string {
	spanish := map[string]string{}
	for _, s := range c.Species {
		if s.Spanish != "" {
			spanish[s.Vernacular] = s.Spanish
		}
	}
	return map[string]map[string]string{"es": spanish}
}

func (h *Hub) getNames(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "public, max-age=3600")
	w.Write(encode(translations(h.planner.catalogue)))
}
