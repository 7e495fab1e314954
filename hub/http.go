package hub

import (
	"errors"
	"fmt"
	"net/http"
	"slices"

	"github.com/gorilla/websocket"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"fieldsign/game"
	"fieldsign/hub/codes"
	"fieldsign/hub/gate"
	"fieldsign/hub/picture"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/table"
	"fieldsign/hub/view"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
	"fieldsign/static"
)

// pages are the files of the pages, by their paths.
var pages = map[string]string{
	"/{$}": "landing/landing", "/team": "team/team", "/board": "board/board", "/host": "host/host", "/practice": "practice/practice", "/debrief": "debrief/debrief",
	"/season": "season/season", "/season/board": "season/board", "/fair-teams": "season/fair-teams", "/trends": "season/trends",
	"/season-plan": "seasonplan/season-plan",
	"/tournament":  "tournament/tournament", "/tournament/board": "tournament/board",
	"/tournament/team": "tournament/team", "/tournament/follow": "tournament/follow",
}

// Handler serves the pages, the socket and the little there is beside them.
func (h *Hub) Handler() http.Handler {
	mux := http.NewServeMux()
	site := static.Pages()
	for path, page := range pages {
		mux.HandleFunc("GET "+path, site.ServePage(page+".html"))
	}
	mux.HandleFunc("GET "+site.Base(), site.ServeAsset)
	h.guard.Handle(mux, h.routes())
	return h.guard.Addressed(h.asForwarded(gate.Secured(mux)))
}

// routes are all that is served beside the pages. What doesn't say otherwise is
// the host's alone.
func (h *Hub) routes() []gate.Route {
	own := []gate.Route{
		{Method: "GET", Path: "/find", For: gate.OwnPages, Serve: h.find},
		{Method: "GET", Path: "/qr.svg", For: gate.OwnPages, Serve: h.qr},
		{Method: "GET", Path: "/plate", For: gate.OwnPages, Serve: h.plate},
		{Method: "GET", Path: "/addresses", Serve: h.getAddresses},
		{Method: "POST", Path: "/addresses", Serve: h.postAddress},
		{Method: "GET", Path: "/host-qr.svg", Serve: h.getHostQR},
		{Method: "POST", Path: "/photos/names", Serve: h.pictures.PostPhotoNames},
		{Method: "POST", Path: "/games", Serve: h.postGame},
		{Method: "POST", Path: "/games/{code}/next", Serve: h.postNext},
		{Method: "GET", Path: "/games", Serve: h.getGames},
		{Method: "DELETE", Path: "/games", Serve: h.deleteAll},
		{Method: "DELETE", Path: "/games/{code}", Serve: h.deleteGame},
		{Method: "DELETE", Path: "/games/{code}/teams/{team}/name", Serve: h.deleteName},
		{Method: "DELETE", Path: "/tournaments/{code}", Serve: h.deleteTournament},
		{Method: "GET", Path: "/backup", Serve: h.getBackup},
		{Method: "POST", Path: "/key", Serve: h.postKey},
		{Method: "GET", Path: "/debrief.json", Serve: h.reports.GetDebrief},
		{Method: "GET", Path: "/results.csv", Serve: h.reports.GetResults},
		{Method: "POST", Path: "/photos", Serve: h.pictures.PostPhoto},
		{Method: "GET", Path: "/photos", Serve: h.pictures.GetPhotos},
		{Method: "DELETE", Path: "/photos/{id}", Serve: h.pictures.DeletePhoto},
		{Method: "GET", Path: "/socket", For: gate.OwnPages, Serve: h.getSocket},
		{Method: "GET", Path: "/readyz", For: gate.Anyone, Serve: h.ready},
		{Method: "GET", Path: "/healthz", For: gate.Anyone, Serve: healthy},
	}
	return slices.Concat(own, h.console.Routes(), h.web.Routes(), h.practice.Routes(), h.seasons.Routes(), h.coach.Routes(), h.tournaments.Routes())
}

// healthy says that the process answers, and no more.
func healthy(w http.ResponseWriter, _ *http.Request) { fmt.Fprintln(w, "ok") }

// readiness tells whether the hub can have games go on, and what the store
// promises to keep of them.
type readiness struct {
	Ready  bool              `json:"ready"`
	Error  string            `json:"error,omitempty"`
	Shared bool              `json:"shared"`
	Store  *store.Durability `json:"store,omitempty"` // of a shared one
}

// ready is asked by whoever sends phones here; /healthz only says that the
// process answers.
func (h *Hub) ready(w http.ResponseWriter, r *http.Request) {
	if h.shared == nil {
		h.readyAlone(w)
		return
	}
	found, err := h.shared.Durability(r.Context())
	if err != nil {
		h.log.Warn("the store can't be used", "error", err)
		said := "The store does not answer: see the hub's log."
		var no store.NoWrites
		if errors.As(err, &no) {
			said = "The store takes no writes: " + no.Reason.Error()
		}
		wire.Answer(w, http.StatusServiceUnavailable, readiness{Shared: true, Error: said})
		return
	}
	wire.Answer(w, http.StatusOK, readiness{Ready: true, Shared: true, Store: &found})
}

