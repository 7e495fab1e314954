package hub

import (
	"bytes"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"

	qr "github.com/piglig/go-qr"

	"fieldsign/hub/codes"
	"fieldsign/hub/wire"
	"fieldsign/refusal"
	"fieldsign/static"
)

// Address is one at which phones may reach the pages.
type Address struct {
	Address string `json:"address"` // such as http://192.168.1.20:7600
	Network string `json:"network"` // by what this machine calls it, such as wlan0; empty where it was given
}

// addresses are all of them, the one that phones are told first. They change
// while the hub runs: a laptop joins the school's wi-fi late.
type addresses struct {
	mu     sync.Mutex
	list   []Address
	now    string
	chosen string // by the host; holds for as long as this machine has it
}

func (a *addresses) told() string {
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.now
}

// set tells whether phones are told another address now.
func (a *addresses) set(list []Address) bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.list = list
	return a.settle()
}

func (a *addresses) settle() bool {
	before := a.now
	switch {
	case slices.ContainsFunc(a.list, func(o Address) bool { return o.Address == a.chosen }):
		a.now = a.chosen
	case len(a.list) > 0:
		a.now = a.list[0].Address
	}
	return a.now != before
}

// choose is the host's; false is for an address that this machine does not have.
func (a *addresses) choose(address string) (changed, known bool) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if !slices.ContainsFunc(a.list, func(o Address) bool { return o.Address == address }) {
		return false, false
	}
	a.chosen = address
	return a.settle(), true
}

// SetAddresses tells the hub where phones reach its pages, the best first. It
// may be called at any time; consoles and boards are told at once.
func (h *Hub) SetAddresses(list []Address) {
	for i := range list {
		list[i].Address = strings.TrimSuffix(list[i].Address, "/")
	}
	if h.at.set(list) {
		h.tellAddress()
	}
}

func (h *Hub) tellAddress() {
	for _, t := range h.register.Tables() {
		t.ShowAnew()
	}
}

func (h *Hub) joinURL(code string) string { return h.at.told() + "/team?game=" + code }

func (h *Hub) signInURL(tournament string) string {
	return h.at.told() + "/tournament/team?id=" + tournament
}

// joinAt is the host name and port that phones reach.
func (h *Hub) joinAt() string {
	_, at, _ := strings.Cut(h.at.told(), "://")
	return at
}

type addressList struct {
	Now       string    `json:"now"`
	Addresses []Address `json:"addresses"`
}

func (h *Hub) getAddresses(w http.ResponseWriter, _ *http.Request) {
	h.at.mu.Lock()
	list := addressList{h.at.now, append([]Address{}, h.at.list...)}
	h.at.mu.Unlock()
	wire.Answer(w, http.StatusOK, list)
}

func (h *Hub) postAddress(w http.ResponseWriter, r *http.Request) {
	var wish struct{ Address string }
	if !wire.ReadBody(w, r, &wish) {
		return
	}
	changed, known := h.at.choose(wish.Address)
	if !known {
		wire.Refuse(w, refusal.New(refusal.BadAddress, "This machine does not have that address any more. Open the list again."))
		return
	}
	if changed {
		h.tellAddress()
	}
	h.getAddresses(w, r)
}

// getHostQR is what the host's own phone scans. The key is behind the #, so
// that it is in no request; no cache keeps the drawing.
func (h *Hub) getHostQR(w http.ResponseWriter, r *http.Request) {
	text := h.at.told() + "/host?game=" + url.QueryEscape(codes.Clean(r.URL.Query().Get("game"))) + "#key=" + url.QueryEscape(h.guard.HostKey())
	w.Header().Set("Cache-Control", "no-store")
	h.serveCode(w, r, text)
}

func (h *Hub) serveCode(w http.ResponseWriter, r *http.Request, text string) {
	var b bytes.Buffer
	symbol, err := qr.EncodeText(text, qr.Medium)
	if err == nil {
		err = symbol.WriteAsSVG(qr.NewQrCodeImgConfig(8, 4), &b)
	}
	if err != nil {
		h.log.Error("no QR code", "error", err)
		wire.Refuse(w, refusal.New(refusal.NoQR, "The QR code could not be drawn: use the join code."))
		return
	}
	static.Serve(w, r, static.SVG, b.Bytes())
}
