package hub

import (
	"context"
	"maps"
	"slices"
	"time"

	"fieldsign/game"
	"fieldsign/hub/console"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/practice"
	"fieldsign/hub/report"
	"fieldsign/hub/season"
	"fieldsign/hub/store"
	"fieldsign/hub/tournaments"
)

// ShowNow has a game's state broadcast, and waits for it.
func (h *Hub) ShowNow(code string) { h.register.Table(code).ShowAnew() }

// AllowJoins sets how many teams may join from an address at once.
func (h *Hub) AllowJoins(n int) { h.guard.Joins = n }

// StopRefills has nobody regain a try, a join or a download with time, which
// on a slow machine passes.
func (h *Hub) StopRefills() {
	now := time.Now()
	h.guard.SetClock(func() time.Time { return now })
	h.practice.Limit.SetLimit(0)
}

// Purge forgets what is old at a time, with games kept for so long.
func (h *Hub) Purge(keep time.Duration, now time.Time) {
	h.kept = keep
	h.purge(h.ctx, now)
	h.kept = 0
}

// EndStray ends the games that are no match's any more at a time.
func (h *Hub) EndStray(now time.Time) { h.endStray(h.ctx, now) }

// CountResult counts a result as if its game had ended here.
func (h *Hub) CountResult(ctx context.Context, in string, r store.Result) error {
	for i := range r.Lines {
		r.Lines[i].Team = season.SameTeam(r.Lines[i].Name)
	}
	return h.store.AddResult(ctx, in, r)
}

// SeePhotos has the hub look at the photos in its store.
func (h *Hub) SeePhotos() { h.pictures.Refresh(h.ctx) }

// Phase is how far a game has come.
func (h *Hub) Phase(code string) (p game.Phase) {
	h.register.Table(code).Look(func(s *game.State) { p = s.Phase })
	return p
}

// NewSeed draws a seed as the planner does.
var NewSeed = plan.NewSeed

// LessonAddresses are where the drawings of the question's reveal are going to be.
func (h *Hub) LessonAddresses(code string) (list []string) {
	h.register.Table(code).Look(func(s *game.State) {
		_, q, _ := s.Current()
		for _, place := range []int{1000, 1001} {
			id, _ := h.pictures.Sealed(code, *q, place)
			list = append(list, "/plate?game="+code+"&id="+id)
		}
	})
	return list
}

// Routes are those of every hub, and Pages the paths of its pages.
var (
	Routes = (&Hub{console: &console.Console{}, seasons: &season.Seasons{}, tournaments: &tournaments.Tournaments{}, practice: &practice.Practice{}, reports: &report.Reports{}, pictures: &picture.Cabinet{}}).routes()
	Pages  = slices.Sorted(maps.Keys(pages))
)

// Seeding is the order of names by their ratings in a season.
func (h *Hub) Seeding(ctx context.Context, in string, names []string) ([]int, error) {
	return h.seasons.Seeding(ctx, in, names)
}
