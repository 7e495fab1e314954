package gate

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// What a request says of its host adds nothing to the pages' policy.
func TestTheHostAddsNoPolicy(t *testing.T) {
	t.Parallel()
	policy := func(host string) string {
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.Host = host
		w := httptest.NewRecorder()
		Secured(http.NotFoundHandler()).ServeHTTP(w, r)
		return w.Header().Get("Content-Security-Policy")
	}
	for _, host := range []string{"192.168.1.20:7600", "[::1]:7600", "review.example"} {
		if want := "connect-src 'self' ws://" + host + " wss://" + host + ";"; !strings.Contains(policy(host), want) {
			t.Errorf("the policy of %s is %q", host, policy(host))
		}
	}
	for _, host := range []string{"", "a;script-src", "a,b", "*", "a b", "'unsafe-inline'"} {
		if !strings.Contains(policy(host), "connect-src 'self';") {
			t.Errorf("the policy of %q is %q", host, policy(host))
		}
	}
}
