package gate

import (
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"

	"fieldsign/hub/wire"
	"fieldsign/refusal"
)

// What is settled of a request before anything else looks at it: whose it is,
// and whether a page of another site sent it.

// Addressed gives a request that came by a trusted proxy the address of the
// phone behind it. Nobody else's word for an address counts.
func (g *Gate) Addressed(next http.Handler) http.Handler {
	if len(g.proxies) == 0 {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if from := behind(g.proxies, r); from != "" {
			r = r.WithContext(r.Context()) // a copy
			r.RemoteAddr = from
		}
		next.ServeHTTP(w, r)
	})
}

// behind is the address, with the port 0, that a chain of trusted proxies says
// that a request is from: in X-Forwarded-For the last one that is no proxy's,
// since what stands before that is the sender's own word. It is "" where no
// proxy has said anything.
func behind(proxies []netip.Prefix, r *http.Request) string {
	trusted := func(a netip.Addr) bool {
		return slices.ContainsFunc(proxies, func(p netip.Prefix) bool { return p.Contains(a) })
	}
	at, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil || !trusted(at.Addr().Unmap()) {
		return ""
	}
	said := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
	var from netip.Addr
	for _, text := range slices.Backward(said) {
		a, err := netip.ParseAddr(strings.TrimSpace(text))
		if err != nil {
			break
		}
		if from = a.Unmap(); !trusted(from) {
			break
		}
	}
	if !from.IsValid() {
		return ""
	}
	return netip.AddrPortFrom(from, 0).String()
}

// ownPages refuses what a browser sends for a page of another site, before any
// guess is counted: such a page must not use up the tries of whoever looks at it.
func ownPages(next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if foreign(r) {
			wire.Refuse(w, refusal.New(refusal.CrossSite, "A page of another site asked for this: open the hub's own page."))
			return
		}
		next(w, r)
	}
}

// foreign goes by what browsers say and no page can change. Over plain HTTP
// they leave Sec-Fetch-Site out, and Origin where a page only shows a picture.
func foreign(r *http.Request) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "same-origin", "none": // "none" is the address bar
		return false
	case "":
	default:
		return true
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return false
	}
	at, err := url.Parse(origin)
	return err != nil || !strings.EqualFold(at.Host, r.Host)
}
