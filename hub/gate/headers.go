package gate

import (
	"net/http"
	"regexp"
)

// Secured sets what every answer carries: nothing is loaded from elsewhere,
// framed, sniffed, or told to others.
func Secured(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		sockets := ""
		if plainHost.MatchString(r.Host) { // it could hold a policy of its own
			sockets = " ws://" + r.Host + " wss://" + r.Host // for browsers in which 'self' leaves them out
		}
		head.Set("Content-Security-Policy", "default-src 'self'; connect-src 'self'"+sockets+"; base-uri 'none'; form-action 'self'; frame-ancestors 'none'")
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cache-Control", "no-cache")
		next.ServeHTTP(w, r)
	})
}

var plainHost = regexp.MustCompile(`^[A-Za-z0-9.:\[\]_-]+$`)
