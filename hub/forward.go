package hub

import (
	"bufio"
	"context"
	"errors"
	"net"
	"net/http"
	"net/http/httputil"
	"net/url"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// A phone may come to any hub. One that doesn't own the phone's game hands the
// request, or the socket, through to the owner.

// forwardedBy names the hub that forwarded a request. Nobody forwards it again.
const forwardedBy = "Fieldsign-Forwarded-By"

// between is how hubs reach each other: never by a proxy of the surroundings.
var between = &http.Transport{
	DialContext:           (&net.Dialer{Timeout: 2 * time.Second}).DialContext,
	ResponseHeaderTimeout: 5 * time.Second,
	IdleConnTimeout:       time.Minute,
	MaxIdleConnsPerHost:   16,
}

// ofGame has the request served by the game's table, here or at the hub that
// owns it. The table is nil where there is no such game.
func (h *Hub) ofGame(w http.ResponseWriter, r *http.Request, code string, serve func(t *table)) {
	code = cleanCode(code)
	t, owner, err := h.seek(code)
	if err != nil {
		h.log.Warn("a game can't be had", "game", code, "error", err)
		comeBack(w, "This game can't be had for the moment. Try again.")
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
	default:
		h.forward(w, r, owner)
	}
}

func comeBack(w http.ResponseWriter, why string) {
	w.Header().Set("Retry-After", "1")
	answer(w, http.StatusServiceUnavailable, refused{"refused", "", "come_back", why})
}

// forward keeps Host and Origin, so that the owner checks what the browser sent.
// It ends with this hub: the phone then comes back by another.
func (h *Hub) forward(w http.ResponseWriter, r *http.Request, owner string) {
	target, err := url.Parse(owner)
	if err != nil || target.Host == "" || !h.begin() {
		h.log.Error("a game's hub can't be asked", "hub", owner, "error", errors.Join(err, h.ctx.Err()))
		comeBack(w, "The hub of this game can't be reached. Try again.")
		return
	}
	defer h.wait.Done()
	ctx, cancel := context.WithCancel(r.Context())
	defer cancel()
	defer context.AfterFunc(h.ctx, cancel)()
	phone := &through{ResponseWriter: w}
	defer context.AfterFunc(h.ctx, phone.cut)()
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
			h.log.Warn("the hub of a game can't be reached", "hub", owner, "error", err)
			for name, values := range own {
				w.Header()[name] = values
			}
			comeBack(w, "The hub of this game can't be reached. Try again.")
		},
	}
	proxy.ServeHTTP(phone, r.WithContext(ctx))
}

// through hands an upgrade the phone's connection, and ends it with the hub.
type through struct {
	http.ResponseWriter
	mu   sync.Mutex
	conn net.Conn // once it is an upgrade's
	over bool
}

func (t *through) cut() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.over = true; t.conn != nil {
		t.conn.Close()
	}
}

func (t *through) Unwrap() http.ResponseWriter { return t.ResponseWriter }

func (t *through) Hijack() (net.Conn, *bufio.ReadWriter, error) {
	conn, rw, err := http.NewResponseController(t.ResponseWriter).Hijack()
	if err != nil {
		return nil, nil, err
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.conn = conn; t.over {
		conn.Close()
	}
	return parting{conn}, rw, nil
}

// parting is a phone's connection that is not waited for once the owner has
// said its last.
type parting struct{ net.Conn }

func (p parting) CloseWrite() error {
	p.SetReadDeadline(time.Now().Add(lingerTime))
	if tcp, ok := p.Conn.(interface{ CloseWrite() error }); ok {
		return tcp.CloseWrite()
	}
	return nil
}
