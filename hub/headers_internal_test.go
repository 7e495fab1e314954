package hub

import (
	"mime"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// A file's name comes back whole, whatever is in it, and adds nothing to its header.
func TestDownloadsAreQuoted(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"set.jsonl", `a"; filename="b.exe`, "a;b=c, d\\e", "Nutrias de España.csv", "otter\r\nSet-Cookie: a=b", "狐.csv"} {
		w := httptest.NewRecorder()
		download(w, "text/csv", name)
		head := w.Header().Get("Content-Disposition")
		kind, params, err := mime.ParseMediaType(head)
		if err != nil || kind != "attachment" || params["filename"] != name || len(params) != 1 || strings.ContainsAny(head, "\r\n") {
			t.Errorf("%q becomes %q: %q %v, %v", name, head, kind, params, err)
		}
	}
}

// What a request says of its host adds nothing to the pages' policy.
func TestTheHostAddsNoPolicy(t *testing.T) {
	t.Parallel()
	policy := func(host string) string {
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.Host = host
		w := httptest.NewRecorder()
		secured(http.NotFoundHandler()).ServeHTTP(w, r)
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
