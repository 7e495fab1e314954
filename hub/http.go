package hub

import (
	"bytes"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"

	"github.com/gorilla/websocket"
	qr "github.com/piglig/go-qr"

	"fieldsign/hub/store"
)

// Handler serves the pages, the socket and the little there is beside them.
func (h *Hub) Handler() http.Handler {
	mux := http.NewServeMux()
	for path, page := range map[string]string{"/{$}": "index", "/team": "team", "/board": "board", "/host": "host", "/gallery": "gallery", "/practice": "practice", "/debrief": "debrief"} {
		mux.HandleFunc("GET "+path, servePage(page+".html"))
	}
	mux.HandleFunc("GET "+assets().base+"{name...}", serveAsset)
	mux.HandleFunc("GET /find", h.find)
	mux.HandleFunc("GET /qr.svg", h.qr)
	mux.HandleFunc("GET /plate", h.plate)
	mux.HandleFunc("POST /games", h.hosts(h.postGame))
	mux.HandleFunc("GET /debrief.json", h.hosts(h.getDebrief))
	mux.HandleFunc("GET /results.csv", h.hosts(h.getResults))
	mux.HandleFunc("POST /photos", h.hosts(h.postPhoto))
	mux.HandleFunc("GET /photos", h.hosts(h.getPhotos))
	mux.HandleFunc("DELETE /photos/{id}", h.hosts(h.deletePhoto))
	mux.HandleFunc("GET /practice.json", h.practice.get)
	mux.HandleFunc("GET /practice/save", h.save)
	mux.HandleFunc("GET /practice.webmanifest", manifest)
	mux.HandleFunc("GET /practice-worker.mjs", h.worker)
	mux.HandleFunc("GET /socket", h.socket)
	mux.HandleFunc("GET /healthz", func(w http.ResponseWriter, _ *http.Request) { fmt.Fprintln(w, "ok") })
	return secured(mux)
}

// secured sets what every answer carries: nothing is loaded from elsewhere,
// framed, sniffed, or told to others.
func secured(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		// The socket is named for browsers in which 'self' leaves it out.
		head.Set("Content-Security-Policy", "default-src 'self'; connect-src 'self' ws://"+r.Host+" wss://"+r.Host+"; base-uri 'none'; form-action 'self'; frame-ancestors 'none'")
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cache-Control", "no-cache")
		next.ServeHTTP(w, r)
	})
}

func answer(w http.ResponseWriter, status int, v any) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	json.NewEncoder(w).Encode(v)
}

func unknownCode(w http.ResponseWriter) {
	answer(w, http.StatusNotFound, refused{"refused", "", "unknown_code", "No game has that join code. It is two words and two digits, as on the board."})
}

// tableOf is the table of the join code in a request's query. Where there is
// none, or it may not be said, the request is answered and nil comes back.
func (h *Hub) tableOf(w http.ResponseWriter, r *http.Request, field string) *table {
	code := cleanCode(r.URL.Query().Get(field))
	t := h.table(code)
	if wait, ok := h.guard.code(r.RemoteAddr, code, t != nil); !ok {
		comeLater(w, wait)
		return nil
	}
	if t == nil {
		unknownCode(w)
	}
	return t
}

func (h *Hub) find(w http.ResponseWriter, r *http.Request) {
	t := h.tableOf(w, r, "code")
	if t == nil {
		return
	}
	var name gameName
	t.do(func() { name = gameName{t.code, t.state.Plan.Title} })
	answer(w, http.StatusOK, name)
}