// readyAlone is of a store that no other hub shares.
func (h *Hub) readyAlone(w http.ResponseWriter) {
	if s, ok := h.store.(store.Lasting); ok {
		if err := s.Writable(); err != nil {
			h.log.Warn("the store takes no writes", "error", err)
			wire.Answer(w, http.StatusServiceUnavailable, readiness{Error: "The store takes no writes since one to the disk has failed: see the hub's log."})
			return
		}
	}
	wire.Answer(w, http.StatusOK, readiness{Ready: true})
}

// foundGame is what a phone is told before it joins.
type foundGame struct {
	wire.GameName
	Seats      []wire.SeatView `json:"seats,omitempty"`      // of a match: who alone may join
	Tournament bool            `json:"tournament,omitempty"` // it is one, and no game
}

// find tells what a code is of, as people type it.
func (h *Hub) find(w http.ResponseWriter, r *http.Request) {
	code := r.URL.Query().Get("code")
	runs := h.register.Table(codes.Clean(code)) != nil // then the store need not be asked
	if !runs && h.tournament(w, r, code, func(code, name string) {
		wire.Answer(w, http.StatusOK, foundGame{GameName: wire.GameName{Code: code, Title: name}, Tournament: true})
	}) {
		return
	}
	h.known(w, r, code, func(t *table.Table) {
		var found foundGame
		t.Look(func(s *game.State) {
			found = foundGame{GameName: wire.GameName{Code: t.Code, Title: s.Plan.Title}, Seats: view.Seats(s)}
		})
		wire.Answer(w, http.StatusOK, found)
	})
}

// tournament serves a request for one; false says that no tournament has the code.
func (h *Hub) tournament(w http.ResponseWriter, r *http.Request, code string, serve func(code, name string)) bool {
	code = codes.Clean(code)
	name, err := h.tournaments.Named(r.Context(), code)
	if err != nil {
		return false
	}
	if wait, ok := h.guard.Code(r.RemoteAddr, code, true); !ok {
		gate.ComeLater(w, wait)
	} else {
		serve(code, name)
	}
	return true
}

func (h *Hub) qr(w http.ResponseWriter, r *http.Request) {
	code := r.URL.Query().Get("tournament")
	if code != "" && h.tournament(w, r, code, func(code, _ string) { h.serveCode(w, r, h.signInURL(code)) }) {
		return
	}
	h.known(w, r, r.URL.Query().Get("game"), func(t *table.Table) {
		h.serveCode(w, r, h.joinURL(t.Code))
	})
}

func (h *Hub) postGame(w http.ResponseWriter, r *http.Request) {
	var wish struct{ From string } // the earlier game that this one is to be planned from, if any
	if r.ContentLength != 0 && !wire.ReadBody(w, r, &wish) {
		return
	}
	code, err := "", error(nil)
	if from := codes.Clean(wish.From); from == "" {
		code, err = h.CreateGame(r.Context())
	} else {
		code, err = h.NextGame(r.Context(), from)
	}
	if err != nil {
		wire.Fail(w, h.log, err)
		return
	}
	wire.Answer(w, http.StatusCreated, wire.GameName{Code: code})
}

func (h *Hub) getSocket(w http.ResponseWriter, r *http.Request) {
	if !slices.Contains(websocket.Subprotocols(r), wire.Subprotocol) {
		http.Error(w, "this hub speaks "+wire.Subprotocol+": reload the page", http.StatusBadRequest)
		return
	}
	h.ofGame(w, r, r.URL.Query().Get("game"), func(t *table.Table) {
		h.connect(w, r, func(conn *socket.Conn) {
			if t == nil {
				conn.TurnAway(wire.UnknownGame)
				return
			}
			listener, ok := t.Sit(conn)
			if !ok {
				conn.TurnAway(wire.Stopping)
				return
			}
			conn.Listen(listener)
		})
	})
}

func (h *Hub) plate(w http.ResponseWriter, r *http.Request) {
	h.known(w, r, r.URL.Query().Get("game"), func(t *table.Table) { h.servePlateOf(t, w, r) })
}

func (h *Hub) servePlateOf(t *table.Table, w http.ResponseWriter, r *http.Request) {
	asked, drawn, found := t.Plate(r.URL.Query().Get("id"))
	if taken, ok := h.pictures.PhotoOf(asked); found && ok && h.pictures.ServePhoto(w, r, taken) {
		return
	}
	if !found {
		wire.Refuse(w, refusal.New(refusal.NoPlate, "There is no such plate, or its question is not open."))
		return
	}
	picture.ServePlate(w, static.SVG, []byte(drawn.SVG))
}

// Metrics serves the hub's figures to Prometheus. It is for the loopback only.
func (h *Hub) Metrics() http.Handler {
	return promhttp.HandlerFor(h.metrics.registry, promhttp.HandlerOpts{})
}
