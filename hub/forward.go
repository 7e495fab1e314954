package hub

import (
	"fmt"
	"net"
	"net/http"
	"net/http/httputil"
	"net/url"
	"time"

	"github.com/gorilla/websocket"
)

// A phone may come to any hub. One that doesn't own the phone's game relays the
// socket, and hands plain requests through to the owner.

// forwardedBy names the hub that forwarded a request. Nobody forwards it again.
const forwardedBy = "Fieldsign-Forwarded-By"

const ownerAnswers = 5 * time.Second

// between is how hubs reach each other: never by a proxy of the surroundings.
var between = &http.Transport{
	DialContext:           (&net.Dialer{Timeout: 2 * time.Second}).DialContext,
	ResponseHeaderTimeout: ownerAnswers,
	IdleConnTimeout:       time.Minute,
	MaxIdleConnsPerHost:   16,
}

// ofGame has the request served by the game's table, here or at the hub that
// owns it. The table is nil where there is no such game.
func (h *Hub) ofGame(w http.ResponseWriter, r *http.Request, code string, serve func(t *table)) {
	code = cleanCode(code)
	t, owner, err := h.seek(code)
	if err != nil {
		h.notHad(w, r, code, err)
		return
	}
	wait, ok := h.guard.code(r.RemoteAddr, code, t != nil || owner != "")
	switch {
	case !ok && websocket.IsWebSocketUpgrade(r):
		h.connect(w, r, func(conn *websocket.Conn, box *boxed) {
			h.turnAway(conn, box.out, closeLater, "too many wrong join codes from this network: come back later")
		})
	case !ok:
		comeLater(w, wait)
	case owner == "":
		serve(t)
	case r.Header.Get(forwardedBy) != "":
		comeBack(w, "This game is on its way to another hub. Try again.")
	case websocket.IsWebSocketUpgrade(r):
		h.relay(w, r, code)
	default:
		h.pass(w, r, owner)
	}
}

func comeBack(w http.ResponseWriter, why string) {
	w.Header().Set("Retry-After", "1")
	answer(w, http.StatusServiceUnavailable, refused{"refused", "", "come_back", why})
}

func (h *Hub) unreached(w http.ResponseWriter, owner string, err error) {
	h.log.Warn("the hub of a game can't be reached", "hub", owner, "error", err)
	comeBack(w, "The hub of this game can't be reached. Try again.")
}

// pass hands a plain request on. It keeps Host and Origin, so that the owner
// checks what the browser sent.
func (h *Hub) pass(w http.ResponseWriter, r *http.Request, owner string) {
	target, err := url.Parse(owner)
	if err != nil || target.Host == "" {
		h.unreached(w, owner, fmt.Errorf("%q is no address of a hub", owner))
		return
	}
	own := w.Header().Clone()
	clear(w.Header()) // the owner sets them too
	proxy := &httputil.ReverseProxy{
		Transport: between,
		Rewrite: func(p *httputil.ProxyRequest) {
			p.SetURL(target)
			p.Out.Host = p.In.Host
			p.Out.Header.Set(forwardedBy, h.id)
		},
		ErrorHandler: func(w http.ResponseWriter, _ *http.Request, err error) {
			for name, values := range own {
				w.Header()[name] = values
			}
			h.unreached(w, target.String(), err)
		},
	}
	proxy.ServeHTTP(w, r)
}