func (h *Hub) qr(w http.ResponseWriter, r *http.Request) {
	t := h.tableOf(w, r, "game")
	if t == nil {
		return
	}
	var b bytes.Buffer
	symbol, err := qr.EncodeText(h.joinURL(t.code), qr.Medium)
	if err == nil {
		err = symbol.WriteAsSVG(qr.NewQrCodeImgConfig(8, 4), &b)
	}
	if err != nil {
		h.log.Error("no QR code", "error", err)
		answer(w, http.StatusInternalServerError, refused{"refused", "", "no_qr", "The QR code could not be drawn: use the join code."})
		return
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Write(b.Bytes())
}

// isHostKey takes the same time for every key of the right length.
func (h *Hub) isHostKey(key string) bool {
	return subtle.ConstantTimeCompare([]byte(key), []byte(h.hostKey)) == 1
}

// hosts lets in only who shows the host key.
func (h *Hub) hosts(next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if wait, ok := h.guard.key(r.RemoteAddr); !ok {
			comeLater(w, wait)
			return
		}
		if !h.isHostKey(strings.TrimPrefix(r.Header.Get("Authorization"), "Bearer ")) {
			h.guard.wrongKey(r.RemoteAddr)
			answer(w, http.StatusForbidden, refused{"refused", "", "wrong_key", "That is not this hub's host key."})
			return
		}
		next(w, r)
	}
}

func (h *Hub) postGame(w http.ResponseWriter, r *http.Request) {
	from, err := wishedFrom(w, r)
	if err != nil {
		answer(w, http.StatusBadRequest, refused{"refused", "", "bad_frame", "The body names an earlier game, as {\"from\": its join code}, or is empty."})
		return
	}
	code := ""
	if from == "" {
		code, err = h.CreateGame(r.Context())
	} else {
		code, err = h.NextGame(r.Context(), from)
	}
	if errors.Is(err, store.ErrUnknownGame) {
		unknownCode(w)
		return
	}
	if err != nil {
		h.log.Error("no new game", "error", err)
		answer(w, http.StatusInternalServerError, asRefusal("", err))
		return
	}
	answer(w, http.StatusCreated, gameName{Code: code})
}

// wishedFrom reads the earlier game that a new one is to be planned from, if any.
func wishedFrom(w http.ResponseWriter, r *http.Request) (string, error) {
	const most = 1024
	var wish struct{ From string }
	err := json.NewDecoder(http.MaxBytesReader(w, r.Body, most)).Decode(&wish)
	if errors.Is(err, io.EOF) {
		err = nil
	}
	return cleanCode(wish.From), err
}

// upgrader keeps little for each connection: see DEVELOPERS.md. It reads from
// the reader that boxed gives it.
var upgrader = websocket.Upgrader{
	Subprotocols:    []string{Subprotocol},
	WriteBufferSize: writeBuffer,
	WriteBufferPool: &sync.Pool{},
}

// socket returns once the connection has become a client, so that what served
// its request is freed.
func (h *Hub) socket(w http.ResponseWriter, r *http.Request) {
	if !slices.Contains(websocket.Subprotocols(r), Subprotocol) {
		http.Error(w, "this hub speaks "+Subprotocol+": reload the page", http.StatusBadRequest)
		return
	}
	if !h.begin() {
		http.Error(w, "the hub is stopping: come back", http.StatusServiceUnavailable)
		return
	}
	box := &boxed{ResponseWriter: w, writers: &h.wait}
	conn, err := upgrader.Upgrade(box, r, nil) // answers a foreign origin with 403
	if err != nil {
		h.wait.Done()
		return
	}
	code := cleanCode(r.URL.Query().Get("game"))
	t := h.table(code)
	if _, ok := h.guard.code(r.RemoteAddr, code, t != nil); !ok {
		h.turnAway(conn, box.out, closeLater, "too many wrong join codes from this network: come back later")
		return
	}
	if t == nil {
		h.turnAway(conn, box.out, closeUnknownCode, "no game has that join code")
		return
	}
	c := newClient(t, conn, box.in, box.out)
	c.post(message{client: c})
	go c.read()
}

// turnAway ends a connection that has not become a client.
func (h *Hub) turnAway(conn *websocket.Conn, out *outbox, code int, why string) {
	goodbye(conn, code, why)
	out.linger()
	conn.Close()
	h.wait.Done()
}
