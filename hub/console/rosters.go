package console

import (
	"cmp"
	"net/http"
	"slices"

	"fieldsign/game"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
	"fieldsign/refusal"
	"fieldsign/static"
)

// What the host's form shows beside its fields: whom a roster has, and a
// drawing for each recipe.

type rosterView struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`   // in the language of whoever asks
	Animals []string `json:"animals"` // by their usual names, in their order
	FoodWeb string   `json:"foodWeb"` // what its food web's page calls it; empty where none can be drawn
}

// getRosters lists the rosters on offer. One that can't be read has no animals:
// the planner says why when it is planned with.
func (c *Console) getRosters(w http.ResponseWriter, r *http.Request) {
	list := []rosterView{}
	language, _ := catalogue.ParseLanguage(static.Pages().Language(r)) // English where the catalogue has no such words
	for _, name := range c.Planner.Rosters {
		v := rosterView{Name: name, Title: language.Title(name), Animals: []string{}}
		if roster, err := c.Planner.Catalogue.Roster(name); err == nil {
			v.Title = language.Title(roster.Name)
			if web, err := c.Planner.Web(plan.InLanguage{Roster: name, Language: catalogue.English}); err == nil && web.Drawable() {
				v.FoodWeb = roster.Name
			}
			for _, animal := range roster.Of("animal") {
				if s, ok := c.Planner.Catalogue.Find(animal); ok {
					v.Animals = append(v.Animals, s.Vernacular)
				}
			}
		}
		slices.SortFunc(v.Animals, cmp.Compare)
		list = append(list, v)
	}
	wire.Answer(w, http.StatusOK, list)
}

// spots are the drawings that pages are adorned with. They are these few and no
// others: with any plate at hand, a shown one could be looked up.
var spots = map[string]game.Plate{
	"fox-skull":     {Species: "Vulpes vulpes", View: "skull side"},
	"beaver-skull":  {Species: "Castor canadensis", View: "skull side"},
	"raccoon-print": {Species: "Procyon lotor", View: "front print"},
	"otter-print":   {Species: "Lontra canadensis", View: "hind print"},
	"bobcat-print":  {Species: "Lynx rufus", View: "front print"},
	"coyote-scat":   {Species: "Canis latrans", View: "scat"},
}

func (c *Console) getSpot(w http.ResponseWriter, r *http.Request) {
	drawn, ok := c.Pictures.Draw(spots[r.PathValue("name")], 0)
	if !ok {
		wire.Refuse(w, refusal.New(refusal.NoPlate, "There is no such drawing."))
		return
	}
	w.Header().Set("Cache-Control", "public, max-age=86400")
	static.Serve(w, r, static.SVG, []byte(plate.Bare(drawn.SVG)))
}
