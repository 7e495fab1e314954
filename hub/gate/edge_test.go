package gate

import (
	"net/http"
	"net/http/httptest"
	"net/netip"
	"testing"
)

func TestWhoseWordForAnAddressCounts(t *testing.T) {
	t.Parallel()
	proxies := []netip.Prefix{netip.MustParsePrefix("10.0.0.0/24"), netip.MustParsePrefix("fd00::/64")}
	for _, c := range []struct {
		what, peer string
		said       []string
		want       string
	}{
		{"a stranger", "192.0.2.7:1000", []string{"198.51.100.1"}, ""},
		{"the proxy", "10.0.0.4:1000", []string{"198.51.100.1"}, "198.51.100.1:0"},
		{"the proxy, mapped", "[::ffff:10.0.0.4]:1000", []string{"198.51.100.1"}, "198.51.100.1:0"},
		{"a forged one before the proxy's", "10.0.0.4:1000", []string{"203.0.113.9, 198.51.100.1"}, "198.51.100.1:0"},
		{"a forged header before the proxy's", "10.0.0.4:1000", []string{"203.0.113.9", "198.51.100.1"}, "198.51.100.1:0"},
		{"two proxies", "10.0.0.4:1000", []string{"198.51.100.1, 10.0.0.5"}, "198.51.100.1:0"},
		{"rubbish before two proxies", "10.0.0.4:1000", []string{"rubbish, 10.0.0.5"}, "10.0.0.5:0"},
		{"a phone on the proxies' network", "10.0.0.4:1000", []string{"10.0.0.9"}, "10.0.0.9:0"},
		{"IPv6", "[fd00::4]:1000", []string{"2001:db8::7"}, "[2001:db8::7]:0"},
		{"rubbish", "10.0.0.4:1000", []string{"localhost"}, ""},
		{"nothing", "10.0.0.4:1000", nil, ""},
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.RemoteAddr = c.peer
		r.Header["X-Forwarded-For"] = c.said
		if got := behind(proxies, r); got != c.want {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
		}
	}
}

// What the hub goes by: the browser's own word, never the page's.
func TestPagesOfOtherSites(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		site, origin string
		foreign      bool
	}{
		{"", "", false}, // no browser, or a picture over plain HTTP
		{"same-origin", "", false},
		{"none", "", false},
		{"cross-site", "", true},
		{"same-site", "", true}, // another port of this machine, say
		{"", "http://hub.example:7600", false},
		{"", "http://hub.example", true},
		{"", "http://elsewhere.example:7600", true},
		{"", "null", true},
	} {
		r := httptest.NewRequest("GET", "http://hub.example:7600/find", nil)
		for name, value := range map[string]string{"Sec-Fetch-Site": c.site, "Origin": c.origin} {
			if value != "" {
				r.Header.Set(name, value)
			}
		}
		reached := false
		w := httptest.NewRecorder()
		ownPages(func(http.ResponseWriter, *http.Request) { reached = true })(w, r)
		if reached == c.foreign || c.foreign != (w.Code == http.StatusForbidden) {
			t.Errorf("%+v: let through is %v, status %d", c, reached, w.Code)
		}
	}
}
