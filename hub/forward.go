package hub

import (
	"bufio"
	"context"
	"crypto/hmac"
	"fmt"
	"log"
	"log/slog"
	"net"
	"net/http"
	"net/http/httputil"
	"net/url"
	"strings"
	"time"

	"github.com/gorilla/websocket"

	"fieldsign/hub/codes"
	"fieldsign/hub/gate"
	"fieldsign/hub/retention"
	"fieldsign/hub/socket"
	"fieldsign/hub/store"
	"fieldsign/hub/table"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// A phone may come to any hub. One that doesn't own the phone's game hands its
// requests, and its socket, through to the owner.

const (
	// forwardedBy names the hub that forwarded a request. Nobody forwards it again.
	forwardedBy = "Fieldsign-Forwarded-By"
	// forwardedFor tells the owner whose request it is: the address and port that
	// the first hub saw, a space, and the proof that a hub says so (see vouch).
	forwardedFor = "Fieldsign-Forwarded-For"
)

const (
	ownerAnswers = 5 * time.Second
	stuck        = 2 * socket.StallTime // for one piece: by then the owner has given the phone up
)

// between is how hubs reach each other: never by a proxy of the surroundings. An
// owner whose machine is gone is noticed before a lease of the usual length is over twice.
var between = &http.Transport{
	DialContext: (&net.Dialer{Timeout: 2 * time.Second,
		KeepAliveConfig: net.KeepAliveConfig{Enable: true, Idle: 4 * time.Second, Interval: 2 * time.Second, Count: 3}}).DialContext,
	ResponseHeaderTimeout: ownerAnswers,
	IdleConnTimeout:       time.Minute,
	MaxIdleConnsPerHost:   16,
}

// ofGame has the request served by the game's table, here or at the hub that
// owns it. The table is nil where there is no such game.
func (h *Hub) ofGame(w http.ResponseWriter, r *http.Request, code string, serve func(t *table.Table)) {
	code = codes.Clean(code)
	t, owner, err := h.register.Seek(code)
	if err != nil {
		h.notHad(w, r, code, err)
		return
	}
	wait, ok := h.guard.Code(r.RemoteAddr, code, t != nil || owner != "")
	switch {
	case !ok && websocket.IsWebSocketUpgrade(r):
		h.connect(w, r, func(conn *socket.Conn) {
			conn.TurnAway(socket.Goodbye{Code: wire.CloseLater, Why: "too many wrong join codes from this network: come back later"})
		})
	case !ok:
		gate.ComeLater(w, wait)
	case owner == "":
		serve(t)
	case r.Header.Get(forwardedBy) != "":
		comeBack(w, "This game is on its way to another hub. Try again.")
	default:
		h.forward(w, r, owner)
	}
}

// known is ofGame where nothing else is to be said of a game that there is not.
func (h *Hub) known(w http.ResponseWriter, r *http.Request, code string, serve func(t *table.Table)) {
	h.ofGame(w, r, code, func(t *table.Table) {
		if t == nil {
			wire.Refuse(w, store.ErrUnknownGame)
			return
		}
		serve(t)
	})
}

// connect makes the request a socket. Both return once that is in other hands,
// so that what served the request is freed.
func (h *Hub) connect(w http.ResponseWriter, r *http.Request, use func(*socket.Conn)) {
	if !h.register.Begin() {
		http.Error(w, "the hub is stopping: come back", http.StatusServiceUnavailable)
		return
	}
	if conn, ok := h.sockets.Upgrade(w, r); ok {
		use(conn)
	}
}

// notHad answers who asks for a game that can't be had. One that is set aside
// won't be by trying again.
func (h *Hub) notHad(w http.ResponseWriter, r *http.Request, code string, err error) {
	switch {
	case !retention.IsUnfit(err):
		h.log.Warn("a game can't be had", "game", code, "error", err)
		comeBack(w, "This game can't be had for the moment. Try again.")
	case websocket.IsWebSocketUpgrade(r):
		h.connect(w, r, func(conn *socket.Conn) {
			conn.TurnAway(socket.Goodbye{Code: wire.CloseUnknownCode, Why: "this game's log is damaged: it is set aside"})
		})
	default:
		wire.Refuse(w, err)
	}
}

func comeBack(w http.ResponseWriter, why string) {
	w.Header().Set("Retry-After", "1")
	wire.Refuse(w, refusal.New(refusal.ComeBack, why))
}

func (h *Hub) unreached(w http.ResponseWriter, owner string, err error) {
	h.log.Warn("the hub of a game can't be reached", "hub", owner, "error", err)
	comeBack(w, "The hub of this game can't be reached. Try again.")
}

// forward hands a request on, and what follows a socket's for as long as both
// sides and this hub last. It keeps Host and Origin, so that the owner checks
// what the browser sent.
func (h *Hub) forward(w http.ResponseWriter, r *http.Request, owner string) {
	target, err := url.Parse(owner)
	if err != nil || target.Host == "" {
		h.unreached(w, owner, fmt.Errorf("%q is no address of a hub", owner))
		return
	}
	if !h.register.Begin() {
		comeBack(w, "This hub is stopping. Try again.")
		return
	}
	defer h.wait.Done()
	if websocket.IsWebSocketUpgrade(r) {
		h.metrics.forwarded.Inc()
		defer h.metrics.forwarded.Dec()
	}
	ctx, cancel := context.WithCancel(r.Context())
	defer cancel()
	defer context.AfterFunc(h.ctx, cancel)()
	own := w.Header().Clone()
	clear(w.Header()) // the owner sets them too
	proxy := &httputil.ReverseProxy{
		Transport: between,
		Rewrite: func(p *httputil.ProxyRequest) {
			p.SetURL(target)
			p.Out.Host = p.In.Host
			p.Out.Header.Set(forwardedBy, h.id)
			p.Out.Header.Set(forwardedFor, p.In.RemoteAddr+" "+h.guard.Vouch(p.In.RemoteAddr))
		},
		ErrorHandler: func(w http.ResponseWriter, _ *http.Request, err error) {
			for name, values := range own {
				w.Header()[name] = values
			}
			h.unreached(w, target.String(), err)
		},
		ErrorLog: log.New(warnings{h.log}, "", 0),
	}
	proxy.ServeHTTP(passing{w}, r.WithContext(ctx))
}

// warnings are what the proxy has to say.
type warnings struct{ log *slog.Logger }

func (w warnings) Write(line []byte) (int, error) {
	w.log.Warn(strings.TrimSpace(string(line)))
	return len(line), nil
}

// asForwarded has a request that another hub hands on count as coming from where
// it came from there.
func (h *Hub) asForwarded(next http.Handler) http.Handler {
	if h.shared == nil {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		address, proof, _ := strings.Cut(r.Header.Get(forwardedFor), " ")
		if hmac.Equal([]byte(proof), []byte(h.guard.Vouch(address))) {
			r = r.WithContext(r.Context()) // a copy: a handler leaves its request alone
			r.RemoteAddr = address
		}
		next.ServeHTTP(w, r)
	})
}

// passing is the answer to a phone whose game another hub runs.
type passing struct{ http.ResponseWriter }

func (p passing) Unwrap() http.ResponseWriter { return p.ResponseWriter }

func (p passing) Hijack() (net.Conn, *bufio.ReadWriter, error) {
	conn, rw, err := http.NewResponseController(p.ResponseWriter).Hijack()
	return passed{conn}, rw, err
}

// passed is a phone's connection. Whoever takes nothing is given up, and after
// the owner's last word the phone has a moment to hear it.
type passed struct{ net.Conn }

func (c passed) Write(p []byte) (int, error) {
	c.SetWriteDeadline(time.Now().Add(stuck))
	return c.Conn.Write(p)
}

// CloseWrite is what the proxy calls once the owner has ended.
func (c passed) CloseWrite() error {
	c.SetReadDeadline(time.Now().Add(socket.LingerTime))
	if half, ok := c.Conn.(interface{ CloseWrite() error }); ok {
		return half.CloseWrite()
	}
	return nil
}
