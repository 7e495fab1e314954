package hub

import (
	"context"
	"maps"
	"slices"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/game"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/practice"
	"fieldsign/hub/report"
	"fieldsign/hub/season"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/tournaments"
)

// ShowNow has a game's state broadcast, and waits for it.
func (h *Hub) ShowNow(code string) {
	t := h.table(code)
	t.do(func() { t.broadcast() })
}

// Age has all clients of a game connected, and fallen silent, so much longer
// ago, and looks after them.
func (h *Hub) Age(code string, silent time.Duration) {
	t := h.table(code)
	t.do(func() {
		for _, c := range t.clients {
			c.Heard.Add(-int64(silent))
			c.dueAt -= silent
		}
		t.swept = -sweepEvery
		t.sweep()
	})
}

// Silent counts the clients of a game that were heard of no later than so long ago.
func (h *Hub) Silent(code string, since time.Duration) (n int) {
	t := h.table(code)
	t.do(func() {
		for _, c := range t.clients {
			if h.now()-time.Duration(c.Heard.Load()) >= since {
				n++
			}
		}
	})
	return n
}

// LoseTheEnd has a game learn that its store has lost something, while a frame
// of its console waits.
func (h *Hub) LoseTheEnd(code, waiting string) {
	t := h.table(code)
	t.do(func() {
		f := &socket.Frame{Kind: websocket.TextMessage, Data: []byte(waiting)}
		t.inbox <- message{client: t.console, Heard: socket.Heard{Frame: f, At: h.now()}}
		fresh := newTable(h, code)
		if err := fresh.load(h.ctx); err != nil {
			panic(err)
		}
		t.logAtHand = append(t.logAtHand, store.Record{Seq: t.state.Seq + 1})
		t.resume(t.token, h.now(), fresh)
	})
}

// TooSlow counts the clients of a game that have fallen behind.
func (h *Hub) TooSlow(code string) (n int) {
	t := h.table(code)
	t.do(func() {
		for _, c := range t.clients {
			if c.TooSlow() {
				n++
			}
		}
	})
	return n
}

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
	t := h.table(code)
	t.do(func() { p = t.state.Phase })
	return p
}

// NewSeed draws a seed as the planner does.
var NewSeed = plan.NewSeed

// LessonAddresses are where the drawings of the question's reveal are going to be.
func (h *Hub) LessonAddresses(code string) (list []string) {
	t := h.table(code)
	t.do(func() {
		_, q, _ := t.state.Current()
		list = []string{t.address(*q, lessonPlace), t.address(*q, lessonPlace+1)}
	})
	return list
}

// Routes are those of every hub, and Pages the paths of its pages.
var (
	Routes = (&Hub{seasons: &season.Seasons{}, tournaments: &tournaments.Tournaments{}, practice: &practice.Practice{}, reports: &report.Reports{}, pictures: &picture.Cabinet{}}).routes()
	Pages  = slices.Sorted(maps.Keys(pages))
)

// Seeding is the order of names by their ratings in a season.
func (h *Hub) Seeding(ctx context.Context, in string, names []string) ([]int, error) {
	return h.seasons.Seeding(ctx, in, names)
}
